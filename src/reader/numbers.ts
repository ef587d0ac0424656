import { complain, type Log } from "./log.ts";

/** A reading in progress: the text, ending in a line end, and where the last value read ended. */
export interface Scan {
  readonly text: string;
  readonly log: Log;
  /** A program of ours: blanks inside words and expressions are reported. */
  readonly ours: boolean;
  /** Parameters the text has set. */
  readonly parameters: Map<number, number>;
  pos: number;
}

/** Powers of ten that a double holds exactly. */
const TENS: readonly number[] = Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));

/** Digits whose value a double holds exactly, whatever they are. */
const EXACT_DIGITS = 15;

/**
 * Reads a plain number (NISTIR 6556 §3.3.2.1): one sign at most, digits with at most one point, blanks anywhere. Sets
 * `scan.pos` behind it. Up to 15 digits over a power of ten up to 10²² the quotient is correctly rounded; longer
 * numbers go through the language's own conversion.
 * @returns NaN, with the complaint made, when there is no number
 */
export function readNumber(scan: Scan, start: number): number {
  const text = scan.text;
  let i = start;
  let c = text.charCodeAt(i);
  let negative = false;
  if (c === 45 || c === 43) {
    negative = c === 45;
    c = text.charCodeAt(++i);
  }
  let mantissa = 0;
  let digits = 0;
  let point = -1;
  for (;;) {
    const d = c - 48;
    if (d >= 0 && d <= 9) {
      mantissa = mantissa * 10 + d;
      digits++;
    } else if (c === 46 && point < 0) {
      point = digits;
    } else if (c === 32 || c === 9) {
      const next = skipBlanks(text, i);
      if (!continuesNumber(text.charCodeAt(next))) break;
      blankInWord(scan);
      i = next - 1;
    } else {
      break;
    }
    c = text.charCodeAt(++i);
  }
  scan.pos = i;
  if (digits === 0) {
    complain(
      scan.log,
      "rs-e11-number",
      c === 91 || c === 35 ? "a sign stands before a bracket or parameter" : undefined,
    );
    return Number.NaN;
  }
  const decimals = point < 0 ? 0 : digits - point;
  const value =
    digits <= EXACT_DIGITS ? mantissa / TENS[decimals]! : Number(text.slice(start, i).replace(/[ \t+-]/g, ""));
  return negative ? -value : value;
}

/** Index of the first character from `i` on that is neither space nor tab. */
export function skipBlanks(text: string, i: number): number {
  let at = i;
  for (;;) {
    const c = text.charCodeAt(at);
    if (c !== 32 && c !== 9) return at;
    at++;
  }
}

/** Reports a blank within a word, where programs of ours have none. */
export function blankInWord(scan: Scan): void {
  if (scan.ours) complain(scan.log, "rs-space-in-word");
}

function continuesNumber(c: number): boolean {
  return (c >= 48 && c <= 57) || c === 46;
}
