import type { Finding, Place } from "../finding.ts";
import type { OwnTolerances } from "../shop/fitting.ts";
import { type Climate, equilibriumMoisture, FIBRE_SATURATION } from "./moisture.ts";
import type { Year } from "./seasons.ts";
import { toleranceOf } from "./sureness-instruments.ts";

/** How the user knows the wood's moisture today. */
export type TodayKnown =
  | { readonly kind: "meter"; readonly percent: number }
  /** Weeks since the boards came into the shop, the shop's air in that time, and what they had before, where known. */
  | { readonly kind: "weeks"; readonly weeks: number; readonly air: Climate; readonly before?: number }
  | { readonly kind: "guess" };

/** The wood's moisture today. % */
export interface Today {
  readonly moisture: number;
  /** ± this, never below 0 or above fibre saturation. */
  readonly plusMinus: number;
  readonly by: "moisture meter" | "weeks in the shop" | "guess";
  /** True: the gap now is a guess, and is called so. */
  readonly guess: boolean;
  /** How it was found, in words, with the source. */
  readonly how: string;
}

/** Moisture of furniture lumber as it leaves the kiln, %: 6 to 8, Wood Handbook FPL-GTR-190, ch. 13. The spread is wider: yards are damp. */
const FROM_THE_KILN = { middle: 8, plusMinus: 3 } as const;

/** Weeks in which a 20 mm board comes two thirds of the way to the air around it; common practice, no source. */
const WEEKS_AT_20 = 3;

/**
 * The moisture today of a board of a thickness.
 *
 * By weeks in the shop the wood is taken to near the shop's equilibrium evenly slower: M = E + (M₀ − E) · exp(−t / τ). τ is
 * three weeks for 20 mm and goes with the square of the thickness, as drying by diffusion does; common practice, no source. So the
 * spread of what is not known shrinks with time, but never below the meter's own.
 * Not known at all: the middle of the year, with half of it either way, called a guess.
 * @param thickness mm, of the board as it lies in the shop
 */
export function todayOf(
  known: TodayKnown,
  thickness: number,
  year: Year,
  place: Place = {},
  own: OwnTolerances = {},
): { readonly today?: Today; readonly findings: readonly Finding[] } {
  switch (known.kind) {
    case "meter": {
      if (!(known.percent > 0 && known.percent <= FIBRE_SATURATION)) return { findings: [wet(known.percent, place)] };
      const { plusMinus, from } = toleranceOf("moisture meter", own);
      return {
        today: {
          moisture: known.percent,
          plusMinus,
          by: "moisture meter",
          guess: false,
          how: `by meter, ± ${plusMinus} % (${from})`,
        },
        findings: [],
      };
    }
    case "weeks": {
      const before = known.before ?? FROM_THE_KILN.middle;
      if (!(before > 0 && before <= FIBRE_SATURATION)) return { findings: [wet(before, place)] };
      if (!(known.weeks >= 0)) throw new RangeError("weeks in the shop are not negative");
      const left = Math.exp(-known.weeks / weeksFor(thickness));
      const air = equilibriumMoisture(known.air);
      const meter = toleranceOf("moisture meter", own).plusMinus;
      const spread = known.before === undefined ? FROM_THE_KILN.plusMinus : meter;
      return {
        today: {
          moisture: air + (before - air) * left,
          plusMinus: Math.max(meter, toleranceOf("weeks in the shop", own).plusMinus * (1 - left) + spread * left),
          by: "weeks in the shop",
          guess: false,
          how:
            `${known.weeks} weeks in the shop's air: ${Math.round((1 - left) * 100)} % of the way from ` +
            `${Number(before.toFixed(1))} % to ${air.toFixed(1)} % (common practice, no source)`,
        },
        findings: [],
      };
    }
    case "guess": {
      const middle = (year.wettest.moisture + year.driest.moisture) / 2;
      return {
        today: {
          moisture: middle,
          plusMinus: Math.max(year.wettest.moisture - middle, toleranceOf("guess", own).plusMinus),
          by: "guess",
          guess: true,
          how: "not known: the middle of the year is taken, so the gap now is a guess",
        },
        findings: [
          {
            grade: "caution",
            code: "fit-moisture-guessed",
            place,
            what: "the wood's moisture today is not known, so every gap now is a guess",
            why: `${middle.toFixed(1)} % is taken, the middle between the seasons`,
            mend: "give a meter's reading, or how many weeks the boards have been in the shop",
          },
        ],
      };
    }
  }
}

/** Weeks in which a board of a thickness comes two thirds of the way (1 − 1/e). mm. Common practice, no source. */
export function weeksFor(thickness: number): number {
  return WEEKS_AT_20 * (thickness / 20) ** 2;
}

function wet(moisture: number, place: Place): Finding {
  return {
    grade: "refuse",
    code: "fit-moisture-impossible",
    place,
    what: `wood at ${Number(moisture.toFixed(1))} % moisture is not ready for a drawer`,
    why: "above 30 % wood is green and does not swell; nothing can be reckoned from there",
    mend: "check the number: wood for furniture has 6 to 12 %",
    measured: { value: moisture, bound: 0, unit: "%" },
    limit: { value: FIBRE_SATURATION, unit: "%", from: "Wood Handbook FPL-GTR-190, ch. 13" },
  };
}
