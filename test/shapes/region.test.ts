import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { circle, oval, polygon, rectangle, roundedRectangle, slot, slotBetween } from "../../src/shapes/outlines.ts";
import { areaOfPolygons, pointInPolygons } from "../../src/shapes/polygons.ts";
import {
  areaOf,
  areaOfLoop,
  boundsOfRegion,
  containsPoint,
  distanceToBoundary,
  EMPTY_REGION,
  perimeterOf,
  type Region,
  regionSegments,
} from "../../src/shapes/region.ts";
import { arc, radiusOf, reversed, tangentAt } from "../../src/shapes/segment.ts";
import { mm, points } from "./generators.ts";

const o = { x: 0, y: 0 };
const hole = (r: Region): Region => ({ loops: r.loops.map((l) => [...l].reverse().map(reversed)) });
const ring: Region = { loops: [...circle(o, 10).loops, ...hole(circle({ x: 2, y: 0 }, 4)).loops] };

describe("areas and perimeters by closed forms", () => {
  it.each<[string, Region, number, number]>([
    ["rectangle", rectangle({ x: 3, y: -2 }, { x: 13, y: 4 }), 60, 32],
    ["circle", circle({ x: 7, y: -3 }, 5), 25 * Math.PI, 10 * Math.PI],
    ["slot", slot({ x: 1, y: 2 }, 30, 8, 33), 22 * 8 + 16 * Math.PI, 44 + 8 * Math.PI],
    ["rounded rectangle", roundedRectangle(o, 20, 10, 3, 71), 200 - 36 + 9 * Math.PI, 36 + 6 * Math.PI],
    ["square with round corners is a circle", roundedRectangle(o, 8, 8, 4, 0), 16 * Math.PI, 8 * Math.PI],
    ["groove 50 long, r 3", slotBetween(o, { x: 30, y: 40 }, 6), 328.274334, 100 + 6 * Math.PI],
    ["ring", ring, (100 - 16) * Math.PI, 28 * Math.PI],
    ["nothing", EMPTY_REGION, 0, 0],
  ])("%s", (_, region, area, perimeter) => {
    expect(areaOf(region)).toBeCloseTo(area, 6);
    expect(perimeterOf(region)).toBeCloseTo(perimeter, 6);
  });

  it("a whole circle as one arc has its area too", () => {
    expect(areaOfLoop([arc({ x: 5, y: 0 }, { x: 5, y: 0 }, o, false)])).toBeCloseTo(-25 * Math.PI, 9);
  });

  it("area does not depend on where the shape lies", () => {
    const far = roundedRectangle({ x: 1e6, y: -1e6 }, 20, 10, 3, 0);
    expect(areaOf(far)).toBeCloseTo(200 - 36 + 9 * Math.PI, 5);
  });
});

const shapes = fc.oneof(
  fc
    .record({ centre: points, l: mm(1, 40), w: mm(1, 40), share: mm(0, 1), deg: fc.integer({ min: -360, max: 360 }) })
    .map(({ centre, l, w, share, deg }) => roundedRectangle(centre, l, w, (share * Math.min(l, w)) / 2, deg)),
  fc.record({ centre: points, r: mm(0.5, 30) }).map(({ centre, r }) => circle(centre, r)),
  fc.record({ a: points, b: points, w: mm(0.5, 20) }).map(({ a, b, w }) => slotBetween(a, b, w)),
);

