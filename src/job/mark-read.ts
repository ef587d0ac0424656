import type { FaceName } from "./board.ts";
import { axisOf, bordersOf, FACE_PAIRS, faceAmong } from "./faces.ts";
import type { MarkContent, MarkDescription, MarkFeature } from "./mark.ts";
import { type ArtSaid, drawingContent, pictureContent, signatureContent } from "./mark-art.ts";
import { pictogramContents } from "./mark-drawers.ts";
import type { MarkGround } from "./mark-ground.ts";
import { fits, followsLines, type MadeSaid, markMade } from "./mark-made.ts";
import { CONTENT_KEYS, type ContentKey } from "./mark-schema.ts";
import { type TextSaid, textContents } from "./mark-text.ts";
import type { MiddleSaid } from "./mark-values.ts";
import type { Phrase } from "./phrases.ts";
import type { PictogramSaid } from "./pictogram-said.ts";
import { type OnPart, placeFrom, placeOn, REACHES, refuseAt } from "./places.ts";

/** A mark as said, on whatever it stands. */
export type MarkSaid = MadeSaid &
  ArtSaid &
  Omit<TextSaid, "text"> & {
    readonly text?: string | undefined;
    readonly pictogram?: PictogramSaid | undefined;
    readonly turned?: number | undefined;
  };

/** Keys that belong to one content or some. */
const OWN_KEYS: Readonly<Record<ContentKey, readonly (keyof MarkSaid)[]>> = {
  text: ["letters", "cap height", "width", "align", "letter spacing", "line spacing", "on arc", "date", "serial"],
  pictogram: ["width"],
  drawing: ["id", "class", "placed", "width"],
  picture: ["width"],
  signature: ["drawn as", "width"],
};

/** What a straight line is drawn of: nothing of its own. */
const NO_LINES: MarkContent = { kind: "lines", chains: [], from: { kind: "line" } };

/**
 * What a mark draws and how it is made.
 * @param lineKey a key that says the mark is a line, where the job has one
 */
export function markOf(
  on: OnPart,
  said: MarkSaid,
  ground: MarkGround,
  lineKey: "start at" | "end at" | "along" | undefined,
): MarkDescription | undefined {
  const given = CONTENT_KEYS.filter((k) => said[k] !== undefined);
  const [key, second] = [...given, ...(lineKey === undefined ? [] : [lineKey])];
  if (key === undefined) {
    refuseAt(
      on,
      [],
      "mark-unclear",
      "it is not said what this mark shows",
      `add one of ${CONTENT_KEYS.join(", ")}, or "start at:" and "end at:" for a line`,
    );
    return undefined;
  }
  if (second !== undefined) {
    refuseAt(
      on,
      [second],
      "mark-unclear",
      `"${key}" and "${second}" both say what this mark shows`,
      "make two marks of them",
    );
    return undefined;
  }
  const own = given[0];
  if (oddKeys(on, said, own)) return undefined;
  const made = markMade(on, said);
  if (made === undefined) return undefined;
  const contents = own === undefined ? [NO_LINES] : contentsOf(on, own, said, ground);
  const first = contents?.[0];
  if (contents === undefined || first === undefined || !fits(on, first, made)) return undefined;
  return { content: first, ...(contents.length > 1 && { each: contents }), made };
}

function oddKeys(on: OnPart, said: MarkSaid, own: ContentKey | undefined): boolean {
  const all = new Set(Object.values(OWN_KEYS).flat());
  const odd = [...all].filter((k) => said[k] !== undefined && (own === undefined || !OWN_KEYS[own].includes(k)));
  for (const key of odd) {
    const owners = CONTENT_KEYS.filter((c) => OWN_KEYS[c].includes(key));
    refuseAt(
      on,
      [key],
      "mark-key-odd",
      `"${key}" says nothing about a ${own ?? "line"}`,
      `take it out; it belongs to a ${owners.join(", a ")}`,
    );
  }
  return odd.length > 0;
}

