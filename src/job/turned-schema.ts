import * as z from "zod";
import { copies, eachOf, once } from "./feature-schema.ts";
import { type Complaints, complain, count, length, line, list, map, quantityOf, type Reading, word } from "./leaves.ts";
import { markKeys, turnedMarkKeys } from "./mark-schema.ts";
import { phrases, shifted } from "./phrases.ts";
import type { Stretch } from "./turned.ts";
import { turnedWishKeys } from "./turned-wishes.ts";

/** The keys that say what a feature of a turned part is. */
export const TURNED_KINDS = ["turning", "recess", "split", "mark"] as const;
export type TurnedKind = (typeof TURNED_KINDS)[number];

/** The keys that say what an element of a profile is. */
export const ELEMENT_KINDS = [
  "tenon",
  "cylinder",
  "fillet",
  "bead",
  "cove",
  "taper",
  "ogee",
  "vee",
  "round over",
  "path",
] as const;
export type ElementKind = (typeof ELEMENT_KINDS)[number];

/** A diameter: in mm, or a share of the blank's thickness. */
export type Thickness = { readonly mm: number } | { readonly ofBlank: number };

/** A turned part, given how its features are read. */
export function turnedPartSchema<F extends z.ZodType>(r: Reading, feature: F) {
  return map(
    {
      blank: map(
        {
          wood: line("The wood, as in the shop file or the list of woods.", "wood: cherry"),
          length: length(r, "Length, along the axis.", "length: 150"),
          square: length(r, "Side of a square blank.", "square: 40").optional(),
          diameter: length(r, "Diameter of a blank that is round already.", "diameter: 40").optional(),
        },
        "write what it is turned from: {wood: cherry, length: 150, square: 40}",
      ),
      copies: copies(r).optional(),
      each: eachOf().optional(),
      "turned by": word(
        { machine: ["lathe", "program", "the machine"], hand: ["by hand", "hand tools"] },
        "machine: a program turns it. hand: a template and a story stick are made.",
        "turned by: hand",
      ).optional(),
      "square ends": squareEnds(r).optional(),
      "zero spot": line(
        "Where zero is found, if not by the blank's ends.",
        "zero spot: notch at the first end",
      ).optional(),
      "as turned": z
        .any()
        .meta({
          description:
            "Diameters read off the turned blank, each with its distance from the first end: they replace the plan. A list, or a map with the list under readings.",
          anyOf: [
            { type: "array", items: { type: "string" } },
            {
              type: "object",
              properties: {
                with: {
                  type: "string",
                  enum: ["rule", "calipers", "gauge"],
                  description: "What it was measured with.",
                },
                error: { type: ["string", "number"], description: "How far a reading may be off, on the radius." },
                readings: {
                  type: "array",
                  items: { type: "string" },
                  description: "Each a diameter and its distance from the first end: 24.1 at 12.",
                },
              },
              required: ["readings"],
              additionalProperties: false,
            },
          ],
          examples: [["24.1 at 12", "30.2 at 75"]],
        })
        .optional(),
      features: list(feature, 'begin each feature with a dash: "- turning: profile"').meta({
        description: "Its profile, its finger room, how it is split.",
      }),
      ...turnedWishKeys(r),
    },
    'write "blank:" and "features:" below the part\'s name',
  );
}

/** `as turned` as a map. */
export function asTurnedSchema(r: Reading) {
  return map(
    {
      with: word(
        { rule: ["ruler"], calipers: ["calliper", "caliper", "callipers"], gauge: ["gage"] },
        "What it was measured with.",
        "with: calipers",
      ).optional(),
      error: length(r, "How far a reading may be off, on the radius.", "error: 0.05", "zero or more").optional(),
      readings: list(
        z.any(),
        'write a list of readings: "- 24.1 at 12", a diameter and its distance from the first end',
      ),
    },
    'write a list of readings, or "with:" and "readings:" below it',
  );
}

