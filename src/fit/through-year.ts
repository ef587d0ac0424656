/**
 * How a size changes from today to the driest and to the wettest season, mm, signed: usually dry ≤ 0 ≤ wet. Filled by who
 * knows the wood and the seasons; read by everything that has to keep clear of it.
 */
export interface Change {
  readonly dry: number;
  readonly wet: number;
}

/** A size or gap through the year, mm. */
export interface ThroughYear {
  readonly dry: number;
  readonly today: number;
  readonly wet: number;
}

/** What doesn't move: along the grain, or not worth counting. */
export const STILL: Change = { dry: 0, wet: 0 };

/** A size today with its change. */
export function throughYear(today: number, change: Change): ThroughYear {
  return { dry: today + change.dry, today, wet: today + change.wet };
}

/** Sum of changes, each taken so many times (−1 takes it away). */
export function changes(...terms: readonly (readonly [Change, number])[]): Change {
  return {
    dry: terms.reduce((sum, [c, k]) => sum + k * c.dry, 0),
    wet: terms.reduce((sum, [c, k]) => sum + k * c.wet, 0),
  };
}

/** The least of a size through the year. */
export function leastOfYear(y: ThroughYear): number {
  return Math.min(y.dry, y.today, y.wet);
}

/** The most of a size through the year. */
export function mostOfYear(y: ThroughYear): number {
  return Math.max(y.dry, y.today, y.wet);
}
