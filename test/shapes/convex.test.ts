import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { convexOf, grownConvex, shrunkConvex } from "../../src/shapes/convex.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { growShape, toGrid } from "../../src/shapes/kernel.ts";
import { oval, roundedRectangle, slot } from "../../src/shapes/outlines.ts";
import { distance, type Point } from "../../src/shapes/point.ts";
import { areaOfRing, type Ring } from "../../src/shapes/polygons.ts";
import { convexRings, L_SHAPE, mm, star } from "./generators.ts";

const around = (ring: Ring): number => ring.reduce((sum, p, i) => sum + distance(p, ring[(i + 1) % ring.length]!), 0);

/** Signed distance of a point from the nearest edge's line: the least over all edges, positive inside. */
const inside = (ring: Ring, p: Point): number =>
  ring.reduce((least, a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    return Math.min(least, ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / distance(a, b));
  }, Number.POSITIVE_INFINITY);

describe("a convex ring", () => {
  it("is told from one with a dent, a second winding, no area", () => {
    const square = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
      { x: 0, y: 10 },
    ];
    expect(convexOf(square, 0)).toEqual(square);
    expect(convexOf([...square, ...square], 0.1)).toBeUndefined();
    expect(convexOf([...square].reverse(), 0.1)).toBeUndefined();
    expect(convexOf(L_SHAPE, 0.1)).toBeUndefined();
    expect(convexOf(star(100), 0.1)).toBeUndefined();
    expect(convexOf([square[0]!, square[1]!, { x: 5, y: 0 }], 0.1)).toBeUndefined();
    const dented = [square[0]!, { x: 5, y: 0.01 }, ...square.slice(1)];
    expect(convexOf(dented, 0.02)).toEqual(square);
    expect(convexOf(dented, 0.005)).toBeUndefined();
  });

  it("a dent that many small steps make is as deep as all of them", () => {
    // A shallow bow inwards: each point lies within 2 µm of its neighbours' chord, the middle 0.5 mm below the whole.
    const bow = Array.from({ length: 41 }, (_, i) => ({ x: i / 4, y: 0.5 * (1 - ((i - 20) / 20) ** 2) }));
    expect(convexOf([...bow, { x: 10, y: 10 }, { x: 0, y: 10 }], 0.002)).toBeUndefined();
  });

  it("bow-ties and figures that cross themselves are never taken for convex", () => {
    fc.assert(
      fc.property(fc.array(fc.record({ x: mm(-20, 20), y: mm(-20, 20) }), { minLength: 3, maxLength: 9 }), (ring) => {
        const convex = convexOf(ring, 0.0001);
        if (convex === undefined) return;
        for (const p of ring) expect(inside(convex, p)).toBeGreaterThanOrEqual(-0.0002);
        expect(Math.abs(areaOfRing(ring) - areaOfRing(convex))).toBeLessThanOrEqual(0.0002 * around(convex));
      }),
    );
  });
});

describe("a shrunk convex ring", () => {
  it("holds exactly the points that lie that far inside", () => {
    fc.assert(
      fc.property(convexRings, mm(0.001, 12), (ring, by) => {
        const convex = convexOf(ring, 0.0002);
        fc.pre(convex !== undefined);
        const made = shrunkConvex(convex, by);
        for (const p of made ?? []) expect(Math.abs(inside(convex, p) - by)).toBeLessThan(1e-6);
        const kernel = growShape(toGrid([ring]), -by, 0.0003).flat();
        const expected = kernel.reduce(
          (sum, path) => sum + areaOfRing(path.map(({ X, Y }) => ({ x: X / 1e4, y: Y / 1e4 }))),
          0,
        );
        expect(Math.abs(areaOfRing(made ?? []) - expected)).toBeLessThanOrEqual(0.001 * (around(ring) + 1));
      }),
      { numRuns: 400 },
    );
  });

  it.each([
    ["a slot 16 wide by 8", slot({ x: 3, y: 1 }, 40, 16, 0), 8],
    ["a slot turned, by half its width", slot({ x: 3, y: 1 }, 40, 16, 33), 8],
    ["a rounded rectangle by half its width", roundedRectangle({ x: 0, y: 0 }, 30, 20, 4, 12), 10],
    ["an oval by more than half", oval({ x: 0, y: 0 }, 30, 20, 0), 10.5],
  ])("nothing is left of %s", (_, region, by) => {
    const [ring] = flattenRegion(region, 0.001);
    const made = shrunkConvex(convexOf(ring!, 0.0002)!, by);
    expect(made === undefined ? 0 : areaOfRing(made)).toBeLessThan(0.0005 * around(ring!));
  });

  it("a rounded rectangle shrunk beyond its corners is a sharp one", () => {
    const [ring] = flattenRegion(roundedRectangle({ x: 0, y: 0 }, 30, 20, 4, 0), 0.0005);
    expect(areaOfRing(shrunkConvex(convexOf(ring!, 0)!, 6)!)).toBeCloseTo(18 * 8, 6);
  });
});

describe("a grown convex ring", () => {
  it("has points on the true outline, chords within the error, area A + P·r + πr²", () => {
    fc.assert(
      fc.property(convexRings, mm(0.01, 10), (ring, by) => {
        const convex = convexOf(ring, 0.0002);
        fc.pre(convex !== undefined);
        const made = grownConvex(convex, by, 0.001);
        const expected = areaOfRing(convex) + around(convex) * by + Math.PI * by * by;
        const lost = expected - areaOfRing(made);
        expect(lost).toBeGreaterThanOrEqual(-1e-9 * expected);
        expect(lost).toBeLessThanOrEqual(2 * Math.PI * by * 0.001);
      }),
    );
  });
});
