import type { Provenance } from "./cutter.ts";

/** Which chip-load rows, cutting energies and step-downs apply. */
export type WoodClass = "hardwood" | "softwood" | "plywood" | "mdf";

/** A number with the published place it was read in, or 'from memory', or 'common practice, no source'. */
export interface Sourced {
  readonly value: number;
  readonly source: string;
}

/** A wood or panel. Coefficients are change of size per size and per 1 % moisture, valid from 6 to 14 %. */
export interface WoodKind {
  readonly name: string;
  /** Other names it answers to, British and American. */
  readonly alsoCalled: readonly string[];
  readonly class: WoodClass;
  /** Oven-dry mass on volume at 12 % moisture over that of water. */
  readonly specificGravity?: Sourced;
  readonly radialPerPercent?: Sourced;
  readonly tangentialPerPercent?: Sourced;
  readonly from: Provenance;
}
