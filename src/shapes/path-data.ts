import { type Affine, applyAffine, within } from "./affine.ts";
import type { Point } from "./point.ts";

/**
 * A piece of a drawn outline, in the drawing's own units, beginning where the one before ended. An `ellipse` is the
 * unit circle from angle `start` through `sweep` (radians) seen through `frame`.
 */
export type DrawnPiece =
  | { readonly kind: "line"; readonly to: Point }
  | { readonly kind: "bezier"; readonly near: Point; readonly far: Point; readonly to: Point }
  | {
      readonly kind: "ellipse";
      readonly frame: Affine;
      readonly start: number;
      readonly sweep: number;
      readonly to: Point;
    };

/** A run of pieces. `at` is its place within the text it was read from. */
export interface Subpath {
  readonly start: Point;
  readonly pieces: readonly DrawnPiece[];
  /** Closed by a command, whether or not the last point lies on the first. */
  readonly closed: boolean;
  readonly at: number;
}

/** What could not be read, and where in the text. */
export interface PathFault {
  readonly at: number;
  readonly what: string;
  readonly tooMuch: boolean;
}

/** Most pieces read from a drawing of an outline. */
export const MOST_PIECES = 10_000;

const ARGUMENTS: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, T: 2, A: 7, Z: 0 };

interface Run {
  readonly start: Point;
  readonly at: number;
  readonly pieces: DrawnPiece[];
}

/**
 * Reads path data. Source: W3C, SVG 1.1 second edition, §8.3 and its grammar (compact numbers, flags without
 * separators, repeated arguments).
 * @param most pieces; more is a fault
 */
export function readPathData(
  text: string,
  most = MOST_PIECES,
): { readonly subpaths: readonly Subpath[] } | { readonly fault: PathFault } {
  const subpaths: Subpath[] = [];
  let run: Run | undefined;
  let here: Point = { x: 0, y: 0 };
  let first: Point = here;
  /** Control point that a smooth command mirrors, and for which degree of curve. */
  let control: { readonly p: Point; readonly cubic: boolean } | undefined;
  let count = 0;
  const finish = (closed: boolean): void => {
    if (run !== undefined && run.pieces.length > 0) {
      subpaths.push({ start: run.start, pieces: run.pieces, closed, at: run.at });
    }
    run = undefined;
  };
  const scan = scanning(text);
  while (!scan.done()) {
    const at = scan.at();
    const letter = scan.command();
    const upper = letter?.toUpperCase();
    const size = upper === undefined ? undefined : ARGUMENTS[upper];
    if (letter === undefined || upper === undefined || size === undefined) {
      return { fault: { at, what: "a path command was expected", tooMuch: false } };
    }
    if (subpaths.length === 0 && run === undefined && upper !== "M") {
      return { fault: { at, what: "a path must begin with M", tooMuch: false } };
    }
    if (upper === "Z") {
      finish(true);
      here = first;
      control = undefined;
      continue;
    }
    let repeat = false;
    do {
      const argumentsAt = scan.at();
      const v = scan.arguments(size, upper === "A");
      if (v === undefined) {
        return { fault: { at: scan.at(), what: `${letter} needs ${size} numbers`, tooMuch: false } };
      }
      if (!v.every((n) => Math.abs(n) <= 1e9)) {
        return { fault: { at: argumentsAt, what: "a number beyond all measure", tooMuch: true } };
      }
      if (++count > most) {
        return { fault: { at: argumentsAt, what: `more than ${most} pieces`, tooMuch: true } };
      }
      const o = letter === upper ? { x: 0, y: 0 } : here;
      const pair = (k: number): Point => ({ x: o.x + v[k]!, y: o.y + v[k + 1]! });
      if (upper === "M" && !repeat) {
        finish(false);
        here = pair(0);
        first = here;
        run = { start: here, at: argumentsAt, pieces: [] };
        control = undefined;
      } else {
        run ??= { start: here, at: argumentsAt, pieces: [] };
        const step = pieceFrom(upper, v, pair, here, o, control);
        if (step.piece !== undefined) run.pieces.push(step.piece);
        here = step.to;
        control = step.control;
      }
      repeat = true;
    } while (scan.numberAhead());
  }
  finish(false);
  return { subpaths };
}

interface Step {
  readonly to: Point;
  readonly piece?: DrawnPiece;
  readonly control?: { readonly p: Point; readonly cubic: boolean } | undefined;
}

