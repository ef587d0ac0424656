import { adopt, bareFraction } from "./arithmetic.ts";
import { evaluate } from "./formula.ts";
import { nameKey, plainMarks } from "./marks.ts";
import { type NameTable, NO_NAMES, nameRun } from "./names.ts";
import { type NumberLiteral, numberAt } from "./number-literal.ts";
import { type Read, read, type TextProblem, unread } from "./problem.ts";
import { type Rational, scaled } from "./rational.ts";
import {
  bareUnit,
  exampleOf,
  kindInWords,
  type LengthUnit,
  type QuantityKind,
  type Unit,
  unitAt,
  unitLike,
} from "./unit-table.ts";
import { type Dimension, dimensionInWords, type Value } from "./value.ts";

/**
 * Reads one quantity as it is written in a shop: `12`, `19 mm`, `3/4 in`, `1 1/2"`, `1-1/2 in`, `6' 3"`, `30 deg`,
 * `1200 mm/min`, or, for lengths, angles and plain numbers, a formula that begins with `=`.
 * A bare number is in the file's unit. A bare fraction is a length only in an inch file; a millimetre file asks.
 * The sign is not judged here. Nothing is rounded or guessed.
 * @param kind what is wanted
 * @param file what a bare number means
 * @returns mm, degrees, mm/min, mm/s², rpm, W, s or a plain number; or the problem with its column
 */
export function readQuantity(
  text: string,
  kind: QuantityKind,
  file: LengthUnit,
  names: NameTable = NO_NAMES,
): Read<number> {
  const plain = plainMarks(text);
  const start = skip(plain, 0);
  if (plain[start] === "=") return readFormulaAs(plain, start, kind, file, names);
  const found = readPlain(plain.trimEnd(), start, kind, file, names);
  if (!found.ok) return found;
  const { value, unit, literal, negative } = found.value;
  if (unit === undefined) {
    const bare = bareUnit(kind, file);
    if (kind === "length" && file === "mm" && literal.form !== "plain") {
      const length = plain.trimEnd().length - start;
      return unread(bareFraction(literal.n / literal.q, { at: start, length }, plain.slice(start, literal.end)));
    }
    return read(signed(scaled(literal, bare.factor), negative));
  }
  if (unit.kind !== kind) return unread(wrongKind(plain, start, unit.kind, kind));
  return read(signed(value, negative));
}

/**
 * Reads a quantity whose kind is not known beforehand: a length, an angle, a number of pieces, or a formula over
 * them. A bare number, and a formula made of nothing but bare numbers, is a length in the file's unit.
 */
export function readValue(text: string, file: LengthUnit, names: NameTable = NO_NAMES): Read<Value> {
  const plain = plainMarks(text);
  const start = skip(plain, 0);
  if (plain[start] === "=") {
    const value = evaluate(plain.slice(start + 1).trimEnd(), start + 1, file, names);
    if (!value.ok || !value.value.bare) return value;
    return adopt(value.value, { length: 1, angle: 0 }, file) ?? value;
  }
  const found = readPlain(plain.trimEnd(), start, "length", file, names);
  if (!found.ok) return found;
  const kind = found.value.unit?.kind ?? "length";
  const value = readQuantity(text, kind, file, names);
  if (!value.ok) return value;
  switch (kind) {
    case "length":
      return read({ value: value.value, length: 1, angle: 0 });
    case "angle":
      return read({ value: value.value, length: 0, angle: 1 });
    case "number":
      return read({ value: value.value, length: 0, angle: 0 });
    case "feed":
    case "acceleration":
    case "speed":
    case "power":
    case "time":
      return unread(wrongKind(plain, start, kind, "length"));
  }
}

interface Plain {
  readonly value: number;
  readonly unit: Unit | undefined;
  readonly literal: NumberLiteral;
  readonly negative: boolean;
}

function readPlain(text: string, start: number, kind: QuantityKind, file: LengthUnit, names: NameTable): Read<Plain> {
  if (start >= text.length) {
    return unread({
      code: "quantity-missing",
      what: `${kindInWords(kind)} is missing here`,
      mend: `write, for example, ${exampleOf(kind)}`,
      at: Math.max(0, text.length - 1),
      length: 1,
    });
  }
  const negative = text[start] === "-";
  const at = negative || text[start] === "+" ? skip(text, start + 1) : start;
  const literal = numberAt(text, at);
  if (literal === undefined) return unread(notANumber(text, start, kind, names));
  if (!literal.ok) return literal;
  const afterNumber = skip(text, literal.value.end);
  const unit = unitAt(text, afterNumber);
  let end = unit?.end ?? literal.value.end;
  let total: Rational = literal.value;
  let of = unit?.unit;
  if (unit?.unit.name === "ft") {
    const inches = numberAt(text, skip(text, unit.end));
    if (inches && !inches.ok) return inches;
    const inchUnit = inches && unitAt(text, skip(text, inches.value.end));
    if (inches && inchUnit?.unit.name === "in") {
      total = { n: (literal.value.n * 12 * inches.value.q) / literal.value.q + inches.value.n, q: inches.value.q };
      of = inchUnit.unit;
      end = inchUnit.end;
    }
  }
  const rest = skip(text, end);
  if (rest < text.length) return unread(leftOver(text, start, rest, literal.value, unit?.unit, names, file));
  const factor = of?.factor ?? { n: 1, q: 1 };
  return read({ value: scaled(total, factor), unit: of, literal: literal.value, negative });
}

