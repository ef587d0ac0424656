import { type Block, clearBlock, D, F, G, H, L, M, N, P, S, T, WORD_LETTERS } from "./block.ts";
import { G_GROUPS, M_GROUPS, nameOfG } from "./codes.ts";
import { readExpression, readSetting } from "./expressions.ts";
import { complain } from "./log.ts";
import { blankInWord, readNumber, type Scan, skipBlanks } from "./numbers.ts";

/** Longest line that a controller is sure to take (the reference program's limit); and longest of ours. */
const LONGEST_LINE = 253;
const LONGEST_OF_OURS = 120;

/** How near to a whole number a code, slot or count must lie (NISTIR 6556 §3.3.2.1). */
const WHOLE_WITHIN = 0.0001;

/** Letters whose numbers may not be negative, and those that must be whole. */
const NEVER_NEGATIVE = (1 << D) | (1 << F) | (1 << H) | (1 << L) | (1 << P) | (1 << S) | (1 << T);
const WHOLE = (1 << D) | (1 << H) | (1 << L) | (1 << T);

/**
 * Reads one line into `block`, from `start` to the line's end (NISTIR 6556 §3.3). What is wrong with single words is
 * complained of here; what is wrong with the line as a whole is `checkBlock`'s business.
 * @returns index of the character that ends the line
 */
export function readLine(scan: Scan, block: Block, start: number): number {
  const text = scan.text;
  clearBlock(block);
  let i = start;
  for (;;) {
    const c = text.charCodeAt(i);
    if (c === 32 || c === 9) {
      i++;
    } else if (c === 10 || c === 13) {
      break;
    } else {
      const letter = (c | 32) - 97;
      i = letter >= 0 && letter < 26 && c < 128 ? readWord(scan, block, letter, i + 1) : readSign(scan, block, c, i);
      if (block.cut) {
        i = endOfLine(text, i);
        break;
      }
    }
  }
  const length = i - start;
  if (length > LONGEST_OF_OURS) checkLength(scan, length);
  return i;
}

/** Index of the first line-end character from `i` on. */
export function endOfLine(text: string, i: number): number {
  let at = i;
  for (;;) {
    const c = text.charCodeAt(at);
    if (c === 10 || c === 13) return at;
    at++;
  }
}

function checkLength(scan: Scan, length: number): void {
  if (length > LONGEST_LINE) {
    complain(scan.log, "rs-e06-line-too-long", undefined, {
      measured: { value: length, bound: 0, unit: "characters" },
      limit: { value: LONGEST_LINE, unit: "characters", from: "NISTIR 6556's reference program" },
    });
  } else if (scan.ours) {
    complain(scan.log, "rs-line-long", undefined, {
      measured: { value: length, bound: 0, unit: "characters" },
      limit: { value: LONGEST_OF_OURS, unit: "characters", from: "the longest line we write" },
    });
  }
}

/** Reads a word from behind its letter on; returns where it ends. */
function readWord(scan: Scan, block: Block, letter: number, after: number): number {
  if (letter === N) return readLineNumber(scan, block, after);
  block.started = true;
  if (((WORD_LETTERS >> letter) & 1) === 0) {
    complain(scan.log, "rs-e09-unknown-letter", `the letter ${nameOf(letter)}`);
    block.cut = true;
    return after;
  }
  let i = after;
  let c = scan.text.charCodeAt(i);
  if (c === 32 || c === 9) {
    i = skipBlanks(scan.text, i);
    c = scan.text.charCodeAt(i);
  }
  let value: number;
  if ((c >= 48 && c <= 57) || c === 45 || c === 46 || c === 43) {
    value = readNumber(scan, i);
    if (!Number.isNaN(value) && spoilsNumber(scan.text.charCodeAt(scan.pos))) {
      complain(scan.log, "rs-e11-number", `after ${nameOf(letter)}`);
      value = Number.NaN;
    }
  } else if (c === 91 || c === 35 || (c >= 65 && c <= 90) || (c >= 97 && c <= 122)) {
    value = readExpression(scan, i);
  } else {
    complain(scan.log, "rs-e11-number", `nothing after ${nameOf(letter)}`);
    value = Number.NaN;
  }
  if (Number.isNaN(value)) {
    block.cut = true;
    return Math.max(scan.pos, after);
  }
  if (i !== after) blankInWord(scan);
  if (letter === G) storeG(scan, block, value);
  else if (letter === M) storeM(scan, block, value);
  else store(scan, block, letter, value);
  return scan.pos;
}

/** E, a comma, a second point or sign right behind a number: somebody meant it to be part of the number. */
function spoilsNumber(c: number): boolean {
  return c === 69 || c === 101 || c === 44 || c === 46 || c === 43 || c === 45;
}

function store(scan: Scan, block: Block, letter: number, value: number): void {
  const bit = 1 << letter;
  if ((block.letters & bit) !== 0) complain(scan.log, "rs-e14-letter-repeated", `the letter ${nameOf(letter)}`);
  if (value < 0 && (NEVER_NEGATIVE & bit) !== 0) complain(scan.log, "rs-e13-negative", `${nameOf(letter)}${value}`);
  block.letters |= bit;
  if ((WHOLE & bit) !== 0) {
    const whole = Math.round(value);
    if (Math.abs(value - whole) > WHOLE_WITHIN) complain(scan.log, "rs-e12-not-whole", `${nameOf(letter)}${value}`);
    block.values[letter] = whole;
  } else {
    block.values[letter] = value;
  }
}

