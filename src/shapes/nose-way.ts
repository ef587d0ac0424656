import { endsOfHollow, type Hollow, tightestBend } from "./hollow.ts";
import { nearestOn } from "./nearest-on.ts";
import { distance, type Point } from "./point.ts";
import { arc, lengthOf, line, pointAt, radiusOf, type Segment, tangentAt } from "./segment.ts";

/** Pieces of a way shorter than this are left out, mm. */
const CRUMB = 1e-7;

/** A rounded cutting end: a quarter round of radius `nose` outside a flat of radius `core`. mm. */
export interface Nose {
  readonly nose: number;
  readonly core: number;
}

/** Where a cutter stands to touch a hollow: how far its axis keeps inside the outline, and the height of its tip. mm. */
export interface Stand {
  readonly inset: number;
  readonly z: number;
}

/**
 * The way of the centre of a rounded nose that touches a hollow from the mouth to the middle, in the hollow's own plane:
 * its exact parallel, `nose` away into the air. Lines shift, arcs keep their centres; round a sharp mouth it is an arc about
 * the edge. The parallel serves in space too: all of the hollow's normals lie in planes of this kind.
 * @param to how far inside the outline the centre goes, mm
 * @returns undefined when the hollow has a bend tighter than the nose
 */
export function noseWay(h: Hollow, nose: number, to: number): readonly Segment[] | undefined {
  if (tightestBend(h) < nose - 1e-9) return undefined;
  const { mouth, floor } = endsOfHollow(h);
  const way: Segment[] = [];
  let heading: Point = { x: 1, y: 0 };
  let end: Point = { x: mouth.x, y: mouth.y + nose };
  const go = (s: Segment): void => {
    if (lengthOf(s) < CRUMB) return;
    way.push({ ...s, from: end });
    end = s.to;
  };
  for (const s of h.segments) {
    const ahead = tangentAt(s, 0);
    // A bend out of the wood is rolled round.
    if (heading.x * ahead.y - heading.y * ahead.x < -1e-7) go(arc(end, beside(s.from, ahead, nose), s.from, false));
    const to = beside(s.to, tangentAt(s, 1), nose);
    if (s.kind === "line") go(line(beside(s.from, ahead, nose), to));
    else if (!s.ccw || radiusOf(s) > nose + CRUMB) go(arc(beside(s.from, ahead, nose), to, s.centre, s.ccw));
    heading = tangentAt(s, 1);
  }
  if (to > end.x) go(line(end, { x: to, y: floor.y + nose }));
  return way;
}

function beside(at: Point, along: Point, left: number): Point {
  return { x: at.x - along.y * left, y: at.y + along.x * left };
}

/** How far a nose's centre keeps inside the outline at a height; where the way runs level, its nearer end. */
export function wayInset(way: readonly Segment[], y: number): number {
  for (const s of way) {
    if (s.to.y > y) continue;
    if (s.from.y <= y) return s.from.x;
    if (s.kind === "line") return s.from.x + ((y - s.from.y) / (s.to.y - s.from.y)) * (s.to.x - s.from.x);
    const v = y - s.centre.y;
    return s.centre.x + (s.ccw ? -1 : 1) * Math.sqrt(Math.max(0, radiusOf(s) ** 2 - v * v));
  }
  return Number.POSITIVE_INFINITY;
}

/** Height of the ridges that passes may leave, square to the surface. mm. */
export interface Ridges {
  readonly wall: number;
  /** On the level floor beyond the hollow's last point. */
  readonly floor: number;
}

/** More passes than this on one hollow are a mistake in what was asked. */
const MOST = 4000;

/** The last pass keeps this share of the most that it may keep from the middle, so that it is a ring and no point. */
const MIDDLE_SHARE = 0.9;

/**
 * Where to stand, from the mouth down to the middle, so that no ridge between two passes, above the first or in the middle
 * is higher than allowed: each pass lies as far from the one before as the ridge between them lets it, found by halving.
 * The ridge's top is the point where the two passes' rounds cross; its height, that point's distance from the surface.
 * Down an upright wall one pass at its foot does for all of it.
 * For a long arc of radius ρ this gives the step √(8 h R ρ / (ρ ± R)) of the textbooks, + where it bulges, − where it is
 * hollow (Suresh and Yang 1994; Lin and Koren 1996).
 * @param middle how far inside the outline the farthest point lies, mm
 * @returns undefined when the hollow has a bend tighter than the nose
 */
