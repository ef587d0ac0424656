import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Point } from "../../src/shapes/point.ts";
import { areaOfRing, simplifyLine, simplifyRing } from "../../src/shapes/polygons.ts";
import { line } from "../../src/shapes/segment.ts";
import { indexSegments, nearestDistance } from "../../src/shapes/segment-index.ts";
import { mm, star } from "./generators.ts";

const chain = (points: readonly Point[]) => points.slice(1).map((p, i) => line(points[i]!, p));

function farthest(points: readonly Point[], from: readonly Point[]): number {
  const index = indexSegments(chain(from));
  let most = 0;
  for (const { from: a, to: b } of chain(points)) {
    for (let i = 0; i <= 8; i++) {
      const p = { x: a.x + ((b.x - a.x) * i) / 8, y: a.y + ((b.y - a.y) * i) / 8 };
      most = Math.max(most, nearestDistance(index, p));
    }
  }
  return most;
}

describe("simplifying", () => {
  it("keeps within tolerance both ways, keeps the ends, and invents no point", () => {
    const walks = fc.array(fc.tuple(mm(-1, 1), mm(-1, 1)), { minLength: 2, maxLength: 120 }).map((steps) => {
      let [x, y] = [0, 0];
      return steps.map(([dx, dy]) => {
        x += dx;
        y += dy;
        return { x, y };
      });
    });
    fc.assert(
      fc.property(walks, mm(0.001, 2), (points, tolerance) => {
        const kept = simplifyLine(points, tolerance);
        expect(kept[0]).toBe(points[0]);
        expect(kept[kept.length - 1]).toBe(points[points.length - 1]);
        expect(kept.every((p) => points.includes(p))).toBe(true);
        if (kept.length < 2 || points.length < 2) return;
        expect(farthest(points, kept)).toBeLessThanOrEqual(tolerance * (1 + 1e-9) + 1e-9);
        expect(farthest(kept, points)).toBeLessThanOrEqual(tolerance * (1 + 1e-9) + 1e-9);
      }),
      { numRuns: 300 },
    );
  });

  it("thins a dense outline to what its curve needs", () => {
    const kept = simplifyRing(star(100_000), 0.001);
    expect(kept.length).toBeLessThan(2500);
    expect(kept.length).toBeGreaterThan(1000);
    expect(Math.abs(areaOfRing(kept) - areaOfRing(star(100_000)))).toBeLessThan(0.6);
  });

  it("takes one pass on the zigzag that halving is slow on", () => {
    const n = 200_000;
    const zigzag = Array.from({ length: n }, (_, i) => ({ x: i * 0.001, y: (i % 2 ? 1 : -1) * (1 - i / n) }));
    // Twenty thousand million steps by halving would outlast the test's own limit.
    expect(simplifyLine(zigzag, 0.01).length).toBeGreaterThan(n / 2);
  });

  it("leaves small rings and tolerance zero alone", () => {
    const triangle = star(3);
    expect(simplifyRing(triangle, 1000)).toBe(triangle);
    expect(simplifyRing(star(50), 1000)).toHaveLength(50);
    expect(simplifyLine(star(9), 0)).toHaveLength(9);
    expect(() => simplifyLine(star(9), -1)).toThrow(RangeError);
  });
});
