import type { Point } from "../shapes/point.ts";
import type { ArcPath } from "./path.ts";
import type { Grid } from "./wood.ts";

/** Told of a run of cells in row j whose centres lie inside a shape: columns first ≤ c ≤ last, row by row. */
export type RowVisitor = (j: number, first: number, last: number) => void;

/** A disc whose cells need no second visit. */
export interface Skip {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/**
 * Rows of cells whose centres lie within `r` of the straight line from a to b. Each row's part is one interval, as the
 * shape is convex; it is the hull of where the row meets the two end discs and the two long sides.
 */
export function stripRows(grid: Grid, a: Point, b: Point, r: number, skip: Skip | undefined, visit: RowVisitor): void {
  if (!(r >= 0)) return;
  const strip = stripOf(a, b, r);
  const span: Stretch = { lo: 0, hi: 0 };
  const [j0, j1] = rowRange(grid, Math.min(a.y, b.y) - r, Math.max(a.y, b.y) + r);
  for (let j = j0; j <= j1; j++) {
    const y = grid.origin.y + (j + 0.5) * grid.cell;
    if (meets(strip, y, span)) run(grid, j, y, span.lo, span.hi, skip, visit);
  }
}

/** The points within `r` of the straight line from a to b, and what the search of rows needs of it again and again. */
export interface Strip {
  readonly a: Point;
  readonly b: Point;
  readonly r: number;
  /** From the line to its left side, `r` long. */
  readonly nx: number;
  readonly ny: number;
}

/** A stretch of a row, written anew for each row. */
export interface Stretch {
  lo: number;
  hi: number;
}

/** The strip about a line. */
export function stripOf(a: Point, b: Point, r: number): Strip {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length === 0) return { a, b, r, nx: 0, ny: 0 };
  return { a, b, r, nx: (-(b.y - a.y) / length) * r, ny: ((b.x - a.x) / length) * r };
}

/** Whether the row at height y meets a strip; if so `out` says where. */
export function meets({ a, b, r, nx, ny }: Strip, y: number, out: Stretch): boolean {
  let lo = Number.POSITIVE_INFINITY;
  let hi = Number.NEGATIVE_INFINITY;
  const ha = r * r - (y - a.y) * (y - a.y);
  if (ha >= 0) {
    const w = Math.sqrt(ha);
    lo = a.x - w;
    hi = a.x + w;
  }
  const hb = r * r - (y - b.y) * (y - b.y);
  if (hb >= 0) {
    const w = Math.sqrt(hb);
    if (b.x - w < lo) lo = b.x - w;
    if (b.x + w > hi) hi = b.x + w;
  }
  if (a.y !== b.y) {
    const t1 = (y - a.y - ny) / (b.y - a.y);
    if (t1 >= 0 && t1 <= 1) {
      const x = a.x + nx + t1 * (b.x - a.x);
      if (x < lo) lo = x;
      if (x > hi) hi = x;
    }
    const t2 = (y - a.y + ny) / (b.y - a.y);
    if (t2 >= 0 && t2 <= 1) {
      const x = a.x - nx + t2 * (b.x - a.x);
      if (x < lo) lo = x;
      if (x > hi) hi = x;
    }
  }
  out.lo = lo;
  out.hi = hi;
  return hi >= lo;
}

/**
 * Rows of cells whose centres lie within `r` of an arc: pieces of a ring between two rays, and the two end discs.
 * Cells where these overlap are visited more than once.
 */
export function bandRows(grid: Grid, arc: ArcPath, r: number, skip: Skip | undefined, visit: RowVisitor): void {
  if (!(r >= 0)) return;
  const outer = arc.radius + r;
  const inner = arc.radius - r;
  const pieces = Math.max(1, Math.ceil(Math.abs(arc.sweepRad) / (Math.PI / 2)));
  for (let k = 0; k < pieces; k++) {
    const s = arc.startRad + (arc.sweepRad * k) / pieces;
    const e = arc.startRad + (arc.sweepRad * (k + 1)) / pieces;
    // Both rays in counter-clockwise order, so that one test serves both senses of travel.
    ringPieceRows(grid, arc.centre, inner, outer, Math.min(s, e), Math.max(s, e), skip, visit);
  }
  stripRows(grid, arc.from, arc.from, r, skip, visit);
  stripRows(grid, arc.to, arc.to, r, skip, visit);
}

