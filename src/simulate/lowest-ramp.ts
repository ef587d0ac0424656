import type { LinePath } from "./path.ts";
import { heightOn, type Underside } from "./underside.ts";

/** A sloping straight way in its own measures: from a start height `z`, rising `slope` a mm of its plan `length`. */
export interface Ramp {
  readonly length: number;
  readonly ux: number;
  readonly uy: number;
  readonly z: number;
  readonly slope: number;
}

/** How near the search for a round ring's lowest height goes, mm. */
const CLOSE = 1e-8;

/** The measures of a line that goes sideways and up or down. */
export function rampOf({ from, to }: LinePath): Ramp {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return {
    length,
    ux: (to.x - from.x) / length,
    uy: (to.y - from.y) / length,
    z: from.z,
    slope: (to.z - from.z) / length,
  };
}

/**
 * Lowest height that a ring reaches over a point as it goes along a ramp; ∞ where it never covers the point. With w the
 * axis's way beyond the point's foot and d the point's distance beside the way, the height is
 * f(w) = z + slope·(s + w) + H(√(d² + w²) + shift), convex in w since H rises ever more steeply. So the lowest is where
 * its derivative is nought, or at an end of the stretch in which the ring covers the point.
 * @param shift sideways shrinking (> 0) or growing (< 0) of the ring, mm
 * @param s the point's place along the way, mm; `across` its distance beside it, mm, ≥ 0
 * @param most true: the answer is reached (an upper bound); false: nothing lower is (a lower bound, within `CLOSE`)
 */
export function lowestOnRamp(
  way: Ramp,
  ring: Underside,
  shift: number,
  s: number,
  across: number,
  most: boolean,
): number {
  const r = ring.outer - shift;
  const h2 = r * r - across * across;
  if (h2 < 0) return Number.POSITIVE_INFINITY;
  const half = Math.sqrt(h2);
  const from = Math.max(-s, -half);
  const to = Math.min(way.length - s, half);
  if (from > to) return Number.POSITIVE_INFINITY;
  const base = way.z + way.slope * s;
  const low = way.slope < 0 ? to : from;
  switch (ring.kind) {
    case "flat":
      return base + way.slope * low + ring.height;
    case "cone": {
      const f = (w: number) => base + way.slope * w + heightOn(ring, reach(across, w, shift, ring.outer));
      const k = Math.abs(way.slope) / ring.slope;
      const towards = way.slope < 0 ? 1 : -1;
      const clamp = (w: number) => Math.min(to, Math.max(from, w));
      // Along the cone's own slope d·k/√(1 − k²) beyond the foot; or where the cone begins; or the far end.
      const still = k < 1 ? clamp((towards * across * k) / Math.sqrt(1 - k * k)) : low;
      const rim = ring.inner - shift;
      const edge = rim > across ? clamp(towards * Math.sqrt(rim * rim - across * across)) : low;
      return Math.min(f(low), f(still), f(edge));
    }
    case "round":
      return lowestOfRound(way, ring, shift, base, across, from, to, most);
  }
}

/** A quick height that `lowestOnRamp` is never below: the way's lowest end, the point's nearest distance. mm. */
export function noLower(way: Ramp, ring: Underside, shift: number, s: number, across: number): number {
  const beyond = s < 0 ? s : s > way.length ? s - way.length : 0;
  const q = Math.sqrt(across * across + beyond * beyond);
  return way.z + Math.min(0, way.slope * way.length) + heightOn(ring, Math.min(ring.outer, q + shift));
}

function reach(across: number, w: number, shift: number, outer: number): number {
  return Math.min(outer, Math.sqrt(across * across + w * w) + shift);
}

/** Newton's method kept within a bracket by halving; a lower bound follows from the tangent, as f is convex. */
function lowestOfRound(
  way: Ramp,
  ring: Extract<Underside, { kind: "round" }>,
  shift: number,
  base: number,
  across: number,
  from: number,
  to: number,
  most: boolean,
): number {
  const R2 = ring.radius * ring.radius;
  const flat = Math.max(0, ring.inner - ring.core);
  const f = (w: number) => base + way.slope * w + heightOn(ring, reach(across, w, shift, ring.outer));
  let curve = 0;
  // First derivative; leaves the second in `curve`. With v = q + shift − core, H′ = v/√(R² − v²), H″ = R²/(R² − v²)^1.5.
  const slopeAt = (w: number): number => {
    const q = Math.sqrt(across * across + w * w);
    const v = q + shift - ring.core;
    curve = 0;
    if (v <= flat || q === 0) return way.slope;
    const under = R2 - v * v;
    if (under <= 0) return Math.sign(w) * Number.MAX_VALUE;
    const root = Math.sqrt(under);
    const along = w / q;
    curve = (R2 / (under * root)) * along * along + ((v / root) * (1 - along * along)) / q;
    return way.slope + (v / root) * along;
  };
  let a = from;
  let b = to;
  if (slopeAt(a) >= 0) return f(a);
  if (slopeAt(b) <= 0) return f(b);
  // Ball without shift: w = −slope·√(R² − d²) ÷ √(1 + slope²); a good start for all.
  let w = (-way.slope * Math.sqrt(Math.max(0, R2 - across * across))) / Math.sqrt(1 + way.slope * way.slope);
  let slack = 0;
  for (let n = 0; n < 60; n++) {
    if (!(w > a && w < b)) w = (a + b) / 2;
    const d = slopeAt(w);
    slack = Math.abs(d) * (b - a);
    if (slack < CLOSE || n === 59) break;
    if (d > 0) b = w;
    else a = w;
    w -= d / curve;
  }
  // f(v) ≥ f(w) + f′(w)·(v − w) for every v in the bracket, which holds the lowest point.
  return most ? f(w) : f(w) - Math.min(slack, ring.radius);
}
