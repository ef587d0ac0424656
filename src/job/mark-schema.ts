import * as z from "zod";
import {
  angle,
  type Complaints,
  complain,
  length,
  line,
  map,
  orList,
  quantityOf,
  type Reading,
  wholeOf,
  word,
} from "./leaves.ts";
import { type Phrase, phrases, readPhrases } from "./phrases.ts";
import { withKnownKeys } from "./words.ts";

/** The keys that say what a mark draws: a mark has one of them, or a line from one place to another. */
export const CONTENT_KEYS = ["text", "pictogram", "drawing", "picture", "signature"] as const;
export type ContentKey = (typeof CONTENT_KEYS)[number];

/** What a mark draws and how it is made: keys of a mark on a flat part and on a turned one. */
export function markKeys(r: Reading) {
  return { ...textKeys(r), ...pictureKeys(r), ...madeKeys(r) };
}

/** Further keys of a mark on a flat part: a straight line. */
export function flatLineKeys(r: Reading) {
  return {
    "start at": phrases(
      r,
      "A straight line: where it starts.",
      "start at: 20 from first end, 15 from lower edge",
      "any",
    ).optional(),
    "end at": phrases(
      r,
      "A straight line: where it ends.",
      "end at: 80 from first end, 15 from lower edge",
      "any",
    ).optional(),
  };
}

/** Distances to a mark's middle; `middle` says that it lies midway where no distance says otherwise. */
export interface MiddleSaid {
  readonly phrases: readonly Phrase[];
  readonly middle: boolean;
}

/** `centre at` of a mark on a flat part: distances as everywhere, or the middle of the face. */
export function middleKey(r: Reading) {
  const plain = "Where the middle of the mark lies: distances, or middle for midway: middle, 45 from lower edge.";
  return z
    .any()
    .transform((data, c): MiddleSaid => {
      // Blanks in its place keep the columns of what is left.
      const rest = typeof data === "string" ? data.replace(MIDDLE, (w) => " ".repeat(w.length)) : data;
      const middle = rest !== data;
      if (middle && typeof rest === "string" && rest.trim() === "") return { phrases: [], middle };
      let complaints = 0;
      const counted: Complaints = {
        addIssue: (issue) => {
          complaints++;
          c.addIssue(issue);
        },
      };
      const found = readPhrases(rest, r, "any", counted);
      if (found.length === 0 && complaints === 0) {
        complain(c, {
          code: "place-incomplete",
          what: "a distance and what it is taken from are missing here",
          mend: 'write, for example, "centre at: middle, 45 from lower edge"',
          ...FIRST,
        });
      }
      return { phrases: found, middle };
    })
    .meta({
      description: plain,
      anyOf: [
        { type: ["string", "number"] },
        { type: "object", additionalProperties: { type: ["string", "number"] } },
        { type: "array", items: { type: ["string", "object"] } },
      ],
      examples: ["middle, 45 from lower edge"],
    });
}

const MIDDLE = /(?:^|[,;])\s*(?:the )?middle\s*(?:[,;]|$)/i;

/** Further keys of a mark on a turned part: where round it, and guide lines along it. */
export function turnedMarkKeys(r: Reading) {
  return {
    "centre at": phrases(r, "Middle of the mark along the axis.", "centre at: 95 from first end", "any").optional(),
    around: aroundOf(r).optional(),
    turned: turnedKey(r),
    along: word(
      { "split line": ["the split line", "split", "saw line"] },
      "Guide lines for the saw, where the part is split: the crown line beside the finger room, and the line opposite.",
      "along: split line",
    ).optional(),
    ends: yesNo("With the split line: whether it runs across both end faces too.", "ends: yes").optional(),
    "start at": phrases(
      r,
      "A line along the axis: where it starts; the split line starts at the first end without it.",
      "start at: 20 from first end",
      "any",
    ).optional(),
    "end at": phrases(
      r,
      "A line along the axis: where it ends; the split line ends at the second end without it.",
      "end at: 60 from first end",
      "any",
    ).optional(),
  };
}

/** How a mark is turned. */
export function turnedKey(r: Reading) {
  return angle(
    r,
    "Turned counter-clockwise about its middle, seen on its face; 0 reads along the part.",
    "turned: 90 deg",
  ).optional();
}

