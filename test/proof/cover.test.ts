import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sweepsOf, worstUncovered } from "../../src/proof/cover.ts";
import { nearestOn } from "../../src/shapes/nearest.ts";
import { pointInPolygons } from "../../src/shapes/polygons.ts";
import { arc, line, type Segment } from "../../src/shapes/segment.ts";

const mm = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);
const point = fc.record({ x: mm(0, 20), y: mm(0, 15) });
const curve: fc.Arbitrary<Segment> = fc.oneof(
  fc.tuple(point, point).map(([a, b]) => line(a, b)),
  fc.tuple(point, mm(1, 8), mm(0, 6), mm(1, 6), fc.boolean()).map(([c, r, from, turn, ccw]) => {
    const at = (rad: number) => ({ x: c.x + r * Math.cos(rad), y: c.y + r * Math.sin(rad) });
    return arc(at(from), at(ccw ? from + turn : from - turn), c, ccw);
  }),
);

/** A square with a square hole. */
const area = [
  [
    { x: 0, y: 0 },
    { x: 20, y: 0 },
    { x: 20, y: 15 },
    { x: 0, y: 15 },
  ],
  [
    { x: 7, y: 5 },
    { x: 7, y: 10 },
    { x: 13, y: 10 },
    { x: 13, y: 5 },
  ],
];

describe("the farthest point that no sweep covers", () => {
  it("is where a dense look finds it, within the stated bound", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(curve, mm(1, 5)), { minLength: 1, maxLength: 8 }), (list) => {
        const found = worstUncovered(
          area,
          list.flatMap(([c, r]) => sweepsOf(c, r)),
          0.003,
        );
        let seen = 0;
        const step = 0.25;
        for (let x = 0; x <= 20; x += step) {
          for (let y = 0; y <= 15; y += step) {
            const p = { x: Math.min(Math.max(x, 1e-9), 20 - 1e-9), y: Math.min(Math.max(y, 1e-9), 15 - 1e-9) };
            if (!pointInPolygons(area, p)) continue;
            seen = Math.max(seen, Math.min(...list.map(([c, r]) => nearestOn(c, p).distance - r)));
          }
        }
        expect(found.value + found.bound).toBeGreaterThanOrEqual(seen - 1e-6);
        expect(found.value - found.bound).toBeLessThanOrEqual(seen + (step * Math.SQRT2) / 2 + 1e-6);
        expect(found.bound).toBeLessThanOrEqual(Math.max(0.003, 0.01 * found.value + 0.001));
      }),
      { numRuns: 60 },
    );
  });

  it("knows closed forms: the corner that a disc cannot reach, and a strip between two passes", () => {
    const square = [area[0]!];
    const rings = [3, 6].flatMap((d) => {
      const p = [
        { x: d, y: d },
        { x: 20 - d, y: d },
        { x: 20 - d, y: 15 - d },
        { x: d, y: 15 - d },
      ];
      return p.flatMap((a, i) => sweepsOf(line(a, p[(i + 1) % 4]!), 3));
    });
    // R(√2 − 1) into a square corner.
    const corner = worstUncovered(square, rings, 0.001);
    expect(corner.value).toBeCloseTo(3 * (Math.SQRT2 - 1), 2);
    expect(corner.bound).toBeLessThan(0.01);
    const strip = [
      [
        { x: 0, y: 0 },
        { x: 50, y: 0 },
        { x: 50, y: 10 },
        { x: 0, y: 10 },
      ],
    ];
    const passes = [2, 8].flatMap((y) => sweepsOf(line({ x: -5, y }, { x: 55, y }), 2.5));
    expect(worstUncovered(strip, passes, 0.001).value).toBeCloseTo(0.5, 2);
  });

  it("nothing cut is nothing covered", () => {
    expect(worstUncovered(area, [], 0.003).value).toBeGreaterThan(1e5);
  });
});
