import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Bitmap } from "../../../src/shapes/picture/grey-picture.ts";
import { inkDepth } from "../../../src/shapes/picture/ink-depth.ts";
import { despeckle, patchesOf } from "../../../src/shapes/picture/specks.ts";
import { thin } from "../../../src/shapes/picture/thin.ts";
import { bitmap, count, pattern, text } from "./drawn.ts";

const inks: fc.Arbitrary<Bitmap> = fc
  .tuple(fc.integer({ min: 1, max: 16 }), fc.integer({ min: 1, max: 16 }), fc.integer({ min: 2, max: 9 }))
  .chain(([w, h, share]) =>
    fc
      .array(fc.integer({ min: 0, max: 9 }), { minLength: w * h, maxLength: w * h })
      .map((v) => ({ width: w, height: h, bits: Uint8Array.from(v, (n) => (n < share ? 1 : 0)) })),
  );

describe("thinning", () => {
  it("leaves of a bar its middle row", () => {
    const bar = thin(bitmap(14, 7, (x, y) => x >= 2 && x < 12 && y >= 2 && y < 5));
    expect(count(bar)).toBe(7);
    expect(text(bar).filter((row) => row.includes("#"))).toHaveLength(1);
    expect(text(bar)[3]).toContain("#######");
    expect(count(thin(bitmap(24, 9, (x, y) => x >= 2 && x < 22 && y >= 2 && y < 7)))).toBe(15);
  });

  it("thins a cross of two bars, and a ring", () => {
    const cross = bitmap(17, 17, (x, y) => {
      const across = x >= 2 && x < 15 && y >= 7 && y < 10;
      return across || (y >= 2 && y < 15 && x >= 7 && x < 10);
    });
    expect(count(thin(cross))).toBe(19);
    const ring = thin(bitmap(41, 41, (x, y) => Math.hypot(x - 20, y - 20) > 11 && Math.hypot(x - 20, y - 20) < 16));
    expect(count(ring)).toBe(76);
    let radius = 0;
    for (let i = 0; i < ring.bits.length; i++)
      if (ring.bits[i] === 1) radius += Math.hypot((i % 41) - 20, Math.floor(i / 41) - 20);
    expect(radius / 76).toBeCloseTo(13.32, 2);
  });

  it("keeps a square of two by two, which the rule alone would lose", () => {
    const square = thin(pattern("....", ".##.", ".##.", "...."));
    expect(count(square)).toBe(4);
    expect(square.kept).toEqual([[5, 6, 9, 10]]);
  });

  it("keeps every patch, in one piece, inside the ink, and every hole", () => {
    fc.assert(
      fc.property(inks, (ink) => {
        const lines = thin(ink);
        for (let i = 0; i < ink.bits.length; i++) expect(lines.bits[i]!).toBeLessThanOrEqual(ink.bits[i]!);
        expect(patchesOf(lines, 1).areas.length).toBe(patchesOf(ink, 1).areas.length);
        const holes = (b: Bitmap): number => patchesOf(b, 0).atBorder.filter((x) => !x).length;
        expect(holes(lines)).toBeGreaterThanOrEqual(holes(ink));
      }),
      { numRuns: 100 },
    );
  });
});

describe("depth of ink", () => {
  it("is the distance to the nearest paper, less half a pixel", () => {
    fc.assert(
      fc.property(inks, (ink) => {
        const depth = inkDepth(ink);
        for (let y = 0; y < ink.height; y++) {
          for (let x = 0; x < ink.width; x++) {
            let least = Number.POSITIVE_INFINITY;
            for (let v = -1; v <= ink.height; v++) {
              for (let u = -1; u <= ink.width; u++) {
                const inside = u >= 0 && v >= 0 && u < ink.width && v < ink.height;
                if (!inside || ink.bits[v * ink.width + u] === 0) least = Math.min(least, Math.hypot(u - x, v - y));
              }
            }
            expect(depth[y * ink.width + x]).toBeCloseTo(Math.max(0, least - 0.5), 5);
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe("specks", () => {
  it("drops small patches, fills small holes, keeps the rest to the pixel", () => {
    const cleared = despeckle(
      pattern("#.........", "..######..", "..#.####..", "..####.#..", "..######.#", "#.......#."),
      3,
    );
    expect(text(cleared.bitmap)).toEqual([
      "..........",
      "..######..",
      "..######..",
      "..######..",
      "..######..".replace(/\.\.$/, ".#"),
      "........#.",
    ]);
    expect([cleared.specks, cleared.pinholes]).toEqual([2, 2]);
  });

  it("leaves no patch and no hole below the size, and nothing else changed", () => {
    fc.assert(
      fc.property(inks, fc.integer({ min: 0, max: 6 }), (ink, least) => {
        const { bitmap: out } = despeckle(ink, least);
        expect(patchesOf(out, 1).areas.every((a) => a >= least)).toBe(true);
        const paper = patchesOf(out, 0);
        expect(paper.areas.every((a, k) => a >= least || paper.atBorder[k])).toBe(true);
        if (least <= 1) expect(text(out)).toEqual(text(ink));
      }),
      { numRuns: 80 },
    );
  });
});
