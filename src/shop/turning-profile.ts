import type { Point } from "../shapes/point.ts";
import type { TurningTool } from "./lathe.ts";

/**
 * The cutting end of a turning tool in the half plane (z along the axis, r the radius), the tool pointing at the axis:
 * all that lies within `noseRadius` of a core. The core is a flat from −`flat` to +`flat` about the reference point; from
 * its ends two flanks run back at their angles from the tool's middle line until they are `spread` further out, then
 * straight back. mm.
 */
export interface TurningShape {
  readonly noseRadius: number;
  /** Half the flat between the two corner rounds' middles: 0 for round-nose and detail tools. */
  readonly flat: number;
  /** Flank angles, radians from the middle line: `first` towards the first end (−z), `second` towards the second. */
  readonly angles: { readonly first: number; readonly second: number };
  /** How far each flank widens the core beyond the flat before it runs straight back; 0 for a flank at 0°. */
  readonly spread: { readonly first: number; readonly second: number };
}

/** Flanks nearer to the middle line than this count as parallel to it, degrees. */
const PARALLEL_DEG = 0.01;

/** The shape of a tool's cutting end. */
export function turningShape(tool: TurningTool): TurningShape {
  const n = tool.noseRadius;
  const flat = tool.kind === "parting" ? Math.max(0, tool.width / 2 - n) : 0;
  // As far as the flank itself runs to the full width; the round behind it is then a hair outside, which is the safe side.
  const widens = (deg: number): number =>
    deg < PARALLEL_DEG ? 0 : Math.max(0, tool.width / 2 - flat - n * Math.cos((deg * Math.PI) / 180));
  const rad = (deg: number): number => (widens(deg) > 0 ? (deg * Math.PI) / 180 : 0);
  const { first, second } = tool.flanks;
  return {
    noseRadius: n,
    flat,
    angles: { first: rad(first), second: rad(second) },
    spread: { first: widens(first), second: widens(second) },
  };
}

/**
 * From the reference point (middle of the nose circle, or midway between the two corner rounds' middles) to the point
 * that the program names, mm: `tip middle` is the tip itself; a corner is where the tip's line and the nose's side meet.
 */
export function programmedPointOf(tool: TurningTool): Point {
  const { noseRadius, flat } = turningShape(tool);
  switch (tool.point) {
    case "tip middle":
      return { x: 0, y: -noseRadius };
    case "corner first":
      return { x: -flat - noseRadius, y: -noseRadius };
    case "corner second":
      return { x: flat + noseRadius, y: -noseRadius };
  }
}

/** Half the width over all towards one end, mm. */
export function halfWidthTowards(shape: TurningShape, side: "first" | "second"): number {
  return shape.flat + shape.spread[side] + shape.noseRadius;
}

/**
 * Height of the cutting end's lower edge above the reference point at a distance `dz` along the axis (positive towards
 * the second end), mm; Infinity beyond its width.
 *
 * With d the distance beyond the flat, n the nose radius, φ the flank's angle, k its spread: −√(n² − d²) up to d = n·cos φ;
 * then the flank, tangent to the nose, (d − n·cos φ)/tan φ − n·sin φ; from d = k + n·cos φ on the round about the core's
 * outer corner, k/tan φ − √(n² − (d − k)²). Source: plane geometry.
 */
export function lowerEdgeAt(shape: TurningShape, dz: number): number {
  const n = shape.noseRadius;
  const side = dz < 0 ? "first" : "second";
  const d = Math.abs(dz) - shape.flat;
  if (d <= 0) return -n;
  const k = shape.spread[side];
  if (d > k + n + 1e-12) return Number.POSITIVE_INFINITY;
  const angle = shape.angles[side];
  const touch = n * Math.cos(angle);
  if (k === 0 || d <= touch) return -Math.sqrt(Math.max(0, n * n - d * d));
  if (d <= k + touch) return (d - touch) / Math.tan(angle) - n * Math.sin(angle);
  return k / Math.tan(angle) - Math.sqrt(Math.max(0, n * n - (d - k) ** 2));
}
