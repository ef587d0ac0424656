import type { SetUp } from "../plan/setup.ts";
import type { Box, Point } from "../shapes/point.ts";
import { feedTo, hover, rapidDown, type Trail } from "./trail.ts";

/** Least gap between a cutter's edge and the wood, or a clamp, when it goes down beside them, mm. */
export const BESIDE = 0.5;

/** Distance from a point to a box seen from above, mm; 0 inside. */
export function distanceToBox(p: Point, box: Box): number {
  const dx = Math.max(box.min.x - p.x, 0, p.x - box.max.x);
  const dy = Math.max(box.min.y - p.y, 0, p.y - box.max.y);
  return Math.hypot(dx, dy);
}

/** True when a cutter of this radius at this place stands clear of every clamp, screw head and jaw. */
export function clearOfKeepOuts(setUp: SetUp, p: Point, radius: number): boolean {
  return setUp.keepOuts.every((k) => distanceToBox(p, k.box) >= radius + BESIDE);
}

/**
 * The first place from `p` in direction `heading` (of length 1) where a cutter of this radius is wholly off the blank;
 * undefined when a clamp is in the way there, or between.
 */
export function offTheBlank(setUp: SetUp, p: Point, heading: Point, radius: number): Point | undefined {
  const at = (t: number): Point => ({ x: p.x + t * heading.x, y: p.y + t * heading.y });
  const off = (t: number): boolean => distanceToBox(at(t), setUp.blank) >= radius + BESIDE;
  const { min, max } = setUp.blank;
  const reach = Math.hypot(max.x - min.x, max.y - min.y) + 2 * (radius + BESIDE);
  if (!off(reach)) return undefined;
  let low = 0;
  let high = reach;
  if (off(0)) high = 0;
  // Distance from a box grows steadily along a ray that leaves it, so halving finds the first place.
  while (high - low > 0.01) {
    const mid = (low + high) / 2;
    if (off(mid)) high = mid;
    else low = mid;
  }
  for (let t = 0; t < high + radius; t += radius) {
    if (!clearOfKeepOuts(setUp, at(Math.min(t, high)), radius)) return undefined;
  }
  return at(high);
}

/** Down beside the wood to `z`: by a rapid as far as the air goes, then at plunge feed. */
export function comeDownBeside(trail: Trail, setUp: SetUp, to: Point, z: number): void {
  const floor = Math.max(z, setUp.blank.min.z);
  hover(trail, to);
  rapidDown(trail, Math.min(trail.safeZ, floor + trail.approach));
  feedTo(trail, { ...to, z }, trail.operation.speeds.plunge, "entry");
}