describe("outlines", () => {
  it("close bit for bit, run counter-clockwise and turn smoothly where they are round", () => {
    fc.assert(
      fc.property(shapes, (region) => {
        expect(areaOf(region)).toBeGreaterThan(0);
        for (const loop of region.loops) {
          for (const [i, s] of loop.entries()) {
            const next = loop[(i + 1) % loop.length]!;
            expect(next.from).toEqual(s.to);
            if (s.kind === "line" && next.kind === "line") continue;
            const u = tangentAt(s, 1);
            const v = tangentAt(next, 0);
            expect(u.x * v.x + u.y * v.y).toBeGreaterThan(1 - 1e-9);
          }
          for (const s of loop) {
            if (s.kind === "arc")
              expect(Math.hypot(s.to.x - s.centre.x, s.to.y - s.centre.y)).toBeCloseTo(radiusOf(s), 9);
          }
        }
      }),
    );
  });

  it("an oval keeps within 1 µm of the ellipse, everywhere", () => {
    for (const [length, width] of [
      [40, 20],
      [20, 40],
      [100, 5],
      [12, 11.9],
    ] as const) {
      const region = oval(o, length, width, 0);
      const [a, b] = [length / 2, width / 2];
      const segments = regionSegments(region);
      let worst = 0;
      for (let i = 0; i < 4000; i++) {
        const t = (2 * Math.PI * i) / 4000;
        worst = Math.max(worst, distanceToBoundary(region, { x: a * Math.cos(t), y: b * Math.sin(t) }));
      }
      expect(worst).toBeLessThan(0.001);
      expect(areaOf(region)).toBeCloseTo(Math.PI * a * b, 0);
      expect(Math.abs(areaOf(region) - Math.PI * a * b)).toBeLessThan(0.001 * perimeterOf(region));
      for (const [i, s] of segments.entries()) {
        const u = tangentAt(s, 1);
        const v = tangentAt(segments[(i + 1) % segments.length]!, 0);
        expect(u.x * v.x + u.y * v.y).toBeGreaterThan(1 - 1e-7);
      }
    }
  });

  it("refuse sizes that make no shape", () => {
    expect(() => circle(o, 0)).toThrow(RangeError);
    expect(() => circle(o, Number.NaN)).toThrow(RangeError);
    expect(() => rectangle(o, { x: 1, y: 0 })).toThrow(RangeError);
    expect(() => roundedRectangle(o, 10, 4, 2.1, 0)).toThrow(RangeError);
    expect(() => slot(o, 4, 10, 0)).toThrow(RangeError);
    expect(() => oval(o, -3, 10, 0)).toThrow(RangeError);
  });
});

describe("inside or outside", () => {
  it("agrees with a fine polygon away from the boundary", () => {
    fc.assert(
      fc.property(shapes, points, (region, p) => {
        if (distanceToBoundary(region, p) < 1e-3) return;
        expect(containsPoint(region, p)).toBe(pointInPolygons(flattenRegion(region, 1e-4), p));
      }),
      { numRuns: 500 },
    );
  });

  it("is safe for rays through corners, along edges, and through the tops of arcs", () => {
    const diamond = polygon([
      { x: 0, y: -5 },
      { x: 5, y: 0 },
      { x: 0, y: 5 },
      { x: -5, y: 0 },
    ]);
    expect(containsPoint(diamond, o)).toBe(true);
    expect(containsPoint(diamond, { x: -6, y: 0 })).toBe(false);
    expect(containsPoint(diamond, { x: -6, y: 5 })).toBe(false);
    const step = polygon([
      { x: 0, y: 0 },
      { x: 9, y: 0 },
      { x: 9, y: 3 },
      { x: 5, y: 3 },
      { x: 5, y: 6 },
      { x: 0, y: 6 },
    ]);
    expect(containsPoint(step, { x: 2, y: 3 })).toBe(true);
    expect(containsPoint(step, { x: -2, y: 3 })).toBe(false);
    expect(containsPoint(step, { x: -2, y: 0 })).toBe(false);
    for (const y of [-10, 0, 10]) expect(containsPoint(ring, { x: -30, y })).toBe(false);
    expect(containsPoint(ring, { x: -9, y: 0 })).toBe(true);
    expect(containsPoint(ring, { x: 2, y: 0 })).toBe(false);
    expect(containsPoint(ring, { x: 2, y: 4.5 })).toBe(true);
    expect(containsPoint(slot(o, 30, 8, 0), { x: -40, y: 4 })).toBe(false);
    expect(containsPoint(slot(o, 30, 8, 0), { x: -40, y: 0 })).toBe(false);
  });

  it("holds on every ray of a lattice through round numbers", () => {
    const region = roundedRectangle(o, 20, 10, 3, 0);
    for (let x = -12; x <= 12; x++) {
      for (let y = -7; y <= 7; y++) {
        if (distanceToBoundary(region, { x, y }) < 1e-9) continue;
        const dx = Math.max(0, Math.abs(x) - 7);
        const dy = Math.max(0, Math.abs(y) - 2);
        expect(containsPoint(region, { x, y })).toBe(Math.hypot(dx, dy) < 3);
      }
    }
  });
});

describe("bounds", () => {
  it("of a region are those of its outer loop; of nothing, nothing", () => {
    expect(boundsOfRegion(ring)).toEqual({ min: { x: -10, y: -10 }, max: { x: 10, y: 10 } });
    expect(boundsOfRegion(EMPTY_REGION)).toBeUndefined();
    expect(areaOfPolygons(flattenRegion(ring, 0.001))).toBeCloseTo(84 * Math.PI, 1);
  });
});
