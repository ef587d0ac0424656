import type { Point3 } from "../../shapes/point.ts";
import { FOOT } from "./half-section.ts";
import type { Mouth } from "./mouth.ts";
import type { Outer } from "./outer.ts";
import type { RecessSurface } from "./recess-surface.ts";

/** An angle with its place, degrees and axis coordinates. */
export interface LipAngle {
  readonly value: number;
  /** By how much it changes at most to the next places traced, degrees. */
  readonly bound: number;
  readonly at: Point3;
}

/** Numbers a place of the mouth is told by. */
const PLACE = 5;

/**
 * Sharpest angle of wood along the mouth's edge where it meets the turned surface: between the tangent planes of recess
 * and turned surface, cos β = −n₁·n₂ with n₁ the normal into the recess and n₂ the outward one. An upright wall at half
 * width y through a cylinder of radius R gives 90° − asin(y / R). The edge along a sawn face or a flat is no lip.
 * Undefined where no edge lies on the turned surface. Source: plane geometry.
 */
export function sharpestLip(mouth: Mouth, recess: RecessSurface, outer: Outer): LipAngle | undefined {
  const feet = new Float64Array(FOOT * outer.section.feetAtMost);
  const n = new Float64Array(7);
  const { places } = mouth;
  let sharpest = Number.POSITIVE_INFINITY;
  let bound = 0;
  let at: Point3 | undefined;
  const angleAt = (k: number, cell: number): number => {
    const [x, u, v] = [places[k + 2]!, places[k + 3]!, places[k + 4]!];
    const rho = Math.hypot(u, v);
    // An eased lip ends within the wood: the surface over it is the nearest.
    const away = outer.section.distance(x, rho, Number.POSITIVE_INFINITY);
    const count = outer.section.feet(x, rho, away + 1e-9, feet);
    let near = 0;
    for (let i = 1; i < count; i++) if (feet[FOOT * i + 2]! < feet[FOOT * near + 2]!) near = i;
    if (count === 0 || outer.plainDepth(x, u, v) < feet[FOOT * near + 2]! + 1e-5) return Number.POSITIVE_INFINITY;
    recess.normal(places[k]!, places[k + 1]!, cell, n);
    const out = rho > 0 ? feet[FOOT * near + 4]! / rho : 0;
    const cos = -(n[0]! * feet[FOOT * near + 3]! + (n[1]! * u + n[2]! * v) * out);
    return (Math.acos(Math.min(1, Math.max(-1, cos))) * 180) / Math.PI;
  };
  for (let k = 0; k < places.length; k += 2 * PLACE) {
    // A chord lies within one cell: at a corner of the chain it has that cell's slope.
    const cell = Math.floor((places[k + 1]! + places[k + PLACE + 1]!) / 2);
    const [a, b] = [angleAt(k, cell), angleAt(k + PLACE, cell)];
    const spread = Number.isFinite(a) && Number.isFinite(b) ? Math.abs(a - b) : 0;
    for (const [value, q] of [
      [a, k],
      [b, k + PLACE],
    ] as const) {
      if (value > sharpest) continue;
      bound = value === sharpest ? Math.max(bound, spread) : spread;
      sharpest = value;
      at = { x: places[q + 2]!, y: places[q + 3]!, z: places[q + 4]! };
    }
  }
  return at === undefined || !Number.isFinite(sharpest) ? undefined : { value: sharpest, bound, at };
}