function pieceFrom(
  command: string,
  v: readonly number[],
  pair: (k: number) => Point,
  here: Point,
  o: Point,
  control: { readonly p: Point; readonly cubic: boolean } | undefined,
): Step {
  const straight = (to: Point): Step => ({ to, piece: { kind: "line", to } });
  const cubic = (near: Point, far: Point, to: Point): Step => ({
    to,
    piece: { kind: "bezier", near, far, to },
    control: { p: far, cubic: true },
  });
  const quadratic = (middle: Point, to: Point): Step => ({
    to,
    piece: { kind: "bezier", near: towards(here, middle), far: towards(to, middle), to },
    control: { p: middle, cubic: false },
  });
  const mirrored = (wanted: boolean): Point =>
    control !== undefined && control.cubic === wanted
      ? { x: 2 * here.x - control.p.x, y: 2 * here.y - control.p.y }
      : here;
  if (command === "H") return straight({ x: o.x + v[0]!, y: here.y });
  if (command === "V") return straight({ x: here.x, y: o.y + v[0]! });
  if (command === "C") return cubic(pair(0), pair(2), pair(4));
  if (command === "S") return cubic(mirrored(true), pair(0), pair(2));
  if (command === "Q") return quadratic(pair(0), pair(2));
  if (command === "T") return quadratic(mirrored(false), pair(0));
  if (command === "A") {
    const to = pair(5);
    const piece = ellipticArc(here, v[0]!, v[1]!, v[2]!, v[3] === 1, v[4] === 1, to);
    return piece === undefined ? { to } : { to, piece };
  }
  return straight(pair(0));
}

/** A quadratic curve's control point, raised to the cubic of the same curve. */
function towards(end: Point, middle: Point): Point {
  return { x: end.x + (2 / 3) * (middle.x - end.x), y: end.y + (2 / 3) * (middle.y - end.y) };
}

/**
 * The arc between two points of an ellipse with the given radii, turned by `turnDeg`; a line for a radius of 0;
 * nothing when the ends are one point. Radii too small to reach are grown alike.
 * Source: W3C, SVG 1.1 second edition, implementation notes F.6.5 and F.6.6.
 */
export function ellipticArc(
  from: Point,
  rx: number,
  ry: number,
  turnDeg: number,
  large: boolean,
  positive: boolean,
  to: Point,
): DrawnPiece | undefined {
  if (from.x === to.x && from.y === to.y) return undefined;
  if (rx === 0 || ry === 0) return { kind: "line", to };
  const rad = (turnDeg * Math.PI) / 180;
  const cos = Math.cos(rad);
  const sin = Math.sin(rad);
  const hx = (from.x - to.x) / 2;
  const hy = (from.y - to.y) / 2;
  // In the frame where the ellipse is a unit circle, the chord's half is (ux, uy).
  let [sx, sy] = [Math.abs(rx), Math.abs(ry)];
  let ux = (cos * hx + sin * hy) / sx;
  let uy = (cos * hy - sin * hx) / sy;
  const reach = ux * ux + uy * uy;
  if (reach > 1) {
    const grow = Math.sqrt(reach);
    sx *= grow;
    sy *= grow;
    ux /= grow;
    uy /= grow;
  }
  const side = (large === positive ? -1 : 1) * Math.sqrt(Math.max(0, 1 / Math.max(ux * ux + uy * uy, 1e-300) - 1));
  const [cx, cy] = [side * uy, -side * ux];
  const start = Math.atan2(uy - cy, ux - cx);
  let sweep = Math.atan2(-uy - cy, -ux - cx) - start;
  if (positive && sweep <= 0) sweep += 2 * Math.PI;
  if (!positive && sweep >= 0) sweep -= 2 * Math.PI;
  const turnedAndGrown: Affine = { a: cos * sx, b: sin * sx, c: -sin * sy, d: cos * sy, e: 0, f: 0 };
  const middle = applyAffine(turnedAndGrown, { x: cx, y: cy });
  const shift: Affine = {
    a: 1,
    b: 0,
    c: 0,
    d: 1,
    e: middle.x + (from.x + to.x) / 2,
    f: middle.y + (from.y + to.y) / 2,
  };
  return { kind: "ellipse", frame: within(shift, turnedAndGrown), start, sweep, to };
}

interface Scan {
  readonly at: () => number;
  readonly done: () => boolean;
  readonly command: () => string | undefined;
  readonly numberAhead: () => boolean;
  /** So many numbers; for an arc the fourth and fifth are single digits that may run together with what follows. */
  readonly arguments: (size: number, arc: boolean) => number[] | undefined;
}

/** Reads letters and numbers off a text, each with the spaces and commas after it. */
function scanning(text: string): Scan {
  let at = 0;
  const take = (pattern: RegExp): string | undefined => {
    pattern.lastIndex = at;
    const found = pattern.exec(text)?.[0];
    if (found !== undefined) at += found.length;
    return found;
  };
  const space = /[\s,]*/y;
  const number = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
  const letter = /[A-Za-z]/y;
  const flag = /[01]/y;
  const next = (pattern: RegExp): string | undefined => {
    const found = take(pattern);
    take(space);
    return found;
  };
  take(space);
  return {
    at: () => at,
    done: () => at >= text.length,
    command: () => next(letter),
    numberAhead: () => /[-+.\d]/.test(text[at] ?? ""),
    arguments: (size, arc) => {
      const values: number[] = [];
      while (values.length < size) {
        const found = next(arc && (values.length === 3 || values.length === 4) ? flag : number);
        if (found === undefined) return undefined;
        values.push(Number(found));
      }
      return values;
    },
  };
}
