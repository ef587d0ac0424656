import type { TurningSetUp } from "../plan/turning-setup.ts";
import { extentOfMeridian, radiiOver } from "../shapes/meridian.ts";
import type { Segment } from "../shapes/segment.ts";
import { edgeAt, type LowerEdge, placeOfSlope } from "./turning-tool.ts";

/**
 * Turned wood as radius along the axis, in cells. Over the whole of a cell the true radius lies between `least` and
 * `most`: wherever wood may stand counts as wood in `most`, and only what surely stands in `least`. mm.
 */
export interface TurnedWood {
  readonly from: number;
  readonly cell: number;
  readonly most: Float64Array;
  readonly least: Float64Array;
}

/** Side of a cell along the axis, mm, and most cells of a blank. */
const CELL = 0.05;
const MOST_CELLS = 12_000;

/** The blank as it is mounted. A square blank sweeps its diagonal, and is surely wood to half its side only. */
export function startTurnedWood(setUp: TurningSetUp): TurnedWood {
  const { from, to } = extentOfMeridian(setUp.start);
  const count = Math.min(MOST_CELLS, Math.max(1, Math.ceil((to - from) / CELL - 1e-9)));
  const cell = (to - from) / count;
  const most = new Float64Array(count);
  const least = new Float64Array(count);
  const { blank } = setUp.piece;
  const sure = blank.shape === "square" ? blank.across / 2 : Number.POSITIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    const radii = radiiOver(setUp.start, from + i * cell, from + (i + 1) * cell);
    most[i] = radii?.most ?? 0;
    least[i] = Math.min(radii?.least ?? 0, sure);
  }
  return { from, cell, most, least };
}

/**
 * Lowest height that a lower edge reaches at `z` while its reference point goes straight along `s`; Infinity where it
 * never comes. Exact: along the way the height is convex, and least where edge and way have one slope.
 */
export function lowestAt(edge: LowerEdge, s: Segment, z: number, atSlope: number): number {
  const dz = s.to.x - s.from.x;
  const dr = s.to.y - s.from.y;
  if (dz === 0) {
    return Math.min(s.from.y, s.to.y) + edgeAt(edge, z - s.from.x);
  }
  // Shares of the way at which the edge reaches z at all.
  const a = (z - edge.half - s.from.x) / dz;
  const b = (z + edge.half - s.from.x) / dz;
  const low = Math.max(0, Math.min(a, b));
  const high = Math.min(1, Math.max(a, b));
  if (low > high + 1e-12) return Number.POSITIVE_INFINITY;
  const t = Math.min(high, Math.max(low, (z - atSlope - s.from.x) / dz));
  const u = Math.min(edge.half, Math.max(-edge.half, z - s.from.x - t * dz));
  return s.from.y + t * dr + edgeAt(edge, u);
}

/**
 * Bounds of what a lower edge reaches over each cell while its reference point goes straight along `s`: `low` is no
 * higher than its lowest anywhere in the cell, `high` no lower than its highest, Infinity where it doesn't cover the cell.
 */
function overCells(
  wood: TurnedWood,
  edge: LowerEdge,
  s: Segment,
  visit: (i: number, low: number, high: number) => void,
): void {
  const { from, cell } = wood;
  if (edge.half <= 0) return;
  const dz = s.to.x - s.from.x;
  const atSlope = placeOfSlope(edge, dz === 0 ? 0 : (s.to.y - s.from.y) / dz);
  const first = Math.max(0, Math.floor((Math.min(s.from.x, s.to.x) - edge.half - from) / cell - 1e-9));
  const last = Math.min(
    wood.most.length - 1,
    Math.floor((Math.max(s.from.x, s.to.x) + edge.half - from) / cell + 1e-9),
  );
  if (first > last) return;
  // It is lowest of all over its flat, beside the lower end of the way; from there the height only grows.
  const lowest = Math.min(s.from.y, s.to.y) + edgeAt(edge, 0);
  const deep = s.from.y === s.to.y ? [s.from.x, s.to.x] : s.from.y < s.to.y ? [s.from.x] : [s.to.x];
  const flat = Math.max(0, edge.flat);
  const deepFrom = Math.min(...deep) - flat;
  const deepTo = Math.max(...deep) + flat;
  const level = s.from.y === s.to.y;
  let before = lowestAt(edge, s, from + first * cell, atSlope);
  for (let i = first; i <= last; i++) {
    const za = from + i * cell;
    const zb = za + cell;
    // Along a level way, all but its two ends is as low as the tip.
    if (level && za >= deepFrom && zb <= deepTo) {
      visit(i, lowest, lowest);
      before = lowest;
      continue;
    }
    const after = lowestAt(edge, s, zb, atSlope);
    const ends = Math.min(before, after);
    visit(
      i,
      (deepFrom <= zb && deepTo >= za) || ends === Number.POSITIVE_INFINITY ? lowest : ends,
      Math.max(before, after),
    );
    before = after;
  }
}

