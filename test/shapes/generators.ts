import fc from "fast-check";
import type { Point } from "../../src/shapes/point.ts";
import type { Ring } from "../../src/shapes/rings.ts";
import { type Arc, arc, type Line, line, type Segment } from "../../src/shapes/segment.ts";

/** Lengths as whole micrometres, in mm, so that failures shrink to round numbers. */
export function mm(least: number, most: number): fc.Arbitrary<number> {
  return fc.integer({ min: Math.round(least * 1000), max: Math.round(most * 1000) }).map((n) => n / 1000);
}

export const points: fc.Arbitrary<Point> = fc.record({ x: mm(-60, 60), y: mm(-60, 60) });

export const lines: fc.Arbitrary<Line> = fc
  .tuple(points, points)
  .filter(([a, b]) => a.x !== b.x || a.y !== b.y)
  .map(([a, b]) => line(a, b));

/** Arcs from centre, radius and two angles in whole hundredths of a degree; one in eight a whole circle. */
export const arcs: fc.Arbitrary<Arc> = fc
  .record({
    centre: points,
    radius: mm(0.2, 40),
    start: fc.integer({ min: 0, max: 35_999 }),
    turn: fc.oneof(
      { weight: 7, arbitrary: fc.integer({ min: 5, max: 35_900 }) },
      { weight: 1, arbitrary: fc.constant(0) },
    ),
    ccw: fc.boolean(),
  })
  .map(({ centre, radius, start, turn, ccw }) => {
    const at = (hundredths: number): Point => {
      const rad = (hundredths * Math.PI) / 18_000;
      return { x: centre.x + radius * Math.cos(rad), y: centre.y + radius * Math.sin(rad) };
    };
    const from = at(start);
    return arc(from, turn === 0 ? from : at(ccw ? start + turn : start - turn), centre, ccw);
  });

export const segments: fc.Arbitrary<Segment> = fc.oneof(lines, arcs);

/** A ring that sees all of itself from its middle: `n` points at even angles, radii between 30 % and 100 %. */
export function starRing(centre: Point, radius: number, shares: readonly number[]): Ring {
  return shares.map((share, i) => {
    const rad = (2 * Math.PI * i) / shares.length;
    const r = radius * (0.3 + 0.7 * share);
    return { x: centre.x + r * Math.cos(rad), y: centre.y + r * Math.sin(rad) };
  });
}

export const starRings: fc.Arbitrary<Ring> = fc
  .record({
    centre: points,
    radius: mm(5, 40),
    shares: fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 3, maxLength: 24 }),
  })
  .map(({ centre, radius, shares }) =>
    starRing(
      centre,
      radius,
      shares.map((s) => s / 100),
    ),
  );

/** Convex rings: the hull of random points, counter-clockwise. */
export const convexRings: fc.Arbitrary<Ring> = fc
  .array(points, { minLength: 3, maxLength: 30 })
  .map(hull)
  .filter((ring) => ring.length > 2);

/** Monotone chains. Source: Andrew, Inf. Process. Lett. 9 (1979) 216–219; from memory. */
function hull(all: readonly Point[]): Ring {
  const sorted = [...all].sort((a, b) => a.x - b.x || a.y - b.y);
  const chain = (list: readonly Point[]): Point[] => {
    const out: Point[] = [];
    for (const p of list) {
      while (out.length > 1) {
        const a = out[out.length - 2]!;
        const b = out[out.length - 1]!;
        if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 1e-6) break;
        out.pop();
      }
      out.push(p);
    }
    out.pop();
    return out;
  };
  return [...chain(sorted), ...chain([...sorted].reverse())];
}

/** The reference shapes: r = 50(1 + 0.25 cos 9t) in n points. */
export function star(n: number): Ring {
  return Array.from({ length: n }, (_, i) => {
    const t = (2 * Math.PI * i) / n;
    const r = 50 * (1 + 0.25 * Math.cos(9 * t));
    return { x: r * Math.cos(t), y: r * Math.sin(t) };
  });
}

/** 20 × 20 less its upper right quarter. */
export const L_SHAPE: Ring = [
  [0, 0],
  [20, 0],
  [20, 10],
  [10, 10],
  [10, 20],
  [0, 20],
].map(([x, y]) => ({ x: x!, y: y! }));

/** A star outline of n points and 125 mm across its middle, with three round islands: nine passes at R 3, step 2.4. */
export function threeIslandPocket(n = 1000): Ring[] {
  const island = (x: number, y: number, r: number): Ring =>
    Array.from({ length: 60 }, (_, i) => {
      const t = (-2 * Math.PI * i) / 60;
      return { x: x + r * Math.cos(t), y: y + r * Math.sin(t) };
    });
  const outline = star(n).map((p) => ({ x: 1.25 * p.x, y: 1.25 * p.y }));
  return [outline, island(26, 0, 6), island(-19, 18, 5), island(-14, -26, 7)];
}
