import { inflateSync } from "node:zlib";
import type { HeaderTrouble, PictureHeader } from "./picture-header.ts";

const MAGIC = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
/** Channels of each colour kind. Source: PNG specification, ISO/IEC 15948, 11.2.2 (from memory). */
const CHANNELS: Readonly<Record<number, number>> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 };
/** Bits a channel that each colour kind may have, same source. */
const DEPTHS: Readonly<Record<number, readonly number[]>> = {
  0: [1, 2, 4, 8, 16],
  2: [8, 16],
  3: [1, 2, 4, 8],
  4: [8, 16],
  6: [8, 16],
};

/** True for bytes that begin as a PNG does. */
export function looksLikePng(bytes: Uint8Array): boolean {
  return MAGIC.every((b, i) => bytes[i] === b);
}

/** Size and kind of a PNG from its chunks, none of which is unpacked. */
export function readPngHeader(bytes: Uint8Array): PictureHeader | HeaderTrouble {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = MAGIC.length;
  let header: PictureHeader | undefined;
  let data = false;
  while (at + 12 <= bytes.length) {
    const length = view.getUint32(at);
    const name = String.fromCharCode(bytes[at + 4]!, bytes[at + 5]!, bytes[at + 6]!, bytes[at + 7]!);
    const start = at + 8;
    if (length > bytes.length - start - 4) return { trouble: "cut short" };
    if (header === undefined && name !== "IHDR") return { trouble: "damaged" };
    switch (name) {
      case "IHDR": {
        // A second header could name another size after the first was judged.
        if (header !== undefined || length !== 13) return { trouble: "damaged" };
        const depth = bytes[start + 8]!;
        const colour = bytes[start + 9]!;
        if (DEPTHS[colour]?.includes(depth) !== true) return { trouble: "damaged" };
        header = {
          width: view.getUint32(start),
          height: view.getUint32(start + 4),
          bitsPerPixel: depth * CHANNELS[colour]!,
          interlaced: bytes[start + 12] !== 0,
          scans: 1,
          turned: 1,
        };
        break;
      }
      case "IDAT":
        data = true;
        break;
      case "IEND":
        return data && header !== undefined ? header : { trouble: "damaged" };
    }
    at = start + length + 4;
  }
  return { trouble: "cut short" };
}

/** Columns and rows where each pass of an interlaced PNG begins, and its steps. Source: ISO/IEC 15948, 8.2 (from memory). */
const PASSES = [
  [0, 0, 8, 8],
  [4, 0, 8, 8],
  [0, 4, 4, 8],
  [2, 0, 4, 4],
  [0, 2, 2, 4],
  [1, 0, 2, 2],
  [0, 1, 1, 2],
] as const;

/** Bytes of the unpacked rows, each led by a byte of its own. */
function unpackedSize(header: PictureHeader): number {
  const { width, height, bitsPerPixel } = header;
  const block = (w: number, h: number): number => (w < 1 || h < 1 ? 0 : h * (1 + Math.ceil((w * bitsPerPixel) / 8)));
  if (!header.interlaced) return block(width, height);
  return PASSES.reduce(
    (sum, [x, y, dx, dy]) => sum + block(Math.ceil((width - x) / dx), Math.ceil((height - y) / dy)),
    0,
  );
}

/**
 * True when the packed pixels of a PNG unpack to just what its size asks for. The decoder doesn't bound this for
 * interlaced rows, so a few kilobytes could become gigabytes; and where rows are missing it shows whatever its memory held.
 */
export function unpacksToSize(bytes: Uint8Array, header: PictureHeader): boolean {
  const parts: Uint8Array[] = [];
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = MAGIC.length; at + 12 <= bytes.length; ) {
    const length = view.getUint32(at);
    if (view.getUint32(at + 4) === 0x49444154) parts.push(bytes.subarray(at + 8, at + 8 + length));
    at += length + 12;
  }
  const size = unpackedSize(header);
  try {
    return inflateSync(Buffer.concat(parts), { maxOutputLength: size }).length === size;
  } catch {
    // zlib throws alike on damage and on too much.
    return false;
  }
}
