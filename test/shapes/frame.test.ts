import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  compose,
  type Frame,
  IDENTITY,
  inverse,
  makeFrame,
  type Row,
  toPart,
  toSetup,
  turnedAboutZ,
} from "../../src/shapes/frame.ts";
import { polygon, roundedRectangle, slot } from "../../src/shapes/outlines.ts";
import {
  afterwards,
  mapPoint,
  mapRegion,
  mapSegment,
  mirrorAlongX,
  mirrors,
  planOf,
  shiftBy,
  turnBy,
} from "../../src/shapes/plan-map.ts";
import { distance, type Point3 } from "../../src/shapes/point.ts";
import { areaOf, containsPoint, perimeterOf } from "../../src/shapes/region.ts";
import { lengthOf, pointAt } from "../../src/shapes/segment.ts";
import { L_SHAPE, mm, points, segments } from "./generators.ts";

const degrees = fc.integer({ min: -36_000, max: 36_000 }).map((n) => n / 100);
const points3: fc.Arbitrary<Point3> = fc.record({ x: mm(-50, 50), y: mm(-50, 50), z: mm(-20, 20) });

function about(axis: "x" | "y" | "z", deg: number, shift: Point3): Frame {
  const c = Math.cos((deg * Math.PI) / 180);
  const s = Math.sin((deg * Math.PI) / 180);
  const rows: Record<"x" | "y" | "z", readonly [Row, Row, Row]> = {
    x: [
      [1, 0, 0],
      [0, c, -s],
      [0, s, c],
    ],
    y: [
      [c, 0, s],
      [0, 1, 0],
      [-s, 0, c],
    ],
    z: [
      [c, -s, 0],
      [s, c, 0],
      [0, 0, 1],
    ],
  };
  return makeFrame(rows[axis], shift);
}

const frames = fc
  .array(fc.tuple(fc.constantFrom("x", "y", "z") as fc.Arbitrary<"x" | "y" | "z">, degrees, points3), {
    minLength: 1,
    maxLength: 4,
  })
  .map((list) => list.reduce((f, [axis, deg, shift]) => compose(f, about(axis, deg, shift)), IDENTITY));

/** A set-up point taken as the next frame's starting point. */
const plain = ({ x, y, z }: Point3): Point3 => ({ x, y, z });
const apart = (a: Point3, b: Point3): number => Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);

