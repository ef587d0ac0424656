import type { Bitmap, GreyPicture } from "../../../src/shapes/picture/grey-picture.ts";
import type { Point } from "../../../src/shapes/point.ts";

/** A picture of pixels whose grey is the paper's share of each, from a signed distance to the ink's edge (inside below 0). */
export function shaded(width: number, height: number, edge: (x: number, y: number) => number): GreyPicture {
  const grey = new Float32Array(width * height);
  for (let row = 0; row < height; row++) {
    for (let x = 0; x < width; x++) {
      grey[row * width + x] = Math.min(1, Math.max(0, 0.5 + edge(x + 0.5, height - row - 0.5)));
    }
  }
  return { width, height, grey };
}

/** Pixels that are ink, from rows of text. */
export function pattern(...rows: readonly string[]): Bitmap {
  return {
    width: rows[0]!.length,
    height: rows.length,
    bits: Uint8Array.from(rows.join(""), (c) => (c === "#" ? 1 : 0)),
  };
}

export function bitmap(width: number, height: number, ink: (x: number, row: number) => boolean): Bitmap {
  const bits = new Uint8Array(width * height);
  for (let row = 0, i = 0; row < height; row++) for (let x = 0; x < width; x++, i++) bits[i] = ink(x, row) ? 1 : 0;
  return { width, height, bits };
}

export function text(b: Bitmap): string[] {
  return Array.from({ length: b.height }, (_, row) =>
    Array.from(b.bits.subarray(row * b.width, (row + 1) * b.width), (v) => (v === 1 ? "#" : ".")).join(""),
  );
}

export function count(b: Bitmap): number {
  return b.bits.reduce((sum, v) => sum + v, 0);
}

/** Distance of a point from a chain of straight lines. */
export function fromChain(chain: readonly Point[], p: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < chain.length; i++) {
    const a = chain[i - 1]!;
    const b = chain[i]!;
    const length2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
    const t = length2 === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length2;
    const s = Math.min(1, Math.max(0, t));
    least = Math.min(least, Math.hypot(p.x - a.x - s * (b.x - a.x), p.y - a.y - s * (b.y - a.y)));
  }
  return least;
}
