import { distance, type Point } from "../shapes/point.ts";
import type { Quad } from "./fit-plan.ts";

/** How far each edge of a four-sided shape is moved inwards, mm; negative: outwards. */
export interface Insets {
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
  readonly left: number;
}

/**
 * A four-sided shape from its four edges and the difference of its diagonals. The lower edge lies along x with its left
 * corner in the origin. Found by halving: the difference grows as the left edge leans to the right.
 * @param difference the rising diagonal (lower left to upper right) less the falling one, mm
 * @returns undefined when no shape that leans less than 20° has it
 */
export function quadOf(
  edges: { readonly bottom: number; readonly right: number; readonly top: number; readonly left: number },
  difference: number,
): Quad | undefined {
  const at = (leanDeg: number): Quad | undefined => leaning(edges, leanDeg);
  const off = (leanDeg: number): number => {
    const q = at(leanDeg);
    return q === undefined ? Number.NaN : rising(q) - falling(q) - difference;
  };
  let [low, high] = [-20, 20];
  if (!(off(low) <= 0 && off(high) >= 0)) return undefined;
  // 40° halved 60 times is far below any rounding.
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (off(middle) <= 0) low = middle;
    else high = middle;
  }
  return at((low + high) / 2);
}

/** The shape whose left edge leans by so much to the right. Its last corner lies where the right and upper edge meet. */
function leaning(
  { bottom, right, top, left }: { bottom: number; right: number; top: number; left: number },
  leanDeg: number,
): Quad | undefined {
  const lean = (leanDeg * Math.PI) / 180;
  const upperLeft = { x: left * Math.sin(lean), y: left * Math.cos(lean) };
  const lowerRight = { x: bottom, y: 0 };
  const apart = distance(upperLeft, lowerRight);
  const along = (apart ** 2 + right ** 2 - top ** 2) / (2 * apart);
  const up = right ** 2 - along ** 2;
  if (!(up >= 0)) return undefined;
  const ux = (upperLeft.x - lowerRight.x) / apart;
  const uy = (upperLeft.y - lowerRight.y) / apart;
  const height = Math.sqrt(up);
  // On the far side of the falling diagonal, seen from the origin.
  const upperRight = { x: lowerRight.x + ux * along + uy * height, y: lowerRight.y + uy * along - ux * height };
  return [{ x: 0, y: 0 }, lowerRight, upperRight, upperLeft];
}

/** From lower left to upper right. */
export function rising(q: Quad): number {
  return distance(q[0], q[2]);
}

/** From upper left to lower right. */
export function falling(q: Quad): number {
  return distance(q[3], q[1]);
}

/** The shape with each edge moved inwards; its corners lie where neighbouring edges then meet. */
export function insetQuad(q: Quad, by: Insets): Quad {
  const moved = [by.bottom, by.right, by.top, by.left].map((inset, i) => {
    const [from, to] = [q[i]!, q[(i + 1) % 4]!];
    const length = distance(from, to);
    // Corners run counter-clockwise, so inwards is to the left.
    const shift = { x: (-(to.y - from.y) / length) * inset, y: ((to.x - from.x) / length) * inset };
    return { from: { x: from.x + shift.x, y: from.y + shift.y }, along: { x: to.x - from.x, y: to.y - from.y } };
  });
  const corner = (i: number): Point => crossing(moved[(i + 3) % 4]!, moved[i]!);
  return [corner(0), corner(1), corner(2), corner(3)];
}

interface Line {
  readonly from: Point;
  readonly along: Point;
}

function crossing(a: Line, b: Line): Point {
  const cross = a.along.x * b.along.y - a.along.y * b.along.x;
  const t = ((b.from.x - a.from.x) * b.along.y - (b.from.y - a.from.y) * b.along.x) / cross;
  return { x: a.from.x + t * a.along.x, y: a.from.y + t * a.along.y };
}

/** The upright stretch that stays within the shape from one height to another: its left and right border. */
export function uprightWithin(q: Quad, from: number, to: number): { readonly left: number; readonly right: number } {
  const left = [from, to].map((z) => xAt(q[0], q[3], z));
  const right = [from, to].map((z) => xAt(q[1], q[2], z));
  return { left: Math.max(...left), right: Math.min(...right) };
}

/** The least height of the upper edge between two upright lines. */
export function lowestTop(q: Quad, left: number, right: number): number {
  return Math.min(zAt(q[3], q[2], left), zAt(q[3], q[2], right));
}

/** The greatest height of the lower edge between two upright lines. */
export function highestBottom(q: Quad, left: number, right: number): number {
  return Math.max(zAt(q[0], q[1], left), zAt(q[0], q[1], right));
}

function xAt(a: Point, b: Point, z: number): number {
  return a.x + ((b.x - a.x) * (z - a.y)) / (b.y - a.y);
}

function zAt(a: Point, b: Point, x: number): number {
  return a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x);
}

/** The least upright rectangle around a shape. */
export function boxAround(q: Quad): { readonly min: Point; readonly max: Point } {
  const xs = q.map((p) => p.x);
  const ys = q.map((p) => p.y);
  return { min: { x: Math.min(...xs), y: Math.min(...ys) }, max: { x: Math.max(...xs), y: Math.max(...ys) } };
}
