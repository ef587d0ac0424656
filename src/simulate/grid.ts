import type { Box3 } from "../shapes/point.ts";
import type { Grid } from "./wood.ts";

/** Most cells that `cellFor` lets a grid have: see there. */
const MOST_CELLS = 1_500_000;

/**
 * The side of a cell for a blank and the smallest cutter that works on it, mm, rounded up to whole hundredths.
 *
 * A twelfth of the smallest cutter's diameter, so that its shrunk self still has 88 % of its width; never finer than
 * 0.1 mm, never coarser than 0.4 mm; and never so fine that the grid passes 1.5 million cells. A cell costs 16 bytes
 * (two bounds, low and high, four bytes each) and 4 more for the record of when it was cut through: 30 MB at most,
 * and as much again while loose pieces are looked for, so several grids stay far below 300 MB beside the program.
 * Cutting costs about (path length × diameter) ÷ cell² column visits a bound: 30 m of a 6 mm cutter at 0.25 mm are
 * 3 million, a few hundredths of a second.
 * @param blank mm, sides > 0
 * @param smallestDiameter mm, > 0
 */
export function cellFor(blank: Box3, smallestDiameter: number): number {
  const area = (blank.max.x - blank.min.x) * (blank.max.y - blank.min.y);
  if (!(area > 0) || !(smallestDiameter > 0)) throw new RangeError("a blank and a cutter have a size");
  const wanted = Math.min(0.4, Math.max(0.1, smallestDiameter / 12));
  const affordable = Math.sqrt(area / MOST_CELLS);
  return Math.ceil(Math.max(wanted, affordable) * 100 - 1e-9) / 100;
}

/** A grid over the blank with one cell of margin all round. The blank's lower left corner is a corner of a cell. */
export function gridOver(blank: Box3, cell: number): Grid {
  if (!(cell > 0)) throw new RangeError("a cell has a size");
  const across = (span: number) => Math.ceil(span / cell - 1e-9) + 2;
  return {
    origin: { x: blank.min.x - cell, y: blank.min.y - cell },
    cell,
    nx: across(blank.max.x - blank.min.x),
    ny: across(blank.max.y - blank.min.y),
  };
}
