import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { offsetPolygons, offsetRegion, sweepPolyline, sweepSegment } from "../../src/shapes/offset.ts";
import { circle, rectangle, slotBetween } from "../../src/shapes/outlines.ts";
import { mapPoint, turnBy } from "../../src/shapes/plan-map.ts";
import { distance, type Point } from "../../src/shapes/point.ts";
import { areaOfPolygons, areaOfRing, type Polygons, pointInPolygons, type Ring } from "../../src/shapes/polygons.ts";
import { areaOf } from "../../src/shapes/region.ts";
import { arc, line } from "../../src/shapes/segment.ts";
import { indexSegments, nearestDistance } from "../../src/shapes/segment-index.ts";
import { convexRings, L_SHAPE, mm, star, starRings, threeIslandPocket } from "./generators.ts";
import { refereeOffset, refereeSweep } from "./referee.ts";

const GRID = 0.0004;
const o = { x: 0, y: 0 };

const perimeter = (ring: Ring): number =>
  ring.reduce((sum, p, i) => sum + distance(p, ring[(i + 1) % ring.length]!), 0);
const edges = (polygons: Polygons) => polygons.flatMap((r) => r.map((p, i) => line(p, r[(i + 1) % r.length]!)));

/** Least and greatest distance of a boundary's points and chord middles from what it was made of, less |delta|. */
function strays(made: Polygons, from: Polygons, delta: number): readonly [number, number] {
  const index = indexSegments(edges(from));
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { from: a, to: b } of edges(made)) {
    for (const p of [a, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }]) {
      const d = nearestDistance(index, p) - Math.abs(delta);
      least = Math.min(least, d);
      most = Math.max(most, d);
    }
  }
  return [least, most];
}

describe("offsets against closed forms", () => {
  it.each<[string, Ring, number, number, number]>([
    ["L-shape inwards 1.5", L_SHAPE, -1.5, 189.482854, 0.001],
    ["star of 1,000 inwards 1.5", star(1000), -1.5, 7251.615646, 0.01],
    ["star of 100 inwards 1.5", star(100), -1.5, 7217.659686, 0.01],
    ["star of 1,000 inwards 8, lobes lost", star(1000), -8, 3803.9834, 0.05],
  ])("%s", (_, ring, delta, area, within) => {
    const made = offsetPolygons([ring], delta, 0.0005);
    expect(Math.abs(areaOfPolygons(made) - area)).toBeLessThan(within);
  });

  it("L-shape outwards: A + L·d + d²/2·(turn of convex corners) − d²·tan of half the reflex turn", () => {
    const d = 2;
    const expected = 300 + 80 * d + (d * d * 5 * Math.PI) / 4 - d * d * Math.tan(Math.PI / 4);
    expect(areaOfPolygons(offsetPolygons([L_SHAPE], d, 0.0005))).toBeCloseTo(expected, 2);
  });

  it("a convex outline grown by r has area A + P·r + πr²", () => {
    fc.assert(
      fc.property(convexRings, mm(0.5, 10), (ring, r) => {
        const made = areaOfPolygons(offsetPolygons([ring], r, 0.001));
        const length = perimeter(ring);
        const expected = areaOfRing(ring) + length * r + Math.PI * r * r;
        expect(Math.abs(made - expected)).toBeLessThanOrEqual((length + 2 * Math.PI * r) * (0.001 + GRID));
      }),
    );
  });

  it("a groove with round ends", () => {
    const made = sweepPolyline([o, { x: 50, y: 0 }], 3, 0.0002);
    expect(areaOfPolygons(made)).toBeCloseTo(328.274334, 2);
    expect(areaOfPolygons(sweepPolyline([{ x: 1, y: 1 }], 3, 0.0002))).toBeCloseTo(9 * Math.PI, 2);
    expect(sweepPolyline([], 3, 0.001)).toEqual([]);
  });

  it("a disc sweeping an arc covers a bent slot", () => {
    const bend = arc({ x: 20, y: 0 }, { x: 0, y: 20 }, o, true);
    const expected = (Math.PI / 4) * (23 * 23 - 17 * 17) + 9 * Math.PI;
    expect(areaOfPolygons(sweepSegment(bend, 3, 0.0005))).toBeCloseTo(expected, 1);
    const whole = arc({ x: 20, y: 0 }, { x: 20, y: 0 }, o, true);
    const around = sweepSegment(whole, 3, 0.0005);
    expect(areaOfPolygons(around)).toBeCloseTo(Math.PI * (23 * 23 - 17 * 17), 0);
    expect(pointInPolygons(around, o)).toBe(false);
    expect(areaOfPolygons(sweepSegment(line(o, o), 3, 0.0005))).toBeCloseTo(9 * Math.PI, 2);
  });

  it("a region's arcs grow and shrink as arcs", () => {
    expect(areaOfPolygons(offsetRegion(circle(o, 10), -3, 0.001))).toBeCloseTo(49 * Math.PI, 1);
    expect(areaOfPolygons(offsetRegion(circle(o, 10), 3, 0.001))).toBeCloseTo(169 * Math.PI, 1);
    const groove = slotBetween(o, { x: 40, y: 30 }, 8);
    expect(areaOfPolygons(offsetRegion(groove, -1, 0.0005))).toBeCloseTo(
      areaOf(slotBetween(o, { x: 40, y: 30 }, 6)),
      1,
    );
    expect(offsetRegion(circle(o, 10), -10.5, 0.001)).toEqual([]);
    expect(areaOfPolygons(offsetRegion(rectangle(o, { x: 4, y: 3 }), 0, 0.001))).toBe(12);
  });
});

