import type { FaceName } from "../job/board.ts";
import type { Mark } from "../parts/marks/mark.ts";
import type { Workpiece } from "../parts/workpiece.ts";
import type { Frame } from "../shapes/frame.ts";
import type { Box3, Point } from "../shapes/point.ts";
import type { Region } from "../shapes/region.ts";
import type { Segment } from "../shapes/segment.ts";
import type { TurnedSolid } from "../shapes/turned-solid.ts";
import type { BurnSetting, Laser } from "../shop/laser.ts";
import type { Machine } from "../shop/machine.ts";
import type { Turning } from "../shop/rotary.ts";
import type { Habits } from "../shop/shop.ts";
import type { Holding, KeepOut, Zero } from "./setup.ts";

/**
 * One clamping of one workpiece under the laser head: all that making and checking share. The program's X, Y, Z are those
 * of the beam's spot at focus: zero is found with the beam, or with the bit and the head's offset added. What moves with
 * the spot is `beamCarriage(machine)`, the bit out. mm. Filled by `plan`.
 */
export interface BeamSetUp {
  readonly name: string;
  readonly workpiece: Workpiece;
  readonly face: FaceName;
  readonly machine: Machine;
  readonly laser: Laser;
  readonly frame: Frame;
  readonly blank: Box3;
  readonly round?: TurnedSolid;
  readonly index?: 0 | 90 | 180 | 270;
  /**
   * A rotary axis turns the wood beneath the beam, which stays over the axis. All else here is then unrolled on `radius`: x
   * along, y around from the crown, Z 0 on the axis, and the machine's Y the turn of A there; keep-outs and `wood` stand in
   * the machine's own X, Y, Z, the crown up.
   */
  readonly turning?: Turning & { readonly wood: TurnedSolid };
  readonly bedZ: number;
  readonly holding: Holding;
  readonly keepOuts: readonly KeepOut[];
  readonly zero: Zero;
  /** Lowest spot height for sideways rapids: head and empty nut clear wood and clamps by the shop's clearance. */
  readonly safeZ: number;
  readonly turnOver?: { readonly how: "end for end" | "side for side"; readonly edgeAtFence: string };
  /** Marks burned here, with what each asks for, in set-up coordinates. */
  readonly marks: readonly PlacedMark[];
  readonly habits: Habits;
}

/** A mark in set-up coordinates: what the wood must show afterwards. */
export interface PlacedMark {
  readonly mark: Mark;
  readonly setting: BurnSetting;
  readonly aim: BeamAim;
  /** Height of the wood's surface at the mark: level, or highest and lowest on the round. */
  readonly surface: { readonly top: number; readonly bottom: number };
}

/** What the beam is to leave, in set-up coordinates. */
export type BeamAim =
  | { readonly kind: "lines"; readonly chains: readonly (readonly Segment[])[] }
  | { readonly kind: "area"; readonly region: Region }
  /** Wood on the kept side stands to `outline`. */
  | { readonly kind: "through"; readonly outline: Region; readonly keep: "inside" | "outside" }
  /** Dots, row after row from the top: 1 is burned. Rows run along `along`, from `corner` at the top left. */
  | {
      readonly kind: "dots";
      readonly columns: number;
      readonly rows: number;
      readonly bits: Uint8Array;
      readonly pitch: number;
      readonly corner: Point;
      readonly alongDeg: number;
    };

/** A set-up under the beam with what is done in it, in order. */
export interface PlannedBeam {
  readonly setUp: BeamSetUp;
  readonly operations: readonly BeamOperation[];
}

/** One thing done with the beam. Read by `paths` and, for titles, by sheets; never by the proof. */
export type BeamOperation = BeamLines | BeamArea | BeamDots;

interface BeamBase {
  readonly id: string;
  readonly title: string;
  readonly markId: string;
  /** Share of full power, 0 to 1. */
  readonly power: number;
  /** mm/min. */
  readonly speed: number;
  readonly passes: number;
  /** The program's Z while burning: the height of the focus, on the wood or half-way down its drop. */
  readonly z: number;
  /** Z follows the wood, taken from the set-up's `round`; `z` is then its highest. */
  readonly follows?: true;
}

/** Follow chains. */
export interface BeamLines extends BeamBase {
  readonly kind: "lines";
  readonly chains: readonly (readonly Segment[])[];
  /** Chains are burned in this order: what lies inside a piece before the piece is cut free. */
  readonly inOrder?: true;
}

/** Parallel lines over an area. */
export interface BeamArea extends BeamBase {
  readonly kind: "area";
  /** Where the middle of the spot may go: the drawn area less a little under half a spot all round. */
  readonly region: Region;
  readonly spacing: number;
  /** Of the lines, from X. */
  readonly angleDeg: number;
  readonly ways: "one" | "two";
  /** Beyond the edge at both ends, beam off. */
  readonly runUp: number;
  readonly contour: boolean;
  /** Middle lines of what is narrower than the spot; absent: nothing is. */
  readonly hairlines?: readonly (readonly Segment[])[];
}

/** Dots of a picture. */
export interface BeamDots extends BeamBase {
  readonly kind: "dots";
  readonly aim: Extract<BeamAim, { kind: "dots" }>;
  readonly ways: "one" | "two";
  readonly runUp: number;
}
