import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { greyPicture, meanGrey } from "../../../src/shapes/picture/grey-picture.ts";
import { resample } from "../../../src/shapes/picture/resample.ts";

const pictures = fc.tuple(fc.integer({ min: 1, max: 20 }), fc.integer({ min: 1, max: 20 })).chain(([w, h]) =>
  fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: w * h, maxLength: w * h }).map((v) =>
    greyPicture(
      w,
      h,
      v.map((n) => n / 1000),
    ),
  ),
);
const sizes = fc.integer({ min: 1, max: 30 });

describe("resample", () => {
  it("averages whole blocks", () => {
    const p = greyPicture(4, 2, [0, 1, 0.5, 0.5, 0, 1, 1, 1]);
    expect([...resample(p, 2, 1).grey]).toEqual([0.5, 0.75]);
  });

  it("takes thirds of a pixel where they fall", () => {
    const p = greyPicture(3, 1, [0, 0.75, 0]);
    const halves = resample(p, 2, 1).grey;
    expect(halves[0]).toBeCloseTo(0.25, 6);
    expect(halves[1]).toBeCloseTo(0.25, 6);
  });

  it("keeps the mean, and stays between darkest and lightest", () => {
    fc.assert(
      fc.property(pictures, sizes, sizes, (p, w, h) => {
        const q = resample(p, w, h);
        expect(meanGrey(q)).toBeCloseTo(meanGrey(p), 5);
        const [least, most] = [Math.min(...p.grey), Math.max(...p.grey)];
        for (const v of q.grey) {
          expect(v).toBeGreaterThanOrEqual(least - 1e-6);
          expect(v).toBeLessThanOrEqual(most + 1e-6);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("undoes an enlargement by whole steps", () => {
    fc.assert(
      fc.property(pictures, fc.integer({ min: 1, max: 4 }), (p, k) => {
        const back = resample(resample(p, p.width * k, p.height * k), p.width, p.height);
        for (let i = 0; i < p.grey.length; i++) expect(back.grey[i]).toBeCloseTo(p.grey[i]!, 5);
      }),
      { numRuns: 40 },
    );
  });

  it("refuses sizes that cannot be", () => {
    const p = greyPicture(1, 1, [0]);
    expect(() => resample(p, 0, 1)).toThrow(RangeError);
    expect(() => resample(p, 1.5, 1)).toThrow(RangeError);
    expect(() => greyPicture(2, 2, [0])).toThrow(RangeError);
  });
});
