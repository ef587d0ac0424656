import type { Polygons } from "../shapes/polygons.ts";
import { meets, type Stretch, stripOf } from "./rows.ts";

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
      const span: Stretch = { lo: 0, hi: 0 };
      if (meets(stripOf(a, b, r), y, span)) strips.push([span.lo, span.hi]);
    }
  }
  return inset > 0 ? without(inside, merged(strips)) : merged([...inside, ...strips]);
}

/**
 * Where a row lies inside polygons when its own place may be off by `by`: with `all`, inside for every row within `by`
 * of it; else inside for any. The row's stretches, less or plus those of the edges that rows so near meet, these made
 * longer by `spare` at both ends.
 */
export function rowNear(polygons: Polygons, y: number, by: number, spare: number, all: boolean): Stretches {
  const inside = crossingsOf(polygons, y);
  const edges: [number, number][] = [];
  for (const ring of polygons) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[j]!;
      const b = ring[i]!;
      if (y < Math.min(a.y, b.y) - by || y > Math.max(a.y, b.y) + by) continue;
      const rise = b.y - a.y;
      const share = (at: number) => Math.max(0, Math.min(1, (at - a.y) / rise));
      const t0 = rise === 0 ? 0 : share(y - by);
      const t1 = rise === 0 ? 1 : share(y + by);
      const x0 = a.x + t0 * (b.x - a.x);
      const x1 = a.x + t1 * (b.x - a.x);
      edges.push([Math.min(x0, x1) - spare, Math.max(x0, x1) + spare]);
    }
  }
  return all ? without(inside, merged(edges)) : merged([...inside, ...edges]);
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
