import type { Polygons } from "../shapes/polygons.ts";
import { stripSpanOf } from "./rows.ts";

/** Stretches along a row, ascending and apart: pairs [lo, hi]. mm. */
export type Stretches = readonly (readonly [number, number])[];

/**
 * Where the row at height y lies inside polygons drawn in (`inset` > 0) or out (< 0) by a distance, round at the
 * corners: the points whose signed distance to the boundary is at least `inset`. Exact: the polygons' own stretches,
 * less or plus the strips of that half width about every edge.
 */
export function rowWithin(polygons: Polygons, y: number, inset: number): Stretches {
  const inside = crossingsOf(polygons, y);
  if (inset === 0) return inside;
  const r = Math.abs(inset);
  const strips: [number, number][] = [];
  for (const ring of polygons) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[j]!;
      const b = ring[i]!;
      if (y < Math.min(a.y, b.y) - r || y > Math.max(a.y, b.y) + r) continue;
      const span = stripSpanOf(a, b, r);
      if (span.at(y)) strips.push([span.lo, span.hi]);
    }
  }
  return inset > 0 ? without(inside, merged(strips)) : merged([...inside, ...strips]);
}

/** Stretches of the row inside the polygons themselves. */
function crossingsOf(polygons: Polygons, y: number): Stretches {
  const xs: number[] = [];
  for (const ring of polygons) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[j]!;
      const b = ring[i]!;
      if (a.y <= y === b.y <= y) continue;
      xs.push(a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x));
    }
  }
  xs.sort((p, q) => p - q);
  const out: [number, number][] = [];
  for (let k = 0; k + 1 < xs.length; k += 2) out.push([xs[k]!, xs[k + 1]!]);
  return out;
}

/** Overlapping stretches joined. */
export function merged(stretches: Stretches): Stretches {
  const out: [number, number][] = [];
  for (const [lo, hi] of [...stretches].sort((p, q) => p[0] - q[0])) {
    const last = out[out.length - 1];
    if (last !== undefined && lo <= last[1]) last[1] = Math.max(last[1], hi);
    else out.push([lo, hi]);
  }
  return out;
}

/** What of `a` lies outside `b`; both ascending and apart. */
export function without(a: Stretches, b: Stretches): Stretches {
  const out: [number, number][] = [];
  for (const [lo, hi] of a) {
    let from = lo;
    for (const [l, h] of b) {
      if (h <= from || l >= hi) continue;
      if (l > from) out.push([from, l]);
      from = Math.max(from, h);
    }
    if (from < hi) out.push([from, hi]);
  }
  return out;
}

/** What lies in both. */
export function both(a: Stretches, b: Stretches): Stretches {
  const out: [number, number][] = [];
  for (const [lo, hi] of a) {
    for (const [l, h] of b) if (Math.max(lo, l) <= Math.min(hi, h)) out.push([Math.max(lo, l), Math.min(hi, h)]);
  }
  return out;
}
