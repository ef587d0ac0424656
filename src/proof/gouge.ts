import { isUpright } from "../parts/lean.ts";
import type { Point3 } from "../shapes/point.ts";
import { lengthOf, pointAt, type Segment } from "../shapes/segment.ts";
import { widestAgainst } from "./against-hollow.ts";
import { peakOverAll } from "./lean-peak.ts";
import { heightAt, type Motion, placeAt, stretch } from "./motion.ts";
import { lowestWider, rising, type Silhouette, widest, widestLeaning } from "./silhouette.ts";
import { distanceToWalls, type Layer, type WallGroup } from "./solid.ts";

/** How deep an assembly goes into the target on one motion. mm. */
export interface Gouge {
  /** Measured sideways or straight down, whichever is less; 0 when it keeps clear. */
  readonly depth: number;
  /** The true depth is not more than this above `depth`, and not less than this below it. */
  readonly bound: number;
  /** Place of the tip where it is deepest. */
  readonly at: Point3;
}

/** Depths below this are not told apart from none, mm. */
export const GOUGE_FLOOR = 0.0002;

/** Intervals whose end points differ by less than this are not halved again, mm. */
const SMALLEST = 2e-5;

/** How exactly a lift is found, mm. */
const LIFT_WITHIN = 1e-5;

/** Stretches of one motion that are halved at most. */
const MOST_STRETCHES = 20_000;

/** An assembly's silhouette as it is, and its least hull that never gets narrower upwards. */
export interface Body {
  readonly true: Silhouette;
  readonly rising: Silhouette;
}

/** Makes a silhouette ready for `gougeOf`. */
export function bodyOf(silhouette: Silhouette): Body {
  return { true: silhouette, rising: rising(silhouette) };
}

/**
 * Deepest that an assembly goes into the solid of the target on one motion.
 *
 * At one place of the tip, for each slab of the target that reaches above the tip: let q be the distance from the axis
 * to the slab's solid (0 inside it). Sideways the assembly is in by the largest r(h) over the heights it shares with
 * the slab, less q. Straight down it is in by the slab's top less the lowest height at which r(h) > q. The lesser of
 * the two counts; the largest over all slabs is the gouge. A leaning wall stands (zFrom − ζ)·tan nearer at height ζ,
 * exactly, because it is a level line of the distance; so the clearance it needs is the largest
 * r(h) + (zFrom − z − h)·tan; and against a hollow, whose section begins x(ζ) inside its mouth, r(h) + x(z + h). There a
 * hair too deep may be far sideways, where the floor runs nearly level: straight up is then the lesser way out.
 *
 * A level motion is decided by one distance between curves, in closed form. One that climbs or sinks is halved, each
 * stretch with a bound from above, so nothing between sample points is missed. The bound is the lesser of two: the
 * rising hull at the stretch's lowest tip, since r(ζ − z) grows as z sinks; and the true silhouette over all heights
 * that it shares with the slab anywhere on the stretch.
 * @param known a depth already found elsewhere: only more than this is of interest
 * @param enough once it is deeper than this, that is all there is to know: the depth told may then be too small
 */
export function gougeOf(
  m: Motion,
  body: Body,
  layers: readonly Layer[],
  known: number,
  enough = Number.POSITIVE_INFINITY,
): Gouge {
  const best = { depth: 0, at: placeAt(m, 0) };
  const zMin = Math.min(m.zFrom, m.zTo);
  const relevant = layers.filter((l) => l.slab.zHigh > zMin);
  if (relevant.length === 0) return { depth: 0, bound: 0, at: best.at };
  const floor = Math.max(GOUGE_FLOOR, known);
  const level = Math.abs(m.zTo - m.zFrom) < 1e-9;
  const size = Math.max(lengthOf(m.curve), Math.abs(m.zTo - m.zFrom));
  let above = 0;
  let stretches = 0;
  const note = (depth: number, t: number): void => {
    if (depth > best.depth) {
      best.depth = depth;
      best.at = placeAt(m, t);
    }
  };
  const settled = (upper: number): boolean => upper <= Math.max(floor, best.depth + GOUGE_FLOOR / 2);
  const walk = (a: number, b: number): void => {
    if (best.depth > enough) return;
    const curve = stretch(m.curve, a, b);
    const low = Math.min(heightAt(m, a), heightAt(m, b));
    const high = Math.max(heightAt(m, a), heightAt(m, b));
    const ends = level ? undefined : ([heightAt(m, a), heightAt(m, b)] as const);
    let upper = depthOver(curve, low, level ? high : low, level ? body.true : body.rising, relevant, ends);
    if (!level && !settled(upper)) upper = Math.min(upper, depthOver(curve, low, high, body.true, relevant, ends));
    if (settled(upper)) {
      above = Math.max(above, upper);
      return;
    }
    stretches++;
    // What is not settled by now counts as deep as its bound: on the safe side, and in bounded time.
    if (level || (b - a) * size < SMALLEST || stretches > MOST_STRETCHES) {
      above = Math.max(above, upper);
      note(upper, level && upper <= enough ? deepestShare(m, body, relevant, upper) : a);
      return;
    }
    const middle = (a + b) / 2;
    for (const t of [a, middle, b]) note(depthAt(m, t, body, relevant), t);
    walk(a, middle);
    walk(middle, b);
  };
  walk(0, 1);
  return { depth: best.depth, bound: Math.max(0, above - best.depth) + m.slack, at: best.at };
}

