import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { strokesOf } from "../../../src/shapes/picture/strokes.ts";
import type { Point } from "../../../src/shapes/point.ts";
import { bitmap, fromChain, pattern } from "./drawn.ts";

/** Ink of lines drawn with a round pen of half width r. */
function drawn(width: number, height: number, r: number, ...chains: readonly (readonly Point[])[]) {
  return bitmap(width, height, (x, row) =>
    chains.some((chain) => fromChain(chain, { x: x + 0.5, y: height - row - 0.5 }) <= r),
  );
}

/** Farthest that a chain's points lie from another chain. */
function stray(points: readonly Point[], chain: readonly Point[]): number {
  return Math.max(...points.map((p) => fromChain(chain, p)));
}

const far = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y);

describe("strokes", () => {
  it("finds one line from end to end of the ink, in its middle, as wide as it is", () => {
    const line = [
      { x: 20, y: 20 },
      { x: 100, y: 50 },
    ];
    const [stroke, ...more] = strokesOf(drawn(120, 70, 3, line));
    expect(more).toHaveLength(0);
    expect(stroke!.closed).toBe(false);
    // The pen's round ends reach 3 beyond the line; the stroke goes to the end of the ink, along the line.
    const unit = { x: 80 / Math.hypot(80, 30), y: 30 / Math.hypot(80, 30) };
    const ink = [
      { x: 20 - 3 * unit.x, y: 20 - 3 * unit.y },
      { x: 100 + 3 * unit.x, y: 50 + 3 * unit.y },
    ];
    expect(stray(stroke!.points, ink)).toBeLessThan(0.8);
    expect(stray(ink, stroke!.points)).toBeLessThan(1.5);
    expect(stroke!.width).toBeGreaterThan(5);
    expect(stroke!.width).toBeLessThan(6.1);
  });

  it("goes straight on through a crossing", () => {
    const one = [
      { x: 15, y: 15 },
      { x: 105, y: 105 },
    ];
    const two = [
      { x: 15, y: 95 },
      { x: 105, y: 35 },
    ];
    const strokes = strokesOf(drawn(120, 120, 3, one, two));
    expect(strokes).toHaveLength(2);
    for (const chain of [one, two]) {
      const nearest = Math.min(
        ...strokes.map((s) =>
          Math.max(
            stray(s.points.slice(1, -1), [
              { x: 2 * chain[0]!.x - chain[1]!.x, y: 2 * chain[0]!.y - chain[1]!.y },
              { x: 2 * chain[1]!.x - chain[0]!.x, y: 2 * chain[1]!.y - chain[0]!.y },
            ]),
            stray(chain, s.points),
          ),
        ),
      );
      expect(nearest).toBeLessThan(1);
    }
  });

  it("finds a bar and a stem in a T", () => {
    const bar = [
      { x: 20, y: 80 },
      { x: 100, y: 80 },
    ];
    const stem = [
      { x: 60, y: 80 },
      { x: 60, y: 15 },
    ];
    const strokes = strokesOf(drawn(120, 100, 3, bar, stem));
    expect(strokes).toHaveLength(2);
    expect(Math.min(...strokes.map((s) => stray(bar, s.points)))).toBeLessThan(1);
    expect(Math.min(...strokes.map((s) => stray(stem, s.points)))).toBeLessThan(1.5);
  });

  it("closes a ring, and follows a figure of eight in one go", () => {
    const round = (cx: number, cy: number, r: number) =>
      Array.from({ length: 61 }, (_, i) => ({
        x: cx + r * Math.cos((i * Math.PI) / 30),
        y: cy + r * Math.sin((i * Math.PI) / 30),
      }));
    const [ring, ...more] = strokesOf(drawn(80, 80, 2.5, round(40, 40, 25)));
    expect(more).toHaveLength(0);
    expect(ring!.closed).toBe(true);
    for (const p of ring!.points) expect(Math.abs(far(p, { x: 40, y: 40 }) - 25)).toBeLessThan(0.8);
    const eight = Array.from({ length: 121 }, (_, i) => ({
      x: 60 + 45 * Math.sin((i * Math.PI) / 60),
      y: 40 + 25 * Math.sin((i * Math.PI) / 30),
    }));
    const eights = strokesOf(drawn(120, 80, 2.5, eight));
    expect(eights).toHaveLength(1);
    expect(eights[0]!.closed).toBe(true);
    expect(stray(eights[0]!.points, eight)).toBeLessThan(1);
    expect(stray(eight, [...eights[0]!.points, eights[0]!.points[0]!])).toBeLessThan(1.2);
  });

  it("keeps dots, down to a pixel", () => {
    const one = strokesOf(pattern("...", ".#.", "..."));
    expect(one).toHaveLength(1);
    const four = strokesOf(pattern("....", ".##.", ".##.", "...."));
    expect(four).toHaveLength(1);
    expect(far(four[0]!.points[0]!, four[0]!.points[1]!)).toBeCloseTo(2, 6);
    const disc = strokesOf(
      drawn(30, 30, 5, [
        { x: 15, y: 15 },
        { x: 15, y: 15 },
      ]),
    );
    expect(disc).toHaveLength(1);
    for (const p of disc[0]!.points) expect(far(p, { x: 15, y: 15 })).toBeLessThan(7);
  });

  it("stays in the ink, whatever line a pen draws, and comes near all of it", () => {
    const points = fc.record({ x: fc.integer({ min: 10, max: 90 }), y: fc.integer({ min: 10, max: 90 }) });
    fc.assert(
      fc.property(
        fc.array(points, { minLength: 2, maxLength: 5 }),
        fc.integer({ min: 10, max: 35 }),
        (chain, tenths) => {
          const r = tenths / 10;
          const ink = drawn(100, 100, r, chain);
          const strokes = strokesOf(ink);
          expect(strokes.length).toBeGreaterThan(0);
          for (const s of strokes) for (const p of s.points) expect(fromChain(chain, p)).toBeLessThan(2 * r + 2);
          // Every bend and end of the pen's way has a stroke nearby.
          for (const p of chain) {
            const nearest = Math.min(
              ...strokes.map((s) => fromChain(s.closed ? [...s.points, s.points[0]!] : s.points, p)),
            );
            expect(nearest).toBeLessThan(2 * r + 2);
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});
