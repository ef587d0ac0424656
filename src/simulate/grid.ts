import type { Box3 } from "../shapes/point.ts";
import type { Grid } from "./wood.ts";

/** Cells that a grid has without haste, and at the very most: see `cellFor`. */
const COMFORTABLE_CELLS = 600_000;
const MOST_CELLS = 3_000_000;

/**
 * The side of a cell for a blank and the smallest cutter that works on it, mm, rounded up to whole hundredths.
 *
 * A tenth of the smallest cutter's diameter, between 0.1 and 0.4 mm, so that its shrunk self still has 86 % of its
 * width; coarser where the grid would pass 600,000 cells, down to a sixth of the diameter (76 % of the width); and
 * coarser than that only where it would pass 3 million. A cell costs 16 bytes (two bounds, low and high, four bytes
 * each), 8 more while it is cut (the tops of both bounds are copied), 4 for the record of when it was cut through, and
 * 5 while loose pieces are looked for: 20 MB for a grid of the comfortable size, 100 MB at the very most, far below
 * 300 MB beside the program. Cutting costs about (path length × diameter) ÷ cell² column visits a bound: 30 m of a 6 mm
 * cutter at 0.3 mm are 2 million, a few hundredths of a second.
 * @param blank mm, sides > 0
 * @param smallestDiameter mm, > 0
 */
export function cellFor(blank: Box3, smallestDiameter: number): number {
  const area = (blank.max.x - blank.min.x) * (blank.max.y - blank.min.y);
  if (!(area > 0) || !(smallestDiameter > 0)) throw new RangeError("a blank and a cutter have a size");
  const wanted = Math.min(0.4, Math.max(0.1, smallestDiameter / 10));
  const comfortable = Math.min(Math.sqrt(area / COMFORTABLE_CELLS), smallestDiameter / 6);
  const hard = Math.sqrt(area / MOST_CELLS);
  return Math.ceil(Math.max(wanted, comfortable, hard) * 100 - 1e-9) / 100;
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
