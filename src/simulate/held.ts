import type { Holding } from "../plan/setup.ts";
import type { Box } from "../shapes/point.ts";
import { centreOf, type Wood } from "./wood.ts";

/** When a piece of wood counts as held. */
export type HeldBy =
  /** Held over its underside: at least this much of it must lie on the bed, mm². */
  | { readonly kind: "underside"; readonly leastArea: number }
  /** Held where any of it lies in one of these rectangles, seen from above. */
  | { readonly kind: "spots"; readonly spots: readonly Box[] };

/** How a set-up's holding counts. @param leastArea mm², of underside that holds a piece by tape or vacuum */
export function heldBy(holding: Holding, leastArea: number): HeldBy {
  switch (holding.kind) {
    case "underside":
      return { kind: "underside", leastArea };
    case "spots":
      return { kind: "spots", spots: holding.spots };
  }
}

/** Heights this near the bed lie on it, mm. */
const NEAR = 0.002;

/**
 * What a column adds to its piece's hold: 1 where its wood reaches the underside of the blank, or lies wholly in a
 * held rectangle; else 0. A column cut through from above counts as it was before.
 */
export function holdOf(wood: Wood, held: HeldBy, c: number): 0 | 1 {
  switch (held.kind) {
    case "underside":
      return wood.least.low[0]![c]! <= wood.blank.min.z + NEAR ? 1 : 0;
    case "spots": {
      const p = centreOf(wood.grid, c);
      const h = wood.grid.cell / 2;
      return held.spots.some(
        (s) => p.x - h >= s.min.x && p.x + h <= s.max.x && p.y - h >= s.min.y && p.y + h <= s.max.y,
      )
        ? 1
        : 0;
    }
  }
}

/** Whether a piece with so many holding columns is held. */
export function isHeld(wood: Wood, held: HeldBy, columns: number): boolean {
  switch (held.kind) {
    case "underside":
      return columns > 0 && columns * wood.grid.cell ** 2 >= held.leastArea;
    case "spots":
      return columns > 0;
  }
}
