import { containsPoint, type Region, regionSegments } from "../../shapes/region.ts";
import { radiusOf, sweepRad } from "../../shapes/segment.ts";

/** Distance from a point of the plane to a region's outline, mm: positive inside, negative outside. */
export function signedDistance(region: Region): (x: number, y: number) => number {
  const segments = regionSegments(region);
  const data = Float64Array.from(
    segments.flatMap((s) =>
      s.kind === "line"
        ? [0, s.from.x, s.from.y, s.to.x - s.from.x, s.to.y - s.from.y, 0]
        : [1, s.centre.x, s.centre.y, radiusOf(s), sweepRad(s), 0],
    ),
  );
  const ends = Float64Array.from(segments.flatMap((s) => [s.from.x, s.from.y, s.to.x, s.to.y]));
  return (x, y) => {
    let least = Number.POSITIVE_INFINITY;
    // The side of the nearest piece tells in from out, except at its very ends.
    let side = 0;
    for (let i = 0; i < segments.length; i++) {
      const o = 6 * i;
      const a = data[o + 1]!;
      const b = data[o + 2]!;
      if (data[o] === 0) {
        const dx = data[o + 3]!;
        const dy = data[o + 4]!;
        const t = ((x - a) * dx + (y - b) * dy) / (dx * dx + dy * dy);
        const k = Math.min(1, Math.max(0, t));
        const d = (x - a - k * dx) ** 2 + (y - b - k * dy) ** 2;
        if (d < least) {
          least = d;
          side = t > 0 && t < 1 ? dx * (y - b) - dy * (x - a) : 0;
        }
        continue;
      }
      const atEnd = (x - ends[4 * i]!) ** 2 + (y - ends[4 * i + 1]!) ** 2;
      if (atEnd < least) {
        least = atEnd;
        side = 0;
      }
      const r = data[o + 3]!;
      const out = Math.sqrt((x - a) ** 2 + (y - b) ** 2);
      const away = (out - r) ** 2;
      if (away >= least) continue;
      const sweep = data[o + 4]!;
      const turn = sweep > 0 ? 1 : -1;
      const past = turn * ((ends[4 * i]! - a) * (y - b) - (ends[4 * i + 1]! - b) * (x - a));
      const before = turn * ((x - a) * (ends[4 * i + 3]! - b) - (y - b) * (ends[4 * i + 2]! - a));
      const half = Math.abs(sweep) <= Math.PI + 1e-9;
      if (half ? past >= 0 && before >= 0 : past >= 0 || before >= 0) {
        least = away;
        side = sweep > 0 ? r - out : out - r;
      }
    }
    const inside = side > 0 || (side === 0 && least > 0 && containsPoint(region, { x, y }));
    return inside ? Math.sqrt(least) : -Math.sqrt(least);
  };
}
