import type { Point } from "./point.ts";
import type { Polygons } from "./polygons.ts";
import type { Loop, Region } from "./region.ts";
import { pointAt, radiusOf, type Segment, sweepRad } from "./segment.ts";

/**
 * A segment as a polyline no further than `tolerance` from it, mm. First and last points are the segment's own ends
 * bit for bit; inner points lie on the arc, so chords run on the side of its centre.
 * Source: sagitta e = r(1 − cos θ/2), so θ = 2·acos(1 − e/r). Cost: O(√(radius / tolerance)).
 */
export function flattenSegment(s: Segment, tolerance: number): Point[] {
  if (!(tolerance > 0)) throw new RangeError(`a chord error must be above zero, not ${tolerance}`);
  switch (s.kind) {
    case "line":
      return [s.from, s.to];
    case "arc": {
      const chords = chordsFor(radiusOf(s), Math.abs(sweepRad(s)), tolerance);
      const points = [s.from];
      for (let i = 1; i < chords; i++) points.push(pointAt(s, i / chords));
      points.push(s.to);
      return points;
    }
  }
}

/** How many chords an arc of this radius (mm) and sweep (radians, ≤ 2π) needs; at least one a third of a turn. */
export function chordsFor(radius: number, sweep: number, tolerance: number): number {
  const widest = radius > tolerance ? 2 * Math.acos(1 - tolerance / radius) : Math.PI;
  // The last digits of a sweep must not cost a whole chord.
  return Math.max(1, Math.ceil(sweep / Math.min(widest, (2 * Math.PI) / 3) - 1e-9));
}

/** A loop as a ring of points; the first is not repeated at the end. */
export function flattenLoop(loop: Loop, tolerance: number): Point[] {
  const ring: Point[] = [];
  for (const s of loop) {
    const points = flattenSegment(s, tolerance);
    for (let i = 0; i < points.length - 1; i++) ring.push(points[i]!);
  }
  return ring;
}

/** A region as polygons: outer rings counter-clockwise, holes clockwise. */
export function flattenRegion(region: Region, tolerance: number): Polygons {
  return region.loops.map((loop) => flattenLoop(loop, tolerance));
}
