import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boxGap, distanceBetween, distanceToPoint } from "../../src/shapes/nearest.ts";
import { boundsOf, line } from "../../src/shapes/segment.ts";
import { indexSegments, nearestDistance, nearestDistanceTo, segmentsNear } from "../../src/shapes/segment-index.ts";
import { mm, points, segments } from "./generators.ts";

describe("the index", () => {
  it("answers exactly what asking all would", () => {
    fc.assert(
      fc.property(fc.array(segments, { maxLength: 120 }), points, segments, mm(0, 30), (all, p, s, cutoff) => {
        const index = indexSegments(all);
        expect(index.size).toBe(all.length);
        const toPoint = Math.min(Number.POSITIVE_INFINITY, ...all.map((q) => distanceToPoint(q, p)));
        expect(nearestDistance(index, p)).toBe(toPoint);
        const between = Math.min(Number.POSITIVE_INFINITY, ...all.map((q) => distanceBetween(q, s)));
        expect(nearestDistanceTo(index, s, Number.POSITIVE_INFINITY)).toBe(between);
        expect(nearestDistanceTo(index, s, cutoff)).toBe(between < cutoff ? between : Number.POSITIVE_INFINITY);
        const box = boundsOf(s);
        const near = all.filter((q) => boxGap(boundsOf(q), box) <= cutoff);
        expect(new Set(segmentsNear(index, box, cutoff))).toEqual(new Set(near));
      }),
      { numRuns: 200 },
    );
  });

  it("looks at few of ten thousand", () => {
    const many = Array.from({ length: 10_000 }, (_, i) => {
      const x = (i % 100) * 10;
      const y = Math.floor(i / 100) * 10;
      return line({ x, y }, { x: x + 4, y: y + 4 });
    });
    let looked = 0;
    const counted = many.map((s) => ({
      kind: "line" as const,
      get from() {
        looked++;
        return s.from;
      },
      to: s.to,
    }));
    const index = indexSegments(counted);
    looked = 0;
    for (let k = 0; k < 100; k++) nearestDistance(index, { x: (k * 97) % 1000, y: (k * 61) % 1000 });
    // A search of all would read 10,000 segments, several times each, a hundred times over.
    expect(looked).toBeLessThan(100 * 400);
  });
});
