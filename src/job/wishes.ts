import type { Point } from "../shapes/point.ts";

/** What the job says about set-ups; absent fields are the planner's to choose. */
export interface SetUpWishes {
  readonly machine?: string;
  readonly holding?: HoldingWish;
  readonly zeroCorner?: "left front" | "right front" | "left back" | "right back";
  readonly zeroZ?: "top" | "waste board";
  /** Turned about Z on the machine bed, degrees, a multiple of 90. */
  readonly turned?: number;
  readonly turnOver?: "end for end" | "side for side";
  readonly wasteBoard?: number;
}

/** How the workpiece is held, as the user says it. Positions are in workpiece coordinates seen from above, mm. */
export type HoldingWish =
  | { readonly by: "tape" }
  | { readonly by: "vacuum" }
  | { readonly by: "clamps"; readonly clamps: readonly ClampWish[] }
  | {
      readonly by: "screws";
      readonly at: readonly Point[];
      readonly headDiameter: number;
      readonly headHeight: number;
    };

/**
 * One clamp: the rectangle it covers on the face that is up, and how high it stands above it. `at` is the rectangle's
 * corner nearest the first end and the lower edge, and may lie off the wood; `size` is along x and y.
 */
export interface ClampWish {
  readonly name: string;
  readonly at: Point;
  readonly size: Point;
  readonly height: number;
}
