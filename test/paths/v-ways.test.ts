import { describe, expect, it } from "vitest";
import { type Tip, waysAlongAxis } from "../../src/paths/v-ways.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { circle } from "../../src/shapes/outlines.ts";
import type { Polygons } from "../../src/shapes/polygons.ts";

const RECTANGLE: Polygons = [
  [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
    { x: 10, y: 4 },
    { x: 0, y: 4 },
  ],
];

const SIXTY = { tan: Math.tan(Math.PI / 6), tipFlat: 0.1 };

const lengthOf = (ways: readonly (readonly Tip[])[]): number =>
  ways.reduce(
    (sum, way) => sum + way.slice(1).reduce((l, p, i) => l + Math.hypot(p.x - way[i]!.x, p.y - way[i]!.y), 0),
    0,
  );

describe("the ways of a V between outlines", () => {
  it("in a rectangle 10 × 4: depth (2 − 0.05) / tan 30° along the middle, out to where the flat just fits in the corners", () => {
    const ways = waysAlongAxis({ edges: RECTANGLE, bit: SIXTY, cap: Number.POSITIVE_INFINITY });
    const tips = ways.flat();
    expect(Math.max(...tips.map((t) => t.depth))).toBeCloseTo(1.95 / SIXTY.tan, 3);
    expect(Math.min(...tips.map((t) => t.depth))).toBeCloseTo(0, 9);
    // Middle line of 6 mm, and four bisectors from 0.05 to 2 mm beside the walls.
    expect(lengthOf(ways)).toBeCloseTo(6 + 4 * 1.95 * Math.SQRT2, 1);
    for (const { x, y, depth } of tips) {
      const r = Math.min(x, 10 - x, y, 4 - y);
      expect(depth * SIXTY.tan + 0.05).toBeLessThanOrEqual(r + 0.0036);
    }
    // Straight stretches need few places.
    expect(tips.length).toBeLessThan(60);
  });

  it("with a cap go no further than to where the walls have come down to it", () => {
    const ways = waysAlongAxis({ edges: RECTANGLE, bit: SIXTY, cap: 1 });
    const most = 0.05 + SIXTY.tan;
    expect(lengthOf(ways)).toBeCloseTo(4 * (most - 0.05) * Math.SQRT2, 1);
    expect(Math.max(...ways.flat().map((t) => t.depth))).toBeCloseTo(1, 6);
  });

  it("in a ring go round it once, at one depth", () => {
    const outer = flattenRegion(circle({ x: 0, y: 0 }, 6), 0.001);
    const inner = flattenRegion(circle({ x: 0, y: 0 }, 5), 0.001).map((r) => [...r].reverse());
    const ways = waysAlongAxis({ edges: [...outer, ...inner], bit: SIXTY, cap: Number.POSITIVE_INFINITY });
    expect(lengthOf(ways)).toBeGreaterThan(2 * Math.PI * 5.49);
    expect(lengthOf(ways)).toBeLessThan(2 * Math.PI * 5.51 + 0.2);
    for (const t of ways.flat()) expect(Math.abs(t.depth - 0.45 / SIXTY.tan)).toBeLessThan(0.01);
  });
});