/** The features of a turned part, each made when it is first asked for. */
export function turnedSchemas(r: Reading) {
  return {
    turning: once(() => turningSchema(r, z.any())),
    recess: once(() => fingerSchema(r)),
    split: once(() => splitSchema(r)),
    mark: once(() => turnedMarkSchema(r)),
    elements: elementSchemas(r),
  };
}

export type TurnedSchemas = ReturnType<typeof turnedSchemas>;
export type TurnedSaid<K extends TurnedKind> = z.output<ReturnType<TurnedSchemas[K]>>;

/** All features of a turned part, whole: for the published schema. */
export function turnedFeature(r: Reading) {
  const shapes = elementShapes(r);
  const elements = ELEMENT_KINDS.flatMap((kind) => {
    const description = `A ${kind}: its sizes between braces, or its name and its sizes on the lines below.`;
    const name = z.string().nullable().meta({ description });
    return [
      z.strictObject({ [kind]: z.strictObject(shapes[kind]()).meta({ description }) }),
      z.strictObject({ [kind]: name, ...shapes[kind]() }),
    ];
  });
  return z.union([turningSchema(r, z.union(elements)), fingerSchema(r), splitSchema(r), turnedMarkSchema(r)]);
}

function turningSchema<E extends z.ZodType>(r: Reading, element: E) {
  return map(
    {
      turning: featureName("turning", "profile"),
      elements: list(element, 'begin each element with a dash: "- bead: {length: 8, diameter: 30}"').meta({
        description: `The elements from the first end on, each by its name: ${ELEMENT_KINDS.join(", ")}.`,
      }),
      "half profile": yesNo(
        "The elements reach the middle only; the other half is their mirror image.",
        "half profile: yes",
      ).optional(),
      pulls: count(r, "How many pulls are turned in one blank, all alike.", "pulls: 2", 20).optional(),
      parting: stretch(r, "Waste between two pulls.", "parting: 6", "zero or more").optional(),
      "waste at ends": stretch(
        r,
        "Waste at each end of what is turned.",
        "waste at ends: 5",
        "zero or more",
      ).optional(),
      "waste diameter": length(
        r,
        "Diameter of all waste; the lesser of its neighbours' without it.",
        "waste diameter: 10",
      ).optional(),
    },
    'write "- turning: profile" and below it "elements:"',
  );
}

function fingerSchema(r: Reading) {
  return map(
    {
      recess: featureName("recess", "finger room"),
      cut: word(
        {
          "down the crown": ["crown", "from the crown", "down from the crown"],
          "into the flat back": ["back", "flat back", "into the back", "from the flat back"],
        },
        "down the crown: while the blank is round, along the split line, so that both halves get it. into the flat back: into a half.",
        "cut: down the crown",
      ),
      width: length(r, "Room for the fingers, along the axis.", "width: 70").optional(),
      "room behind": length(
        r,
        "Free space between the drawer front and the lip, after splitting and truing.",
        "room behind: 16",
      ).optional(),
      hook: length(r, "How far a finger reaches past the lip.", "hook: 10").optional(),
      fingers: count(
        r,
        "How many fingers it is for; sizes that are not given come from them.",
        "fingers: 3",
        4,
      ).optional(),
      hand: word(
        { small: ["s"], medium: ["m", "average"], large: ["l", "big"] },
        "Whose fingers.",
        "hand: medium",
      ).optional(),
      shape: word(
        { slot: ["stadium", "round ended slot"], "rounded rectangle": ["rectangle"] },
        "Its shape seen from above; a slot without it.",
        "shape: slot",
      ).optional(),
      "corner radius": length(r, "Radius of a rounded rectangle's corners.", "corner radius: 6").optional(),
      "centre at": phrases(
        r,
        "Where its middle lies along the blank; in the middle of the pull without it.",
        "centre at: 75 from first end",
        "zero or more",
      ).optional(),
      "opens over": word(
        {
          "crown side": ["crown", "the crown side"],
          "far side": ["far", "the far side"],
          nothing: ["none", "neither"],
        },
        "For one cut into the flat back: the side over which it runs out, so that fingers come in there.",
        "opens over: crown side",
      ).optional(),
      wall: wall(r).optional(),
      floor: sized(
        r,
        "floor",
        "flat",
        "dished",
        "dished 2",
        "flat, or how much deeper its middle is: dished 2.",
      ).optional(),
      "inside radius": length(r, "Radius between wall and floor.", "inside radius: 3", "zero or more").optional(),
      lip: sized(
        r,
        "lip",
        "sharp",
        "eased",
        "eased 1.5",
        "sharp, or the radius it is eased to; eased 1.5 without it.",
      ).optional(),
      "least wall": length(r, "Least wood that must stand everywhere.", "least wall: 3").optional(),
      "least lip angle": angleOf(r).optional(),
      bit: line("The bit to use, by its name in the shop file.", "bit: 6 mm round-nose").optional(),
    },
    'write "- recess: finger room" and below it "cut:", "width:", "room behind:" and "hook:"',
  );
}

