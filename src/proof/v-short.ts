import { distanceToPoint } from "../shapes/nearest.ts";
import type { Point } from "../shapes/point.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import type { Line } from "../shapes/segment.ts";
import type { Need } from "./lean-peak.ts";

/** A straight stroke of a V: at each end, half its width at the surface. */
export interface VStroke {
  readonly a: Need;
  readonly b: Need;
  /** The true way lies within this of it, mm. */
  readonly slack: number;
}

/** How far strokes fall short, mm: at one place by `value`, nowhere by more than `most`. */
export interface Reached {
  readonly value: number;
  readonly most: number;
  readonly at: Point | undefined;
}

/** What is asked: places nearer to an outline than `least` want no tip; farther than `most`, the floor is judged by itself. */
export interface ShortWish {
  readonly least: number;
  readonly most: number;
  readonly allowed: number;
}

/** Squares that are cut into four at most. */
const MOST_SQUARES = 3_000_000;
/** Squares this much smaller than what is allowed count as short as they may be. */
const SMALLEST_SHARE = 0.05;
/** Shares this near the cap's level line count as beyond it, mm: rounding. */
const ON_LINE = 1e-6;
/** Once refused, what is short by this share of the worst so far, and what is allowed, is not looked into, as a factor. */
const REFUSED_SHARE = 1.5;
/** How often a square's share is cut along a line where another wall, or another stroke, takes over. */
const CUTS = 3;

/**
 * The largest r(p) − max over strokes of (R(c) − |p − c|) over all places p of an area, r being the distance to its
 * nearest wall: 0 where a stroke stands everywhere as wide as the walls let it.
 *
 * Squares, cut into four until settled. On a convex share of a square one wall's distance is convex and one stroke's
 * reach concave, so the shortfall between the two is convex and no larger than at a corner; and r is no more than any
 * wall's distance, the reach no less than any stroke's. So wherever corners keep what is allowed, all between does: nothing is
 * sampled. Where two walls or two strokes share a square, it is cut about where one takes over from the other.
 */
export function worstShortOf(
  walls: readonly Line[],
  area: Polygons,
  strokes: readonly VStroke[],
  wish: ShortWish,
): Reached {
  const box = squareAround(area);
  const state: State = { best: 0, above: 0, at: undefined, squares: 0 };
  const search: Search = { area, wish, state, floor: SMALLEST_SHARE * wish.allowed };
  if (box !== undefined) visit(search, box, walls, strokes, undefined);
  const value = Math.max(0, state.best);
  return { value, most: Math.max(value, state.above, wish.allowed), at: state.at };
}

interface State {
  best: number;
  above: number;
  at: Point | undefined;
  squares: number;
}

interface Search {
  readonly area: Polygons;
  readonly wish: ShortWish;
  readonly state: State;
  readonly floor: number;
}

interface Square {
  readonly x: number;
  readonly y: number;
  readonly side: number;
}

function visit(
  search: Search,
  square: Square,
  allWalls: readonly Line[],
  allStrokes: readonly VStroke[],
  known: boolean | undefined,
): void {
  const { wish, state, area } = search;
  const { x, y, side } = square;
  const centre = { x: x + side / 2, y: y + side / 2 };
  const half = (side / 2) * Math.SQRT2;
  const gaps = allWalls.map((w) => distanceToPoint(w, centre));
  const nearest = gaps.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  // A square that no wall comes into lies all inside or all outside.
  const whole = nearest > half ? (known ?? pointInPolygons(area, centre)) : undefined;
  if (whole === false || nearest + half <= wish.least || nearest - half >= wish.most) return;
  const walls = allWalls.filter((_, i) => gaps[i]! <= nearest + 2 * half);
  const reaches = allStrokes.map((s) => reachOf(s, centre));
  const reach = reaches.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const strokes = allStrokes.filter((_, i) => reaches[i]! >= reach - 2 * half);
  const inside = whole ?? pointInPolygons(area, centre);
  const short = Math.min(nearest, wish.most) - reach;
  if (inside && nearest >= wish.least && nearest <= wish.most && short > state.best) {
    state.best = short;
    state.at = centre;
  }
  // What is refused already need not be measured to the last.
  const enough = state.best > wish.allowed ? wish.allowed + REFUSED_SHARE * state.best : wish.allowed;
  const upper = short + 2 * half;
  state.squares++;
  if (upper <= enough || half < search.floor || state.squares > MOST_SQUARES) {
    state.above = Math.max(state.above, upper);
    return;
  }
  const corners = [
    { x, y },
    { x: x + side, y },
    { x: x + side, y: y + side },
    { x, y: y + side },
  ];
  if (strokes.length > 0 && isSettled(corners, walls, strokes, { ...wish, allowed: enough }, CUTS)) {
    state.above = Math.max(state.above, Math.min(upper, enough));
    return;
  }
  const h = side / 2;
  for (const [dx, dy] of [
    [0, 0],
    [h, 0],
    [0, h],
    [h, h],
  ] as const) {
    visit(search, { x: x + dx, y: y + dy, side: h }, walls, strokes, whole);
  }
}

