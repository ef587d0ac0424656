import type { Meridian } from "../../shapes/meridian.ts";
import { distanceToPoint } from "../../shapes/nearest.ts";
import type { Point } from "../../shapes/point.ts";
import { pointAt } from "../../shapes/segment.ts";
import { movedSolid, type SquareStretch } from "../../shapes/turned-solid.ts";

/** Places looked at along each line or arc. */
const PLACES = 8;

/**
 * How far a turned blank lies from its own image end for end, mm: the greatest distance found between the meridian and
 * that of the blank turned round, at all joints and seven places along each piece; and what the square ends differ by.
 */
export function endForEndDifference(m: Meridian, squares: readonly SquareStretch[], length: number): number {
  const turned = movedSolid(
    { meridian: m, axis: { y: 0, z: 0 }, squares },
    { x: length, flip: true, axis: { y: 0, z: 0 } },
  );
  const off = Math.max(farthest(m, turned.meridian), farthest(turned.meridian, m));
  if (squares.length !== turned.squares.length) return Number.POSITIVE_INFINITY;
  return squares.reduce((most, s, i) => {
    const t = turned.squares[i]!;
    return Math.max(most, Math.abs(s.from - t.from), Math.abs(s.to - t.to));
  }, off);
}

function farthest(from: Meridian, to: Meridian): number {
  let most = 0;
  for (const s of from.segments) {
    for (let i = 0; i <= PLACES; i++) most = Math.max(most, nearest(to, pointAt(s, i / PLACES)));
  }
  return most;
}

function nearest(m: Meridian, p: Point): number {
  return m.segments.reduce((least, s) => Math.min(least, distanceToPoint(s, p)), Number.POSITIVE_INFINITY);
}
