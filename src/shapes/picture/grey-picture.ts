/** Pixels of a picture, row after row from the top left. */
export interface GreyPicture {
  /** Pixels across, ≥ 1. */
  readonly width: number;
  /** Pixels down, ≥ 1. */
  readonly height: number;
  /** Light sent back, 0 black to 1 white, in proportion to light itself and not to the numbers of a screen. */
  readonly grey: Float32Array;
}

/** A picture of two values, row after row from the top left. */
export interface Bitmap {
  readonly width: number;
  readonly height: number;
  /** 1 or 0; what they stand for is said where one is made. */
  readonly bits: Uint8Array;
}

/**
 * A picture from its pixels.
 * @throws RangeError unless there are width × height of them
 */
export function greyPicture(width: number, height: number, grey: ArrayLike<number>): GreyPicture {
  if (!(width >= 1 && height >= 1) || grey.length !== width * height) {
    throw new RangeError(`${grey.length} pixels do not make ${width} × ${height}`);
  }
  return { width, height, grey: Float32Array.from(grey) };
}

/** Light of each of the 256 values of a channel. Source: the transfer function of sRGB, IEC 61966-2-1 (from memory). */
function lightOfValues(): Float64Array {
  return Float64Array.from({ length: 256 }, (_, value) => {
    const v = value / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
}

/**
 * Grey of coloured pixels: 0.2126 R + 0.7152 G + 0.0722 B on linear light (luma of ITU-R BT.709, from memory). What is
 * see-through shows white paper.
 * @param channels 3 (RGB) or 4 (RGBA) bytes a pixel
 */
export function greyOfColours(width: number, height: number, bytes: Uint8Array, channels: 3 | 4): GreyPicture {
  const light = lightOfValues();
  const grey = new Float32Array(width * height);
  for (let i = 0, k = 0; i < grey.length; i++, k += channels) {
    const luma = 0.2126 * light[bytes[k]!]! + 0.7152 * light[bytes[k + 1]!]! + 0.0722 * light[bytes[k + 2]!]!;
    const cover = channels === 4 ? bytes[k + 3]! / 255 : 1;
    grey[i] = 1 - cover * (1 - luma);
  }
  return { width, height, grey };
}

/** Mean of a picture, 0 to 1. */
export function meanGrey(picture: GreyPicture): number {
  let sum = 0;
  for (const v of picture.grey) sum += v;
  return sum / picture.grey.length;
}
