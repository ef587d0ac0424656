import * as z from "zod";
import { closest } from "../units/closest.ts";
import { screw } from "./feature-schema.ts";
import { finishSchema } from "./finish-said.ts";
import {
  complain,
  count,
  type LeafProblem,
  length,
  line,
  list,
  map,
  named,
  orList,
  quantityOf,
  type Reading,
  word,
} from "./leaves.ts";
import { canonicalKey, plainKey } from "./words.ts";

/** The words for measuring tools, as under `measured`. */
export function toolWord() {
  return word(
    { rule: ["ruler"], tape: ["tape measure"], calipers: ["calliper", "caliper", "callipers"], gauge: ["gage"] },
    "What it was measured with.",
    "with: calipers",
  );
}

/** The case as measured. Openings are read one by one. */
export function caseSchema<O extends z.ZodType>(r: Reading, opening: O) {
  return map(
    {
      wood: line("The wood of the case sides.", "wood: cherry"),
      "side thickness": length(r, "Thickness of the case sides.", "side thickness: 15"),
      "side grain": word(
        { upright: ["up and down", "vertical"], "mouth to back": ["front to back", "along the depth"] },
        "Which way the grain of the case sides runs; upright without it, so that the depth moves.",
        "side grain: upright",
      ).optional(),
      sawn: sawn(),
      "back thickness": length(r, "Thickness of the case back.", "back thickness: 6").optional(),
      "divider thickness": length(
        r,
        "Thickness of the upright dividers between columns.",
        "divider thickness: 12",
      ).optional(),
      columns: count(
        r,
        "How many openings stand side by side; 1 without it. They are listed in rows from the top, each from the left.",
        "columns: 2",
        20,
      ).optional(),
      finish: finishSchema(r).optional(),
      "measured with": toolWord().optional(),
      openings: named(
        opening,
        "write each opening's name on a line with a colon, and below it its width, height and depth",
      ).meta({
        description: "The openings as measured, in rows from the top, each from the left.",
      }),
      seasons: map(
        {
          dry: climate("The air in the dry month.", "dry: 20 C at 35 %").optional(),
          wet: climate("The air in the wet month.", "wet: 20 C at 70 %").optional(),
        },
        'write "dry: 20 C at 35 %" and "wet: 20 C at 70 %"',
      ).optional(),
      "moisture today": moistureToday().optional(),
    },
    'write "wood:", "side thickness:" and "openings:" below "case:"',
  );
}

/** One opening as measured. */
export function openingSchema(r: Reading) {
  return map(
    {
      width: readings(
        r,
        ["mouth", "middle", "back", "mouth top", "mouth bottom"],
        "Width at runner height: one size, or by place: mouth, middle, back; mouth top and mouth bottom as well.",
        "width: {mouth: 142.3, middle: 142.1, back: 142.4}",
      ),
      height: readings(
        r,
        ["left", "middle", "right", "back"],
        "Height at the mouth: one size, or by place: left, middle, right; back as well.",
        "height: {left: 58.6, middle: 58.4, right: 58.5}",
      ),
      depth: readings(
        r,
        ["left", "middle", "right"],
        "From the mouth to the case back: one size, or by place.",
        "depth: 205",
      ),
      diagonals: map(
        {
          rising: length(r, "From lower left to upper right.", "rising: 153.8"),
          falling: length(r, "From upper left to lower right.", "falling: 153.9"),
        },
        'write "diagonals: {rising: 153.8, falling: 153.9}": from lower left to upper right, and from upper left to lower right',
      ).optional(),
      wind: length(
        r,
        "How far one corner of the mouth stands out of the plane of the other three.",
        "wind: 0.3",
        "zero or more",
      ).optional(),
      with: toolWord().optional(),
    },
    'write "width:", "height:" and "depth:" below the opening\'s name',
  );
}

/** What the drawers are to be. */
export function drawersSchema(r: Reading) {
  return drawersWith(r, z.preprocess(shortForm, frontJoint(r)), z.preprocess(shortForm, backJoint(r)));
}