function textKeys(r: Reading) {
  return {
    text: textOf().optional(),
    letters: line(
      "The letters: upright or script, drawn in single lines; book, with outlines; or a font file beside the job.",
      "letters: script",
    ).optional(),
    "cap height": length(r, "Height of the capital letters.", "cap height: 5").optional(),
    width: length(
      r,
      "Width that the longest line of text, or the whole drawing, picture or pictogram fills.",
      "width: 40",
    ).optional(),
    align: word(
      { left: ["start"], centre: ["center", "middle"], right: ["end"] },
      "Where the lines of a text begin, are centred, or end; centre without it.",
      "align: left",
    ).optional(),
    "letter spacing": numberOf(
      r,
      "any",
      "Added between letters, in cap heights; 0 without it.",
      "letter spacing: 0.1",
    ).optional(),
    "line spacing": numberOf(
      r,
      "positive",
      "From one line of text to the next, in cap heights; 1.8 without it.",
      "line spacing: 1.8",
    ).optional(),
    "on arc": map(
      {
        radius: length(
          r,
          "Radius of the circle that the letters stand on; the mark's place is its centre.",
          "radius: 40",
        ),
        "middle at": angle(
          r,
          "Direction of the text's middle from that centre: 90 is the top; 90 without it.",
          "middle at: 90 deg",
        ).optional(),
        tops: word(
          { outwards: ["outward", "out"], inwards: ["inward", "in"] },
          "Which way the tops of the letters point: outwards, as over an arch, without it.",
          "tops: outwards",
        ).optional(),
      },
      'write "radius: 40" below it, and "middle at: 90 deg" where the text\'s middle is not at the top',
    ).optional(),
    date: line(
      "What {date} stands for: a date as you write it, or today, this month, this year.",
      "date: 25 November 2026",
    ).optional(),
    serial: serialOf(r).optional(),
  };
}

function pictureKeys(r: Reading) {
  return {
    pictogram: pictogramOf(r).optional(),
    drawing: line(
      "An SVG drawing in the job's folder, in its true size or to the width given.",
      "drawing: leaf.svg",
    ).optional(),
    id: line("The id of what is to be drawn within the drawing.", "id: leaf").optional(),
    class: line("The class of what is to be drawn within the drawing.", "class: cut").optional(),
    placed: word(
      { centred: ["centered"], "as drawn": ["drawn"] },
      "centred: the middle of the drawing's box is brought to the place. as drawn: the drawing's own origin is.",
      "placed: centred",
    ).optional(),
    picture: line("A picture in the job's folder, PNG or JPEG, burned in dots.", "picture: oak.png").optional(),
    tones: word(
      {
        "error spread": ["spread"],
        "wide error spread": ["wide spread"],
        ordered: ["ordered dots", "pattern"],
      },
      "How a picture's tones become dots; error spread without it.",
      "tones: error spread",
    ).optional(),
    signature: line(
      "A photo or scan of a signature in the job's folder, PNG or JPEG.",
      "signature: name.jpg",
    ).optional(),
    "drawn as": word(
      { "pen strokes": ["strokes", "middle", "centre line", "center line"], outline: ["outlines", "area"] },
      "A signature as the middle of its pen strokes, or as the area of its ink; pen strokes without it.",
      "drawn as: pen strokes",
    ).optional(),
  };
}

function madeKeys(r: Reading) {
  return {
    "made by": word(
      {
        "burned line": ["burnt line", "burned lines", "burnt lines"],
        "burned area": ["burnt area"],
        "burned picture": ["burnt picture"],
        "burned through": ["burnt through"],
        "cut line": ["cut lines", "fine bit"],
        "v groove": ["v-groove", "vee groove", "v bit", "v cut", "v carved"],
      },
      "How it is made: burned with the laser, or cut with a bit.",
      "made by: burned line",
    ),
    effect: line("What burning is to look like, as the shop file calls it.", "effect: dark line").optional(),
    angle: angle(r, "A burned area: direction of its lines; 0 without it.", "angle: 45 deg").optional(),
    ways: word(
      { one: ["one way", "1"], two: ["two ways", "both", "2"] },
      "A burned area: burned one way, or to and fro; one without it.",
      "ways: one",
    ).optional(),
    "outline last": yesNo(
      "A burned area: whether its outline is burned last; yes without it.",
      "outline last: no",
    ).optional(),
    keep: word(
      { inside: ["the inside"], outside: ["the outside"] },
      "Burned through: which side of the outline is the part; outside without it.",
      "keep: outside",
    ).optional(),
    depth: length(r, "A cut line: its depth below the face.", "depth: 0.8").optional(),
    deepest: length(r, "A V-groove: deepest that it may go.", "deepest: 2").optional(),
  };
}

function yesNo(says: string, example: string) {
  return word({ yes: ["true", "on"], no: ["false", "off"] }, says, example);
}

function numberOf(r: Reading, least: "any" | "positive", says: string, example: string) {
  return z
    .string({ error: () => `write, for example, "${example}"` })
    .transform((text, c) => quantityOf(text, "number", r, least, c))
    .meta({ description: says, type: ["string", "number"], examples: [example.replace(/^[^:]*: /, "")] });
}

const TEXT_EXAMPLE = 'text: ["{name}", "made {date}"]';

