import { fitRegion } from "../shapes/fit-arcs.ts";
import { offsetRegion } from "../shapes/offset.ts";
import { circle } from "../shapes/outlines.ts";
import { EMPTY_REGION, type Region } from "../shapes/region.ts";
import { radiusOf } from "../shapes/segment.ts";
import { TOLERANCE } from "../tolerance.ts";

/** Height of the ridges that level passes leave on a sloped wall, mm, square to it. Stated on the sheet. */
export const CUSP = 0.05;

/**
 * Heights to cut at from the top down to the floor, evenly spaced.
 * @param deepest largest step, mm, > 0
 * @returns at least one height, the last the floor's bit for bit
 */
export function evenLevels(topZ: number, floorZ: number, deepest: number): readonly number[] {
  const depth = topZ - floorZ;
  const count = Math.max(1, Math.ceil(depth / deepest - 1e-9));
  return Array.from({ length: count }, (_, i) => (i === count - 1 ? floorZ : topZ - (depth * (i + 1)) / count));
}

/**
 * Step between finishing passes down a sloped wall, mm: a step Δz of a flat cutter leaves a ridge Δz·sin(lean) high.
 * Infinity for an upright wall.
 */
export function slopeStep(slopeTan: number, cusp: number): number {
  return slopeTan === 0 ? Number.POSITIVE_INFINITY : cusp / Math.sin(Math.atan(slopeTan));
}

/** A section further down a sloped wall: all that lies at least `inset` mm inside it. Circles stay circles. */
export function insetBy(section: Region, inset: number): Region {
  if (!(inset > 0)) return section;
  const [loop, ...more] = section.loops;
  const first = loop?.[0];
  if (loop && more.length === 0 && first?.kind === "arc" && loop.every((s) => isArcAbout(s, first.centre))) {
    const radius = radiusOf(first) - inset;
    return radius > 0 ? circle(first.centre, radius) : EMPTY_REGION;
  }
  return fitRegion(offsetRegion(section, -inset, TOLERANCE.offset), TOLERANCE.arcFit);
}

function isArcAbout(s: Region["loops"][number][number], centre: { readonly x: number; readonly y: number }): boolean {
  return s.kind === "arc" && s.ccw && s.centre.x === centre.x && s.centre.y === centre.y;
}