/** The same for editors, which are told outright that a joint may also be said in one word. */
export function drawersForEditors(r: Reading) {
  const front = z.union([z.enum(FRONT_JOINTS), frontJoint(r)]).meta({ description: "How the sides meet the front." });
  return drawersWith(
    r,
    front,
    z.union([z.enum(BACK_JOINTS), backJoint(r)]).meta({ description: "How the sides meet the back." }),
  );
}

function drawersWith<F extends z.ZodType, B extends z.ZodType>(r: Reading, front: F, back: B) {
  return map(
    {
      fronts: map(
        {
          ...stuff(r),
          set: word(
            { inset: ["inset in the case", "flush"], lipped: ["overlay", "with a lip"] },
            "Inset: flush within the opening. Lipped: with a lip that lies on the case. Inset without it.",
            "set: inset",
          ).optional(),
          lip: map(
            {
              over: length(r, "How far the lip reaches over the case on each edge.", "over: 6"),
              thickness: length(r, "How thick the lip is.", "thickness: 5"),
            },
            'write "lip: {over: 6, thickness: 5}"',
          ).optional(),
          "from one board": word(
            {
              row: ["rows", "each row", "side by side"],
              column: ["columns", "each column", "one above the other"],
              no: ["none"],
            },
            "Fronts sawn from one board, the grain running through: those of a row, of a column, or no.",
            "from one board: row",
          ).optional(),
        },
        'write "fronts: {wood: cherry, thickness: 14}"',
      ),
      sides: map(
        {
          ...stuff(r),
          alike: word(
            { all: ["yes"], row: ["rows", "each row"], no: ["none", "each its own"] },
            "Sides and runners alike, as the least opening of all or of each row asks; or each as its own opening asks.",
            "alike: row",
          ).optional(),
        },
        'write "sides: {wood: ash, thickness: 9}"',
      ),
      backs: map(stuff(r), 'write "backs: {wood: ash, thickness: 8}"').optional(),
      bottoms: map(
        {
          ...stuff(r),
          kind: word(
            { solid: ["solid wood"], panel: ["plywood", "sheet"] },
            "solid: grain side to side, fixed in front, free at the back. panel: plywood or the like.",
            "kind: panel",
          ).optional(),
          in: word(
            { grooves: ["groove", "grooves in the sides"], slips: ["slip", "drawer slips"] },
            "In grooves of the sides, or in slips glued to them.",
            "in: grooves",
          ).optional(),
          "groove at": length(r, "Lower edge of the side to the groove.", "groove at: 6").optional(),
          "groove depth": length(r, "Depth of the bottom's groove.", "groove depth: 3").optional(),
          "groove clearance": length(
            r,
            "Groove wider than the bottom by this much.",
            "groove clearance: 0.2",
            "zero or more",
          ).optional(),
          slip: map(
            {
              width: length(r, "How wide a slip is, across.", "width: 9"),
              tall: length(r, "How tall it is.", "tall: 14"),
            },
            'write "slip: {width: 9, tall: 14}"',
          ).optional(),
          marks: list(z.any(), 'begin each with a dash below it: "- mark: signed"')
            .meta({
              description:
                "Marks on every bottom, as on any part: {drawer} is the opening, pictogram: own fills its place. Faces: inside, underside, front edge, back edge.",
            })
            .optional(),
        },
        'write "bottoms: {wood: plywood, thickness: 4}"',
      ),
      runners: map(
        {
          ...stuff(r),
          kind: word(
            { "side hung": ["side-hung", "hung", "in grooves"], below: ["runners below", "under", "bearers"] },
            "side-hung: in grooves of the sides. below: strips under the sides, with kickers above.",
            "kind: side-hung",
          ).optional(),
          tall: length(r, "How tall the runner is, upright.", "tall: 9.5"),
          "tall as planed": length(r, "The same as planed and measured.", "tall as planed: 9.45").optional(),
          "let in": length(r, "How deep it is let into the case side.", "let in: 2", "zero or more").optional(),
          "bearing wall at": length(
            r,
            "Lower edge of the drawer side to the wall of the groove that carries, its upper one.",
            "bearing wall at: 33",
          ).optional(),
          clearance: length(
            r,
            "Groove wider than the runner by this much.",
            "clearance: 0.4",
            "zero or more",
          ).optional(),
          "free depth": length(
            r,
            "Groove deeper than the runner reaches by this much.",
            "free depth: 0.8",
            "zero or more",
          ).optional(),
          nose: word({ round: ["rounded"], square: ["squared"] }, "The runner's front end.", "nose: round").optional(),
          "groove stops": length(
            r,
            "Show face of the front to the end of the groove, measured to its farthest point.",
            "groove stops: 26",
          ).optional(),
          screw: screw("The runner's screws.").optional(),
          "screw length": length(r, "How long the screws are.", "screw length: 16").optional(),
          screws: count(r, "How many hold each runner.", "screws: 3", 12).optional(),
        },
        'write "runners: {wood: hard maple, tall: 9.5, thickness: 4.5}"',
      ),
      "front joint": front,
      "back joint": back,
      reveal: length(
        r,
        "Gap around an inset front that stays in the wet month, on each edge.",
        "reveal: 0.6",
      ).optional(),
      "side clearance": length(
        r,
        "Between drawer and case on each side, that stays in the wet month.",
        "side clearance: 0.4",
      ).optional(),
      "back clearance": length(
        r,
        "Between drawer and case back, beyond what the case shrinks.",
        "back clearance: 2",
      ).optional(),
      finish: finishSchema(r)
        .meta({
          description: "The same on the drawers' faces, where it is not the case's.",
          type: ["string", "number"],
          examples: ["wax", "0.03"],
        })
        .optional(),
      "leave for fitting": length(
        r,
        "Left on each edge of a front, to be planed off when it is fitted.",
        "leave for fitting: 0.5",
        "zero or more",
      ).optional(),
      "clean up after glue": length(
        r,
        "Planed off each outer face of the sides after glue.",
        "clean up after glue: 0.3",
        "zero or more",
      ).optional(),
      rough: map(
        {
          length: length(r, "Left on the length at each end.", "length: 6", "zero or more").optional(),
          width: length(r, "Left on the width at each edge.", "width: 1.5", "zero or more").optional(),
          thickness: length(
            r,
            "Left on the thickness, both faces together.",
            "thickness: 3",
            "zero or more",
          ).optional(),
          kerf: length(r, "What the saw takes.", "kerf: 1.5", "zero or more").optional(),
        },
        'write "rough: {length: 6, width: 1.5, thickness: 3, kerf: 1.5}"',
      ).optional(),
      "held by": word(
        { tape: ["double sided tape"], vacuum: ["suction"] },
        "How their parts are held on the router.",
        "held by: tape",
      ).optional(),
      pulls: line("The turned part that each front carries, by its name.", "pulls: drawer pull").optional(),
      "between runners": named(
        map(
          {
            mouth: length(r, "Between the fitted runners, at their front ends.", "mouth: 133.4"),
            back: length(r, "Between the fitted runners, at the back.", "back: 133.6"),
            with: toolWord().optional(),
          },
          'write "{mouth: 133.4, back: 133.6}" behind the opening\'s name',
        ),
        "write each opening's name with a colon, and behind it what lies between its runners",
      )
        .meta({ description: "Measured when the runners are in, by opening. Until then no runner groove is cut." })
        .optional(),
    },
    'write "fronts:", "sides:", "bottoms:", "runners:", "front joint:" and "back joint:" below "drawers:"',
  );
}

