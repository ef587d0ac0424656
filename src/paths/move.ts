import type { Operation } from "../plan/operation.ts";
import type { SetupPoint } from "../shapes/frame.ts";
import type { Point } from "../shapes/point.ts";

/**
 * A move as we make it, in set-up coordinates. The shape of the type keeps the rule that a rapid moves Z alone, or X
 * and Y alone. Filled by `paths`; read by `program` only.
 */
export type Move =
  | { readonly kind: "rapid z"; readonly z: number }
  | { readonly kind: "rapid xy"; readonly to: Point }
  | { readonly kind: "line"; readonly to: SetupPoint; readonly feed: number; readonly why: Purpose }
  | {
      readonly kind: "arc";
      readonly to: SetupPoint;
      readonly centre: Point;
      readonly ccw: boolean;
      readonly feed: number;
      readonly why: Purpose;
    }
  | { readonly kind: "dwell"; readonly seconds: number };

/** What a feed move is for. */
export type Purpose = "entry" | "rough" | "finish" | "link" | "lead" | "exit" | "lift";

/**
 * The moves of one operation. They begin at safe height above the first point ("rapid xy" first) and end at safe
 * height ("rapid z" last), so that operations may be strung together or restarted.
 */
export interface Toolpath {
  readonly operation: Operation;
  readonly moves: readonly Move[];
}
