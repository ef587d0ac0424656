import { leastHalf, mostHalf, sliceOf, standing, type TurnedSolid } from "../shapes/turned-solid.ts";
import { downwards, type OpenColumns, upwards } from "./columns.ts";
import type { Grid } from "./wood.ts";

/**
 * Turned wood as columns: `most` holds all wood that stands anywhere over a cell, `least` what stands over every point of
 * it, both in closed form from the bounds of the profile's radius over the cell. Cells beside the wood have none.
 */
export function turnedColumns(
  grid: Grid,
  solid: TurnedSolid,
): { readonly most: OpenColumns; readonly least: OpenColumns } {
  const most = emptyColumns(grid);
  const least = emptyColumns(grid);
  for (let i = 0; i < grid.nx; i++) {
    const x = grid.origin.x + i * grid.cell;
    const slice = sliceOf(solid, x, x + grid.cell);
    if (slice.radii === undefined && slice.halfSides.length === 0) continue;
    for (let j = 0; j < grid.ny; j++) {
      const c = j * grid.nx + i;
      const low = grid.origin.y + j * grid.cell - solid.axis.y;
      const high = low + grid.cell;
      const near = low <= 0 && high >= 0 ? 0 : Math.min(Math.abs(low), Math.abs(high));
      const some = standing(solid, mostHalf(slice, near));
      if (some !== undefined) {
        most.low[0]![c] = downwards(some.low);
        most.high[0]![c] = upwards(some.high);
      }
      const all = standing(solid, leastHalf(slice, Math.max(Math.abs(low), Math.abs(high))));
      if (all !== undefined) {
        least.low[0]![c] = upwards(all.low);
        least.high[0]![c] = downwards(all.high);
      }
    }
  }
  return { most, least };
}

function emptyColumns(grid: Grid): OpenColumns {
  const n = grid.nx * grid.ny;
  return {
    low: [new Float32Array(n).fill(Number.POSITIVE_INFINITY)],
    high: [new Float32Array(n).fill(Number.NEGATIVE_INFINITY)],
    lowIsShared: false,
  };
}
