import { componentsOf, differenceOf } from "../shapes/boolean.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { offsetPolygons } from "../shapes/offset.ts";
import { areaOfPolygons, type Polygons } from "../shapes/polygons.ts";
import type { Region } from "../shapes/region.ts";
import { radiusOf, tangentAt } from "../shapes/segment.ts";
import { TOLERANCE } from "../tolerance.ts";

/**
 * Largest area that may stay in one place, in squares of the cutter's radius: what a round bit leaves in a corner of
 * 30 degrees, r²·(cot 15° − 75°·π/180) = 2.42 r². More than that is a place the bit didn't get into.
 */
const CORNER_AREA = 2.5;
/** Leftovers smaller than this come from rounding, mm². */
const DUST = 0.002;

/** Why a bit doesn't reach all of an area, or nothing. */
export type ReachTrouble = "doesn't fit" | "is cut in two by a neck" | "leaves a place that it can't get into";

/**
 * Tells whether a round cutter reaches an area as the user means it: it fits, no neck is closed to it, and all that it
 * leaves are corners (30 degrees or wider, each by itself).
 * @param radius of the cutter, mm
 */
export function reachTrouble(section: Region, radius: number): ReachTrouble | undefined {
  if (rollsAround(section, radius)) return undefined;
  const whole = flattenRegion(section, TOLERANCE.flattening);
  // A hair less, so that a bit exactly as wide as its slot passes.
  const centres = offsetPolygons(whole, -(radius - 2 * TOLERANCE.offset), TOLERANCE.offset);
  if (centres.length === 0) return "doesn't fit";
  if (piecesOf(centres) !== piecesOf(whole)) return "is cut in two by a neck";
  const reached = offsetPolygons(centres, radius, TOLERANCE.offset);
  const left = componentsOf(differenceOf(whole, reached)).map(areaOfPolygons);
  return left.some((area) => area > Math.max(DUST, CORNER_AREA * radius * radius))
    ? "leaves a place that it can't get into"
    : undefined;
}

/** The same for a bit that goes around the outside of an outline: are all hollows of it reached? */
export function outsideReachTrouble(profile: Region, radius: number): ReachTrouble | undefined {
  if (isConvex(profile)) return undefined;
  const whole = flattenRegion(profile, TOLERANCE.flattening);
  const path = offsetPolygons(whole, radius, TOLERANCE.offset);
  if (path.length !== whole.length) return "is cut in two by a neck";
  const closed = offsetPolygons(path, -radius, TOLERANCE.offset);
  const left = componentsOf(differenceOf(closed, whole)).map(areaOfPolygons);
  return left.some((area) => area > Math.max(DUST, CORNER_AREA * radius * radius))
    ? "leaves a place that it can't get into"
    : undefined;
}

/** True when the wall's allowance may be left: the roughing pass then still reaches every part of the area. */
export function roomForAllowance(section: Region, radius: number, allowance: number): boolean {
  if (rollsAround(section, radius + allowance + 0.01)) return true;
  const whole = flattenRegion(section, TOLERANCE.flattening);
  // What shrinks from a bulging outline bulges too, in one piece.
  if (isConvex(section)) return offsetPolygons(whole, -(radius + allowance + 0.01), TOLERANCE.offset).length > 0;
  const finish = offsetPolygons(whole, -radius, TOLERANCE.offset);
  const rough = offsetPolygons(whole, -(radius + allowance + 0.01), TOLERANCE.offset);
  return rough.length > 0 && piecesOf(rough) === piecesOf(finish);
}

/** True when some point of a section lies at least this far inside it, mm. */
export function roomBeside(section: Region, inside: number): boolean {
  return offsetPolygons(flattenRegion(section, TOLERANCE.flattening), -inside, TOLERANCE.offset).length > 0;
}

/** Turns flatter than this are a smooth joint, radians. */
const SMOOTH = 1e-4;

/** True for one loop that nowhere turns away from its inside. */
export function isConvex(region: Region): boolean {
  const [loop, ...more] = region.loops;
  return (
    loop !== undefined &&
    more.length === 0 &&
    loop.every((s, i) => (s.kind === "line" || s.ccw) && turnAfter(loop, i) > -SMOOTH)
  );
}

/**
 * True for a bulging outline without corners whose tightest bend is no tighter than the radius: a disc of that radius then
 * touches every point of it from inside. Source: Blaschke's rolling theorem.
 */
export function rollsAround(section: Region, radius: number): boolean {
  const [loop] = section.loops;
  return (
    loop !== undefined &&
    isConvex(section) &&
    loop.every((s, i) => (s.kind === "line" || radiusOf(s) >= radius - 1e-9) && turnAfter(loop, i) < SMOOTH)
  );
}

/** Angle by which a loop turns left where segment i ends, radians. */
function turnAfter(loop: Region["loops"][number], i: number): number {
  const a = tangentAt(loop[i]!, 1);
  const b = tangentAt(loop[(i + 1) % loop.length]!, 0);
  return Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
}

function piecesOf(polygons: Polygons): number {
  return componentsOf(polygons).length;
}
