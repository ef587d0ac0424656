import type { TurningOperation } from "../../plan/turning-setup.ts";
import type { Point } from "../../shapes/point.ts";
import type { Purpose } from "../move.ts";

/**
 * A move on the lathe as we make it: of the tool's programmed point, in the half plane of the set-up (`Point.x` is Z,
 * `Point.y` the radius). The shape of the type keeps the rule that a rapid moves X alone, or Z alone. Filled by
 * `paths/turning`; read by `program` only. mm, mm/min.
 */
export type TurningMove =
  | { readonly kind: "rapid x"; readonly r: number }
  | { readonly kind: "rapid z"; readonly z: number }
  | { readonly kind: "line"; readonly to: Point; readonly feed: number; readonly why: Purpose }
  | {
      readonly kind: "arc";
      readonly to: Point;
      readonly centre: Point;
      /** Counter-clockwise with Z to the right and the radius upwards. */
      readonly ccw: boolean;
      readonly feed: number;
      readonly why: Purpose;
    };

/**
 * The moves of one turning operation. They begin at the set-up's safe radius over the first point ("rapid z" first) and
 * end at it ("rapid x" last), so that operations may be strung together or restarted.
 */
export interface TurningPath {
  readonly operation: TurningOperation;
  readonly moves: readonly TurningMove[];
}
