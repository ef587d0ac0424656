import { arealEnergy, lineEnergy, type Ripple, ripple } from "./beam.ts";
import { type BurnSetting, type Laser, lineWidth } from "./laser.ts";

/** What a setting puts on the wood at most: with the rated power, of which less arrives. All passes together. */
export interface BurnEnergy {
  /** J on each millimetre of a line. */
  readonly perMm: number;
  /** J on each square millimetre of an area or of all dots of a picture; absent for lines. */
  readonly perMm2?: number;
  /** How far an area's dose strays from its mean across the lines; absent for lines. */
  readonly evenness?: Ripple;
}

/**
 * Energy of a setting, J. An area's lines at `spacing` mm, in the direction `travelDeg` from X.
 * @param area absent for lines
 */
export function burnEnergy(
  setting: Pick<BurnSetting, "power" | "speed" | "passes">,
  laser: Laser,
  area?: { readonly spacing: number; readonly travelDeg: number },
): BurnEnergy {
  const watts = setting.power * laser.ratedPower;
  const mmPerSecond = setting.speed / 60;
  const perMm = setting.passes * lineEnergy(watts, mmPerSecond);
  if (area === undefined) return { perMm };
  return {
    perMm,
    perMm2: setting.passes * arealEnergy(watts, mmPerSecond, area.spacing),
    evenness: ripple(lineWidth(laser, area.travelDeg), area.spacing),
  };
}

/** Distance between the lines of an area: the setting's own, else half the spot across them, mm. */
export function lineSpacing(setting: BurnSetting, laser: Laser, travelDeg: number): number {
  return setting.spacing ?? lineWidth(laser, travelDeg) / 2;
}

/** Distance between the dots of a picture: the setting's own, else the larger of the spot's two measures, mm. */
export function dotPitch(setting: BurnSetting, laser: Laser): number {
  return setting.spacing ?? Math.max(laser.spot.x, laser.spot.y);
}
