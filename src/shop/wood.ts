import type { Provenance } from "./cutter.ts";

/** Which chip-load rows, cutting energies and step-downs apply. */
export type WoodClass = "hardwood" | "softwood" | "plywood" | "mdf";

/** A number with the published place it was read in, or 'from memory', or 'common practice, no source'. */
export interface Sourced {
  readonly value: number;
  readonly source: string;
}

/**
 * A wood or panel. Coefficients are change of size per size and per 1 % moisture, valid from 6 to 14 %; in a sheet both lie in
 * its plane. Where published tables disagree the larger stands here, which is the safe one for a clearance.
 */
export interface WoodKind {
  readonly name: string;
  /** Other names it answers to, British and American. */
  readonly alsoCalled: readonly string[];
  readonly class: WoodClass;
  /** Oven-dry mass on volume at 12 % moisture over that of water. */
  readonly specificGravity?: Sourced;
  readonly radialPerPercent?: Sourced;
  readonly tangentialPerPercent?: Sourced;
  /** What another published table has instead; never larger than the number used. */
  readonly radialElsewhere?: Sourced;
  readonly tangentialElsewhere?: Sourced;
  /** Shrinkage from green to oven-dry, % of the green size: for moisture outside 6 to 14 %. */
  readonly radialShrinkage?: Sourced;
  readonly tangentialShrinkage?: Sourced;
  /** Coefficient through the thickness of a sheet. */
  readonly throughSheetPerPercent?: Sourced;
  readonly from: Provenance;
}