function contentsOf(
  on: OnPart,
  key: ContentKey,
  said: MarkSaid,
  ground: MarkGround,
): readonly MarkContent[] | undefined {
  const lines = followsLines(said["made by"]);
  const one = (content: MarkContent | undefined): readonly MarkContent[] | undefined =>
    content === undefined ? undefined : [content];
  switch (key) {
    case "text":
      return textContents(on, { ...said, text: said.text ?? "" }, ground, lines ? "upright" : "book");
    case "pictogram":
      return said.pictogram && pictogramContents(on, said.pictogram, said.width, ground, lines);
    case "drawing":
      return one(drawingContent(on, said.drawing ?? "", said, ground));
    case "picture":
      return one(pictureContent(on, said.picture ?? "", said, ground));
    case "signature":
      return one(signatureContent(on, said.signature ?? "", said, ground));
  }
}

type PlaceSaid = Readonly<
  Partial<Record<"near edge at" | "far edge at" | "start at" | "end at", readonly Phrase[] | undefined>>
> & { readonly "centre at"?: MiddleSaid | undefined };

/** One border of a face along each direction that no distance fixes: there the mark stands midway. */
function midwayOf(
  on: OnPart,
  face: FaceName,
  said: readonly Phrase[],
  edges: PlaceSaid,
): readonly FaceName[] | undefined {
  const others = [...said, ...(edges["near edge at"] ?? []), ...(edges["far edge at"] ?? [])];
  const taken = others.flatMap((p) => {
    const found = faceAmong(p.border ?? "", on.labels, bordersOf(face), "border");
    return found.ok ? [axisOf(found.face)] : [];
  });
  // A border that is not known is told of by whoever reads the distance.
  if (taken.length < others.length) return [];
  const open = FACE_PAIRS.filter(([low]) => axisOf(low) !== axisOf(face) && !taken.includes(axisOf(low)));
  if (open.length === 0) {
    const what = '"middle" is left over: both directions have a distance already';
    refuseAt(on, ["centre at"], "place-twice", what, 'take "middle" out, or one of the distances');
    return undefined;
  }
  return open.map(([low, high]) => (on.planed.includes(low) ? high : low));
}

/** Where a mark on a flat part stands: its middle, or the two ends of a line. Undefined when findings were made. */
export function markPlace(
  on: OnPart,
  face: FaceName,
  said: PlaceSaid,
): Pick<MarkFeature, "at" | "midway" | "to"> | undefined {
  const [start, end] = [said["start at"], said["end at"]];
  if (start === undefined && end === undefined) {
    const { "centre at": centre, ...edges } = said;
    if (centre === undefined) {
      const at = placeOn(on, face, edges);
      return at && { at };
    }
    const open = centre.middle ? midwayOf(on, face, centre.phrases, edges) : [];
    if (open === undefined) return undefined;
    const spot = { path: [], onKey: false, at: 0, length: 1 };
    const half = open.map((border) => ({ distance: 0, border: on.labels[border], spot }));
    const at = placeOn(on, face, { ...edges, "centre at": [...centre.phrases, ...half] });
    return at && { at, ...(open.length > 0 && { midway: open }) };
  }
  const odd = REACHES.map(([k]) => k).find((k) => said[k] !== undefined);
  if (odd !== undefined) {
    const what = `"${odd}" says nothing about a line, which has "start at" and "end at"`;
    refuseAt(on, [odd], "place-twice", what, "take it out");
    return undefined;
  }
  if (start === undefined || end === undefined) {
    const lacking = start === undefined ? "start at" : "end at";
    refuseAt(
      on,
      [],
      "place-incomplete",
      `a line needs both its ends, and "${lacking}" is missing`,
      `add "${lacking}:"`,
    );
    return undefined;
  }
  const at = placeFrom(on, face, "start at", start, "centre");
  const to = placeFrom(on, face, "end at", end, "centre");
  if (!at || !to) return undefined;
  if (at.every((f, i) => f.border === to[i]?.border && f.distance === to[i]?.distance)) {
    refuseAt(on, ["end at"], "shape-impossible", "this line ends where it starts", "give two different points");
    return undefined;
  }
  return { at, to };
}
