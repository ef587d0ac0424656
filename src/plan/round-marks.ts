import { boxGap, distanceToPoint } from "../shapes/nearest.ts";
import type { Box3, Point } from "../shapes/point.ts";
import { containsPoint, type Region, regionSegments } from "../shapes/region.ts";
import { extentOfSolid, type TurnedSolid, topAt } from "../shapes/turned-solid.ts";
import type { KeepOut, WitnessMark } from "./setup.ts";

/** Uncut wood wanted around a mark, mm, from roomy to least. */
const MARGINS = [6, 4, 2.5, 1.5] as const;
/** Where marks are wished, as shares of the length: no mirror images of each other. */
const WISHED = [0.06, 0.9, 0.3] as const;
/** Marks must tell the blank laid end for end by at least this, mm. */
const APART = 4;

/** What a mark stands on. */
export type MarkedOn = "square" | "crown" | "flat";

/**
 * Two or three spots where the wood is really there: on the square ends' faces, and on the crown line of what is turned.
 * Whole millimetres from the left end; across, on a square, aside of the axis. Laid end for end no mark meets a mark.
 * @param cut areas without wood at the top
 * @param beside nutRadius: the nut must not meet a clamp beside a mark; block: the tip halts this high above a mark, and
 *   there it must be clear of the box around the blank, as everything that moves with the spindle off must be
 */
export function roundMarks(
  solid: TurnedSolid,
  blank: Box3,
  cut: readonly Region[],
  keepOuts: readonly KeepOut[],
  beside: { readonly nutRadius: number; readonly block: number },
  nameOf: (fromLeft: number, where: MarkedOn) => string,
): readonly WitnessMark[] {
  const { from, to } = extentOfSolid(solid);
  const middle = (from + to) / 2;
  let best: readonly Spot[] = [];
  for (const margin of MARGINS) {
    const all = spotsOf(solid, margin);
    const free = (s: Spot): boolean =>
      s.z + beside.block > blank.max.z &&
      cut.every(
        (region) =>
          !containsPoint(region, s.at) && regionSegments(region).every((g) => distanceToPoint(g, s.at) >= margin),
      ) &&
      keepOuts.every((k) => boxGap(k.box, { min: s.at, max: s.at }) >= beside.nutRadius + 0.5);
    const chosen: Spot[] = [];
    for (const wish of WISHED) {
      const x = from + wish * (to - from);
      const tellable = (s: Spot): boolean =>
        Math.abs(s.at.x - middle) >= APART / 2 &&
        chosen.every((c) => Math.abs(c.at.x - s.at.x) >= APART && Math.abs(2 * middle - c.at.x - s.at.x) >= APART);
      const spot = [...all]
        .sort((a, b) => Math.abs(a.at.x - x) - Math.abs(b.at.x - x) || a.at.x - b.at.x || a.at.y - b.at.y)
        .find((s) => tellable(s) && free(s));
      if (spot !== undefined) chosen.push(spot);
    }
    if (chosen.length > best.length) best = chosen;
    if (best.length === WISHED.length) break;
  }
  return best.map((s, i) => ({
    name: `${"ABC"[i]}: ${nameOf(s.at.x - blank.min.x, s.where)}`,
    at: { x: s.at.x, y: s.at.y, z: s.z },
  }));
}

interface Spot {
  readonly at: Point;
  readonly z: number;
  readonly where: MarkedOn;
}

/** Places at whole millimetres from the left end with wood under them: steady under the gauge block, not on a slope. */
function spotsOf(solid: TurnedSolid, margin: number): readonly Spot[] {
  const { from, to } = extentOfSolid(solid);
  const spots: Spot[] = [];
  for (let k = Math.ceil(margin); from + k <= to - margin; k++) {
    const x = from + k;
    const square = solid.squares.find((s) => s.from + margin <= x && x <= s.to - margin);
    if (square === undefined && solid.squares.some((s) => s.from - 0.5 < x && x < s.to + 0.5)) continue;
    const flat = square !== undefined || solid.flatTop !== undefined;
    const y = square === undefined ? solid.axis.y : solid.axis.y + Math.round(square.side / 5);
    const z = topAt(solid, x, y);
    if (z === undefined) continue;
    const level =
      flat || [x - 1, x + 1].every((n) => Math.abs((topAt(solid, n, y) ?? Number.NEGATIVE_INFINITY) - z) < 0.3);
    if (level)
      spots.push({
        at: { x, y },
        z,
        where: square !== undefined ? "square" : solid.flatTop !== undefined ? "flat" : "crown",
      });
  }
  return spots;
}
