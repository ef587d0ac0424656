import { nearestOn } from "../shapes/nearest-on.ts";
import type { TurningTool } from "../shop/lathe.ts";
import { turningShape } from "../shop/turning-profile.ts";
import { leftUnder, standsOver } from "./turning-contact.ts";
import { type Envelope, envelopeAt } from "./turning-envelope.ts";
import type { TurningSetUp } from "./turning-setup.ts";

/** What one tool leaves of the wood above the target once it has been everywhere it can, mm, at even steps of z. */
export interface Reach {
  readonly tool: TurningTool;
  readonly left: Float64Array;
}

/** A stretch where wood must stay because no tool gets at it, set-up coordinates, mm. */
export interface Unreached {
  readonly from: number;
  readonly to: number;
  /** Greatest thickness left, square to the profile, and where along the axis. */
  readonly most: number;
  readonly at: number;
}

/** Step along the axis at which what is left is compared, mm. */
const STEP = 0.05;
/** As much counts as reached, mm: the accuracy of the programs. */
const REACHED = 0.01;
/** Two sets of tools that leave areas this near each other, mm², leave the same. */
const SAME_AREA = 0.02;
/** More tools than this are not tried in every combination. */
const MOST_TRIED = 10;

/** Places at which reach is compared: over the target, the waste left out. */
export function placesOver(setUp: TurningSetUp): readonly number[] {
  const first = setUp.target.segments[0]!.from.x;
  const last = setUp.target.segments[setUp.target.segments.length - 1]!.to.x;
  const waste = setUp.piece.waste.map((w) => ({ from: w.from + setUp.zShift, to: w.to + setUp.zShift }));
  const places: number[] = [];
  // Off the round numbers, where shoulders stand.
  for (let z = first + STEP * 0.37; z < last; z += STEP) {
    if (!waste.some((w) => z >= w.from && z <= w.to)) places.push(z);
  }
  return places;
}

/** What a tool leaves at the places. @param wood obstacles with the target in them */
export function reachOf(tool: TurningTool, wood: Envelope, places: readonly number[]): Reach {
  const left = leftUnder(standsOver(wood, tool), turningShape(tool));
  return { tool, left: Float64Array.from(places, (z) => Math.max(0, envelopeAt(left, z) - envelopeAt(wood, z))) };
}

/**
 * The fewest tools that together reach all that can be reached; among as many, those with the largest noses.
 * Largest nose first, parting tools last. One tool at least.
 */
export function fewestTools(reaches: readonly Reach[]): readonly Reach[] {
  const tried = [...reaches].sort(byNose).slice(0, MOST_TRIED);
  const best = areaOf(leastOf(tried));
  const sets: (readonly Reach[])[] = [[]];
  for (const r of tried) sets.push(...sets.map((s) => [...s, r]));
  const good = sets
    // A parting tool cuts no profile of its own: it helps in corners.
    .filter((s) => s.some((r) => r.tool.kind !== "parting") && areaOf(leastOf(s)) <= best + SAME_AREA)
    .sort((a, b) => a.length - b.length || noses(b) - noses(a));
  return good[0] ?? tried;
}

function byNose(a: Reach, b: Reach): number {
  const last = (r: Reach): number => (r.tool.kind === "parting" ? 1 : 0);
  return last(a) - last(b) || b.tool.noseRadius - a.tool.noseRadius || a.tool.slot - b.tool.slot;
}

function noses(s: readonly Reach[]): number {
  return s.reduce((sum, r) => sum + r.tool.noseRadius, 0);
}

/** What all tools together leave. */
export function leastOf(reaches: readonly Reach[]): Float64Array {
  const first = reaches[0];
  if (first === undefined) return new Float64Array(0);
  return Float64Array.from(first.left, (v, i) => reaches.reduce((least, r) => Math.min(least, r.left[i]!), v));
}

function areaOf(left: Float64Array): number {
  return left.reduce((sum, v) => sum + (v > REACHED ? v * STEP : 0), 0);
}

/** Where wood stays: stretches with their thickness square to the profile. */
export function unreachedBy(
  reaches: readonly Reach[],
  places: readonly number[],
  setUp: TurningSetUp,
  wood: Envelope,
): readonly Unreached[] {
  const left = leastOf(reaches);
  const found: { from: number; to: number; most: number; at: number }[] = [];
  for (const [i, z] of places.entries()) {
    const rise = left[i]!;
    if (!(rise > REACHED)) continue;
    const p = { x: z, y: envelopeAt(wood, z) + rise };
    const off = setUp.target.segments.reduce((least, s) => Math.min(least, nearestOn(s, p).distance), rise);
    if (off <= REACHED) continue;
    const open = found[found.length - 1];
    if (open !== undefined && z - open.to < 2.5 * STEP) {
      open.to = z;
      if (off > open.most) {
        open.most = off;
        open.at = z;
      }
    } else found.push({ from: z, to: z, most: off, at: z });
  }
  return found;
}
