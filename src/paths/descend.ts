import type { Point } from "../shapes/point.ts";
import { type Chain, chainLength, circleChain, reversedChain, stretch } from "./chain.ts";
import { follow, here, type Trail } from "./trail.ts";

/** Ways down into wood that no slope steeper than the ramp angle: along a closed path, to and fro, or round a circle. */

/** Horizontal way a ramp needs to go down by `depth` (mm) at an angle from level (degrees). z / tan(a). */
export function rampLength(depth: number, angleDeg: number): number {
  return depth / Math.tan((angleDeg * Math.PI) / 180);
}

/**
 * Down along a closed chain, as many times round as the slope asks. Ends at height `z` somewhere on the chain.
 * @returns how far along the chain it ends, mm
 */
export function spiralDown(trail: Trail, loop: Chain, z: number, angleDeg: number): number {
  const total = chainLength(loop);
  let left = rampLength(here(trail).z - z, angleDeg);
  if (left <= 0) return 0;
  const drop = here(trail).z - z;
  const whole = left;
  let end = 0;
  while (left > 1e-9) {
    const run = Math.min(left, total);
    const piece = run >= total - 1e-6 ? loop : stretch(loop, 0, run);
    left = left - run > 1e-6 ? left - run : 0;
    follow(trail, piece, z + (drop * left) / whole, trail.operation.speeds.ramp, "entry");
    end = run >= total - 1e-6 ? 0 : run;
  }
  return end;
}

/**
 * Down along an open chain, to and fro over its whole length. Ends at height `z` somewhere on the chain.
 * @returns how far along the chain it ends (mm), and whether the last leg ran forwards
 */
export function rampDown(
  trail: Trail,
  path: Chain,
  z: number,
  angleDeg: number,
): { readonly along: number; readonly forwards: boolean } {
  const total = chainLength(path);
  const back = reversedChain(path);
  const drop = here(trail).z - z;
  const whole = rampLength(drop, angleDeg);
  let left = whole;
  let forwards = true;
  let along = 0;
  let first = true;
  while (left > 1e-9) {
    if (!first) forwards = !forwards;
    first = false;
    const run = Math.min(left, total);
    left = left - run > 1e-6 ? left - run : 0;
    const way = forwards ? path : back;
    follow(
      trail,
      run >= total - 1e-6 ? way : stretch(way, 0, run),
      z + (drop * left) / whole,
      trail.operation.speeds.ramp,
      "entry",
    );
    along = forwards ? run : total - run;
  }
  return { along, forwards };
}

/** A helix about a centre: how it goes down. */
export interface Helix {
  readonly centre: Point;
  readonly radius: number;
  /** Where on the circle it begins and ends, radians from +X. */
  readonly fromRad: number;
  readonly ccw: boolean;
}

/** Pitch of a helix of this radius that falls at this angle, mm a turn. Source: p = 2πr·tan(a). */
export function pitchOf(radius: number, angleDeg: number): number {
  return 2 * Math.PI * radius * Math.tan((angleDeg * Math.PI) / 180);
}

/**
 * Down round a circle from where the tip stands (on the circle, at its start) to `z` in whole turns, so evenly that
 * none is steeper than `pitch`; then once more round, level, which takes the last turn's wedge.
 */
export function helixDown(trail: Trail, helix: Helix, z: number, pitch: number): void {
  const { ramp, slot } = trail.operation.speeds;
  const round = circleChain(helix.centre, helix.radius, helix.fromRad, helix.ccw);
  const top = here(trail).z;
  const turns = Math.max(1, Math.ceil((top - z) / pitch - 1e-9));
  for (let i = 1; i <= turns; i++) follow(trail, round, top + ((z - top) * i) / turns, ramp, "entry");
  follow(trail, round, z, slot, "rough");
}