/** Rows of cells whose centres lie within r of an upright rectangle's plan. */
export function boxRows(grid: Grid, min: Point, max: Point, r: number, visit: RowVisitor): void {
  if (!(r >= 0)) return;
  const [j0, j1] = rowRange(grid, min.y - r, max.y + r);
  for (let j = j0; j <= j1; j++) {
    const y = grid.origin.y + (j + 0.5) * grid.cell;
    const dy = Math.max(0, min.y - y, y - max.y);
    const w = Math.sqrt(Math.max(0, r * r - dy * dy));
    run(grid, j, y, min.x - w, max.x + w, undefined, visit);
  }
}

/** The ring between two radii, from ray `s` counter-clockwise to ray `e`, at most a quarter turn further. */
function ringPieceRows(
  grid: Grid,
  centre: Point,
  inner: number,
  outer: number,
  s: number,
  e: number,
  skip: Skip | undefined,
  visit: RowVisitor,
): void {
  const sx = Math.cos(s);
  const sy = Math.sin(s);
  const ex = Math.cos(e);
  const ey = Math.sin(e);
  // Highest and lowest of the piece: its corners, and the top or bottom of the circle where a ray passes it.
  const crosses = (angle: number) => Math.ceil((s - angle) / (2 * Math.PI)) * 2 * Math.PI + angle <= e;
  const within = Math.max(0, inner);
  const top = crosses(Math.PI / 2) ? outer : Math.max(sy * outer, ey * outer, sy * within, ey * within);
  const bottom = crosses(-Math.PI / 2) ? -outer : Math.min(sy * outer, ey * outer, sy * within, ey * within);
  const [j0, j1] = rowRange(grid, centre.y + bottom - grid.cell, centre.y + top + grid.cell);
  for (let j = j0; j <= j1; j++) {
    const y = grid.origin.y + (j + 0.5) * grid.cell;
    const dy = y - centre.y;
    const o2 = outer * outer - dy * dy;
    if (o2 < 0) continue;
    const xo = Math.sqrt(o2);
    let lo = -xo;
    let hi = xo;
    // Left of the first ray: sx·dy − sy·dx ≥ 0.
    if (sy > 0) hi = Math.min(hi, (sx * dy) / sy);
    else if (sy < 0) lo = Math.max(lo, (sx * dy) / sy);
    else if (sx * dy < 0) continue;
    // Right of the second: dx·ey − dy·ex ≥ 0.
    if (ey > 0) lo = Math.max(lo, (ex * dy) / ey);
    else if (ey < 0) hi = Math.min(hi, (ex * dy) / ey);
    else if (ex * dy > 0) continue;
    const i2 = inner > 0 ? inner * inner - dy * dy : -1;
    if (i2 > 0) {
      const xi = Math.sqrt(i2);
      run(grid, j, y, centre.x + lo, centre.x + Math.min(hi, -xi), skip, visit);
      run(grid, j, y, centre.x + Math.max(lo, xi), centre.x + hi, skip, visit);
    } else run(grid, j, y, centre.x + lo, centre.x + hi, skip, visit);
  }
}

function rowRange(grid: Grid, yLow: number, yHigh: number): [number, number] {
  return [
    Math.max(0, Math.ceil((yLow - grid.origin.y) / grid.cell - 0.5)),
    Math.min(grid.ny - 1, Math.floor((yHigh - grid.origin.y) / grid.cell - 0.5)),
  ];
}

function run(
  grid: Grid,
  j: number,
  y: number,
  lo: number,
  hi: number,
  skip: Skip | undefined,
  visit: RowVisitor,
): void {
  if (!(hi >= lo)) return;
  const first = Math.max(0, Math.ceil((lo - grid.origin.x) / grid.cell - 0.5));
  const last = Math.min(grid.nx - 1, Math.floor((hi - grid.origin.x) / grid.cell - 0.5));
  if (first > last) return;
  if (skip !== undefined) {
    const s2 = skip.radius * skip.radius - (y - skip.y) * (y - skip.y);
    if (s2 > 0) {
      const w = Math.sqrt(s2);
      const from = Math.ceil((skip.x - w - grid.origin.x) / grid.cell - 0.5);
      const to = Math.floor((skip.x + w - grid.origin.x) / grid.cell - 0.5);
      if (from <= to) {
        if (first < from) visit(j, first, Math.min(last, from - 1));
        if (last > to) visit(j, Math.max(first, to + 1), last);
        return;
      }
    }
  }
  visit(j, first, last);
}
