import type { GapAt, SeasonalGap } from "./seasons-gaps.ts";
import type { Share } from "./sureness.ts";

/**
 * A gap and how sure it is, as sentences for the bench: the gap today and in each season with worst and likely case, the size
 * that matters most, how much measuring error the fit stands, and which size to measure again. Millimetres to the hundredth.
 */
export function gapInWords(gap: SeasonalGap): readonly string[] {
  const now = gap.guess ? "now (a guess: the wood's moisture today is not known)" : "now";
  const { tightest } = gap;
  const again = tightest.measureAgain;
  return [
    caseInWords(now, gap.now),
    ...gap.seasons.map((s) => caseInWords(s.when, s, s.form === "outside 6 to 14 %" ? OUTSIDE : undefined)),
    ...(tightest.matters ? [mattersInWords(tightest.matters)] : []),
    standsInWords(tightest),
    ...(again ? [`measure "${again.name}" again, more finely`] : []),
  ];
}

const OUTSIDE = "outside the range of the coefficients, reckoned from shrinkage";

function caseInWords(when: string, gap: GapAt, also?: string): string {
  const { value, worst, likely } = gap;
  const sure = `likely ${hundredth(likely.least)} to ${hundredth(likely.most)}, at worst ${hundredth(worst.least)} to ${hundredth(worst.most)}`;
  return `${when}: ${hundredth(value)} mm (${sure})${also === undefined ? "" : `; ${also}`}`;
}

function mattersInWords({ name, part, tolerance }: Share): string {
  const { plusMinus, unit, instrument, from } = tolerance;
  // Of a moisture, `from` tells already how it was found.
  if (unit === "%")
    return `"${name}" matters most: ± ${Number(plusMinus.toFixed(1))} % is ± ${hundredth(part)} mm of the gap (${from})`;
  const how =
    instrument === "unsaid" ? "with what is not said" : instrument === "by hand" ? "made by hand" : `by ${instrument}`;
  return `"${name}" matters most: ± ${plusMinus} mm ${how} (${from}) is ± ${hundredth(part)} mm of the gap`;
}

function standsInWords(gap: GapAt): string {
  if (gap.stands === 0) return "the fit stands no error at all as it is";
  if (!Number.isFinite(gap.stands)) return "no error of measuring or making counts in it";
  if (gap.stands < 1) {
    return `the fit stands ${Math.floor(gap.stands * 100)} % of the errors that measuring and making may have, all falling together`;
  }
  return `the fit stands ${(Math.floor(gap.stands * 10) / 10).toFixed(1)} times the errors that measuring and making may have, all falling together`;
}

function hundredth(mm: number): string {
  return (Math.round(mm * 100) / 100 + 0).toFixed(2);
}
