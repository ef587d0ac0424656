import { type Hollow, xAtHeight } from "../shapes/hollow.ts";
import { radiusOf, type Segment } from "../shapes/segment.ts";
import type { ProfilePiece } from "../shop/cutter.ts";
import { radiusAt, type Silhouette } from "./silhouette.ts";

/**
 * Largest r(h) + x(tip + h) over heights above the tip: how far an axis must keep inside the mouth of a hollow, exactly,
 * because the hollow's section at any height is a level line of the distance to its mouth. −∞ where the silhouette has
 * nothing or the hollow no wall.
 *
 * In each pair of a profile piece and a piece of chain the sum is largest at an end of the heights they share, or where
 * both turn alike: against a straight wall where the nose is tangent to it, between two rounds on the line through their
 * centres. Source: plane geometry.
 * @param low, high heights above the tip, mm
 * @param tip height of the tip above the mouth's plane (so mostly negative), mm
 */
export function widestAgainst(body: Silhouette, low: number, high: number, hollow: Hollow, tip: number): number {
  let most = Number.NEGATIVE_INFINITY;
  const floor = hollow.segments[hollow.segments.length - 1]!.to;
  const over = (from: number, to: number, x: (h: number) => number, turns: (p: ProfilePiece) => readonly number[]) => {
    for (const p of body) {
      const a = Math.max(low, p.from, from);
      const b = Math.min(high, p.to, to);
      if (a > b) continue;
      for (const h of [a, b, ...turns(p)]) if (h >= a && h <= b) most = Math.max(most, radiusAt(p, h) + x(h));
    }
  };
  for (const s of hollow.segments) {
    const x = (h: number): number => xAtHeight(s, tip + h);
    over(s.to.y - tip, s.from.y - tip, x, (p) => turnsOf(p, s, tip));
  }
  // Within rounding below the floor its end still counts.
  over(
    floor.y - tip - BELOW,
    floor.y - tip,
    () => floor.x,
    () => [],
  );
  return most;
}

/** Heights this little below the floor are the floor, mm. */
const BELOW = 1e-6;

/** Heights above the tip at which a profile piece and a piece of chain turn alike. */
function turnsOf(p: ProfilePiece, s: Segment, tip: number): readonly number[] {
  switch (p.kind) {
    case "cylinder":
      return [];
    case "cone": {
      const grows = (p.toRadius - p.fromRadius) / (p.to - p.from);
      // On an arc of radius ρ the way in falls by v/√(ρ² − v²) for each mm of height, v above its centre.
      if (s.kind === "line" || !(grows > 0)) return [];
      const v = (radiusOf(s) * grows) / Math.hypot(1, grows);
      return [s.centre.y + (s.ccw ? -v : v) - tip];
    }
    case "round": {
      const centre = p.from + p.radius;
      if (s.kind === "line") {
        const fall = s.from.y - s.to.y;
        if (fall <= 0) return [];
        const tan = (s.to.x - s.from.x) / fall;
        return [centre - (p.radius * tan) / Math.hypot(1, tan)];
      }
      // (ζ − centre)/R equal on both rounds where the arc is hollow, opposite where it bulges.
      const rho = s.ccw ? radiusOf(s) : -radiusOf(s);
      if (Math.abs(rho - p.radius) < 1e-12) return [];
      return [(centre * rho - (s.centre.y - tip) * p.radius) / (rho - p.radius)];
    }
  }
}
