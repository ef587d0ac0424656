import { closest } from "../units/closest.ts";
import type { Cutter } from "./cutter.ts";
import type { FitCardRecord, Instrument, OwnTolerances } from "./fitting.ts";
import type { FitCardsFile, MeasuringFile } from "./fitting-file.ts";
import type { Range, ShopReader } from "./shop-reader.ts";

const ERROR: Range = { min: 0, max: 5 };
const MOISTURE_ERROR: Range = { min: 0, max: 10 };
const RUNNER: Range = { min: 2, max: 60 };
/** A groove that fits is this much over or under its runner at most; more is a slip of the pen. mm */
const FAR_OFF = 1.5;

/** The user's own tolerances; instruments that the file leaves out are absent. */
export function readMeasuring(written: MeasuringFile | undefined, reader: ShopReader): OwnTolerances {
  const out: Partial<Record<Instrument, number>> = {};
  for (const key of Object.keys(written ?? {}) as (keyof MeasuringFile)[]) {
    const raw = written?.[key];
    if (raw === undefined) continue;
    const moisture = key === "moisture meter";
    out[key] = reader.size(raw, ["measuring", key], moisture ? "number" : "length", moisture ? MOISTURE_ERROR : ERROR);
  }
  return out;
}

/** The fit cards on record. Refused: a bit that the shop has not, a groove that cannot have fitted its runner. */
export function readFitCards(
  written: FitCardsFile | undefined,
  cutters: readonly Cutter[],
  reader: ShopReader,
): readonly FitCardRecord[] {
  return Object.entries(written ?? {}).map(([name, card]) => {
    const path = ["fit cards", name];
    const runner = reader.size(card.runner, [...path, "runner"], "length", RUNNER);
    const chosen = reader.size(card.chosen, [...path, "chosen"], "length", RUNNER);
    const known = cutters.find((c) => c.name.toLowerCase() === card.bit.trim().toLowerCase());
    if (!known) {
      const names = cutters.map((c) => c.name);
      const near = closest(card.bit, names);
      reader.refuse("shop-file-wrong-value", [...path, "bit"], `no bit is called "${card.bit}"`, {
        mend: near === undefined ? `name one of this shop's: ${names.join(", ")}` : `did you mean "${near}"?`,
      });
    }
    if (Math.abs(chosen - runner) > FAR_OFF) {
      reader.refuse("shop-file-wrong-value", [...path, "chosen"], "this groove cannot have fitted this runner", {
        why: `they differ by ${Number(Math.abs(chosen - runner).toFixed(2))} mm`,
        mend: "write the size that stands beside the groove that fitted, and the runner as measured",
      });
    }
    return { name, bit: known?.name ?? card.bit, runner, chosen };
  });
}
