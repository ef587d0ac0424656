import { flattenRegion } from "../../shapes/flatten.ts";
import { mapPoint, turnBy } from "../../shapes/plan-map.ts";
import type { Region } from "../../shapes/region.ts";
import type { Ring } from "../../shapes/rings.ts";

/** A burned line across an area, in coordinates turned so that lines run along x: stretches from x to x, rising. mm. */
export interface Row {
  readonly y: number;
  readonly spans: readonly { readonly from: number; readonly to: number }[];
}

/** Chord error of the area's arcs, mm. */
const CHORD = 0.001;
/** Shorter stretches are left out, mm: an area's tip that a line only touches. */
const CRUMB = 1e-4;

/** Shares of the spacing at which narrow parts between two lines are looked for. */
const BETWEEN = [0.5, 0.25, 0.75] as const;

/**
 * Lines `spacing` apart across an area, evenly about its middle, cut at its borders; islands stay bare. In coordinates turned
 * back by `angleDeg`, so that lines run along x. n = ⌊height / spacing⌋ + 1 lines; those that meet nothing are left out.
 * @param spacing mm, > 0
 * @param border burned besides: it fills what is so narrow that it lies between two lines; else such parts get short lines of
 *   their own
 * Cost: O(edges + crossings).
 */
export function rowsAcross(region: Region, spacing: number, angleDeg: number, border = true): readonly Row[] {
  if (!(spacing > 0)) throw new RangeError(`lines ${spacing} mm apart never end`);
  const turn = turnBy(-angleDeg);
  const rings = flattenRegion(region, CHORD).map((ring) => ring.map((p) => mapPoint(turn, p)));
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const ring of rings) {
    for (const p of ring) {
      low = Math.min(low, p.y);
      high = Math.max(high, p.y);
    }
  }
  if (!(high >= low)) return [];
  const count = Math.floor((high - low) / spacing + 1e-9) + 1;
  const first = low + (high - low - (count - 1) * spacing) / 2;
  // A line on the very border would meet it by chance only: a hair inside it always does.
  const hair = 1e-7;
  const grid = (begin: number, n: number): Row[] =>
    spansAt(rings, begin, spacing, n, (y) => Math.min(Math.max(y, low + hair), high - hair));
  const rows = grid(first, count);
  const full = rows.filter((r) => r.spans.length > 0);
  if (border || count < 2) return full;
  const short: Row[] = [];
  const taken: Row["spans"][] = rows.slice(1).map((next, k) => [...rows[k]!.spans, ...next.spans]);
  for (const share of BETWEEN) {
    for (const [k, row] of grid(first + share * spacing, count - 1).entries()) {
      const spans = lessThan(row.spans, taken[k]!).filter((s) => s.to - s.from > spacing / 8);
      if (spans.length === 0) continue;
      short.push({ y: row.y, spans });
      taken[k] = [...taken[k]!, ...spans];
    }
  }
  return short.length === 0 ? full : [...full, ...short].sort((p, q) => p.y - q.y);
}

/** What the area has of each of `n` lines, from y = `first` on. */
function spansAt(
  rings: readonly Ring[],
  first: number,
  spacing: number,
  n: number,
  kept: (y: number) => number,
): Row[] {
  const at = (k: number): number => kept(first + k * spacing);
  const crossings: number[][] = Array.from({ length: n }, () => []);
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[j]!;
      const b = ring[i]!;
      const from = Math.min(a.y, b.y);
      const to = Math.max(a.y, b.y);
      const k0 = Math.max(0, Math.ceil((from - first) / spacing) - 1);
      const k1 = Math.min(n - 1, Math.floor((to - first) / spacing) + 1);
      for (let k = k0; k <= k1; k++) {
        const y = at(k);
        // An edge owns its lower end only, so a corner is met once.
        if (a.y <= y === b.y <= y) continue;
        crossings[k]!.push(a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x));
      }
    }
  }
  return crossings.map((xs, k): Row => {
    xs.sort((p, q) => p - q);
    const spans: { from: number; to: number }[] = [];
    for (let i = 0; i + 1 < xs.length; i += 2) {
      const from = xs[i]!;
      const to = xs[i + 1]!;
      if (to - from > CRUMB) spans.push({ from, to });
    }
    return { y: at(k), spans };
  });
}

/** Stretches without what others cover of them. */
function lessThan(spans: Row["spans"], covered: Row["spans"]): Row["spans"] {
  const sorted = [...covered].sort((p, q) => p.from - q.from);
  return spans.flatMap((span) => {
    const left: { from: number; to: number }[] = [];
    let { from } = span;
    for (const c of sorted) {
      if (c.to <= from || c.from >= span.to) continue;
      if (c.from > from) left.push({ from, to: c.from });
      from = Math.max(from, c.to);
    }
    if (from < span.to) left.push({ from, to: span.to });
    return left;
  });
}
