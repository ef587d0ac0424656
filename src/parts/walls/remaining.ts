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
      const first = piece.at((a + m) / 2).x;
      const second = piece.at((m + b) / 2).x;
      if (Math.abs(first - x) <= Math.abs(second - x)) {
        onRound(i, a, m, f, g);
        onRound(i, m, b, f, g);
      } else {
        onRound(i, m, b, f, g);
        onRound(i, a, m, f, g);
      }
    } else {
      if (Math.abs((f + angle) / 2 - phi) <= Math.abs((angle + g) / 2 - phi)) {
        onRound(i, a, b, f, angle);
        onRound(i, a, b, angle, g);
      } else {
        onRound(i, a, b, angle, g);
        onRound(i, a, b, f, angle);
      }
    }
  };
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
  /** A plane whose foot of the perpendicular is given. */
  const plane = (
    foot: readonly [number, number, number],
    s: readonly [number, number, number],
    t: readonly [number, number, number],
  ): void => {
    const away = Math.hypot(x - foot[0], u - foot[1], v - foot[2]);
    if (away >= least) return;
    // Air all around the foot keeps what is left of the plane away.
    const air = Math.max(0, recess.insideBy(foot[0], foot[1], foot[2]));
    if (air <= 1e-9 && Math.hypot(foot[1], foot[2]) <= outer.section.radiusAt(foot[0])) {
      least = away;
      return;
    }
    if (Math.hypot(away, air) < least) onPlane(foot, s, t);
  };
  if (outer.flat !== undefined) plane([x, u, outer.flat], [least, 0, 0], [0, least, 0]);
  if (outer.kept) plane([x, outer.kept.side * outer.kept.loss, v], [least, 0, 0], [0, 0, least]);
  const roundAway = outer.section.distance(x, rho, least);
  if (roundAway < least) {
    const foot = outer.section.foot(x, rho);
    const k = rho > 0 ? foot.radius / rho : 0;
    // Mostly the nearest place is still there, and that settles it.
    if (rho > 0 && recess.insideBy(foot.x, u * k, v * k) <= 1e-9 && beyond(u * k, v * k) <= 1e-9) least = roundAway;
    else turned();
  }
  // Squares and their ends are waste beside the pull: never counted as gone.
  return Math.min(least, outer.squareDepth(x, u, v));

  function turned(): void {
    for (const [i, piece] of outer.section.pieces.entries()) {
      if (piece.minX - x >= least || x - piece.maxX >= least) continue;
      // Farther round than this no place of the piece is near: a chord is 2·√(ρ·ρ′)·sin(turn / 2) at least.
      const chord = least / (2 * Math.sqrt(rho * piece.minRadius));
      const window = chord < 1 ? 2 * Math.asin(chord) : Math.PI;
      onRound(i, 0, 1, phi - window, phi);
      onRound(i, 0, 1, phi, phi + window);
    }
  }
}
