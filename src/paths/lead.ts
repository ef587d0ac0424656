import type { Point } from "../shapes/point.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import { type Arc, lengthOf, pointAt } from "../shapes/segment.ts";
import { type Chain, chainLength, spotAlong } from "./chain.ts";

/** Quarter circles by which a finish pass comes onto a wall and leaves it, touching it as tangents. */
export interface Leads {
  /** Where on the ring the pass begins, mm along it. */
  readonly along: number;
  /** How far past its beginning the pass runs on before it leaves, mm. */
  readonly overlap: number;
  readonly into: Arc;
  readonly out: Arc;
}

/** Share of the cutter's radius by which a pass runs over its own beginning. */
const OVERLAP = 0.25;

/**
 * The first place on a closed ring, by a fixed order of trying, where both leads lie on ground the centre may go to
 * and begin and end over ground that is already cleared.
 * @param side +1 when the ground is on the left of travel, −1 on the right
 */
export function leadsOnto(
  loop: Chain,
  side: 1 | -1,
  radius: number,
  ground: Polygons,
  cleared: Polygons,
): Leads | undefined {
  const overlap = OVERLAP * radius;
  for (const size of [radius, radius / 2, radius / 4]) {
    for (const along of placesOn(loop)) {
      const total = chainLength(loop);
      if (total <= overlap) return undefined;
      const start = spotAlong(loop, along);
      const end = spotAlong(loop, (along + overlap) % total);
      const into = leadInto(start.point, start.heading, side, size, Math.PI / 2);
      const out = leadOut(end.point, end.heading, side, size, Math.PI / 2);
      if (!pointInPolygons(cleared, into.from) || !pointInPolygons(cleared, out.to)) continue;
      if (
        SHARES.every((t) => pointInPolygons(ground, pointAt(into, t)) && pointInPolygons(ground, pointAt(out, 1 - t)))
      )
        return { along, overlap, into, out };
    }
  }
  return undefined;
}

/** Shares of a quarter circle at which it is checked: close to the ring, where it could cross it, and further in. */
const SHARES = [0, 0.2, 0.4, 0.6, 0.75, 0.88];

/** Middles of the longest segments, then even places: a lead stands best on a long straight run. */
function placesOn(loop: Chain): number[] {
  const total = chainLength(loop);
  let before = 0;
  const middles = loop.map((s) => {
    const length = lengthOf(s);
    before += length;
    return { along: before - length / 2, length };
  });
  middles.sort((a, b) => b.length - a.length || a.along - b.along);
  const even = Array.from({ length: 16 }, (_, i) => ((i + 0.5) * total) / 16);
  return [...middles.slice(0, 6).map((m) => m.along), ...even];
}

/** An arc that ends at a point, heading as the ring does there, from the given side of it. @param sweep radians, > 0 */
export function leadInto(at: Point, heading: Point, side: 1 | -1, radius: number, sweep: number): Arc {
  const centre = beside(at, heading, side * radius);
  return { kind: "arc", from: turned(at, centre, -side * sweep), to: at, centre, ccw: side > 0 };
}

/** An arc that begins at a point, heading as the ring does there, to the given side of it. @param sweep radians, > 0 */
export function leadOut(at: Point, heading: Point, side: 1 | -1, radius: number, sweep: number): Arc {
  const centre = beside(at, heading, side * radius);
  return { kind: "arc", from: at, to: turned(at, centre, side * sweep), centre, ccw: side > 0 };
}

/** The point a distance to the left of a heading; to the right when negative. */
export function beside(at: Point, heading: Point, left: number): Point {
  return { x: at.x - heading.y * left, y: at.y + heading.x * left };
}

function turned(p: Point, centre: Point, rad: number): Point {
  const dx = p.x - centre.x;
  const dy = p.y - centre.y;
  const cos = Math.cos(rad);
  const sin = Math.sin(rad);
  return { x: centre.x + dx * cos - dy * sin, y: centre.y + dx * sin + dy * cos };
}
