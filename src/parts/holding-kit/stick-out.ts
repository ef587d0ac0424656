import type { Region } from "../../shapes/region.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import { type TurnedSolid, woodOver } from "../../shapes/turned-solid.ts";

/** What a cutter's nut must stay above. mm. */
export interface LeastStickOut {
  /** Least height of the nut above the tip: the nut then just touches. */
  readonly value: number;
  /** Where along the axis the highest crown beneath the nut stands, in the solid's own coordinates. */
  readonly flangeAt: number;
}

/** The highest crown is placed along the axis this closely, mm. */
const PLACED = 0.01;
/** Heights this near each other are the same, mm. */
const SAME = 1e-9;

/**
 * Least height of the nut above a cutter's tip, so that the nut clears the flanges beside a recess: from the tip to the
 * highest crown within reach of the section. Exact where the ends of the section that lie farthest along the axis lie on
 * it, as a slot's or a rectangle's do; elsewhere never too short.
 *
 * @param tipZ height of the tip in the solid's coordinates, mm
 * @param reach how far the nut reaches beyond the section, mm: its own radius where the tip's middle runs along the
 *   section's edge, less the cutter's radius where its side does
 * @returns undefined where there is no wood beneath the nut, or no section
 */
export function leastStickOut(
  solid: TurnedSolid,
  section: Region,
  tipZ: number,
  reach: number,
): LeastStickOut | undefined {
  const box = boundsOfRegion(section);
  if (box === undefined) return undefined;
  // Above the axis itself each crown is highest, and the nut's shadow reaches the axis.
  const off = Math.max(0, box.min.y - solid.axis.y - reach, solid.axis.y - box.max.y - reach);
  const highestIn = (from: number, to: number): number | undefined => woodOver(solid, from, to, off, off).some?.high;
  const [first, last] = [box.min.x - reach, box.max.x + reach];
  const highest = highestIn(first, last);
  if (highest === undefined) return undefined;
  let [from, to] = [first, last];
  while (to - from > PLACED) {
    const middle = (from + to) / 2;
    const here = highestIn(from, middle);
    if (here !== undefined && here >= highest - SAME) to = middle;
    else from = middle;
  }
  return { value: Math.max(0, highest - tipZ), flangeAt: (from + to) / 2 };
}