function readFormulaAs(
  plain: string,
  start: number,
  kind: QuantityKind,
  file: LengthUnit,
  names: NameTable,
): Read<number> {
  const wanted = dimensionOf(kind);
  const body = plain.slice(start + 1).trimEnd();
  if (!wanted) {
    return unread({
      code: "unit-wrong-kind",
      what: `${kindInWords(kind)} cannot be a formula`,
      mend: `write it out: ${exampleOf(kind)}`,
      at: start,
      length: plain.length - start,
    });
  }
  const value = evaluate(body, start + 1, file, names);
  if (!value.ok) return value;
  const adopted = adopt(value.value, wanted, file);
  if (adopted === undefined) {
    return unread({
      code: "formula-power",
      what: `this formula gives ${dimensionInWords(value.value)} where ${kindInWords(kind)} is wanted`,
      why: "each length multiplied in counts once, each divided by takes one away",
      mend: `check its × and ÷, so that ${kindInWords(kind)} comes out`,
      at: start,
      length: plain.trimEnd().length - start,
    });
  }
  if (!adopted.ok) {
    const shown = plain.slice(start + 1).trim();
    const fraction = /^[\d ]+\/\d+$/.test(shown) ? shown : undefined;
    return unread(bareFraction(value.value.value, { at: start, length: plain.trimEnd().length - start }, fraction));
  }
  return read(adopted.value.value);
}

function dimensionOf(kind: QuantityKind): Dimension | undefined {
  switch (kind) {
    case "length":
      return { length: 1, angle: 0 };
    case "angle":
      return { length: 0, angle: 1 };
    case "number":
      return { length: 0, angle: 0 };
    case "feed":
    case "acceleration":
    case "speed":
    case "power":
    case "time":
      return undefined;
  }
}

function notANumber(text: string, start: number, kind: QuantityKind, names: NameTable): TextProblem {
  const length = text.length - start;
  const shown = text.slice(start, start + 40);
  const known = nameRun(text, start).some((end) => names.valueOf(nameKey(text.slice(start, end))) !== undefined);
  if (known || /^(?:\(|(?:min|max|round|round up|round down) *\()/i.test(text.slice(start))) {
    return {
      code: "formula-without-equals",
      what: "this reads like a formula",
      mend: `begin it with an equals sign: = ${shown}`,
      at: start,
      length,
    };
  }
  if (/^[+-]?\.?(?:nan|inf(?:inity)?)$/i.test(text.slice(start))) {
    return {
      code: "number-form",
      what: `"${shown}" is not a size that can be measured`,
      mend: `write a number: ${exampleOf(kind)}`,
      at: start,
      length,
    };
  }
  return {
    code: "quantity-unreadable",
    what: `"${shown}" is not ${kindInWords(kind)}`,
    mend: `write, for example, ${exampleOf(kind)}`,
    at: start,
    length,
  };
}

function leftOver(
  text: string,
  start: number,
  rest: number,
  literal: NumberLiteral,
  unit: Unit | undefined,
  names: NameTable,
  file: LengthUnit,
): TextProblem {
  const length = text.length - rest;
  const shown = text.slice(rest, rest + 40);
  if (unit === undefined && /^,\d/.test(shown)) {
    const fixed = text.slice(start).replace(",", ".");
    const thousands = /^,\d{3}(?!\d)/.test(shown);
    return {
      code: "decimal-comma",
      what: "a comma stands inside this number",
      mend: thousands
        ? `do you mean ${fixed}, or ${text.slice(start).replace(",", "")}?`
        : `write decimals with a point: ${fixed}`,
      at: rest,
      length: 1,
    };
  }
  if (/^["']/.test(shown) && unit && (unit.name === "in" || unit.name === "ft")) {
    return {
      code: "quantity-unreadable",
      what: "one inch mark too many",
      mend: `write ${text.slice(start, rest)} with a single mark, or with "in"`,
      at: rest,
      length,
    };
  }
  const word = /^\p{L}+/u.exec(shown)?.[0];
  if (word !== undefined && unit === undefined) {
    const like = unitLike(word);
    const known = nameRun(text, rest).some((end) => names.valueOf(nameKey(text.slice(rest, end))) !== undefined);
    if (known) return withoutEquals(text, start);
    return {
      code: "unit-unknown",
      what: `"${word}" is not a unit that is known here`,
      mend: like === undefined ? `write mm or in after the number, or nothing for ${file}` : `do you mean "${like}"?`,
      at: rest,
      length: word.length,
    };
  }
  if (/^[*÷/+-]/.test(shown)) return withoutEquals(text, start);
  if (/^[\d.½⅓⅔¼¾⅛⅜⅝⅞]/.test(shown)) {
    return {
      code: "quantity-unreadable",
      what: unit === undefined ? "two numbers stand side by side" : "two sizes stand where one belongs",
      mend: unit === undefined ? "write one number, or a fraction such as 1 1/2 in" : "write one size in one unit",
      at: rest,
      length,
    };
  }
  return {
    code: "quantity-unreadable",
    what: `"${shown}" after ${literal.form === "plain" ? "the number" : "the fraction"} is not understood`,
    mend: "write a number and its unit, and notes after a # of their own",
    at: rest,
    length,
  };
}

function withoutEquals(text: string, start: number): TextProblem {
  return {
    code: "formula-without-equals",
    what: "this reads like a formula",
    mend: `begin it with an equals sign: = ${text.slice(start, start + 60)}`,
    at: start,
    length: text.length - start,
  };
}

function wrongKind(text: string, start: number, found: QuantityKind, wanted: QuantityKind): TextProblem {
  return {
    code: "unit-wrong-kind",
    what: `${kindInWords(found)} stands where ${kindInWords(wanted)} is wanted`,
    mend: `write, for example, ${exampleOf(wanted)}`,
    at: start,
    length: text.trimEnd().length - start,
  };
}

function signed(value: number, negative: boolean): number {
  return negative ? 0 - value : value;
}

function skip(text: string, at: number): number {
  let i = at;
  while (text[i] === " ") i++;
  return i;
}
