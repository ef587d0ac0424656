import type { Point } from "./point.ts";

/** A closed polygon; the last point joins the first, which is not repeated. */
export type Ring = readonly Point[];

/** An area bounded by straight edges, mm: outer rings counter-clockwise, holes clockwise, no two rings crossing. */
export type Polygons = readonly Ring[];

/** Signed area of a ring, mm²: positive counter-clockwise. */
export function areaOfRing(ring: Ring): number {
  const o = ring[0];
  if (o === undefined) return 0;
  let twice = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[j]!;
    const b = ring[i]!;
    twice += (a.x - o.x) * (b.y - o.y) - (b.x - o.x) * (a.y - o.y);
  }
  return twice / 2;
}

/** Area of polygons, mm²: outer rings less holes. */
export function areaOfPolygons(polygons: Polygons): number {
  return polygons.reduce((sum, ring) => sum + areaOfRing(ring), 0);
}

/** How often a ring winds around p, counter-clockwise. A point on an edge, within rounding, may fall on either side. */
export function windingOf(ring: Ring, p: Point): number {
  let winding = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[j]!;
    const b = ring[i]!;
    // An edge owns its lower end only, so a ray through a corner meets exactly one of its two edges.
    if (a.y <= p.y === b.y <= p.y) continue;
    const side = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    if (b.y > a.y ? side > 0 : side < 0) winding += b.y > a.y ? 1 : -1;
  }
  return winding;
}

/** True for a point inside polygons. */
export function pointInPolygons(polygons: Polygons, p: Point): boolean {
  return polygons.reduce((sum, ring) => sum + windingOf(ring, p), 0) !== 0;
}
