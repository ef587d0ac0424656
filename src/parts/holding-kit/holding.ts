import type { PartDescription } from "../../job/job.ts";
import type { Bearing } from "./supports.ts";

/** How a turned blank is held, levelled and turned to known angles while it is hollowed. Lengths mm. */
export interface HoldingKit {
  readonly how: "square ends" | "ends already round";
  /** What lies on the machine: the whole blank, or a half with its flat up. */
  readonly holds: "blank" | "half";
  /** Height of the axis above the bed. */
  readonly axisHeight: number;
  readonly supports: readonly Support[];
  /** Cradles, packing, cauls and plates, each an ordinary flat part, once. */
  readonly parts: readonly PartDescription[];
  readonly zero: ZeroSpot;
  readonly tilt: Tilt | undefined;
  readonly steps: readonly string[];
}

/** What stands under the wood at one place. */
export interface Support {
  readonly name: string;
  readonly bears: Bearing;
  /** Radius of its seat: the wood's there, and by how much it may be thicker. */
  readonly seatRadius: number;
  /** Lowest point of the seat above the bed: the wood as drawn then has its axis level. */
  readonly seatHeight: number;
}

/** Where zero is found, what it gives, and how long it stands. */
export interface ZeroSpot {
  readonly spot: string;
  readonly gives: string;
  readonly until: string;
}

/** How far the axis may still lean when heights are as drawn but radii are not. */
export interface Tilt {
  readonly degrees: number;
  /** Over the length of the finger room, mm. */
  readonly overRoom: number;
}

/** A kit before its parts and words. */
export type BareKit = Omit<HoldingKit, "parts" | "steps">;
