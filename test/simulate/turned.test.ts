import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { radiiAt } from "../../src/shapes/meridian.ts";
import type { Point } from "../../src/shapes/point.ts";
import { line } from "../../src/shapes/segment.ts";
import { extentOfSolid, type TurnedSolid } from "../../src/shapes/turned-solid.ts";
import { startWood } from "../../src/simulate/start.ts";
import { columnAt, topOf, volumeOf } from "../../src/simulate/wood.ts";

function cylinder(length: number, radius: number, more: Partial<TurnedSolid> = {}): TurnedSolid {
  return {
    meridian: { segments: [line({ x: 0, y: radius }, { x: length, y: radius })] },
    axis: { y: 0, z: 0 },
    squares: [],
    ...more,
  };
}

const box = (length: number, half: number) => ({
  min: { x: 0, y: -half, z: -half },
  max: { x: length, y: half, z: half },
});

describe("turned wood as columns", () => {
  it("a cylinder, a cone and squares: the true volume lies between the bounds, their middle within 0.5 %", () => {
    const cone: TurnedSolid = {
      meridian: { segments: [line({ x: 0, y: 6 }, { x: 40, y: 12 })] },
      axis: { y: 0, z: 0 },
      squares: [],
    };
    const squared: TurnedSolid = {
      meridian: { segments: [line({ x: 10, y: 9 }, { x: 30, y: 9 })] },
      axis: { y: 0, z: 0 },
      squares: [
        { from: 0, to: 10, side: 22 },
        { from: 30, to: 40, side: 22 },
      ],
    };
    const exact: readonly (readonly [TurnedSolid, number])[] = [
      [cylinder(40, 11), Math.PI * 121 * 40],
      [cone, (Math.PI * 40 * (36 + 72 + 144)) / 3],
      [squared, 2 * 10 * 22 * 22 + Math.PI * 81 * 20],
      [cylinder(40, 11, { flatTop: 0 }), (Math.PI * 121 * 40) / 2],
    ];
    for (const [solid, volume] of exact) {
      const wood = startWood(box(40, 12), 0.1, [], solid);
      const most = volumeOf(wood.grid, wood.most);
      const least = volumeOf(wood.grid, wood.least);
      expect(least).toBeLessThanOrEqual(volume);
      expect(most).toBeGreaterThanOrEqual(volume);
      expect(Math.abs((most + least) / 2 / volume - 1)).toBeLessThan(0.005);
    }
  });

  it("holds every point of random profiles between its bounds", () => {
    const radius = fc.integer({ min: 3000, max: 14_000 }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        fc.array(radius, { minLength: 2, maxLength: 6 }),
        fc.integer({ min: -5000, max: 15_000 }).map((n) => n / 1000),
        fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true })), {
          minLength: 20,
          maxLength: 20,
        }),
        (radii, flat, points) => {
          const corners = radii.map((y, i): Point => ({ x: 4 + (i * 30) / (radii.length - 1), y }));
          const solid: TurnedSolid = {
            meridian: { segments: corners.slice(1).map((to, i) => line(corners[i]!, to)) },
            axis: { y: 0, z: 0 },
            squares: [{ from: 0, to: 4, side: 20 }],
            ...(flat < 14 ? { flatTop: flat } : {}),
          };
          const wood = startWood(box(34, 15), 0.4, [], solid);
          const { to } = extentOfSolid(solid);
          for (const [s, t] of points) {
            const x = s * to;
            const y = t * 15;
            const r = x < 4 ? 0 : radiiAt(solid.meridian, x)!.least;
            const half = x < 4 ? (Math.abs(y) <= 10 ? 10 : 0) : r > Math.abs(y) ? Math.sqrt(r * r - y * y) : 0;
            const top = Math.min(half, solid.flatTop ?? 99);
            const c = columnAt(wood.grid, x, y);
            const stands = half > 0 && top > -half;
            if (stands) expect(topOf(wood.most, c)).toBeGreaterThanOrEqual(top - 1e-6);
            if (stands) expect(wood.most.low[0]![c]!).toBeLessThanOrEqual(-half + 1e-6);
            const sure = topOf(wood.least, c);
            if (sure > Number.NEGATIVE_INFINITY) {
              expect(stands).toBe(true);
              expect(sure).toBeLessThanOrEqual(top + 1e-6);
              expect(wood.least.low[0]![c]!).toBeGreaterThanOrEqual(-half - 1e-6);
            }
          }
        },
      ),
      { numRuns: 40 },
    );
  });
});
