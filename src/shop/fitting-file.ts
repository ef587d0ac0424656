import * as z from "zod";
import { length, name, quantity } from "./shop-words.ts";

/** How far readings may be off, by instrument. */
export const MeasuringFile = z
  .strictObject({
    rule: length("how far a reading with your rule may be off, either way").optional(),
    tape: length("the same with the tape").optional(),
    calipers: length("the same with the calipers").optional(),
    gauge: length("the same with a gauge or a stick").optional(),
    unsaid: length("the same where the job does not say what was used").optional(),
    router: length("how far a cut of your router may be off its size").optional(),
    "by hand": length("how far a cut by hand may be off its size").optional(),
    "moisture meter": quantity("how far your meter may be off, in % of moisture: 1", "number").optional(),
  })
  .describe("how far your own measuring may be off: {calipers: 0.05 mm}");

/** What fit cards showed. */
export const FitCardsFile = z
  .record(
    name,
    z
      .strictObject({
        bit: name.describe("the bit that cut the card, by its name"),
        runner: length("the runner's width that was tried, measured"),
        chosen: length("the width of the groove that fitted it, as the card marks it"),
      })
      .describe("a fit card: {bit: 4 mm flat, runner: 9.5, chosen: 9.85}"),
  )
  .describe("fit cards, each with its name");

export type MeasuringFile = z.output<typeof MeasuringFile>;
export type FitCardsFile = z.output<typeof FitCardsFile>;
