import type { FitCardRecord } from "../shop/fitting.ts";

/** A groove's width, and the card it follows. mm */
export interface GrooveWidth {
  readonly width: number;
  /** Groove over runner as programmed; below nothing where the bit cuts wide. */
  readonly over: number;
  readonly from: FitCardRecord;
}

/** Two runners within this of each other fit alike with the same play. mm; common practice, no source. */
const SAME_FIT = 6;

/**
 * The width of a groove for a runner, cut with a bit that a fit card was made with: the runner, and what the chosen groove of the
 * card was wider than its own runner. Of several cards with the bit the one whose runner is nearest counts, the first of equals.
 * Undefined: no card was made with this bit, or only for runners of quite another width.
 * @param runner mm, measured
 */
export function grooveWidthFor(runner: number, bit: string, cards: readonly FitCardRecord[]): GrooveWidth | undefined {
  const wanted = bit.trim().toLowerCase();
  const near = cards
    .filter((c) => c.bit.trim().toLowerCase() === wanted && Math.abs(c.runner - runner) <= SAME_FIT)
    .reduce<FitCardRecord | undefined>(
      (a, b) => (a !== undefined && Math.abs(a.runner - runner) <= Math.abs(b.runner - runner) ? a : b),
      undefined,
    );
  if (!near) return undefined;
  const over = Math.round((near.chosen - near.runner) * 1000) / 1000;
  return { width: Math.round((runner + over) * 1000) / 1000, over, from: near };
}
