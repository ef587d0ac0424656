import { tidy } from "../../finding.ts";
import { onRule } from "../../fit/nearest-64th.ts";
import type { LengthUnit } from "../../units/unit-table.ts";

/** How lengths are said: the job's own unit first, the other behind it. */
export interface LengthWords {
  readonly unit: LengthUnit;
  /** `142.3 mm`, or `5 19/32 in (142.3 mm)`: to the hundredth of a millimetre. */
  readonly one: (mm: number) => string;
  /** Both: `5.95 mm (15/64 in)`, or the other way round. */
  readonly both: (mm: number) => string;
  /** `142.3 × 45 × 9 mm`, in inches each to its nearest 64th with the millimetres behind. */
  readonly size: (length: number, width: number, thickness: number) => string;
  /** `4.50 ± 0.10 mm`, or `0.177 ± 0.004 in (4.50 ± 0.10 mm)`: what calipers show. */
  readonly calipers: (mm: number, plusMinus: number) => string;
}

/** The words for a job's unit. Inches are told to the nearest 64th of a rule, by calipers to the thousandth. */
export function lengthWords(unit: LengthUnit): LengthWords {
  const inches = (mm: number): string => (mm < 0 ? `-${onRule(-mm).inch}` : onRule(mm).inch);
  const metric = (mm: number): string => `${hundredth(mm)} mm`;
  // A size stays on one line.
  const tied = (text: string): string => text.replace(/ /g, "\u00a0");
  const metricSize = (...sizes: readonly number[]): string => `${sizes.map(hundredth).join(" × ")} mm`;
  const metricCalipers = (mm: number, pm: number): string => `${mm.toFixed(2)} ± ${pm.toFixed(2)} mm`;
  switch (unit) {
    case "mm":
      return {
        unit,
        one: (mm) => tied(metric(mm)),
        both: (mm) => `${tied(metric(mm))} ${tied(`(${inches(mm)})`)}`,
        size: (...sizes) => tied(metricSize(...sizes)),
        calipers: (mm, pm) => tied(metricCalipers(mm, pm)),
      };
    case "in":
      return {
        unit,
        one: (mm) => `${tied(inches(mm))} ${tied(`(${metric(mm)})`)}`,
        both: (mm) => `${tied(inches(mm))} ${tied(`(${metric(mm)})`)}`,
        size: (...sizes) =>
          `${tied(`${sizes.map((s) => inches(s).replace(/ in$/, "")).join(" × ")} in`)} ${tied(`(${metricSize(...sizes)})`)}`,
        calipers: (mm, pm) =>
          `${tied(`${(mm / 25.4).toFixed(3)} ± ${(pm / 25.4).toFixed(3)} in`)} ${tied(`(${metricCalipers(mm, pm)})`)}`,
      };
  }
}

/** A length to the hundredth, without trailing zeros. */
export function hundredth(mm: number): string {
  return tidy(Math.round(mm * 100) / 100);
}

/** `the runner groove`, `the front`: the first letter made large, a full stop at the end. */
export function sentence(words: string): string {
  const text = `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
  return /[.?!:]$/.test(text) ? text : `${text}.`;
}

/** A text's sentences, one by one. */
export function sentencesOf(text: string): readonly string[] {
  return text.split(/(?<=\.) (?=[A-Z])/);
}
