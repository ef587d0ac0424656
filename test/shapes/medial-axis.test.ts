import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { unionOf } from "../../src/shapes/boolean.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { AXIS_FOR_LETTERS, type MedialAxis, medialAxis } from "../../src/shapes/medial-axis.ts";
import { distanceToPoint } from "../../src/shapes/nearest.ts";
import { circle, slot } from "../../src/shapes/outlines.ts";
import type { Point } from "../../src/shapes/point.ts";
import { areaOfPolygons, type Polygons, pointInPolygons } from "../../src/shapes/polygons.ts";
import { line } from "../../src/shapes/segment.ts";
import { starRings } from "./generators.ts";

const RECTANGLE: Polygons = [
  [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
    { x: 10, y: 4 },
    { x: 0, y: 4 },
  ],
];

/** Distance to the boundary, asked of every edge. */
const truly = (area: Polygons, p: Point): number =>
  area.reduce(
    (least, ring) =>
      ring.reduce((d, a, i) => Math.min(d, distanceToPoint(line(a, ring[(i + 1) % ring.length]!), p)), least),
    Number.POSITIVE_INFINITY,
  );

function checkRadii(area: Polygons, axis: MedialAxis, overcut: number): void {
  for (const n of axis.nodes) expect(Math.abs(n.radius - truly(area, n.at))).toBeLessThan(1e-6);
  for (const [a, b] of axis.stretches) {
    const p = axis.nodes[a]!;
    const q = axis.nodes[b]!;
    for (const t of [0.2, 0.4, 0.6, 0.8]) {
      const at = { x: p.at.x + t * (q.at.x - p.at.x), y: p.at.y + t * (q.at.y - p.at.y) };
      expect(p.radius + t * (q.radius - p.radius) - truly(area, at)).toBeLessThanOrEqual(overcut);
    }
  }
}

describe("the medial axis", () => {
  it("of a rectangle 10 × 4: junctions at (2, 2) and (8, 2) with radius 2, branches into all four corners", () => {
    const axis = medialAxis(RECTANGLE, AXIS_FOR_LETTERS);
    checkRadii(RECTANGLE, axis, 0.001);
    expect(Math.max(...axis.nodes.map((n) => n.radius))).toBeCloseTo(2, 6);
    for (const corner of RECTANGLE[0]!) {
      expect(axis.nodes.some((n) => n.radius === 0 && n.at.x === corner.x && n.at.y === corner.y)).toBe(true);
    }
    // All of it lies on the middle line or on a bisector of 45 degrees.
    for (const { at } of axis.nodes) {
      const d = Math.min(at.x, 10 - at.x);
      expect(Math.abs(Math.min(at.y, 4 - at.y) - Math.min(d, 2))).toBeLessThan(0.06);
    }
  });

  it("of a disc is its centre; of a slot, its middle line", () => {
    const disc = flattenRegion(circle({ x: 3, y: 4 }, 5), 0.0005);
    for (const { at, radius } of medialAxis(disc, AXIS_FOR_LETTERS).nodes) {
      expect(Math.hypot(at.x - 3, at.y - 4)).toBeLessThan(0.05);
      expect(radius).toBeGreaterThan(4.95);
    }
    const long = flattenRegion(slot({ x: 0, y: 0 }, 30, 6, 0), 0.0005);
    const axis = medialAxis(long, AXIS_FOR_LETTERS);
    for (const { at } of axis.nodes) expect(Math.abs(at.y)).toBeLessThan(0.01);
    const xs = axis.nodes.map((n) => n.at.x);
    expect(Math.min(...xs)).toBeLessThan(-11.9);
    expect(Math.max(...xs)).toBeGreaterThan(11.9);
  });

  it("its discs together are the shape", () => {
    const axis = medialAxis(RECTANGLE, { ...AXIS_FOR_LETTERS, spacing: 0.1 });
    const discs = axis.nodes.filter((n) => n.radius > 0.02).map((n) => flattenRegion(circle(n.at, n.radius), 0.0005));
    expect(areaOfPolygons(unionOf(...discs)) / 40).toBeGreaterThan(0.998);
    expect(areaOfPolygons(unionOf(...discs)) / 40).toBeLessThan(1.0001);
  });

  it("has exact radii and no overcut on random shapes with holes", () => {
    fc.assert(
      fc.property(starRings, (ring) => {
        const inner = ring.map((p) => ({ x: p.x * 0.3, y: p.y * 0.3 })).reverse();
        const area = pointInPolygons([ring], { x: 0, y: 0 }) ? [ring, inner] : [ring];
        checkRadii(area, medialAxis(area, { ...AXIS_FOR_LETTERS, spacing: 0.5 }), 0.001);
      }),
      { numRuns: 25 },
    );
  });

  it("of nothing, a line, repeated points: nothing", () => {
    expect(medialAxis([], AXIS_FOR_LETTERS).nodes).toEqual([]);
    const p = { x: 1, y: 1 };
    expect(medialAxis([[p, p, p, p]], AXIS_FOR_LETTERS).nodes).toEqual([]);
    expect(medialAxis([[p, { x: 2, y: 1 }, { x: 3, y: 1 }]], AXIS_FOR_LETTERS).nodes).toEqual([]);
    expect(() => medialAxis(RECTANGLE, { ...AXIS_FOR_LETTERS, spacing: 0 })).toThrow(RangeError);
  });
});
