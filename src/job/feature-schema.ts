import * as z from "zod";
import {
  angle,
  type Complaints,
  complain,
  count,
  depth,
  length,
  line,
  map,
  orList,
  quantityOf,
  type Reading,
  wholeOf,
  word,
} from "./leaves.ts";
import { flatLineKeys, markKeys, turnedKey } from "./mark-schema.ts";
import { middleKey } from "./mark-values.ts";
import { phrases } from "./phrases.ts";
import { knownScrews, type Screw, screwCalled } from "./screws.ts";
import { withKnownKeys } from "./words.ts";

/** The keys that say what a feature is. British and American, old and new names are read as these. */
export const FEATURE_KINDS = ["groove", "rabbet", "mortise", "recess", "hole", "outline", "mark"] as const;
export type FeatureKind = (typeof FEATURE_KINDS)[number];

/** One schema for each kind of feature, made when it is first asked for: few jobs have all kinds. */
export function featureSchemas(r: Reading) {
  return {
    groove: once(() => grooveSchema(r)),
    rabbet: once(() => rabbetSchema(r)),
    mortise: once(() => mortiseSchema(r)),
    recess: once(() => recessSchema(r)),
    hole: once(() => holeSchema(r)),
    outline: once(() => outlineSchema(r)),
    mark: once(() => markSchema(r)),
  };
}

/** Makes a thing when it is first asked for, and keeps it. */
export function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

export type FeatureSchemas = ReturnType<typeof featureSchemas>;
export type Said<K extends FeatureKind> = z.output<ReturnType<FeatureSchemas[K]>>;

const MEND = 'write "- groove: a name" and below it, two spaces further in, what it is: width, depth, where';

function grooveSchema(r: Reading) {
  return map(
    {
      groove: featureName("groove"),
      ...common(),
      ...places(r, "the groove"),
      from: line(
        "The edge or end that a groove runs along; its place is measured from there.",
        "from: lower edge",
      ).optional(),
      "bearing wall": line(
        'Which wall carries the load: the one towards this edge. A hung drawer rests on the top wall of its groove. A groove with "runner" in its name must say it.',
        "bearing wall: upper edge",
      ).optional(),
      "bearing wall at": phrases(
        r,
        'Distance of the bearing wall from the edge named by "from".',
        "bearing wall at: 24",
        "zero or more",
      ).optional(),
      "start at": phrases(
        r,
        "For a groove between two points: where its centre line starts.",
        "start at: 20 from first end, 15 from lower edge",
        "any",
      ).optional(),
      "end at": phrases(
        r,
        "For a groove between two points: where its centre line ends.",
        "end at: 80 from first end, 15 from lower edge",
        "any",
      ).optional(),
      width: length(r, "Width of the groove from wall to wall.", "width: 6"),
      depth: depth(r, "Depth below the face it is cut in, or through."),
      stops: phrases(
        r,
        "Where the groove stops short, measured to its farthest point. Without it the groove runs through.",
        "stops: 12 from front end",
        "zero or more",
      ).optional(),
      ends: word(
        { round: ["rounded"], square: ["squared"] },
        "Shape of stopped ends: round as the bit leaves them, or square.",
        "ends: round",
      ).optional(),
      ...insideRadius(r),
    },
    MEND,
  );
}

function rabbetSchema(r: Reading) {
  return map(
    {
      rabbet: featureName("rabbet"),
      ...common(),
      along: line("The edge or end that the rabbet (rebate) is cut along.", "along: upper edge"),
      width: length(r, "Width of the step, measured in from that edge.", "width: 6"),
      depth: depth(r, "Depth below the face it is cut in."),
      stops: phrases(
        r,
        "Where it stops short, measured to its farthest point.",
        "stops: 12 from front end",
        "zero or more",
      ).optional(),
      ...insideRadius(r),
    },
    MEND,
  );
}

function mortiseSchema(r: Reading) {
  return map(
    {
      mortise: featureName("mortise"),
      ...common(),
      ...places(r, "the mortise"),
      length: length(r, "Overall length, round ends included.", "length: 30"),
      width: length(r, "Width: the loose tenon's thickness.", "width: 6"),
      depth: depth(r, "Depth below the face it is cut in."),
      turned: angle(r, "Turned counter-clockwise about its centre, seen on its face.", "turned: 90 deg").optional(),
    },
    MEND,
  );
}

