import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { equilibriumMoisture, FIBRE_SATURATION, withinEmcRange } from "../../src/fit/moisture.ts";

/** °F, then relative humidity in % and equilibrium moisture in %. Wood Handbook FPL-GTR-282, Table 4-2; printed to a tenth. */
const TABLE: readonly (readonly [number, readonly (readonly [number, number])[]])[] = [
  [
    30,
    [
      [5, 1.4],
      [30, 6.3],
      [50, 9.5],
      [65, 12.4],
      [80, 16.5],
      [90, 21.0],
    ],
  ],
  [
    50,
    [
      [50, 9.5],
      [65, 12.3],
      [80, 16.4],
    ],
  ],
  [
    70,
    [
      [5, 1.3],
      [10, 2.5],
      [20, 4.5],
      [25, 5.4],
      [30, 6.2],
      [35, 6.9],
      [40, 7.7],
      [45, 8.5],
      [50, 9.2],
      [55, 10.1],
      [60, 11.0],
      [65, 12.0],
      [70, 13.1],
      [75, 14.4],
      [80, 16.0],
      [85, 17.9],
      [90, 20.5],
    ],
  ],
  [
    80,
    [
      [30, 6.1],
      [50, 9.1],
      [65, 11.7],
      [80, 15.7],
      [90, 20.2],
    ],
  ],
  [
    90,
    [
      [50, 8.9],
      [80, 15.4],
    ],
  ],
  [
    100,
    [
      [50, 8.7],
      [65, 11.2],
      [80, 15.1],
    ],
  ],
  [
    120,
    [
      [50, 8.2],
      [80, 14.4],
    ],
  ],
  [
    130,
    [
      [30, 5.2],
      [50, 7.9],
      [80, 14.0],
    ],
  ],
];

const celsius = (fahrenheit: number): number => ((fahrenheit - 32) * 5) / 9;
const climates = fc.record({
  celsius: fc.integer({ min: -100, max: 540 }).map((t) => t / 10),
  humidity: fc.integer({ min: 10, max: 950 }).map((h) => h / 10),
});

describe("moisture in steady air", () => {
  it("is the Wood Handbook's: every point of Table 4-2 that was read, to 0.07 %", () => {
    for (const [f, points] of TABLE) {
      for (const [humidity, moisture] of points) {
        const found = equilibriumMoisture({ celsius: celsius(f), humidity });
        expect(Math.abs(found - moisture), `${f} °F, ${humidity} %`).toBeLessThan(0.07);
      }
    }
  });

  it.each([
    [70, 65, 12.0],
    [30, 30, 6.3],
    [70, 50, 9.2],
    [100, 80, 15.1],
    [130, 50, 7.9],
  ])("at %s °F and %s %% is %s %%: Wood Handbook, Table 4-2", (f, humidity, moisture) => {
    expect(Math.abs(equilibriumMoisture({ celsius: celsius(f), humidity }) - moisture)).toBeLessThan(0.07);
  });

  it("agrees with the handbook's Fahrenheit form (from memory) to 0.02 %", () => {
    fc.assert(
      fc.property(climates, ({ celsius: c, humidity }) => {
        const t = (c * 9) / 5 + 32;
        const h = humidity / 100;
        const w = 330 + 0.452 * t + 0.00415 * t * t;
        const k = (0.791 + 0.000463 * t - 0.000000844 * t * t) * h;
        const k1 = 6.34 + 0.000775 * t - 0.0000935 * t * t;
        const k2 = 1.09 + 0.0284 * t - 0.0000904 * t * t;
        const one = k1 * k;
        const two = k1 * k2 * k * k;
        const fahrenheit = (1800 / w) * (k / (1 - k) + (one + 2 * two) / (1 + one + two));
        expect(equilibriumMoisture({ celsius: c, humidity })).toBeCloseTo(fahrenheit, 1.4);
      }),
      { numRuns: 60 },
    );
  });

  it("rises with humidity, and never passes fibre saturation", () => {
    fc.assert(
      fc.property(climates, fc.integer({ min: 1, max: 49 }), (climate, more) => {
        const drier = equilibriumMoisture(climate);
        const damper = equilibriumMoisture({ ...climate, humidity: climate.humidity + more / 10 });
        expect(damper).toBeGreaterThan(drier);
        expect(equilibriumMoisture({ ...climate, humidity: 99.99 })).toBeLessThan(FIBRE_SATURATION);
      }),
      { numRuns: 60 },
    );
    expect(equilibriumMoisture({ celsius: 20, humidity: 0 })).toBe(0);
  });

  it("cannot be asked of air that there is not", () => {
    for (const humidity of [100, -1, Number.NaN]) {
      expect(() => equilibriumMoisture({ celsius: 20, humidity })).toThrow(RangeError);
    }
    expect(() => equilibriumMoisture({ celsius: 200, humidity: 50 })).toThrow(RangeError);
    expect(withinEmcRange({ celsius: 20, humidity: 50 })).toBe(true);
    expect(withinEmcRange({ celsius: 20, humidity: 95 })).toBe(false);
    expect(withinEmcRange({ celsius: -10, humidity: 50 })).toBe(false);
  });
});
