import { crossings } from "../crossings.ts";
import { fitRegion } from "../fit-arcs.ts";
import { type Region, regionSegments } from "../region.ts";
import type { Polygons } from "../rings.ts";
import { boundsOf, type Segment } from "../segment.ts";
import { indexSegments, segmentsNear } from "../segment-index.ts";

/** How often the tolerance is halved before the rings are taken as they are. */
const TRIES = 4;

/**
 * Rings fitted with lines and arcs, none of which cross. Where rings run closer than the tolerance, fitted ones may
 * cross; then the tolerance is halved, and in the end the rings' own corners are kept.
 * @param tolerance mm, > 0
 */
export function fitClear(rings: Polygons, tolerance: number): Region {
  let within = tolerance;
  for (let round = 0; round < TRIES; round++, within /= 2) {
    const region = fitRegion(rings, within);
    // A ring smaller than the tolerance is fitted away to nothing; that is no reason to fit the others more closely.
    if (!crosses(regionSegments(region))) return region;
  }
  return {
    loops: rings.map((ring) =>
      ring.map((from, i): Segment => ({ kind: "line", from, to: ring[(i + 1) % ring.length]! })),
    ),
  };
}

/** True where two segments meet elsewhere than at an end they share. */
function crosses(segments: readonly Segment[]): boolean {
  const index = indexSegments(segments);
  for (const a of segments) {
    for (const b of segmentsNear(index, boundsOf(a), 0)) {
      if (a === b) continue;
      for (const p of crossings(a, b)) {
        const shared = (p === a.from || p === a.to) && (same(p, b.from) || same(p, b.to));
        const sharedBack = (p === b.from || p === b.to) && (same(p, a.from) || same(p, a.to));
        if (!shared && !sharedBack) return true;
      }
    }
  }
  return false;
}

function same(p: { readonly x: number; readonly y: number }, q: { readonly x: number; readonly y: number }): boolean {
  return p.x === q.x && p.y === q.y;
}
