import type { Point } from "../shapes/point.ts";

/**
 * Wood as columns over a square grid: each column a list of z intervals, kept twice. `most` was cut with the cutter
 * shrunk by half a cell's diagonal, `least` with it grown by as much, so the true wood lies between them whatever
 * happened between cell centres. Filled and carried on by `simulate`; read by proof. mm.
 */
export interface Wood {
  readonly grid: Grid;
  readonly most: Columns;
  readonly least: Columns;
}

/** Cell (i, j) is the square of side `cell` whose lower left corner is `origin + (i, j) × cell`. */
export interface Grid {
  readonly origin: Point;
  readonly cell: number;
  readonly nx: number;
  readonly ny: number;
}

/**
 * Interval k of column c is [low[k][c], high[k][c]]; empty where high ≤ low. Layers run from the lowest up and do not
 * overlap. Boards cut from two opposite faces need one layer; edge cuts beneath a face need more.
 */
export interface Columns {
  readonly low: readonly Float32Array[];
  readonly high: readonly Float32Array[];
}
