import type { GreyPicture } from "./grey-picture.ts";

/**
 * A picture turned and flipped as a camera's note says: 1 as it is, 2 left for right, 3 half a turn, 4 top for bottom, 5
 * across the falling diagonal, 6 a quarter turn clockwise, 7 across the rising diagonal, 8 a quarter turn the other way.
 * Source: EXIF 2.3, tag 0x0112 (from memory).
 * @param turn 1 to 8
 */
export function turnPicture(picture: GreyPicture, turn: number): GreyPicture {
  if (turn === 1) return picture;
  const { width: w, height: h, grey } = picture;
  const swaps = turn >= 5;
  const width = swaps ? h : w;
  const height = swaps ? w : h;
  const out = new Float32Array(grey.length);
  // Where the stored pixel's column or row runs backwards in the picture that is shown.
  const backX = turn === 2 || turn === 3 || turn === 7 || turn === 8;
  const backY = turn === 3 || turn === 4 || turn === 6 || turn === 7;
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      const column = swaps ? y : x;
      const row = swaps ? x : y;
      out[k] = grey[(backY ? h - 1 - row : row) * w + (backX ? w - 1 - column : column)]!;
    }
  }
  return { width, height, grey: out };
}
