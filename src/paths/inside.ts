import { distance, type Point } from "../shapes/point.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";

/**
 * True when the straight way from a to b stays inside polygons, but for `slack` mm at either end: ways begin and end on
 * rings, which lie on the boundary itself.
 */
export function wayInside(polygons: Polygons, a: Point, b: Point, slack: number): boolean {
  const length = distance(a, b);
  if (length <= 2 * slack) return true;
  const at = (t: number): Point => ({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });
  const from = at(slack / length);
  const to = at(1 - slack / length);
  if (!pointInPolygons(polygons, at(0.5))) return false;
  return !polygons.some((ring) => crosses(ring, from, to));
}

function crosses(ring: readonly Point[], a: Point, b: Point): boolean {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  let p = ring[ring.length - 1];
  if (p === undefined) return false;
  let before = dx * (p.y - a.y) - dy * (p.x - a.x);
  for (const q of ring) {
    const side = dx * (q.y - a.y) - dy * (q.x - a.x);
    if (before > 0 !== side > 0) {
      const ex = q.x - p.x;
      const ey = q.y - p.y;
      const one = ex * (a.y - p.y) - ey * (a.x - p.x);
      const two = ex * (b.y - p.y) - ey * (b.x - p.x);
      if (one > 0 !== two > 0) return true;
    }
    before = side;
    p = q;
  }
  return false;
}

/** Longer side of the box around polygons, mm; 0 for none. */
export function extentOf(polygons: Polygons): number {
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const ring of polygons) {
    for (const { x, y } of ring) {
      minX = Math.min(minX, x);
      maxX = Math.max(maxX, x);
      minY = Math.min(minY, y);
      maxY = Math.max(maxY, y);
    }
  }
  return maxX < minX ? 0 : Math.max(maxX - minX, maxY - minY);
}

/** True when a place lies inside polygons, or within `slack` mm of their boundary. */
export function standsIn(polygons: Polygons, p: Point, slack: number): boolean {
  return pointInPolygons(polygons, p) || polygons.some((ring) => nearestOnRing(ring, p).away <= slack);
}

/** The place on a ring nearest to a point, and how far away it is, mm. */
export function nearestOnRing(ring: readonly Point[], p: Point): { readonly point: Point; readonly away: number } {
  let least = Number.POSITIVE_INFINITY;
  let x = 0;
  let y = 0;
  let a = ring[ring.length - 1];
  for (const b of ring) {
    if (a === undefined) break;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const square = dx * dx + dy * dy;
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square));
    const nx = a.x + t * dx;
    const ny = a.y + t * dy;
    const away = (nx - p.x) * (nx - p.x) + (ny - p.y) * (ny - p.y);
    // A hair's margin keeps the choice the same on every processor when two places are equally near.
    if (away < least - 1e-9) {
      least = away;
      x = nx;
      y = ny;
    }
    a = b;
  }
  return { point: { x, y }, away: Math.sqrt(least) };
}