/** Depth with the tip at one place: the formula itself. */
function depthAt(m: Motion, t: number, body: Body, layers: readonly Layer[]): number {
  const p = pointAt(m.curve, t);
  const z = heightAt(m, t);
  return depthOver({ kind: "line", from: p, to: p }, z, z, body.true, layers);
}

/**
 * A bound from above of the depth over a stretch of way; the depth itself when zMin = zMax and the silhouette is true.
 * @param zMax heights of tip from zMin up to here are allowed for
 * @param ends heights of the tip where a stretch that climbs or sinks begins and ends, evenly between
 */
function depthOver(
  curve: Segment,
  zMin: number,
  zMax: number,
  body: Silhouette,
  layers: readonly Layer[],
  ends?: readonly [number, number],
): number {
  let most = 0;
  for (const layer of layers) {
    const high = layer.slab.zHigh - zMin;
    if (high <= most) continue;
    const low = Math.max(0, layer.slab.zLow - zMax);
    if (low < high) most = Math.max(most, depthInLayer(layer, curve, zMin, low, high, body, most, ends));
  }
  return most;
}

function depthInLayer(
  layer: Layer,
  curve: Segment,
  zMin: number,
  low: number,
  high: number,
  body: Silhouette,
  most: number,
  ends: readonly [number, number] | undefined,
): number {
  let depth = 0;
  const wide = widest(body, low, high);
  if (wide === Number.NEGATIVE_INFINITY) return 0;
  const down = (q: number): number => high - lowestWider(body, low, high, q);
  let crosses = false;
  for (const group of layer.groups) {
    const need = clearance(group, body, zMin, low, high, wide);
    const upright = isUpright(group);
    if (need <= most && !upright) continue;
    const q = distanceToWalls(group, curve, Math.max(need, 0) + 1e-9);
    if (q === 0 && upright) crosses = true;
    // From the air of another cavity, behind thin wood, a leaning wall is nowhere nearer than its mouth.
    const leans = !upright && (q === 0 || group.within(curve.from) || layer.inside(curve.from));
    const sideways =
      (leans ? leaningPeak(group, curve, need, zMin, ends, most) : undefined) ??
      (leans || upright ? need : Math.min(need, wide)) - q;
    if (sideways <= 0) continue;
    if (upright) depth = Math.max(depth, Math.min(sideways, down(q)));
    else if (group.hollow === undefined) depth = Math.max(depth, Math.min(sideways, high - low));
    else if (sideways > Math.max(depth, most)) {
      const lifted = (by: number): number =>
        leans ? clearance(group, body, zMin + by, low - by, high - by, wide) : wide;
      depth = Math.max(depth, Math.min(sideways, liftTo(lifted, q, high - low, sideways)));
    }
  }
  // Off the walls, the axis is in wood all along or nowhere: one point tells.
  if (crosses || layer.inside(curve.from)) depth = Math.max(depth, Math.min(wide, down(0)));
  return depth;
}

/**
 * Sideways depth at a straight leaning wall along a straight stretch that climbs or sinks: what the wall asks for changes
 * evenly with the tip's height, so the worst place is known in closed form. Undefined elsewhere.
 */
function leaningPeak(
  { slopeTan, hollow, index }: WallGroup,
  curve: Segment,
  need: number,
  zMin: number,
  ends: readonly [number, number] | undefined,
  most: number,
): number | undefined {
  if (ends === undefined || hollow !== undefined || curve.kind !== "line") return undefined;
  const needAt = (z: number): number => need - (z - zMin) * slopeTan;
  const a = { ...curve.from, need: needAt(ends[0]) };
  return peakOverAll(a, { ...curve.to, need: needAt(ends[1]) }, index, most);
}

/** How far an axis with its tip at z must keep from a group's walls as they stand at `zFrom`. */
function clearance(group: WallGroup, body: Silhouette, z: number, low: number, high: number, wide: number): number {
  if (isUpright(group)) return wide;
  if (group.hollow !== undefined) return widestAgainst(body, low, high, group.hollow, z - group.zFrom);
  return group.slopeTan * (group.zFrom - z) + widestLeaning(body, low, high, group.slopeTan);
}

/**
 * Least lift that frees a cutter which needs more room than q: what it needs falls as it rises. Never told too small.
 * @param most lifting it by this frees it from the slab
 * @param enough more than this is of no interest: sideways it is less
 */
function liftTo(needs: (by: number) => number, q: number, most: number, enough: number): number {
  let low = 0;
  let high = Math.min(most, enough);
  if (needs(high) > q) return high;
  while (high - low > LIFT_WITHIN) {
    const by = (low + high) / 2;
    if (needs(by) > q) low = by;
    else high = by;
  }
  return high;
}

/** Where along a level motion the depth is reached, by sampling: only for saying where, never for how much. */
function deepestShare(m: Motion, body: Body, layers: readonly Layer[], depth: number): number {
  const count = 32;
  let share = 0;
  let most = -1;
  for (let k = 0; k <= count; k++) {
    const found = depthAt(m, k / count, body, layers);
    if (found > most) {
      most = found;
      share = k / count;
    }
    if (found >= depth - 1e-6) break;
  }
  return share;
}
