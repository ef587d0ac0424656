import type { Workpiece } from "../parts/workpiece.ts";
import type { Machine } from "../shop/machine.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";

/** What stands fixed while one workpiece is planned. */
export interface Bench {
  readonly workpiece: Workpiece;
  readonly wood: WoodKind;
  readonly shop: Shop;
  readonly machine: Machine;
  /** Thickness of the waste board beneath the wood, mm. */
  readonly wasteBoard: number;
}

/** Waste board where the job doesn't say, mm. Common practice, no source. */
export const DEFAULT_WASTE_BOARD = 12;

/** Least waste board left beneath a cut that goes into it, mm. Common practice, no source. */
export const LEAST_UNDER_CUT = 1;

/** Deepest bite in a pass, as a share of the cutter's diameter. */
export function stepDownShare(wood: WoodKind): { readonly share: number; readonly from: string } {
  switch (wood.class) {
    case "hardwood":
    case "plywood":
      return { share: 0.5, from: "half the diameter in hardwood and plywood: common practice, no source" };
    case "softwood":
    case "mdf":
      return { share: 1, from: "one diameter: two cutter makers' charts" };
  }
}

/** Steepest way down a ramp or helix, degrees from level. Common practice, no source. */
export function rampAngleFor(wood: WoodKind): number {
  return wood.class === "hardwood" || wood.class === "plywood" ? 3 : 5;
}