/** Whether no place of a convex share is shorter than allowed: proved from its corners. */
function isSettled(
  share: readonly Point[],
  walls: readonly Line[],
  strokes: readonly VStroke[],
  wish: ShortWish,
  cuts: number,
): boolean {
  if (share.length < 3) return true;
  const middle = middleOf(share);
  if (isBeyond(share, middle, walls, wish.most)) return true;
  const wall = nearestTo(walls, middle);
  const stroke = farthestReaching(strokes, middle);
  let worst: Point | undefined;
  let most = wish.allowed;
  for (const p of share) {
    const short = Math.min(distanceToPoint(wall, p), wish.most) - reachOf(stroke, p);
    if (short > most) {
      most = short;
      worst = p;
    }
  }
  if (worst === undefined) return true;
  if (cuts === 0) return false;
  const otherWall = nearestTo(walls, worst);
  const otherStroke = farthestReaching(strokes, worst);
  const side =
    distanceToPoint(otherWall, worst) > wish.most
      ? (p: Point): number => wish.most - distanceToPoint(otherWall, p)
      : otherWall !== wall
        ? (p: Point): number => distanceToPoint(wall, p) - distanceToPoint(otherWall, p)
        : otherStroke !== stroke
          ? (p: Point): number => reachOf(otherStroke, p) - reachOf(stroke, p)
          : undefined;
  if (side === undefined) return false;
  const [a, b] = cutWhere(share, side);
  // A cut that leaves all on one side has told nothing.
  if (a.length < 3 || b.length < 3) return false;
  return isSettled(a, walls, strokes, wish, cuts - 1) && isSettled(b, walls, strokes, wish, cuts - 1);
}

/** Whether a share lies beyond the cap's level line of every wall: no nearer than their straight lines. */
function isBeyond(share: readonly Point[], middle: Point, walls: readonly Line[], most: number): boolean {
  if (most === Number.POSITIVE_INFINITY) return false;
  const round = share.reduce((far, p) => Math.max(far, Math.hypot(p.x - middle.x, p.y - middle.y)), 0);
  return walls.every((w) => {
    if (distanceToPoint(w, middle) - round >= most) return true;
    const length = Math.hypot(w.to.x - w.from.x, w.to.y - w.from.y);
    if (length === 0) return false;
    const aside = (p: Point): number =>
      ((w.to.x - w.from.x) * (p.y - w.from.y) - (w.to.y - w.from.y) * (p.x - w.from.x)) / length;
    return share.every((p) => aside(p) >= most - ON_LINE) || share.every((p) => aside(p) <= ON_LINE - most);
  });
}

/** A convex share cut by the line between the two places on its border where a function changes sign. */
function cutWhere(share: readonly Point[], side: (p: Point) => number): [Point[], Point[]] {
  const low: Point[] = [];
  const high: Point[] = [];
  const values = share.map(side);
  let changes = 0;
  for (const [i, p] of share.entries()) {
    const v = values[i]!;
    const k = (i + 1) % share.length;
    const w = values[k]!;
    (v <= 0 ? low : high).push(p);
    if (v <= 0 === w <= 0) continue;
    changes++;
    const q = share[k]!;
    const t = v / (v - w);
    const at = { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) };
    low.push(at);
    high.push(at);
  }
  return changes === 2 ? [low, high] : [[...share], []];
}

function middleOf(share: readonly Point[]): Point {
  let x = 0;
  let y = 0;
  for (const p of share) {
    x += p.x;
    y += p.y;
  }
  return { x: x / share.length, y: y / share.length };
}

function nearestTo(walls: readonly Line[], p: Point): Line {
  return bestOf(walls, (w) => -distanceToPoint(w, p));
}

function farthestReaching(strokes: readonly VStroke[], p: Point): VStroke {
  return bestOf(strokes, (s) => reachOf(s, p));
}

function bestOf<T extends object>(items: readonly T[], worth: (item: T) => number): T {
  let best: T = items[0]!;
  let most = worth(best);
  for (const item of items) {
    const found = worth(item);
    if (found > most) {
      most = found;
      best = item;
    }
  }
  return best;
}

/**
 * The largest R(c) − |p − c| over the places c of a stroke: concave in p. R grows by κ a millimetre of way, so the best c
 * lies κ/√(1 − κ²) of p's distance aside beyond the foot of p, held within the stroke.
 */
export function reachOf({ a, b, slack }: VStroke, p: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const length = Math.hypot(dx, dy);
  if (length === 0) return Math.max(a.need, b.need) - Math.hypot(p.x - a.x, p.y - a.y) - slack;
  const s = ((p.x - a.x) * dx + (p.y - a.y) * dy) / length;
  const aside = ((p.x - a.x) * dy - (p.y - a.y) * dx) / length;
  const growth = (b.need - a.need) / length;
  const at =
    growth >= 1
      ? length
      : growth <= -1
        ? 0
        : Math.min(length, Math.max(0, s + (Math.abs(aside) * growth) / Math.sqrt(1 - growth * growth)));
  return a.need + growth * at - Math.hypot(s - at, aside) - slack;
}

function squareAround(area: Polygons): Square | undefined {
  const points = area.flat();
  const first = points[0];
  if (first === undefined) return undefined;
  let { x: minX, y: minY } = first;
  let { x: maxX, y: maxY } = first;
  for (const p of points) {
    minX = Math.min(minX, p.x);
    minY = Math.min(minY, p.y);
    maxX = Math.max(maxX, p.x);
    maxY = Math.max(maxY, p.y);
  }
  return { x: minX, y: minY, side: Math.max(maxX - minX, maxY - minY, 1e-6) };
}
