import { nearestOn } from "../shapes/nearest.ts";
import { distance, type Point } from "../shapes/point.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import { type Arc, pieceOf, radiusOf, type Segment, shareTowards, sweepRad } from "../shapes/segment.ts";

/** Sweeps that are tried on a cell before it is split, nearest first. */
const TRIED = 6;

/** A share with more vertices than this is split at once. */
const MANY_POINTS = 48;

/** Cells wider than this are not measured at their points: their quarters will be. mm. */
const LOOKED_INTO = 2;

/** What a disc of some radius clears while its centre runs along a curve. Arcs turn through a quarter at most. mm. */
export interface Sweep {
  readonly curve: Segment;
  readonly radius: number;
}

/** The farthest that a point of an area lies from all sweeps. */
export interface Uncovered {
  /** mm; 0 when every point is covered. */
  readonly value: number;
  /** The true value lies within ± this. */
  readonly bound: number;
  readonly at: Point | undefined;
}

/** Cells smaller than this are not split again: what is still open there is counted as left, mm. */
const SMALLEST = 2e-5;

/** Resolution of the answer: 0.5 µm, or 1 % of it when much is left. mm. */
const RESOLUTION = 0.0005;

/**
 * Finds the point of an area that lies farthest outside a union of swept discs.
 *
 * The area is cut into ever smaller squares, each holding the area's exact share of it. A share is settled when one
 * sweep covers the whole of it: the distance to a convex curve is largest at a vertex, so the share's vertices decide;
 * for an arc the same holds outwards, and inwards the distance of the centre from the share's hull decides. So nothing
 * is sampled, and straight walls are settled in large squares.
 * @param area outer rings counter-clockwise, holes clockwise
 * @param enough shares that lie no farther outside than this are settled at once, mm, ≥ 0
 */
export function worstUncovered(area: Polygons, sweeps: readonly Sweep[], enough: number): Uncovered {
  const box = squareAround(area);
  if (box === undefined) return { value: 0, bound: 0, at: undefined };
  const state = { best: Number.NEGATIVE_INFINITY, above: Number.NEGATIVE_INFINITY, at: undefined as Point | undefined };
  if (sweeps.length === 0) return { value: NOTHING_CUT, bound: 0, at: area[0]?.[0] };
  visit({ ...box, rings: area }, sweeps, enough, state);
  const low = Math.max(0, state.best);
  const high = Math.max(low, state.above, 0);
  return { value: (low + high) / 2, bound: (high - low) / 2, at: state.at };
}

/** Breaks a curve into sweeps that `worstUncovered` takes: arcs of a quarter turn at most. */
export function sweepsOf(curve: Segment, radius: number): readonly Sweep[] {
  if (curve.kind === "line") return [{ curve, radius }];
  const count = Math.max(1, Math.ceil(Math.abs(sweepRad(curve)) / (Math.PI / 2) - 1e-9));
  return Array.from({ length: count }, (_, k) => ({ curve: pieceOf(curve, k / count, (k + 1) / count), radius }));
}

/** Stands for the distance to a sweep when there is none at all, mm. */
const NOTHING_CUT = 1e6;

interface Cell {
  readonly x: number;
  readonly y: number;
  readonly side: number;
  /** The area's share of the cell, as clipped rings; their signed areas add up to the share's. */
  readonly rings: Polygons;
}

function visit(
  cell: Cell,
  sweeps: readonly Sweep[],
  enough: number,
  state: { best: number; above: number; at: Point | undefined },
): void {
  const points = verticesOf(cell);
  if (points.length === 0) return;
  const half = (cell.side / 2) * Math.SQRT2;
  const centre = { x: cell.x + cell.side / 2, y: cell.y + cell.side / 2 };
  const gaps = sweeps.map((s) => nearestOn(s.curve, centre).distance - s.radius);
  const nearest = gaps.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const target = (): number => Math.max(enough, state.best + Math.max(RESOLUTION, 0.01 * state.best));
  let upper = nearest + half;
  if (upper <= target()) {
    state.above = Math.max(state.above, upper);
    return;
  }
  // A sweep that is farther than the nearest one from every point of the cell can settle nothing here.
  const near = sweeps
    .map((sweep, i) => ({ sweep, gap: gaps[i]! }))
    .filter((n) => n.gap <= nearest + 2 * half)
    .sort((a, b) => a.gap - b.gap)
    .map((n) => n.sweep);
  if (points.length <= MANY_POINTS) {
    for (const s of near.slice(0, TRIED)) {
      upper = Math.min(upper, farthest(s.curve, points) - s.radius);
      if (upper <= target()) break;
    }
    if (upper > target() && cell.side < LOOKED_INTO) look(points, near, state);
  }
  if (upper <= target() || cell.side < SMALLEST) {
    state.above = Math.max(state.above, upper);
    return;
  }
  for (const quarter of quarters(cell)) visit(quarter, near, enough, state);
}

/** Measures at points of the area themselves: a bound from below. */
function look(points: readonly Point[], near: readonly Sweep[], state: { best: number; at: Point | undefined }): void {
  for (const p of points) {
    let gap = Number.POSITIVE_INFINITY;
    for (const s of near) {
      gap = Math.min(gap, nearestOn(s.curve, p).distance - s.radius);
      if (gap <= state.best) break;
    }
    if (gap > state.best) {
      state.best = gap;
      state.at = p;
    }
  }
}