const FRONT_JOINTS = ["half-blind", "through", "rabbet", "butt"] as const;
const BACK_JOINTS = ["through", "half-blind", "housing", "rabbet", "butt"] as const;

/** `front joint: through` says the same as `front joint: {kind: through}`. */
function shortForm(data: unknown): unknown {
  return typeof data === "string" ? { kind: data } : data;
}

function frontJoint(r: Reading) {
  return map(
    {
      kind: word(
        {
          "half blind": ["half-blind", "lapped", "half blind dovetails", "half-blind dovetails", "lapped dovetails"],
          through: ["through dovetails"],
          rabbet: ["rebate"],
          butt: ["butted"],
        },
        "How the sides meet the front.",
        "kind: half-blind",
      ),
      lap: length(r, "Wood of the front left before the ends of the sides.", "lap: 4").optional(),
      proud: length(r, "How far pins or tails stand out, to be planed flush.", "proud: 0.3", "zero or more").optional(),
      tails: count(r, "How many tails.", "tails: 2", 40).optional(),
    },
    'write "front joint: half-blind", or "{kind: half-blind, lap: 4}"',
  );
}

function backJoint(r: Reading) {
  return map(
    {
      kind: word(
        {
          through: ["through dovetails"],
          "half blind": ["half-blind", "lapped", "half blind dovetails", "half-blind dovetails", "lapped dovetails"],
          housing: ["dado", "housed"],
          rabbet: ["rebate"],
          butt: ["butted"],
        },
        "How the sides meet the back.",
        "kind: through",
      ),
      lap: length(r, "Wood of the back left behind the ends of the sides.", "lap: 3").optional(),
      proud: length(r, "How far pins or tails stand out, to be planed flush.", "proud: 0.3", "zero or more").optional(),
      tails: count(r, "How many tails.", "tails: 2", 40).optional(),
      depth: length(r, "Depth of the housing or rabbet in the sides.", "depth: 3").optional(),
      behind: length(r, "Wood of the side left behind a housing.", "behind: 8").optional(),
    },
    'write "back joint: through", or "{kind: housing, depth: 3, behind: 8}"',
  );
}

