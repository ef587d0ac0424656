/** What a size was found with, or how it comes about. */
export type Instrument =
  | "rule"
  | "tape"
  | "calipers"
  | "gauge"
  | "unsaid"
  | "router"
  | "by hand"
  | "moisture meter"
  | "weeks in the shop"
  | "guess";

/** How far the user's own readings may be off, by instrument: mm, and % of moisture for the last three. */
export type OwnTolerances = Readonly<Partial<Record<Instrument, number>>>;

/**
 * What a fit card showed: of its grooves, cut with one bit, this width fitted a runner of this width best. Widths are as
 * programmed, so whatever the bit cuts over or under is in them. mm
 */
export interface FitCardRecord {
  readonly name: string;
  readonly bit: string;
  readonly runner: number;
  readonly chosen: number;
}
