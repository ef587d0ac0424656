import { type Gap, gapValue, likelyCase, namesIn, sensitivities, standsUpTo, worstCase } from "./sureness-gap.ts";
import { isMade, type Tolerance } from "./sureness-instruments.ts";

/** What a gap may be. mm; `from` says who says so. */
export interface GapLimits {
  readonly least: number;
  readonly most: number;
  readonly from: string;
}

/** What one named size does to a gap. */
export interface Share {
  readonly name: string;
  /** Change of the gap per mm (per %) of it, at the readings. */
  readonly factor: number;
  readonly tolerance: Tolerance;
  /** mm of the gap's worst case that would go if this size were known. */
  readonly part: number;
  /** How far this size alone may be off, mm (%), before the gap leaves its limits. */
  readonly alone: number;
}

/** How sure a gap is. mm. */
export interface Sureness {
  readonly value: number;
  readonly worst: { readonly least: number; readonly most: number };
  /** Root of the sum of squares: what independent errors hardly pass together. */
  readonly likely: { readonly least: number; readonly most: number };
  /** The greatest part first; equal ones in order of the alphabet. */
  readonly shares: readonly Share[];
  /** The size that matters most; absent where nothing measured counts. */
  readonly matters?: Share;
  /** True when the worst case keeps the limits. */
  readonly holds: boolean;
  /** All errors together may grow to this many times their tolerances; 0 when the gap is wrong already, infinite when none counts. */
  readonly stands: number;
  /** The size to measure again, where the worst case does not hold and measuring could mend it. */
  readonly measureAgain?: Share;
}

/**
 * How sure a gap is, with every named size off by up to its tolerance. Worst cases are bounds (see `worstCase`); the likely
 * case takes errors as independent.
 */
export function surenessOf(gap: Gap, tolerance: (name: string) => Tolerance, limits: GapLimits): Sureness {
  const names = namesIn(gap);
  const known = new Map(names.map((name) => [name, tolerance(name)]));
  const by = (name: string): number => known.get(name)?.plusMinus ?? 0;
  const worst = worstCase(gap, by);
  const factors = sensitivities(gap);
  const shares = names
    .map((name): Share => {
      const without = worstCase(gap, (n) => (n === name ? 0 : by(n)));
      return {
        name,
        factor: factors.get(name) ?? 0,
        tolerance: known.get(name) ?? tolerance(name),
        part: (worst.most - worst.least - (without.most - without.least)) / 2,
        alone: standsUpTo(gap, (n) => (n === name ? 1 : 0), limits),
      };
    })
    .sort((a, b) => (Math.abs(b.part - a.part) > 1e-12 ? b.part - a.part : a.name < b.name ? -1 : 1));
  const holds = worst.least >= limits.least && worst.most <= limits.most;
  const first = shares[0];
  const matters = first !== undefined && first.part > 0 ? first : undefined;
  const again = holds ? undefined : shares.find((s) => s.part > 0 && !isMade(s.tolerance));
  return {
    value: gapValue(gap),
    worst,
    likely: likelyCase(gap, by),
    shares,
    ...(matters ? { matters } : {}),
    holds,
    stands: standsUpTo(gap, by, limits),
    ...(again ? { measureAgain: again } : {}),
  };
}
