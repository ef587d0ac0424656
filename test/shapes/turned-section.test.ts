import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { radiiAt } from "../../src/shapes/meridian.ts";
import { containsPoint } from "../../src/shapes/region.ts";
import { arc, line, type Segment } from "../../src/shapes/segment.ts";
import { outlineBetween, topOver } from "../../src/shapes/turned-section.ts";
import { type TurnedSolid, topAt } from "../../src/shapes/turned-solid.ts";

const AXIS = { y: 7, z: -3 };

/** A bead between two cylinders, a shoulder on one side, square waste at the left. */
const BEADED: TurnedSolid = {
  meridian: {
    segments: [
      line({ x: 10, y: 8 }, { x: 20, y: 8 }),
      line({ x: 20, y: 8 }, { x: 20, y: 10 }),
      arc({ x: 20, y: 10 }, { x: 32, y: 10 }, { x: 26, y: 10 }, false),
      line({ x: 32, y: 10 }, { x: 60, y: 5 }),
    ] satisfies Segment[],
  },
  axis: AXIS,
  squares: [{ from: 0, to: 10, side: 24 }],
};

/** Half height of the wood at a place by hand: independent of slices. */
function halfAt(solid: TurnedSolid, x: number, d: number): number {
  const square = solid.squares.find((s) => s.from <= x && x <= s.to);
  const r = radiiAt(solid.meridian, x)?.most ?? 0;
  const turned = r > d ? Math.sqrt(r * r - d * d) : 0;
  return Math.max(turned, square !== undefined && d <= square.side / 2 ? square.side / 2 : 0);
}

describe("outline of the wood between two heights", () => {
  it("holds all wood between them and reaches no farther than the profile changes over a quarter millimetre", () => {
    const micrometres = (low: number, high: number) =>
      fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        micrometres(-17, 17),
        micrometres(0, 20),
        micrometres(-1, 61),
        micrometres(-20, 34),
        (low, span, x, y) => {
          const high = low + span;
          const region = outlineBetween(BEADED, low, high);
          const half = halfAt(BEADED, x, Math.abs(y - AXIS.y));
          const stands = half > 0 && AXIS.z - half < high - 1e-9 && AXIS.z + half > low + 1e-9;
          // On the outline itself either answer is right.
          if (stands && AXIS.z + half > low + 1e-6 && AXIS.z - half < high - 1e-6) {
            const nudged = { x: Math.min(Math.max(x, 1e-6), 60 - 1e-6), y: AXIS.y + (y - AXIS.y) * (1 - 1e-7) };
            expect(containsPoint(region, nudged)).toBe(true);
          }
          if (containsPoint(region, { x, y })) {
            const near = Array.from({ length: 21 }, (_, k) => x - 0.5 + k * 0.05).map((at) =>
              halfAt(BEADED, at, Math.abs(y - AXIS.y) * (1 - 1e-9)),
            );
            const most = Math.max(...near);
            expect(most > 0 && AXIS.z - most <= high + 1e-9 && AXIS.z + most >= low - 1e-9).toBe(true);
          }
        },
      ),
      { numRuns: 400 },
    );
  });

  it("is nothing above a half's flat, and the full silhouette across the axis", () => {
    const half: TurnedSolid = { ...BEADED, flatTop: -4 };
    expect(outlineBetween(half, -4, 100).loops).toEqual([]);
    const whole = outlineBetween(BEADED, -100, 100);
    expect(containsPoint(whole, { x: 26, y: AXIS.y + 15.9 })).toBe(true);
    expect(containsPoint(whole, { x: 26, y: AXIS.y + 16.1 })).toBe(false);
  });

  it("falls into pieces where a waist lies lower", () => {
    const waisted: TurnedSolid = {
      meridian: { segments: [line({ x: 0, y: 12 }, { x: 30, y: 6 }), line({ x: 30, y: 6 }, { x: 60, y: 12 })] },
      axis: { y: 0, z: 0 },
      squares: [],
    };
    expect(outlineBetween(waisted, 8, Number.POSITIVE_INFINITY).loops).toHaveLength(2);
    expect(outlineBetween(waisted, 5, Number.POSITIVE_INFINITY).loops).toHaveLength(1);
    // Below the axis the sides turn under: between −10 and −8 nothing stands over the waist.
    expect(outlineBetween(waisted, -10, -8).loops).toHaveLength(2);
  });
});

describe("highest wood over a rectangle", () => {
  it("is the highest of its points", () => {
    const box = { min: { x: 18, y: 9 }, max: { x: 28, y: 12 } };
    let most = Number.NEGATIVE_INFINITY;
    for (let x = 18; x <= 28.0001; x += 0.05) most = Math.max(most, topAt(BEADED, x, 9) ?? Number.NEGATIVE_INFINITY);
    expect(topOver(BEADED, box)).toBeGreaterThanOrEqual(most - 1e-9);
    expect(topOver(BEADED, box)).toBeLessThan(most + 0.001);
    expect(topOver(BEADED, { min: { x: 80, y: 0 }, max: { x: 90, y: 1 } })).toBeUndefined();
  });
});
