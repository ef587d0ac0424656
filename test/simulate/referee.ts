import { pointOnMove } from "../../src/reader/motion.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import type { Cutter } from "../../src/shop/cutter.ts";

/**
 * Height of a cutting end above its tip at distance q from the axis, ∞ beyond it: written from the forms' definitions,
 * not from the profile pieces that the product uses.
 */
export function tipProfile(cutter: Cutter): (q: number) => number {
  const R = cutter.diameter / 2;
  const f = cutter.form;
  const tan = (deg: number) => Math.tan((deg * Math.PI) / 360);
  const within = (h: (q: number) => number) => (q: number) => (q <= R ? h(q) : Number.POSITIVE_INFINITY);
  switch (f.kind) {
    case "flat":
      return within(() => 0);
    case "round-nose":
      return within((q) => R - Math.sqrt(R * R - q * q));
    case "radiused-corner": {
      const r = f.cornerRadius;
      return within((q) => (q <= R - r ? 0 : r - Math.sqrt(Math.max(0, r * r - (q - R + r) ** 2))));
    }
    case "v":
    case "countersink":
      return within((q) => Math.max(0, q - f.tipFlat / 2) / tan(f.includedAngle));
    case "drill":
      return within((q) => q / tan(f.pointAngle));
  }
}

/**
 * Lowest height that a move takes a point down to, by plain search: many places along the move, then golden sections
 * about the best. Never below the true height, and above it by no more than rounding except beside a jump.
 */
export function lowestAt(move: ReadMove, cutter: Cutter, x: number, y: number, samples = 300): number {
  const profile = tipProfile(cutter);
  const height = (t: number) => {
    const c = pointOnMove(move, t)!;
    return c.z + profile(Math.hypot(c.x - x, c.y - y));
  };
  let best = Number.POSITIVE_INFINITY;
  let where = 0;
  for (let k = 0; k <= samples; k++) {
    const h = height(k / samples);
    if (h < best) {
      best = h;
      where = k / samples;
    }
  }
  let a = Math.max(0, where - 1 / samples);
  let b = Math.min(1, where + 1 / samples);
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let n = 0; n < 40; n++) {
    const u = b - golden * (b - a);
    const v = a + golden * (b - a);
    const hu = height(u);
    const hv = height(v);
    best = Math.min(best, hu, hv);
    if (hu <= hv) b = v;
    else a = u;
  }
  return best;
}