function stuff(r: Reading) {
  return {
    wood: line("The wood.", "wood: ash"),
    thickness: length(r, "Thickness, as planned.", "thickness: 9"),
    "as planed": length(r, "Thickness as planed and measured; it replaces the plan.", "as planed: 8.9").optional(),
    sawn: sawn(),
  };
}

function sawn() {
  return word(
    { flat: ["flat sawn", "flatsawn", "plain sawn"], quarter: ["quarter sawn", "quartersawn", "on the quarter"] },
    "How the board is sawn: flat or quarter. Flat without it, which moves more across.",
    "sawn: flat",
  ).optional();
}

/** Readings of one size: a single one, or by place. */
export interface Readings {
  readonly one?: number;
  readonly by: Readonly<Record<string, number>>;
}

function readings(r: Reading, places: readonly string[], says: string, example: string) {
  return z
    .any()
    .transform((data, c): Readings => {
      if (typeof data === "string") return { one: quantityOf(data, "length", r, "positive", c), by: {} };
      if (typeof data !== "object" || data === null || Array.isArray(data)) {
        complain(c, {
          code: "kind-wrong",
          what: "sizes are wanted here",
          mend: `write, for example, "${example}"`,
          at: 0,
          length: 1,
        });
        return z.NEVER;
      }
      const by: Record<string, number> = {};
      for (const [key, value] of Object.entries(data)) {
        const plain = plainKey(key);
        const place = places.includes(plain) ? plain : canonicalKey(key);
        if (!places.includes(place)) complain(c, unknownPlace(key, places), [key]);
        else if (typeof value !== "string")
          complain(c, { ...missingSize(example), onKey: true, length: key.length }, [key]);
        else by[place] = quantityOf(value, "length", r, "positive", c, [key]);
      }
      return { by };
    })
    .meta({
      description: says,
      anyOf: [
        { type: ["string", "number"] },
        {
          type: "object",
          properties: Object.fromEntries(
            places.map((p) => [p, { description: `As read: ${p}.`, type: ["string", "number"] }]),
          ),
          additionalProperties: false,
        },
      ],
    });
}

