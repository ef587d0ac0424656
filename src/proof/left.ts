import type { Target, TargetCavity } from "../parts/target.ts";
import type { Point3 } from "../shapes/point.ts";
import type { Polygons } from "../shapes/polygons.ts";
import { boundsOf } from "../shapes/segment.ts";
import type { Shop } from "../shop/shop.ts";
import { ACCURACY } from "../tolerance.ts";
import { type Sweep, sweepsOf, type Uncovered, worstUncovered } from "./cover.ts";
import { heightAt, type Motion, stretch } from "./motion.ts";
import { boxOf, mustBeClear } from "./reach.ts";
import { type Silhouette, widest } from "./silhouette.ts";

/** A feed motion with the cutting part that makes it. */
export interface Stroke {
  readonly motion: Motion;
  readonly cutter: Silhouette;
  /** Height above the tip up to which it cuts. */
  readonly top: number;
}

/** Wood that a program leaves in one cavity. mm. */
export interface Left {
  readonly cavity: TargetCavity;
  /** Farthest that a point within reach lies from what is cut, sideways; 0 when all is clear. */
  readonly sideways: number;
  readonly bound: number;
  /** What was allowed sideways: the accuracy, and on a leaning wall the step that level cuts leave. */
  readonly allowed: number;
  /** How far the floor stands too high, when the whole of it is cut at some height above; 0 when it is deep enough. */
  readonly floorHigh: number;
  readonly at: Point3 | undefined;
  /** No bit of the shop gets in at all. */
  readonly outOfReach: boolean;
}

/** Shares that are left by less than this are not measured closer, mm. */
const ENOUGH = 0.003;

/** A hair above or below a height, mm, to look at one side of a step. */
const HAIR = 1e-6;

/** Ridges that level cuts may leave on a leaning wall, mm, square to it, beside the accuracy: as the sheet states. */
export const LARGEST_CUSP = 0.05;

/** Into a square corner a ridge reaches this much farther. */
const INTO_CORNER = Math.SQRT2;

/**
 * Wood left in one cavity by all feed strokes of a set-up together.
 *
 * At a height ζ, what the strokes have cleared is the union of discs of radius r(ζ − tip) along them. Every point of
 * `mustBeClear` must lie in it within the accuracy. A floor is judged one accuracy above itself, so a stroke must come
 * within that of it. Between walls that stand upright, whatever is clear at the floor is clear above it as far up as
 * the flutes reach; heights where flutes end are judged too. Leaning walls are judged just under each level of the
 * program, where its steps leave most.
 * @param slack how far the controller may round off corners, mm: allowed beside the accuracy
 */
export function woodLeft(
  target: Target,
  cavity: TargetCavity,
  strokes: readonly Stroke[],
  shop: Shop,
  slack = 0,
): Left {
  const floor = Math.max(cavity.zTo, target.blank.min.z);
  const sideways = ACCURACY + slack;
  const near = strokesNear(cavity, strokes);
  const leaning = cavity.cavity.slopeTan > 0;
  // A ridge that is `cusp` high square to the wall reaches cusp / cos(lean) sideways.
  const ridge = LARGEST_CUSP * Math.hypot(1, cavity.cavity.slopeTan) * INTO_CORNER;
  const cusp = leaning && cavity.cavity.shape.kind !== "hole" ? ridge : 0;
  let worst: Uncovered = { value: 0, bound: 0, at: undefined };
  let worstZ = floor;
  let worstAllowed = sideways;
  let outOfReach = false;
  for (const z of heightsToJudge(cavity, floor, near)) {
    const area = mustBeClear(target, cavity, z, shop);
    if (area.length === 0) {
      outOfReach ||= z <= floor + ACCURACY;
      continue;
    }
    const allowed = z <= floor + ACCURACY ? sideways : sideways + cusp;
    const found = worstUncovered(area, sweepsAt(near, z), ENOUGH);
    if (found.value + found.bound - allowed > worst.value + worst.bound - worstAllowed || worst.at === undefined) {
      worst = found;
      worstZ = z;
      worstAllowed = allowed;
    }
  }
  const missing = worst.value - worst.bound > worstAllowed && worstZ <= floor + ACCURACY;
  return {
    cavity,
    sideways: worst.value,
    bound: worst.bound,
    allowed: worstAllowed,
    floorHigh: missing ? floorHeight(target, cavity, floor, near, shop) : 0,
    at: worst.at === undefined ? undefined : { ...worst.at, z: worstZ },
    outOfReach,
  };
}