describe("offsets against an independent library, within 0.01 %", () => {
  it.each<[string, Polygons, number]>([
    ["star", [star(1000)], -1.5],
    ["star, collapsing", [star(1000)], -8],
    ["three islands inwards", threeIslandPocket(), -3],
    ["three islands outwards", threeIslandPocket(), 3],
    ["L outwards", [L_SHAPE], 4],
    ["L inwards", [L_SHAPE], -4.9],
  ])("%s", (_, polygons, delta) => {
    const theirs = refereeOffset(polygons, delta, 200).getArea();
    const ours = areaOfPolygons(offsetPolygons(polygons, delta, 0.0005));
    expect(Math.abs(ours - theirs) / theirs).toBeLessThan(1e-4);
  });

  it("random stars, both ways", () => {
    fc.assert(
      fc.property(starRings, mm(-4, 4), (ring, delta) => {
        if (delta === 0) return;
        const theirs = refereeOffset([ring], delta, 60).getArea();
        const ours = areaOfPolygons(offsetPolygons([ring], delta, 0.001));
        // 60 segments to the quarter cost them area of their own; what nearly vanishes is judged by its perimeter.
        expect(Math.abs(ours - theirs)).toBeLessThan(1e-4 * theirs + 0.002 * perimeter(ring));
      }),
      { numRuns: 60 },
    );
  });

  it("random sweeps", () => {
    const paths = fc.array(fc.record({ x: mm(-40, 40), y: mm(-40, 40) }), { minLength: 2, maxLength: 8 });
    fc.assert(
      fc.property(paths, mm(0.5, 6), (points, radius) => {
        const theirs = refereeSweep(points, radius, 60).getArea();
        const ours = areaOfPolygons(sweepPolyline(points, radius, 0.001));
        expect(Math.abs(ours - theirs) / theirs).toBeLessThan(5e-4);
      }),
      { numRuns: 60 },
    );
  });
});

