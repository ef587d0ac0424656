import { distanceToPoint } from "../../shapes/nearest.ts";
import type { Point } from "../../shapes/point.ts";
import { boundsOfRegion, containsPoint, type Region, regionSegments } from "../../shapes/region.ts";
import { boundsOf, type Segment } from "../../shapes/segment.ts";
import { indexSegments, nearestDistance, type SegmentIndex } from "../../shapes/segment-index.ts";

/** A region made ready for being asked often: its border in a tree, and in bands of height. Built once, then only read. */
export interface RegionLook {
  readonly region: Region;
  readonly border: SegmentIndex;
  readonly contains: (p: Point) => boolean;
  /** Distance to the border, mm: above zero inside, below zero outside. */
  readonly depth: (p: Point) => number;
}

/** Makes a region ready. */
export function lookInto(region: Region): RegionLook {
  const segments = regionSegments(region);
  const border = indexSegments(segments);
  const box = boundsOfRegion(region) ?? { min: { x: 0, y: 0 }, max: { x: 0, y: 0 } };
  const count = Math.max(1, Math.min(4000, Math.ceil(segments.length / 2)));
  const tall = Math.max(1e-9, box.max.y - box.min.y);
  const bandOf = (y: number): number => Math.max(0, Math.min(count - 1, Math.floor(((y - box.min.y) / tall) * count)));
  const bands: Segment[][] = Array.from({ length: count }, () => []);
  for (const s of segments) {
    const { min, max } = boundsOf(s);
    for (let k = bandOf(min.y); k <= bandOf(max.y); k++) bands[k]!.push(s);
  }
  const contains = (p: Point): boolean => {
    if (p.x < box.min.x || p.x > box.max.x || p.y < box.min.y || p.y > box.max.y) return false;
    // Whether a point is inside is a sum over segments, and those of other heights add nothing.
    return containsPoint({ loops: [bands[bandOf(p.y)]!] }, p);
  };
  const depth = (p: Point): number => {
    const d =
      segments.length < 6 ? Math.min(...segments.map((s) => distanceToPoint(s, p))) : nearestDistance(border, p);
    return contains(p) ? d : -d;
  };
  return { region, border, contains, depth };
}
