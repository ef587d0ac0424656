import * as z from "zod";
import { FitCardsFile, MeasuringFile } from "./fitting-file.ts";
import { BurnsFile, LaserFile } from "./laser-file.ts";
import { LatheFile, TurningToolFile } from "./lathe-file.ts";
import { length, name, quantity, speed, yesNo } from "./shop-words.ts";

const feed = (what: string) => quantity(`${what}; a feed: 3000 mm/min`, "feed");
const threeAxes = (what: string, of: (axis: string) => z.ZodType) =>
  z.strictObject({ x: of("along X"), y: of("along Y"), z: of("along Z") }).describe(`${what}: {x: …, y: …, z: …}`);

const MachineFile = z
  .strictObject({
    like: name.optional().describe("a built-in machine whose values fill the gaps"),
    travel: threeAxes("how far each axis moves", length).optional(),
    "top feed": threeAxes("fastest feed of each axis", feed).optional(),
    acceleration: threeAxes("how quickly each axis gathers speed", (a) =>
      quantity(`${a}; an acceleration: 300 mm/s²`, "acceleration"),
    ).optional(),
    "corner deviation": length("how far a corner may be rounded when its speed is estimated").optional(),
    spindle: z
      .union([
        z.strictObject({ from: speed("lowest speed"), to: speed("highest speed") }),
        z.strictObject({
          dial: z.record(z.string().max(20), speed("speed at this mark")).describe("dial mark: speed"),
        }),
      ])
      .optional()
      .describe("{from: 8000 rpm, to: 24000 rpm}, or {dial: {1: 10000 rpm, 2: 14000 rpm}}"),
    "spindle power": quantity("power of the spindle: 800 W", "power").optional(),
    "spin up": quantity("time to full speed: 4 s", "time").optional(),
    "spin down": quantity("time to a stop: 8 s", "time").optional(),
    nut: z
      .strictObject({ diameter: length("over its corners"), length: length("its height") })
      .optional()
      .describe("the collet's nut: {diameter: 25 mm, length: 20 mm}"),
    body: z
      .strictObject({ diameter: length("of the spindle's body"), length: length("its height above the nut") })
      .optional()
      .describe("the spindle above the nut: {diameter: 65 mm, length: 180 mm}"),
    "laser head": z
      .strictObject({
        x: length("from the spindle's axis"),
        y: length("from the spindle's axis"),
        radius: length("of the head"),
        underside: length("its lower face above the nut's lower face; below it is negative"),
      })
      .optional()
      .describe("a laser head on the same carriage: {x: 60 mm, y: 0 mm, radius: 20 mm, underside: 10 mm}"),
    laser: LaserFile.optional(),
    "rotary axis": z
      .strictObject({
        lies: z.literal("along X").describe("along X"),
        height: length("of the axis above the bed"),
        swing: length("largest diameter that turns free of everything, corners included"),
        chuck: z
          .strictObject({ diameter: length("its largest, jaws open"), over: length("how much of the blank it takes") })
          .describe("at the first end: {diameter: 80 mm, over: 15 mm}"),
        centre: z
          .strictObject({ diameter: length("its largest"), over: length("how much of the blank it takes") })
          .describe("at the second end: {diameter: 20 mm, over: 0 mm}"),
        "top speed": quantity("fastest turn, degrees a minute: 3600 deg", "angle"),
        acceleration: quantity("degrees a second, each second: 360 deg", "angle"),
        "crown goes to": z.enum(["front", "back"]).describe("where the top goes when A grows: front or back"),
        "A 0": z.literal("crown up").describe("crown up: A is set to zero with the blank's crown on top"),
      })
      .optional()
      .describe("an axis A that turns a blank: where it lies, how it holds, how fast and which way it turns"),
    understands: z
      .strictObject({
        arcs: yesNo("G2 and G3").optional(),
        "tool table": yesNo("G43 and H").optional(),
        "tool changer": yesNo("T and M6 change the bit").optional(),
        homes: yesNo("knows where it is after switching on").optional(),
        "exact path": yesNo("G61").optional(),
        "corner error": length("how far corners are rounded without exact path").optional(),
        axes: z
          .array(z.enum(["X", "Y", "Z", "A"]))
          .min(3)
          .max(4)
          .optional()
          .describe("axes a program may name: [X, Y, Z]"),
      })
      .optional()
      .describe("what the controller understands"),
    post: name.optional().describe("the post that writes for it: millimetre, inch, no-arcs, plain or your own"),
  })
  .describe("a machine");

