import type { Controller } from "../shop/machine.ts";
import { NO_MOTION } from "./codes.ts";
import type { Log } from "./log.ts";
import type { ReadOptions } from "./options.ts";
import type { Position, ReadEvent, Spindle } from "./read-move.ts";

/**
 * What a controller remembers from line to line. Every modal group begins unstated; until the text states it, it reads
 * as the reference program starts (NISTIR 6556, table 4), and its first use is complained of.
 */
export interface State {
  /** Groups stated so far, as bits by group; 14 stands for an F, 15 for an S. */
  stated: number;
  /** Ten times the motion code in force. */
  motion: number;
  plane: 170 | 180 | 190;
  incremental: boolean;
  inverseTime: boolean;
  /** mm per unit of the text. */
  scale: number;
  unit: "mm" | "inch" | undefined;
  compensation: boolean;
  /** Slot whose length is taken into account; undefined when none is. */
  lengthSlot: number | undefined;
  lengthStated: boolean;
  /** Cycles go back to R (G99), not to where they began (G98). */
  backToR: boolean;
  system: number;
  exactPath: boolean;
  /** F as written, in the text's own unit; 0 when unset. */
  feed: number;
  spindle: Spindle;
  selected: number | undefined;
  tool: number | undefined;
  coolant: boolean;
  /** Work position, mm. */
  at: Position;
  /** Position of the A axis, degrees. */
  turned: number | undefined;
  /** Z alone was moved since the position was last unknown. */
  lifted: boolean;
  /** The position is unknown because a line before was broken, which has been said. */
  lost: boolean;
  /** The last motion was made at feed. */
  afterFeed: boolean;
  /** G92 offsets are in force. */
  shifted: boolean;
  cycle: StickyCycle;
  readonly beam: BeamMemory;
}

/** What the reading remembers of a beam beside its state. */
export interface BeamMemory {
  /** A line has spoken of S, M3, M4 or M5. */
  said: boolean;
  /** Comments before the beam is first on. */
  comments: string;
  /** The scale and the mode were looked for. */
  looked: boolean;
}

/** Numbers of a drilling cycle that stay in force while its code repeats, in the text's own unit. */
export interface StickyCycle {
  code: number;
  r: number | undefined;
  depth: number | undefined;
  p: number | undefined;
  q: number | undefined;
}

/** One reading: what it knows, what it remembers, what it has found and made so far. */
export interface Run {
  readonly controller: Controller;
  readonly options: ReadOptions;
  readonly ours: boolean;
  readonly log: Log;
  readonly state: State;
  readonly events: ReadEvent[];
  readonly extent: Extent;
  /** Where the machine stands while nothing tells: on a lathe, which has no Y, Y is 0 throughout. */
  readonly nowhere: Position;
}

/** Lowest and highest coordinates of all moves so far. */
export interface Extent {
  readonly low: [number, number, number];
  readonly high: [number, number, number];
}

export const UNKNOWN: Position = { x: undefined, y: undefined, z: undefined };

/** The same on a lathe: there is no Y to be unknown. */
export const UNKNOWN_ON_LATHE: Position = { x: undefined, y: 0, z: undefined };

/** The state before the first line. */
export function startState(at: Position = UNKNOWN): State {
  return {
    stated: 0,
    motion: NO_MOTION,
    plane: 170,
    incremental: false,
    inverseTime: false,
    scale: 1,
    unit: undefined,
    compensation: false,
    lengthSlot: undefined,
    lengthStated: false,
    backToR: true,
    system: 540,
    exactPath: false,
    feed: 0,
    spindle: { turning: "off", rpm: 0 },
    selected: undefined,
    tool: undefined,
    coolant: false,
    at,
    turned: undefined,
    lifted: false,
    lost: false,
    afterFeed: false,
    shifted: false,
    cycle: { code: 0, r: undefined, depth: undefined, p: undefined, q: undefined },
    beam: { said: false, comments: "", looked: false },
  };
}

/** Whether the text has stated a modal group. */
export function isStated(s: State, group: number): boolean {
  return ((s.stated >> group) & 1) !== 0;
}

/** Whether the bit turns, as far as the text says. */
export function turns(run: Run): boolean {
  const spindle = run.state.spindle;
  return spindle.turning !== "off" && (spindle.rpm > 0 || run.options.speedByDial === true);
}

/** Whether the bit may be in the wood: true, false, or undefined when nothing tells. */
export function inWood(run: Run): boolean | undefined {
  const { at, afterFeed } = run.state;
  const { lathe } = run.options;
  if (lathe !== undefined) {
    if (at.x !== undefined && lathe.stockRadius !== undefined) return lathe.side * at.x < lathe.stockRadius;
    return afterFeed ? undefined : false;
  }
  const top = run.options.stock?.max.z ?? run.options.safeZ;
  if (at.z !== undefined && top !== undefined) return at.z < top;
  return afterFeed ? undefined : false;
}
