import type { Bitmap } from "./grey-picture.ts";

/**
 * How deep each ink pixel's middle lies in the ink, in pixels: the straight distance to the nearest paper pixel's middle,
 * less the half pixel that the edge lies nearer. 0 on paper. Beyond the picture is paper. Exact.
 * Source: Felzenszwalb & Huttenlocher, Theory of Computing 8, 2012 (lower envelope of parabolas; from memory).
 */
export function inkDepth(ink: Bitmap): Float32Array {
  const { width, height, bits } = ink;
  const squares = new Float64Array(bits.length);
  const far = (width + height + 2) ** 2;
  const most = Math.max(width, height) + 2;
  const values = new Float64Array(most);
  const out = new Float64Array(most);
  const at = new Int32Array(most);
  const from = new Float64Array(most + 1);
  for (let x = 0; x < width; x++) {
    values[0] = 0;
    values[height + 1] = 0;
    for (let y = 0; y < height; y++) values[y + 1] = bits[y * width + x] === 1 ? far : 0;
    envelope(values, height + 2, out, at, from);
    for (let y = 0; y < height; y++) squares[y * width + x] = out[y + 1]!;
  }
  const depth = new Float32Array(bits.length);
  for (let y = 0; y < height; y++) {
    values[0] = 0;
    values[width + 1] = 0;
    for (let x = 0; x < width; x++) values[x + 1] = squares[y * width + x]!;
    envelope(values, width + 2, out, at, from);
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      if (bits[i] === 1) depth[i] = Math.sqrt(out[x + 1]!) - 0.5;
    }
  }
  return depth;
}

/** out[q] = least over p of (q − p)² + f[p], for the first n. */
function envelope(f: Float64Array, n: number, out: Float64Array, at: Int32Array, from: Float64Array): void {
  let k = 0;
  at[0] = 0;
  from[0] = Number.NEGATIVE_INFINITY;
  from[1] = Number.POSITIVE_INFINITY;
  for (let q = 1; q < n; q++) {
    let meet = 0;
    for (;;) {
      const p = at[k]!;
      meet = (f[q]! + q * q - f[p]! - p * p) / (2 * (q - p));
      if (meet > from[k]!) break;
      k--;
    }
    k++;
    at[k] = q;
    from[k] = meet;
    from[k + 1] = Number.POSITIVE_INFINITY;
  }
  k = 0;
  for (let q = 0; q < n; q++) {
    while (from[k + 1]! < q) k++;
    const p = at[k]!;
    out[q] = (q - p) ** 2 + f[p]!;
  }
}
