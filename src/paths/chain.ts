import { nearestOn } from "../shapes/nearest.ts";
import { distance, type Point } from "../shapes/point.ts";
import { lengthOf, pieceOf, pointAt, reversed, type Segment, tangentAt } from "../shapes/segment.ts";

/** A chain of segments, each beginning where the one before ends. Closed when the last meets the first. */
export type Chain = readonly Segment[];

/** Length of a chain, mm. */
export function chainLength(chain: Chain): number {
  return chain.reduce((sum, s) => sum + lengthOf(s), 0);
}

/** True when a chain ends where it begins, bit for bit. */
export function isClosed(chain: Chain): boolean {
  const first = chain[0];
  const last = chain[chain.length - 1];
  return first !== undefined && last !== undefined && first.from.x === last.to.x && first.from.y === last.to.y;
}

/** The chain walked the other way. */
export function reversedChain(chain: Chain): Segment[] {
  return chain.map(reversed).reverse();
}

/** A place on a chain: how far along it lies, mm, and how far it is from the point that was asked for. */
export interface Spot {
  readonly along: number;
  readonly point: Point;
  readonly away: number;
}

/** The place of a chain nearest to a point; of equally near ones the first. The chain must not be empty. */
export function nearestSpot(chain: Chain, p: Point): Spot {
  let best: Spot | undefined;
  let before = 0;
  for (const s of chain) {
    const n = nearestOn(s, p);
    const length = lengthOf(s);
    // A hair's margin keeps the choice the same on every processor when two places are equally near.
    if (best === undefined || n.distance < best.away - 1e-9)
      best = { along: before + n.t * length, point: n.point, away: n.distance };
    before += length;
  }
  if (best === undefined) throw new RangeError("an empty chain has no nearest place");
  return best;
}

/** The point a distance along a chain (mm, held within its length), with the direction of travel there. */
export function spotAlong(chain: Chain, along: number): { readonly point: Point; readonly heading: Point } {
  let left = along;
  for (const [i, s] of chain.entries()) {
    const length = lengthOf(s);
    if (left <= length || i === chain.length - 1) {
      const t = length === 0 ? 0 : Math.min(1, Math.max(0, left / length));
      return { point: pointAt(s, t), heading: tangentAt(s, t) };
    }
    left -= length;
  }
  throw new RangeError("an empty chain has no places");
}

/** Pieces shorter than this are left out: far below what a program's decimals can say. mm */
const CRUMB = 1e-6;

/** The part of a chain between two distances along it, mm. Whole segments are kept bit for bit. */
export function stretch(chain: Chain, from: number, to: number): Segment[] {
  const pieces: Segment[] = [];
  let before = 0;
  for (const s of chain) {
    const length = lengthOf(s);
    const a = Math.max(from - before, 0);
    const b = Math.min(to - before, length);
    if (b - a > CRUMB) pieces.push(pieceOf(s, a <= CRUMB ? 0 : a / length, b >= length - CRUMB ? 1 : b / length));
    before += length;
  }
  return joined(pieces);
}

/** Left-out crumbs must not leave gaps: each piece begins where the one before ends. */
function joined(pieces: readonly Segment[]): Segment[] {
  const chain: Segment[] = [];
  for (const s of pieces) {
    const last = chain[chain.length - 1];
    chain.push(last === undefined || (last.to.x === s.from.x && last.to.y === s.from.y) ? s : { ...s, from: last.to });
  }
  return chain;
}

/** A closed chain begun anew a distance (mm) along it; it ends there too, bit for bit. */
export function begunAt(chain: Chain, along: number): Segment[] {
  const total = chainLength(chain);
  const start = ((along % total) + total) % total;
  if (start <= CRUMB || start >= total - CRUMB) return [...chain];
  const begun = [...stretch(chain, start, total), ...stretch(chain, 0, start)];
  return closedUp(joined(begun));
}

function closedUp(chain: readonly Segment[]): Segment[] {
  const first = chain[0];
  const last = chain[chain.length - 1];
  if (first === undefined || last === undefined) return [];
  if (chain.length === 1 || (last.to.x === first.from.x && last.to.y === first.from.y)) return [...chain];
  return [...chain.slice(0, -1), { ...last, to: first.from }];
}

/** Signed area a closed chain runs round, mm², by its segments' ends and arcs: positive counter-clockwise. */
export function turnsLeft(chain: Chain): boolean {
  let twice = 0;
  for (const s of chain) {
    const mid = pointAt(s, 0.5);
    twice += s.from.x * mid.y - mid.x * s.from.y + mid.x * s.to.y - s.to.x * mid.y;
  }
  return twice > 0;
}

/** The closed chain walked counter-clockwise or clockwise. */
export function walked(chain: Chain, ccw: boolean): Chain {
  return turnsLeft(chain) === ccw ? chain : reversedChain(chain);
}

/** Points along a chain no further than `spacing` apart (mm), both ends included. */
export function samplesAlong(chain: Chain, spacing: number): Point[] {
  const points: Point[] = [];
  for (const s of chain) {
    const n = Math.max(1, Math.ceil(lengthOf(s) / spacing));
    for (let i = 0; i < n; i++) points.push(pointAt(s, i / n));
  }
  const last = chain[chain.length - 1];
  if (last !== undefined) points.push(last.to);
  return points;
}

/** A straight chain between two points; empty when they are the same. */
export function straight(from: Point, to: Point): Segment[] {
  return distance(from, to) <= CRUMB ? [] : [{ kind: "line", from, to }];
}

/** A whole circle as two half arcs, so that no controller can mistake it for nothing. Begins at `fromRad`. */
export function circleChain(centre: Point, radius: number, fromRad: number, ccw: boolean): Segment[] {
  const dx = radius * Math.cos(fromRad);
  const dy = radius * Math.sin(fromRad);
  const a = { x: centre.x + dx, y: centre.y + dy };
  const b = { x: centre.x - dx, y: centre.y - dy };
  return [
    { kind: "arc", from: a, to: b, centre, ccw },
    { kind: "arc", from: b, to: a, centre, ccw },
  ];
}
