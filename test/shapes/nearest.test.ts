import Flatten from "@flatten-js/core";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { crossings } from "../../src/shapes/crossings.ts";
import { distanceBetween, distanceToPoint, nearestOn } from "../../src/shapes/nearest.ts";
import { distance, type Point } from "../../src/shapes/point.ts";
import { arc, line, pointAt, radiusOf, type Segment, sweepRad } from "../../src/shapes/segment.ts";
import { arcs, lines, points, segments } from "./generators.ts";

const o = { x: 0, y: 0 };
const p = (x: number, y: number): Point => ({ x, y });
const whole = (x: number, y: number, r: number): Segment => arc(p(x + r, y), p(x + r, y), p(x, y), true);

/** The same curve in the referee's terms. */
function referee(s: Segment): Flatten.Segment | Flatten.Arc {
  const at = (q: Point): Flatten.Point => new Flatten.Point(q.x, q.y);
  if (s.kind === "line") return new Flatten.Segment(at(s.from), at(s.to));
  const angle = (q: Point): number => Math.atan2(q.y - s.centre.y, q.x - s.centre.x);
  const start = angle(s.from);
  return new Flatten.Arc(at(s.centre), radiusOf(s), start, start + sweepRad(s), s.ccw);
}

const samples = (s: Segment, n: number): Point[] => Array.from({ length: n + 1 }, (_, i) => pointAt(s, i / n));

describe("distance to a point", () => {
  it("agrees with the referee", () => {
    fc.assert(
      fc.property(segments, points, (s, q) => {
        const [theirs] = new Flatten.Point(q.x, q.y).distanceTo(referee(s));
        expect(distanceToPoint(s, q)).toBeCloseTo(theirs, 6);
      }),
      { numRuns: 500 },
    );
  });

  it("is reached at the point and share it names, and undercut by no sample", () => {
    fc.assert(
      fc.property(segments, points, (s, q) => {
        const near = nearestOn(s, q);
        expect(distance(near.point, q)).toBeCloseTo(near.distance, 9);
        expect(distance(pointAt(s, near.t), near.point)).toBeLessThan(1e-7);
        for (const r of samples(s, 60)) expect(distance(r, q)).toBeGreaterThanOrEqual(near.distance - 1e-9);
      }),
    );
  });

  it("from an arc's own centre is its radius", () => {
    expect(distanceToPoint(arc(p(5, 0), p(0, 5), o, true), o)).toBe(5);
  });

  it("stays true far along a long line", () => {
    expect(distanceToPoint(line(p(0, 0), p(2000, 1)), p(1000, 0.5))).toBe(0);
    expect(distanceToPoint(line(p(0, 0), p(2000, 0)), p(1234.5, 1e-9))).toBeCloseTo(1e-9, 15);
  });
});

