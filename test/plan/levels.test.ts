import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evenLevels, insetBy, slopeStep } from "../../src/plan/levels.ts";
import { reachTrouble, roomForAllowance } from "../../src/plan/reach.ts";
import { circle, oval, polygon, rectangle, roundedRectangle, slot } from "../../src/shapes/outlines.ts";
import { areaOf, perimeterOf } from "../../src/shapes/region.ts";

const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);

describe("levels", () => {
  it("go down evenly to the floor, none deeper than allowed, and no more of them than needed", () => {
    fc.assert(
      fc.property(um(-20, 20), um(0, 40), um(0, 12), (top, deep, most) => {
        fc.pre(deep > 0.01 && most > 0.01);
        const floor = top - deep;
        const levels = evenLevels(top, floor, most);
        expect(levels.at(-1)).toBe(floor);
        const steps = [top, ...levels].slice(1).map((z, i) => [top, ...levels][i]! - z);
        for (const s of steps) {
          expect(s).toBeGreaterThan(0);
          expect(s).toBeLessThanOrEqual(most + 1e-6);
          expect(s).toBeCloseTo(steps[0]!, 9);
        }
        expect(levels.length - 1).toBeLessThan(deep / most);
      }),
    );
  });

  it("leave ridges of the stated height on a slope: Δz · sin(lean)", () => {
    const step = slopeStep(Math.tan(Math.PI / 6), 0.05);
    expect(step).toBeCloseTo(0.1, 12);
    // The corner of a stair of that step lies this far from the slope through the stair's inner corners.
    const [dz, dx] = [step, step * Math.tan(Math.PI / 6)];
    expect((dz * dx) / Math.hypot(dz, dx)).toBeCloseTo(0.05, 12);
    expect(slopeStep(0, 0.05)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("a section further down a sloped wall", () => {
  it("loses perimeter × inset − π inset², exactly, where it is smooth and bulges", () => {
    const at = { x: 3, y: 4 };
    for (const [shape, within] of [
      [circle(at, 12), 1e-9],
      [slot(at, 40, 16, 33), 1e-9],
      [roundedRectangle(at, 40, 24, 7, -12), 1e-9],
      [oval(at, 40, 24, 10), 1e-3],
    ] as const) {
      const d = 2.5;
      const exact = areaOf(shape) - perimeterOf(shape) * d + Math.PI * d * d;
      expect(Math.abs(areaOf(insetBy(shape, d)) - exact)).toBeLessThan(within * 10);
    }
  });

  it("keeps sharp corners sharp", () => {
    expect(areaOf(insetBy(rectangle({ x: 0, y: 0 }, { x: 30, y: 20 }), 2))).toBeCloseTo(26 * 16, 2);
  });

  it("is empty beyond the middle", () => {
    expect(insetBy(circle({ x: 0, y: 0 }, 3), 3.5).loops).toEqual([]);
    expect(insetBy(slot({ x: 0, y: 0 }, 30, 6, 0), 3.2).loops).toEqual([]);
  });
});

describe("reach", () => {
  const p = (x: number, y: number) => ({ x, y });
  it("is all of a smooth shape up to its tightest bend, and not beyond", () => {
    const shape = roundedRectangle(p(0, 0), 40, 24, 4, 0);
    expect(reachTrouble(shape, 4)).toBeUndefined();
    expect(reachTrouble(slot(p(0, 0), 40, 6, 20), 3)).toBeUndefined();
    expect(reachTrouble(slot(p(0, 0), 40, 6, 20), 3.05)).toBe("doesn't fit");
  });

  it("forgives corners, not arms and necks", () => {
    expect(reachTrouble(rectangle(p(0, 0), p(30, 20)), 3)).toBeUndefined();
    // A T whose stem is 5 mm wide.
    const tee = polygon([p(0, 0), p(5, 0), p(5, 30), p(20, 30), p(20, 45), p(-15, 45), p(-15, 30), p(0, 30)]);
    expect(reachTrouble(tee, 2.5)).toBeUndefined();
    expect(reachTrouble(tee, 3)).toBe("leaves a place that it can't get into");
    const rooms = polygon([
      p(0, 0),
      p(20, 0),
      p(20, 8),
      p(22, 8),
      p(22, 0),
      p(42, 0),
      p(42, 21),
      p(22, 21),
      p(22, 13),
      p(20, 13),
      p(20, 21),
      p(0, 21),
    ]);
    expect(reachTrouble(rooms, 3)).toBe("is cut in two by a neck");
    expect(reachTrouble(rooms, 2)).toBeUndefined();
  });

  it("has room for an allowance only where roughing still gets everywhere", () => {
    const groove = rectangle(p(0, 0), p(100, 6.4));
    expect(roomForAllowance(groove, 3, 0.3)).toBe(false);
    expect(roomForAllowance(groove, 2.5, 0.3)).toBe(true);
  });
});
