import { PNG } from "pngjs";
import type { GreyPicture } from "../shapes/picture/grey-picture.ts";
import { resample } from "../shapes/picture/resample.ts";

/**
 * A picture as an address that holds it whole, for the `href` of an SVG image: a grey PNG. Made smaller where a side has more
 * than `most` pixels. Same picture, same bytes.
 */
export function pictureData(picture: GreyPicture, most: number): string {
  const share = Math.min(1, most / Math.max(picture.width, picture.height));
  const small = resample(
    picture,
    Math.max(1, Math.round(picture.width * share)),
    Math.max(1, Math.round(picture.height * share)),
  );
  const { width, height } = small;
  const image = Object.assign(new PNG({ width, height, colorType: 0 }), { data: Buffer.from(values(small.grey)) });
  const bytes = PNG.sync.write(image, { colorType: 0, inputColorType: 0, inputHasAlpha: false });
  return `data:image/png;base64,${bytes.toString("base64")}`;
}

/** Values of a screen for light sent back. Source: the transfer function of sRGB, IEC 61966-2-1 (from memory). */
function values(grey: Float32Array): Uint8Array {
  return Uint8Array.from(grey, (light) => {
    const l = Math.min(1, Math.max(0, light));
    return Math.round(255 * (l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055));
  });
}
