import { distance, type Point } from "../point.ts";
import { centreGraph } from "./centre-graph.ts";
import type { Bitmap } from "./grey-picture.ts";
import { inkDepth } from "./ink-depth.ts";
import { type Thinned, thin } from "./thin.ts";

/** One stroke of a pen as points along its middle, in pixels: X to the right, Y up from the picture's lower left corner. */
export interface PenStroke {
  readonly points: readonly Point[];
  /** The last point joins the first. */
  readonly closed: boolean;
  /** Mean width of the ink along it, pixels: as deep as it is to the nearest side, so up to a pixel too little. */
  readonly width: number;
}

/** Sharpest turn, degrees, that still counts as going on through a crossing. Ours, tried on drawn crossings. */
const WIDEST_TURN = 60;
/** Rounds of [1 2 1] / 4 that take the pixel steps out of a line: on a curve of 10 pixels' radius it gives way 0.1 pixel. */
const SMOOTHING = 4;

/** A branch with knots that may be merged, as points. */
interface Arm {
  readonly knots: readonly [number, number];
  readonly points: readonly Point[];
  /** Depth of ink at each point. */
  readonly depths: readonly number[];
}

/**
 * Strokes along the middle of ink. Thinned lines are walked from knot to knot; crossings nearer to each other than the
 * strokes are wide count as one; stubs shorter than the ink is deep are dropped. At a crossing the two branches that go on
 * straightest are joined, then the next two; the line through it is drawn straight, as thinning bends it there. Free
 * ends are lengthened by half the ink's width there, which thinning took; a blot becomes a line of its own length.
 */
export function strokesOf(ink: Bitmap): PenStroke[] {
  const { width, height } = ink;
  const depth = inkDepth(ink);
  const thinned = thin(ink, 3);
  const middle = (i: number): Point => ({ x: (i % width) + 0.5, y: height - Math.floor(i / width) - 0.5 });
  const graph = centreGraph(withoutKept(thinned));
  const strokes: PenStroke[] = thinned.kept.map((pixels) => blot(pixels.map(middle)));
  const centres = graph.knots.map((pixels) => centroid(pixels.map(middle)));
  const depths = graph.knots.map((pixels) => Math.max(...pixels.map((i) => depth[i]!)));
  const degree = graph.knots.map(() => 0);
  for (const b of graph.branches) for (const k of b.knots) if (k >= 0) degree[k]!++;
  for (const [k, pixels] of graph.knots.entries()) {
    if (degree[k] === 0) strokes.push(dot(centroid(pixels.map(middle)), depths[k]!));
  }
  let arms: Arm[] = graph.branches.map((b) => ({
    knots: b.knots,
    points: b.pixels.map((p, i) =>
      // A crossing of several pixels is drawn to its middle.
      i === 0 && b.knots[0] >= 0
        ? centres[b.knots[0]]!
        : i === b.pixels.length - 1 && b.knots[1] >= 0
          ? centres[b.knots[1]]!
          : middle(p),
    ),
    depths: b.pixels.map((p) => depth[p]!),
  }));
  // Where a stub stood, its end: the tip of a sharp bend, if it was one.
  const tips = new Map<number, Point>();
  arms = arms.filter((a) => {
    const [from, to] = a.knots;
    if (from < 0 || (degree[from] === 1) === (degree[to] === 1)) return true;
    const crossing = degree[from] === 1 ? to : from;
    const stub = lengthOf(a.points) <= depths[crossing]! + 1;
    if (!stub) return true;
    degree[crossing]!--;
    tips.set(crossing, crossing === to ? a.points[0]! : a.points[a.points.length - 1]!);
    return false;
  });
  const merged = mergeNear(arms, centres, depths, degree);
  strokes.push(...joinThrough(merged, depths, tips));
  return strokes;
}

function withoutKept(thinned: Thinned): Bitmap {
  const bits = thinned.bits.slice();
  for (const patch of thinned.kept) for (const i of patch) bits[i] = 0;
  return { width: thinned.width, height: thinned.height, bits };
}

/** Knots of crossings that lie nearer together than the ink is wide become one, at the middle of the bridge. */
function mergeNear(
  arms: readonly Arm[],
  centres: Point[],
  depths: readonly number[],
  degree: readonly number[],
): Arm[] {
  const root = centres.map((_, k) => k);
  const find = (k: number): number => {
    let r = k;
    while (root[r] !== r) r = root[r]!;
    return r;
  };
  const kept: Arm[] = [];
  for (const arm of arms) {
    const [from, to] = arm.knots;
    const bridge =
      from >= 0 &&
      from !== to &&
      degree[from]! > 2 &&
      degree[to]! > 2 &&
      lengthOf(arm.points) <= depths[from]! + depths[to]! + 1;
    if (!bridge) kept.push(arm);
    else {
      const a = find(from);
      const b = find(to);
      root[b] = a;
      centres[a] = centroid([centres[a]!, centres[b]!]);
    }
  }
  return kept.map((arm) => {
    if (arm.knots[0] < 0) return arm;
    const from = find(arm.knots[0]);
    const to = find(arm.knots[1]);
    return {
      knots: [from, to],
      points: [centres[from]!, ...arm.points.slice(1, -1), centres[to]!],
      depths: arm.depths,
    };
  });
}