/** One line of text, or a list of lines. */
function textOf() {
  return z
    .any()
    .transform((data, c): string => {
      const lines = typeof data === "string" ? [data] : data;
      if (Array.isArray(lines) && lines.length > 0 && lines.every((l): l is string => typeof l === "string")) {
        const text = lines.map((l) => l.replace(/\n+$/, "")).join("\n");
        if (text.trim() !== "") return text;
      }
      complain(c, {
        code: "text-unusable",
        what: "there is no text here that could be written on wood",
        mend: `write one line, or a list of lines: ${TEXT_EXAMPLE}`,
        at: 0,
        length: 1,
      });
      return z.NEVER;
    })
    .meta({
      description:
        "What is written: a line or a list of lines. {name} (or {drawer}), {row}, {column}, {count}, {date} and {serial} are filled in; {{ is a brace.",
      anyOf: [{ type: ["string", "number"] }, { type: "array", items: { type: ["string", "number"] } }],
      examples: [["{name}", "made {date}"]],
    });
}

/** What `{serial}` stands for: one text for each copy, or numbers that count on. */
export type Serial =
  | { readonly kind: "list"; readonly items: readonly string[] }
  | { readonly kind: "from"; readonly first: number };

function serialOf(r: Reading) {
  return z
    .any()
    .transform((data, c): Serial => {
      if (Array.isArray(data) && data.length > 0 && data.every((d): d is string => typeof d === "string")) {
        return { kind: "list", items: data };
      }
      if (typeof data === "string") {
        const first = /^from\s+(\S+)$/i.exec(data.trim())?.[1];
        if (first !== undefined) return { kind: "from", first: wholeOf(first, r, 1_000_000, c) };
        if (data.trim() !== "") return { kind: "list", items: [data] };
      }
      complain(c, {
        code: "value-missing",
        what: "there are no serial numbers here",
        mend: 'write a list with one for each copy, "serial: [A1, A2]", or "serial: from 12"',
        at: 0,
        length: 1,
      });
      return z.NEVER;
    })
    .meta({
      description: "What {serial} stands for: a list with one for each copy, or numbers that count on: from 12.",
      anyOf: [{ type: ["string", "number"] }, { type: "array", items: { type: ["string", "number"] } }],
      examples: ["from 12"],
    });
}

/** A cell of a grid of drawers, counted from the top left. */
export interface CellAt {
  readonly row: number;
  readonly column: number;
}

/** What a pictogram is as said. */
export interface PictogramSaid {
  readonly grid:
    | { readonly kind: "front view" }
    | { readonly kind: "lines"; readonly lines: unknown }
    | {
        readonly kind: "plain";
        readonly rows: number;
        readonly columns: number;
        readonly joined: readonly (readonly [CellAt, CellAt])[];
      };
  readonly filled:
    | { readonly kind: "own" }
    | { readonly kind: "name"; readonly name: string }
    | ({ readonly kind: "cell" } & CellAt);
  readonly height?: number;
}

const PICTOGRAM_KEYS = ["rows", "columns", "joined", "drawers", "filled", "height"];
const PICTOGRAM_MEND =
  'write "pictogram: own" with a "front view:" above the parts, or {rows: 3; columns: 2; filled: row 2 column 1} on lines of its own';

function pictogramOf(r: Reading) {
  return z
    .any()
    .transform((data, c): PictogramSaid => {
      if (typeof data === "string" && data.trim() !== "") {
        return { grid: { kind: "front view" }, filled: filledOf(data) };
      }
      if (typeof data === "object" && data !== null && !Array.isArray(data)) return pictogramOfMap(data, r, c);
      complain(c, {
        code: "mark-incomplete",
        what: "a pictogram is not described here",
        mend: PICTOGRAM_MEND,
        ...FIRST,
      });
      return z.NEVER;
    })
    .meta({
      description:
        "The cabinet's drawers as a grid with one of them filled: own (each copy its own), a drawer's name, or a map with rows, columns and filled.",
      anyOf: [
        { type: "string" },
        {
          type: "object",
          properties: {
            rows: { type: ["string", "integer"], description: "Rows of drawers." },
            columns: { type: ["string", "integer"], description: "Drawers in a row." },
            joined: {
              anyOf: [{ type: "string" }, { type: "array", items: { type: "string" } }],
              description: "Cells that are one drawer: row 1 column 1 to row 1 column 2.",
            },
            drawers: { type: "array", description: "A front view of this pictogram alone, row by row." },
            filled: { type: "string", description: "The filled drawer: own, its name, or row 2 column 1." },
            height: { type: ["string", "number"], description: "Height of the whole grid." },
          },
          additionalProperties: false,
        },
      ],
      examples: ["own", "cinnamon"],
    });
}

