import * as z from "zod";
import { type Complaints, complain, type LeafProblem, type Least, quantityOf, type Reading } from "./leaves.ts";

/** "12 from front end", as read: the border is still a word, since only the part knows its own names. */
export interface Phrase {
  readonly distance: number;
  /** Absent when only a distance is said; `from` then says the border. */
  readonly border?: string;
  /** Where the border's word stands: steps from the value, whether in a key, and the columns within it. */
  readonly spot: Spot;
}

/** A stretch of a text or of a key below some value. */
export interface Spot {
  readonly path: readonly PropertyKey[];
  readonly onKey: boolean;
  readonly at: number;
  readonly length: number;
}

/**
 * One or more distances with the border each is taken from. All of these say the same:
 * `120 from front end, 28.5 from lower edge` · `{from front end: 120, from lower edge: 28.5}` ·
 * `{120 from: front end, 28.5 from: lower edge}` · a list of such phrases.
 */
export function phrases(r: Reading, says: string, example: string, least: Least) {
  return z
    .any()
    .transform((data, c): readonly Phrase[] => {
      let complaints = 0;
      const counted: Complaints = {
        addIssue: (issue) => {
          complaints++;
          c.addIssue(issue);
        },
      };
      const out = readPhrases(data, r, least, counted);
      if (out.length === 0 && complaints === 0) complain(c, missingPlace(example));
      return out;
    })
    .meta({
      description: says,
      anyOf: [
        { type: ["string", "number"] },
        { type: "object", additionalProperties: { type: ["string", "number"] } },
        {
          type: "array",
          items: {
            anyOf: [
              { type: ["string", "number"] },
              { type: "object", additionalProperties: { type: ["string", "number"] } },
            ],
          },
        },
      ],
      examples: [example.replace(/^[^:]*: /, "")],
    });
}

/** Reads phrases out of plain data. Problems go to `c`; what could be read is returned. */
export function readPhrases(
  data: unknown,
  r: Reading,
  least: Least,
  c: Complaints,
  path: readonly PropertyKey[] = [],
): readonly Phrase[] {
  if (typeof data === "string") return readText(data, r, least, c, path);
  if (Array.isArray(data)) return data.flatMap((d, i) => readPhrases(d, r, least, c, [...path, i]));
  if (typeof data !== "object" || data === null) return [];
  return Object.entries(data).flatMap(([key, value]) => readEntry(key, value, r, least, c, path));
}

function readText(text: string, r: Reading, least: Least, c: Complaints, path: readonly PropertyKey[]): Phrase[] {
  const out: Phrase[] = [];
  for (const [at, piece] of pieces(text)) {
    const lead = piece.length - piece.trimStart().length;
    const said = piece.trim();
    const start = at + lead;
    const comma = /\d$/.test(said) && /^,\d/.test(text.slice(at + piece.length, at + piece.length + 2));
    if (comma) {
      complain(c, decimalComma(text, at + piece.length), path);
      return out;
    }
    const found = /^(.*\S)\s+from\s+(\S.*)$/is.exec(said);
    const [size, border] = [found?.[1] ?? said, found?.[2]];
    const distance = quantityOf(size, "length", r, least, shifted(c, start), path);
    const borderAt = border === undefined ? start : start + said.length - border.length;
    const spot = { path, onKey: false, at: borderAt, length: (border ?? said).length };
    out.push({ distance, ...(border !== undefined && { border }), spot });
  }
  return out;
}

/** `from front end: 120`, or `12 from: front end`. */
function readEntry(
  key: string,
  value: unknown,
  r: Reading,
  least: Least,
  c: Complaints,
  path: readonly PropertyKey[],
): Phrase[] {
  const below = [...path, key];
  if (typeof value !== "string") {
    if (value !== undefined)
      complain(c, { ...missingPlace("from front end: 120"), onKey: true, length: key.length }, below);
    return [];
  }
  const before = /^(.*\S)\s+from$/i.exec(key.trim());
  if (before?.[1] !== undefined) {
    const distance = quantityOf(before[1], "length", r, least, onKey(c), below);
    return [{ distance, border: value.trim(), spot: { path: below, onKey: false, at: 0, length: value.length } }];
  }
  const after = /^from\s+(\S.*)$/i.exec(key.trim())?.[1] ?? key.trim();
  const distance = quantityOf(value, "length", r, least, c, below);
  const at = key.indexOf(after);
  return [{ distance, border: after, spot: { path: below, onKey: true, at, length: after.length } }];
}

/** Splits at commas, or at "and", outside brackets; each piece with its column. */
export function pieces(text: string): readonly (readonly [number, string])[] {
  const out: [number, string][] = [];
  let depth = 0;
  let start = 0;
  for (let i = 0; i < text.length; i++) {
    const ch = text[i];
    if (ch === "(") depth++;
    else if (ch === ")") depth = Math.max(0, depth - 1);
    else if (depth === 0 && (ch === "," || ch === ";")) {
      out.push([start, text.slice(start, i)]);
      start = i + 1;
    }
  }
  out.push([start, text.slice(start)]);
  if (out.length > 1) return out;
  // "and" parts two phrases only where each has its own "from", so that names may hold the word.
  const both = /^(.*\sfrom\s.*?)(\s+and\s+)(?=.*\sfrom\s)/is.exec(text);
  if (!both) return out;
  const second = both[0].length;
  return [
    [0, both[1] ?? ""],
    [second, text.slice(second)],
  ];
}

function decimalComma(text: string, at: number): LeafProblem {
  const fixed = `${text.slice(0, at)}.${text.slice(at + 1)}`;
  return {
    code: "decimal-comma",
    what: "a comma stands inside this number",
    mend: `write decimals with a point: ${fixed.slice(0, 60)}`,
    at,
    length: 1,
  };
}

function missingPlace(example: string): LeafProblem {
  return {
    code: "place-incomplete",
    what: "a distance and what it is taken from are missing here",
    mend: `write, for example, "${example}"`,
    at: 0,
    length: 1,
  };
}

/** Complaints about a piece of a text, as complaints about the whole text. */
export function shifted(c: Complaints, by: number): Complaints {
  return {
    addIssue: (issue) =>
      c.addIssue({ ...issue, params: { problem: { ...issue.params.problem, at: issue.params.problem.at + by } } }),
  };
}

/** Complaints about a text that stands in a key. */
function onKey(c: Complaints): Complaints {
  return {
    addIssue: (issue) => c.addIssue({ ...issue, params: { problem: { ...issue.params.problem, onKey: true } } }),
  };
}
