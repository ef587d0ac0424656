import { combineSum, extreme, product, quotient, type Spot, toStep } from "./arithmetic.ts";
import { closest } from "./closest.ts";
import { nameKey } from "./marks.ts";
import { type NameTable, nameRun } from "./names.ts";
import { numberAt } from "./number-literal.ts";
import { type Read, read, type TextProblem, unread } from "./problem.ts";
import { scaled } from "./rational.ts";
import { kindInWords, type LengthUnit, unitAt } from "./unit-table.ts";
import type { Value } from "./value.ts";

/** Longest formula, in characters, and deepest nesting of brackets, signs and functions. */
export const FORMULA_LIMITS = { length: 500, depth: 40 } as const;

const FUNCTIONS = ["round up", "round down", "round", "min", "max"] as const;
type FunctionName = (typeof FUNCTIONS)[number];

/** True for a word that means a function or a step in formulas, and so cannot name a size. */
export function isFormulaWord(word: string): boolean {
  return word === "to" || FUNCTIONS.some((f) => f === word);
}

/**
 * Works a formula out, by precedence: brackets and functions, signs, × ÷, + −; equals from left to right.
 *
 *   sum     = product { ("+" | "-") product }
 *   product = signed { ("*" | "/" | "÷") signed }
 *   signed  = { "-" | "+" } atom
 *   atom    = number [unit] | name | "(" sum ")" | ("min" | "max") "(" sum { "," sum } ")"
 *           | ("round" | "round up" | "round down") "(" sum ("," | "to") sum ")"
 *
 * Names may hold spaces; the longest known name wins. Functions also take `;` between values, for inside YAML braces.
 * @param text with plain marks, without the leading `=`; at most 500 characters
 * @param shift added to every column in a problem
 */
export function evaluate(text: string, shift: number, unit: LengthUnit, names: NameTable): Read<Value> {
  if (text.length > FORMULA_LIMITS.length) {
    return unread({
      code: "formula-too-long",
      what: `this formula has ${text.length} characters`,
      why: `a formula may have ${FORMULA_LIMITS.length}`,
      mend: 'give part of it a name of its own under "measured"',
      at: shift,
      length: text.length,
    });
  }
  const formula: Formula = { text, unit, names };
  const sum = readSum(formula, 0, 0);
  if (!sum.ok) return moved(sum, shift);
  const end = skip(text, sum.end);
  if (end < text.length) return moved(fail(trailing(formula, end)), shift);
  return read(sum.value);
}

interface Formula {
  readonly text: string;
  readonly unit: LengthUnit;
  readonly names: NameTable;
}

/** A value and the index after it. */
type Step = { readonly ok: true; readonly value: Value; readonly end: number } | ReturnType<typeof unread>;

function readSum(f: Formula, from: number, depth: number): Step {
  let left = readProduct(f, from, depth);
  while (left.ok) {
    const at = skip(f.text, left.end);
    const sign = f.text[at];
    if (sign !== "+" && sign !== "-") return left;
    const right = readProduct(f, at + 1, depth);
    if (!right.ok) return right;
    const value = combineSum(left.value, right.value, sign === "+" ? 1 : -1, spot(f, from, at, right.end));
    left = value.ok ? { ok: true, value: value.value, end: right.end } : value;
  }
  return left;
}

function readProduct(f: Formula, from: number, depth: number): Step {
  let left = readSigned(f, from, depth);
  while (left.ok) {
    const at = skip(f.text, left.end);
    const sign = f.text[at];
    if (sign !== "*" && sign !== "/" && sign !== "÷") return left;
    const right = readSigned(f, at + 1, depth);
    if (!right.ok) return right;
    if (sign !== "*") {
      const loose = looseFraction(f, at + 1);
      if (loose) return fail(loose);
    }
    const place = spot(f, from, at, right.end);
    const value = sign === "*" ? product(left.value, right.value, place) : quotient(left.value, right.value, place);
    left = value.ok ? { ok: true, value: value.value, end: right.end } : value;
  }
  return left;
}

