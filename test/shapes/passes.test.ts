import { describe, expect, it } from "vitest";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { offsetPasses, offsetPolygons } from "../../src/shapes/offset.ts";
import { circle, rectangle, slot } from "../../src/shapes/outlines.ts";
import { areaOfPolygons, type Polygons, pointInPolygons } from "../../src/shapes/polygons.ts";
import { lengthOf, line } from "../../src/shapes/segment.ts";
import { indexSegments, nearestDistance } from "../../src/shapes/segment-index.ts";
import { threeIslandPocket } from "./generators.ts";

const o = { x: 0, y: 0 };
const edges = (polygons: Polygons) => polygons.flatMap((r) => r.map((p, i) => line(p, r[(i + 1) % r.length]!)));

describe("passes", () => {
  it("of a circle are circles, the last one of any size at all", () => {
    const passes = offsetPasses(flattenRegion(circle(o, 20), 0.0005), 3, 2.4, 0.001);
    expect(passes).toHaveLength(8);
    for (const [k, pass] of passes.entries()) {
      expect(pass.distance).toBeCloseTo(3 + 2.4 * k, 12);
      const r = 20 - pass.distance;
      expect(areaOfPolygons(pass.components.flat())).toBeCloseTo(Math.PI * r * r, 0);
    }
  });

  it("stay at their distance from the boundary, however many came before", () => {
    const pocket = threeIslandPocket();
    const index = indexSegments(edges(pocket));
    for (const tolerance of [0.001, 0.01]) {
      const passes = offsetPasses(pocket, 3, 2.4, tolerance);
      expect(passes.length).toBeGreaterThan(7);
      for (const [k, pass] of passes.entries()) {
        for (const ring of pass.components.flat()) {
          for (const { from, to } of edges([ring])) {
            for (const p of [from, { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }]) {
              const off = nearestDistance(index, p) - pass.distance;
              // The first pass keeps the tolerance; each later one may add half of it for the points dropped.
              const allowed = tolerance * (1 + k / 2) + 0.0004 * (k + 1);
              expect(Math.abs(off)).toBeLessThan(allowed);
            }
          }
        }
      }
    }
  });

  it("agree with going back to the boundary each time", () => {
    const pocket = threeIslandPocket();
    for (const [k, pass] of offsetPasses(pocket, 3, 2.4, 0.002).entries()) {
      const direct = areaOfPolygons(offsetPolygons(pocket, -pass.distance, 0.002));
      const ours = areaOfPolygons(pass.components.flat());
      const boundary = edges(pass.components.flat()).reduce((sum, s) => sum + lengthOf(s), 0);
      expect(Math.abs(ours - direct)).toBeLessThan(boundary * 0.002 * (1 + k / 4));
    }
  });

  it("tell which shape each came out of", () => {
    const dumbbell: Polygons = [
      [
        [0, 0],
        [20, 0],
        [20, 8],
        [40, 8],
        [40, 0],
        [60, 0],
        [60, 20],
        [40, 20],
        [40, 12],
        [20, 12],
        [20, 20],
        [0, 20],
      ].map(([x, y]) => ({ x: x!, y: y! })),
    ];
    const passes = offsetPasses(dumbbell, 1, 1.5, 0.001);
    expect(passes.map((p) => p.components.length)).toEqual([1, 2, 2, 2, 2, 2]);
    expect(passes[1]!.parents).toEqual([0, 0]);
    for (let k = 2; k < passes.length; k++) {
      for (const [i, component] of passes[k]!.components.entries()) {
        const parent = passes[k - 1]!.components[passes[k]!.parents[i]!]!;
        expect(pointInPolygons(parent, component[0]![0]!)).toBe(true);
      }
    }
  });

  it("stop where they are told, and where nothing is left", () => {
    const area = flattenRegion(rectangle(o, { x: 40, y: 20 }), 0.001);
    expect(offsetPasses(area, 1, 2, 0.001, 6).map((p) => p.distance)).toEqual([1, 3, 5]);
    expect(offsetPasses(area, 1, 2, 0.001).map((p) => p.distance)).toEqual([1, 3, 5, 7, 9]);
    expect(offsetPasses(area, 11, 2, 0.001)).toEqual([]);
    expect(offsetPasses([], 1, 2, 0.001)).toEqual([]);
    expect(() => offsetPasses(area, 1, 0, 0.001)).toThrow(RangeError);
    expect(() => offsetPasses(area, Number.NaN, 1, 0.001)).toThrow(RangeError);
  });

  it("work on holes within separate shapes", () => {
    const two = [
      ...flattenRegion(slot(o, 40, 16, 0), 0.001),
      ...flattenRegion(slot({ x: 0, y: 40 }, 40, 16, 0), 0.001),
    ];
    const passes = offsetPasses(two, 2, 2, 0.001);
    expect(passes.every((p) => p.components.length === 2)).toBe(true);
  });
});
