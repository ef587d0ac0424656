import { describe, expect, it } from "vitest";
import type { GreyPicture } from "../../../src/shapes/picture/grey-picture.ts";
import { greyPicture } from "../../../src/shapes/picture/grey-picture.ts";
import { signatureOutline, signatureStrokes } from "../../../src/shapes/picture/signature.ts";
import type { Point } from "../../../src/shapes/point.ts";
import { areaOf, boundsOfRegion } from "../../../src/shapes/region.ts";
import { pointAt } from "../../../src/shapes/segment.ts";
import { fromChain, shaded } from "./drawn.ts";

/** Way of a pen: three loops in a row, as of a flourish. */
const WAY: readonly Point[] = Array.from({ length: 241 }, (_, i) => {
  const t = (i / 240) * 6 * Math.PI;
  return { x: 40 + t * 12 - 28 * Math.sin(t), y: 75 - 32 * Math.cos(t) };
});

/** A photo of it: uneven light, grain (a fixed run of pseudo-random numbers), and specks. */
function photo(): GreyPicture {
  const clean = shaded(320, 150, (x, y) => fromChain(WAY, { x, y }) - 2.5);
  let seed = 12_345;
  const random = (): number => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
    return seed / 2_147_483_648;
  };
  const grey = clean.grey.map((v, i) => {
    const [x, y] = [i % 320, Math.floor(i / 320)];
    const light = 0.85 - 0.5 * (x / 320) + 0.1 * (y / 150);
    return light * (0.15 + 0.85 * v) * (0.96 + 0.08 * random());
  });
  for (const at of [320 * 5 + 300, 320 * 140 + 12, 320 * 141 + 12]) grey[at] = 0.02;
  return { width: 320, height: 150, grey };
}

describe("a photographed signature", () => {
  it("gives the ink's area as lines and arcs, without its specks", () => {
    const got = signatureOutline(photo(), { width: 64 });
    if (!got.ok) throw new Error(got.findings[0]?.what);
    const { region, pitch, height, specks, findings } = { ...got.value, findings: got.findings };
    expect(findings).toEqual([]);
    expect([pitch, height]).toEqual([0.2, 30]);
    expect(specks).toBeGreaterThanOrEqual(2);
    // Three loops: an outside, three eyes and the two gaps where a loop laps the next.
    expect(region.loops.length).toBeLessThanOrEqual(7);
    for (const loop of region.loops) {
      for (const s of loop) {
        for (const t of [0, 0.5]) {
          const p = pointAt(s, t);
          expect(Math.abs(fromChain(WAY, { x: p.x / pitch, y: p.y / pitch }) - 2.5)).toBeLessThan(1.5);
        }
      }
    }
    const box = boundsOfRegion(region)!;
    expect(box.min.y).toBeCloseTo((75 - 32 - 2.5) * pitch, 0);
    expect(areaOf(region)).toBeGreaterThan(0);
  });

  it("gives the pen's way as strokes, and lines and arcs near it", () => {
    const got = signatureStrokes(photo(), { width: 64 });
    if (!got.ok) throw new Error(got.findings[0]?.what);
    const { strokes, pitch } = got.value;
    expect(strokes.length).toBeLessThanOrEqual(4);
    const found: Point[] = [];
    for (const s of strokes) {
      for (const piece of s.segments) {
        for (let t = 0; t <= 100; t++) {
          const p = pointAt(piece, t / 100);
          found.push({ x: p.x / pitch, y: p.y / pitch });
          expect(fromChain(WAY, found[found.length - 1]!)).toBeLessThan(3.5);
        }
      }
      expect(s.width / pitch).toBeGreaterThan(4);
      expect(s.width / pitch).toBeLessThan(7);
    }
    for (const p of WAY) expect(Math.min(...found.map((q) => Math.hypot(p.x - q.x, p.y - q.y)))).toBeLessThan(2.5);
  });

  it("refuses a picture with no ink, and cautions where it is faint", () => {
    const blank = signatureOutline(greyPicture(40, 30, new Array(1200).fill(0.7)), { width: 50 });
    expect(blank.findings[0]?.code).toBe("picture-no-ink");
    const grain = greyPicture(
      40,
      30,
      Array.from({ length: 1200 }, (_, i) => 0.7 + 0.01 * (i % 3)),
    );
    expect(signatureStrokes(grain, { width: 50 }).findings[0]?.code).toBe("picture-no-ink");
    const dust = greyPicture(
      40,
      30,
      Array.from({ length: 1200 }, (_, i) => (i % 397 === 5 ? 0.1 : 0.7)),
    );
    expect(signatureOutline(dust, { width: 50 }).findings[0]?.why).toMatch(/specks/);
    const faint = shaded(80, 60, (x, y) => Math.hypot(x - 40, y - 30) - 12);
    const pale = { ...faint, grey: faint.grey.map((v) => 0.6 + 0.1 * v) };
    const got = signatureOutline(pale, { width: 50 });
    expect(got.ok).toBe(true);
    expect(got.findings.map((f) => f.code)).toEqual(["picture-faint"]);
    expect(() => signatureOutline(pale, { width: 0 })).toThrow(RangeError);
  });

  it("takes a given level and speck size as given", () => {
    const dot = shaded(60, 60, (x, y) => Math.hypot(x - 30, y - 30) - 10);
    const area = (level: number): number => {
      const got = signatureOutline(dot, { width: 60, level, tolerance: 0.05 });
      return got.ok ? areaOf(got.value.region) : 0;
    };
    expect(area(0.75)).toBeGreaterThan(area(0.5));
    expect(area(0.5)).toBeGreaterThan(area(0.25));
    expect(signatureOutline(dot, { width: 60, speck: 2000 }).findings[0]?.code).toBe("picture-no-ink");
  });
});