function splitSchema(r: Reading) {
  return map(
    {
      split: featureName("split", "halves"),
      by: word(
        { saw: ["sawing", "band saw", "hand saw"], "paper joint": ["paper", "glue and paper"] },
        "saw: cut along its axis. paper joint: glued from two with paper between, and split there.",
        "by: saw",
      ),
      kerf: length(r, "What the saw takes.", "kerf: 1.2", "zero or more").optional(),
      wander: length(
        r,
        "How far the cut may run off its line; 0.5 without it.",
        "wander: 0.5",
        "zero or more",
      ).optional(),
      truing: length(
        r,
        "What truing takes from each sawn face; 0.5 without it.",
        "truing: 0.5",
        "zero or more",
      ).optional(),
      cleaning: length(
        r,
        "What cleaning takes from each face of a paper joint; 0.2 without it.",
        "cleaning: 0.2",
        "zero or more",
      ).optional(),
    },
    'write "- split: halves" and below it "by: saw" and "kerf: 1.2"',
  );
}

function turnedMarkSchema(r: Reading) {
  return map(
    {
      mark: featureName("mark", "mark"),
      ...turnedMarkKeys(r),
      ...markKeys(r),
      bit: line("The bit to cut it with, by its name in the shop file.", "bit: v 60").optional(),
    },
    'write "- mark: a name" and below it what it shows, where, and "made by:"',
  );
}

/** The keys of each kind of element, without the one that names it. */
function elementShapes(r: Reading) {
  const base = () => ({ name: line("What it is called on sheets.", "name: foot").optional() });
  const along = () => ({ length: stretch(r, "Length along the axis, or a share of what is left.", "length: 8") });
  const across = (says: string, example = "diameter: 24") => ({ diameter: thickness(r, says, example) });
  const ends = () => ({
    from: thickness(r, "Diameter where it begins; its neighbour's without it.", "from: 20").optional(),
    to: thickness(r, "Diameter where it ends; its neighbour's without it.", "to: 14").optional(),
  });
  return {
    tenon: () => ({ ...base(), ...along(), ...across("Diameter of the tenon.") }),
    cylinder: () => ({ ...base(), ...along(), ...across("Diameter.") }),
    fillet: () => ({ ...base(), ...along(), ...across("Diameter of the short flat.") }),
    bead: () => ({ ...base(), ...along(), ...across("Its greatest diameter.", "diameter: 30"), ...ends() }),
    cove: () => ({ ...base(), ...along(), ...across("Its least diameter, at the waist.", "diameter: 14"), ...ends() }),
    taper: () => ({ ...base(), ...along(), ...ends() }),
    ogee: () => ({
      ...base(),
      ...along(),
      ...ends(),
      ends: word(
        { level: ["flat"], upright: ["square"] },
        "How the curve runs at its ends: along the axis (level), or square to it (upright).",
        "ends: level",
      ).optional(),
    }),
    vee: () => ({
      ...base(),
      ...along(),
      ...across("Diameter at its rims."),
      bottom: thickness(r, "Diameter at its root; a right angle without it.", "bottom: 20").optional(),
      depth: length(r, "Depth, instead of bottom.", "depth: 2").optional(),
    }),
    "round over": () => ({
      ...base(),
      length: stretch(r, "Length along the axis.", "length: 5").optional(),
      radius: length(r, "Radius of a quarter round, instead of a length.", "radius: 5").optional(),
      ...ends(),
    }),
    path: () => ({
      ...base(),
      drawing: line(
        "An SVG drawing in the job's folder, in its true size: the profile as an open path, the axis at the page's lower edge.",
        "drawing: pull.svg",
      ),
      id: line("The id of the path within the drawing.", "id: profile").optional(),
      class: line("The class of the path within the drawing.", "class: profile").optional(),
    }),
  };
}

