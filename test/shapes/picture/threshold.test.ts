import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { greyPicture } from "../../../src/shapes/picture/grey-picture.ts";
import { flattenPaper, otsu } from "../../../src/shapes/picture/threshold.ts";
import { shaded } from "./drawn.ts";

describe("Otsu's threshold", () => {
  it("lies amid two greys, and knows their means", () => {
    const found = otsu(
      greyPicture(
        10,
        10,
        Array.from({ length: 100 }, (_, i) => (i < 30 ? 0.2 : 0.8)),
      ),
    );
    expect(found?.level).toBeCloseTo(0.5, 2);
    expect(found?.ink).toBeCloseTo(0.2, 6);
    expect(found?.paper).toBeCloseTo(0.8, 6);
  });

  it("has none for one grey", () => {
    expect(otsu(greyPicture(3, 3, new Array(9).fill(0.4)))).toBeUndefined();
  });

  it("parts any picture with the least variance within the two classes", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 255 }), { minLength: 2, maxLength: 60 }), (values) => {
        const picture = greyPicture(
          values.length,
          1,
          values.map((v) => (v + 0.5) / 256),
        );
        const found = otsu(picture);
        const within = (level: number): number => {
          let sum = 0;
          for (const side of [true, false]) {
            const own = values.map((v) => (v + 0.5) / 256).filter((v) => v < level === side);
            const mean = own.reduce((s, v) => s + v, 0) / own.length;
            for (const v of own) sum += (v - mean) ** 2;
          }
          return sum;
        };
        if (new Set(values).size === 1) {
          expect(found).toBeUndefined();
          return;
        }
        let least = Number.POSITIVE_INFINITY;
        for (let t = 1; t < 256; t++) {
          if (values.some((v) => v < t) && values.some((v) => v >= t)) least = Math.min(least, within(t / 256));
        }
        expect(within(found!.level)).toBeCloseTo(least, 6);
      }),
      { numRuns: 80 },
    );
  });
});

describe("white paper", () => {
  it("takes away a lamp from one side: ink parts from paper where one grey for all could not", () => {
    // From 1 at the left to 0.25 at the right; ink sends back a third of the light.
    const light = (x: number): number => 1 - 0.75 * (x / 400);
    const isInk = (x: number, y: number): boolean => Math.abs(y - 100 - 30 * Math.sin(x / 30)) < 4;
    const lit = shaded(400, 200, () => 0.5);
    for (let i = 0; i < lit.grey.length; i++) {
      const [x, y] = [i % 400, Math.floor(i / 400)];
      lit.grey[i] = light(x) * (isInk(x, y) ? 0.33 : 1);
    }
    const wrong = (p: { grey: Float32Array }, level: number): number =>
      p.grey.reduce((n, v, i) => n + (v < level === isInk(i % 400, Math.floor(i / 400)) ? 0 : 1), 0);
    const flat = flattenPaper(lit);
    expect(wrong(flat, otsu(flat)!.level)).toBe(0);
    expect(wrong(lit, otsu(lit)!.level)).toBeGreaterThan(1000);
  });

  it("keeps broad ink dark, and leaves even paper alone", () => {
    const p = shaded(240, 240, (x, y) => Math.hypot(x - 120, y - 120) - 40);
    const flat = flattenPaper(p);
    expect(flat.grey[120 * 240 + 120]).toBeLessThan(0.01);
    expect(flat.grey[5 * 240 + 5]).toBe(1);
    const even = flattenPaper(greyPicture(30, 20, new Array(600).fill(0.37)));
    expect(even.grey.every((v) => v === 1)).toBe(true);
    expect(flattenPaper(greyPicture(2, 1, [0, 0])).grey.every((v) => v === 1)).toBe(true);
  });
});
