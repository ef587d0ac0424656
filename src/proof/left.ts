import type { Target, TargetCavity } from "../parts/target.ts";
import { differenceOf, intersectionOf } from "../shapes/boolean.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import type { Point3 } from "../shapes/point.ts";
import type { Polygons } from "../shapes/polygons.ts";
import { boundsOf } from "../shapes/segment.ts";
import { outlineBetween, topOverSection } from "../shapes/turned-section.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { Shop } from "../shop/shop.ts";
import { ACCURACY } from "../tolerance.ts";
import { type Sweep, sweepsOf, type Uncovered, worstUncovered } from "./cover.ts";
import { heightAt, type Motion, stretch } from "./motion.ts";
import { boxOf, FINE, mustBeClear, wanted } from "./reach.ts";
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
  /** What was allowed sideways. */
  readonly allowed: number;
  /** How far the floor stands too high, when the whole of it is cut at some height above; 0 when it is deep enough. */
  readonly floorHigh: number;
  /** On walls that lean: the highest ridge between level cuts; absent where the floor already fails. */
  readonly ridge: Ridge | undefined;
  readonly at: Point3 | undefined;
  /** No bit of the shop gets in at all. */
  readonly outOfReach: boolean;
}

/** A ridge on a leaning wall: its height square to the wall, and where it stands. mm. */
export interface Ridge {
  readonly height: number;
  readonly z: number;
}

/** Chord error when a leaning wall is judged level by level, mm. */
const LEVEL_CHORD = 0.001;

/** Shares that are left by less than this are not measured closer, mm. */
const ENOUGH = 0.003;

/** A hair above or below a height, mm, to look at one side of a step. */
const HAIR = 1e-6;

/**
 * Wood left in one cavity by all feed strokes of a set-up together.
 *
 * At a height ζ, what the strokes have cleared is the union of discs of radius r(ζ − tip) along them. Every point of
 * `mustBeClear` must lie in it within the accuracy. A floor is judged one accuracy above itself, so a stroke must come
 * within that of it. Between walls that stand upright, whatever is clear at the floor is clear above it as far up as
 * the flutes reach; heights where flutes end are judged too. For leaning walls see `ridgeOf`.
 * @param slack how far the controller may round off corners, mm: allowed beside the accuracy
 * @param round the wood itself where it is turned: only where some of it stands need anything be cut
 */
export function woodLeft(
  target: Target,
  cavity: TargetCavity,
  strokes: readonly Stroke[],
  shop: Shop,
  slack = 0,
  round?: TurnedSolid,
): Left {
  const near = strokesNear(cavity, strokes);
  const ground: Ground = { target, cavity, strokes: near, shop, allowed: ACCURACY + slack, round };
  const floor = Math.max(cavity.zTo, target.blank.min.z);
  let worst: Uncovered = { value: 0, bound: 0, at: undefined };
  let worstZ = floor;
  let outOfReach = false;
  // Leaning walls come in steps, but for cones, which a bit of their own shape sinks.
  const stepped = cavity.cavity.slopeTan > 0 && cavity.cavity.shape.kind !== "hole";
  for (const z of heightsToJudge(cavity, floor, ground.strokes)) {
    // What a leaning wall widens the section by within the accuracy is a step of its ridges, judged there.
    const section = stepped ? Math.max(floor, z - ACCURACY) : z;
    const found = uncoveredAt(ground, z, FINE, ENOUGH, section);
    if (found === undefined) {
      outOfReach ||= z <= floor + ACCURACY;
      continue;
    }
    if (found.value + found.bound > worst.value + worst.bound || worst.at === undefined) {
      worst = found;
      worstZ = z;
    }
  }
  const missing = worst.value - worst.bound > ground.allowed && worstZ <= floor + ACCURACY;
  const high = missing ? floorHeight(ground, floor) : 0;
  return {
    cavity,
    sideways: worst.value,
    bound: worst.bound,
    allowed: ground.allowed,
    // Whichever error is the smaller explains what is left: a floor too high, or a wall not reached.
    floorHigh: high < worst.value ? high : 0,
    ridge: stepped && worst.value + worst.bound <= ground.allowed ? ridgeOf(ground, floor) : undefined,
    at: worst.at === undefined ? undefined : { ...worst.at, z: worstZ },
    outOfReach,
  };
}

/**
 * What is left at a height; undefined where no bit reaches. All that is wanted is asked first: where even that is clear,
 * as it is for every cavity without tight corners, what a bit could reach need not be known.
 * @param section height whose section is wanted clear, where that is not `z` itself
 */
function uncoveredAt(ground: Ground, z: number, chord: number, enough: number, section = z): Uncovered | undefined {
  const { target, cavity, strokes, shop, allowed } = ground;
  const sweeps = sweepsAt(strokes, z);
  const whole = wanted(target, cavity, section, shop, chord);
  if (whole.length === 0) return undefined;
  const all = whereWoodIs(ground, whole, section, z);
  if (all.length === 0) return { value: 0, bound: 0, at: undefined };
  if (sweeps.length > 0) {
    const found = worstUncovered(all, sweeps, enough);
    if (found.value + found.bound <= allowed) return found;
  }
  const area = mustBeClear(target, cavity, section, shop, chord);
  return area.length === 0 ? undefined : worstUncovered(whereWoodIs(ground, area, section, z), sweeps, enough);
}

/** The share of an area where wood stands between two heights: all of it, but for round stock. Never less than that. */
function whereWoodIs({ round }: Ground, area: Polygons, a: number, b: number): Polygons {
  if (round === undefined) return area;
  const wood = flattenRegion(outlineBetween(round, Math.min(a, b), Math.max(a, b)), FINE);
  return differenceOf(area, wood).length === 0 ? area : intersectionOf(area, wood);
}

