import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitClear } from "../../../src/shapes/picture/fit-clear.ts";
import type { Bitmap } from "../../../src/shapes/picture/grey-picture.ts";
import { outlineOf } from "../../../src/shapes/picture/outline.ts";
import { patchesOf } from "../../../src/shapes/picture/specks.ts";
import { areaOf, containsPoint, regionSegments } from "../../../src/shapes/region.ts";
import { areaOfPolygons, areaOfRing, pointInPolygons } from "../../../src/shapes/rings.ts";
import { pointAt } from "../../../src/shapes/segment.ts";
import { bitmap, count, pattern, shaded } from "./drawn.ts";

/** Outline of a picture in pure black and white. */
function blackAndWhite(ink: Bitmap) {
  const grey = Float32Array.from(ink.bits, (b) => 1 - b);
  return outlineOf({ width: ink.width, height: ink.height, grey }, ink, 0.5);
}

const inks: fc.Arbitrary<Bitmap> = fc
  .tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 2, max: 9 }))
  .chain(([w, h, share]) =>
    fc
      .array(fc.integer({ min: 0, max: 9 }), { minLength: w * h, maxLength: w * h })
      .map((v) => ({ width: w, height: h, bits: Uint8Array.from(v, (n) => (n < share ? 1 : 0)) })),
  );

describe("outline of ink", () => {
  it("gives a shaded disc its area and box, within a tenth of a pixel", () => {
    const disc = shaded(101, 101, (x, y) => Math.hypot(x - 50.5, y - 50.5) - 30);
    const ink = bitmap(101, 101, (x, y) => disc.grey[y * 101 + x]! < 0.5);
    const [ring, ...more] = outlineOf(disc, ink, 0.5);
    expect(more).toHaveLength(0);
    // Within a part in a thousand of π 30², below it: chords and shading both shave the curve.
    expect(areaOfRing(ring!)).toBeGreaterThan(2824.5);
    expect(areaOfRing(ring!)).toBeLessThan(2827.43);
    expect(Math.min(...ring!.map((p) => p.x))).toBeCloseTo(20.5, 1);
    expect(Math.max(...ring!.map((p) => p.y))).toBeCloseTo(80.5, 1);
    for (const p of ring!) expect(Math.abs(Math.hypot(p.x - 50.5, p.y - 50.5) - 30)).toBeLessThan(0.1);
  });

  it("cuts half a pixel's area from the corners of any blot of black and white without holes", () => {
    const disc = bitmap(71, 71, (x, y) => Math.hypot(x - 35, y - 35) < 30);
    expect(areaOfPolygons(blackAndWhite(disc))).toBeCloseTo(count(disc) - 0.5, 6);
    expect(areaOfPolygons(blackAndWhite(pattern("#")))).toBeCloseTo(0.5, 6);
  });

  it("turns a ring's hole the other way", () => {
    const ring = shaded(60, 60, (x, y) => Math.abs(Math.hypot(x - 30, y - 30) - 18) - 6);
    const rings = outlineOf(
      ring,
      bitmap(60, 60, (x, y) => ring.grey[y * 60 + x]! < 0.5),
      0.5,
    );
    expect(rings.map((r) => Math.sign(areaOfRing(r))).sort()).toEqual([-1, 1]);
    expect(areaOfPolygons(rings)).toBeCloseTo(Math.PI * (24 * 24 - 12 * 12), -1);
  });

  it("has every ink pixel's middle inside and every other outside, and the right number of rings", () => {
    fc.assert(
      fc.property(inks, (ink) => {
        const grey = Float32Array.from(ink.bits, (b, i) => (b === 1 ? 0.1 + (i % 7) * 0.05 : 0.6 + (i % 5) * 0.08));
        const rings = outlineOf({ width: ink.width, height: ink.height, grey }, ink, 0.5);
        for (let i = 0; i < ink.bits.length; i++) {
          const p = { x: (i % ink.width) + 0.5, y: ink.height - Math.floor(i / ink.width) - 0.5 };
          expect(pointInPolygons(rings, p)).toBe(ink.bits[i] === 1);
        }
        const fitted = fitClear(rings, 0.3);
        expect(fitted.loops.length).toBeLessThanOrEqual(rings.length);
      }),
      { numRuns: 80 },
    );
  });

  it("holds corners together where the grey between them is dark, and apart where it is light", () => {
    const ink = pattern("#.", ".#");
    const rings = (dark: number, light: number) =>
      outlineOf({ width: 2, height: 2, grey: Float32Array.from([dark, light, light, dark]) }, ink, 0.5);
    expect(rings(0.1, 0.6)).toHaveLength(1);
    expect(rings(0.4, 0.9)).toHaveLength(2);
  });

  it("obeys the ink where specks were taken away", () => {
    const grey = new Float32Array(25).fill(0.9);
    grey[12] = 0.1;
    const none = outlineOf({ width: 5, height: 5, grey }, { width: 5, height: 5, bits: new Uint8Array(25) }, 0.5);
    expect(none).toHaveLength(0);
    expect(patchesOf({ width: 5, height: 5, bits: new Uint8Array(25) }, 1).areas).toHaveLength(0);
  });
});

describe("fitting", () => {
  it("makes of a shaded disc's hundreds of corners a few arcs, with its area", () => {
    const disc = shaded(201, 201, (x, y) => Math.hypot(x - 100.5, y - 100.5) - 80);
    const ink = bitmap(201, 201, (x, y) => disc.grey[y * 201 + x]! < 0.5);
    const region = fitClear(outlineOf(disc, ink, 0.5), 0.3);
    expect(regionSegments(region).length).toBeLessThanOrEqual(6);
    expect(regionSegments(region).every((s) => s.kind === "arc")).toBe(true);
    expect(Math.abs(areaOf(region) - Math.PI * 6400)).toBeLessThan(2 * Math.PI * 80 * 0.3);
  });

  it("keeps to the rings where a looser fit would have them cross", () => {
    // Two waves a tenth apart: fitted within 2, each would be a straight line or a loose arc through the other.
    const wave = (off: number) => Array.from({ length: 81 }, (_, i) => ({ x: i / 2, y: off + Math.sin(i / 4) }));
    const upper = [...wave(0.1), { x: 40, y: 12 }, { x: 0, y: 12 }];
    const lower = [...wave(0).reverse(), { x: 0, y: -12 }, { x: 40, y: -12 }];
    const region = fitClear([upper, lower], 2);
    expect(areaOf(region)).toBeCloseTo(Math.abs(areaOfRing(upper)) + Math.abs(areaOfRing(lower)), -1);
    for (const [own, other] of [region.loops, [...region.loops].reverse()]) {
      for (const s of own!) {
        for (let t = 0; t < 10; t++) expect(containsPoint({ loops: [other!] }, pointAt(s, t / 10))).toBe(false);
      }
    }
  });
});