function storeG(scan: Scan, block: Block, value: number): void {
  if (value < 0) {
    complain(scan.log, "rs-e13-negative", `G${value}`);
    return;
  }
  const code = Math.round(value * 10);
  const group = Math.abs(value * 10 - code) <= WHOLE_WITHIN && code < 1000 ? G_GROUPS[code]! : -1;
  if (group < 0) {
    complain(scan.log, "rs-e18-unknown-g", `G${value}`);
    return;
  }
  const bit = 1 << group;
  if ((block.gGroups & bit) !== 0) {
    complain(scan.log, "rs-e15-same-g-group", `${nameOfG(block.g[group]!)} and ${nameOfG(code)}`);
    return;
  }
  block.gGroups |= bit;
  block.g[group] = code;
}

function storeM(scan: Scan, block: Block, value: number): void {
  if (value < 0) {
    complain(scan.log, "rs-e13-negative", `M${value}`);
    return;
  }
  const code = Math.round(value);
  if (Math.abs(value - code) > WHOLE_WITHIN) {
    complain(scan.log, "rs-e12-not-whole", `M${value}`);
    return;
  }
  const group = code < 100 ? M_GROUPS[code]! : -1;
  if (group < 0) {
    complain(scan.log, "rs-e19-unknown-m", `M${code}`);
    return;
  }
  const bit = 1 << group;
  if ((block.mGroups & bit) !== 0) complain(scan.log, "rs-e16-same-m-group", `M${block.m[group]} and M${code}`);
  block.mGroups |= bit;
  block.m[group] = code;
  block.mCount++;
  if (block.mCount === 5) complain(scan.log, "rs-e17-too-many-m");
}

/** N: up to five digits, before anything else but a slash (NISTIR 6556 §3.3.1). */
function readLineNumber(scan: Scan, block: Block, after: number): number {
  const text = scan.text;
  if (block.started || block.n >= 0) complain(scan.log, "rs-e07-not-at-line-start", "N");
  block.started = true;
  let i = after;
  let n = 0;
  let digits = 0;
  for (;;) {
    const c = text.charCodeAt(i);
    if (c >= 48 && c <= 57) {
      n = n * 10 + (c - 48);
      digits++;
    } else if (c === 32 || c === 9) {
      const next = skipBlanks(text, i);
      const ahead = text.charCodeAt(next);
      if (ahead < 48 || ahead > 57) break;
      blankInWord(scan);
      i = next - 1;
    } else {
      if (c === 43 || c === 45 || c === 46 || c === 44) digits = 0;
      break;
    }
    i++;
  }
  if (digits === 0 || digits > 5) {
    complain(scan.log, "rs-e08-line-number");
    block.cut = true;
  } else {
    block.n = n;
  }
  return i;
}

/** Reads what begins with a sign: slash, comment, parameter setting, percent; returns where it ends. */
function readSign(scan: Scan, block: Block, c: number, at: number): number {
  switch (c) {
    case 40:
      block.started = true;
      return readComment(scan, block, at + 1);
    case 47:
      if (block.started || block.deleted) {
        complain(scan.log, "rs-e07-not-at-line-start", "a slash");
        block.cut = true;
      } else {
        block.deleted = true;
      }
      return at + 1;
    case 35:
      block.started = true;
      block.cut = !readSetting(scan, at + 1, block.settings);
      return scan.pos;
    case 37:
      return readPercent(scan, block, at);
    case 41:
      complain(scan.log, "rs-e10-comment", "a parenthesis closes that never opened");
      break;
    default:
      if (c > 32 && c < 127) complain(scan.log, "rs-e09-unknown-letter", `the sign ${String.fromCharCode(c)}`);
      else complain(scan.log, "rs-e05-illegal-byte", `character ${c}`);
  }
  block.started = true;
  block.cut = true;
  return at;
}

function readPercent(scan: Scan, block: Block, at: number): number {
  const end = skipBlanks(scan.text, at + 1);
  const c = scan.text.charCodeAt(end);
  if (block.started || block.deleted || (c !== 10 && c !== 13)) {
    complain(scan.log, "rs-e03-percent-line");
    block.cut = true;
  }
  block.percent = true;
  block.started = true;
  return end;
}

function readComment(scan: Scan, block: Block, from: number): number {
  const text = scan.text;
  let i = from;
  for (;;) {
    const c = text.charCodeAt(i);
    if (c === 41) break;
    if (c < 32 ? c !== 9 : c > 126 || c === 40) {
      block.cut = true;
      const ends = c === 10 || c === 13;
      complain(
        scan.log,
        "rs-e10-comment",
        ends ? "it doesn't close" : c === 40 ? "a parenthesis opens inside it" : `it holds character ${c}`,
      );
      return i;
    }
    i++;
  }
  block.comment = true;
  block.commentFrom = from;
  block.commentTo = i;
  return i + 1;
}

function nameOf(letter: number): string {
  return String.fromCharCode(65 + letter);
}