/** What the judging of one cavity rests on. */
interface Ground {
  readonly target: Target;
  readonly cavity: TargetCavity;
  readonly strokes: readonly Stroke[];
  readonly shop: Shop;
  readonly allowed: number;
  readonly round: TurnedSolid | undefined;
}

/**
 * The highest ridge that level strokes leave on a leaning wall: between two heights at which the wall is cut true, Δz
 * apart, a flat cutter leaves a step that stands Δz·sin(lean) square to the wall. A height counts as cut true when all
 * of the section there is clear within the accuracy; so a level that is missing or off makes a ridge twice as high.
 */
function ridgeOf(ground: Ground, floor: number): Ridge {
  const { cavity, strokes, round } = ground;
  // Round stock has no wall above its own top.
  const top = round === undefined ? cavity.zFrom : Math.min(cavity.zFrom, topOverSection(round, cavity.section, floor));
  const levels = [...new Set(strokes.filter((s) => s.motion.zFrom === s.motion.zTo).map((s) => s.motion.zTo))]
    .filter((z) => z > floor + ACCURACY && z < top - HAIR)
    .sort((a, b) => a - b);
  const sin = cavity.cavity.slopeTan / Math.hypot(1, cavity.cavity.slopeTan);
  let below = floor;
  let height = 0;
  let z = floor;
  for (const level of [...levels, top]) {
    if (level < top) {
      if (!widensTrue(ground, below, level) && !isTrue(ground, level)) continue;
    }
    if ((level - below) * sin > height) {
      height = (level - below) * sin;
      z = (level + below) / 2;
    }
    below = level;
  }
  return { height, z };
}

/** Whether all of the section at a level is clear within what is allowed. */
function isTrue(ground: Ground, level: number): boolean {
  const found = uncoveredAt(ground, level + HAIR, LEVEL_CHORD, ground.allowed);
  return found === undefined || found.value + found.bound <= ground.allowed;
}

/**
 * The same, asked of the rim alone: the section at a level is the one at the true level below, already clear, and the
 * rim by which it is wider. Only strokes between the two levels are asked, so false may mean only that others helped.
 */
function widensTrue(ground: Ground, below: number, level: number): boolean {
  const { target, cavity, strokes, shop, allowed } = ground;
  const near = strokes.filter((s) => s.motion.zFrom === s.motion.zTo && s.motion.zTo >= below - HAIR);
  const inner = wanted(target, cavity, below + HAIR, shop, LEVEL_CHORD);
  const outer = wanted(target, cavity, level + HAIR, shop, LEVEL_CHORD);
  const sweeps = sweepsAt(near, level + HAIR);
  if (inner.length === 0 || sweeps.length === 0) return false;
  const rim = whereWoodIs(ground, differenceOf(outer, inner), below, level);
  if (rim.length === 0) return true;
  const found = worstUncovered(rim, sweeps, allowed);
  return found.value + found.bound <= allowed;
}

/** What the strokes clear at height z. */
export function sweepsAt(strokes: readonly Stroke[], z: number): readonly Sweep[] {
  return strokes.flatMap((s) => {
    const { motion: m } = s;
    const [a, b] = sharesBetween(m, z - s.top, z);
    if (a > b) return [];
    const h = [z - heightAt(m, a), z - heightAt(m, b)].map((at) => Math.min(Math.max(at, 0), s.top));
    const low = Math.min(...h);
    const high = Math.max(...h);
    // Straight down, all radii are swept about one axis; along a slope only the least is sure all the way.
    const radius = isUpright(m)
      ? widest(s.cutter, low, high)
      : Math.min(widest(s.cutter, low, low), widest(s.cutter, high, high)) - m.slack;
    return radius > 0 ? sweepsOf(stretch(m.curve, a, b), radius) : [];
  });
}

function isUpright({ curve }: Motion): boolean {
  return curve.kind === "line" && curve.from.x === curve.to.x && curve.from.y === curve.to.y;
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
    // A cone is judged where the profile of the bit that sank it changes; in between, both change evenly.
    if (c.cavity.shape.kind === "hole") {
      add(c.zFrom - HAIR);
      for (const s of strokes) for (const p of s.cutter) add(Math.min(s.motion.zFrom, s.motion.zTo) + p.to);
    }
  } else {
    // Above its flutes a bit clears nothing, and the strokes of higher levels must have done it.
    for (const s of strokes) if (s.motion.zFrom === s.motion.zTo) add(s.motion.zFrom + s.top + HAIR);
  }
  return [...heights].sort((a, b) => a - b);
}

/** How far above its floor the whole cavity is cut, within the accuracy; 0 when it is no flat floor that is too high. */
function floorHeight(ground: Ground, floor: number): number {
  const { target, cavity, strokes, shop } = ground;
  const levels = [...new Set(strokes.map((s) => Math.min(s.motion.zFrom, s.motion.zTo)))]
    .filter((z) => z > floor + ACCURACY / 100 && z < cavity.zFrom)
    .sort((a, b) => a - b)
    .slice(0, 12);
  for (const z of levels) {
    const area: Polygons = whereWoodIs(ground, mustBeClear(target, cavity, z + HAIR, shop, FINE), z, z + HAIR);
    if (area.length > 0 && worstUncovered(area, sweepsAt(strokes, z + HAIR), ACCURACY).value <= ACCURACY) {
      return z - floor;
    }
  }
  return 0;
}
