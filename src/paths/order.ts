import type { Point } from "../shapes/point.ts";
import { tourOf, USUAL_TRIES } from "../shapes/tour.ts";

/**
 * Points on a short round, begun near `from` where one comes from somewhere. The same points give the same order.
 */
export function inShortOrder(points: readonly Point[], from?: Point): Point[] {
  const stops = points.map((p) => ({ from: p, to: p }));
  const { turns } = tourOf(stops, { ...(from === undefined ? {} : { start: from }), tries: USUAL_TRIES });
  return turns.map(({ index }) => points[index]!);
}
