import type { Finding } from "../finding.ts";
import type { Point } from "../shapes/point.ts";

/**
 * What a controller would do with a program text: filled by `readProgram`, read by simulate, proof and sheets. Lengths
 * are mm in work coordinates whatever the text's unit; feeds mm/min; lines count from 1.
 */
export interface ReadProgram {
  readonly file: string;
  /**
   * What happens, in order. Events stop before the first line after which nothing can be trusted: one that breaks a rule
   * of the language, or makes the motion depend on what only the controller knows. The last event is `end` exactly when
   * the whole program is here.
   */
  readonly events: readonly ReadEvent[];
  /** Rules broken, in order of the lines. */
  readonly findings: readonly Finding[];
  /** The text's own unit: the first one it states. */
  readonly unit: "mm" | "inch" | undefined;
  /** Lines in the whole text, read or not. */
  readonly lineCount: number;
}

/** Things that happen, in the order they happen. */
export type ReadEvent =
  | ReadMove
  | { readonly kind: "dwell"; readonly line: number; readonly seconds: number }
  | { readonly kind: "stop"; readonly line: number; readonly optional: boolean }
  | { readonly kind: "tool change"; readonly line: number; readonly slot: number }
  | { readonly kind: "spindle"; readonly line: number; readonly spindle: Spindle }
  /** `slot` is undefined when the offset is cancelled. */
  | { readonly kind: "length offset"; readonly line: number; readonly slot: number | undefined }
  /** `text` is without the parentheses, and without the leading word of a message to the operator. */
  | { readonly kind: "comment"; readonly line: number; readonly text: string; readonly message: boolean }
  | { readonly kind: "line number"; readonly line: number; readonly n: number }
  | { readonly kind: "end"; readonly line: number };

/** What a laser's beam is commanded to do. */
export interface BeamState {
  /** It is switched on, and S is above zero. */
  readonly on: boolean;
  /** Share of full power, from S and the scale that the shop file states; above 1 only in a program that is refused. */
  readonly power: number;
}

/** Spindle state as commanded. */
export interface Spindle {
  readonly turning: "off" | "clockwise" | "counter-clockwise";
  readonly rpm: number;
}

/** A position; a coordinate is undefined while nothing in the text has fixed it in work coordinates. */
export interface Position {
  readonly x: number | undefined;
  readonly y: number | undefined;
  readonly z: number | undefined;
}

/** How a move gets from its start to its end. */
export type ReadPath =
  | { readonly kind: "line" }
  /**
   * A circle's arc in the named plane, the third axis moving evenly along it. `centre` holds the plane's two
   * coordinates in the order of its name (XZ: x is X, y is Z), and `ccw` is the sense in a drawing with the first
   * letter to the right and the second up. End equal to start in the plane is one whole turn.
   */
  | { readonly kind: "arc"; readonly plane: "XY" | "XZ" | "YZ"; readonly centre: Point; readonly ccw: boolean };

/** One motion. */
export interface ReadMove {
  readonly kind: "move";
  readonly line: number;
  readonly rapid: boolean;
  readonly from: Position;
  readonly to: Position;
  readonly path: ReadPath;
  /** Goes to machine coordinates (G53): the work coordinate it ends at is unknown, and `to` says so. */
  readonly machine: boolean;
  /** mm/min; 0 for rapids. */
  readonly feed: number;
  /** Under G93: how many such moves make a minute. `feed` then counts the way of X, Y and Z alone. */
  readonly perMinute?: number;
  readonly spindle: Spindle;
  /** The beam, where the program is read as one for a laser: `spindle` then holds the bare words. */
  readonly beam?: BeamState;
  /** Slot of the cutter in the spindle, undefined before the text says. */
  readonly tool: number | undefined;
  readonly exactPath: boolean;
  /** Where a `machine` move ends, in machine coordinates; axes that stay are undefined. */
  readonly machineTarget?: Position;
  /** A turn of the A axis that goes with the move, degrees. */
  readonly turn?: { readonly from: number | undefined; readonly to: number };
}
