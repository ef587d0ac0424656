import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { farthestFrom, strayingOf } from "../../../src/proof/beam/along.ts";
import { distanceToPoint } from "../../../src/shapes/nearest.ts";
import { arc, line, pointAt, type Segment } from "../../../src/shapes/segment.ts";
import { indexSegments } from "../../../src/shapes/segment-index.ts";

const micro = fc.integer({ min: -20_000, max: 20_000 }).map((n) => n / 1000);
const point = fc.record({ x: micro, y: micro });
const turned = fc.tuple(
  point,
  fc.integer({ min: 500, max: 9000 }),
  micro,
  fc.integer({ min: 50, max: 6000 }),
  fc.boolean(),
);
const segment: fc.Arbitrary<Segment> = fc.oneof(
  fc.tuple(point, point).map(([a, b]) => line(a, b)),
  turned.map(([centre, r, start, sweep, ccw]) => {
    const at = (angle: number) => ({
      x: centre.x + (r / 1000) * Math.cos(angle),
      y: centre.y + (r / 1000) * Math.sin(angle),
    });
    return arc(at(start), at(start + ((ccw ? 1 : -1) * sweep) / 1000), centre, ccw);
  }),
);

function sampled(s: Segment, others: readonly Segment[]): number[] {
  return Array.from({ length: 401 }, (_, i) => {
    const p = pointAt(s, i / 400);
    return Math.min(...others.map((o) => distanceToPoint(o, p)));
  });
}

describe("straying", () => {
  it("the closed forms are never below the farthest of 400 places", () => {
    fc.assert(
      fc.property(segment, segment, (a, b) => {
        expect(farthestFrom(a, b)).toBeGreaterThanOrEqual(Math.max(...sampled(a, [b])) - 1e-9);
      }),
      { numRuns: 150 },
    );
  });

  it("tells what is beyond, as 400 places do, and misses nothing", () => {
    fc.assert(
      fc.property(
        segment,
        fc.array(segment, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 10, max: 4000 }),
        (s, others, n) => {
          const allowed = n / 1000;
          const found = strayingOf(s, indexSegments(others), allowed);
          const distances = sampled(s, others);
          const far = distances.filter((d) => d > allowed + 0.002).length;
          if (far > 0) expect(found.beyond).toBeGreaterThan(0);
          if (found.beyond === 0) expect(Math.max(...distances)).toBeLessThanOrEqual(allowed + 0.002);
          if (found.beyond > 0) expect(found.worst).toBeGreaterThan(allowed);
        },
      ),
      { numRuns: 40 },
    );
  });

  it("a chord of an arc strays by its sagitta, and lies within it", () => {
    const whole = arc({ x: 10, y: 0 }, { x: 0, y: 10 }, { x: 0, y: 0 }, true);
    const chord = line({ x: 10, y: 0 }, pointAt(whole, 0.1));
    const sagitta = 10 * (1 - Math.cos(Math.PI / 40));
    expect(farthestFrom(chord, whole)).toBeCloseTo(sagitta, 9);
    expect(strayingOf(chord, indexSegments([whole]), sagitta + 1e-6).beyond).toBe(0);
    expect(strayingOf(chord, indexSegments([whole]), sagitta * 0.9).beyond).toBeGreaterThan(0);
  });

  it("a long line on a long line costs one look", () => {
    let looks = 0;
    const s = line({ x: 0, y: 0.004 }, { x: 900, y: 0 });
    strayingOf(s, indexSegments([line({ x: 0, y: 0 }, { x: 900, y: 0 })]), 0.01, () => {
      looks++;
      return false;
    });
    expect(looks).toBe(0);
  });

  it("what is excused is not told", () => {
    const s = line({ x: 0, y: 0 }, { x: 10, y: 0 });
    const index = indexSegments([line({ x: 0, y: 0 }, { x: 6, y: 0 })]);
    expect(strayingOf(s, index, 0.01).beyond).toBeCloseTo(3.99, 2);
    expect(strayingOf(s, index, 0.01, (p, half) => p.x - half > 5.9).beyond).toBe(0);
  });
});