const FIRST = { at: 0, length: 1 } as const;

function pictogramOfMap(data: object, r: Reading, c: Complaints): PictogramSaid {
  const said = withKnownKeys(data, PICTOGRAM_KEYS) as Record<string, unknown>;
  const odd = Object.keys(said).filter((k) => !PICTOGRAM_KEYS.includes(k));
  for (const key of odd) {
    const what = `"${key}" is not known here`;
    const mend = `known here are ${orList(PICTOGRAM_KEYS)}`;
    complain(c, { code: "key-unknown", what, mend, at: 0, length: key.length, onKey: true }, [key]);
  }
  const { rows, columns, joined, drawers, filled, height } = said;
  const size = typeof height === "string" ? quantityOf(height, "length", r, "positive", c, ["height"]) : undefined;
  const rest = {
    filled: typeof filled === "string" ? filledOf(filled) : ({ kind: "own" } as const),
    ...(size !== undefined && { height: size }),
  };
  if (drawers !== undefined && rows === undefined && columns === undefined) {
    return { grid: { kind: "lines", lines: drawers }, ...rest };
  }
  if (rows === undefined && columns === undefined && joined === undefined) {
    return { grid: { kind: "front view" }, ...rest };
  }
  if (typeof rows !== "string" || typeof columns !== "string" || drawers !== undefined) {
    const what = drawers === undefined ? "a grid needs both rows and columns" : "the drawers are given twice";
    const mend =
      drawers === undefined ? 'write "rows: 3" and "columns: 2"' : 'keep "drawers:", or "rows:" and "columns:"';
    complain(c, { code: "mark-incomplete", what, mend, ...FIRST });
    return z.NEVER;
  }
  const texts = joined === undefined ? [] : Array.isArray(joined) ? joined : [joined];
  return {
    grid: {
      kind: "plain",
      rows: wholeOf(rows, r, 100, c, ["rows"]),
      columns: wholeOf(columns, r, 100, c, ["columns"]),
      joined: texts.flatMap((t, i) => joinedOf(t, c, Array.isArray(joined) ? ["joined", i] : ["joined"])),
    },
    ...rest,
  };
}

function joinedOf(text: unknown, c: Complaints, path: readonly PropertyKey[]): readonly (readonly [CellAt, CellAt])[] {
  const said = typeof text === "string" ? /^(.+?)\s+to\s+(.+)$/i.exec(text.trim()) : null;
  const [from, to] = [cellAt(said?.[1] ?? ""), cellAt(said?.[2] ?? "")];
  if (from !== undefined && to !== undefined) return [[from, to]];
  complain(
    c,
    {
      code: "word-unknown",
      what: "this does not say which cells are one drawer",
      mend: 'write "row 1 column 1 to row 1 column 2": its first and its last cell',
      at: 0,
      length: typeof text === "string" ? Math.max(1, text.length) : 1,
    },
    path,
  );
  return [];
}

function filledOf(text: string): PictogramSaid["filled"] {
  const said = text.trim();
  if (/^(?:own|each|its own|each its own)$/i.test(said)) return { kind: "own" };
  const cell = cellAt(said);
  return cell === undefined ? { kind: "name", name: said.replace(/\s+/g, " ") } : { kind: "cell", ...cell };
}

/** "row 2 column 1", with or without a comma. */
export function cellAt(text: string): CellAt | undefined {
  const said = /^row\s+(\d{1,3})\s*,?\s*col(?:umn)?\s+(\d{1,3})$/i.exec(text.trim());
  return said === null ? undefined : { row: Number(said[1]), column: Number(said[2]) };
}

/** Which way a mark on a turned part looks: one angle, or several. */
function aroundOf(r: Reading) {
  return z
    .any()
    .transform((data, c): readonly number[] => {
      const texts: unknown[] = Array.isArray(data) ? data : [data];
      if (texts.length > 0 && texts.every((t): t is string => typeof t === "string")) {
        return texts.map((t, i) => sideOf(t) ?? quantityOf(t, "angle", r, "any", c, Array.isArray(data) ? [i] : []));
      }
      complain(c, {
        code: "value-missing",
        what: "it is not said which way this mark looks",
        mend: 'write "around: 90 deg", or a list of angles: [90, 270]',
        ...FIRST,
      });
      return z.NEVER;
    })
    .meta({
      description:
        "Which way the mark looks: degrees from the crown over the upper edge, one or a list. 90 and 270 are the show faces of the two halves.",
      anyOf: [{ type: ["string", "number"] }, { type: "array", items: { type: ["string", "number"] } }],
      examples: ["90", ["90", "270"]],
    });
}

function sideOf(text: string): number | undefined {
  return /^(?:the )?crown$/i.test(text.trim()) ? 0 : undefined;
}
