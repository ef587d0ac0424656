import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  isKnown,
  lengthOfMove,
  moveBounds,
  moveSegment,
  pointOnMove,
  pointsAlongMove,
  zAt,
} from "../../src/reader/motion.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { lengthOf, pointAt } from "../../src/shapes/segment.ts";
import { movesIn, readAny, told } from "./controllers.ts";

/** The arc on the last motion line of a text that begins at the given place. */
function arcFrom(start: readonly [number, number, number], line: string, unit = "G21"): ReadMove {
  const [x, y, z] = start;
  const text = `${unit} G17 G90 G94 F500.\nG0 Z${z}\nG0 X${x} Y${y}\nS9 M3\n${line}\nM5\nM2\n`;
  const moves = movesIn(readAny(text));
  return moves[moves.length - 1]!;
}

describe("arcs", () => {
  /**
   * A quarter turn in each plane and sense, from the point on the plane's first axis. Positive angles run from the first
   * axis towards the second: G17 X to Y, G18 Z to X, G19 Y to Z; G3 turns that way (NISTIR 6556 §4.3.6.1).
   */
  it.each([
    ["G17 G3 X0. Y10. I-10.", [10, 0, 0], [0, 1, 0]],
    ["G17 G2 X0. Y-10. I-10.", [10, 0, 0], [0, -1, 0]],
    ["G18 G3 Z0. X10. K-10.", [0, 0, 10], [1, 0, 0]],
    ["G18 G2 Z0. X-10. K-10.", [0, 0, 10], [-1, 0, 0]],
    ["G19 G3 Y0. Z10. J-10.", [0, 10, 0], [0, 0, 1]],
    ["G19 G2 Y0. Z-10. J-10.", [0, 10, 0], [0, 0, -1]],
  ] as const)("%s leaves its start towards %s", (line, start, way) => {
    const move = arcFrom(start, line);
    const near = pointOnMove(move, 1e-6)!;
    const step = [near.x - start[0], near.y - start[1], near.z - start[2]];
    const length = Math.hypot(...step);
    for (const [k, component] of way.entries()) expect(step[k]! / length).toBeCloseTo(component, 5);
    expect(lengthOfMove(move)).toBeCloseTo((10 * Math.PI) / 2, 12);
    const middle = pointOnMove(move, 0.5)!;
    expect(Math.hypot(middle.x, middle.y, middle.z)).toBeCloseTo(10, 12);
    expect(zAt(move, 0.5)).toBeCloseTo(middle.z, 12);
  });

  it("a convex nose in the lathe's plane is a G18 G3 arc: from the tip outwards, centre behind on the axis", () => {
    const move = arcFrom([0, 0, 0], "G18 G3 X5. Z-5. I0. K-5.");
    const middle = pointOnMove(move, 0.5)!;
    expect(middle.x).toBeCloseTo(5 * Math.SQRT1_2, 12);
    expect(middle.z).toBeCloseTo(-5 + 5 * Math.SQRT1_2, 12);
    expect(lengthOfMove(move)).toBeCloseTo((5 * Math.PI) / 2, 12);
  });

  it("end equal to start is a whole circle, and a whole turn of a helix", () => {
    const circle = arcFrom([10, 0, 0], "G3 X10. I-10.");
    expect(lengthOfMove(circle)).toBeCloseTo(20 * Math.PI, 12);
    expect(moveBounds(circle)).toEqual({ min: { x: -10, y: -10, z: 0 }, max: { x: 10, y: 10, z: 0 } });
    const helix = arcFrom([10, 0, 0], "G2 X10. Z-3. I-10.");
    expect(lengthOfMove(helix)).toBeCloseTo(Math.hypot(20 * Math.PI, 3), 12);
    expect(zAt(helix, 0.25)).toBeCloseTo(-0.75, 12);
    expect(pointOnMove(helix, 0.25)?.y).toBeCloseTo(-10, 12);
  });

  it("helices in the other planes move evenly along their own normal", () => {
    const g18 = arcFrom([0, 0, 10], "G18 G3 X10. Z0. Y8. K-10.");
    expect(lengthOfMove(g18)).toBeCloseTo(Math.hypot(5 * Math.PI, 8), 12);
    expect(pointOnMove(g18, 0.5)?.y).toBeCloseTo(4, 12);
    const g19 = arcFrom([0, 10, 0], "G19 G3 Y0. Z10. X-8. J-10.");
    expect(lengthOfMove(g19)).toBeCloseTo(Math.hypot(5 * Math.PI, 8), 12);
    expect(pointOnMove(g19, 0.25)?.x).toBeCloseTo(-2, 12);
    expect(moveSegment(g18)).toBeUndefined();
    expect(moveBounds(g19)).toEqual({ min: { x: -8, y: 0, z: 0 }, max: { x: 0, y: 10, z: 10 } });
  });

  it("accepts a mismatch up to the limit of the text's own unit, and not above", () => {
    const ends = (unit: string, x: string) =>
      told(readAny(`${unit} G17 G90 G94 F500.\nG0 Z0\nG0 X0 Y0\nS9 M3\nG2 X${x} I5.\nM5\nM2\n`));
    expect(ends("G21", "10.0019")).toEqual([]);
    expect(ends("G21", "10.0021")).toEqual(["rs-e37-arc-radius-mismatch:5"]);
    expect(ends("G20", "10.00019")).toEqual([]);
    expect(ends("G20", "10.00021")).toEqual(["rs-e37-arc-radius-mismatch:5"]);
  });

  it("centre words are offsets under G91 too, and ends add up", () => {
    const move = arcFrom([10, 5, 0], "G91 G3 X-10. Y10. I-10. J0.");
    expect(move.to).toEqual({ x: 0, y: 15, z: 0 });
    expect(move.path).toEqual({ kind: "arc", plane: "XY", centre: { x: 0, y: 5 }, ccw: true });
  });

  it("radius format: a semicircle at exactly half the chord, the long way round for R below 0", () => {
    expect(lengthOfMove(arcFrom([0, 0, 0], "G2 X10. R5."))).toBeCloseTo(5 * Math.PI, 9);
    expect(lengthOfMove(arcFrom([0, 0, 0], "G3 X10. Y10. R10."))).toBeCloseTo(5 * Math.PI, 9);
    expect(lengthOfMove(arcFrom([0, 0, 0], "G3 X10. Y10. R-10."))).toBeCloseTo(15 * Math.PI, 9);
    const g3 = arcFrom([0, 0, 0], "G3 X10. Y10. R10.");
    expect(g3.path.kind === "arc" && g3.path.centre.x).toBeCloseTo(0, 12);
    expect(g3.path.kind === "arc" && g3.path.centre.y).toBeCloseTo(10, 12);
    const g2 = arcFrom([0, 0, 0], "G2 X10. Y10. R10.");
    expect(g2.path.kind === "arc" && g2.path.centre.x).toBeCloseTo(10, 12);
    expect(g2.path.kind === "arc" && g2.path.centre.y).toBeCloseTo(0, 12);
  });

  const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);

  it("radius format and centre format of one arc are the same move, in all planes and senses", () => {
    const planes = [
      ["G17", "X", "Y", "I", "J"],
      ["G18", "Z", "X", "K", "I"],
      ["G19", "Y", "Z", "J", "K"],
    ] as const;
    fc.assert(
      fc.property(
        fc.constantFrom(...planes),
        fc.boolean(),
        um(1, 200),
        fc.integer({ min: 0, max: 35999 }),
        fc.integer({ min: 200, max: 35800 }).filter((s) => Math.abs(s - 18000) > 100),
        ([plane, first, second, firstCentre, secondCentre], ccw, radius, startDeg, sweepDeg) => {
          const a0 = (startDeg / 18000) * Math.PI;
          const sweep = ((ccw ? 1 : -1) * sweepDeg * Math.PI) / 18000;
          const at = (angle: number) => [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
          const fixed = (v: number) => v.toFixed(10);
          const [f0, s0] = at(a0);
          const [f1, s1] = at(a0 + sweep);
          const start = { X: 0, Y: 0, Z: 0 };
          start[first] = Number(fixed(f0));
          start[second] = Number(fixed(s0));
          const ends = `${first}${fixed(f1)} ${second}${fixed(s1)}`;
          const code = `${plane} ${ccw ? "G3" : "G2"}`;
          const places = [start.X, start.Y, start.Z].map((v) => Number(fixed(v))) as [number, number, number];
          const centre = arcFrom(places, `${code} ${ends} ${firstCentre}${fixed(-f0)} ${secondCentre}${fixed(-s0)}`);
          const byRadius = arcFrom(places, `${code} ${ends} R${sweepDeg > 18000 ? "-" : ""}${fixed(radius)}`);
          expect(lengthOfMove(centre)).toBeCloseTo(radius * Math.abs(sweep), 6);
          for (const t of [0.2, 0.5, 0.9]) {
            const p = pointOnMove(centre, t)!;
            const q = pointOnMove(byRadius, t)!;
            expect(Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z)).toBeLessThan(1e-5);
            const [ft, st] = at(a0 + t * sweep);
            const here = { X: p.x, Y: p.y, Z: p.z };
            expect(here[first]).toBeCloseTo(ft, 6);
            expect(here[second]).toBeCloseTo(st, 6);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it("seen from above a move is the segment that shapes know; box and chords hold the whole of it", () => {
    fc.assert(
      fc.property(
        um(1, 50),
        fc.integer({ min: 0, max: 359 }),
        fc.integer({ min: 1, max: 359 }),
        fc.boolean(),
        (r, a, s, ccw) => {
          const angle = (deg: number) =>
            [r * Math.cos((deg * Math.PI) / 180), r * Math.sin((deg * Math.PI) / 180)] as const;
          const [x0, y0] = angle(a).map((v) => Number(v.toFixed(8))) as [number, number];
          const [x1, y1] = angle(a + (ccw ? s : -s)).map((v) => v.toFixed(8)) as [string, string];
          const move = arcFrom(
            [x0, y0, 2],
            `${ccw ? "G3" : "G2"} X${x1} Y${y1} Z-1. I${(-x0).toFixed(8)} J${(-y0).toFixed(8)}`,
          );
          const segment = moveSegment(move)!;
          expect(Math.hypot(lengthOf(segment), 3)).toBeCloseTo(lengthOfMove(move)!, 9);
          const box = moveBounds(move)!;
          for (let k = 0; k <= 40; k++) {
            const p = pointOnMove(move, k / 40)!;
            const q = pointAt(segment, k / 40);
            expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeLessThan(1e-12);
            for (const axis of ["x", "y", "z"] as const) {
              expect(p[axis]).toBeGreaterThan(box.min[axis] - 1e-7);
              expect(p[axis]).toBeLessThan(box.max[axis] + 1e-7);
            }
          }
          const points = pointsAlongMove(move, 0.01)!;
          expect(points[0]).toEqual(move.from);
          expect(points[points.length - 1]).toEqual(move.to);
          for (let k = 1; k < points.length; k++) {
            const mid = { x: (points[k - 1]!.x + points[k]!.x) / 2, y: (points[k - 1]!.y + points[k]!.y) / 2 };
            expect(Math.abs(r - Math.hypot(mid.x, mid.y))).toBeLessThan(0.01 + 1e-6);
          }
        },
      ),
      { numRuns: 200 },
    );
  });

  it("helpers say nothing about places nobody knows", () => {
    const moves = movesIn(readAny("G21 G17 G90 G94\nG0 Z5.\nG0 X1. Y1.\nM2\n"));
    expect(isKnown(moves[0]!.to)).toBe(false);
    expect(moveSegment(moves[0]!)).toBeUndefined();
    expect(lengthOfMove(moves[0]!)).toBeUndefined();
    expect(moveBounds(moves[1]!)).toBeUndefined();
    expect(pointOnMove(moves[1]!, 0.5)).toBeUndefined();
    expect(zAt(moves[1]!, 0.5)).toBe(5);
    expect(() => pointsAlongMove(moves[1]!, 0)).toThrow(RangeError);
  });
});
