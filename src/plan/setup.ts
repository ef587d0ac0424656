import type { Finding } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import type { Target } from "../parts/target.ts";
import type { Cavity, Workpiece } from "../parts/workpiece.ts";
import type { Frame, SetupPoint } from "../shapes/frame.ts";
import type { Box3, Point } from "../shapes/point.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { Cutter } from "../shop/cutter.ts";
import type { Machine } from "../shop/machine.ts";
import type { Habits } from "../shop/shop.ts";

/**
 * One clamping of one workpiece on one machine. Filled by `plan`; read by paths and program on one side, by simulate,
 * proof and sheets on the other: it is all the two sides share. All coordinates are the set-up's own: those the
 * program speaks.
 */
export interface SetUp {
  /** Unique within the job, plain words: "left side, inside up". */
  readonly name: string;
  readonly workpiece: Workpiece;
  /** Which face is up. */
  readonly face: FaceName;
  readonly machine: Machine;
  /** Workpiece coordinates → set-up coordinates. */
  readonly frame: Frame;
  readonly blank: Box3;
  /** The wood itself where it is turned and doesn't fill `blank`: in set-up coordinates, its axis along X. */
  readonly round?: TurnedSolid;
  /** Which side of a turned blank is up: degrees from its crown over the upper edge. */
  readonly index?: 0 | 90 | 180 | 270;
  /** What a turned blank without square ends lies in. */
  readonly rests?: readonly Rest[];
  /** Top of the machine's bed: the waste board lies between it and the blank. */
  readonly bedZ: number;
  /** Deepest a cutter may go below the blank, mm: into the waste board. */
  readonly intoWasteBoard: number;
  readonly holding: Holding;
  /** Clamps, jaws and screw heads, as solids that nothing may touch. */
  readonly keepOuts: readonly KeepOut[];
  readonly zero: Zero;
  /** Lowest height for sideways rapids: above the highest wood, clamp and head by the shop's clearance. */
  readonly safeZ: number;
  /** How this set-up follows the one before, when the workpiece was turned over. */
  readonly turnOver?: { readonly how: "end for end" | "side for side"; readonly edgeAtFence: string };
  /** Cavities cut here, and those cut in earlier set-ups of the same workpiece. */
  readonly cavities: readonly Cavity[];
  readonly earlier: readonly Cavity[];
  readonly target: Target;
  /** Tips stop a gauge block above these before the spindle starts: named, not in line, not symmetric. */
  readonly marks: readonly WitnessMark[];
  readonly habits: Habits;
  /** Cutters this set-up uses, each once, in the order they are called. */
  readonly cutters: readonly Cutter[];
  /** What planning found that must be seen at the machine, though nothing is wrong: least stick-outs. Absent: nothing. */
  readonly notes?: readonly Finding[];
}

/** A named spot over which the tip halts a gauge block high, spindle off. */
export interface WitnessMark {
  readonly name: string;
  /** The spot on the wood; the tip halts above it by the gauge block. */
  readonly at: SetupPoint;
}

/** What holds the workpiece down, and where wood counts as held. */
export type Holding =
  /** Held all over its underside: tape or vacuum. */
  | { readonly kind: "underside"; readonly by: "tape" | "vacuum" }
  /** Held where the clamps or screws press: these rectangles of wood, seen from above. */
  | {
      readonly kind: "spots";
      readonly by: "clamps" | "screws" | "jaws" | "cradles" | "rotary axis";
      readonly spots: readonly { readonly min: Point; readonly max: Point }[];
    };

/** A cradle beneath a turned blank: from X to X, mm. */
export interface Rest {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  /** Lowest point of its seat above the waste board. */
  readonly seat: number;
  /** Largest radius of the wood that lies in it. */
  readonly radius: number;
}

/** A solid in the way. */
export interface KeepOut {
  readonly name: string;
  readonly box: Box3;
}

/** Where zero is and how it is found, in words for the sheet. */
export interface Zero {
  readonly corner: "left front" | "right front" | "left back" | "right back";
  /** `axis`: Y of a turned blank without square ends is its axis, found midway between both flanks. */
  readonly across?: "axis";
  /** `axis`: Z is the axis of a turned blank, at its known height above the waste board. */
  readonly z: "top" | "waste board" | "axis";
  readonly how: string;
}
