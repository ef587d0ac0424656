import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  coordinate,
  countsAtLeast,
  countsOf,
  feedText,
  mmOf,
  rasterOf,
  secondsText,
} from "../../src/program/number.ts";
import { POSTS, post } from "./fixtures.ts";

const mm = rasterOf(post("millimetre"));
const inch = rasterOf(post("inch"));
const written = (value: number): string => coordinate(countsOf(value, mm), mm);

describe("numbers in programs", () => {
  it("are fixed notation with a point and a figure on both sides, and no minus zero", () => {
    expect([0, -0, -0.00001, 12, 12.5, -0.5, 0.0001, 1234.56789, -3.10002].map(written)).toEqual([
      "0.0",
      "0.0",
      "0.0",
      "12.0",
      "12.5",
      "-0.5",
      "0.0001",
      "1234.5679",
      "-3.1",
    ]);
    expect(coordinate(countsOf(25.4, inch), inch)).toBe("1.0");
    expect(coordinate(countsOf(1, inch), inch)).toBe("0.03937");
  });

  it("read back within half a step, and mirrored sizes give mirrored numbers", () => {
    for (const raster of POSTS.map((p) => rasterOf(post(p)))) {
      fc.assert(
        fc.property(fc.double({ min: -2000, max: 2000, noNaN: true }), (v) => {
          const text = coordinate(countsOf(v, raster), raster);
          expect(text).toMatch(/^-?\d+\.\d{1,5}$/);
          expect(text).not.toMatch(/^-0\.0+$/);
          const back = Number(text) * (raster.decimals === 5 ? 25.4 : 1);
          expect(Math.abs(back - v)).toBeLessThanOrEqual(raster.step / 2 + 1e-9);
          const other = coordinate(countsOf(-v, raster), raster);
          expect(other.replace("-", "")).toBe(text.replace("-", ""));
        }),
      );
    }
  });

  it("for safe heights never come out lower", () => {
    fc.assert(
      fc.property(fc.integer({ min: -50_000, max: 50_000 }), (micro) => {
        const z = micro / 1000;
        const counts = countsAtLeast(z, inch);
        expect(mmOf(counts, inch)).toBeGreaterThanOrEqual(z - 1e-9);
        expect(mmOf(counts - 1, inch)).toBeLessThan(z);
      }),
    );
  });

  it("for feeds never come out faster, for waits never shorter", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 20_000, noNaN: true }), (f) => {
        expect(Number(feedText(f, post("millimetre")))).toBeLessThanOrEqual(f + 1e-6);
        expect(Number(feedText(f, post("inch"))) * 25.4).toBeLessThanOrEqual(f + 1e-6);
        expect(Number(feedText(f, post("millimetre")))).toBeGreaterThan(f - 0.11);
        expect(Number(secondsText(f / 100))).toBeGreaterThanOrEqual(f / 100 - 1e-7);
      }),
    );
    expect(feedText(1200, post("millimetre"))).toBe("1200.0");
    expect(feedText(2540, post("inch"))).toBe("100.0");
  });

  it("of our own mistakes throw", () => {
    expect(() => countsOf(Number.NaN, mm)).toThrow(RangeError);
    expect(() => countsOf(1e9, mm)).toThrow(RangeError);
    expect(() => feedText(0.01, post("millimetre"))).toThrow(RangeError);
    expect(() => feedText(Number.NaN, post("millimetre"))).toThrow(RangeError);
    expect(() => feedText(Number.POSITIVE_INFINITY, post("millimetre"))).toThrow(RangeError);
    expect(() => secondsText(-1)).toThrow(RangeError);
  });
});
