import type { FaceName, Size } from "../job/board.ts";
import { type Frame, makeFrame, type Row } from "../shapes/frame.ts";
import type { Point, Point3 } from "../shapes/point.ts";

/** The six faces, in the order in which they are listed and worked when nothing else decides. */
export const FACES: readonly FaceName[] = ["face", "back", "lower edge", "upper edge", "first end", "second end"];

/**
 * Workpiece coordinates → the coordinates of a face: u to the right, v up, as one looks straight at that face; the
 * surface at z = 0 and the wood beneath it at negative z. The origin is the face's lower left corner, so the face is
 * 0 ≤ u ≤ length, 0 ≤ v ≤ width of `faceExtent`.
 *
 * | face       | u            | v         | seen with                                      |
 * | ---------- | ------------ | --------- | ---------------------------------------------- |
 * | face       | x            | y         | the lower edge down, the first end left        |
 * | back       | length − x   | y         | the lower edge down, the second end left       |
 * | lower edge | x            | z         | the back down, the face up, the first end left |
 * | upper edge | length − x   | z         | the back down, the face up, the second end left |
 * | first end  | width − y    | z         | the back down, the face up, the upper edge left |
 * | second end | y            | z         | the back down, the face up, the lower edge left |
 */
export function faceFrame(size: Size, face: FaceName): Frame {
  const { length: l, width: w, thickness: t } = size;
  switch (face) {
    case "face":
      return frame([1, 0, 0], [0, 1, 0], [0, 0, 1], { x: 0, y: 0, z: -t });
    case "back":
      return frame([-1, 0, 0], [0, 1, 0], [0, 0, -1], { x: l, y: 0, z: 0 });
    case "lower edge":
      return frame([1, 0, 0], [0, 0, 1], [0, -1, 0], { x: 0, y: 0, z: 0 });
    case "upper edge":
      return frame([-1, 0, 0], [0, 0, 1], [0, 1, 0], { x: l, y: 0, z: -w });
    case "first end":
      return frame([0, -1, 0], [0, 0, 1], [-1, 0, 0], { x: w, y: 0, z: 0 });
    case "second end":
      return frame([0, 1, 0], [0, 0, 1], [1, 0, 0], { x: 0, y: 0, z: -l });
  }
}

function frame(u: Row, v: Row, w: Row, shift: Point3): Frame {
  return makeFrame([u, v, w], shift);
}

/** How far a face reaches along u and v, and the wood beneath it, mm. */
export function faceExtent(
  size: Size,
  face: FaceName,
): { readonly u: number; readonly v: number; readonly deep: number } {
  switch (face) {
    case "face":
    case "back":
      return { u: size.length, v: size.width, deep: size.thickness };
    case "lower edge":
    case "upper edge":
      return { u: size.length, v: size.thickness, deep: size.width };
    case "first end":
    case "second end":
      return { u: size.width, v: size.thickness, deep: size.length };
  }
}

/** The face on the other side of the wood. */
export function oppositeOf(face: FaceName): FaceName {
  switch (face) {
    case "face":
      return "back";
    case "back":
      return "face";
    case "lower edge":
      return "upper edge";
    case "upper edge":
      return "lower edge";
    case "first end":
      return "second end";
    case "second end":
      return "first end";
  }
}

/** Which way a face looks, in workpiece coordinates. */
export function normalOf(face: FaceName): Row {
  return faceFrame({ length: 1, width: 1, thickness: 1 }, face).rotation[2];
}

/** Where a neighbouring face borders a face: the axis it is square to, and whether it lies at 0 or at the far end. */
export interface Border {
  readonly axis: "u" | "v";
  readonly end: "low" | "high";
}

/** Where `border` meets `face`; undefined when they are the same face or opposite ones. */
export function borderOf(face: FaceName, border: FaceName): Border | undefined {
  const [u, v] = faceFrame({ length: 1, width: 1, thickness: 1 }, face).rotation;
  const n = normalOf(border);
  const along = (row: Row): number => row[0] * n[0] + row[1] * n[1] + row[2] * n[2];
  const inU = along(u);
  const inV = along(v);
  if (inU !== 0) return { axis: "u", end: inU < 0 ? "low" : "high" };
  if (inV !== 0) return { axis: "v", end: inV < 0 ? "low" : "high" };
  return undefined;
}

/**
 * The two borders that a run parallel to `border` goes towards, as [first, second]: in the order first end, second
 * end; lower edge, upper edge; back, face. A groove's or rabbet's `stops.first` and `stops.second` are measured from
 * these, whichever face they are cut in.
 */
export function runsTowards(face: FaceName, border: FaceName): readonly [FaceName, FaceName] | undefined {
  if (borderOf(face, border) === undefined) return undefined;
  const pairs: readonly (readonly [FaceName, FaceName])[] = [
    ["first end", "second end"],
    ["lower edge", "upper edge"],
    ["back", "face"],
  ];
  return pairs.find((pair) => !pair.includes(face) && !pair.includes(border));
}

/** A distance inwards from a border, as a coordinate along that border's axis. mm. */
export function fromBorder(size: Size, face: FaceName, border: Border, distance: number): number {
  const extent = faceExtent(size, face);
  return border.end === "low" ? distance : (border.axis === "u" ? extent.u : extent.v) - distance;
}

/** A point from its coordinates along two borders' axes. */
export function pointOf(axis: "u" | "v", along: number, across: number): Point {
  return axis === "u" ? { x: along, y: across } : { x: across, y: along };
}