function readSigned(f: Formula, from: number, depth: number): Step {
  const at = skip(f.text, from);
  if (depth > FORMULA_LIMITS.depth) {
    return fail({
      code: "formula-too-deep",
      what: "this formula is nested too deep to follow",
      why: `brackets, signs and functions may stand ${FORMULA_LIMITS.depth} within each other`,
      mend: 'give part of it a name of its own under "measured"',
      at,
      length: 1,
    });
  }
  const sign = f.text[at];
  if (sign !== "-" && sign !== "+") return readAtom(f, at, depth);
  const inner = readSigned(f, at + 1, depth + 1);
  if (!inner.ok || sign === "+") return inner;
  const exact = inner.value.bare?.exact;
  const bare = inner.value.bare && { ...inner.value.bare, ...(exact && { exact: { n: -exact.n, q: exact.q } }) };
  return { ...inner, value: { ...inner.value, value: 0 - inner.value.value, ...(bare && { bare }) } };
}

function readAtom(f: Formula, at: number, depth: number): Step {
  const c = f.text[at];
  if (c === undefined) return fail(missing(at, "the formula stops where a value should follow"));
  if (c === "(") return readBrackets(f, at, depth);
  const named = functionAt(f.text, at);
  if (named) return readFunction(f, named.name, at, named.end, depth);
  if (/[\p{L}]/u.test(c)) return readName(f, at);
  return readNumber(f, at);
}

function readBrackets(f: Formula, at: number, depth: number): Step {
  const inner = readSum(f, at + 1, depth + 1);
  if (!inner.ok) return inner;
  const end = skip(f.text, inner.end);
  if (f.text[end] !== ")") return fail(unclosed(f, at, end));
  return { ...inner, end: end + 1 };
}

function readFunction(f: Formula, name: FunctionName, at: number, open: number, depth: number): Step {
  const values: Value[] = [];
  let end = open;
  for (;;) {
    const value = readSum(f, end, depth + 1);
    if (!value.ok) return value;
    values.push(value.value);
    end = skip(f.text, value.end);
    if (f.text[end] === ")") break;
    const to = /to(?![\p{L}\p{N}])/uy;
    to.lastIndex = end;
    if (f.text[end] === "," || f.text[end] === ";") end += 1;
    else if (to.test(f.text)) end += 2;
    else return fail(unclosed(f, at, end));
  }
  const place = spot(f, at, at, end + 1);
  const rounding = name !== "min" && name !== "max";
  if (rounding && values.length !== 2) {
    return fail({
      code: "formula-syntax",
      what: `"${name}" takes a value and a step`,
      mend: `write, for example, ${name}(opening to 0.5 mm)`,
      at,
      length: end + 1 - at,
    });
  }
  const result = rounding ? toStep(name, values[0]!, values[1]!, place) : extreme(name, values, place);
  return result.ok ? { ok: true, value: result.value, end: end + 1 } : result;
}

function readName(f: Formula, at: number): Step {
  const ends = nameRun(f.text, at);
  for (const end of ends) {
    const known = f.names.valueOf(nameKey(f.text.slice(at, end)));
    if (known === undefined) continue;
    if (known.ok) return { ok: true, value: known.value, end };
    return fail({ ...known.problem, at, length: end - at });
  }
  const word = f.text.slice(at, ends[0] ?? at + 1);
  const like = closest(word, f.names.names.slice(0, 500));
  const list = f.names.names.slice(0, 8).map((n) => `"${n}"`);
  return fail({
    code: "formula-name-unknown",
    what: `nothing measured is called "${word}"`,
    mend:
      like !== undefined
        ? `do you mean "${like}"?`
        : list.length === 0
          ? 'name the size under "measured" first'
          : `name it under "measured"; so far there are ${list.join(", ")}`,
    at,
    length: word.length,
  });
}