/** What the strokes clear at height z. */
export function sweepsAt(strokes: readonly Stroke[], z: number): readonly Sweep[] {
  return strokes.flatMap((s) => {
    const { motion: m } = s;
    const [a, b] = sharesBetween(m, z - s.top, z);
    if (a > b) return [];
    // Of a sloping stretch only its least radius is sure all along.
    const radius = Math.min(radiusOver(s, z - heightAt(m, a)), radiusOver(s, z - heightAt(m, b))) - m.slack;
    return radius > 0 ? sweepsOf(stretch(m.curve, a, b), radius) : [];
  });
}

function radiusOver(s: Stroke, h: number): number {
  const at = Math.min(Math.max(h, 0), s.top);
  return widest(s.cutter, at, at);
}

/** The shares of a motion between which its height lies within [low, high]; empty (a > b) when it never does. */
function sharesBetween(m: Motion, low: number, high: number): [number, number] {
  const rise = m.zTo - m.zFrom;
  if (Math.abs(rise) < 1e-12) return m.zFrom >= low && m.zFrom <= high ? [0, 1] : [1, 0];
  const t0 = (low - m.zFrom) / rise;
  const t1 = (high - m.zFrom) / rise;
  return [Math.max(0, Math.min(t0, t1)), Math.min(1, Math.max(t0, t1))];
}

function strokesNear(cavity: TargetCavity, strokes: readonly Stroke[]): readonly Stroke[] {
  const box = boxOf(cavity.section.loops.map((loop) => loop.flatMap((s) => [boundsOf(s).min, boundsOf(s).max])));
  return strokes.filter((s) => {
    const reach = Math.max(0, widest(s.cutter, 0, s.top)) + 1;
    const b = boundsOf(s.motion.curve);
    if (b.min.x - reach > box.max.x || b.max.x + reach < box.min.x) return false;
    if (b.min.y - reach > box.max.y || b.max.y + reach < box.min.y) return false;
    return Math.min(s.motion.zFrom, s.motion.zTo) < cavity.zFrom;
  });
}

/** Heights at which the wood left in a cavity can be largest. */
function heightsToJudge(c: TargetCavity, floor: number, strokes: readonly Stroke[]): readonly number[] {
  const heights = new Set([floor + ACCURACY]);
  const add = (z: number): void => {
    if (z > floor + ACCURACY && z < c.zFrom) heights.add(Math.round(z * 1e7) / 1e7);
  };
  for (const keep of c.keeps) add(keep.zTop + ACCURACY);
  if (c.cavity.slopeTan > 0) {
    add(c.zFrom - HAIR);
    for (const s of strokes) {
      const { zFrom, zTo } = s.motion;
      if (c.cavity.shape.kind === "hole") for (const p of s.cutter) add(Math.min(zFrom, zTo) + p.to);
      else if (zFrom === zTo) add(zFrom - HAIR);
    }
  } else {
    // Above its flutes a bit clears nothing, and the strokes of higher levels must have done it.
    for (const s of strokes) if (s.motion.zFrom === s.motion.zTo) add(s.motion.zFrom + s.top + HAIR);
  }
  return [...heights].sort((a, b) => a - b);
}

/** How far above its floor the whole cavity is cut, within the accuracy; 0 when it is no flat floor that is too high. */
function floorHeight(
  target: Target,
  cavity: TargetCavity,
  floor: number,
  strokes: readonly Stroke[],
  shop: Shop,
): number {
  const levels = [...new Set(strokes.map((s) => Math.min(s.motion.zFrom, s.motion.zTo)))]
    .filter((z) => z > floor + ACCURACY / 100 && z < cavity.zFrom)
    .sort((a, b) => a - b)
    .slice(0, 12);
  for (const z of levels) {
    const area: Polygons = mustBeClear(target, cavity, z + HAIR, shop);
    if (area.length > 0 && worstUncovered(area, sweepsAt(strokes, z + HAIR), ACCURACY).value <= ACCURACY) {
      return z - floor;
    }
  }
  return 0;
}
