import { extentOfMeridian, type Meridian, type Radii, radiiOver } from "./meridian.ts";

/** A stretch of the axis that is still square, its sides level and upright. mm. */
export interface SquareStretch {
  readonly from: number;
  readonly to: number;
  readonly side: number;
}

/**
 * A turned blank lying along X, in whatever coordinates it is spoken of: the meridian's x are those coordinates' own.
 * Square waste may stand at its ends. A half, sawn along its axis, has a flat at `flatTop` and no wood above it. mm.
 */
export interface TurnedSolid {
  readonly meridian: Meridian;
  readonly axis: { readonly y: number; readonly z: number };
  readonly squares: readonly SquareStretch[];
  readonly flatTop?: number;
}

/** Bounds of a height, mm. */
export interface Heights {
  readonly low: number;
  readonly high: number;
}

/**
 * Wood over a patch of plan x0…x1, at distances |y − axis| from d0 to d1 (0 ≤ d0 ≤ d1): `some` holds all the wood that
 * stands anywhere over the patch, `all` is wood at every point of it; undefined where there is none. Exact bounds.
 */
export function woodOver(
  solid: TurnedSolid,
  x0: number,
  x1: number,
  d0: number,
  d1: number,
): { readonly some?: Heights; readonly all?: Heights } {
  const halves = sliceOf(solid, x0, x1);
  const some = standing(solid, mostHalf(halves, d0));
  const all = standing(solid, leastHalf(halves, d1));
  return { ...(some ? { some } : {}), ...(all ? { all } : {}) };
}

/** What stands over a stretch of the axis, the same for all distances from it: found once for a row of patches. mm. */
export interface Slice {
  /** Half sides of the squares that reach into the stretch. */
  readonly halfSides: readonly number[];
  /** Bounds of the turned radius over it; absent where nothing turned reaches into it. */
  readonly radii?: Radii;
  /** Wood stands over all of the stretch. */
  readonly whole: boolean;
}

/** The slice of a solid over a stretch of its axis, x0 ≤ x1. */
export function sliceOf(solid: TurnedSolid, x0: number, x1: number): Slice {
  let covered = 0;
  const halfSides: number[] = [];
  for (const s of solid.squares) {
    const from = Math.max(s.from, x0);
    const to = Math.min(s.to, x1);
    if (from > to) continue;
    covered += to - from;
    halfSides.push(s.side / 2);
  }
  const radii = radiiOver(solid.meridian, x0, x1);
  if (radii === undefined) return { halfSides, whole: halfSides.length > 0 && covered >= x1 - x0 - 1e-9 };
  const { from, to } = extentOfMeridian(solid.meridian);
  covered += Math.max(0, Math.min(to, x1) - Math.max(from, x0));
  // A patch that hangs over an end is not wood all over.
  return { halfSides, radii, whole: covered >= x1 - x0 - 1e-9 };
}

/** Largest half height of the wood anywhere over a slice at distances ≥ d from the axis plane; 0 where there is none. */
export function mostHalf({ halfSides, radii }: Slice, d: number): number {
  let most = 0;
  for (const half of halfSides) if (d <= half) most = Math.max(most, half);
  if (radii !== undefined && radii.most > d) most = Math.max(most, Math.sqrt(radii.most ** 2 - d ** 2));
  return most;
}

/** Smallest half height of the wood everywhere over a slice at distances ≤ d from the axis plane; 0 unless it is whole. */
export function leastHalf({ halfSides, radii, whole }: Slice, d: number): number {
  if (!whole) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (const half of halfSides) least = Math.min(least, d <= half ? half : 0);
  if (radii !== undefined) least = Math.min(least, radii.least > d ? Math.sqrt(radii.least ** 2 - d ** 2) : 0);
  return least;
}

/** The heights between which wood of this half height stands; undefined where there is none below a half's flat. */
export function standing(solid: TurnedSolid, half: number): Heights | undefined {
  if (half <= 0) return undefined;
  const low = solid.axis.z - half;
  const high = Math.min(solid.axis.z + half, solid.flatTop ?? Number.POSITIVE_INFINITY);
  return high > low ? { low, high } : undefined;
}

/** Where the solid begins and ends along its axis, squares included, mm. */
export function extentOfSolid(solid: TurnedSolid): { readonly from: number; readonly to: number } {
  const { from, to } = extentOfMeridian(solid.meridian);
  return {
    from: Math.min(from, ...solid.squares.map((s) => s.from)),
    to: Math.max(to, ...solid.squares.map((s) => s.to)),
  };
}

/** Top of the wood at a point, the larger at a shoulder; undefined where there is none. */
export function topAt(solid: TurnedSolid, x: number, y: number): number | undefined {
  const d = Math.abs(y - solid.axis.y);
  return woodOver(solid, x, x, d, d).some?.high;
}

/**
 * The same solid in other coordinates, seen so that its axis still runs along X.
 * @param flip true where x runs the other way: x → shift.x − x
 */
export function movedSolid(
  solid: TurnedSolid,
  move: { readonly x: number; readonly flip: boolean; readonly axis: { readonly y: number; readonly z: number } },
): TurnedSolid {
  const at = (x: number): number => (move.flip ? move.x - x : move.x + x);
  const turned = solid.meridian.segments.map((s) => {
    const from = { x: at(s.from.x), y: s.from.y };
    const to = { x: at(s.to.x), y: s.to.y };
    if (s.kind === "line") return { ...s, from, to };
    return { ...s, from, to, centre: { x: at(s.centre.x), y: s.centre.y }, ccw: move.flip ? !s.ccw : s.ccw };
  });
  // Walked the other way round, so that x still rises.
  const segments = move.flip
    ? turned
        .map((s) =>
          s.kind === "line" ? { ...s, from: s.to, to: s.from } : { ...s, from: s.to, to: s.from, ccw: !s.ccw },
        )
        .reverse()
    : turned;
  const squares = solid.squares
    .map((s) => ({ ...s, from: Math.min(at(s.from), at(s.to)), to: Math.max(at(s.from), at(s.to)) }))
    .sort((a, b) => a.from - b.from);
  const flat = solid.flatTop;
  return {
    meridian: { segments },
    axis: move.axis,
    squares,
    ...(flat === undefined ? {} : { flatTop: flat - solid.axis.z + move.axis.z }),
  };
}
