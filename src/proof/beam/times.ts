import { nearestOn } from "../../shapes/nearest-on.ts";
import type { Point } from "../../shapes/point.ts";
import { lengthOf, pointAt, type Segment, tangentAt } from "../../shapes/segment.ts";
import { type SegmentIndex, segmentsNear } from "../../shapes/segment-index.ts";

/** Lines closer than this are one and the same, mm. */
const SAME = 0.012;
/** Two lines go one way when their directions differ by no more than this, as a sine. */
const PARALLEL = 0.05;
/** Places along a line where it is counted, so that no joint falls on both. */
const PLACES = [0.37, 0.61] as const;
/** Shorter ones are not counted, mm: joints lie too near. */
const COUNTED = 0.2;

/**
 * How often a burned line runs where `s` does: the count farther from nothing amiss is not told, the nearer is; undefined for a
 * line too short to be sure.
 */
export function timesAlong(
  s: Segment,
  index: SegmentIndex,
  wanted: (p: Point, t: Point) => number,
): number | undefined {
  if (lengthOf(s) < COUNTED) return undefined;
  const counts = PLACES.map((t) => {
    const p = pointAt(s, t);
    const direction = tangentAt(s, t);
    return countAt(p, direction, index) - wanted(p, direction);
  });
  return counts.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
}

/** How many of an index's segments run through a place in a direction, either way. */
export function countAt(p: Point, direction: Point, index: SegmentIndex): number {
  let count = 0;
  for (const other of segmentsNear(index, { min: p, max: p }, SAME)) {
    const at = nearestOn(other, p);
    if (at.distance > SAME) continue;
    const d = tangentAt(other, at.t);
    if (Math.abs(direction.x * d.y - direction.y * d.x) <= PARALLEL) count++;
  }
  return count;
}