const ELEMENT_EXAMPLES: Readonly<Record<ElementKind, string>> = {
  tenon: "length: 12, diameter: 10",
  cylinder: "length: 20, diameter: 24",
  fillet: "length: 2, diameter: 24",
  bead: "length: 8, diameter: 30",
  cove: "length: 8, diameter: 14",
  taper: "length: 20, from: 24, to: 16",
  ogee: "length: 20, from: 30, to: 16",
  vee: "length: 4, diameter: 24",
  "round over": "radius: 5, from: 30",
  path: "drawing: pull.svg, id: profile",
};

/** One schema for each kind of element, without the key that names it, made when it is first asked for. */
function elementSchemas(r: Reading) {
  const shapes = elementShapes(r);
  return {
    tenon: once(() => map(shapes.tenon(), mendFor("tenon"))),
    cylinder: once(() => map(shapes.cylinder(), mendFor("cylinder"))),
    fillet: once(() => map(shapes.fillet(), mendFor("fillet"))),
    bead: once(() => map(shapes.bead(), mendFor("bead"))),
    cove: once(() => map(shapes.cove(), mendFor("cove"))),
    taper: once(() => map(shapes.taper(), mendFor("taper"))),
    ogee: once(() => map(shapes.ogee(), mendFor("ogee"))),
    vee: once(() => map(shapes.vee(), mendFor("vee"))),
    "round over": once(() => map(shapes["round over"](), mendFor("round over"))),
    path: once(() => map(shapes.path(), mendFor("path"))),
  };
}

export type ElementSchemas = ReturnType<typeof elementSchemas>;

function mendFor(kind: ElementKind): string {
  return `write its sizes between braces, or on the lines below: {${ELEMENT_EXAMPLES[kind]}}`;
}

/** A feature's name; nothing after the colon lets it be called by what it mostly is. */
function featureName(kind: TurnedKind, standard: string) {
  return z
    .string({ error: () => `write "- ${kind}: a name", and what it is on the lines below, in line with "${kind}"` })
    .nullable()
    .transform((text, c) => {
      const name = (text ?? standard).trim().replace(/\s+/g, " ");
      if (name.length === 0 || name.length > 80) {
        complain(c, {
          code: "text-unusable",
          what: "a feature's name has 1 to 80 characters",
          mend: `write, for example, "- ${kind}: ${standard}"`,
          at: 0,
          length: Math.max(1, (text ?? "").length),
        });
      }
      return name;
    })
    .meta({ description: `The ${kind}, and the name it is called by on every sheet.`, type: ["string", "null"] });
}

function yesNo(says: string, example: string) {
  return word({ yes: ["true", "on"], no: ["false", "off"] }, says, example);
}

/** A length along the axis, or `1 share` of what the fixed lengths leave. */
function stretch(r: Reading, says: string, example: string, least: "positive" | "zero or more" = "positive") {
  return z
    .string({ error: () => `write, for example, "${example}", or a share of what is left: "1 share"` })
    .transform((text, c): Stretch => {
      const share = /^(.+?)\s*shares?$/i.exec(text.trim())?.[1];
      if (share === undefined) return { kind: "mm", mm: quantityOf(text, "length", r, least, c) };
      return { kind: "shares", shares: quantityOf(share, "number", r, "positive", c) };
    })
    .meta({ description: says, type: ["string", "number"], examples: [example.replace(/^[^:]*: /, ""), "1 share"] });
}