export function standsFor(
  h: Hollow,
  { nose, core }: Nose,
  middle: number,
  allowed: Ridges,
): readonly Stand[] | undefined {
  const beside = besideMiddle(h, nose, middle, allowed.floor);
  const way = noseWay(h, nose, middle - core);
  if (way === undefined) return undefined;
  const { floor } = endsOfHollow(h);
  const surface: readonly Segment[] = [...h.segments, line(floor, { x: Math.max(floor.x, middle) + 1, y: floor.y })];
  const away = (p: Point): number => Math.min(...surface.map((s) => nearestOn(s, p).distance));
  const ends = runningLengths(way);
  const total = lengthUntil(way, ends, middle - core - MIDDLE_SHARE * beside);
  const at = (u: number): Point => {
    const i = Math.max(
      0,
      ends.findIndex((e) => u <= e),
    );
    const length = lengthOf(way[i]!);
    return pointAt(way[i]!, 1 - (ends[i]! - u) / length);
  };
  const feet = way.flatMap((s, i) => (s.kind === "line" && s.to.x - s.from.x < CRUMB ? [ends[i]!] : []));
  const most = (c: Point): number => (c.x > floor.x && c.y <= floor.y + nose + CRUMB ? allowed.floor : allowed.wall);
  const stands: Point[] = [];
  for (let u = 0; stands.length < MOST; ) {
    const before = stands[stands.length - 1];
    const fits = (v: number): boolean => {
      const c = at(v);
      return away(before === undefined ? topRidge(c, nose) : ridgeBetween(before, c, nose, core)) <= most(c);
    };
    let low = u;
    let high = Math.min(total, ...feet.filter((f) => f > u + CRUMB));
    if (fits(high)) low = high;
    for (let k = 0; k < 50 && high - low > CRUMB; k++) {
      const v = (low + high) / 2;
      if (fits(v)) low = v;
      else high = v;
    }
    if (before !== undefined && low <= u) break;
    stands.push(at(low));
    if (low >= total) break;
    u = low;
  }
  return stands.map((c) => ({ inset: c.x + core, z: c.y - nose }));
}

/**
 * How far from the middle a last pass may keep, so that what stays there is no higher than allowed: half a step,
 * √(2 h R) on a level floor, √(2 h R (ρ − R) / ρ) on a dish of radius ρ.
 */
function besideMiddle(h: Hollow, nose: number, middle: number, allowed: number): number {
  const last = h.segments[h.segments.length - 1]!;
  const dished = last.kind === "arc" && last.ccw && last.to.x > middle - 0.01;
  // Where the nose is nearly as round as the dish, it is the ring's own width that counts.
  const round = dished ? Math.max(0.05, 1 - nose / radiusOf(last)) : 1;
  return Math.sqrt((2 * nose * allowed - allowed ** 2) * round);
}

function runningLengths(way: readonly Segment[]): readonly number[] {
  let sum = 0;
  return way.map((s) => {
    sum += lengthOf(s);
    return sum;
  });
}

/** Length of a way up to where its x is the given one. */
function lengthUntil(way: readonly Segment[], ends: readonly number[], x: number): number {
  const i = way.findIndex((s) => s.to.x > x);
  const s = way[i];
  if (s === undefined) return ends[ends.length - 1] ?? 0;
  let low = 0;
  let high = 1;
  for (let k = 0; k < 50; k++) {
    const t = (low + high) / 2;
    if (pointAt(s, t).x <= x) low = t;
    else high = t;
  }
  return ends[i]! - (1 - low) * lengthOf(s);
}

/** What stays beside the very first pass, where the surface around the mouth begins. */
function topRidge(c: Point, nose: number): Point {
  return { x: c.x - (c.y <= 0 ? nose : Math.sqrt(Math.max(0, nose * nose - c.y * c.y))), y: 0 };
}

/** Top of the ridge between a pass and the next one, lower down or further in. */
function ridgeBetween(a: Point, b: Point, nose: number, core: number): Point {
  const top = crossing(a, b, nose);
  // Above its nose the next pass stands upright.
  if (top.y > b.y) {
    const x = b.x - nose;
    return { x, y: a.y - Math.sqrt(Math.max(0, nose * nose - (x - a.x) ** 2)) };
  }
  if (core === 0 || top.x <= a.x) return top;
  // The flat under the pass before reaches 2 × core further in, level with its tip.
  const drop = nose - (a.y - b.y);
  const x = b.x - Math.sqrt(Math.max(0, nose * nose - drop * drop));
  return x <= a.x + 2 * core ? { x, y: a.y - nose } : crossing({ x: a.x + 2 * core, y: a.y }, b, nose);
}

/** The lower of two equal circles' crossings, on the side of the wood; between them where they do not meet. */
function crossing(a: Point, b: Point, radius: number): Point {
  const half = distance(a, b) / 2;
  const mid = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  if (half === 0) return { x: mid.x, y: mid.y - radius };
  const out = Math.sqrt(Math.max(0, radius * radius - half * half)) / (2 * half);
  // Walking from a to b, down and inwards, the wood is on the right.
  return { x: mid.x + (b.y - a.y) * out, y: mid.y - (b.x - a.x) * out };
}
