import type { Box3 } from "../shapes/point.ts";

/**
 * How strictly a text is read. `ours`: a program of ours must also keep the house's habits, so what the language allows
 * but we never write is refused. `any`: somebody's RS-274 file on the language's own rules; habits only caution.
 */
export type Manner = "ours" | "any";

/** What the reader may know beside the text. Lengths mm in work coordinates. */
export interface ReadOptions {
  /** Default `ours`. */
  readonly manner?: Manner;
  /** Lowest height for sideways rapids (rules L3, L12). */
  readonly safeZ?: number;
  /** The wood: feed moves above its top may be made with the spindle stopped (L2), and a bit below it stands in wood (L9). */
  readonly stock?: Box3;
  /** No move may leave this box (L7). */
  readonly box?: Box3;
  /** How far each axis can travel: no program may need more from end to end (L7). */
  readonly machineTravel?: { readonly x: number; readonly y: number; readonly z: number };
  /** Highest slot of the tool table or changer (E46). */
  readonly highestSlot?: number;
  /** The speed is set by a dial, so a spindle that is switched on turns whatever S says. Default false. */
  readonly speedByDial?: boolean;
  /** Position of the controller's block-delete switch: true skips lines that begin with `/`. Default false. */
  readonly blockDelete?: boolean;
  /** Arcs that end where they start are meant as whole circles. Default true; false reports each (L5). */
  readonly wholeCircles?: boolean;
  /** The program turns wood on a lathe: X and Z only, by the lathe's rules. Absent: a machine with a turning bit. */
  readonly lathe?: LatheReading;
  /** The program burns with a laser: S, M3, M4 and M5 are the beam's, by the beam's rules. Absent: a turning bit. */
  readonly beam?: BeamReading;
}

/**
 * How a laser's dialect means S, M3, M4 and M5. Filled from the laser in the shop file, never guessed from the text. The
 * published language has no beam: this use of the words is common practice, from memory.
 */
export interface BeamReading {
  /** S word at full power, above 0. */
  readonly fullScale: number;
  /** The code that starts the beam in the machine's mode. */
  readonly start: "M3" | "M4";
  /** `follows speed`: off while the carriage stands. `constant`: burns whatever the speed, standing too. */
  readonly mode: "follows speed" | "constant";
  /** Slot of the head's length in the tool table; absent: no length is to be taken into account. */
  readonly slot?: number;
  /** A turns the wood beneath the beam: such moves are in inverse time, each with its own F. Absent: A may not turn. */
  readonly turns?: true;
}

/**
 * How a lathe's dialect means its words, and what the reader may know of the set-up. Filled from the lathe in the shop
 * file, never guessed from the text. mm.
 *
 * In what is read, X is always the radius, with the program's own sign: a diameter in the text is halved, machine
 * coordinates and increments too. I, J, K and R are true offsets and lengths in either convention and are never halved
 * (NISTIR 6556 §3.5.3 knows radius X only; halving X alone is this house's rule for diameter dialects).
 */
export interface LatheReading {
  readonly xWords: "radius" | "diameter";
  /** On which side of the axis the tool works: the sign of X there. */
  readonly side: 1 | -1;
  /** Radius at and beyond which rapids along the axis are allowed; absent: none is, unless X was taken home. */
  readonly safeRadius?: number;
  /** Largest radius of the wood: a tool farther out stands clear. */
  readonly stockRadius?: number;
}
