import { flattenRegion } from "../../shapes/flatten.ts";
import { mapPoint, turnBy } from "../../shapes/plan-map.ts";
import type { Region } from "../../shapes/region.ts";

/** A burned line across an area, in coordinates turned so that lines run along x: stretches from x to x, rising. mm. */
export interface Row {
  readonly y: number;
  readonly spans: readonly { readonly from: number; readonly to: number }[];
}

/** Chord error of the area's arcs, mm. */
const CHORD = 0.001;
/** Shorter stretches are left out, mm: an area's tip that a line only touches. */
const CRUMB = 1e-4;

/**
 * Lines `spacing` apart across an area, evenly about its middle, cut at its borders; islands stay bare. In coordinates turned
 * back by `angleDeg`, so that lines run along x. n = ⌊height / spacing⌋ + 1 lines; those that meet nothing are left out.
 * @param spacing mm, > 0
 * Cost: O(edges + crossings).
 */
export function rowsAcross(region: Region, spacing: number, angleDeg: number): readonly Row[] {
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
  // A line on the very border would meet it by chance only: a hair inside it always does.
  const first = low + (high - low - (count - 1) * spacing) / 2;
  const hair = 1e-7;
  const at = (k: number): number => Math.min(Math.max(first + k * spacing, low + hair), high - hair);
  const crossings: number[][] = Array.from({ length: count }, () => []);
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[j]!;
      const b = ring[i]!;
      const from = Math.min(a.y, b.y);
      const to = Math.max(a.y, b.y);
      const k0 = Math.max(0, Math.ceil((from - first) / spacing) - 1);
      const k1 = Math.min(count - 1, Math.floor((to - first) / spacing) + 1);
      for (let k = k0; k <= k1; k++) {
        const y = at(k);
        // An edge owns its lower end only, so a corner is met once.
        if (a.y <= y === b.y <= y) continue;
        crossings[k]!.push(a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x));
      }
    }
  }
  return crossings.flatMap((xs, k): Row[] => {
    xs.sort((p, q) => p - q);
    const spans: { from: number; to: number }[] = [];
    for (let i = 0; i + 1 < xs.length; i += 2) {
      const from = xs[i]!;
      const to = xs[i + 1]!;
      if (to - from > CRUMB) spans.push({ from, to });
    }
    return spans.length === 0 ? [] : [{ y: at(k), spans }];
  });
}
