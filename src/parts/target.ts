import type { Hollow } from "../shapes/hollow.ts";
import type { Box, Box3, Point } from "../shapes/point.ts";
import type { Region } from "../shapes/region.ts";
import type { Segment } from "../shapes/segment.ts";
import type { Cavity } from "./workpiece.ts";

/**
 * What the wood must look like after a set-up, in set-up coordinates: the blank less the cavities of the face that is
 * up. Wood that later set-ups take still stands in it, and so do tabs and skins. Filled by `targetFor`; read by
 * proof and sheets, which know nothing of how the cuts are made.
 */
export interface Target {
  readonly blank: Box3;
  /** Adjoining slabs from the underside up; within one, the solid's section changes only by its sloped walls. */
  readonly slabs: readonly Slab[];
  /** The cavities that this set-up must cut. */
  readonly cavities: readonly TargetCavity[];
}

/** A layer of the target between two heights. */
export interface Slab {
  readonly zLow: number;
  readonly zHigh: number;
  /** The blank seen from above: outside it is air. */
  readonly blank: Box;
  /** The exact boundary of the solid within this slab: what a cutter must keep clear of. */
  readonly walls: readonly Wall[];
  /** Areas that are air within this slab, beside everything outside the blank. */
  readonly air: readonly Air[];
  /** Kept wood inside the air: tabs. */
  readonly kept: readonly Region[];
}

/**
 * A piece of the solid's boundary, true at height `zFrom`. Lower down it stands `(zFrom − z) × slopeTan` further into
 * the cavity, as an exact parallel.
 */
export interface Wall {
  readonly curve: Segment;
  readonly box: Box;
  readonly slopeTan: number;
  readonly zFrom: number;
  /** Instead of an even slope: how far further in it stands at each height below `zFrom`. Begins at x ≥ 0. */
  readonly hollow?: Hollow;
}

/** A cavity's share of a slab. */
export interface Air {
  readonly section: Region;
  /** Around `section`. */
  readonly box: Box;
  readonly slopeTan: number;
  readonly zFrom: number;
  readonly hollow?: Hollow;
}

/** A cavity in set-up coordinates. */
export interface TargetCavity {
  readonly cavity: Cavity;
  readonly section: Region;
  readonly zFrom: number;
  readonly zTo: number;
  readonly keeps: readonly { readonly area: Region; readonly zTop: number }[];
  /** Outlines only: the finished outline in set-up coordinates. */
  readonly profile?: Region;
  /** Grooves: centre line; holes: centre, twice. */
  readonly axis?: readonly [Point, Point];
}
