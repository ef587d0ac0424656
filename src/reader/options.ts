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
}
