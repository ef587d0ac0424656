import { distanceToPoint } from "../shapes/nearest.ts";
import type { Point } from "../shapes/point.ts";
import type { Line } from "../shapes/segment.ts";
import { type SegmentIndex, segmentsNear } from "../shapes/segment-index.ts";

/** A place with the room that is needed there, mm: what must be clear around it. */
export interface Need extends Point {
  readonly need: number;
}

/**
 * The most by which a need that grows evenly from a to b exceeds the distance to a straight wall anywhere between, mm;
 * negative where it keeps clear. Exact: the distance from a place on a line to a segment is convex, so the excess is
 * concave, and its peak lies at an end, where the nearest place passes an end of the wall or the way crosses it, or
 * where the distance to an end of the wall grows as fast as the need.
 */
export function peakOver(a: Need, b: Need, wall: Line): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const length = Math.hypot(dx, dy);
  const excess = (t: number): number =>
    a.need + t * (b.need - a.need) - distanceToPoint(wall, { x: a.x + t * dx, y: a.y + t * dy });
  let most = Math.max(excess(0), excess(1));
  if (length === 0) return most;
  const look = (t: number): void => {
    if (t > 0 && t < 1) most = Math.max(most, excess(t));
  };
  const ex = wall.to.x - wall.from.x;
  const ey = wall.to.y - wall.from.y;
  const along = dx * ex + dy * ey;
  if (along !== 0) {
    look(((wall.from.x - a.x) * ex + (wall.from.y - a.y) * ey) / along);
    look(((wall.to.x - a.x) * ex + (wall.to.y - a.y) * ey) / along);
  }
  const across = dx * ey - dy * ex;
  if (across !== 0) look(((wall.from.x - a.x) * ey - (wall.from.y - a.y) * ex) / across);
  const growth = (b.need - a.need) / length;
  if (Math.abs(growth) < 1) {
    const lag = growth / Math.sqrt(1 - growth * growth);
    for (const end of [wall.from, wall.to]) {
      const s = ((end.x - a.x) * dx + (end.y - a.y) * dy) / length;
      const aside = Math.abs((end.x - a.x) * dy - (end.y - a.y) * dx) / length;
      look((s + aside * lag) / length);
    }
  }
  return most;
}

/**
 * The same over all walls of an index that are near enough to matter; undefined where one of them is no straight line.
 * @param floor less than this is of no interest, mm
 */
export function peakOverAll(a: Need, b: Need, walls: SegmentIndex, floor: number): number | undefined {
  const box = {
    min: { x: Math.min(a.x, b.x), y: Math.min(a.y, b.y) },
    max: { x: Math.max(a.x, b.x), y: Math.max(a.y, b.y) },
  };
  let most = floor;
  for (const wall of segmentsNear(walls, box, Math.max(a.need, b.need) - floor)) {
    if (wall.kind !== "line") return undefined;
    most = Math.max(most, peakOver(a, b, wall));
  }
  return most;
}
