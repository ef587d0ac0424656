import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { largestInscribed } from "../../src/shapes/inscribed.ts";
import { distanceToPoint } from "../../src/shapes/nearest.ts";
import { offsetPolygons } from "../../src/shapes/offset.ts";
import { circle, rectangle, slot } from "../../src/shapes/outlines.ts";
import { pointInPolygons } from "../../src/shapes/polygons.ts";
import { line } from "../../src/shapes/segment.ts";
import { L_SHAPE, starRings, threeIslandPocket } from "./generators.ts";

const o = { x: 0, y: 0 };

describe("largest inscribed circle", () => {
  it("by closed forms", () => {
    // L-shape: centre on the diagonal, as far from the reflex corner as from both outer edges.
    expect(largestInscribed([L_SHAPE], 1e-4).radius).toBeCloseTo((10 * Math.SQRT2) / (1 + Math.SQRT2), 3);
    expect(largestInscribed(flattenRegion(rectangle(o, { x: 10, y: 4 }), 1), 1e-4).radius).toBeCloseTo(2, 3);
    expect(largestInscribed(flattenRegion(circle({ x: 5, y: 6 }, 7), 1e-4), 1e-3).radius).toBeCloseTo(7, 2);
    expect(largestInscribed(flattenRegion(slot(o, 60, 8, 31), 1e-4), 1e-3).radius).toBeCloseTo(4, 2);
    const narrow = largestInscribed(flattenRegion(rectangle(o, { x: 500, y: 0.5 }), 1), 1e-3);
    expect(narrow.radius).toBeCloseTo(0.25, 2);
  });

  it("lies inside, touches, and growing inwards by its radius leaves nothing", () => {
    fc.assert(
      fc.property(starRings, (ring) => {
        const precision = 0.01;
        const found = largestInscribed([ring], precision);
        expect(pointInPolygons([ring], found.centre)).toBe(true);
        const nearest = Math.min(
          ...ring.map((p, i) => distanceToPoint(line(p, ring[(i + 1) % ring.length]!), found.centre)),
        );
        expect(found.radius).toBeCloseTo(nearest, 9);
        // An independent bound: the offset kernel finds nothing deeper.
        expect(offsetPolygons([ring], -(found.radius + precision + 0.002), 0.001)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it("goes round islands", () => {
    const pocket = threeIslandPocket();
    const found = largestInscribed(pocket, 0.001);
    expect(pointInPolygons(pocket, found.centre)).toBe(true);
    expect(offsetPolygons(pocket, -(found.radius + 0.003), 0.001)).toEqual([]);
    expect(offsetPolygons(pocket, -(found.radius - 0.01), 0.001).length).toBeGreaterThan(0);
  });

  it("refuses nothing at all, and no precision", () => {
    expect(() => largestInscribed([], 0.01)).toThrow(RangeError);
    expect(() => largestInscribed([L_SHAPE], 0)).toThrow(RangeError);
    expect(largestInscribed([[o, o, o]], 0.01).radius).toBe(0);
  });
});
