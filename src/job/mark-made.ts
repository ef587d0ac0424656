import type { MarkContent, MarkMade } from "./mark.ts";
import { type OnPart, refuseAt } from "./places.ts";

/** How a mark is made, as said. */
export interface MadeSaid {
  readonly "made by": "burned line" | "burned area" | "burned picture" | "burned through" | "cut line" | "v groove";
  readonly effect?: string | undefined;
  readonly angle?: number | undefined;
  readonly ways?: "one" | "two" | undefined;
  readonly "outline last"?: "yes" | "no" | undefined;
  readonly tones?: "error spread" | "wide error spread" | "ordered" | undefined;
  readonly keep?: "inside" | "outside" | undefined;
  readonly depth?: number | undefined;
  readonly deepest?: number | undefined;
  readonly bit?: string | undefined;
}

type Way = MadeSaid["made by"];
type Key = Exclude<keyof MadeSaid, "made by">;

/** Which keys each way of making a mark has. */
const KEYS: Readonly<Record<Way, readonly Key[]>> = {
  "burned line": ["effect"],
  "burned area": ["effect", "angle", "ways", "outline last"],
  "burned picture": ["effect", "tones"],
  "burned through": ["effect", "keep"],
  "cut line": ["depth", "bit"],
  "v groove": ["deepest", "bit"],
};
const ALL: readonly Key[] = ["effect", "angle", "ways", "outline last", "tones", "keep", "depth", "deepest", "bit"];

/** How a mark is made, its defaults filled in; undefined when findings were made. */
export function markMade(on: OnPart, said: MadeSaid): MarkMade | undefined {
  const way = said["made by"];
  const odd = ALL.filter((k) => said[k] !== undefined && !KEYS[way].includes(k));
  for (const key of odd) {
    const ways = (Object.keys(KEYS) as Way[]).filter((w) => KEYS[w].includes(key)).map(named);
    const mend = `take it out; it belongs to a ${ways.join(" or a ")}`;
    refuseAt(on, [key], "mark-key-odd", `"${key}" says nothing about a ${named(way)}`, mend);
  }
  if (odd.length > 0) return undefined;
  const effect = said.effect === undefined ? {} : { effect: said.effect };
  const bit = said.bit === undefined ? {} : { bit: said.bit };
  switch (way) {
    case "burned line":
      return { by: way, ...effect };
    case "burned area":
      return {
        by: way,
        ...effect,
        angleDeg: said.angle ?? 0,
        ways: said.ways ?? "one",
        contour: said["outline last"] !== "no",
      };
    case "burned picture":
      return { by: way, ...effect, tones: said.tones ?? "error spread" };
    case "burned through":
      return { by: way, ...effect, keep: said.keep ?? "outside" };
    case "cut line":
      if (said.depth === undefined) {
        const mend = 'add "depth: 0.8": a fine line is about as deep as it is wide';
        refuseAt(on, ["made by"], "mark-incomplete", "it is not said how deep this line is cut", mend);
        return undefined;
      }
      return { by: way, depth: said.depth, ...bit };
    case "v groove":
      return { by: "v-groove", ...(said.deepest !== undefined && { cap: said.deepest }), ...bit };
  }
}

function named(way: Way): string {
  return way === "v groove" ? "V-groove" : way;
}

/** True for ways that follow lines; the others cover an area or lay dots. */
export function followsLines(way: Way): boolean {
  return way === "burned line" || way === "cut line";
}

/** Whether what is drawn can be made that way; complains where not. */
export function fits(on: OnPart, content: MarkContent, made: MarkMade): boolean {
  const area = content.kind === "area" || content.kind === "lines and areas";
  const refuse = (what: string, why: string, mend: string): false => {
    refuseAt(on, ["made by"], "mark-kind-unfit", what, mend, why);
    return false;
  };
  if (content.kind === "picture" && made.by !== "burned picture") {
    return refuse(
      "a picture is burned in dots, and in no other way",
      "it is made of tones, not of lines",
      'write "made by: burned picture", or draw it as an SVG drawing',
    );
  }
  switch (made.by) {
    case "burned line":
    case "cut line":
      return true;
    case "burned picture":
      if (content.kind === "picture") return true;
      return refuse(
        "there are no tones here to burn a picture of",
        "lines and areas have none",
        'write "made by: burned area"',
      );
    case "burned area":
      if (area) return true;
      return refuse(
        "single lines have no area to burn",
        "each is drawn once, with nothing inside",
        'write "made by: burned line", or take outlines: "letters: book", "drawn as: outline"',
      );
    case "burned through":
      if (content.kind === "area") return true;
      return refuse(
        "there is no closed outline here to burn through",
        "what comes free must have an outline all round",
        "take a drawing with closed outlines, or letters with outlines",
      );
    case "v-groove":
      if (content.kind === "area") return true;
      return refuse(
        "single lines have no width for a V-groove to follow, and some of this is such lines",
        "its depth comes from the width between two outlines",
        'take outlines: "letters: book", "drawn as: outline"; or write "made by: cut line"',
      );
  }
}
