import { closest } from "../units/closest.ts";
import type { TextProblem } from "../units/problem.ts";
import type { FaceName } from "./board.ts";
import { orList } from "./leaves.ts";
import { plainKey } from "./words.ts";

/** The six faces, each beside the one opposite, lower side first: along x, along y, along z. */
export const FACE_PAIRS = [
  ["first end", "second end"],
  ["lower edge", "upper edge"],
  ["back", "face"],
] as const satisfies readonly (readonly [FaceName, FaceName])[];

/** All six, in the order of `FACE_PAIRS`. */
export const FACES: readonly FaceName[] = FACE_PAIRS.flat();

/** Words for faces that need no label: what they are called from above, the face up, the first end at the left. */
const ALSO: Readonly<Record<string, FaceName>> = {
  "top edge": "upper edge",
  "bottom edge": "lower edge",
  "back face": "back",
  "front face": "face",
};

/** 0, 1 or 2 for a face across x, y or z. */
export function axisOf(face: FaceName): 0 | 1 | 2 {
  switch (face) {
    case "first end":
    case "second end":
      return 0;
    case "lower edge":
    case "upper edge":
      return 1;
    case "back":
    case "face":
      return 2;
  }
}

/** True for the face on the low side of its axis. */
export function isLow(face: FaceName): boolean {
  return face === "first end" || face === "lower edge" || face === "back";
}

/** The face on the other side. */
export function opposite(face: FaceName): FaceName {
  const [low, high] = FACE_PAIRS[axisOf(face)];
  return face === low ? high : low;
}

/** The four faces around a face: its borders. */
export function bordersOf(face: FaceName): readonly FaceName[] {
  return FACES.filter((f) => axisOf(f) !== axisOf(face));
}

/** What each face is called when the job gives no name. */
export function standardLabels(): Record<FaceName, string> {
  return {
    "first end": "first end",
    "second end": "second end",
    "lower edge": "lower edge",
    "upper edge": "upper edge",
    back: "back",
    face: "face",
  };
}

/** The face that a word means: this part's own label first, then the standard name. "the" is allowed before it. */
export function faceCalled(said: string, labels: Readonly<Record<FaceName, string>>): FaceName | undefined {
  const key = plainKey(said).replace(/^the /, "");
  return FACES.find((f) => plainKey(labels[f]) === key) ?? FACES.find((f) => f === key) ?? ALSO[key];
}

/** The face that a word means among some faces, or why it means none of them. */
export function faceAmong(
  said: string,
  labels: Readonly<Record<FaceName, string>>,
  allowed: readonly FaceName[],
  what: string,
):
  | { readonly ok: true; readonly face: FaceName }
  | { readonly ok: false; readonly problem: Omit<TextProblem, "at" | "length"> } {
  const found = faceCalled(said, labels);
  const names = allowed.map((f) => labels[f]);
  if (found !== undefined && allowed.includes(found)) return { ok: true, face: found };
  if (found !== undefined) {
    return {
      ok: false,
      problem: {
        code: "border-not-here",
        what: `"${said}" is no ${what}`,
        mend: `write ${orList(names)}`,
      },
    };
  }
  const like = closest(plainKey(said), [...names, ...allowed]);
  return {
    ok: false,
    problem: {
      code: "face-unknown",
      what: `no face or edge of this part is called "${said.slice(0, 40)}"`,
      mend:
        like === undefined
          ? `write ${orList(names)}; own names are given under "faces"`
          : `do you mean "${like}"? It may be ${orList(names)}`,
    },
  };
}
