import type { Box3, Point } from "../shapes/point.ts";

/**
 * Wood as columns over a square grid: each column a list of z intervals, kept twice. `most` was cut with the cutter
 * shrunk by half a cell's diagonal, `least` with it grown by as much, so the true wood lies between them at every
 * point of every cell, whatever happened between cell centres. Filled and carried on by `simulate`; read by proof. mm.
 */
export interface Wood {
  readonly blank: Box3;
  readonly grid: Grid;
  readonly most: Columns;
  readonly least: Columns;
}

/** Cell (i, j) is the square of side `cell` whose lower left corner is `origin + (i, j) × cell`; its column is j·nx + i. */
export interface Grid {
  readonly origin: Point;
  readonly cell: number;
  readonly nx: number;
  readonly ny: number;
}

/**
 * Interval k of column c is [low[k][c], high[k][c]]; empty where high ≤ low, and (∞, −∞) where there never was any.
 * Layers run from the lowest up and do not overlap. Boards cut from two opposite faces need one layer; cuts from the
 * edges need more. A column cut empty keeps the heights it was cut to, from both sides: high < low says by how much
 * two cuts went past each other.
 */
export interface Columns {
  readonly low: readonly Float32Array[];
  readonly high: readonly Float32Array[];
}

/** Half a cell's diagonal, mm: no point of a cell is farther than this from its centre. */
export function halfDiagonal(grid: Grid): number {
  return grid.cell * Math.SQRT1_2;
}

/** Centre of the cell of column c, mm. */
export function centreOf(grid: Grid, c: number): Point {
  const i = c % grid.nx;
  const j = (c - i) / grid.nx;
  return { x: grid.origin.x + (i + 0.5) * grid.cell, y: grid.origin.y + (j + 0.5) * grid.cell };
}

/** Column over a point, or −1 outside the grid. */
export function columnAt(grid: Grid, x: number, y: number): number {
  const i = Math.floor((x - grid.origin.x) / grid.cell);
  const j = Math.floor((y - grid.origin.y) / grid.cell);
  return i < 0 || j < 0 || i >= grid.nx || j >= grid.ny ? -1 : j * grid.nx + i;
}

/** Top of the wood in column c, or −∞ where there is none. mm. */
export function topOf(columns: Columns, c: number): number {
  for (let k = columns.high.length - 1; k >= 0; k--) {
    const h = columns.high[k]![c]!;
    if (h > columns.low[k]![c]!) return h;
  }
  return Number.NEGATIVE_INFINITY;
}

/** True where column c holds no wood. */
export function isEmpty(columns: Columns, c: number): boolean {
  return topOf(columns, c) === Number.NEGATIVE_INFINITY;
}

/** Wood in a state of the columns, mm³. */
export function volumeOf(grid: Grid, columns: Columns): number {
  let sum = 0;
  for (let k = 0; k < columns.high.length; k++) {
    const low = columns.low[k]!;
    const high = columns.high[k]!;
    for (let c = 0; c < high.length; c++) {
      const t = high[c]! - low[c]!;
      if (t > 0) sum += t;
    }
  }
  return sum * grid.cell * grid.cell;
}
