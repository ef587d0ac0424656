import type { WoodKind } from "../shop/wood.ts";
import { type GrainDirection, growthOf } from "./movement.ts";
import type { Season, Year } from "./seasons.ts";
import type { Today } from "./seasons-today.ts";
import type { Change } from "./through-year.ts";

/**
 * How a size changes from today to the driest and to the wettest season, mm, signed.
 * @param size mm, at today's moisture
 */
export function changeOf(size: number, wood: WoodKind, direction: GrainDirection, today: Today, year: Year): Change {
  const to = (season: Season): number => growthOf(size, wood, direction, today.moisture, season.moisture).change;
  return { dry: to(year.driest), wet: to(year.wettest) };
}
