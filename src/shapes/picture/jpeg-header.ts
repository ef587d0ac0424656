import type { HeaderTrouble, PictureHeader } from "./picture-header.ts";

/** True for bytes that begin as a JPEG does. */
export function looksLikeJpeg(bytes: Uint8Array): boolean {
  return bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff;
}

/**
 * Size and kind of a JPEG from its markers, through to the end-of-image marker. Source: ITU-T T.81 annex B (from memory).
 */
export function readJpegHeader(bytes: Uint8Array): PictureHeader | HeaderTrouble {
  const two = (i: number): number => (bytes[i]! << 8) | bytes[i + 1]!;
  let frame: { width: number; height: number; channels: number } | undefined;
  let scans = 0;
  let turned = 1;
  let at = 2;
  while (at + 2 <= bytes.length) {
    if (bytes[at] !== 0xff) return { trouble: "damaged" };
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === 0xd9) {
      if (frame === undefined || scans === 0) return { trouble: "damaged" };
      return { ...frame, bitsPerPixel: 8 * frame.channels, interlaced: false, scans, turned };
    }
    if (marker === 0xd8 || marker === 0x00) return { trouble: "damaged" };
    if (at + 4 > bytes.length) break;
    const length = two(at + 2);
    if (length < 2) return { trouble: "damaged" };
    if (at + 2 + length > bytes.length) break;
    if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc) {
      const found = readFrame(bytes, at, length, marker);
      // A second frame could name another size after the first was judged.
      if (frame !== undefined) return { trouble: "damaged" };
      if ("trouble" in found) return found;
      frame = found;
    } else if (marker === 0xcc) return { trouble: "arithmetic coding" };
    else if (marker === 0xe1) turned = turnOf(bytes.subarray(at + 4, at + 2 + length)) ?? turned;
    at += 2 + length;
    if (marker === 0xda) {
      if (frame === undefined) return { trouble: "damaged" };
      scans++;
      at = endOfScan(bytes, at);
    }
  }
  return { trouble: "cut short" };
}

function readFrame(
  bytes: Uint8Array,
  at: number,
  length: number,
  marker: number,
): { width: number; height: number; channels: number } | HeaderTrouble {
  if (length < 8) return { trouble: "damaged" };
  if (marker >= 0xc9) return { trouble: "arithmetic coding" };
  if (marker > 0xc2) return { trouble: "lossless coding" };
  if (bytes[at + 4] !== 8) return { trouble: "deep colours" };
  const channels = bytes[at + 9]!;
  if (channels === 4) return { trouble: "printing colours" };
  if ((channels !== 1 && channels !== 3) || length !== 8 + 3 * channels) return { trouble: "damaged" };
  for (let c = 0; c < channels; c++) {
    const sampling = bytes[at + 11 + 3 * c]!;
    const across = sampling >> 4;
    const down = sampling & 15;
    if (across < 1 || across > 4 || down < 1 || down > 4) return { trouble: "damaged" };
  }
  return {
    height: (bytes[at + 5]! << 8) | bytes[at + 6]!,
    width: (bytes[at + 7]! << 8) | bytes[at + 8]!,
    channels,
  };
}

/** Where the packed pixels end: at a marker that is neither a stuffed zero nor a restart. */
function endOfScan(bytes: Uint8Array, start: number): number {
  for (let i = bytes.indexOf(0xff, start); i >= 0 && i + 1 < bytes.length; i = bytes.indexOf(0xff, i + 1)) {
    const next = bytes[i + 1]!;
    if (next !== 0x00 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return i;
  }
  return bytes.length;
}

/**
 * How an EXIF block says the picture is to be turned, 1 to 8; undefined where it says nothing usable. Only the first
 * directory is looked into, so nothing in it can lead round in a circle.
 */
export function turnOf(block: Uint8Array): number | undefined {
  const text = [0x45, 0x78, 0x69, 0x66, 0, 0];
  if (block.length < 14 || !text.every((b, i) => block[i] === b)) return undefined;
  const view = new DataView(block.buffer, block.byteOffset + 6, block.byteLength - 6);
  const order = view.getUint16(0);
  if (order !== 0x4949 && order !== 0x4d4d) return undefined;
  const little = order === 0x4949;
  const first = view.getUint32(4, little);
  if (first + 2 > view.byteLength) return undefined;
  const entries = view.getUint16(first, little);
  for (let i = 0, at = first + 2; i < entries && at + 12 <= view.byteLength; i++, at += 12) {
    if (view.getUint16(at, little) !== 0x0112) continue;
    const turn = view.getUint16(at + 8, little);
    return turn >= 1 && turn <= 8 ? turn : undefined;
  }
  return undefined;
}
