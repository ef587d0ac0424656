import type { GreyPicture } from "./grey-picture.ts";

/**
 * A picture with other numbers of pixels: each new pixel is the mean of what it covers of the old ones, taken as even
 * squares. The mean of the whole picture stays as it is.
 * @param width, height whole, ≥ 1
 */
export function resample(picture: GreyPicture, width: number, height: number): GreyPicture {
  if (!(Number.isInteger(width) && Number.isInteger(height) && width >= 1 && height >= 1)) {
    throw new RangeError(`a picture cannot be ${width} × ${height}`);
  }
  if (width === picture.width && height === picture.height) return picture;
  const across = sharesAlong(picture.width, width);
  const down = sharesAlong(picture.height, height);
  // First across, then down: the area of a square is the product of its sides.
  const narrow = new Float64Array(width * picture.height);
  for (let y = 0; y < picture.height; y++) {
    const row = y * picture.width;
    for (let x = 0; x < width; x++) {
      const { first, weights } = across[x]!;
      let sum = 0;
      for (let k = 0; k < weights.length; k++) sum += weights[k]! * picture.grey[row + first + k]!;
      narrow[y * width + x] = sum;
    }
  }
  const grey = new Float32Array(width * height);
  const line = new Float64Array(width);
  for (let y = 0; y < height; y++) {
    const { first, weights } = down[y]!;
    line.fill(0);
    for (let k = 0; k < weights.length; k++) {
      const row = (first + k) * width;
      for (let x = 0; x < width; x++) line[x]! += weights[k]! * narrow[row + x]!;
    }
    grey.set(line, y * width);
  }
  return { width, height, grey };
}

interface Shares {
  readonly first: number;
  readonly weights: readonly number[];
}

/** For each of `to` new cells, the old cells it covers and by which share of itself. */
function sharesAlong(from: number, to: number): Shares[] {
  return Array.from({ length: to }, (_, i) => {
    // In units of 1 / (from × to) of the whole, both grids lie on whole numbers, so no cell is missed by rounding.
    const low = i * from;
    const high = low + from;
    const first = Math.floor(low / to);
    const last = Math.ceil(high / to);
    const weights: number[] = [];
    for (let k = first; k < last; k++) {
      weights.push((Math.min(high, (k + 1) * to) - Math.max(low, k * to)) / from);
    }
    return { first, weights };
  });
}