describe("the stated error", () => {
  it("no point of a result lies nearer or farther than it says", () => {
    fc.assert(
      fc.property(starRings, mm(-5, 5), fc.constantFrom(0.001, 0.01), (ring, delta, tolerance) => {
        if (Math.abs(delta) < 0.1) return;
        const made = offsetPolygons([ring], delta, tolerance);
        const [least, most] = strays(made, [ring], delta);
        expect(least).toBeGreaterThan(-tolerance - GRID);
        if (made.length > 0) expect(most).toBeLessThan(tolerance + GRID);
      }),
      { numRuns: 150 },
    );
  });

  it("holds on a dense outline, where points are dropped first", () => {
    const dense = star(20_000);
    const made = offsetPolygons([dense], -1.5, 0.001);
    expect(made[0]!.length).toBeLessThan(4000);
    const [least, most] = strays(made, [dense], -1.5);
    expect(least).toBeGreaterThan(-0.001 - GRID);
    expect(most).toBeLessThan(0.001 + GRID);
  });

  it("asking for the tolerance more never gouges", () => {
    const made = offsetPolygons([L_SHAPE], -1.5 - 0.001, 0.001);
    expect(strays(made, [L_SHAPE], -1.5)[0]).toBeGreaterThanOrEqual(0);
  });
});

describe("offsets keep symmetry and orientation", () => {
  it("commute with quarter turns", () => {
    fc.assert(
      fc.property(starRings, mm(-3, 3), fc.constantFrom(90, 180, 270), (ring, delta, deg) => {
        const turned = (r: Ring): Ring => r.map((p) => mapPoint(turnBy(deg), p));
        const a = areaOfPolygons(offsetPolygons([ring], delta, 0.001));
        const b = areaOfPolygons(offsetPolygons([turned(ring)], delta, 0.001));
        expect(Math.abs(a - b)).toBeLessThan(0.003 * perimeter(ring));
        const c = offsetPolygons([ring], delta, 0.001).map(turned);
        for (const p of c.flat()) {
          if (delta === 0) continue;
          const index = indexSegments(edges([turned(ring)]));
          expect(Math.abs(nearestDistance(index, p) - Math.abs(delta))).toBeLessThan(0.0015);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("outer rings run counter-clockwise and holes clockwise; islands meet the wall where they must", () => {
    const inner = offsetPolygons(threeIslandPocket(), -3, 0.001);
    const signs = inner.map((r) => Math.sign(areaOfRing(r)));
    expect(signs.filter((s) => s > 0)).toHaveLength(1);
    expect(signs.filter((s) => s < 0)).toHaveLength(3);
    const square = (x: number): Ring => [
      { x, y: 0 },
      { x: x + 10, y: 0 },
      { x: x + 10, y: 10 },
      { x, y: 10 },
    ];
    const joined = offsetPolygons([square(0), square(13)], 2, 0.001);
    expect(joined).toHaveLength(1);
    expect(offsetPolygons([square(0), square(15)], 2, 0.001)).toHaveLength(2);
  });
});

describe("guards", () => {
  it("refuse what the kernel would answer with silence", () => {
    const bad = (p: Point): Ring => [o, { x: 1, y: 0 }, p];
    expect(() => offsetPolygons([bad({ x: Number.NaN, y: 0 })], 1, 0.001)).toThrow(RangeError);
    expect(() => offsetPolygons([bad({ x: 1e17, y: 0 })], 1, 0.001)).toThrow(RangeError);
    expect(() => offsetPolygons([L_SHAPE], Number.POSITIVE_INFINITY, 0.001)).toThrow(RangeError);
    expect(() => offsetPolygons([L_SHAPE], 1, 0)).toThrow(RangeError);
    expect(() => sweepPolyline([o], 0, 0.001)).toThrow(RangeError);
  });

  it("take nothing for nothing", () => {
    expect(offsetPolygons([], 1, 0.001)).toEqual([]);
    expect(offsetPolygons([[o, { x: 1, y: 0 }]], 1, 0.001)).toEqual([]);
    expect(offsetPolygons([L_SHAPE], -7, 0.001)).toEqual([]);
  });
});
