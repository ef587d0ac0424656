import { boxGap, distanceBetween } from "../shapes/nearest.ts";
import type { Box } from "../shapes/point.ts";
import { boundsOfRegion, containsPoint, type Region, regionSegments } from "../shapes/region.ts";
import { boundsOf, pointAt, type Segment } from "../shapes/segment.ts";

/**
 * Distance between two areas, mm: 0 where they overlap or touch. Exact for lines and arcs.
 * @param cutoff pairs farther apart than this need not be told apart: Infinity is returned for them
 */
export function distanceOfRegions(a: Region, b: Region, cutoff = Number.POSITIVE_INFINITY): number {
  const boxA = boundsOfRegion(a);
  const boxB = boundsOfRegion(b);
  if (boxA === undefined || boxB === undefined || boxGap(boxA, boxB) > cutoff) return Number.POSITIVE_INFINITY;
  const near = boxed(b).filter((s) => boxGap(s.box, boxA) <= cutoff);
  let least = Number.POSITIVE_INFINITY;
  for (const s of boxed(a)) {
    if (boxGap(s.box, boxB) > Math.min(least, cutoff)) continue;
    for (const t of near) {
      if (boxGap(s.box, t.box) > Math.min(least, cutoff)) continue;
      least = Math.min(least, distanceBetween(s.segment, t.segment));
      if (least === 0) return 0;
    }
  }
  // Boundaries apart: one may still lie wholly within the other.
  const inA = regionSegments(b)[0];
  const inB = regionSegments(a)[0];
  if (inA && containsPoint(a, pointAt(inA, 0.5))) return 0;
  if (inB && containsPoint(b, pointAt(inB, 0.5))) return 0;
  return least > cutoff ? Number.POSITIVE_INFINITY : least;
}

/** True when a region lies wholly within another, or touches its boundary from inside by no more than `slack` mm. */
export function liesWithin(inner: Region, outer: Region, slack: number): boolean {
  const border = boxed(outer);
  for (const s of regionSegments(inner)) {
    const box = boundsOf(s);
    for (const t of border) {
      if (boxGap(box, t.box) <= slack && distanceBetween(s, t.segment) <= slack) return false;
    }
    if (!containsPoint(outer, pointAt(s, 0.5))) return false;
  }
  return true;
}

function boxed(region: Region): { readonly segment: Segment; readonly box: Box }[] {
  return regionSegments(region).map((segment) => ({ segment, box: boundsOf(segment) }));
}
