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

/** `holdOf` of every column at once. */
export function holdMask(wood: Wood, held: HeldBy): Uint8Array {
  const { nx, ny, cell, origin } = wood.grid;
  const mask = new Uint8Array(nx * ny);
  switch (held.kind) {
    case "underside": {
      const low = wood.least.low[0]!;
      for (let c = 0; c < mask.length; c++) if (low[c]! <= wood.blank.min.z + NEAR) mask[c] = 1;
      return mask;
    }
    case "spots":
      for (const { min, max } of held.spots) {
        const i0 = Math.max(0, Math.ceil((min.x - origin.x) / cell - 1e-9));
        const i1 = Math.min(nx, Math.floor((max.x - origin.x) / cell + 1e-9));
        const j0 = Math.max(0, Math.ceil((min.y - origin.y) / cell - 1e-9));
        const j1 = Math.min(ny, Math.floor((max.y - origin.y) / cell + 1e-9));
        for (let j = j0; j < j1; j++) if (i1 > i0) mask.fill(1, j * nx + i0, j * nx + i1);
      }
      return mask;
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