/**
 * Cuts a straight stretch of the reference point's way out of the wood, in place.
 * @param slack how far the true way may lie from the stretch, mm: to either side of it
 */
export function cutStretch(wood: TurnedWood, edge: LowerEdge, s: Segment, slack: number): void {
  const { most, least } = wood;
  overCells(wood, edge, s, (i, low, high) => {
    least[i] = Math.min(least[i]!, Math.max(0, low - slack));
    most[i] = Math.min(most[i]!, Math.max(0, high + slack));
  });
}

/** A lower edge made narrower by `by` at either side, everywhere as high as the higher of its neighbours that near. */
export function narrowed(edge: LowerEdge, by: number): LowerEdge {
  return { ...edge, flat: edge.flat - by, half: edge.half - by };
}

/** Wood that stands above an edge somewhere along a stretch: how much of it, mm of radius, and where. */
export interface Above {
  readonly depth: number;
  readonly at: { readonly x: number; readonly y: number };
}

/**
 * Most wood that may stand above an edge that is narrower by one cell. A tool that goes where it has cut before meets
 * none, though the cells know its cut no closer than their own width; what it meets beyond that width is found.
 */
export function woodAbove(wood: TurnedWood, edge: LowerEdge, s: Segment): Above {
  let depth = 0;
  let where = 0;
  overCells(wood, narrowed(edge, wood.cell), s, (i, low) => {
    const above = wood.most[i]! - Math.max(0, low);
    if (above > depth) {
      depth = above;
      where = i;
    }
  });
  return { depth, at: { x: wood.from + (where + 0.5) * wood.cell, y: Math.max(0, wood.most[where]! - depth) } };
}

/**
 * Adds a stretch to a profile of the wood that stands above the edge along the axis, weighed by `share`.
 * @returns the cells that it spans
 */
export function addAbove(
  wood: TurnedWood,
  edge: LowerEdge,
  s: Segment,
  share: number,
  profile: Float64Array,
): { readonly first: number; readonly last: number } {
  let first = profile.length;
  let last = -1;
  overCells(wood, narrowed(edge, wood.cell), s, (i, low) => {
    const above = (wood.most[i]! - Math.max(0, low)) * share;
    if (above > profile[i]!) profile[i] = above;
    first = Math.min(first, i);
    last = Math.max(last, i);
  });
  return { first, last };
}

/**
 * How deep a cut is that takes this profile: the largest depth that it has over a length as great. A thin skin on a
 * shoulder that the tool's side shaves off is tall, but no deep cut.
 */
export function biteOf(profile: Float64Array, first: number, last: number, cell: number): number {
  let low = 0;
  let high = 0;
  for (let i = first; i <= last; i++) high = Math.max(high, profile[i]!);
  for (let k = 0; k < 12; k++) {
    const h = (low + high) / 2;
    let run = 0;
    let longest = 0;
    for (let i = first; i <= last; i++) {
      run = profile[i]! >= h ? run + cell : 0;
      if (run > longest) longest = run;
    }
    if (longest >= h) low = h;
    else high = h;
  }
  return high;
}

/**
 * Area of a blank's section within a radius, mm²: a circle, or what a square leaves of it.
 * @param half half the square's side; Infinity for a round blank
 */
export function sectionArea(radius: number, half: number): number {
  if (radius <= half) return Math.PI * radius * radius;
  if (radius >= half * Math.SQRT2) return 4 * half * half;
  const reach = Math.sqrt(radius * radius - half * half);
  return 4 * (half * reach + (radius * radius * (Math.PI / 2 - 2 * Math.acos(half / radius))) / 2);
}

/** Volume that has gone between two states of the same wood, mm³: the true one lies between. */
export function removedVolume(
  before: TurnedWood,
  after: TurnedWood,
  half: number,
): { readonly least: number; readonly most: number } {
  let least = 0;
  let most = 0;
  for (let i = 0; i < before.most.length; i++) {
    if (after.most[i] === before.most[i] && after.least[i] === before.least[i]) continue;
    // What stands of a square blank is known by its flats; only a cut makes it round.
    const whole = sectionArea(before.most[i]!, half);
    const sure = before.least[i] === half ? whole : sectionArea(before.least[i]!, half);
    least += Math.max(0, sure - sectionArea(after.most[i]!, half));
    most += whole - sectionArea(after.least[i]!, half);
  }
  return { least: least * before.cell, most: most * before.cell };
}

/** Largest radius that may still stand anywhere between two places along the axis, mm. */
export function largestRadius(wood: TurnedWood, from: number, to: number): number {
  const first = Math.max(0, Math.floor((from - wood.from) / wood.cell));
  const last = Math.min(wood.most.length - 1, Math.ceil((to - wood.from) / wood.cell) - 1);
  let largest = 0;
  for (let i = first; i <= last; i++) largest = Math.max(largest, wood.most[i]!);
  return largest;
}
