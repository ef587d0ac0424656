import type { Point } from "../shapes/point.ts";
import type { Region } from "../shapes/region.ts";
import { radiusOf, type Segment, sweepRad } from "../shapes/segment.ts";
import { decimal } from "./svg.ts";

/** Puts set-up coordinates (mm, Y up) on the sheet (mm, Y down). A pure shift and flip: the scale stays true. */
export interface Sheet {
  readonly left: number;
  readonly baseline: number;
}

/** Where a point of the set-up lies on the sheet, mm. */
export function onSheet(sheet: Sheet, p: Point): Point {
  return { x: sheet.left + p.x, y: sheet.baseline - p.y };
}

/** SVG path data of a region: closed loops, arcs as arcs. */
export function regionData(sheet: Sheet, region: Region): string {
  return region.loops
    .filter((loop) => loop.length > 0)
    .map((loop) => `${move(sheet, loop[0]!.from)}${loop.map((s) => segmentData(sheet, s)).join("")}Z`)
    .join("");
}

/** SVG path data of one open run of segments. */
export function runData(sheet: Sheet, run: readonly Segment[]): string {
  return run.length === 0 ? "" : `${move(sheet, run[0]!.from)}${run.map((s) => segmentData(sheet, s)).join("")}`;
}

function move(sheet: Sheet, p: Point): string {
  const q = onSheet(sheet, p);
  return `M${decimal(q.x)} ${decimal(q.y)}`;
}

function segmentData(sheet: Sheet, s: Segment): string {
  const to = onSheet(sheet, s.to);
  switch (s.kind) {
    case "line":
      return `L${decimal(to.x)} ${decimal(to.y)}`;
    case "arc": {
      const sweep = sweepRad(s);
      const r = decimal(radiusOf(s));
      // The sheet's Y points down, so a counter-clockwise arc is drawn with SVG's sweep flag off.
      const flag = s.ccw ? 0 : 1;
      if (Math.abs(sweep) > Math.PI * 1.99) {
        const far = onSheet(sheet, { x: 2 * s.centre.x - s.from.x, y: 2 * s.centre.y - s.from.y });
        return `A${r} ${r} 0 1 ${flag} ${decimal(far.x)} ${decimal(far.y)}A${r} ${r} 0 1 ${flag} ${decimal(to.x)} ${decimal(to.y)}`;
      }
      return `A${r} ${r} 0 ${Math.abs(sweep) > Math.PI ? 1 : 0} ${flag} ${decimal(to.x)} ${decimal(to.y)}`;
    }
  }
}
