import type { Point } from "../../shapes/point.ts";
import type { Region } from "../../shapes/region.ts";
import { tangentAt } from "../../shapes/segment.ts";

/** Where a border turns by more than this, its corner counts, as a sine. */
const TURNS = 0.02;

/** Corners of an outline: those where the kept side points out, and those where it is hollow. */
export interface Corners {
  readonly pointed: readonly Point[];
  readonly hollow: readonly Point[];
}

/** The corners of an outline, seen from the side that is kept. */
export function cornersOf(outline: Region, keep: "inside" | "outside"): Corners {
  const pointed: Point[] = [];
  const hollow: Point[] = [];
  for (const loop of outline.loops) {
    for (const [i, s] of loop.entries()) {
      const a = tangentAt(loop[(i + loop.length - 1) % loop.length]!, 1);
      const b = tangentAt(s, 0);
      const turn = a.x * b.y - a.y * b.x;
      if (Math.abs(turn) <= TURNS) continue;
      // With the inside on the left, a turn to the right is a hollow corner of it.
      (turn < 0 === (keep === "inside") ? hollow : pointed).push(s.from);
    }
  }
  return { pointed, hollow };
}
