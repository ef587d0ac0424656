import { boxGap, distanceToPoint } from "../shapes/nearest.ts";
import type { Box, Point } from "../shapes/point.ts";
import { containsPoint, distanceToBoundary } from "../shapes/region.ts";
import { insetOf, isUpright } from "./lean.ts";
import type { Air, Slab } from "./target.ts";

/** A slab before its walls are found. */
export type Section = Pick<Slab, "blank" | "air" | "kept">;

/** True where a slab holds wood, with sloped cavities as wide as at their top. */
export function solidAtTop(slab: Section, p: Point): boolean {
  if (!inBox(slab.blank, p)) return false;
  if (!slab.air.some((a) => inBox(a.box, p) && containsPoint(a.section, p))) return true;
  return slab.kept.some((k) => containsPoint(k, p));
}

/**
 * True where a slab holds wood at height z. Points on a wall, within rounding, may fall on either side.
 * @param z set-up height; sloped walls are told apart by it, straight ones not
 */
export function isSolid(slab: Section, p: Point, z: number): boolean {
  if (!inBox(slab.blank, p)) return false;
  if (!slab.air.some((a) => isAir(a, p, z))) return true;
  return slab.kept.some((k) => containsPoint(k, p));
}

/** A sloped cavity is air where p lies at least the wall's lean inside its top outline. */
function isAir(a: Air, p: Point, z: number): boolean {
  if (!inBox(a.box, p) || !containsPoint(a.section, p)) return false;
  const lean = insetOf(a, z);
  return lean <= 0 || distanceToBoundary(a.section, p) >= lean;
}

/**
 * Distance from a point to the nearest wood of a slab at height z, mm; negative inside wood, by the distance to the
 * nearest air. Exact in air beside straight and sloped walls; inside wood beneath a sloped wall a bound: the air may be
 * farther away there, not nearer.
 */
export function distanceToSolid(slab: Slab, p: Point, z: number): number {
  let least = Number.POSITIVE_INFINITY;
  const spot = { min: p, max: p };
  for (const w of slab.walls) {
    if (isUpright(w) && boxGap(w.box, spot) < least) least = Math.min(least, distanceToPoint(w.curve, p));
  }
  const buried = solidAtTop(slab, p);
  for (const a of slab.air) {
    if (isUpright(a)) continue;
    const lean = insetOf(a, z);
    const inside = inBox(a.box, p) && containsPoint(a.section, p);
    // Seen from another cavity's air, a sloped wall hides behind that cavity's own.
    if (!inside && !buried) continue;
    const d = distanceToBoundary(a.section, p);
    least = Math.min(least, inside ? Math.abs(d - lean) : d + lean);
  }
  return isSolid(slab, p, z) ? -least : least;
}

function inBox(box: Box, p: Point): boolean {
  return p.x >= box.min.x && p.x <= box.max.x && p.y >= box.min.y && p.y <= box.max.y;
}
