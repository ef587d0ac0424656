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
  /** Turned parts: burned marks go around the wood while the machine's rotary axis turns it; absent: from above. */
  readonly rotaryAxis?: true;
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
    }
  /** A turned blank's square ends, each between two cheeks. An empty list leaves the places to the planner. */
  | { readonly by: "jaws"; readonly jaws: readonly JawsWish[] }
  /** A turned blank in seats cut to its profile, pressed down by cauls. An empty list leaves them to the planner. */
  | { readonly by: "cradles"; readonly cradles: readonly CradleWish[] };

/** A pair of cheeks that grip a turned blank's square end from both sides. `at` is measured from the first end. mm. */
export interface JawsWish {
  readonly name: string;
  readonly at: number;
  /** How much of the blank's length they grip. */
  readonly along: number;
  /** Thickness of each cheek, across. */
  readonly thickness: number;
  /** Top of the cheeks above the blank's axis. */
  readonly height: number;
}

/** A cradle beneath a turned blank with a caul that presses on it from above. `at` is measured from the first end. mm. */
export interface CradleWish {
  readonly name: string;
  readonly at: number;
  /** How much of the blank's length it carries. */
  readonly along: number;
  /** Lowest point of its seat above the waste board; absent: planned so that the axis lies level. */
  readonly seat?: number;
  /** How high the caul and its clamp stand above the wood there. */
  readonly caulHeight: number;
}

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
