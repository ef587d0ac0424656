import { combine, connected, fromGrid, toGrid } from "./kernel.ts";
import type { Polygons } from "./rings.ts";

/** All that is in any of the areas. Exact but for the 0.1 µm grid. */
export function unionOf(...areas: readonly Polygons[]): Polygons {
  return fromGrid(combine("union", toGrid(areas.flat()), []));
}

/** What is in both areas. Exact but for the 0.1 µm grid. */
export function intersectionOf(a: Polygons, b: Polygons): Polygons {
  return fromGrid(combine("intersection", toGrid(a), toGrid(b)));
}

/** What is in the first area and not in the second. Exact but for the 0.1 µm grid. */
export function differenceOf(a: Polygons, b: Polygons): Polygons {
  return fromGrid(combine("difference", toGrid(a), toGrid(b)));
}

/** The connected shapes of an area, each an outer ring followed by its holes. */
export function componentsOf(polygons: Polygons): Polygons[] {
  return connected(toGrid(polygons)).map(fromGrid);
}
