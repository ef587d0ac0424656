import type { Point } from "./point.ts";
import type { Ring } from "./rings.ts";

/**
 * A polyline with fewer of its own points: every point left out lies within `tolerance` mm of the straight run that
 * replaces it, and the other way round. Ends are kept.
 *
 * One pass: from each kept point, the directions that pass within tolerance of all points since then form a wedge;
 * a run ends before the point that falls outside it, or that turns back. Always O(n), where halving at the farthest
 * point (Douglas & Peucker 1973) takes O(n²) on a zigzag that shrinks, which a drawing may hold.
 * Source: Williams, CGIP 8 (1978) 286–293; Sklansky & Gonzalez, Pattern Recognition 12 (1980) 327–331; from memory.
 */
export function simplifyLine(points: readonly Point[], tolerance: number): Point[] {
  if (!(tolerance >= 0)) throw new RangeError(`a tolerance must not be below zero, not ${tolerance}`);
  return points.length < 3 || tolerance === 0 ? [...points] : keptOf(points, 0, points.length, tolerance);
}

/** The points kept of `count` from `start` on, going round from the last to the first. */
function keptOf(points: readonly Point[], start: number, count: number, tolerance: number): Point[] {
  const n = points.length;
  let end = points[start]!;
  const kept = [end];
  let ax = end.x;
  let ay = end.y;
  let far = 0;
  let lowX = 0;
  let lowY = 0;
  let highX = 0;
  let highY = 0;
  const square = tolerance * tolerance;
  for (let i = 1, k = start + 1; i < count; i++, k++) {
    if (k >= n) k -= n;
    const p = points[k]!;
    let dx = p.x - ax;
    let dy = p.y - ay;
    let d2 = dx * dx + dy * dy;
    // `far` holds the square of the last point's distance; no point may lie nearer than the one before.
    if (far > 0 && !(d2 >= far && lowX * dy - lowY * dx >= 0 && dx * highY - dy * highX >= 0)) {
      kept.push(end);
      ax = end.x;
      ay = end.y;
      dx = p.x - ax;
      dy = p.y - ay;
      d2 = dx * dx + dy * dy;
      far = 0;
    }
    end = p;
    // Near the kept point any direction will do.
    if (d2 <= square) continue;
    const along = Math.sqrt(d2 - square);
    const lx = dx * along + dy * tolerance;
    const ly = dy * along - dx * tolerance;
    const hx = dx * along - dy * tolerance;
    const hy = dy * along + dx * tolerance;
    if (far === 0 || lowX * ly - lowY * lx > 0) {
      lowX = lx;
      lowY = ly;
    }
    if (far === 0 || hx * highY - hy * highX > 0) {
      highX = hx;
      highY = hy;
    }
    far = d2;
  }
  kept.push(end);
  return kept;
}

/**
 * A ring with fewer of its own points, as `simplifyLine`, begun at its lowest point, which is kept. A ring that would
 * shrink below a triangle is returned as it is.
 */
export function simplifyRing(ring: Ring, tolerance: number): Ring {
  if (!(tolerance >= 0)) throw new RangeError(`a tolerance must not be below zero, not ${tolerance}`);
  if (ring.length < 4 || tolerance === 0) return ring;
  let lowest = 0;
  for (let i = 1; i < ring.length; i++) {
    const p = ring[i]!;
    const q = ring[lowest]!;
    if (p.y < q.y || (p.y === q.y && p.x < q.x)) lowest = i;
  }
  const kept = keptOf(ring, lowest, ring.length + 1, tolerance);
  kept.pop();
  return kept.length < 3 ? ring : kept;
}