describe("distance between segments", () => {
  it.each<[string, Segment, Segment, number]>([
    ["parallel lines", line(p(0, 0), p(10, 0)), line(p(3, 2), p(30, 2)), 2],
    ["lines that cross", line(p(0, 0), p(10, 10)), line(p(0, 10), p(10, 0)), 0],
    ["line beside a circle", line(p(-20, 7), p(20, 7)), whole(0, 0, 5), 2],
    ["line through a circle", line(p(-20, 1), p(20, 1)), whole(0, 0, 5), 0],
    ["line inside a circle", line(p(-1, 1), p(1, 1)), whole(0, 0, 5), 5 - Math.SQRT2],
    ["line touching a circle", line(p(-20, 5), p(20, 5)), whole(0, 0, 5), 0],
    ["circles apart", whole(0, 0, 5), whole(13, 0, 2), 6],
    ["circles touching from outside", whole(0, 0, 5), whole(7, 0, 2), 0],
    ["circles touching from inside", whole(0, 0, 5), whole(3, 0, 2), 0],
    ["circle in a circle", whole(0, 0, 5), whole(1, 0, 2), 2],
    ["concentric circles", whole(0, 0, 5), whole(0, 0, 3), 2],
    ["the same circle twice", whole(0, 0, 5), whole(0, 0, 5), 0],
    ["concentric arcs that face each other", arc(p(5, 0), p(0, 5), o, true), arc(p(3, 0), p(0, 3), o, true), 2],
    [
      "concentric arcs on opposite sides",
      arc(p(5, 0), p(0, 5), o, true),
      arc(p(-3, 0), p(0, -3), o, true),
      Math.hypot(5, 3),
    ],
    ["arc bulging towards a line", arc(p(-3, 0), p(3, 0), o, true), line(p(-9, -5), p(9, -5)), 2],
    ["arc bulging away from a line", arc(p(-3, 0), p(3, 0), o, false), line(p(-9, -5), p(9, -5)), 5],
    ["lines end to end", line(p(0, 0), p(1, 0)), line(p(1, 0), p(2, 5)), 0],
    ["lines one after the other", line(p(0, 0), p(1, 0)), line(p(4, 0), p(9, 0)), 3],
  ])("%s", (_, a, b, expected) => {
    expect(distanceBetween(a, b)).toBeCloseTo(expected, 9);
    expect(distanceBetween(b, a)).toBeCloseTo(expected, 9);
  });

  it("is undercut by no pair of samples, and not above the least of them by more than their spacing", () => {
    fc.assert(
      fc.property(segments, segments, (a, b) => {
        const found = distanceBetween(a, b);
        const n = 200;
        const least = Math.min(...samples(a, n).map((q) => distanceToPoint(b, q)));
        const spacing = distance(a.from, pointAt(a, 1 / n));
        expect(found).toBeLessThanOrEqual(least + 1e-9);
        expect(found).toBeGreaterThanOrEqual(least - spacing - 1e-9);
        expect(distanceBetween(b, a)).toBeCloseTo(found, 7);
      }),
      { numRuns: 400 },
    );
  });

  it("agrees with the referee on lines and arcs", () => {
    fc.assert(
      fc.property(lines, fc.oneof(lines, arcs), (a, b) => {
        const [theirs] = referee(a).distanceTo(referee(b));
        expect(distanceBetween(a, b)).toBeCloseTo(theirs, 5);
      }),
      { numRuns: 300 },
    );
  });
});

describe("crossings", () => {
  it("agree with the referee, point for point", () => {
    fc.assert(
      fc.property(segments, segments, (a, b) => {
        const theirs = referee(a).intersect(referee(b));
        const ours = crossings(a, b);
        expect(ours).toHaveLength(theirs.length);
        for (const q of theirs) expect(ours.some((r) => distance(q, r) < 1e-5)).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });

  it("lie on both segments", () => {
    fc.assert(
      fc.property(segments, segments, (a, b) => {
        for (const q of crossings(a, b)) {
          expect(distanceToPoint(a, q)).toBeLessThan(3e-8);
          expect(distanceToPoint(b, q)).toBeLessThan(3e-8);
        }
      }),
      { numRuns: 500 },
    );
  });

  it("touching gives one point", () => {
    expect(crossings(line(p(-9, 5), p(9, 5)), whole(0, 0, 5))).toEqual([p(0, 5)]);
    expect(crossings(whole(0, 0, 5), whole(7, 0, 2))).toEqual([p(5, 0)]);
    expect(crossings(whole(0, 0, 5), whole(-3, 0, 2))).toEqual([p(-5, 0)]);
    expect(crossings(line(p(0, 0), p(9, 0)), line(p(4, 0), p(4, 7)))).toEqual([p(4, 0)]);
  });

  it("shared ends come back bit for bit", () => {
    const end = p(0.1 + 0.2, 1 / 3);
    const found = crossings(line(o, end), arc(end, p(3, 3), p(2, 1), true));
    expect(found[0]).toBe(end);
  });

  it("a shared run gives its two ends", () => {
    expect(crossings(line(p(0, 0), p(10, 0)), line(p(6, 0), p(20, 0)))).toEqual([p(10, 0), p(6, 0)]);
    const a = arc(p(5, 0), p(-5, 0), o, true);
    const b = arc(p(0, 5), p(0, -5), o, true);
    expect(crossings(a, b)).toEqual([p(-5, 0), p(0, 5)]);
    expect(crossings(a, arc(p(0, -5), p(4, -3), o, true))).toEqual([]);
  });
});
