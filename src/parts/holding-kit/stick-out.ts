import type { Region } from "../../shapes/region.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import { type TurnedSolid, topAt, woodOver } from "../../shapes/turned-solid.ts";

/**
 * Least height of the nut above a cutter's tip, mm, so that the nut clears the flanges beside a recess: the highest
 * crown within the nut's radius of the recess, above the recess's floor. Exact where the ends of the section that lie
 * farthest along the axis lie on it, as a slot's or a rectangle's do; elsewhere never too short.
 *
 * @param depth below the wood's top at the middle of the section, mm
 * @returns undefined where there is no wood above the section's middle, or no section
 */
export function leastStickOut(
  solid: TurnedSolid,
  section: Region,
  depth: number,
  nutRadius: number,
): { readonly value: number; readonly crownAt: { readonly from: number; readonly to: number } } | undefined {
  const box = boundsOfRegion(section);
  if (box === undefined) return undefined;
  const middle = topAt(solid, (box.min.x + box.max.x) / 2, (box.min.y + box.max.y) / 2);
  if (middle === undefined) return undefined;
  const crownAt = { from: box.min.x - nutRadius, to: box.max.x + nutRadius };
  // Above the axis itself each crown is highest, and the nut's shadow reaches the axis.
  const off = Math.max(0, box.min.y - solid.axis.y - nutRadius, solid.axis.y - box.max.y - nutRadius);
  const highest = woodOver(solid, crownAt.from, crownAt.to, off, off).some?.high ?? middle;
  return { value: Math.max(0, highest - (middle - depth)), crownAt };
}