/** A diameter, or a share of the blank: `3/4 of blank`, `80 % of blank`. */
function thickness(r: Reading, says: string, example: string) {
  return z
    .string({ error: () => `write, for example, "${example}", or a share of the blank: "3/4 of blank"` })
    .transform((text, c): Thickness => {
      const said = /^(.+?)\s*(%)?\s+of\s+(?:the\s+)?(?:blank|square)$/i.exec(text.trim());
      if (said === null) return { mm: quantityOf(text, "length", r, "positive", c) };
      const share = quantityOf(said[1] ?? "", "number", r, "positive", c) / (said[2] === undefined ? 1 : 100);
      if (share > 1) {
        complain(c, {
          code: "size-not-positive",
          what: "this is more than the whole blank",
          mend: 'write a share of 1 at most: "3/4 of blank", "80 % of blank"',
          at: 0,
          length: text.length,
        });
      }
      return { ofBlank: share };
    })
    .meta({
      description: says,
      type: ["string", "number"],
      examples: [example.replace(/^[^:]*: /, ""), "3/4 of blank"],
    });
}

/** What is left square at the ends. */
export type SquareEnds =
  | { readonly kind: "square"; readonly first: number; readonly second: number }
  | { readonly kind: "round already" }
  | { readonly kind: "none" };

function squareEnds(r: Reading) {
  const example = "square ends: 20";
  return z
    .any()
    .transform((data, c): SquareEnds => {
      if (typeof data === "string") {
        const said = data.trim();
        if (/^(?:none|nothing|no|turned away)$/i.test(said)) return { kind: "none" };
        if (/^(?:the )?(?:ends )?(?:are )?(?:already round|round already|round)$/i.test(said))
          return { kind: "round already" };
        const both = quantityOf(said, "length", r, "positive", c);
        return { kind: "square", first: both, second: both };
      }
      if (typeof data === "object" && data !== null && !Array.isArray(data)) return squareOfMap(data, r, c);
      complain(c, {
        code: "value-missing",
        what: "it is not said what is left square at the ends",
        mend: `write "${example}", or "square ends: ends already round"`,
        at: 0,
        length: 1,
      });
      return z.NEVER;
    })
    .meta({
      description:
        "Length left square at each end until the split; or a map by end; or ends already round; or none, when the ends are turned away.",
      anyOf: [
        { type: ["string", "number"] },
        {
          type: "object",
          properties: {
            "first end": { type: ["string", "number"], description: "Length left square at the first end." },
            "second end": { type: ["string", "number"], description: "Length left square at the second end." },
          },
          additionalProperties: false,
        },
      ],
      examples: ["20", "ends already round"],
    });
}

function squareOfMap(data: object, r: Reading, c: Complaints): SquareEnds {
  const out = { first: 0, second: 0 };
  for (const [key, value] of Object.entries(data)) {
    const side = /^first(?: end)?$/i.test(key.trim())
      ? "first"
      : /^second(?: end)?$/i.test(key.trim())
        ? "second"
        : undefined;
    if (side === undefined || typeof value !== "string") {
      complain(
        c,
        {
          code: "key-unknown",
          what: `"${key.slice(0, 40)}" is not an end with a length`,
          mend: "write {first end: 20, second end: 15}",
          at: 0,
          length: key.length,
          onKey: true,
        },
        [key],
      );
      return z.NEVER;
    }
    out[side] = quantityOf(value, "length", r, "zero or more", c, [key]);
  }
  return { kind: "square", ...out };
}

