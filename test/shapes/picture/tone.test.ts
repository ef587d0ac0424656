import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dither } from "../../../src/shapes/picture/dither.ts";
import { greyPicture, meanGrey } from "../../../src/shapes/picture/grey-picture.ts";
import { askFor, type TonePoint, toneCurve } from "../../../src/shapes/picture/tone.ts";

/** Dots grown fat: what a card looks like where half of each dot's neighbourhood is burned as well. */
const FAT: readonly TonePoint[] = [
  { asked: 0, got: 0.12 },
  { asked: 0.25, got: 0.15 },
  { asked: 0.5, got: 0.22 },
  { asked: 0.75, got: 0.4 },
  { asked: 1, got: 0.62 },
];

function curveOf(fields: readonly TonePoint[]) {
  const made = toneCurve(fields);
  if (!made.ok) throw new Error(made.findings[0]?.what);
  return made.value;
}

describe("tone curve", () => {
  it("asks for each measured field what gave it", () => {
    const greys = FAT.map((f) => (f.got - 0.12) / 0.5);
    const asked = askFor(greyPicture(5, 1, greys), curveOf(FAT));
    FAT.forEach((f, i) => {
      expect(asked.grey[i]).toBeCloseTo(f.asked, 6);
    });
  });

  it("leaves a picture as it is on a wood that gives what is asked", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 1, maxLength: 30 }), (v) => {
        const p = greyPicture(
          v.length,
          1,
          v.map((n) => n / 1000),
        );
        const straight = curveOf([
          { asked: 1, got: 0.9 },
          { asked: 0, got: 0.1 },
          { asked: 0.5, got: 0.5 },
        ]);
        const asked = askFor(p, straight);
        for (let i = 0; i < v.length; i++) expect(asked.grey[i]).toBeCloseTo(p.grey[i]!, 6);
      }),
      { numRuns: 50 },
    );
  });

  it("makes lighter greys lighter, within 0 to 1, and undoes what the wood does", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1000 }), fc.integer({ min: 0, max: 1000 }), (a, b) => {
        const { grey } = askFor(greyPicture(2, 1, [a / 1000, b / 1000]), curveOf(FAT));
        if (a < b) expect(grey[0]).toBeLessThan(grey[1]!);
        for (const [i, n] of [a, b].entries()) {
          const asked = grey[i]!;
          expect(asked).toBeGreaterThanOrEqual(0);
          expect(asked).toBeLessThanOrEqual(1);
          const k = Math.min(3, Math.floor(asked * 4));
          const [p, q] = [FAT[k]!, FAT[k + 1]!];
          const shown = p.got + ((asked - p.asked) / 0.25) * (q.got - p.got);
          expect((shown - 0.12) / 0.5).toBeCloseTo(n / 1000, 5);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("changes how many dots are burned", () => {
    const p = greyPicture(32, 32, new Array(1024).fill(0.2));
    const dots = dither(askFor(p, curveOf(FAT)), { kind: "floyd-steinberg", serpentine: true });
    // 0.2 of the wood's range lies on the field asked at one half.
    expect(meanGrey(askFor(p, curveOf(FAT)))).toBeCloseTo(0.5, 6);
    expect(dots.bits.reduce((s, b) => s + b, 0)).toBeGreaterThan(480);
  });

  it.each<[string, readonly TonePoint[], RegExp]>([
    ["none", [], /lacks an end/],
    ["no bare wood", FAT.slice(0, 4), /lacks an end/],
    ["flat", [FAT[0]!, { asked: 0.5, got: 0.12 }, FAT[4]!], /no lighter from the field 0 to the field 0.5/],
    ["twice the same field", [FAT[0]!, FAT[2]!, { asked: 0.5, got: 0.3 }, FAT[4]!], /no lighter/],
    ["no number", [FAT[0]!, { asked: Number.NaN, got: 0.3 }, FAT[4]!], /no number/],
  ])("refuses %s", (_, fields, what) => {
    const made = toneCurve(fields);
    expect(made.ok).toBe(false);
    expect(made.findings[0]?.code).toBe("picture-tone");
    expect(made.findings[0]?.what).toMatch(what);
  });
});
