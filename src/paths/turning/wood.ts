import type { Meridian } from "../../shapes/meridian.ts";
import { extentOfMeridian, radiiOver } from "../../shapes/meridian.ts";
import type { Point } from "../../shapes/point.ts";
import { lengthOf, pointAt, type Segment } from "../../shapes/segment.ts";
import { halfWidthTowards, lowerEdgeAt, type TurningShape } from "../../shop/turning-profile.ts";

/**
 * What the making side knows of the wood while it plans paths: its radius at even steps along the axis. It decides where
 * there is something left to cut and where air begins, never how near a tool may come to the part: that is exact.
 */
export interface KnownWood {
  /** z of the first sample, mm. */
  readonly from: number;
  readonly step: number;
  readonly radius: Float64Array;
}

/** Step of the samples along the axis, mm. */
const STEP = 0.05;

/** The blank as mounted. */
export function woodBefore(start: Meridian): KnownWood {
  const { from, to } = extentOfMeridian(start);
  // Off the round numbers, where shoulders stand.
  const first = from + 0.37 * STEP;
  const count = Math.max(1, Math.ceil((to - first) / STEP));
  const radius = Float64Array.from({ length: count }, (_, i) => {
    const z = Math.min(to, first + i * STEP);
    return radiiOver(start, z, z)?.most ?? 0;
  });
  return { from: first, step: STEP, radius };
}

/** Lowest radius of a tool's reference point at z that is clear of the wood; −Infinity where it is beside it. */
export function clearOf(wood: KnownWood, shape: TurningShape, z: number): number {
  let most = Number.NEGATIVE_INFINITY;
  overSamples(wood, shape, z, (i, edge) => {
    most = Math.max(most, wood.radius[i]! - edge);
  });
  return most;
}

/** The wood after a tool's reference point has gone along some ways. */
export function woodAfter(wood: KnownWood, shape: TurningShape, ways: readonly (readonly Segment[])[]): KnownWood {
  const radius = wood.radius.slice();
  const cut = (p: Point): void =>
    overSamples(wood, shape, p.x, (i, edge) => {
      radius[i] = Math.min(radius[i]!, Math.max(0, p.y + edge));
    });
  for (const way of ways) for (const s of way) for (const p of samplesOf(s, wood.step)) cut(p);
  return { ...wood, radius };
}

/** Points along a segment no farther apart than a step, both ends included. A straight run along the axis needs no more. */
export function samplesOf(s: Segment, step: number): readonly Point[] {
  // Straight down, the lowest point says all.
  if (s.kind === "line" && s.from.x === s.to.x) return [s.from, s.to];
  const n = Math.max(1, Math.ceil(lengthOf(s) / step));
  return Array.from({ length: n + 1 }, (_, k) => pointAt(s, k / n));
}

function overSamples(wood: KnownWood, shape: TurningShape, z: number, visit: (i: number, edge: number) => void): void {
  const first = Math.max(0, Math.ceil((z - halfWidthTowards(shape, "first") - wood.from) / wood.step));
  const last = Math.min(
    wood.radius.length - 1,
    Math.floor((z + halfWidthTowards(shape, "second") - wood.from) / wood.step),
  );
  for (let i = first; i <= last; i++) {
    const edge = lowerEdgeAt(shape, wood.from + i * wood.step - z);
    if (edge !== Number.POSITIVE_INFINITY) visit(i, edge);
  }
}
