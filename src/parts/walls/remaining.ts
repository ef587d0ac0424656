import { FOOT } from "./half-section.ts";
import type { Outer } from "./outer.ts";
import type { RecessSurface } from "./recess-surface.ts";

/** Distance from places of a recess's surface to what is left of the outer surface once the recess is cut. */
export type Remaining = (x: number, u: number, v: number, deep: number, need: number, toMouth: number) => number;

/**
 * Distance to what is left of the outer surface, mm; `need` where it is that or more. The surface above the recess is
 * gone: measured to that, a shallow recess would pass for a thin wall. The nearest place of what is left is either the
 * foot of a perpendicular (or a corner) that is still there, or lies on the border of what is gone, the mouth's edge: so
 * it is the least of the feet that are left and of the way to the mouth. `deep` is the distance to the whole outer surface.
 */
export function remainingOf(outer: Outer, recess: RecessSurface): Remaining {
  const feet = new Float64Array(FOOT * outer.section.feetAtMost);
  const { flat, kept } = outer;
  const gone = (x: number, u: number, v: number): boolean =>
    (flat !== undefined && v > flat + 1e-9) ||
    (kept !== undefined && kept.side * u < kept.loss - 1e-9) ||
    recess.inAir(x, u, v);
  return (x, u, v, deep, need, toMouth) => {
    if (deep >= need) return need;
    let least = Math.min(need, toMouth);
    if (flat !== undefined && flat - v < least && !gone(x, u, flat)) least = flat - v;
    if (kept !== undefined) {
      const away = kept.side * u - kept.loss;
      if (away < least && !gone(x, kept.side * kept.loss, v)) least = away;
    }
    const rho = Math.sqrt(u * u + v * v);
    const n = outer.section.feet(x, rho, least, feet);
    for (let i = 0; i < n; i++) {
      const d = feet[FOOT * i + 2]!;
      if (d >= least) continue;
      const k = rho > 0 ? feet[FOOT * i + 1]! / rho : 0;
      if (!gone(feet[FOOT * i]!, u * k, v * k)) least = d;
    }
    // Squares and their ends are waste beside the pull: never counted as gone.
    return outer.squareDepth(x, u, v, least);
  };
}
