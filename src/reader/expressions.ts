import { complain } from "./log.ts";
import { readNumber, type Scan, skipBlanks } from "./numbers.ts";

/** Brackets and parameters inside one another: deeper than any program needs, shallow enough for the stack. */
const DEEPEST = 40;

const HIGHEST_PARAMETER = 5399;

/**
 * Reads a value that is not a plain number: `[…]`, `#…` or a function (NISTIR 6556 §3.3.2.2 to §3.3.2.4). Blanks mean
 * nothing. Sets `scan.pos` behind it.
 * @returns NaN, with the complaint made, when it is malformed or has no value
 */
export function readExpression(scan: Scan, start: number): number {
  scan.pos = start;
  const result = value(scan, 0);
  if (scan.ours && !Number.isNaN(result)) complain(scan.log, "rs-expression-used");
  return result;
}

/**
 * Reads `#index=value` from its index on and adds it to `settings`; it takes effect after the line is read.
 * @returns false, with the complaint made, when it is malformed
 */
export function readSetting(scan: Scan, start: number, settings: number[]): boolean {
  scan.pos = start;
  const index = parameterIndex(scan, 0);
  if (Number.isNaN(index)) return false;
  if (peek(scan) !== 61) {
    fail(scan, "a parameter is named, but no = follows");
    return false;
  }
  scan.pos++;
  const set = value(scan, 0);
  if (Number.isNaN(set)) return false;
  settings.push(index, set);
  if (scan.ours) complain(scan.log, "rs-expression-used");
  return true;
}

/** A number, parameter, bracket or function. */
function value(scan: Scan, depth: number): number {
  if (depth > DEEPEST) return fail(scan, "brackets or parameters are nested too deep");
  const c = peek(scan);
  if (c === 91) {
    scan.pos++;
    return bracket(scan, depth + 1);
  }
  if (c === 35) {
    scan.pos++;
    return parameter(scan, depth + 1);
  }
  if (isLetter(c)) return unary(scan, depth + 1);
  if ((c >= 48 && c <= 57) || c === 46 || c === 43 || c === 45) return readNumber(scan, scan.pos);
  complain(scan.log, "rs-e11-number", "no value follows");
  return Number.NaN;
}

function parameterIndex(scan: Scan, depth: number): number {
  const raw = value(scan, depth);
  if (Number.isNaN(raw)) return raw;
  const index = Math.round(raw);
  if (Math.abs(raw - index) > 0.0001 || index < 1 || index > HIGHEST_PARAMETER) {
    return fail(scan, `there is no parameter ${raw}`);
  }
  return index;
}

function parameter(scan: Scan, depth: number): number {
  const index = parameterIndex(scan, depth);
  if (Number.isNaN(index)) return index;
  const known = scan.parameters.get(index);
  if (known === undefined) {
    complain(scan.log, "rs-parameter-unknown", `#${index} is read as 0`);
    return 0;
  }
  return known;
}

/** Levels of the binary operations, loosest first: + − OR XOR AND, then * / MOD, then **; left to right in a level. */
type Operation = "+" | "-" | "OR" | "XOR" | "AND" | "*" | "/" | "MOD" | "**";

const LEVELS: Readonly<Record<Operation, number>> = {
  "+": 1,
  "-": 1,
  OR: 1,
  XOR: 1,
  AND: 1,
  "*": 2,
  "/": 2,
  MOD: 2,
  "**": 3,
};

/** What stands after `[`, up to and with the `]`. */
function bracket(scan: Scan, depth: number): number {
  const result = chain(scan, depth, 1);
  if (Number.isNaN(result)) return result;
  if (peek(scan) !== 93) return fail(scan, "a bracket doesn't close, or an operation is not known");
  scan.pos++;
  return result;
}

/** Operands joined by operations of this level or tighter. */
function chain(scan: Scan, depth: number, level: number): number {
  if (level > 3) return value(scan, depth);
  let left = chain(scan, depth, level + 1);
  for (;;) {
    if (Number.isNaN(left)) return left;
    const before = scan.pos;
    const operation = readOperation(scan);
    if (operation === undefined || LEVELS[operation] !== level) {
      scan.pos = before;
      return left;
    }
    const right = chain(scan, depth, level + 1);
    if (Number.isNaN(right)) return right;
    left = apply(scan, operation, left, right);
  }
}

function readOperation(scan: Scan): Operation | undefined {
  const c = peek(scan);
  switch (c) {
    case 43:
      scan.pos++;
      return "+";
    case 45:
      scan.pos++;
      return "-";
    case 47:
      scan.pos++;
      return "/";
    case 42: {
      scan.pos++;
      if (peek(scan) !== 42) return "*";
      scan.pos++;
      return "**";
    }
  }
  if (takeWord(scan, "OR")) return "OR";
  if (takeWord(scan, "XOR")) return "XOR";
  if (takeWord(scan, "AND")) return "AND";
  if (takeWord(scan, "MOD")) return "MOD";
  return undefined;
}

