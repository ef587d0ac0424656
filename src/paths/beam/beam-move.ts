import type { BeamOperation } from "../../plan/beam-setup.ts";
import type { SetupPoint } from "../../shapes/frame.ts";
import type { Point } from "../../shapes/point.ts";

/**
 * A move of the spot as we make it, in set-up coordinates. `power` is a share of full; 0: the beam is off. The shape of the
 * type keeps the rule that the beam is on in cutting moves only. Filled by `paths`; read by `program` only.
 */
export type BeamMove =
  | { readonly kind: "rapid z"; readonly z: number }
  | { readonly kind: "rapid xy"; readonly to: Point }
  | { readonly kind: "line"; readonly to: SetupPoint; readonly feed: number; readonly power: number }
  | {
      readonly kind: "arc";
      readonly to: SetupPoint;
      readonly centre: Point;
      readonly ccw: boolean;
      readonly feed: number;
      readonly power: number;
    };

/**
 * The moves of one operation. They begin at safe height above the first point ("rapid xy" first) and end at safe height
 * ("rapid z" last), so that operations may be strung together or restarted.
 */
export interface BeamPath {
  readonly operation: BeamOperation;
  readonly moves: readonly BeamMove[];
}
