import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bayer, type Dithering, type Dots, dither } from "../../../src/shapes/picture/dither.ts";
import { type GreyPicture, greyPicture } from "../../../src/shapes/picture/grey-picture.ts";

const FS: Dithering = { kind: "floyd-steinberg", serpentine: false };
const JJN: Dithering = { kind: "jarvis-judice-ninke", serpentine: false };
const STUCKI: Dithering = { kind: "stucki", serpentine: false };

/** Even grey; double precision, so that a check value does not hang on the rounding of 0.1. */
function even(width: number, height: number, v: number): GreyPicture {
  return { width, height, grey: new Float64Array(width * height).fill(v) as unknown as Float32Array };
}

function bare(dots: Dots): number {
  return dots.bits.reduce((sum, b) => sum + b, 0);
}

function rows(dots: Dots): string {
  const lines: string[] = [];
  for (let y = 0; y < dots.height; y++)
    lines.push([...dots.bits.subarray(y * dots.width, (y + 1) * dots.width)].join(""));
  return lines.join("/");
}

describe("published patterns", () => {
  it("gives the patterns worked out by hand for even greys", () => {
    expect(rows(dither(even(4, 4, 0.5), FS))).toBe("1010/0101/1010/0101");
    expect(rows(dither(even(4, 4, 0.25), FS))).toBe("0000/0101/0000/0100");
  });

  it.each([
    [FS, 0.5, 64, 2048],
    [JJN, 0.5, 64, 2048],
    [STUCKI, 0.5, 64, 2048],
    [FS, 0.25, 64, 996],
    [JJN, 0.25, 64, 991],
    [STUCKI, 0.25, 64, 996],
    [FS, 0.1, 64, 391],
    [JJN, 0.1, 64, 366],
    [STUCKI, 0.1, 64, 370],
    [FS, 0.25, 256, 16_260],
    [FS, 0.25, 512, 65_284],
    [{ kind: "bayer", size: 8 } as const, 0.25, 64, 1024],
    [{ kind: "bayer", size: 8 } as const, 0.3, 64, 1216],
    [{ kind: "bayer", size: 8 } as const, 0.5, 64, 2048],
  ])("%o of grey %d on %d pixels square leaves %d bare", (way, grey, size, count) => {
    expect(bare(dither(even(size, size, grey), way))).toBe(count);
    expect(bare(dither(greyPicture(size, size, new Array(size * size).fill(grey)), way))).toBe(count);
  });

  it("builds Bayer's matrix", () => {
    expect(bayer(4)).toEqual([
      [0, 8, 2, 10],
      [12, 4, 14, 6],
      [3, 11, 1, 9],
      [15, 7, 13, 5],
    ]);
    expect([...bayer(8).flat()].sort((a, b) => a - b)).toEqual(Array.from({ length: 64 }, (_, i) => i));
  });
});

const pictures = fc.tuple(fc.integer({ min: 1, max: 24 }), fc.integer({ min: 1, max: 24 })).chain(([w, h]) =>
  fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: w * h, maxLength: w * h }).map((v) =>
    greyPicture(
      w,
      h,
      v.map((n) => n / 1000),
    ),
  ),
);

const ways: fc.Arbitrary<Dithering> = fc.oneof(
  fc
    .constantFrom("floyd-steinberg" as const, "jarvis-judice-ninke" as const, "stucki" as const)
    .chain((kind) => fc.boolean().map((serpentine) => ({ kind, serpentine }))),
  fc.constantFrom(4 as const, 8 as const).map((size) => ({ kind: "bayer" as const, size })),
);

describe("any picture", () => {
  it("loses no grey but over the border", () => {
    fc.assert(
      fc.property(pictures, ways, (picture, way) => {
        const dots = dither(picture, way);
        const sum = picture.grey.reduce((s, v) => s + v, 0);
        expect(Math.abs(sum - bare(dots) - dots.spilled)).toBeLessThanOrEqual(1e-12 * Math.max(1, sum));
      }),
      { numRuns: 100 },
    );
  });

  it("leaves white white and black black", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 30 }), ways, (w, h, way) => {
        expect(bare(dither(even(w, h, 1), way))).toBe(w * h);
        expect(bare(dither(even(w, h, 0), way))).toBe(0);
      }),
      { numRuns: 40 },
    );
  });

  it("hands the same error on, mirrored, in every other row of a serpentine", () => {
    fc.assert(
      fc.property(pictures, (picture) => {
        // The first row runs forward, as in a picture of that row alone.
        const { width, height, grey } = picture;
        const flipped = greyPicture(
          width,
          height,
          Array.from(grey, (_, i) => grey[i - (i % width) + (width - 1 - (i % width))]!),
        );
        const above = dither({ width, height: 1, grey: grey.slice(0, width) }, FS);
        const snake = dither(picture, { kind: "floyd-steinberg", serpentine: true });
        expect([...snake.bits.subarray(0, width)]).toEqual([...above.bits]);
        // A black row first: nothing is handed on, so the backward row is the forward row of the mirrored picture.
        const lead = (p: GreyPicture): GreyPicture =>
          greyPicture(width, 2, [...new Array(width).fill(0), ...p.grey.subarray(0, width)]);
        const backward = dither(lead(picture), { kind: "floyd-steinberg", serpentine: true }).bits.subarray(width);
        const forward = dither(lead(flipped), FS).bits.subarray(width);
        expect([...backward].reverse()).toEqual([...forward]);
      }),
      { numRuns: 60 },
    );
  });
});