/** An end of an arm: 0 its first point, 1 its last. */
interface End {
  readonly arm: number;
  readonly side: 0 | 1;
}

function joinThrough(arms: readonly Arm[], depths: readonly number[], tips: ReadonlyMap<number, Point>): PenStroke[] {
  const ends = new Map<number, End[]>();
  for (const [i, arm] of arms.entries()) {
    for (const side of [0, 1] as const) {
      const knot = arm.knots[side];
      if (knot < 0) continue;
      const list = ends.get(knot);
      if (list === undefined) ends.set(knot, [{ arm: i, side }]);
      else list.push({ arm: i, side });
    }
  }
  const partner = new Map<number, End>();
  const bent = new Map<number, Point>();
  const id = (e: End): number => 2 * e.arm + e.side;
  for (const [knot, list] of ends) {
    for (const { a, b, turn } of straightest(list, (e) => heading(arms[e.arm]!, e.side, depths[knot]!))) {
      partner.set(id(a), b);
      partner.set(id(b), a);
      if (turn <= WIDEST_TURN) continue;
      const tip = tips.get(knot) ?? arms[a.arm]!.points[a.side === 0 ? 0 : arms[a.arm]!.points.length - 1]!;
      bent.set(id(a), tip);
      bent.set(id(b), tip);
    }
  }
  const free = (e: End): boolean => {
    const knot = arms[e.arm]!.knots[e.side];
    return knot >= 0 && ends.get(knot)!.length === 1;
  };
  const used = new Set<number>();
  const strokes: PenStroke[] = [];
  const follow = (start: End): void => {
    const points: Point[] = [];
    const widths: number[] = [];
    let enter: End | undefined = start;
    let last: End = start;
    let closed = arms[start.arm]!.knots[0] < 0;
    while (enter !== undefined && !used.has(enter.arm)) {
      used.add(enter.arm);
      const arm: Arm = arms[enter.arm]!;
      const leave: End = { arm: enter.arm, side: enter.side === 0 ? 1 : 0 };
      const goesOn = (at: number): boolean => partner.has(at) && !bent.has(at);
      const cut = [...cutBack(arm, [goesOn(2 * enter.arm), goesOn(2 * enter.arm + 1)], depths)];
      const tipped = [bent.get(2 * enter.arm), bent.get(2 * enter.arm + 1)];
      if (tipped[0] !== undefined) cut[0] = tipped[0];
      if (tipped[1] !== undefined) cut[cut.length - 1] = tipped[1];
      points.push(...(enter.side === 0 ? cut : [...cut].reverse()));
      widths.push(...arm.depths);
      last = leave;
      enter = partner.get(id(leave));
      if (enter !== undefined && enter.arm === start.arm && used.has(enter.arm)) closed = true;
    }
    const width = (2 * widths.reduce((s, d) => s + d, 0)) / widths.length;
    const own = points.filter((p, i) => i === 0 || distance(p, points[i - 1]!) > 1e-9);
    const smooth = smoothed(own, closed);
    if (closed) {
      if (smooth.length > 2) strokes.push({ points: smooth, closed, width });
      return;
    }
    const long = lengthened(
      smooth,
      free(start) ? endDepth(arms[start.arm]!, start.side) : 0,
      free(last) ? endDepth(arms[last.arm]!, last.side) : 0,
    );
    if (long.length > 1) strokes.push({ points: long, closed, width });
  };
  // Strokes with an end first; what is left goes round.
  for (const [i] of arms.entries()) {
    for (const side of [0, 1] as const) {
      if (arms[i]!.knots[side] >= 0 && !used.has(i) && !partner.has(2 * i + side)) follow({ arm: i, side });
    }
  }
  for (const [i] of arms.entries()) if (!used.has(i)) follow({ arm: i, side: 0 });
  return strokes;
}

interface Pair {
  readonly a: End;
  readonly b: End;
  /** How far the way turns, degrees. */
  readonly turn: number;
}

/** Pairs of ends that go on into each other, straightest first; each end in one pair at most. */
function straightest(list: readonly End[], heads: (e: End) => Point): Pair[] {
  const pairs: Pair[] = [];
  for (const [i, a] of list.entries()) {
    for (const b of list.slice(i + 1)) {
      const u = heads(a);
      const v = heads(b);
      const turn = 180 - (Math.abs(Math.atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y)) * 180) / Math.PI;
      // Two arms alone at a knot (a stub between them was dropped) are one line, however it turns.
      if (turn <= WIDEST_TURN || list.length === 2) pairs.push({ a, b, turn });
    }
  }
  pairs.sort((p, q) => p.turn - q.turn);
  const taken = new Set<End>();
  return pairs.filter(({ a, b }) => {
    if (taken.has(a) || taken.has(b)) return false;
    taken.add(a);
    taken.add(b);
    return true;
  });
}

