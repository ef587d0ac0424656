import type { Finding } from "../finding.ts";
import type { Point } from "../shapes/point.ts";

/**
 * What a controller would do with a program text: filled by `read`, read by simulate, proof and sheets. Lengths are
 * mm in work coordinates whatever the text's unit; feeds mm/min; lines count from 1.
 */
export interface ReadProgram {
  readonly file: string;
  readonly events: readonly ReadEvent[];
  /** Rules broken. A program with a refusal has events only up to the first line that could not be understood. */
  readonly findings: readonly Finding[];
  /** The text's own unit. */
  readonly unit: "mm" | "inch" | undefined;
  readonly lineCount: number;
}

/** Things that happen, in the order they happen. */
export type ReadEvent =
  | ReadMove
  | { readonly kind: "dwell"; readonly line: number; readonly seconds: number }
  | { readonly kind: "stop"; readonly line: number; readonly optional: boolean }
  | { readonly kind: "tool change"; readonly line: number; readonly slot: number }
  | { readonly kind: "spindle"; readonly line: number; readonly spindle: Spindle }
  | { readonly kind: "length offset"; readonly line: number; readonly slot: number | undefined }
  | { readonly kind: "comment"; readonly line: number; readonly text: string; readonly message: boolean }
  | { readonly kind: "line number"; readonly line: number; readonly n: number }
  | { readonly kind: "end"; readonly line: number };

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

/** One motion. */
export interface ReadMove {
  readonly kind: "move";
  readonly line: number;
  readonly rapid: boolean;
  readonly from: Position;
  readonly to: Position;
  /** A straight line, or a circle's arc in XY with Z moving evenly along it; other planes are XZ or YZ. */
  readonly path:
    | { readonly kind: "line" }
    | { readonly kind: "arc"; readonly plane: "XY" | "XZ" | "YZ"; readonly centre: Point; readonly ccw: boolean };
  /** Goes to machine coordinates (G53): the work coordinate it ends at is unknown, and `to` says so. */
  readonly machine: boolean;
  /** mm/min; 0 for rapids. */
  readonly feed: number;
  readonly spindle: Spindle;
  /** Slot of the cutter in the spindle, undefined before the text says. */
  readonly tool: number | undefined;
  readonly exactPath: boolean;
}
