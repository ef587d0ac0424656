import type { Point } from "../shapes/point.ts";
import { type Columns, centreOf, topOf, type Wood } from "./wood.ts";

/** The thinnest wood between what was cut from above and what was cut from below or from an edge. */
export interface Web {
  /** Thickness, mm; negative by how much the two cuts went past each other. */
  readonly thickness: number;
  /** The true thickness there is at least `thickness` and at most `thickness + bound`. */
  readonly bound: number;
  readonly at: Point;
}

/** Heights this near a face are that face, mm. */
const NEAR = 0.002;

/**
 * The thinnest web, or nothing where no column was cut from both sides. Taken from `least`, so no web is thinner than
 * said. A stretch of wood counts when its top and its underside were both cut; where a cut from one side goes through
 * to the far face, nothing stands between, and that is a through cut, not a web. A web that stands upright between two
 * cavities side by side is not a column's business: see the exact distances in proof.
 * @param counts whether wood at a place is anybody's concern: waste beside a finished outline is not
 */
export function thinnestWeb(wood: Wood, counts: (p: Point) => boolean = () => true): Web | undefined {
  const { blank, grid, least, most } = wood;
  const under = blank.min.z + NEAR;
  const over = blank.max.z - NEAR;
  let best = Number.POSITIVE_INFINITY;
  let upper = Number.POSITIVE_INFINITY;
  let column = -1;
  for (let k = 0; k < least.high.length; k++) {
    const low = least.low[k]!;
    const high = least.high[k]!;
    for (let c = 0; c < high.length; c++) {
      const l = low[c]!;
      if (!(l > under && l < over)) continue;
      const h = high[c]!;
      if (!(h > under && h < over) || h - l > best) continue;
      // Among equals, where `most` too is thin: in mid web, not at its rim.
      const atMost = thicknessAround(most, c, Math.min(h, l));
      if (h - l === best && atMost >= upper) continue;
      if (!counts(centreOf(grid, c))) continue;
      best = h - l;
      upper = atMost;
      column = c;
    }
  }
  if (column < 0) return undefined;
  return { thickness: best, bound: Math.max(0, upper - best), at: centreOf(grid, column) };
}

/** Thickness of the stretch of a column that reaches to or past height z, mm; 0 where there is none. */
function thicknessAround(columns: Columns, c: number, z: number): number {
  for (let k = 0; k < columns.high.length; k++) {
    const high = columns.high[k]![c]!;
    if (high > z && high > columns.low[k]![c]!) return high - columns.low[k]![c]!;
  }
  return 0;
}

/**
 * The thinnest wood left beneath what was cut from above, where the wood was no board to begin with: round stock, whose
 * underside is no cut. Thickness is measured upright, from `least`; a column cut through counts by how far the cut went
 * past the underside.
 * @param before the wood before the first cut
 * @param counts whether wood at a place is anybody's concern
 */
export function thinnestBeneath(before: Wood, after: Wood, counts: (p: Point) => boolean): Web | undefined {
  const { grid, least } = after;
  let best = Number.POSITIVE_INFINITY;
  let column = -1;
  for (let c = 0; c < grid.nx * grid.ny; c++) {
    const was = topOf(before.least, c);
    if (was === Number.NEGATIVE_INFINITY || topOf(least, c) > was - NEAR) continue;
    const thickness = topmost(least, c);
    if (thickness >= best || !counts(centreOf(grid, c))) continue;
    best = thickness;
    column = c;
  }
  if (column < 0) return undefined;
  // The floor is a cut's and exact where it is level; the underside lies between its own two bounds.
  const bound = Math.max(0, before.least.low[0]![column]! - before.most.low[0]![column]!);
  return { thickness: best, bound, at: centreOf(grid, column) };
}

/** Thickness of the topmost stretch of a column that holds or held wood, mm; negative where a cut went past another. */
function topmost(columns: Columns, c: number): number {
  for (let k = columns.high.length - 1; k > 0; k--) {
    const t = columns.high[k]![c]! - columns.low[k]![c]!;
    if (t > 0) return t;
  }
  const t = columns.high[0]![c]! - columns.low[0]![c]!;
  return t === Number.NEGATIVE_INFINITY ? 0 : t;
}
