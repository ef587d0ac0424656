import { type Read, read, unread } from "./problem.ts";
import { decimal, type Rational } from "./rational.ts";

/** A number as it is written in a shop: 12, 0.75, 3/4, 1 1/2, 1-1/2, 1½. */
export interface NumberLiteral extends Rational {
  /** `dashed` is 1-1/2: a mixed number to a carpenter, a subtraction to a formula. */
  readonly form: "plain" | "fraction" | "mixed" | "dashed";
  /** Index after its last character. */
  readonly end: number;
}

const VULGAR: ReadonlyMap<string, readonly [number, number]> = new Map([
  ["½", [1, 2]],
  ["⅓", [1, 3]],
  ["⅔", [2, 3]],
  ["¼", [1, 4]],
  ["¾", [3, 4]],
  ["⅕", [1, 5]],
  ["⅖", [2, 5]],
  ["⅗", [3, 5]],
  ["⅘", [4, 5]],
  ["⅙", [1, 6]],
  ["⅚", [5, 6]],
  ["⅛", [1, 8]],
  ["⅜", [3, 8]],
  ["⅝", [5, 8]],
  ["⅞", [7, 8]],
]);

/**
 * Reads an unsigned number at `at`, in text with plain marks. Nothing there gives `undefined`.
 * A fraction is one only without spaces around its stroke, and a mixed number has spaces or one dash before it.
 */
export function numberAt(text: string, at: number): Read<NumberLiteral> | undefined {
  const vulgar = match(/(?:(\d{1,15}) *)?([½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])/y, text, at);
  if (vulgar) {
    const [top, bottom] = VULGAR.get(vulgar[2] ?? "") ?? [0, 1];
    const whole = vulgar[1];
    const n = Number(whole ?? 0) * bottom + top;
    return read({ n, q: bottom, form: whole === undefined ? "fraction" : "mixed", end: at + vulgar[0].length });
  }
  const mixed = match(/(\d+)( +|-)(\d+)\/(\d+)(?![\d.])/y, text, at);
  if (mixed) return mixedNumber(text, at, mixed);
  const fraction = match(/(\d+)\/(\d+)(?![\d.])/y, text, at);
  if (fraction) {
    const n = Number(fraction[1]);
    const q = Number(fraction[2]);
    if (q === 0) return unread(zeroBottom(at, fraction[0]));
    return checked({ n, q, form: "fraction", end: at + fraction[0].length }, at, fraction[0]);
  }
  const plain = match(/(\d+)(?:\.(\d*))?|\.(\d+)/y, text, at);
  if (!plain) return undefined;
  const odd = match(/(?:0[xob][\da-f]+|[\d.]+e[+-]?\d+|\d+(?:_\d+)+|\d+(?:\.\d+){2,})(?![a-z])/iy, text, at);
  if (odd) {
    return unread({
      code: "number-form",
      what: `"${odd[0].slice(0, 40)}" is not a number as one writes it in a shop`,
      mend: "write plain digits, with a point before the decimals: 1200 or 0.75",
      at,
      length: odd[0].length,
    });
  }
  const value = decimal(plain[1] ?? "", plain[2] ?? plain[3] ?? "");
  return checked({ ...value, form: "plain", end: at + plain[0].length }, at, plain[0]);
}

function mixedNumber(text: string, at: number, found: RegExpMatchArray): Read<NumberLiteral> {
  const [all, whole, joint, top, bottom] = [found[0], found[1], found[2], found[3], found[4]];
  const [w, n, q] = [Number(whole), Number(top), Number(bottom)];
  if (q === 0) return unread(zeroBottom(at, all));
  if (n >= q) {
    const fractionAt = text.indexOf(`${top}/`, at + (whole ?? "").length);
    const carried = Math.floor(n / q);
    const rest = n - carried * q;
    return unread({
      code: "number-form",
      what: `${top}/${bottom} after a whole number is not less than one`,
      mend: `do you mean ${w + carried}${rest === 0 ? "" : ` ${rest}/${q}`}, or another fraction?`,
      at: fractionAt,
      length: `${top}/${bottom}`.length,
    });
  }
  return checked({ n: w * q + n, q, form: joint === "-" ? "dashed" : "mixed", end: at + all.length }, at, all);
}

function checked(literal: NumberLiteral, at: number, shown: string): Read<NumberLiteral> {
  if (literal.n <= 1e15 && literal.q <= 1e15) return read(literal);
  return unread({
    code: "number-too-large",
    what: "this number is larger than anything in a shop",
    mend: "check it for slipped keys",
    at,
    length: shown.length,
  });
}

function zeroBottom(at: number, shown: string) {
  return {
    code: "fraction-of-zero",
    what: `the fraction "${shown}" has nothing under its stroke`,
    mend: "write the fraction again, for example 3/4",
    at,
    length: shown.length,
  } as const;
}

function match(pattern: RegExp, text: string, at: number): RegExpMatchArray | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text) ?? undefined;
}
