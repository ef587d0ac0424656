import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { solidBoundary, splitAtCrossings } from "../../src/shapes/boundary.ts";
import { circle, rectangle, roundedRectangle, slotBetween } from "../../src/shapes/outlines.ts";
import type { Point } from "../../src/shapes/point.ts";
import { containsPoint, type Region, regionSegments } from "../../src/shapes/region.ts";
import { lengthOf, pointAt, type Segment } from "../../src/shapes/segment.ts";
import { indexSegments, nearestDistance } from "../../src/shapes/segment-index.ts";
import { mm, points } from "./generators.ts";

const o = { x: 0, y: 0 };
const total = (pieces: readonly Segment[]): number => pieces.reduce((sum, s) => sum + lengthOf(s), 0);

/** Wood: in the board, and in none of the cavities. */
function boundaryOf(board: Region, cavities: readonly Region[]): Segment[] {
  const solid = (p: Point): boolean => containsPoint(board, p) && !cavities.some((c) => containsPoint(c, p));
  return solidBoundary([board, ...cavities].flatMap(regionSegments), solid);
}

const board = rectangle({ x: -50, y: -30 }, { x: 50, y: 30 });

describe("the boundary of a solid", () => {
  it("of a board with a hole is both outlines whole", () => {
    const pieces = boundaryOf(board, [circle(o, 10)]);
    expect(total(pieces)).toBeCloseTo(320 + 20 * Math.PI, 9);
  });

  it("two holes that overlap leave the outline of both together", () => {
    const pieces = boundaryOf(board, [circle({ x: -6, y: 0 }, 10), circle({ x: 6, y: 0 }, 10)]);
    const outside = 2 * (2 * Math.PI - 2 * Math.acos(0.6)) * 10;
    expect(total(pieces)).toBeCloseTo(320 + outside, 6);
  });

  it("a groove through the end of the board opens it", () => {
    const pieces = boundaryOf(board, [slotBetween(o, { x: 80, y: 0 }, 12)]);
    expect(total(pieces)).toBeCloseTo(320 - 12 + 100 + 6 * Math.PI, 6);
    for (const s of pieces) expect(Math.max(s.from.x, s.to.x)).toBeLessThanOrEqual(50 + 1e-9);
  });

  it("cavities that share an edge leave nothing along it; what comes twice stays twice", () => {
    const left = rectangle({ x: -20, y: -5 }, { x: 0, y: 5 });
    const right = rectangle({ x: 0, y: -5 }, { x: 20, y: 5 });
    expect(total(boundaryOf(board, [left, right]))).toBeCloseTo(320 + 100, 9);
    expect(total(boundaryOf(board, [left, left]))).toBeCloseTo(320 + 2 * 60, 9);
    const short = rectangle({ x: 0, y: -2 }, { x: 20, y: 5 });
    expect(total(boundaryOf(board, [left, short]))).toBeCloseTo(320 + 60 + 54 - 2 * 7, 9);
  });

  it("a cavity along the board's own edge takes that edge away", () => {
    const rabbet = rectangle({ x: -50, y: 20 }, { x: 50, y: 30 });
    const pieces = boundaryOf(board, [rabbet]);
    expect(total(pieces)).toBeCloseTo(2 * 100 + 2 * 50, 9);
  });

  it("nothing solid has no boundary", () => {
    expect(boundaryOf(board, [board])).toEqual([]);
    expect(solidBoundary([], () => true)).toEqual([]);
  });

  it("is found wherever the solid ends, and nowhere else", () => {
    const cavity = fc.oneof(
      fc.record({ c: points, r: mm(1, 15) }).map(({ c, r }) => circle(c, r)),
      fc.record({ a: points, b: points, w: mm(1, 12) }).map(({ a, b, w }) => slotBetween(a, b, w)),
      fc
        .record({ c: points, l: mm(4, 40), w: mm(4, 40), deg: fc.integer({ min: 0, max: 90 }) })
        .map(({ c, l, w, deg }) => roundedRectangle(c, l, w, 1.5, deg)),
    );
    fc.assert(
      fc.property(
        fc.array(cavity, { minLength: 1, maxLength: 6 }),
        fc.array(points, { maxLength: 20 }),
        (cavities, probes) => {
          const solid = (p: Point): boolean => containsPoint(board, p) && !cavities.some((c) => containsPoint(c, p));
          const pieces = boundaryOf(board, cavities);
          for (const s of pieces) {
            const d = 1e-4;
            const p = pointAt(s, 0.5);
            const around = Array.from({ length: 16 }, (_, k) =>
              solid({ x: p.x + d * Math.cos(k), y: p.y + d * Math.sin(k) }),
            );
            expect(new Set(around).size).toBe(2);
          }
          // Walking between two probes, solid may only change at the boundary.
          const index = indexSegments(pieces);
          for (const p of probes) {
            const d = nearestDistance(index, p);
            if (!Number.isFinite(d)) continue;
            for (let k = 0; k < 8; k++) {
              expect(solid({ x: p.x + 0.99 * d * Math.cos(k), y: p.y + 0.99 * d * Math.sin(k) })).toBe(solid(p));
            }
          }
        },
      ),
      { numRuns: 150 },
    );
  });

  it("splits hundreds of curves at all their crossings and loses no length", () => {
    const rings = Array.from({ length: 150 }, (_, i) => circle({ x: (i % 15) * 3, y: Math.floor(i / 15) * 3 }, 2));
    const curves = rings.flatMap(regionSegments);
    const pieces = splitAtCrossings(curves);
    expect(pieces.length).toBeGreaterThan(1000);
    expect(total(pieces)).toBeCloseTo(total(curves), 6);
  });
});