function unknownPlace(key: string, places: readonly string[]): LeafProblem {
  const like = closest(plainKey(key), places);
  return {
    code: "key-unknown",
    what: `"${key.slice(0, 60)}" is no place of this size`,
    mend: like === undefined ? `known here are ${orList(places)}` : `do you mean "${like}"?`,
    at: 0,
    length: key.length,
    onKey: true,
  };
}

function missingSize(example: string): LeafProblem {
  return {
    code: "quantity-missing",
    what: "a size is missing here",
    mend: `write, for example, "${example}"`,
    at: 0,
    length: 1,
  };
}

/** `20 C at 35 %`, as degrees Celsius and percent. */
function climate(says: string, example: string) {
  return z
    .string({ error: () => `write, for example, "${example}"` })
    .transform((text, c) => {
      const read = climateIn(text);
      if (read !== undefined) return read;
      complain(c, climateProblem(text));
      return z.NEVER;
    })
    .meta({ description: says, type: "string", examples: [example.replace(/^[^:]*: /, "")] });
}

/** The air that a text names: temperature in °C, −20 to 60; relative humidity in percent, 1 to 99. */
function climateIn(text: string): { readonly celsius: number; readonly humidity: number } | undefined {
  const found =
    /^\s*(-?\d+(?:\.\d+)?)\s*(?:°|deg(?:rees)?)?\s*([CF])\s*(?:at|and|,|;)?\s*(\d+(?:\.\d+)?)\s*%\s*(?:RH|humidity)?\s*$/i.exec(
      text,
    );
  if (found === null) return undefined;
  const degrees = Number(found[1]);
  const celsius = found[2]?.toUpperCase() === "F" ? ((degrees - 32) * 5) / 9 : degrees;
  const humidity = Number(found[3]);
  return celsius >= -20 && celsius <= 60 && humidity >= 1 && humidity <= 99 ? { celsius, humidity } : undefined;
}

function climateProblem(text: string): LeafProblem {
  return {
    code: "climate-unreadable",
    what: `"${text.slice(0, 40)}" is no air of a house or shop`,
    why: "a temperature from −20 to 60 °C with C or F behind it, and a relative humidity from 1 to 99 %",
    mend: 'write, for example, "20 C at 35 %" or "68 F at 35 %"',
    at: 0,
    length: Math.max(1, text.length),
  };
}

/** `8 % by meter`, or `3 weeks at 20 C and 45 %`. */
function moistureToday() {
  return z
    .string({ error: () => 'write, for example, "8 % by meter" or "3 weeks at 20 C and 45 %"' })
    .transform((text, c) => {
      const meter = /^\s*(\d+(?:\.\d+)?)\s*%\s*(?:by meter|by a meter|meter)?\s*$/i.exec(text);
      const percent = Number(meter?.[1]);
      if (meter && percent >= 1 && percent <= 28) return { kind: "meter" as const, percent };
      const weeks = /^\s*(\d+(?:\.\d+)?)\s*weeks?\s*(?:at|in|,|;)?\s*(.*)$/i.exec(text);
      const air = weeks?.[2] === undefined ? undefined : climateIn(weeks[2]);
      if (weeks && air !== undefined) return { kind: "weeks" as const, weeks: Number(weeks[1]), air };
      complain(c, {
        code: "climate-unreadable",
        what: `"${text.slice(0, 40)}" does not say how moist the wood is`,
        why: "a meter's percent from 1 to 28, or how many weeks the wood has lain in which air",
        mend: 'write, for example, "8 % by meter" or "3 weeks at 20 C and 45 %"',
        at: 0,
        length: Math.max(1, text.length),
      });
      return z.NEVER;
    })
    .meta({
      description: "How moist the wood is today: by meter, or by how long it has lain in which air.",
      type: "string",
      examples: ["8 % by meter", "3 weeks at 20 C and 45 %"],
    });
}
