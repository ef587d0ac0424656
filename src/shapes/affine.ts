import type { Point } from "./point.ts";

/**
 * Any straight-line-keeping map of the plane, as drawings use: x' = a·x + c·y + e, y' = b·x + d·y + f. Unlike a
 * `PlanMap` it may scale and skew, so it stops where a drawing has become a region.
 */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

/** The map that moves nothing. */
export const NO_TRANSFORM: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** Where a point goes. */
export function applyAffine(m: Affine, p: Point): Point {
  return { x: m.a * p.x + m.c * p.y + m.e, y: m.b * p.x + m.d * p.y + m.f };
}

/** Where a direction goes: the shift left out. */
export function applyToDirection(m: Affine, p: Point): Point {
  return { x: m.a * p.x + m.c * p.y, y: m.b * p.x + m.d * p.y };
}

/** `inner` first, then `outer`. */
export function within(outer: Affine, inner: Affine): Affine {
  const i = applyToDirection(outer, { x: inner.a, y: inner.b });
  const j = applyToDirection(outer, { x: inner.c, y: inner.d });
  const o = applyAffine(outer, { x: inner.e, y: inner.f });
  return { a: i.x, b: i.y, c: j.x, d: j.y, e: o.x, f: o.y };
}

/** Signed growth of areas; negative for a mirror. */
export function determinantOf(m: Affine): number {
  return m.a * m.d - m.b * m.c;
}

/** True when circles stay circles: both axes grow alike and stay square, within rounding. */
export function keepsCircles(m: Affine): boolean {
  const i = Math.hypot(m.a, m.b);
  const j = Math.hypot(m.c, m.d);
  const most = Math.max(i, j);
  return Math.abs(i - j) <= 1e-9 * most && Math.abs(m.a * m.c + m.b * m.d) <= 1e-9 * most * most;
}

/** Characters; a drawing program writes some dozens. */
const LONGEST_TRANSFORM = 2000;

const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const SEPARATOR = /[\s,]*/y;

/**
 * Numbers parted by spaces or commas; undefined when anything else stands between. Reading stops at one more than
 * `most`.
 */
export function numbersIn(text: string, most = 16): number[] | undefined {
  const found: number[] = [];
  const number = new RegExp(NUMBER);
  const separator = new RegExp(SEPARATOR);
  let i = 0;
  for (;;) {
    separator.lastIndex = i;
    separator.exec(text);
    i = separator.lastIndex;
    if (i >= text.length || found.length > most) return found;
    number.lastIndex = i;
    const match = number.exec(text);
    if (match === null) return undefined;
    found.push(Number(match[0]));
    i = number.lastIndex;
  }
}

/**
 * The map a `transform` attribute means; undefined when it cannot be read or would flatten the drawing to a line.
 * Source: W3C, SVG 1.1 second edition, §7.6.
 */
export function transformFrom(text: string): Affine | undefined {
  if (text.length > LONGEST_TRANSFORM) return undefined;
  let map = NO_TRANSFORM;
  const step = /[\s,]*([A-Za-z]+)\s*\(([^()]*)\)[\s,]*/y;
  let i = 0;
  while (i < text.length && text.slice(i).trim() !== "") {
    step.lastIndex = i;
    const found = step.exec(text);
    const values = found === null ? undefined : numbersIn(found[2]!);
    const one = found === null || values === undefined ? undefined : oneTransform(found[1]!, values);
    if (one === undefined) return undefined;
    map = within(map, one);
    i = step.lastIndex;
  }
  const grows = Math.abs(determinantOf(map));
  return Object.values(map).every(Number.isFinite) && grows > 1e-12 ? map : undefined;
}

function oneTransform(name: string, v: readonly number[]): Affine | undefined {
  const [p = 0, q, r, s, t, u] = v;
  const tan = Math.tan((p * Math.PI) / 180);
  switch (name) {
    case "matrix":
      if (v.length !== 6) return undefined;
      return { a: p, b: q!, c: r!, d: s!, e: t!, f: u! };
    case "translate":
      return v.length === 1 || v.length === 2 ? { ...NO_TRANSFORM, e: p, f: q ?? 0 } : undefined;
    case "scale":
      return v.length === 1 || v.length === 2 ? { ...NO_TRANSFORM, a: p, d: q ?? p } : undefined;
    case "rotate": {
      if (v.length !== 1 && v.length !== 3) return undefined;
      const turn = turned(p);
      const [x, y] = [q ?? 0, r ?? 0];
      return within(within({ ...NO_TRANSFORM, e: x, f: y }, turn), { ...NO_TRANSFORM, e: -x, f: -y });
    }
    case "skewX":
      return v.length === 1 ? { ...NO_TRANSFORM, c: tan } : undefined;
    case "skewY":
      return v.length === 1 ? { ...NO_TRANSFORM, b: tan } : undefined;
    default:
      return undefined;
  }
}

/** Quarter turns exactly. */
function turned(deg: number): Affine {
  const quarter = (((deg / 90) % 4) + 4) % 4;
  const rad = (deg * Math.PI) / 180;
  const whole = Number.isInteger(quarter);
  const cos = whole ? [1, 0, -1, 0][quarter]! : Math.cos(rad);
  const sin = whole ? [0, 1, 0, -1][quarter]! : Math.sin(rad);
  return { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
}