/** Largest distance from a curve to any point in the hull of some points: a bound from above, exact for lines. */
function farthest(curve: Segment, points: readonly Point[]): number {
  switch (curve.kind) {
    case "line":
      return largest(points, (p) => nearestOn(curve, p).distance);
    case "arc": {
      const ends = Math.min(
        largest(points, (p) => distance(p, curve.from)),
        largest(points, (p) => distance(p, curve.to)),
      );
      return Math.min(ends, farthestWithin(curve, points));
    }
  }
}

/** The same for points that all lie within the arc's sector, where the distance is |‖p − centre‖ − radius|. */
function farthestWithin(a: Arc, points: readonly Point[]): number {
  for (const p of points) {
    if (shareTowards(a, p.x - a.centre.x, p.y - a.centre.y) === undefined) return Number.POSITIVE_INFINITY;
  }
  const outwards = largest(points, (p) => distance(p, a.centre)) - radiusOf(a);
  let least = Number.POSITIVE_INFINITY;
  for (const [i, from] of points.entries()) {
    for (let k = i; k < points.length; k++) {
      least = Math.min(least, nearestOn({ kind: "line", from, to: points[k]! }, a.centre).distance);
    }
  }
  return Math.max(outwards, radiusOf(a) - least);
}

function largest(points: readonly Point[], of: (p: Point) => number): number {
  let most = Number.NEGATIVE_INFINITY;
  for (const p of points) most = Math.max(most, of(p));
  return most;
}

/**
 * The vertices of a cell's share: points of the area's boundary, and the cell's corners that lie in the area. A share
 * without area has none.
 */
function verticesOf(cell: Cell): readonly Point[] {
  let area = 0;
  const corners = [false, false, false, false];
  const points: Point[] = [];
  for (const ring of cell.rings) {
    area += signedArea(ring);
    for (const p of ring) {
      const corner = cornerOf(cell, p);
      if (corner === undefined) points.push(p);
      else corners[corner] = true;
    }
  }
  if (area <= 1e-10) return [];
  for (const [k, met] of corners.entries()) {
    if (!met) continue;
    const right = k & 1;
    const top = k >> 1;
    // Clipping may lead a ring along the border past a corner that it does not hold: only a look inside tells.
    const inset = cell.side * 1e-6;
    const inside = {
      x: cell.x + (right ? cell.side - inset : inset),
      y: cell.y + (top ? cell.side - inset : inset),
    };
    if (pointInPolygons(cell.rings, inside)) {
      points.push({ x: cell.x + right * cell.side, y: cell.y + top * cell.side });
    }
  }
  return points;
}

function cornerOf(cell: Cell, p: Point): number | undefined {
  const right = p.x === cell.x + cell.side;
  const top = p.y === cell.y + cell.side;
  if ((p.x !== cell.x && !right) || (p.y !== cell.y && !top)) return undefined;
  return (right ? 1 : 0) + (top ? 2 : 0);
}

function quarters(cell: Cell): readonly Cell[] {
  const side = cell.side / 2;
  const midX = cell.x + side;
  const midY = cell.y + side;
  const left = clip(cell.rings, "x", midX, -1);
  const right = clip(cell.rings, "x", midX, 1);
  return [
    { x: cell.x, y: cell.y, side, rings: clip(left, "y", midY, -1) },
    { x: midX, y: cell.y, side, rings: clip(right, "y", midY, -1) },
    { x: cell.x, y: midY, side, rings: clip(left, "y", midY, 1) },
    { x: midX, y: midY, side, rings: clip(right, "y", midY, 1) },
  ].filter((c) => c.rings.length > 0);
}

/** The part of each ring on one side of an upright or level line (Sutherland and Hodgman 1974). */
function clip(rings: Polygons, axis: "x" | "y", at: number, side: 1 | -1): Polygons {
  const kept: Point[][] = [];
  for (const ring of rings) {
    const out: Point[] = [];
    for (const [i, p] of ring.entries()) {
      const q = ring[(i + 1) % ring.length]!;
      const a = (p[axis] - at) * side;
      const b = (q[axis] - at) * side;
      if (a >= 0) out.push(p);
      if ((a > 0 && b < 0) || (a < 0 && b > 0)) {
        const t = a / (a - b);
        // The coordinate that is clipped at is set, not computed, so that cells share their corners bit for bit.
        out.push(axis === "x" ? { x: at, y: p.y + t * (q.y - p.y) } : { x: p.x + t * (q.x - p.x), y: at });
      }
    }
    if (out.length >= 3) kept.push(out);
  }
  return kept;
}

function signedArea(ring: readonly Point[]): number {
  const o = ring[0]!;
  let twice = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const a = ring[i]!;
    const b = ring[i + 1]!;
    twice += (a.x - o.x) * (b.y - o.y) - (b.x - o.x) * (a.y - o.y);
  }
  return twice / 2;
}

function squareAround(area: Polygons): { x: number; y: number; side: number } | undefined {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const ring of area) {
    for (const p of ring) {
      minX = Math.min(minX, p.x);
      minY = Math.min(minY, p.y);
      maxX = Math.max(maxX, p.x);
      maxY = Math.max(maxY, p.y);
    }
  }
  if (!(maxX > minX && maxY > minY)) return undefined;
  // Whole multiples of a power of two stay exact when halved, so neighbours share their borders bit for bit.
  const x = Math.floor(minX * 1024) / 1024;
  const y = Math.floor(minY * 1024) / 1024;
  return { x, y, side: 2 ** Math.ceil(Math.log2(Math.max(maxX - x, maxY - y))) };
}
