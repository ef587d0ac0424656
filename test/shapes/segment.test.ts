import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chordsFor, flattenSegment } from "../../src/shapes/flatten.ts";
import { distance } from "../../src/shapes/point.ts";
import {
  arc,
  boundsOf,
  lengthOf,
  line,
  pieceOf,
  pointAt,
  radiusOf,
  reversed,
  shareTowards,
  sweepRad,
  tangentAt,
} from "../../src/shapes/segment.ts";
import { segments } from "./generators.ts";

const o = { x: 0, y: 0 };

describe("segments", () => {
  it("boxes reach the quarter points an arc passes and no others", () => {
    const quarter = arc({ x: 5, y: 0 }, { x: 0, y: 5 }, o, true);
    expect(boundsOf(quarter)).toEqual({ min: o, max: { x: 5, y: 5 } });
    expect(boundsOf(reversed(quarter))).toEqual({ min: o, max: { x: 5, y: 5 } });
    expect(boundsOf(arc({ x: 5, y: 0 }, { x: 0, y: 5 }, o, false))).toEqual({
      min: { x: -5, y: -5 },
      max: { x: 5, y: 5 },
    });
    expect(boundsOf(arc({ x: 3, y: 4 }, { x: -3, y: 4 }, o, true))).toEqual({
      min: { x: -3, y: 4 },
      max: { x: 3, y: 5 },
    });
  });

  it("boxes hold every point of a segment and touch it on all four sides", () => {
    fc.assert(
      fc.property(segments, (s) => {
        const box = boundsOf(s);
        const many = Array.from({ length: 721 }, (_, i) => pointAt(s, i / 720));
        const xs = many.map((p) => p.x);
        const ys = many.map((p) => p.y);
        // 720 points stand off a circle's quarter point by at most r(1 − cos(π/720)).
        const slack = 1e-9 + (s.kind === "arc" ? radiusOf(s) * (1 - Math.cos(Math.PI / 720)) : 0);
        for (const [found, exact] of [
          [Math.min(...xs), box.min.x],
          [-Math.max(...xs), -box.max.x],
          [Math.min(...ys), box.min.y],
          [-Math.max(...ys), -box.max.y],
        ] as const) {
          expect(found).toBeGreaterThanOrEqual(exact - 1e-9);
          expect(found).toBeLessThanOrEqual(exact + slack);
        }
      }),
    );
  });

  it("tangents agree with the difference of near points", () => {
    fc.assert(
      fc.property(segments, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (s, t) => {
        const h = 1e-6;
        const a = pointAt(s, t - h);
        const b = pointAt(s, t + h);
        const d = distance(a, b);
        const u = tangentAt(s, t);
        expect((b.x - a.x) / d).toBeCloseTo(u.x, 4);
        expect((b.y - a.y) / d).toBeCloseTo(u.y, 4);
        expect(Math.hypot(u.x, u.y)).toBeCloseTo(1, 12);
      }),
    );
  });

  it("reversing keeps length, ends and points", () => {
    fc.assert(
      fc.property(segments, fc.double({ min: 0, max: 1, noNaN: true }), (s, t) => {
        const back = reversed(s);
        expect(lengthOf(back)).toBeCloseTo(lengthOf(s), 9);
        expect(back.from).toBe(s.to);
        expect(back.to).toBe(s.from);
        expect(reversed(back)).toEqual(s);
        expect(distance(pointAt(back, 1 - t), pointAt(s, t))).toBeLessThan(1e-9);
      }),
    );
  });

  it("pieces add up and share their joint", () => {
    fc.assert(
      fc.property(segments, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (s, t) => {
        const a = pieceOf(s, 0, t);
        const b = pieceOf(s, t, 1);
        expect(a.to).toEqual(b.from);
        expect(a.from).toBe(s.from);
        expect(b.to).toBe(s.to);
        expect(lengthOf(a) + lengthOf(b)).toBeCloseTo(lengthOf(s), 8);
      }),
    );
  });

  it("a whole circle turns once, and every direction is on it", () => {
    const whole = arc({ x: 3, y: 0 }, { x: 3, y: 0 }, o, false);
    expect(sweepRad(whole)).toBe(-2 * Math.PI);
    expect(lengthOf(whole)).toBeCloseTo(6 * Math.PI, 12);
    for (let k = 0; k < 12; k++) expect(shareTowards(whole, Math.cos(k), Math.sin(k))).toBeDefined();
    expect(shareTowards(arc({ x: 3, y: 0 }, { x: 0, y: 3 }, o, true), -1, -1)).toBeUndefined();
  });
});

describe("flattening", () => {
  it.each([
    [10, 0.01, 71],
    [3, 0.01, 39],
    [3, 0.001, 122],
    [0.5, 0.005, 23],
  ])("a circle of radius %d at %d mm takes %d chords (sagitta formula)", (radius, error, chords) => {
    expect(chordsFor(radius, 2 * Math.PI, error)).toBe(chords);
  });

  it("keeps the ends bit for bit and the chords within the stated error, on the centre's side", () => {
    fc.assert(
      fc.property(segments, fc.constantFrom(0.5, 0.01, 0.001), (s, tolerance) => {
        const points = flattenSegment(s, tolerance);
        expect(points[0]).toBe(s.from);
        expect(points[points.length - 1]).toBe(s.to);
        if (s.kind === "line") {
          expect(points).toHaveLength(2);
          return;
        }
        const r = radiusOf(s);
        let deepest = 0;
        for (const [i, p] of points.entries()) {
          expect(Math.abs(distance(p, s.centre) - r)).toBeLessThan(1e-9);
          const q = points[i + 1];
          if (q) deepest = Math.max(deepest, r - distance({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 }, s.centre));
        }
        if (r > tolerance) expect(deepest).toBeLessThanOrEqual(tolerance * (1 + 1e-6));
      }),
    );
  });

  it("refuses a chord error of nothing", () => {
    expect(() => flattenSegment(line(o, { x: 1, y: 0 }), 0)).toThrow(RangeError);
    expect(() => flattenSegment(line(o, { x: 1, y: 0 }), Number.NaN)).toThrow(RangeError);
  });
});