/** Direction in which an arm leaves its knot, taken beyond the blur of the crossing. */
function heading(arm: Arm, side: 0 | 1, depth: number): Point {
  const way = side === 0 ? arm.points : [...arm.points].reverse();
  const knot = way[0]!;
  const near = way.find((p) => distance(p, knot) >= 1.2 * depth) ?? knot;
  const far = way.find((p) => distance(p, knot) >= 1.2 * depth + Math.max(4, 2 * depth)) ?? way[way.length - 1]!;
  const from = distance(near, far) < 2 ? knot : near;
  return { x: far.x - from.x, y: far.y - from.y };
}

/** An arm without the points inside the blur of a crossing it is joined through, if it is long enough to spare them. */
function cutBack(arm: Arm, joined: readonly [boolean, boolean], depths: readonly number[]): readonly Point[] {
  const { points, knots } = arm;
  const first = points[0]!;
  const last = points[points.length - 1]!;
  const blur = knots.map((k, side) => (joined[side] && k >= 0 ? 1.2 * depths[k]! : 0));
  if (lengthOf(points) < 2 * (blur[0]! + blur[1]!)) return points;
  return points.filter(
    (p, i) =>
      (i === 0 && !joined[0]) ||
      (i === points.length - 1 && !joined[1]) ||
      ((!joined[0] || distance(p, first) >= blur[0]!) && (!joined[1] || distance(p, last) >= blur[1]!)),
  );
}

/** Depth of ink just inside an arm's free end, where thinning no longer saw the end itself. */
function endDepth(arm: Arm, side: 0 | 1): number {
  return arm.depths[side === 0 ? 0 : arm.depths.length - 1]!;
}

function lengthened(points: readonly Point[], atStart: number, atEnd: number): Point[] {
  const out = [...points];
  if (atStart > 0) out.unshift(beyond(points, atStart));
  if (atEnd > 0) out.push(beyond([...points].reverse(), atEnd));
  return out;
}

/** A point `by` beyond a line's first, along its run of the same length or four pixels. */
function beyond(points: readonly Point[], by: number): Point {
  const end = points[0]!;
  const back = points.find((p) => distance(p, end) >= Math.max(4, by)) ?? points[points.length - 1]!;
  const run = distance(back, end);
  const x = run > 0 ? (end.x - back.x) / run : 1;
  const y = run > 0 ? (end.y - back.y) / run : 0;
  return { x: end.x + by * x, y: end.y + by * y };
}

function smoothed(points: readonly Point[], closed: boolean): readonly Point[] {
  let now = points;
  const n = points.length;
  if (n < 3) return now;
  for (let round = 0; round < SMOOTHING; round++) {
    const before = now;
    now = before.map((p, i) => {
      if (!closed && (i === 0 || i === n - 1)) return p;
      const a = before[(i + n - 1) % n]!;
      const b = before[(i + 1) % n]!;
      return { x: (a.x + 2 * p.x + b.x) / 4, y: (a.y + 2 * p.y + b.y) / 4 };
    });
  }
  return now;
}

/** A round blot: a level line as long as the blot is wide. */
function dot(at: Point, depth: number): PenStroke {
  const half = Math.max(0.5, depth);
  return {
    points: [
      { x: at.x - half, y: at.y },
      { x: at.x + half, y: at.y },
    ],
    closed: false,
    width: 2 * half,
  };
}

/** A patch that thinning would have lost: a line along its longer way. */
function blot(pixels: readonly Point[]): PenStroke {
  const c = centroid(pixels);
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (const p of pixels) {
    xx += (p.x - c.x) ** 2;
    yy += (p.y - c.y) ** 2;
    xy += (p.x - c.x) * (p.y - c.y);
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  const ux = Math.cos(angle);
  const uy = Math.sin(angle);
  const along = pixels.map((p) => (p.x - c.x) * ux + (p.y - c.y) * uy);
  const from = Math.min(...along) - 0.5;
  const to = Math.max(...along) + 0.5;
  return {
    points: [
      { x: c.x + from * ux, y: c.y + from * uy },
      { x: c.x + to * ux, y: c.y + to * uy },
    ],
    closed: false,
    width: pixels.length / (to - from),
  };
}

function centroid(points: readonly Point[]): Point {
  const n = points.length;
  return { x: points.reduce((s, p) => s + p.x, 0) / n, y: points.reduce((s, p) => s + p.y, 0) / n };
}

function lengthOf(points: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++) sum += distance(points[i - 1]!, points[i]!);
  return sum;
}
