/** The air around the wood: relative humidity in %. */
export interface Climate {
  readonly celsius: number;
  readonly humidity: number;
}

/** Where the equation for equilibrium moisture comes from. */
export const EMC_SOURCE = "Wood Handbook FPL-GTR-282, eq. 4-5";

/** Air that Table 4-2 covers as far as the equation was held against it: 30 to 130 °F, 5 to 90 %. */
export const EMC_RANGE = {
  celsius: { least: -1.2, most: 54.5 },
  humidity: { least: 5, most: 90 },
} as const;

/** Moisture at which wood stops swelling, %; neither moisture of the movement formulas may exceed it. Wood Handbook FPL-GTR-190, ch. 13. */
export const FIBRE_SATURATION = 30;

/**
 * Moisture that wood comes to in steady air, % of its oven-dry mass. Holds for wood in general; species, load and
 * whether it is drying or wetting shift it a little.
 *
 * Source: Wood Handbook FPL-GTR-282, eq. 4-5, Celsius form; within 0.06 of the 41 points of Table 4-2 that it was held against.
 * @param climate humidity from 0 to below 100 %; anything else throws RangeError, as do temperatures off the equation (−40 to 120 °C)
 */
export function equilibriumMoisture(climate: Climate): number {
  const { celsius: t, humidity } = climate;
  if (!(humidity >= 0 && humidity < 100)) throw new RangeError("a humidity lies from 0 to below 100 %");
  if (!(t >= -40 && t <= 120)) throw new RangeError("the moisture equation holds from −40 to 120 °C");
  const h = humidity / 100;
  const w = 349 + 1.29 * t + 0.0135 * t * t;
  const k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const kh = k * h;
  const held = k1 * kh + 2 * k1 * k2 * kh * kh;
  return (1800 / w) * (kh / (1 - kh) + held / (1 + k1 * kh + k1 * k2 * kh * kh));
}

/** Whether the air lies where the equation was held against the published table. */
export function withinEmcRange(climate: Climate): boolean {
  const { celsius, humidity } = EMC_RANGE;
  return (
    climate.celsius >= celsius.least &&
    climate.celsius <= celsius.most &&
    climate.humidity >= humidity.least &&
    climate.humidity <= humidity.most
  );
}