describe("frames", () => {
  it("compose as one after the other, and the inverse undoes them", () => {
    fc.assert(
      fc.property(frames, frames, points3, (f, g, p) => {
        expect(apart(toSetup(compose(f, g), p), toSetup(g, plain(toSetup(f, p))))).toBeLessThan(1e-9);
        expect(apart(toSetup(inverse(f), plain(toSetup(f, p))), p)).toBeLessThan(1e-9);
        expect(apart(toPart(f, toSetup(f, p)), p)).toBeLessThan(1e-9);
      }),
    );
  });

  it("keep distances", () => {
    fc.assert(
      fc.property(frames, points3, points3, (f, p, q) => {
        expect(apart(toSetup(f, p), toSetup(f, q))).toBeCloseTo(apart(p, q), 9);
      }),
    );
  });

  it("refuse every mirror, and what is no rotation", () => {
    const shift = { x: 0, y: 0, z: 0 };
    for (const signs of [
      [-1, 1, 1],
      [1, -1, 1],
      [1, 1, -1],
      [-1, -1, -1],
    ] as const) {
      const rows: readonly [Row, Row, Row] = [
        [signs[0], 0, 0],
        [0, signs[1], 0],
        [0, 0, signs[2]],
      ];
      expect(() => makeFrame(rows, shift)).toThrow(RangeError);
    }
    expect(() =>
      makeFrame(
        [
          [2, 0, 0],
          [0, 0.5, 0],
          [0, 0, 1],
        ],
        shift,
      ),
    ).toThrow(RangeError);
    expect(() =>
      makeFrame(
        [
          [Number.NaN, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
        shift,
      ),
    ).toThrow(RangeError);
    expect(() => makeFrame(IDENTITY.rotation, { ...shift, z: Number.POSITIVE_INFINITY })).toThrow(RangeError);
  });

  it("quarter turns are exact", () => {
    const f = turnedAboutZ(90, { x: 0, y: 0, z: 0 });
    expect(toSetup(f, { x: 1, y: 2, z: 3 })).toEqual({ x: -2, y: 1, z: 3 });
    expect(toSetup(turnedAboutZ(-90, { x: 0, y: 0, z: 0 }), { x: 1, y: 2, z: 3 })).toEqual({ x: 2, y: -1, z: 3 });
  });
});

const region = { loops: polygon(L_SHAPE).loops };

describe("plan maps", () => {
  it("agree with the frame they come from", () => {
    fc.assert(
      fc.property(degrees, points3, points, fc.boolean(), (deg, shift, p, over) => {
        const turn = turnedAboutZ(deg, shift);
        const frame = over ? compose(about("x", 180, { x: 0, y: 0, z: 0 }), turn) : turn;
        const map = planOf(frame);
        const there = toSetup(frame, { ...p, z: 7 });
        expect(distance(mapPoint(map, p), there)).toBeLessThan(1e-9);
        expect(mirrors(map)).toBe(over);
      }),
    );
  });

  it("refuse a frame that tips the plane", () => {
    expect(() => planOf(about("x", 90, { x: 0, y: 0, z: 0 }))).toThrow(RangeError);
    expect(() => planOf(about("y", 0.001, { x: 0, y: 0, z: 0 }))).toThrow(RangeError);
  });

  it("carry every point of a segment along, and keep its length", () => {
    const maps = fc.tuple(degrees, points, fc.boolean()).map(([deg, p, flip]) => {
      const map = afterwards(turnBy(deg), shiftBy(p.x, p.y));
      return flip ? afterwards(mirrorAlongX(120), map) : map;
    });
    fc.assert(
      fc.property(segments, maps, fc.double({ min: 0, max: 1, noNaN: true }), (s, map, t) => {
        const there = mapSegment(map, s);
        expect(lengthOf(there)).toBeCloseTo(lengthOf(s), 6);
        expect(distance(pointAt(there, t), mapPoint(map, pointAt(s, t)))).toBeLessThan(1e-8);
      }),
    );
  });

  it("keep outer loops counter-clockwise through a mirror, closed bit for bit, with area and perimeter", () => {
    const mirrored = mapRegion(mirrorAlongX(100), region);
    expect(areaOf(mirrored)).toBe(300);
    expect(perimeterOf(mirrored)).toBe(80);
    for (const loop of mirrored.loops) {
      for (const [i, s] of loop.entries()) expect(loop[(i + 1) % loop.length]!.from).toEqual(s.to);
    }
    // The missing quarter lies on the right at the top; in the mirror image, on the left.
    expect(containsPoint(region, { x: 15, y: 15 })).toBe(false);
    expect(containsPoint(mirrored, { x: 85, y: 15 })).toBe(false);
    expect(containsPoint(mirrored, { x: 95, y: 15 })).toBe(true);
    const twice = mapRegion(mirrorAlongX(100), mirrored);
    expect(twice.loops[0]!.map((s) => s.from)).toEqual(expect.arrayContaining(region.loops[0]!.map((s) => s.from)));
  });

  it("map an outline of arcs as if it had been drawn there", () => {
    const map = afterwards(turnBy(25), shiftBy(3, 4));
    const mapped = mapRegion(map, slot({ x: 0, y: 0 }, 30, 8, 10));
    const drawn = slot({ x: 3, y: 4 }, 30, 8, 35);
    for (const [i, s] of mapped.loops[0]!.entries()) {
      expect(distance(s.from, drawn.loops[0]![i]!.from)).toBeLessThan(1e-12);
    }
    const mirrored = mapRegion(mirrorAlongX(10), roundedRectangle({ x: 2, y: 1 }, 6, 3, 1, 20));
    expect(areaOf(mirrored)).toBeCloseTo(18 - 4 + Math.PI, 9);
  });

  it("quarter turns are exact and four make none", () => {
    expect(mapPoint(turnBy(90), { x: 0.1, y: 0.2 })).toEqual({ x: -0.2, y: 0.1 });
    const once = turnBy(-270);
    const four = afterwards(afterwards(once, once), afterwards(once, once));
    expect(mapPoint(four, { x: 0.1, y: 0.7 })).toEqual({ x: 0.1, y: 0.7 });
  });
});
