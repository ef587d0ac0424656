import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { componentsOf, differenceOf, intersectionOf, unionOf } from "../../src/shapes/boolean.ts";
import { groupRings } from "../../src/shapes/kernel.ts";
import {
  areaOfPolygons,
  areaOfRing,
  cleanPolygons,
  type Polygons,
  pointInPolygons,
  type Ring,
} from "../../src/shapes/polygons.ts";
import { points, starRings } from "./generators.ts";
import { refereeCombine } from "./referee.ts";

const square = (x: number, y: number, side: number): Ring => [
  { x, y },
  { x: x + side, y },
  { x: x + side, y: y + side },
  { x, y: y + side },
];
const hole = (ring: Ring): Ring => [...ring].reverse();

describe("booleans", () => {
  it("agree with an independent library within 0.01 %", () => {
    fc.assert(
      fc.property(starRings, starRings, (a, b) => {
        const near = (ours: Polygons, theirs: number): void =>
          expect(Math.abs(areaOfPolygons(ours) - theirs)).toBeLessThan(1e-4 * theirs + 0.01);
        near(unionOf([a], [b]), refereeCombine.union([a], [b]));
        near(intersectionOf([a], [b]), refereeCombine.intersection([a], [b]));
        near(differenceOf([a], [b]), refereeCombine.difference([a], [b]));
      }),
      { numRuns: 150 },
    );
  });

  it("areas add up: union + intersection = both", () => {
    fc.assert(
      fc.property(starRings, starRings, (a, b) => {
        const both = areaOfRing(a) + areaOfRing(b);
        const sum = areaOfPolygons(unionOf([a], [b])) + areaOfPolygons(intersectionOf([a], [b]));
        expect(Math.abs(sum - both)).toBeLessThan(0.05);
      }),
    );
  });

  it("say of each point what the words say", () => {
    fc.assert(
      fc.property(starRings, starRings, points, (a, b, p) => {
        const [inA, inB] = [pointInPolygons([a], p), pointInPolygons([b], p)];
        // Points on an edge, within the grid, may fall on either side.
        const near = [p.x - 0.001, p.x + 0.001].flatMap((x) => [p.y - 0.001, p.y + 0.001].map((y) => ({ x, y })));
        if (near.some((q) => pointInPolygons([a], q) !== inA || pointInPolygons([b], q) !== inB)) return;
        expect(pointInPolygons(unionOf([a], [b]), p)).toBe(inA || inB);
        expect(pointInPolygons(intersectionOf([a], [b]), p)).toBe(inA && inB);
        expect(pointInPolygons(differenceOf([a], [b]), p)).toBe(inA && !inB);
      }),
    );
  });

  it("handle shared edges, nothing, and many at once", () => {
    expect(areaOfPolygons(unionOf([square(0, 0, 5)], [square(5, 0, 5)], [square(0, 5, 5)]))).toBe(75);
    expect(unionOf([square(0, 0, 5)], [square(5, 0, 5)])).toHaveLength(1);
    expect(intersectionOf([square(0, 0, 5)], [square(5, 0, 5)])).toEqual([]);
    expect(differenceOf([square(0, 0, 5)], [square(0, 0, 5)])).toEqual([]);
    expect(unionOf()).toEqual([]);
    expect(areaOfPolygons(differenceOf([square(0, 0, 9)], [square(3, 3, 3)]))).toBe(72);
  });
});

describe("connected shapes", () => {
  const nest = [
    square(0, 0, 30),
    hole(square(5, 5, 20)),
    square(10, 10, 10),
    hole(square(12, 12, 3)),
    square(50, 0, 4),
  ];

  it("are outer rings, each with its own holes, islands apart", () => {
    for (const shapes of [componentsOf(nest), groupRings(nest)]) {
      expect(shapes.map((s) => areaOfPolygons(s)).sort((a, b) => a - b)).toEqual([16, 91, 500]);
      for (const shape of shapes) {
        expect(areaOfRing(shape[0]!)).toBeGreaterThan(0);
        for (const h of shape.slice(1)) {
          expect(areaOfRing(h)).toBeLessThan(0);
          expect(pointInPolygons([shape[0]!], h[0]!)).toBe(true);
        }
      }
    }
  });

  it("of a union of many come back whole", () => {
    fc.assert(
      fc.property(fc.array(starRings, { minLength: 1, maxLength: 8 }), (rings) => {
        const united = unionOf(...rings.map((r) => [r]));
        const shapes = componentsOf(united);
        const sum = shapes.reduce((s, c) => s + areaOfPolygons(c), 0);
        expect(Math.abs(sum - areaOfPolygons(united))).toBeLessThan(0.01);
        for (const c of shapes) expect(areaOfPolygons(c)).toBeGreaterThan(0);
      }),
      { numRuns: 60 },
    );
  });
});

describe("cleaning", () => {
  it("merges overlaps and drops points no one would miss", () => {
    const doubled = [square(0, 0, 10), square(4, 4, 10)];
    const cleaned = cleanPolygons(doubled, 0.001);
    expect(cleaned).toHaveLength(1);
    expect(areaOfPolygons(cleaned)).toBe(164);
    const dense: Ring = square(0, 0, 10).flatMap((p, i, all) => {
      const q = all[(i + 1) % 4]!;
      return Array.from({ length: 50 }, (_, k) => ({
        x: p.x + ((q.x - p.x) * k) / 50,
        y: p.y + ((q.y - p.y) * k) / 50,
      }));
    });
    expect(cleanPolygons([dense], 0.001)[0]).toHaveLength(4);
  });
});
