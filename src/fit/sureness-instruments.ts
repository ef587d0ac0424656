import type { Measurement } from "../job/job.ts";
import type { Instrument, OwnTolerances } from "../shop/fitting.ts";
import { type Gap, leastOf, mostOf, sized } from "./sureness-gap.ts";

/** How far a reading may be from the truth. */
export interface Tolerance {
  /** ± this: mm, or % of moisture. */
  readonly plusMinus: number;
  readonly unit: "mm" | "%";
  readonly instrument: Instrument;
  /** Where the number comes from: common practice, or the user's own. */
  readonly from: string;
}

const PRACTICE = "common practice, no source";

/**
 * How far a careful reading in wood may be off: a rule read to a quarter millimetre and laid by eye, a tape with its
 * hook, calipers that press into the fibres, a stick or feeler gauge; what a router or a hand leaves against the size asked for.
 * All common practice, no source. A size without an instrument is taken as read with a rule in haste.
 */
export function usualTolerance(instrument: Instrument): Tolerance {
  const mm = (plusMinus: number): Tolerance => ({ plusMinus, unit: "mm", instrument, from: PRACTICE });
  switch (instrument) {
    case "rule":
      return mm(0.3);
    case "tape":
      return mm(1);
    case "calipers":
      return mm(0.1);
    case "gauge":
      return mm(0.05);
    case "unsaid":
      return mm(0.5);
    case "router":
      return mm(0.1);
    case "by hand":
      return mm(0.3);
    case "moisture meter":
      return { plusMinus: 1, unit: "%", instrument, from: PRACTICE };
    case "weeks in the shop":
      return { plusMinus: 1.5, unit: "%", instrument, from: PRACTICE };
    case "guess":
      return { plusMinus: 3, unit: "%", instrument, from: PRACTICE };
  }
}

/** The tolerance of an instrument: the user's own where given. */
export function toleranceOf(instrument: Instrument, own: OwnTolerances = {}): Tolerance {
  const usual = usualTolerance(instrument);
  const given = own[instrument];
  return given === undefined ? usual : { ...usual, plusMinus: given, from: "your own" };
}

/** Sizes that are still to be made: no second measuring, and no meter, makes them surer. */
export function isMade(tolerance: Tolerance): boolean {
  switch (tolerance.instrument) {
    case "router":
    case "by hand":
      return true;
    case "rule":
    case "tape":
    case "calipers":
    case "gauge":
    case "unsaid":
    case "moisture meter":
    case "weeks in the shop":
    case "guess":
      return false;
  }
}

/** One reading of a measured size: every place that was measured has an error of its own. */
export interface NamedReading {
  /** "opening width, mouth": the measurement's name, and the place where there are several. */
  readonly name: string;
  readonly value: number;
  readonly with: Measurement["with"];
}

/** The readings of a measured size, each with its own name; the size itself where it has one reading. */
export function readingsIn(measurement: Measurement): readonly NamedReading[] {
  if (measurement.readings.length === 0)
    return [{ name: measurement.name, value: measurement.value, with: measurement.with }];
  return measurement.readings.map((r) => ({
    name: `${measurement.name}, ${r.place}`,
    value: r.value,
    with: measurement.with,
  }));
}

/** The true size behind a measurement: its smallest, its largest, or the one at a place. Undefined: no such place. */
export function trueSize(
  measurement: Measurement,
  which: "least" | "most" | { readonly place: string },
): Gap | undefined {
  const readings = readingsIn(measurement);
  const gaps = readings.map((r) => sized(r.name, r.value));
  if (which === "least") return leastOf(gaps);
  if (which === "most") return mostOf(gaps);
  const at = measurement.readings.findIndex((r) => r.place === which.place);
  return gaps[at];
}