function recessSchema(r: Reading) {
  return map(
    {
      recess: featureName("recess"),
      ...common(),
      ...places(r, "the recess"),
      shape: word(SHAPES, "Its shape seen from above.", "shape: slot"),
      ...shapeSizes(r),
      depth: depth(r, "Depth of the floor below the face; of a dished floor, at the foot of the wall."),
      wall: lean(r).optional(),
      floor: flatOr(r, "dished", "flat, or how much deeper the floor is in the middle: dished 3.").optional(),
      "radius at floor": length(r, "Radius between wall and floor.", "radius at floor: 3").optional(),
      edge: flatOr(r, "eased", "sharp, or the radius that the edge at the face is eased to: eased 1.5.").optional(),
      ...insideRadius(r),
    },
    MEND,
  );
}

function holeSchema(r: Reading) {
  const row = rowOf(r);
  return map(
    {
      hole: featureName("hole"),
      ...common(),
      "centre at": phrases(
        r,
        "Where the hole's centre is; with a row or grid, the first hole's.",
        "centre at: 20 from front end, 28 from lower edge",
        "any",
      ).optional(),
      "centres at": phrases(
        r,
        "Several centres, one on each line of a list.",
        "centres at: a list of places, each with a dash",
        "any",
      ).optional(),
      diameter: length(
        r,
        'Diameter of the hole. Without it, "screw" gives the hole the screw slips through.',
        "diameter: 5",
      ).optional(),
      screw: screw("The wood screw that goes through.").optional(),
      depth: depth(r, "Depth below the face, or through."),
      row: row.optional(),
      grid: map(
        { columns: row, rows: row },
        'write "columns: 3 at 32 towards second end" and "rows: 2 at 20 towards upper edge"',
      ).optional(),
      "countersunk for": screw("The screw whose head is let in flush.").optional(),
      countersunk: map(
        {
          "head diameter": length(r, "Diameter of the countersink at the face.", "head diameter: 8"),
          angle: angle(r, "Included angle: 90 deg for metric screws, 82 deg for numbered ones.", "angle: 90 deg"),
        },
        'write "head diameter:" and "angle:" below it, or "countersunk for: no 6" in its place',
      ).optional(),
      counterbored: map(
        {
          diameter: length(r, "Diameter of the counterbore.", "diameter: 10"),
          depth: length(r, "Depth of its floor below the face.", "depth: 4"),
        },
        'write "diameter:" and "depth:" below it',
      ).optional(),
    },
    MEND,
  );
}

function outlineSchema(r: Reading) {
  return map(
    {
      outline: featureName("outline"),
      ...common(),
      ...places(r, "the opening"),
      side: word(
        { outside: ["out", "the outside"], inside: ["in", "the inside", "opening"] },
        "outside: the part is cut out of its blank. inside: an opening is cut through it.",
        "side: outside",
      ),
      shape: word(
        { ...SHAPES, blank: ["the blank", "the part"] },
        "Its shape seen from above; without it, the blank's own rectangle.",
        "shape: slot",
      ).optional(),
      ...shapeSizes(r),
      corners: corners(r).optional(),
      "hold by": holdBy(r),
      ...insideRadius(r),
    },
    MEND,
  );
}

function markSchema(r: Reading) {
  return map(
    {
      mark: featureName("mark"),
      ...common(),
      ...places(r, "the mark"),
      "centre at": middleKey(r).optional(),
      turned: turnedKey(r),
      ...flatLineKeys(r),
      ...markKeys(r),
    },
    MEND,
  );
}

/** A feature's name; nothing after the colon lets it be called by its kind. */
function featureName(kind: FeatureKind) {
  return z
    .string({ error: () => `write "- ${kind}: a name", and what it is on the lines below, in line with "${kind}"` })
    .nullable()
    .transform((text, c) => {
      const name = (text ?? kind).trim().replace(/\s+/g, " ");
      if (name.length === 0 || name.length > 80) {
        complain(c, {
          code: "text-unusable",
          what: "a feature's name has 1 to 80 characters",
          mend: `write, for example, "- ${kind}: ${kind === "groove" ? "runner" : kind}"`,
          at: 0,
          length: Math.max(1, (text ?? "").length),
        });
      }
      return name;
    })
    .meta({ description: `A ${kind}, and the name it is called by on every sheet.`, type: ["string", "null"] });
}

function common() {
  return {
    on: line(
      "The face it is cut in: face, back, an edge or end, by this part's own names. Without it: face.",
      "on: inside",
    ).optional(),
    bit: line(
      "The bit to use, by its name in the shop file. Without it the largest that fits is chosen.",
      "bit: 6 mm down-cut",
    ).optional(),
  };
}

function insideRadius(r: Reading) {
  return {
    "inside radius": length(r, "Largest radius that may stay in inside corners.", "inside radius: 3").optional(),
  };
}

