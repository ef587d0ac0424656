import type { TurnedPiece } from "../parts/turned-piece.ts";
import type { Meridian } from "../shapes/meridian.ts";
import type { Point } from "../shapes/point.ts";
import type { Lathe, TurningTool } from "../shop/lathe.ts";
import type { Habits } from "../shop/shop.ts";

/**
 * One mounting of one turned piece on the lathe: all that making and checking share. Coordinates of the half plane:
 * `Point.x` is Z, zero at the blank's second end (towards the tailstock) and negative towards the headstock unless
 * `zZero` says otherwise; `Point.y` is the radius ≥ 0. The piece's first end is at the headstock. mm.
 */
export interface TurningSetUp {
  readonly name: string;
  readonly piece: TurnedPiece;
  readonly lathe: Lathe;
  /** Piece x → Z: Z = x + shift. */
  readonly zShift: number;
  /** The blank's swept outline: a square sweeps its diagonal. */
  readonly start: Meridian;
  /** What must stand afterwards, in set-up coordinates: the piece's meridian within what is turned here. */
  readonly target: Meridian;
  /** Outlines that no tool or holder may enter: jaws, centres, rest. Closed loops in (z, r). */
  readonly keepOuts: readonly { readonly name: string; readonly outline: readonly Point[] }[];
  /** Radius at which rapids along the axis are safe. */
  readonly safeRadius: number;
  readonly tools: readonly TurningTool[];
  /** In the order in which they are visited; absent: none. */
  readonly marks?: readonly TurningMark[];
  readonly habits: Habits;
  /** Speed until round and after, rpm, with the reason. */
  readonly roughRpm: number;
  readonly finishRpm: number;
  readonly speedReason: string;
}

/** A place where the still tool halts a gauge block off the wood, so that a person sees whether zero is right. mm. */
export interface TurningMark {
  readonly name: string;
  /** Of the tool's programmed point. */
  readonly at: Point;
  /** What the block goes against: a flat or a corner turned to the tip, round wood, or the end face. */
  readonly against: "flat" | "corner" | "round" | "end";
  /** No program turns the wood there: the mark holds for every tool. */
  readonly untouched: boolean;
}

/** One thing done with one turning tool. Paths are of the middle of the nose circle, nose compensation done by `paths`. */
export type TurningOperation = RoughTurning | FinishTurning | PartingTurning;

interface TurningBase {
  readonly id: string;
  readonly title: string;
  readonly tool: TurningTool;
  readonly toolReason: string;
  readonly rpm: number;
  /** Along the axis, mm/min. */
  readonly feed: number;
  /** Straight in, mm/min. */
  readonly plunge: number;
}

/** Take the wood down in layers of `bite` on the radius, leaving `allowance` on the profile. */
export interface RoughTurning extends TurningBase {
  readonly kind: "rough";
  readonly bite: number;
  readonly allowance: number;
}

/** Follow the profile, each stretch from the side that the tool's flanks allow. */
export interface FinishTurning extends TurningBase {
  readonly kind: "finish";
}

/** Cut in at waste, to a nub that is sawn afterwards: never through between centres. */
export interface PartingTurning extends TurningBase {
  readonly kind: "part";
  readonly at: readonly { readonly from: number; readonly to: number }[];
  readonly nubRadius: number;
}
