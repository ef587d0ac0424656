import type { Outer } from "./outer.ts";
import type { RecessSurface } from "./recess-surface.ts";

/** Patches of the outer surface smaller than this are told by their middle, mm. */
const SMALL = 0.004;

/**
 * Distance from a point of a recess's surface to what is left of the outer surface once the recess is cut, mm; `need`
 * where it is that or more. The surface above the recess is gone: measured to that, a shallow recess would pass for a
 * thin wall. Halves patches of the outer surface near by, and drops those that lie wholly in the recess's air.
 * @param deep distance to the whole outer surface, where known
 */
export function remainingDistance(
  outer: Outer,
  recess: RecessSurface,
  x: number,
  u: number,
  v: number,
  deep: number,
  need: number,
): number {
  if (deep >= need) return need;
  const rho = Math.hypot(u, v);
  const plain = outer.plainDepth(x, u, v);
  // Mostly the nearest place is still there, and that settles it.
  if (plain > deep + 1e-12 && rho > 0) {
    const foot = outer.section.foot(x, rho);
    const k = foot.radius / rho;
    if (recess.insideBy(foot.x, u * k, v * k) <= 1e-9) return deep;
  }
  let least = need;
  const beyond = (qu: number, qv: number): number =>
    Math.max(
      outer.flat === undefined ? Number.NEGATIVE_INFINITY : qv - outer.flat,
      outer.kept ? outer.kept.loss - outer.kept.side * qu : Number.NEGATIVE_INFINITY,
    );
  const phi = Math.atan2(v, u);
  /** A patch of the round: piece i from share a to b, turned from f to g. */
  const onRound = (i: number, a: number, b: number, f: number, g: number): void => {
    const piece = outer.section.pieces[i]!;
    const at = piece.at((a + b) / 2);
    const angle = (f + g) / 2;
    const qu = at.radius * Math.cos(angle);
    const qv = at.radius * Math.sin(angle);
    const long = piece.length * (b - a);
    const wide = (at.radius + long / 2) * (g - f);
    const half = Math.hypot(long, wide) / 2;
    const away = Math.hypot(x - at.x, u - qu, v - qv);
    if (away - half >= least || beyond(qu, qv) > half) return;
    const air = recess.insideBy(at.x, qu, qv);
    if (air > half) return;
    if ((air <= 0 && beyond(qu, qv) <= 0) || half < SMALL) least = Math.min(least, away);
    if (half < SMALL) return;
    if (long >= wide) {
      const m = (a + b) / 2;
      onRound(i, a, m, f, g);
      onRound(i, m, b, f, g);
    } else {
      onRound(i, a, b, f, angle);
      onRound(i, a, b, angle, g);
    }
  };
  for (const [i, piece] of outer.section.pieces.entries()) {
    if (piece.minX - x >= least || x - piece.maxX >= least) continue;
    onRound(i, 0, 1, phi - Math.PI, phi);
    onRound(i, 0, 1, phi, phi + Math.PI);
  }
  /** A patch of a plane, from its middle and the two half sides. */
  const onPlane = (
    mid: readonly [number, number, number],
    s: readonly [number, number, number],
    t: readonly [number, number, number],
  ): void => {
    const [px, pu, pv] = mid;
    const half = Math.hypot(...s) + Math.hypot(...t);
    const away = Math.hypot(x - px, u - pu, v - pv);
    if (away - half >= least || beyond(pu, pv) > half + 1e-9) return;
    const air = recess.insideBy(px, pu, pv);
    if (air > half) return;
    const there = Math.hypot(pu, pv) <= outer.section.radiusAt(px) || outer.section.radiusAt(px) < 0;
    if (there && (air <= 0 || half < SMALL)) least = Math.min(least, away);
    if (half < SMALL) return;
    const [a, b] = Math.hypot(...s) >= Math.hypot(...t) ? [s, t] : [t, s];
    const h: readonly [number, number, number] = [a[0] / 2, a[1] / 2, a[2] / 2];
    onPlane([px - h[0], pu - h[1], pv - h[2]], h, b);
    onPlane([px + h[0], pu + h[1], pv + h[2]], h, b);
  };
  if (outer.flat !== undefined && outer.flat - v < least)
    onPlane([x, u, outer.flat], [least, 0, 0], [0, least, 0]);
  if (outer.kept && outer.kept.side * u - outer.kept.loss < least)
    onPlane([x, outer.kept.side * outer.kept.loss, v], [least, 0, 0], [0, 0, least]);
  // Squares and their ends are waste beside the pull: never counted as gone.
  const squares = outer.squareDepth(x, u, v);
  return Math.min(least, squares);
}
