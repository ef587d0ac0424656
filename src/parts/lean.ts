import { grownRegion } from "../shapes/grown.ts";
import { endsOfHollow, type Hollow, insetAt, shiftedHollow } from "../shapes/hollow.ts";
import { TOLERANCE } from "../tolerance.ts";
import type { Cavity } from "./workpiece.ts";

/** How a cavity's wall comes inwards from its section at height `zFrom`. Set-up coordinates, mm. */
export interface Lean {
  readonly slopeTan: number;
  readonly zFrom: number;
  /** Instead of an even slope; begins at x ≥ 0. */
  readonly hollow?: Hollow;
}

/** True for a wall that stands upright all the way down. */
export function isUpright(l: Pick<Lean, "slopeTan" | "hollow">): boolean {
  return l.slopeTan === 0 && l.hollow === undefined;
}

/** How far inside the section at `zFrom` the air begins at a height, mm, ≥ 0. Below a hollow's floor, as at its floor. */
export function insetOf(l: Lean, z: number): number {
  const below = l.zFrom - z;
  if (l.hollow === undefined) return Math.max(0, below * l.slopeTan);
  const floor = endsOfHollow(l.hollow).floor.y;
  return Math.max(0, insetAt(l.hollow, Math.max(floor, Math.min(0, -below))));
}

/** How a cavity's wall comes inwards, its mouth at a height. */
export function leanOf({ slopeTan, hollow }: Pick<Cavity, "slopeTan" | "hollow">, zFrom: number): Lean {
  return { slopeTan, zFrom, ...(hollow === undefined ? {} : { hollow }) };
}

/** True when two walls come inwards alike. */
export function sameLean(a: Lean, b: Lean): boolean {
  return a.slopeTan === b.slopeTan && a.zFrom === b.zFrom && a.hollow === b.hollow;
}

/**
 * A cavity whose section is its mouth: one with an eased edge begins outside its outline, and is described anew about the
 * level line where it begins. The same surface, but for outlines with corners that turn inwards sharper than the edge.
 */
export function atMouth(cavity: Cavity): Cavity {
  if (cavity.hollow === undefined) return cavity;
  const { x } = endsOfHollow(cavity.hollow).mouth;
  if (x >= 0) return cavity;
  return {
    ...cavity,
    section: grownRegion(cavity.section, -x, TOLERANCE.offset),
    hollow: shiftedHollow(cavity.hollow, -x),
  };
}
