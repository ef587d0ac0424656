import type { Provenance } from "./cutter.ts";
import type { Controller, SpindleSpeed } from "./machine.ts";

/** A numerically controlled lathe: Z along the axis, X across it. Lengths mm, feeds mm/min, accelerations mm/s². */
export interface Lathe {
  readonly name: string;
  readonly travel: { readonly x: number; readonly z: number };
  readonly topFeed: { readonly x: number; readonly z: number };
  readonly acceleration: { readonly x: number; readonly z: number };
  readonly spindle: SpindleSpeed;
  readonly spindlePowerWatts: number;
  readonly spinUpSeconds: number;
  readonly spinDownSeconds: number;
  /** Largest diameter that turns over the carriage. */
  readonly swing: number;
  readonly betweenCentres: number;
  /** What an X word means in its dialect. */
  readonly xWords: "radius" | "diameter";
  /** The tool stands between the operator and the work, or behind it: decides which way X grows and arcs are seen. */
  readonly toolPost: "front" | "rear";
  /** Turning towards the operator at the top of the work seen from the tailstock: M3 or M4. */
  readonly spindleWord: "M3" | "M4";
  /** Highest speed that the way of holding stands, rpm, where the user said so. */
  readonly holdingMaxRpm?: number;
  /** What drives and holds the work at the headstock; absent: the drive centre of `DEFAULT_HEAD` is taken, and said so. */
  readonly head?: HeadHolding;
  /** What stands at the tailstock; absent: the live centre of `DEFAULT_TAIL` is taken, and said so. */
  readonly tail?: TailHolding;
  /** What stays on the bed beside the work; absent: nothing does. */
  readonly rest?: Rest;
  readonly controller: Controller;
  readonly post: string;
  readonly from: Provenance;
}

/** At the headstock: diameter over all, length along the axis, and how far jaws reach over the wood. mm. */
export interface HeadHolding {
  readonly kind: "drive centre" | "jaws";
  readonly diameter: number;
  readonly length: number;
  readonly grip: number;
}

/** At the tailstock: diameter over all of the live centre's body, and how far in front of it its point stands. mm. */
export interface TailHolding {
  readonly kind: "live centre" | "none";
  readonly diameter: number;
  readonly length: number;
}

/**
 * A rest that stays on the bed: its middle from the blank's tailstock end, its width along the axis, the round opening that
 * work turns in, and how far from the axis it stands out. mm.
 */
export interface Rest {
  readonly fromTailstock: number;
  readonly width: number;
  readonly opening: number;
  readonly reach: number;
}

/** Which way X words grow: +1 where X is the radius itself (or twice it), −1 where it counts the other way. */
export type XSign = 1 | -1;

/**
 * Sign of X words for a tool on this lathe. X grows away from the operator, so a tool behind the work (rear post) stands
 * at X > 0 and one in front of it at X < 0. Convention of this project: one frame of axes for both posts (from memory of
 * how two-post lathes are numbered; no source).
 */
export function xSignOf(lathe: Lathe): XSign {
  switch (lathe.toolPost) {
    case "rear":
      return 1;
    case "front":
      return -1;
  }
}

/** X words for each mm of radius: 1 or 2, with the post's sign. */
export function xScaleOf(lathe: Lathe): number {
  switch (lathe.xWords) {
    case "radius":
      return xSignOf(lathe);
    case "diameter":
      return 2 * xSignOf(lathe);
  }
}

/**
 * A turning tool, held square to the axis. Angles degrees, lengths mm. Seen from above with the tip pointing at the axis.
 * - `round-nose`: a full round of `noseRadius`, flanks running back from it.
 * - `detail`: a V of `includedAngle`, its point rounded by `noseRadius`.
 * - `parting`: a square end `width` wide, corners rounded by `noseRadius`, sides relieved.
 */
export interface TurningTool {
  readonly name: string;
  readonly slot: number;
  readonly kind: "round-nose" | "detail" | "parting";
  readonly noseRadius: number;
  /** Width over all at the cutting end. */
  readonly width: number;
  /** Angle of each flank from the tool's own middle line, degrees, 0 to 90: first towards the first end, then the second. */
  readonly flanks: { readonly first: number; readonly second: number };
  /** Deepest it reaches before its holder meets the wood. */
  readonly reach: number;
  /** Half width of the holder behind that reach. */
  readonly holderHalfWidth: number;
  /** What the programmed point is: the middle of the nose's tip (least X reached), or the corner towards an end. */
  readonly point: "tip middle" | "corner first" | "corner second";
  readonly maxBite: number;
  /** Feed a turn along the axis and straight in, mm, where the shop file says so. */
  readonly feedPerTurn?: number;
  readonly plungePerTurn?: number;
  readonly from: Provenance;
}
