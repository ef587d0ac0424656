import type { Bitmap, GreyPicture } from "./grey-picture.ts";

/** Published ways of standing in for grey with dots. The first three pass each dot's error on to its neighbours. */
export type Dithering =
  | { readonly kind: "floyd-steinberg"; readonly serpentine: boolean }
  | { readonly kind: "jarvis-judice-ninke"; readonly serpentine: boolean }
  | { readonly kind: "stucki"; readonly serpentine: boolean }
  | { readonly kind: "bayer"; readonly size: 4 | 8 };

/** A picture in dots. */
export interface Dots extends Bitmap {
  /** 1 is left bare, 0 is burned. */
  readonly bits: Uint8Array;
  /** Error carried over the picture's border: the sum of its greys less the number of bare dots. */
  readonly spilled: number;
}

/**
 * Stands in for a picture's greys with dots, one a pixel. A dot is bare where grey and the errors it has been handed come to
 * 0.5 or more. `serpentine` works every other row from right to left, which halves worm-like streaks (Ulichney, Digital
 * Halftoning, 1987, from memory). Apply the shop's tone curve first (`askFor`).
 */
export function dither(picture: GreyPicture, way: Dithering): Dots {
  switch (way.kind) {
    case "floyd-steinberg":
      return diffuse(picture, FLOYD_STEINBERG, way.serpentine);
    case "jarvis-judice-ninke":
      return diffuse(picture, JARVIS_JUDICE_NINKE, way.serpentine);
    case "stucki":
      return diffuse(picture, STUCKI, way.serpentine);
    case "bayer":
      return ordered(picture, bayer(way.size));
  }
}

/** Shares of a dot's error for its neighbours: [pixels ahead, rows below, parts]. The parts of one add up to `of`. */
interface Kernel {
  readonly of: number;
  readonly shares: readonly (readonly [number, number, number])[];
}

/** Floyd & Steinberg, Proc. SID 17(2), 1976. */
const FLOYD_STEINBERG: Kernel = {
  of: 16,
  shares: [
    [1, 0, 7],
    [-1, 1, 3],
    [0, 1, 5],
    [1, 1, 1],
  ],
};

/** Jarvis, Judice & Ninke, CGIP 5, 1976. */
const JARVIS_JUDICE_NINKE: Kernel = {
  of: 48,
  shares: [
    [1, 0, 7],
    [2, 0, 5],
    [-2, 1, 3],
    [-1, 1, 5],
    [0, 1, 7],
    [1, 1, 5],
    [2, 1, 3],
    [-2, 2, 1],
    [-1, 2, 3],
    [0, 2, 5],
    [1, 2, 3],
    [2, 2, 1],
  ],
};

/** Stucki, IBM research report RZ1060, 1981. */
const STUCKI: Kernel = {
  of: 42,
  shares: [
    [1, 0, 8],
    [2, 0, 4],
    [-2, 1, 2],
    [-1, 1, 4],
    [0, 1, 8],
    [1, 1, 4],
    [2, 1, 2],
    [-2, 2, 1],
    [-1, 2, 2],
    [0, 2, 4],
    [1, 2, 2],
    [2, 2, 1],
  ],
};

/** No kernel reaches farther to a side. */
const REACH = 2;

function diffuse(picture: GreyPicture, kernel: Kernel, serpentine: boolean): Dots {
  const { width, height, grey } = picture;
  const bits = new Uint8Array(width * height);
  // Three rows of handed-on error, with room at each side to catch what goes over the border.
  const stride = width + 2 * REACH;
  let rows = [new Float64Array(stride), new Float64Array(stride), new Float64Array(stride)] as const;
  const ahead = kernel.shares.map((s) => s[0]);
  const below = kernel.shares.map((s) => s[1]);
  const parts = kernel.shares.map((s) => s[2]);
  let spilled = 0;
  for (let y = 0; y < height; y++) {
    const back = serpentine && y % 2 === 1;
    const sense = back ? -1 : 1;
    for (let n = 0; n < width; n++) {
      const x = back ? width - 1 - n : n;
      const value = grey[y * width + x]! + rows[0][x + REACH]!;
      const bare = value >= 0.5 ? 1 : 0;
      bits[y * width + x] = bare;
      const error = value - bare;
      for (let k = 0; k < parts.length; k++) {
        rows[below[k]!]![x + REACH + sense * ahead[k]!]! += (error * parts[k]!) / kernel.of;
      }
    }
    for (let k = 0; k < REACH; k++) spilled += rows[0][k]! + rows[0][stride - 1 - k]!;
    const [done, next, after] = rows;
    done.fill(0);
    rows = [next, after, done];
  }
  // What was meant for rows below the last.
  for (const row of rows) for (const error of row) spilled += error;
  return { width, height, bits, spilled };
}

/**
 * Bayer's threshold matrix: M(2n) = [4M, 4M + 2; 4M + 3, 4M + 1] from M(1) = 0, row after row.
 * Source: Bayer, IEEE International Conference on Communications, 1973.
 * @param size a power of two
 */
export function bayer(size: number): readonly (readonly number[])[] {
  if (size === 1) return [[0]];
  const half = bayer(size / 2);
  const n = half.length;
  const add = [
    [0, 2],
    [3, 1],
  ] as const;
  return Array.from({ length: 2 * n }, (_, y) =>
    Array.from({ length: 2 * n }, (_, x) => 4 * half[y % n]![x % n]! + add[y < n ? 0 : 1][x < n ? 0 : 1]),
  );
}

function ordered(picture: GreyPicture, matrix: readonly (readonly number[])[]): Dots {
  const { width, height, grey } = picture;
  const n = matrix.length;
  const bits = new Uint8Array(width * height);
  let spilled = 0;
  for (let y = 0, i = 0; y < height; y++) {
    const row = matrix[y % n]!;
    for (let x = 0; x < width; x++, i++) {
      bits[i] = grey[i]! > (row[x % n]! + 0.5) / (n * n) ? 1 : 0;
      spilled += grey[i]! - bits[i]!;
    }
  }
  return { width, height, bits, spilled };
}