function places(r: Reading, what: string) {
  return {
    "centre at": phrases(
      r,
      `Where the centre of ${what} lies.`,
      "centre at: 120 from front end, 28.5 from lower edge",
      "any",
    ).optional(),
    "near edge at": phrases(
      r,
      `Distance to the edge of ${what} nearest the border it is taken from.`,
      "near edge at: 8 from lower edge",
      "zero or more",
    ).optional(),
    "far edge at": phrases(
      r,
      `Distance to the edge of ${what} farthest from the border it is taken from.`,
      "far edge at: 14 from lower edge",
      "zero or more",
    ).optional(),
  };
}

const SHAPES = {
  slot: ["stadium", "round ended slot"],
  circle: ["round", "disc"],
  oval: ["ellipse"],
  "rounded rectangle": ["rectangle"],
  drawing: ["drawn"],
} as const;

function shapeSizes(r: Reading) {
  return {
    length: length(
      r,
      "Overall length of a slot, oval or rounded rectangle, along the part before turning.",
      "length: 40",
    ).optional(),
    width: length(r, "Overall width.", "width: 12").optional(),
    diameter: length(r, "Diameter of a circle.", "diameter: 35").optional(),
    "corner radius": length(r, "Radius of a rounded rectangle's corners.", "corner radius: 6").optional(),
    drawing: line(
      "An SVG drawing in the job's folder, in its true size; its closed outlines are used, or those that id or class picks out.",
      "drawing: leaf.svg",
    ).optional(),
    id: line("The id of the path within the drawing.", "id: leaf").optional(),
    class: line("The class of the paths within the drawing.", "class: cut").optional(),
    placed: word(
      { centred: ["centered"], "as drawn": ["drawn"] },
      "centred: the middle of the drawing's box is brought to the place. as drawn: the drawing's own origin is.",
      "placed: centred",
    ).optional(),
    turned: angle(r, "Turned counter-clockwise about its centre, seen on its face.", "turned: 30 deg").optional(),
  };
}

/** `straight`, or `sloped 12 deg`: lean of the wall from upright. */
/** Nothing (flat, sharp), or a word with a size: "dished 3", "eased 1.5". Read as that size; 0 for nothing. */
function flatOr(r: Reading, kind: "dished" | "eased", says: string) {
  const [none, size] =
    kind === "dished"
      ? [/^(?:flat|level|plane)$/i, /^(?:dished|dish|hollowed)\s+(?:by\s+)?(.+)$/i]
      : [/^(?:sharp|square|none)$/i, /^(?:eased|rounded over|rounded|softened)\s+(?:by\s+|to\s+)?(.+)$/i];
  const plain = kind === "dished" ? "flat" : "sharp";
  const key = kind === "dished" ? "floor" : "edge";
  const example = kind === "dished" ? "dished 3" : "eased 1.5";
  return z
    .string({ error: () => `write "${key}: ${plain}" or "${key}: ${example}"` })
    .transform((text, c) => {
      const said = text.trim();
      if (none.test(said)) return 0;
      const amount = size.exec(said)?.[1];
      if (amount !== undefined) return quantityOf(amount, "length", r, "positive", c);
      complain(c, {
        code: "word-unknown",
        what: `"${said.slice(0, 40)}" does not say what the ${key} is like`,
        mend: `write "${key}: ${plain}" or "${key}: ${example}"`,
        at: 0,
        length: Math.max(1, text.length),
      });
      return 0;
    })
    .meta({ description: says, type: "string", examples: [plain, example] });
}

