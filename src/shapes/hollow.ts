import type { Segment } from "./segment.ts";

/**
 * The cross-section of a hollow's wall and floor, the same all along its outline: a chain of lines and arcs in the plane
 * (x = distance inside the outline, y = height above the mouth's plane, ≤ 0), from the mouth down. x never goes back, y
 * never rises. Beyond the last point the floor is level. An eased edge begins outside the outline, at x < 0. The surface
 * is this chain carried along all level lines of the distance to the outline. mm.
 */
export interface Hollow {
  readonly segments: readonly Segment[];
}