const CutterFile = z
  .strictObject({
    slot: z.int().min(1).max(999).optional().describe("its number in the tool table: a whole number from 1"),
    kind: z
      .enum(["flat", "round-nose", "radiused-corner", "V", "drill", "countersink"])
      .describe("flat, round-nose, radiused-corner, V, drill or countersink"),
    diameter: length("the diameter on the label"),
    "measured diameter": length("the diameter as you measured it").optional(),
    flutes: z.int().min(1).max(8).optional().describe("number of cutting edges: 1 to 8"),
    cut: z.enum(["up-cut", "down-cut", "compression", "straight"]).optional().describe("which way it throws the chip"),
    "flute length": length("how high it cuts"),
    "stick out": length("from its tip to the nut, as it is held"),
    shank: length("diameter of the shank"),
    "dead centre": length("radius at the tip that does not cut").optional(),
    material: z.enum(["carbide", "steel"]).optional().describe("carbide or steel"),
    "max speed": speed("highest speed printed on it").optional(),
    "corner radius": length("radius of the corner").optional(),
    angle: quantity("whole angle of the V, countersink or drill point; an angle: 90 deg", "angle").optional(),
    "tip flat": length("diameter of the flat at the tip").optional(),
    "chip loads": z
      .record(name, length("feed per tooth that you found good in this wood"))
      .optional()
      .describe("wood: feed per tooth, such as {ash: 0.1 mm}"),
  })
  .describe("a cutter, as it is held");

const WoodFile = z
  .strictObject({
    "also called": z.array(name).max(20).optional().describe("other names"),
    class: z.enum(["hardwood", "softwood", "plywood", "mdf"]).optional().describe("hardwood, softwood, plywood or mdf"),
    "specific gravity": z.number().min(0.05).max(1.5).optional().describe("mass over that of water, 0.05 to 1.5"),
    radial: z
      .number()
      .min(0)
      .max(0.02)
      .optional()
      .describe("change per size and 1 % moisture across a quartersawn width"),
    tangential: z.number().min(0).max(0.02).optional().describe("the same across a flat-sawn width"),
    "radial shrinkage": z
      .number()
      .min(0.5)
      .max(20)
      .optional()
      .describe("shrinkage across the rings, green to oven-dry, in %"),
    "tangential shrinkage": z.number().min(0.5).max(20).optional().describe("the same along the rings"),
    "through sheet": z
      .number()
      .min(0)
      .max(0.02)
      .optional()
      .describe("change per size and 1 % moisture through the thickness of a sheet"),
    source: z.string().max(200).optional().describe("where you have these numbers from"),
  })
  .describe("a wood");

const HabitsFile = z
  .strictObject({
    roughing: z.enum(["climb", "conventional"]).optional().describe("climb or conventional"),
    finishing: z.enum(["climb", "conventional"]).optional().describe("climb or conventional"),
    clearance: length("clear height above all that stands up, for sideways rapids").optional(),
    approach: length("height above the wood at which a rapid ends and feed begins").optional(),
    "into waste board": length("how far a through cut goes into the waste board").optional(),
    allowance: length("wood left for the finish pass").optional(),
    "gauge block": length("the block that the witness stops are checked with").optional(),
    "least web": length("least wood between cuts from two faces").optional(),
    "least hold": quantity("least joint that holds a piece while it is cut, in mm²: 10", "number").optional(),
    sanding: length("wood that the last sanding takes off a face").optional(),
  })
  .describe("how this shop likes to work");

/** The shop file as it is written, before its sizes are read. */
export const ShopFile = z
  .strictObject({
    units: z.enum(["mm", "in"]).describe("what a bare number means: mm or in"),
    machines: z.record(name, MachineFile).optional().describe("machine names, each with its values"),
    cutters: z.record(name, CutterFile).optional().describe("cutter names, each with its values"),
    lathes: z.record(name, LatheFile).optional().describe("lathe names, each with its values"),
    "turning tools": z.record(name, TurningToolFile).optional().describe("turning tool names, each with its values"),
    woods: z.record(name, WoodFile).optional().describe("wood names, each with its values"),
    burns: BurnsFile.optional(),
    habits: HabitsFile.optional(),
    measuring: MeasuringFile.optional(),
    "fit cards": FitCardsFile.optional(),
  })
  .meta({ title: "Tillwright shop", description: "What this shop owns: machines, cutters, woods and habits" });

/** The shop file after the schema has passed it. */
export type ShopFile = z.output<typeof ShopFile>;
export type MachineFile = z.output<typeof MachineFile>;
export type CutterFile = z.output<typeof CutterFile>;
export type WoodFile = z.output<typeof WoodFile>;

/** The JSON Schema of the shop file, for editors. */
export function shopSchema(): object {
  return z.toJSONSchema(ShopFile, { io: "input" });
}
