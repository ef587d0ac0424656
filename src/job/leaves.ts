import * as z from "zod";
import { closest } from "../units/closest.ts";
import type { NameTable } from "../units/names.ts";
import type { TextProblem } from "../units/problem.ts";
import { readQuantity } from "../units/quantity.ts";
import { exampleOf, type LengthUnit, type QuantityKind } from "../units/unit-table.ts";
import type { Depth } from "./feature-base.ts";
import { plainKey, withKnownKeys } from "./words.ts";

/** What single values are read with: what a bare number means, and the sizes that formulas may name. */
export interface Reading {
  readonly unit: LengthUnit;
  /** False when the file does not say its unit: then nothing is asked that depends on it. */
  readonly unitKnown: boolean;
  readonly names: NameTable;
}

/** A problem within a value, carried through the schema to where the file's lines are known. */
export interface LeafProblem extends TextProblem {
  /** The problem is in the key that the path leads to, not in its value. */
  readonly onKey?: boolean;
}

/** Whatever collects problems while a value is read. */
export interface Complaints {
  readonly addIssue: (issue: {
    code: "custom";
    message: string;
    path?: PropertyKey[];
    params: { problem: LeafProblem };
  }) => void;
}

/** Hands a problem to the schema. */
export function complain(c: Complaints, problem: LeafProblem, path: readonly PropertyKey[] = []): void {
  c.addIssue({ code: "custom", message: problem.what, path: [...path], params: { problem } });
}

/** What a size may be: more than nothing, nothing or more, or anything. */
export type Least = "positive" | "zero or more" | "any";

/** No single board in a small shop is longer. */
const LONGEST_MM = 10_000;

/** Reads one length, angle or number, with the sign it may have. */
export function quantityOf(
  text: string,
  kind: QuantityKind,
  r: Reading,
  least: Least,
  c: Complaints,
  path: readonly PropertyKey[] = [],
): number {
  const found = readQuantity(text, kind, r.unit, r.names);
  if (!found.ok) {
    // A file without a unit is asked for it once; its bare fractions are not asked about as well.
    if (r.unitKnown || found.problem.code !== "bare-fraction") complain(c, found.problem, path);
    return Number.NaN;
  }
  const trouble = outOfRange(found.value, kind, least);
  if (trouble) complain(c, { ...trouble, at: 0, length: text.length }, path);
  return found.value;
}

function outOfRange(value: number, kind: QuantityKind, least: Least): Omit<TextProblem, "at" | "length"> | undefined {
  if (least === "positive" && !(value > 0)) {
    return {
      code: "size-not-positive",
      what: value === 0 ? "a size of nothing" : "a size below nothing",
      why: "every size is more than nothing",
      mend: `write what was measured, for example ${exampleOf(kind)}`,
    };
  }
  if (least === "zero or more" && !(value >= 0)) {
    return {
      code: "size-not-positive",
      what: "a distance below nothing",
      why: "distances are measured inwards from the border they are taken from",
      mend: "take it from the opposite border, or leave the minus away",
    };
  }
  if (kind === "length" && Math.abs(value) > LONGEST_MM) {
    return {
      code: "number-too-large",
      what: "this is longer than ten metres",
      mend: "check the unit and for slipped keys",
    };
  }
  return undefined;
}

/** What a text field says when it is missing or of the wrong kind: the schema's message is the mend. */
function wants(mend: string) {
  return { error: () => mend };
}

/** A length; mm after reading. */
export function length(r: Reading, says: string, example: string, least: Least = "positive") {
  return quantity(r, "length", says, example, least);
}

/** An angle; degrees after reading. */
export function angle(r: Reading, says: string, example: string) {
  return quantity(r, "angle", says, example, "any");
}

function quantity(r: Reading, kind: QuantityKind, says: string, example: string, least: Least) {
  return z
    .string(wants(`write, for example, "${example}"`))
    .transform((text, c) => quantityOf(text, kind, r, least, c))
    .meta({ description: says, type: ["string", "number"], examples: [example.replace(/^[^:]*: /, "")] });
}

