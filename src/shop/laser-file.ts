import * as z from "zod";
import { length, name, quantity, yesNo } from "./shop-words.ts";

const feed = (what: string) => quantity(`${what}; a feed: 3000 mm/min`, "feed");
const share = (what: string) => z.number().min(0).max(1).describe(`${what}; 0 to 1`);
/** A share of full power, as it is read off a card: 35 % or 0.35. */
const power = (what: string) =>
  z
    .union([z.number().gt(0).max(1), z.string().regex(/^\s*\d{1,3}(\.\d{1,3})?\s*%\s*$/)])
    .describe(`${what}: 35 %, or 0.35 of full power`);
const across = (what: string) =>
  z.strictObject({ x: length("along X"), y: length("along Y") }).describe(`${what}: {x: …, y: …}`);

/** A laser head's own numbers, within a machine. */
export const LaserFile = z
  .strictObject({
    offset: across("from the spindle's axis to the beam, measured; absent: where the laser head is").optional(),
    "cross off by": across("where the burned cross lies from the pricked point, burned with that offset").optional(),
    wavelength: z
      .union([z.number().min(100).max(20_000), z.string().regex(/^\s*\d+(\.\d+)?\s*(nm|um|µm|μm)\s*$/)])
      .describe("wavelength, as printed on the head: 450 nm, or 10.6 um"),
    "rated power": quantity("power printed on the head: 10 W", "power"),
    spot: across("how far the spot reaches along X and along Y at focus, measured on burned lines"),
    "focus gap": length("from the head's lower end to the wood at focus"),
    "focus range": length("how far above or below focus it still burns alike, measured"),
    "Z follows": yesNo("Z follows the wood where a mark on the round drops beyond the focus range").optional(),
    "full power": z.number().gt(0).max(1_000_000).describe("the S word at full power: 1000"),
    "power follows speed": yesNo("the controller scales the power with the real speed, and switches off while still"),
    "starts with": z.enum(["M3", "M4"]).describe("the word that starts the beam in that mode: M3 or M4"),
    lag: quantity("delay between a command and the beam, measured; a time: 0.5 ms", "time").optional(),
    pilot: power("highest power of a visible pilot that marks nothing").optional(),
    slot: z.int().min(1).max(999).optional().describe("its number in the tool table, whose length is the focus"),
  })
  .describe("what the laser head on this machine can do, as measured");

/** What was found good on one wood for one effect. */
export const BurnFile = z
  .strictObject({
    power: power("power that you found good"),
    speed: feed("speed that you found good"),
    passes: z.int().min(1).max(100).optional().describe("times over the same place: 1 if not said"),
    spacing: length("from line to line, or dot to dot; half a spot for areas if not said").optional(),
    kerf: length("width that a cut-through takes, measured with a kerf card").optional(),
    depth: length("how deep it chars, measured").optional(),
    tones: z
      .array(z.strictObject({ dots: share("share of the dots that was burned"), dark: share("how dark it became") }))
      .min(2)
      .max(50)
      .optional()
      .describe("a measured grey scale: [{dots: 0, dark: 0}, {dots: 0.5, dark: 0.7}, {dots: 1, dark: 1}]"),
  })
  .describe("a setting for one effect on one wood");

/** All settings: wood, then effect. */
export const BurnsFile = z
  .record(name, z.record(name, BurnFile).describe("effect: setting"))
  .describe("settings of the laser by wood and effect, found with a test card: {maple: {line: {power: 35 %, …}}}");

export type LaserFile = z.output<typeof LaserFile>;
export type BurnFile = z.output<typeof BurnFile>;
export type BurnsFile = z.output<typeof BurnsFile>;
