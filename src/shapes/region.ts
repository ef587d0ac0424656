import { distanceToPoint } from "./nearest.ts";
import type { Box, Point } from "./point.ts";
import { type Arc, boundsOf, lengthOf, radiusOf, type Segment, shareTowards, sweepRad } from "./segment.ts";

/** A closed chain of segments: each begins, bit for bit, where the one before ends, and the last meets the first. */
export type Loop = readonly Segment[];

/**
 * An area with exact arcs. Outer loops run counter-clockwise, holes clockwise; loops do not cross.
 * An empty list is the empty region.
 */
export interface Region {
  readonly loops: readonly Loop[];
}

/** The region that holds nothing. */
export const EMPTY_REGION: Region = { loops: [] };

/** All segments of a region's boundary, loop after loop. */
export function regionSegments(region: Region): Segment[] {
  return region.loops.flat();
}

/**
 * Signed area of a loop, mm²: positive counter-clockwise. Exact for arcs: Green's theorem, ½∮(x dy − y dx), where an
 * arc about (cx, cy) gives ½(cx·Δy − cy·Δx + r²·sweep).
 */
export function areaOfLoop(loop: Loop): number {
  const first = loop[0];
  if (first === undefined) return 0;
  // Taken about the loop's own start, so that a small shape far from zero keeps its digits.
  const o = first.from;
  let twice = 0;
  for (const s of loop) {
    switch (s.kind) {
      case "line":
        twice += (s.from.x - o.x) * (s.to.y - o.y) - (s.to.x - o.x) * (s.from.y - o.y);
        break;
      case "arc":
        twice += (s.centre.x - o.x) * (s.to.y - s.from.y) - (s.centre.y - o.y) * (s.to.x - s.from.x);
        twice += radiusOf(s) ** 2 * sweepRad(s);
        break;
    }
  }
  return twice / 2;
}

/** Area of a region, mm²: outer loops less holes. */
export function areaOf(region: Region): number {
  return region.loops.reduce((sum, loop) => sum + areaOfLoop(loop), 0);
}

/** Length of a region's whole boundary, holes included, mm. */
export function perimeterOf(region: Region): number {
  return regionSegments(region).reduce((sum, s) => sum + lengthOf(s), 0);
}

/** The smallest box around a region, mm; undefined for the empty region. */
export function boundsOfRegion(region: Region): Box | undefined {
  let box: Box | undefined;
  for (const s of regionSegments(region)) {
    const b = boundsOf(s);
    box = box === undefined ? b : joined(box, b);
  }
  return box;
}

function joined(a: Box, b: Box): Box {
  return {
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
  };
}

/** Distance from a point to the nearest point of a region's boundary, mm; Infinity for the empty region. */
export function distanceToBoundary(region: Region, p: Point): number {
  return regionSegments(region).reduce((least, s) => Math.min(least, distanceToPoint(s, p)), Number.POSITIVE_INFINITY);
}

/**
 * True for a point inside a region: where its boundary winds around. A point on the boundary itself, within rounding,
 * may fall on either side. Rays through corners and along edges are safe: every piece owns its lower end only.
 */
export function containsPoint(region: Region, p: Point): boolean {
  let winding = 0;
  for (const loop of region.loops) for (const s of loop) winding += passes(s, p);
  return winding !== 0;
}

/** How often a segment passes upwards, less how often downwards, through the ray from p towards +X. */
function passes(s: Segment, p: Point): number {
  switch (s.kind) {
    case "line": {
      const up = rises(s.from.y, s.to.y, p.y);
      if (up === 0) return 0;
      const side = (s.to.x - s.from.x) * (p.y - s.from.y) - (s.to.y - s.from.y) * (p.x - s.from.x);
      // An upward line lies to the right of p when p is on its left.
      return side * up > 0 ? up : 0;
    }
    case "arc":
      return arcPasses(s, p);
  }
}

/** +1 when going from y0 to y1 passes height y upwards, −1 downwards, 0 not at all. */
function rises(y0: number, y1: number, y: number): number {
  const below0 = y0 <= y;
  const below1 = y1 <= y;
  return below0 === below1 ? 0 : below0 ? 1 : -1;
}

/** An arc cut at its top and bottom climbs or falls all along each piece; the pieces share heights bit for bit. */
function arcPasses(a: Arc, p: Point): number {
  const r = radiusOf(a);
  const dx = p.x - a.centre.x;
  const dy = p.y - a.centre.y;
  const within = dx * dx + dy * dy < r * r;
  // From beside the circle the ray passes all pieces or none, and of all of them only the ends tell.
  if (!within) return dx < 0 ? rises(a.from.y, a.to.y, p.y) : 0;
  const stops: { t: number; y: number }[] = [];
  const top = shareTowards(a, 0, 1);
  const bottom = shareTowards(a, 0, -1);
  if (top !== undefined) stops.push({ t: top, y: a.centre.y + r });
  if (bottom !== undefined) stops.push({ t: bottom, y: a.centre.y - r });
  stops.sort((m, n) => m.t - n.t);
  stops.push({ t: 1, y: a.to.y });
  const start = Math.atan2(a.from.y - a.centre.y, a.from.x - a.centre.x);
  const sweep = sweepRad(a);
  let winding = 0;
  let from = { t: 0, y: a.from.y };
  for (const to of stops) {
    const up = rises(from.y, to.y, p.y);
    // From within, it passes those on the right.
    if (up !== 0 && Math.cos(start + ((from.t + to.t) / 2) * sweep) > 0) winding += up;
    from = to;
  }
  return winding;
}