/** A whole number from 1 up to a bound. */
export function count(r: Reading, says: string, example: string, most: number) {
  return z
    .string(wants(`write, for example, "${example}"`))
    .transform((text, c) => wholeOf(text, r, most, c))
    .meta({ description: says, type: ["string", "integer"] });
}

/** Reads a whole number from 1 to `most`. */
export function wholeOf(
  text: string,
  r: Reading,
  most: number,
  c: Complaints,
  path: readonly PropertyKey[] = [],
): number {
  const found = readQuantity(text, "number", r.unit, r.names);
  if (!found.ok) {
    complain(c, found.problem, path);
    return Number.NaN;
  }
  const value = Math.round(found.value);
  if (Math.abs(found.value - value) > 1e-9 || value < 1 || value > most) {
    complain(
      c,
      {
        code: "count-not-whole",
        what: `"${text.slice(0, 40)}" is not a number of pieces`,
        why: `a whole number from 1 to ${most} is wanted`,
        mend: "write 1, 2, 3 ...",
        at: 0,
        length: text.length,
      },
      path,
    );
  }
  return value;
}

/** Free text on one line, at most 200 characters. */
export function line(says: string, example: string) {
  return z
    .string(wants(`write, for example, "${example}"`))
    .transform((text, c) => {
      const said = text.trim();
      if (said === "" || said.length > 200 || said.includes("\n")) {
        complain(c, {
          code: "text-unusable",
          what: said === "" ? "this text is empty" : "this text is longer than one line",
          why: "a name or title has 1 to 200 characters, on one line",
          mend: `write, for example, "${example}"`,
          at: 0,
          length: Math.max(1, text.length),
        });
      }
      return said;
    })
    .meta({ description: says, type: "string" });
}

/** One of a few words, each with other ways of saying it. */
export function word<const W extends string>(
  choices: Readonly<Record<W, readonly string[]>>,
  says: string,
  example: string,
) {
  const names = Object.keys(choices) as W[];
  return z
    .string(wants(`write, for example, "${example}"`))
    .transform((text, c): W => {
      const said = plainKey(text);
      const found = names.find((n) => n === said || choices[n].includes(said));
      if (found !== undefined) return found;
      const like = closest(said, [...names, ...names.flatMap((n) => choices[n])]);
      complain(c, {
        code: "word-unknown",
        what: `"${text.slice(0, 40)}" is not one of the words for this`,
        mend: like === undefined ? `write ${orList(names)}` : `do you mean "${like}"? It may be ${orList(names)}`,
        at: 0,
        length: text.length,
      });
      return z.NEVER;
    })
    .meta({ description: says, type: "string", enum: [...names, ...names.flatMap((n) => choices[n])] });
}

/** "a, b or c". */
export function orList(names: readonly string[]): string {
  if (names.length <= 1) return names.map((n) => `"${n}"`).join("");
  const quoted = names.map((n) => `"${n}"`);
  return `${quoted.slice(0, -1).join(", ")} or ${quoted.at(-1)}`;
}

/** A depth: a length below the face, or all the way through. */
export function depth(r: Reading, says: string) {
  return z
    .string(wants('write how deep, for example "depth: 8", or "depth: through"'))
    .transform((text, c): Depth => {
      if (/^(?:right |all the way )?through$|^thru$/i.test(text.trim())) return { kind: "through" };
      return { kind: "to", depth: quantityOf(text, "length", r, "positive", c) };
    })
    .meta({ description: says, type: ["string", "number"], examples: ["8", "through"] });
}

/** A map whose keys are known. Other spellings of a key are read; unknown keys are named in the schema's message. */
export function map<S extends z.ZodRawShape>(shape: S, mend: string) {
  const known = Object.keys(shape);
  const object = z.strictObject(shape, {
    error: (issue) => (issue.code === "unrecognized_keys" ? known.join("\n") : mend),
  });
  return z.preprocess((data) => withKnownKeys(data, known), object);
}

/** A map from names that the user chooses. */
export function named<T extends z.ZodType>(values: T, mend: string) {
  return z.record(z.string(), values, { error: () => mend });
}

/** A list. */
export function list<T extends z.ZodType>(values: T, mend: string) {
  return z.array(values, { error: () => mend });
}