function readNumber(f: Formula, at: number): Step {
  const number = numberAt(f.text, at);
  if (!number) return fail(missing(at, `a value should stand here, not "${f.text.charAt(at)}"`));
  if (!number.ok) return number;
  const { n, q, form, end } = number.value;
  const shown = f.text.slice(at, end);
  if (form === "dashed") {
    const [whole, fraction] = shown.split("-");
    return fail({
      code: "mixed-number-dash",
      what: `"${shown}" can be read in two ways inside a formula`,
      mend: `do you mean ${whole} ${fraction} (write it with a space), or ${whole} minus ${fraction} (write it with spaces around the minus)?`,
      at,
      length: end - at,
    });
  }
  const unit = unitAt(f.text, skip(f.text, end));
  // "min" after a number could only be minutes, which no formula takes: `2 min(a, b)` lacks its sign instead.
  if (!unit || functionAt(f.text, skip(f.text, end))) {
    const bare = { at, length: end - at, exact: { n, q }, fraction: form !== "plain" };
    return { ok: true, value: { value: n / q, length: 0, angle: 0, bare }, end };
  }
  if (unit.unit.name === "ft") {
    const inches = numberAt(f.text, skip(f.text, unit.end));
    const inchUnit = inches?.ok ? unitAt(f.text, skip(f.text, inches.value.end)) : undefined;
    if (inches?.ok && inchUnit?.unit.name === "in" && inches.value.form !== "dashed") {
      const both = { n: (n * 12 * inches.value.q) / q + inches.value.n, q: inches.value.q };
      return { ok: true, value: { value: scaled(both, inchUnit.unit.factor), length: 1, angle: 0 }, end: inchUnit.end };
    }
  }
  const value = scaled({ n, q }, unit.unit.factor);
  switch (unit.unit.kind) {
    case "length":
      return { ok: true, value: { value, length: 1, angle: 0 }, end: unit.end };
    case "angle":
      return { ok: true, value: { value, length: 0, angle: 1 }, end: unit.end };
    case "number":
      return { ok: true, value: { value, length: 0, angle: 0 }, end: unit.end };
    case "feed":
    case "acceleration":
    case "speed":
    case "power":
    case "time":
      return fail({
        code: "unit-wrong-kind",
        what: `${kindInWords(unit.unit.kind)} has no place in a formula`,
        why: "a formula reckons with lengths, angles and plain numbers",
        mend: "write a length, an angle or a plain number here",
        at,
        length: unit.end - at,
      });
  }
}

/** A fraction right after a division sign is a trap: `w/3/4 in` is not w over three quarters. */
function looseFraction(f: Formula, from: number): TextProblem | undefined {
  const at = skip(f.text, from);
  const number = numberAt(f.text, at);
  if (!number?.ok || number.value.form === "plain") return undefined;
  const end = unitAt(f.text, skip(f.text, number.value.end))?.end ?? number.value.end;
  const shown = f.text.slice(at, end);
  return {
    code: "fraction-after-division",
    what: `a fraction right after a division sign can be read in two ways`,
    mend: `put the fraction in brackets: (${shown})`,
    at,
    length: shown.length,
  };
}

function functionAt(text: string, at: number): { readonly name: FunctionName; readonly end: number } | undefined {
  for (const name of FUNCTIONS) {
    const pattern = new RegExp(`${name.replace(" ", " +")} *\\(`, "iy");
    pattern.lastIndex = at;
    const found = pattern.exec(text);
    if (found) return { name, end: at + found[0].length };
  }
  return undefined;
}

function trailing(f: Formula, at: number): TextProblem {
  const c = f.text.charAt(at);
  if (c === ")") {
    return {
      code: "formula-syntax",
      what: "a bracket closes here that was never opened",
      mend: "take it out, or open it",
      at,
      length: 1,
    };
  }
  if (c === "," || c === ";") {
    return {
      code: "decimal-comma",
      what: "a comma has no place between these numbers",
      mend: "write decimals with a point: 142.3",
      at,
      length: 1,
    };
  }
  if (/[\p{L}\p{N}(.]/u.test(c)) {
    return {
      code: "formula-syntax",
      what: "two values stand side by side without a sign between them",
      mend: "write + - × or ÷ between them",
      at,
      length: 1,
    };
  }
  return {
    code: "formula-syntax",
    what: `"${c}" means nothing in a formula`,
    mend: "a formula is made of + - × ÷ ( ) min max round, numbers and measured sizes",
    at,
    length: 1,
  };
}

function unclosed(f: Formula, open: number, at: number): TextProblem {
  if (at < f.text.length) {
    const t = trailing(f, at);
    if (t.code !== "decimal-comma") return t;
  }
  return {
    code: "formula-syntax",
    what: "a bracket opens here and is not closed",
    mend: "close it with ); inside { } put the whole formula in quotes, or write ; for the comma",
    at: open,
    length: Math.max(1, f.text.length - open),
  };
}

function missing(at: number, what: string): TextProblem {
  return { code: "formula-syntax", what, mend: "write a number or the name of a measured size", at, length: 1 };
}

function spot(f: Formula, from: number, sign: number, end: number): Spot {
  const at = skip(f.text, from);
  return { at, sign, length: end - at, unit: f.unit, text: f.text };
}

function skip(text: string, at: number): number {
  let i = at;
  while (text[i] === " ") i++;
  return i;
}

function fail(problem: TextProblem): ReturnType<typeof unread> {
  return unread(problem);
}

function moved(r: ReturnType<typeof unread>, shift: number): ReturnType<typeof unread> {
  return unread({ ...r.problem, at: r.problem.at + shift });
}
