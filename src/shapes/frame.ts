import type { Point3 } from "./point.ts";

declare const space: unique symbol;

/**
 * A point in a workpiece's own coordinates, mm: x along its length from the first end, y across its width from the
 * lower edge, z through its thickness from the back (0) to the face side.
 */
export type PartPoint = Point3 & { readonly [space]?: "part" };

/** A point in a set-up's coordinates, mm: the coordinates that the program speaks, zero where the user sets zero. */
export type SetupPoint = Point3 & { readonly [space]?: "setup" };

/**
 * Where a workpiece lies: a proper rotation (determinant +1), then a shift. A mirror cannot be written as a frame:
 * `makeFrame` refuses one, and no other function makes frames.
 */
export interface Frame {
  /** Rows of the rotation matrix. */
  readonly rotation: readonly [Row, Row, Row];
  /** Where the workpiece's origin lands, mm. */
  readonly shift: Point3;
}

/** One row of a rotation matrix. */
export type Row = readonly [number, number, number];

const ORTHONORMAL_WITHIN = 1e-9;

/**
 * Builds a frame.
 * @param rotation rows of a rotation matrix
 * @param shift mm
 * @throws RangeError when the rows are not orthonormal within 1e-9, or mirror (determinant −1)
 */
export function makeFrame(rotation: readonly [Row, Row, Row], shift: Point3): Frame {
  for (const [i, a] of rotation.entries()) {
    for (const [j, b] of rotation.entries()) {
      const dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
      if (!(Math.abs(dot - (i === j ? 1 : 0)) <= ORTHONORMAL_WITHIN)) {
        throw new RangeError("a frame's rotation must be orthonormal");
      }
    }
  }
  if (!(determinant(rotation) > 0)) throw new RangeError("a frame cannot mirror: describe the mirrored part instead");
  if (![shift.x, shift.y, shift.z].every(Number.isFinite)) throw new RangeError("a frame's shift must be finite");
  return { rotation, shift };
}

/** From workpiece to set-up coordinates. */
export function toSetup(frame: Frame, p: PartPoint): SetupPoint {
  const [a, b, c] = frame.rotation;
  const s = frame.shift;
  return {
    x: a[0] * p.x + a[1] * p.y + a[2] * p.z + s.x,
    y: b[0] * p.x + b[1] * p.y + b[2] * p.z + s.y,
    z: c[0] * p.x + c[1] * p.y + c[2] * p.z + s.z,
  };
}

/** From set-up to workpiece coordinates: the inverse of `toSetup`. */
export function toPart(frame: Frame, p: SetupPoint): PartPoint {
  const [a, b, c] = frame.rotation;
  const x = p.x - frame.shift.x;
  const y = p.y - frame.shift.y;
  const z = p.z - frame.shift.z;
  return {
    x: a[0] * x + b[0] * y + c[0] * z,
    y: a[1] * x + b[1] * y + c[1] * z,
    z: a[2] * x + b[2] * y + c[2] * z,
  };
}

/** `second` after `first`, as one frame. */
export function compose(first: Frame, second: Frame): Frame {
  const shift = toSetup(second, first.shift);
  const column = (k: 0 | 1 | 2): Row => [first.rotation[0][k], first.rotation[1][k], first.rotation[2][k]];
  const times = (row: Row): Row => [dot(row, column(0)), dot(row, column(1)), dot(row, column(2))];
  return makeFrame([times(second.rotation[0]), times(second.rotation[1]), times(second.rotation[2])], shift);
}

/** The frame that undoes `frame`. */
export function inverse(frame: Frame): Frame {
  const [a, b, c] = frame.rotation;
  const origin = toPart(frame, { x: 0, y: 0, z: 0 });
  return makeFrame(
    [
      [a[0], b[0], c[0]],
      [a[1], b[1], c[1]],
      [a[2], b[2], c[2]],
    ],
    origin,
  );
}

/** The frame that moves nothing. */
export const IDENTITY: Frame = makeFrame(
  [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  { x: 0, y: 0, z: 0 },
);

/** A turn about Z (degrees, counter-clockwise from above), then a shift (mm). Quarter turns are exact. */
export function turnedAboutZ(deg: number, shift: Point3): Frame {
  const [cos, sin] = cosSinOf(deg);
  return makeFrame(
    [
      [cos, -sin, 0],
      [sin, cos, 0],
      [0, 0, 1],
    ],
    shift,
  );
}

function cosSinOf(deg: number): readonly [number, number] {
  const quarters = deg / 90;
  if (Number.isInteger(quarters)) {
    const k = ((quarters % 4) + 4) % 4;
    return [
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ][k] as unknown as readonly [number, number];
  }
  const rad = (deg * Math.PI) / 180;
  return [Math.cos(rad), Math.sin(rad)];
}

function dot(a: Row, b: Row): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function determinant([a, b, c]: readonly [Row, Row, Row]): number {
  return a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
}
