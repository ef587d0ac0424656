import * as z from "zod";
import { length, name, quantity, speed, yesNo } from "./shop-words.ts";

const twoAxes = (what: string, of: (axis: string) => z.ZodType) =>
  z.strictObject({ x: of("across the axis"), z: of("along the axis") }).describe(`${what}: {x: …, z: …}`);
const feed = (what: string) => quantity(`${what}; a feed: 1500 mm/min`, "feed");
const angle = (what: string) => quantity(`${what}; an angle: 17.5 deg`, "angle");

/** A lathe as it is written in the shop file. */
export const LatheFile = z
  .strictObject({
    like: name.optional().describe("a built-in lathe whose values fill the gaps"),
    travel: twoAxes("how far each axis moves", length).optional(),
    "top feed": twoAxes("fastest feed of each axis", feed).optional(),
    acceleration: twoAxes("how quickly each axis gathers speed", (a) =>
      quantity(`${a}; an acceleration: 150 mm/s²`, "acceleration"),
    ).optional(),
    spindle: z
      .union([
        z.strictObject({ from: speed("lowest speed"), to: speed("highest speed") }),
        z.strictObject({
          dial: z.record(z.string().max(20), speed("speed at this mark")).describe("dial or belt mark: speed"),
        }),
      ])
      .optional()
      .describe("{from: 300 rpm, to: 3200 rpm}, or {dial: {low: 900 rpm, high: 2200 rpm}}"),
    "spindle power": quantity("power of the spindle: 750 W", "power").optional(),
    "spin up": quantity("time to full speed: 5 s", "time").optional(),
    "spin down": quantity("time to a stop: 8 s", "time").optional(),
    swing: length("largest diameter that turns over the carriage").optional(),
    "between centres": length("longest work between the centres").optional(),
    "X words": z
      .enum(["radius", "diameter"])
      .optional()
      .describe("what an X word means to this controller: radius or diameter"),
    "tool post": z
      .enum(["front", "rear"])
      .optional()
      .describe("where the tool stands: front (between you and the work) or rear (behind it)"),
    "turns towards you with": z
      .enum(["M3", "M4"])
      .optional()
      .describe("the word that turns the top of the work towards you: M3 or M4"),
    "holding speed": speed("highest speed that your way of holding stands").optional(),
    headstock: z
      .strictObject({
        kind: z.enum(["drive centre", "jaws"]).describe("drive centre or jaws"),
        diameter: length("over all as it turns"),
        length: length("along the axis, to the spindle's nose"),
        grip: length("how far jaws reach over the wood").optional(),
      })
      .optional()
      .describe("{kind: jaws, diameter: 90 mm, length: 60 mm, grip: 25 mm}"),
    tailstock: z
      .strictObject({
        kind: z.enum(["live centre", "none"]).describe("live centre or none"),
        diameter: length("of the centre's body").optional(),
        length: length("how far its point stands in front of its body").optional(),
      })
      .optional()
      .describe("{kind: live centre, diameter: 30 mm, length: 12 mm}"),
    rest: z
      .strictObject({
        "from tailstock": length("from the blank's end at the tailstock to the middle of the rest"),
        width: length("along the axis"),
        opening: length("diameter that is free for the work to turn in"),
        reach: length("how far from the axis it stands out"),
      })
      .optional()
      .describe(
        "a rest that stays on the bed, which no tool may meet: {from tailstock: 90 mm, width: 25 mm, opening: 70 mm, reach: 60 mm}",
      ),
    understands: z
      .strictObject({
        arcs: yesNo("G2 and G3").optional(),
        "tool changer": yesNo("T and M6 change the tool").optional(),
        homes: yesNo("knows where it is after switching on").optional(),
        "exact path": yesNo("G61").optional(),
        "corner error": length("how far corners are rounded without exact path").optional(),
      })
      .optional()
      .describe("what the controller understands"),
    post: name.optional().describe("the post that writes for it: lathe-radius, lathe-diameter or your own"),
  })
  .describe("a lathe");

/** A turning tool as it is written in the shop file. */
export const TurningToolFile = z
  .strictObject({
    slot: z.int().min(1).max(999).optional().describe("its number: a whole number from 1"),
    kind: z.enum(["round-nose", "detail", "parting"]).describe("round-nose, detail or parting"),
    "nose radius": length("radius of its nose, or of a parting tool's corners").optional(),
    width: length("width over all at its cutting end"),
    angle: angle("whole angle of a detail tool").optional(),
    flanks: z
      .strictObject({
        first: angle("towards the headstock"),
        second: angle("towards the tailstock"),
      })
      .optional()
      .describe("angle of each side from the tool's middle line: {first: 10 deg, second: 20 deg}"),
    reach: length("how deep it goes before its holder meets the wood"),
    "holder width": length("width of the holder behind that"),
    point: z
      .enum(["tip middle", "corner first", "corner second"])
      .optional()
      .describe("the point that zero is set with: tip middle, corner first (headstock side) or corner second"),
    "max bite": length("deepest cut you take with it, on the radius").optional(),
    "feed a turn": length("feed along the axis for each turn of the work").optional(),
    "plunge a turn": length("feed straight in for each turn of the work").optional(),
  })
  .describe("a turning tool");

export type LatheFile = z.output<typeof LatheFile>;
export type TurningToolFile = z.output<typeof TurningToolFile>;