function apply(scan: Scan, operation: Operation, left: number, right: number): number {
  switch (operation) {
    case "+":
      return finite(scan, left + right);
    case "-":
      return finite(scan, left - right);
    case "*":
      return finite(scan, left * right);
    case "/":
      return right === 0 ? fail(scan, "a division by zero") : finite(scan, left / right);
    case "MOD": {
      if (right === 0) return fail(scan, "a remainder of a division by zero");
      const rest = left % right;
      return rest < 0 ? rest + Math.abs(right) : rest;
    }
    case "**":
      return left < 0 && !Number.isInteger(right)
        ? fail(scan, "a negative number to a power that is not whole")
        : finite(scan, left ** right);
    case "OR":
      return left !== 0 || right !== 0 ? 1 : 0;
    case "XOR":
      return (left !== 0) !== (right !== 0) ? 1 : 0;
    case "AND":
      return left !== 0 && right !== 0 ? 1 : 0;
  }
}

const DEGREES = 180 / Math.PI;

type Function = (scan: Scan, x: number) => number;

/** Functions of one value; angles in degrees. ROUND goes away from zero at a half. */
const FUNCTIONS: readonly (readonly [string, Function])[] = [
  ["ABS", (_, x) => Math.abs(x)],
  ["ACOS", (s, x) => (Math.abs(x) > 1 ? fail(s, "ACOS of more than 1") : Math.acos(x) * DEGREES)],
  ["ASIN", (s, x) => (Math.abs(x) > 1 ? fail(s, "ASIN of more than 1") : Math.asin(x) * DEGREES)],
  ["COS", (_, x) => Math.cos(x / DEGREES)],
  ["EXP", (s, x) => finite(s, Math.exp(x))],
  ["FIX", (_, x) => Math.floor(x)],
  ["FUP", (_, x) => Math.ceil(x)],
  ["LN", (s, x) => (x > 0 ? Math.log(x) : fail(s, "LN of zero or less"))],
  ["ROUND", (_, x) => Math.sign(x) * Math.floor(Math.abs(x) + 0.5)],
  ["SIN", (_, x) => Math.sin(x / DEGREES)],
  ["SQRT", (s, x) => (x >= 0 ? Math.sqrt(x) : fail(s, "a root of a negative number"))],
  ["TAN", (s, x) => finite(s, Math.tan(x / DEGREES))],
];

function unary(scan: Scan, depth: number): number {
  if (takeWord(scan, "ATAN")) return arcTangent(scan, depth);
  for (const [name, work] of FUNCTIONS) {
    if (!takeWord(scan, name)) continue;
    const x = argument(scan, depth, name);
    return Number.isNaN(x) ? x : work(scan, x);
  }
  complain(scan.log, "rs-e11-number", "no value follows, and no function has this name");
  return Number.NaN;
}

/** `ATAN[y]/[x]`: the direction of (x, y), −180 to 180 degrees. */
function arcTangent(scan: Scan, depth: number): number {
  const y = argument(scan, depth, "ATAN");
  if (Number.isNaN(y)) return y;
  if (peek(scan) !== 47) return fail(scan, "ATAN takes two brackets with a slash between");
  scan.pos++;
  const x = argument(scan, depth, "ATAN");
  return Number.isNaN(x) ? x : Math.atan2(y, x) * DEGREES;
}

function argument(scan: Scan, depth: number, name: string): number {
  if (peek(scan) !== 91) return fail(scan, `${name} takes a bracket`);
  scan.pos++;
  return depth > DEEPEST ? fail(scan, "brackets or parameters are nested too deep") : bracket(scan, depth + 1);
}

/** The next character that is not blank; moves there. */
function peek(scan: Scan): number {
  scan.pos = skipBlanks(scan.text, scan.pos);
  return scan.text.charCodeAt(scan.pos);
}

/** Takes a word in either case, blanks allowed between its letters; moves only when all of it is there. */
function takeWord(scan: Scan, word: string): boolean {
  let at = scan.pos;
  for (let k = 0; k < word.length; k++) {
    at = skipBlanks(scan.text, at);
    if ((scan.text.charCodeAt(at) & ~32) !== word.charCodeAt(k)) return false;
    at++;
  }
  scan.pos = at;
  return true;
}

function isLetter(c: number): boolean {
  return (c >= 65 && c <= 90) || (c >= 97 && c <= 122);
}

function finite(scan: Scan, x: number): number {
  return Number.isFinite(x) ? x : fail(scan, "a result too large to be a number");
}

function fail(scan: Scan, detail: string): number {
  complain(scan.log, "rs-e56-expression", detail);
  return Number.NaN;
}
