import { cleaned, combine, fromGrid, toGrid } from "./kernel.ts";
import type { Region } from "./region.ts";
import type { Polygons } from "./rings.ts";
import { line, type Segment } from "./segment.ts";

export { areaOfPolygons, areaOfRing, type Polygons, pointInPolygons, type Ring, windingOf } from "./rings.ts";
export { simplifyLine, simplifyRing } from "./simplify.ts";

/**
 * Polygons made proper: overlaps merged, rings oriented and without repeated points, points within `tolerance` mm of
 * a neighbour or a straight run dropped. What is thinner than that may vanish.
 */
export function cleanPolygons(polygons: Polygons, tolerance: number): Polygons {
  return fromGrid(combine("union", toGrid(cleaned(fromGrid(combine("union", toGrid(polygons), [])), tolerance)), []));
}

/** Polygons as a region of straight lines; see `fitRegion` for one with arcs. */
export function polygonsToRegion(polygons: Polygons): Region {
  return {
    loops: polygons
      .filter((ring) => ring.length > 2)
      .map((ring) => ring.map((p, i): Segment => line(p, ring[(i + 1) % ring.length]!))),
  };
}