/** `straight`, or `sloped 12 deg`: lean of the wall from upright. */
function wall(r: Reading) {
  return z
    .string({ error: () => 'write "wall: straight" or "wall: sloped 12 deg"' })
    .transform((text, c) => {
      const said = /^(?:sloped|sloping|leaning|slanted)\s+(?:by\s+)?(.+)$/i.exec(text.trim())?.[1];
      if (said === undefined && /^(?:straight|upright|square|plumb)$/i.test(text.trim())) return 0;
      const behind = said === undefined ? 0 : text.lastIndexOf(said);
      const deg = quantityOf(said ?? text.trim(), "angle", r, "any", shifted(c, behind));
      if (deg < 0 || deg >= 75) {
        complain(c, {
          code: "lean-out-of-range",
          what: "this wall leans too far, or outwards over the wood",
          why: "a sloped wall leans from 0 up to 75 degrees from upright, wider at the top",
          mend: "write how far it leans from upright, for example sloped 12 deg",
          at: 0,
          length: text.length,
        });
      }
      return deg;
    })
    .meta({
      description: "straight, or how far the wall leans from upright: sloped 12 deg.",
      type: ["string", "number"],
      examples: ["sloped 12 deg"],
    });
}

/** A word alone, or another with a size: `flat` or `dished 2`. Read as that size; 0 for the word alone. */
function sized(r: Reading, key: string, none: string, some: string, example: string, says: string) {
  return z
    .string({ error: () => `write "${key}: ${none}" or "${key}: ${example}"` })
    .transform((text, c) => {
      const said = text.trim();
      if (said.toLowerCase() === none) return 0;
      const amount = new RegExp(`^${some}\\s+(?:by\\s+|to\\s+)?(.+)$`, "i").exec(said)?.[1];
      if (amount !== undefined)
        return quantityOf(amount, "length", r, "positive", shifted(c, text.lastIndexOf(amount)));
      complain(c, {
        code: "word-unknown",
        what: `"${said.slice(0, 40)}" does not say what the ${key} is like`,
        mend: `write "${key}: ${none}" or "${key}: ${example}"`,
        at: 0,
        length: Math.max(1, text.length),
      });
      return 0;
    })
    .meta({ description: says, type: "string", examples: [none, example] });
}

function angleOf(r: Reading) {
  return z
    .string({ error: () => 'write, for example, "least lip angle: 45 deg"' })
    .transform((text, c) => {
      const deg = quantityOf(text, "angle", r, "positive", c);
      if (deg > 90) {
        complain(c, {
          code: "lean-out-of-range",
          what: "a lip is at most square",
          why: "its least angle lies between 0 and 90 degrees",
          mend: 'write, for example, "least lip angle: 45 deg"',
          at: 0,
          length: text.length,
        });
      }
      return deg;
    })
    .meta({
      description: "Least angle of wood at the mouth's edge; 40 degrees without it.",
      type: ["string", "number"],
      examples: ["45 deg"],
    });
}

/** Reads one reading: a diameter, and its distance from an end. */
export function readingOf(
  text: string,
  r: Reading,
  c: Complaints,
): { readonly diameter: number; readonly at: number; readonly second: boolean } | undefined {
  const said = /^(.+?)\s+at\s+(.+?)(?:\s+from\s+(?:the\s+)?(first|second)(?:\s+end)?)?$/is.exec(text.trim());
  if (said?.[1] === undefined || said[2] === undefined) {
    complain(c, {
      code: "quantity-unreadable",
      what: `"${text.slice(0, 40)}" is not a diameter and a distance`,
      mend: 'write, for example, "24.1 at 12": the diameter, and how far from the first end',
      at: 0,
      length: Math.max(1, text.length),
    });
    return undefined;
  }
  const diameter = quantityOf(said[1], "length", r, "positive", c);
  const behind = text.indexOf(said[2], text.indexOf(said[1]) + said[1].length);
  const at = quantityOf(said[2], "length", r, "zero or more", shifted(c, behind));
  return { diameter, at, second: said[3]?.toLowerCase() === "second" };
}
