import type { Bitmap } from "./grey-picture.ts";

/** Connected patches of a bitmap. */
export interface Patches {
  /** Number of each pixel's patch, from 0; −1 outside all. */
  readonly of: Int32Array;
  /** Pixels of each patch. */
  readonly areas: readonly number[];
  /** Whether each patch reaches the picture's border. */
  readonly atBorder: readonly boolean[];
}

/**
 * Patches of the pixels that hold `value`. Ink (1) holds together over corners too, and then paper (0) does not, so that a
 * line one pixel wide parts the paper on its two sides.
 */
export function patchesOf(bitmap: Bitmap, value: 0 | 1): Patches {
  const { width, height, bits } = bitmap;
  const of = new Int32Array(bits.length).fill(-1);
  const areas: number[] = [];
  const atBorder: boolean[] = [];
  const queue = new Int32Array(bits.length);
  for (let start = 0; start < bits.length; start++) {
    if (bits[start] !== value || of[start] !== -1) continue;
    const patch = areas.length;
    let border = false;
    let head = 0;
    let tail = 0;
    queue[tail++] = start;
    of[start] = patch;
    while (head < tail) {
      const p = queue[head++]!;
      const x = p % width;
      const y = (p - x) / width;
      border ||= x === 0 || y === 0 || x === width - 1 || y === height - 1;
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          if (value === 0 && dx !== 0 && dy !== 0) continue;
          const nx = x + dx;
          const ny = y + dy;
          if (nx < 0 || ny < 0 || nx >= width || ny >= height) continue;
          const q = ny * width + nx;
          if (bits[q] !== value || of[q] !== -1) continue;
          of[q] = patch;
          queue[tail++] = q;
        }
      }
    }
    areas.push(tail);
    atBorder.push(border);
  }
  return { of, areas, atBorder };
}

/** A bitmap cleared of what is too small to have been meant. */
export interface Cleared {
  readonly bitmap: Bitmap;
  /** Patches of ink taken away, and holes in ink filled. */
  readonly specks: number;
  readonly pinholes: number;
}

/**
 * Takes away patches of ink, and fills holes in ink, of fewer than `least` pixels.
 * @param least pixels; 1 or less keeps all
 */
export function despeckle(bitmap: Bitmap, least: number): Cleared {
  const bits = bitmap.bits.slice();
  const ink = patchesOf(bitmap, 1);
  for (let i = 0; i < bits.length; i++) if (bits[i] === 1 && ink.areas[ink.of[i]!]! < least) bits[i] = 0;
  const without = { width: bitmap.width, height: bitmap.height, bits };
  const paper = patchesOf(without, 0);
  const filled = bits.slice();
  const small = paper.areas.map((area, k) => area < least && !paper.atBorder[k]!);
  for (let i = 0; i < bits.length; i++) if (bits[i] === 0 && small[paper.of[i]!]!) filled[i] = 1;
  return {
    bitmap: { width: bitmap.width, height: bitmap.height, bits: filled },
    specks: ink.areas.filter((area) => area < least).length,
    pinholes: small.filter((s) => s).length,
  };
}