function lean(r: Reading) {
  return z
    .string({ error: () => 'write "wall: straight" or "wall: sloped 12 deg"' })
    .transform((text, c) => {
      const said = /^(?:sloped|sloping|leaning|slanted)\s+(?:by\s+)?(.+)$/i.exec(text.trim())?.[1];
      if (said === undefined && /^(?:straight|upright|square|plumb)$/i.test(text.trim())) return 0;
      const deg = quantityOf(said ?? text.trim(), "angle", r, "any", c);
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

/** `sharp`, `rounded 6`, or a radius. */
function corners(r: Reading) {
  return z
    .string({ error: () => 'write "corners: sharp" or "corners: rounded 6"' })
    .transform((text, c) => {
      if (/^(?:sharp|square)$/i.test(text.trim())) return 0;
      const said = /^(?:rounded|round|radius)\s+(?:to\s+)?(.+)$/i.exec(text.trim())?.[1] ?? text.trim();
      return quantityOf(said, "length", r, "positive", c);
    })
    .meta({
      description: "Corners of the outline: sharp, or rounded to a radius.",
      type: ["string", "number"],
      examples: ["rounded 6"],
    });
}

/** How the piece stays in place until the last cut is done. */
export type Hold =
  | { readonly kind: "tabs"; readonly count: number; readonly width: number; readonly height: number }
  | { readonly kind: "skin"; readonly thickness: number }
  | { readonly kind: "none" };

const HOLD_KEYS = ["tabs", "width", "height", "skin"];

const HOLD_EXAMPLE = "hold by: 3 tabs, 6 wide, 1.5 high";

function holdBy(r: Reading) {
  return z
    .any()
    .transform((data, c): Hold => {
      if (typeof data === "string") return holdOfText(data, r, c);
      if (typeof data === "object" && data !== null && !Array.isArray(data))
        return holdOfMap(withKnownKeys(data, HOLD_KEYS) as Record<string, unknown>, r, c);
      complain(
        c,
        holdProblem(
          data === undefined || data === null
            ? "it is not said what holds the piece while it is cut free"
            : "this does not say what holds the piece",
          1,
        ),
      );
      return z.NEVER;
    })
    .meta({
      description:
        "What keeps the piece from coming loose: tabs, a skin of wood left under the cut, or nothing (only where the underside is held by tape or vacuum).",
      anyOf: [
        { type: "string" },
        {
          type: "object",
          properties: {
            tabs: {},
            width: { type: ["string", "number"] },
            height: { type: ["string", "number"] },
            skin: { type: ["string", "number"] },
          },
          additionalProperties: false,
        },
      ],
      examples: ["3 tabs, 6 wide, 1.5 high", "skin 0.5", "nothing"],
    });
}

function holdOfText(text: string, r: Reading, c: Complaints): Hold {
  const said = text.trim();
  if (/^(?:nothing|none|no tabs)$/i.test(said)) return { kind: "none" };
  const skin = /^(?:a )?skin(?: of)?\s+(.+)$/is.exec(said);
  if (skin?.[1] !== undefined) return { kind: "skin", thickness: quantityOf(skin[1], "length", r, "positive", c) };
  const tabs = /^(\S+)\s+tabs?\s*,?\s+(.+?)\s+wide\s*,?\s*(?:and\s+)?(.+?)\s+(?:high|thick|tall)$/is.exec(said);
  if (tabs) {
    return {
      kind: "tabs",
      count: wholeOf(tabs[1] ?? "", r, 100, c),
      width: quantityOf(tabs[2] ?? "", "length", r, "positive", c),
      height: quantityOf(tabs[3] ?? "", "length", r, "positive", c),
    };
  }
  complain(c, holdProblem(`"${said.slice(0, 40)}" does not say what holds the piece`, text.length));
  return z.NEVER;
}

function holdOfMap(data: Record<string, unknown>, r: Reading, c: Complaints): Hold {
  const inner = data.tabs;
  const nested = typeof inner === "object" && inner !== null && !Array.isArray(inner);
  const from = nested ? (inner as Record<string, unknown>) : data;
  const path = nested ? ["tabs"] : [];
  const keys = nested ? ["count", "width", "height"] : "skin" in data ? ["skin"] : ["tabs", "width", "height"];
  const odd = [
    ...Object.keys(from).filter((k) => !keys.includes(k)),
    ...(nested ? Object.keys(data).filter((k) => k !== "tabs") : []),
  ];
  for (const key of odd) {
    const at = nested && key in from ? [...path, key] : [key];
    complain(
      c,
      {
        code: "key-unknown",
        what: `"${key}" is not known here`,
        mend: `known here are ${orList(keys)}`,
        at: 0,
        length: key.length,
        onKey: true,
      },
      at,
    );
  }
  const texts = keys.map((k) => from[k]);
  if (!texts.every((t): t is string => typeof t === "string")) {
    complain(c, holdProblem("it is not fully said what holds the piece", 1));
    return z.NEVER;
  }
  const at = (k: string): PropertyKey[] => [...path, k];
  if (keys[0] === "skin")
    return { kind: "skin", thickness: quantityOf(texts[0]!, "length", r, "positive", c, at("skin")) };
  return {
    kind: "tabs",
    count: wholeOf(texts[0]!, r, 100, c, at(keys[0]!)),
    width: quantityOf(texts[1]!, "length", r, "positive", c, at("width")),
    height: quantityOf(texts[2]!, "length", r, "positive", c, at("height")),
  };
}

function holdProblem(what: string, length: number) {
  return {
    code: "hold-unsaid",
    what,
    mend: `write "${HOLD_EXAMPLE}", "hold by: skin 0.5" or "hold by: nothing"`,
    at: 0,
    length,
  } as const;
}

/** A row of holes: how many, how far from centre to centre, and towards which border it goes on. */
export interface Row {
  readonly count: number;
  readonly spacing: number;
  readonly towards: string;
}

const ROW_EXAMPLE = "4 at 32 towards second end";

function rowOf(r: Reading) {
  return z
    .any()
    .transform((data, c): Row => {
      if (typeof data === "string") {
        const said = /^(\S+)\s+(?:holes?\s+)?(?:at|every)\s+(.+?)\s+towards?\s+(\S.*)$/is.exec(data.trim());
        if (said) {
          return {
            count: wholeOf(said[1] ?? "", r, 500, c),
            spacing: quantityOf(said[2] ?? "", "length", r, "positive", c),
            towards: said[3] ?? "",
          };
        }
      } else if (typeof data === "object" && data !== null && !Array.isArray(data)) {
        const known = withKnownKeys(data, ["count", "spacing", "towards"]);
        const { count: n, spacing, towards, ...rest } = known as Record<string, unknown>;
        const odd = Object.keys(rest)[0];
        if (odd !== undefined) {
          complain(
            c,
            {
              code: "key-unknown",
              what: `"${odd}" is not known here`,
              mend: `known here are ${orList(["count", "spacing", "towards"])}`,
              at: 0,
              length: odd.length,
              onKey: true,
            },
            [odd],
          );
          return z.NEVER;
        }
        if (typeof n === "string" && typeof spacing === "string" && typeof towards === "string") {
          return {
            count: wholeOf(n, r, 500, c, ["count"]),
            spacing: quantityOf(spacing, "length", r, "positive", c, ["spacing"]),
            towards,
          };
        }
      }
      complain(c, {
        code: "row-incomplete",
        what: "it is not fully said how the row goes on",
        mend: `write, for example, "${ROW_EXAMPLE}": how many, how far from centre to centre, towards which edge or end`,
        at: 0,
        length: typeof data === "string" ? data.length : 1,
      });
      return z.NEVER;
    })
    .meta({
      description:
        'A row of holes, the first at "centre at": how many, how far apart from centre to centre, and towards which edge or end.',
      anyOf: [
        { type: "string" },
        {
          type: "object",
          properties: {
            count: { type: ["string", "integer"] },
            spacing: { type: ["string", "number"] },
            towards: { type: "string" },
          },
          required: ["count", "spacing", "towards"],
          additionalProperties: false,
        },
      ],
      examples: [ROW_EXAMPLE],
    });
}

/** A wood screw by its number or its thickness. */
export function screw(says: string) {
  return z
    .string({ error: () => 'write, for example, "no 6" or "4 mm"; a # would begin a comment' })
    .transform((text, c): Screw => {
      const found = screwCalled(text);
      if (found.screw) return found.screw;
      const names = knownScrews().map((s) => s.name);
      complain(c, {
        code: "screw-unknown",
        what: `"${text.slice(0, 40)}" is not a screw that is known here`,
        mend:
          found.like === undefined
            ? `known are ${orList(names)}`
            : `do you mean "${found.like}"? Known are ${orList(names)}`,
        at: 0,
        length: text.length,
      });
      return z.NEVER;
    })
    .meta({ description: says, type: "string", enum: knownScrews().map((s) => s.name) });
}

/** What each copy is called. */
export function eachOf() {
  return z
    .any()
    .transform((data, c): readonly string[] => {
      const names: unknown[] = typeof data === "string" ? data.split(",") : Array.isArray(data) ? data : [];
      const tidied = names.flatMap((n) => (typeof n === "string" ? [n.trim().replace(/\s+/g, " ")] : []));
      const usable = tidied.every((n) => n.length > 0 && n.length <= 80);
      if (tidied.length > 0 && tidied.length === names.length && tidied.length <= 200 && usable) return tidied;
      complain(c, {
        code: "text-unusable",
        what: "this does not say what each copy is called",
        mend: 'write one name for each copy: "each: [cinnamon, cloves]"',
        at: 0,
        length: typeof data === "string" ? Math.max(1, data.length) : 1,
      });
      return z.NEVER;
    })
    .meta({
      description:
        "What each copy is called, in order: its drawer, as the front view has it. Marks may then show it; the cutting stays the same for all.",
      anyOf: [{ type: "string" }, { type: "array", items: { type: ["string", "number"] } }],
      examples: [["cinnamon", "cloves"]],
    });
}

/** A number of copies. */
export function copies(r: Reading) {
  return count(r, "How many of it are made.", "copies: 2", 200);
}
