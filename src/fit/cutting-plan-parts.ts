/** What a plan is sought for. All lengths in whole micrometres, so that sums are exact; longest first. */
export interface Supply {
  /** `count` may be Infinity. */
  readonly kinds: readonly { readonly length: number; readonly count: number }[];
  /** Lengths of the pieces, each once. */
  readonly lengths: readonly number[];
  readonly kerf: number;
}

/** One bar as cut: its kind, and how many pieces of each length come from it. */
export interface Cut {
  readonly kind: number;
  readonly pieces: readonly number[];
}

/**
 * What pieces take of a bar. A bar counts as one kerf longer than it is: behind the last piece no cut is needed where it
 * ends with the bar.
 */
export function loadOf(s: Supply, cut: Cut): number {
  return cut.pieces.reduce((sum, n, i) => sum + n * (s.lengths[i]! + s.kerf), 0);
}

/** Length of all bars that are cut into. */
export function costOf(s: Supply, cuts: readonly Cut[]): number {
  return cuts.reduce((sum, c) => sum + s.kinds[c.kind]!.length, 0);
}

/** How many bars of each kind are left beside those cut. */
export function stillThere(s: Supply, cuts: readonly Cut[]): number[] {
  const there = s.kinds.map((k) => k.count);
  for (const c of cuts) there[c.kind]! -= 1;
  return there;
}
