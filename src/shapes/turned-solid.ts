import { type Meridian, radiiOver } from "./meridian.ts";

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
  const halves = halfHeights(solid, x0, x1, d0, d1);
  const flat = solid.flatTop ?? Number.POSITIVE_INFINITY;
  const stand = (h: number): Heights | undefined => {
    if (h <= 0) return undefined;
    const low = solid.axis.z - h;
    const high = Math.min(solid.axis.z + h, flat);
    return high > low ? { low, high } : undefined;
  };
  const some = stand(halves.most);
  const all = stand(halves.least);
  return { ...(some ? { some } : {}), ...(all ? { all } : {}) };
}

/** Largest and smallest half height of the wood over a patch; 0 where there is none. */
function halfHeights(
  solid: TurnedSolid,
  x0: number,
  x1: number,
  d0: number,
  d1: number,
): { readonly least: number; readonly most: number } {
  let most = 0;
  let least = Number.POSITIVE_INFINITY;
  let covered = 0;
  for (const s of solid.squares) {
    const from = Math.max(s.from, x0);
    const to = Math.min(s.to, x1);
    if (from > to) continue;
    covered += to - from;
    const half = s.side / 2;
    if (d0 <= half) most = Math.max(most, half);
    least = Math.min(least, d1 <= half ? half : 0);
  }
  const radii = radiiOver(solid.meridian, x0, x1);
  if (radii !== undefined) {
    const first = solid.meridian.segments[0]!.from.x;
    const last = solid.meridian.segments[solid.meridian.segments.length - 1]!.to.x;
    covered += Math.max(0, Math.min(last, x1) - Math.max(first, x0));
    if (radii.most > d0) most = Math.max(most, Math.sqrt(radii.most ** 2 - d0 ** 2));
    least = Math.min(least, radii.least > d1 ? Math.sqrt(radii.least ** 2 - d1 ** 2) : 0);
  }
  // A patch that hangs over an end is not wood all over.
  if (covered < x1 - x0 - 1e-9 || !Number.isFinite(least)) least = 0;
  return { least, most };
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
