import { deflateSync } from "node:zlib";
import fc from "fast-check";
import jpeg from "jpeg-js";
import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import { decodePicture, PICTURE_LIMITS } from "../../../src/shapes/picture/decode.ts";
import type { GreyPicture } from "../../../src/shapes/picture/grey-picture.ts";

/** CRC-32 as PNG has it, bit by bit. */
function crc(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const b of bytes) {
    c ^= b;
    for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
  }
  return (c ^ 0xffffffff) >>> 0;
}

function chunk(name: string, data: Uint8Array): Buffer {
  const out = Buffer.alloc(12 + data.length);
  out.writeUInt32BE(data.length, 0);
  out.write(name, 4, "latin1");
  out.set(data, 8);
  out.writeUInt32BE(crc(out.subarray(4, 8 + data.length)), 8 + data.length);
  return out;
}

function head(width: number, height: number, depth = 8, colour = 0, interlace = 0): Buffer {
  const data = Buffer.alloc(13);
  data.writeUInt32BE(width, 0);
  data.writeUInt32BE(height, 4);
  data.set([depth, colour, 0, 0, interlace], 8);
  return chunk("IHDR", data);
}

const MAGIC = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
const END = chunk("IEND", new Uint8Array());

function png(...chunks: readonly Buffer[]): Buffer {
  return Buffer.concat([MAGIC, ...chunks, END]);
}

/** A PNG of RGBA pixels. */
function colours(width: number, height: number, at: (x: number, y: number) => readonly number[]): Buffer {
  const image = new PNG({ width, height });
  for (let y = 0, k = 0; y < height; y++) for (let x = 0; x < width; x++, k += 4) image.data.set(at(x, y), k);
  return PNG.sync.write(image);
}

function photo(width: number, height: number, at: (x: number, y: number) => number, quality = 95): Buffer {
  const data = Buffer.alloc(4 * width * height);
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k += 4) data.set([at(x, y), at(x, y), at(x, y), 255], k);
  }
  return jpeg.encode({ width, height, data }, quality).data;
}

function read(bytes: Uint8Array): GreyPicture {
  const got = decodePicture(bytes);
  if (!got.ok) throw new Error(`${got.findings[0]?.code}: ${got.findings[0]?.what}`);
  return got.value;
}

function refusal(bytes: Uint8Array): string {
  const got = decodePicture(bytes);
  expect(got.ok).toBe(false);
  expect(got.findings[0]?.grade).toBe("refuse");
  return got.findings[0]?.code ?? "";
}

describe("greys", () => {
  it("weighs linear light: primaries, white, black, and a middle value of the screen", () => {
    const pixels = [
      [255, 0, 0, 255],
      [0, 255, 0, 255],
      [0, 0, 255, 255],
      [255, 255, 255, 255],
      [0, 0, 0, 255],
      [188, 188, 188, 255],
    ];
    const { grey } = read(colours(6, 1, (x) => pixels[x]!));
    for (const [i, v] of [0.2126, 0.7152, 0.0722, 1, 0].entries()) expect(grey[i]).toBeCloseTo(v, 6);
    // 188 is the screen's value for half the light.
    expect(grey[5]).toBeCloseTo(0.5029, 3);
  });

  it("shows paper through what is see-through", () => {
    const { grey } = read(colours(3, 1, (x) => [0, 0, 0, [0, 51, 255][x]!]));
    expect([...grey].map((v) => Math.round(v * 1e6) / 1e6)).toEqual([1, 0.8, 0]);
  });

  it("reads one-bit and two-bit scans", () => {
    const one = png(head(8, 1, 1), chunk("IDAT", deflateSync(Buffer.from([0, 0b10100101]))));
    expect([...read(one).grey].map(Math.round)).toEqual([1, 0, 1, 0, 0, 1, 0, 1]);
    const two = png(head(4, 1, 2), chunk("IDAT", deflateSync(Buffer.from([0, 0b00011011]))));
    const { grey } = read(two);
    expect(grey[0]).toBe(0);
    expect(grey[1]).toBeCloseTo(((85 / 255 + 0.055) / 1.055) ** 2.4, 6);
    expect(grey[3]).toBe(1);
  });

  it("gives back a JPEG's even grey", () => {
    const { grey, width, height } = read(photo(24, 17, () => 128));
    expect([width, height]).toEqual([24, 17]);
    for (const v of grey) expect(v).toBeCloseTo(((128 / 255 + 0.055) / 1.055) ** 2.4, 2);
  });

  it("gives back any PNG, bit for bit", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 1, max: 9 }),
        fc.infiniteStream(fc.integer({ min: 0, max: 255 })),
        (w, h, stream) => {
          const values = Array.from({ length: w * h }, () => stream.next().value as number);
          const { grey } = read(
            colours(w, h, (x, y) => [values[y * w + x]!, values[y * w + x]!, values[y * w + x]!, 255]),
          );
          for (let i = 0; i < grey.length; i++) {
            const v = values[i]! / 255;
            expect(grey[i]).toBeCloseTo(v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4, 6);
          }
        },
      ),
      { numRuns: 40 },
    );
  });
});

/** The JPEG with an EXIF block that says how it was held. */
function held(bytes: Buffer, turn: number, little: boolean): Buffer {
  const tiff = Buffer.alloc(8 + 2 + 12 + 4);
  const u16 = (v: number, at: number) => (little ? tiff.writeUInt16LE(v, at) : tiff.writeUInt16BE(v, at));
  const u32 = (v: number, at: number) => (little ? tiff.writeUInt32LE(v, at) : tiff.writeUInt32BE(v, at));
  tiff.write(little ? "II" : "MM", 0, "latin1");
  u16(42, 2);
  u32(8, 4);
  u16(1, 8);
  u16(0x0112, 10);
  u16(3, 12);
  u32(1, 14);
  u16(turn, 18);
  const body = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), tiff]);
  const lead = Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255]);
  return Buffer.concat([bytes.subarray(0, 2), lead, body, bytes.subarray(2)]);
}

describe("a photo held sideways", () => {
  // Blocks of 8 pixels, two across and three down, so that compression keeps them apart.
  const scene = photo(16, 24, (x, y) => 40 * (Math.floor(x / 8) + 2 * Math.floor(y / 8)) + 20);
  const names = (p: GreyPicture): string => {
    const out: string[] = [];
    for (let y = 4; y < p.height; y += 8) {
      let row = "";
      for (let x = 4; x < p.width; x += 8) {
        const v = p.grey[y * p.width + x]!;
        const value = 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);
        row += Math.round((value - 20) / 40);
      }
      out.push(row);
    }
    return out.join("/");
  };

  it.each([
    [1, "01/23/45"],
    [2, "10/32/54"],
    [3, "54/32/10"],
    [4, "45/23/01"],
    [5, "024/135"],
    [6, "420/531"],
    [7, "531/420"],
    [8, "135/024"],
  ])("orientation %d shows %s, and says so", (turn, shown) => {
    for (const little of [true, false]) {
      const got = decodePicture(held(scene, turn, little));
      if (!got.ok) throw new Error(got.findings[0]?.what);
      expect(names(got.value)).toBe(shown);
      expect(got.findings.map((f) => f.code)).toEqual(turn === 1 ? [] : ["picture-turned"]);
    }
  });

  it("takes no notice of an orientation that does not exist, or of a directory past the block's end", () => {
    for (const turn of [0, 9, 65_535]) expect(names(read(held(scene, turn, true)))).toBe("01/23/45");
    const far = held(scene, 6, true);
    far.writeUInt32LE(0xfffffff0, 2 + 4 + 6 + 4);
    expect(names(read(far))).toBe("01/23/45");
  });
});

describe("hostile files", () => {
  const good = colours(12, 9, (x, y) => [x * 20, y * 20, 0, 255]);
  const shot = photo(40, 30, (x, y) => (x * y) % 256);

  it("refuses what is no picture", () => {
    for (const bytes of [
      [],
      [0],
      [0x89, 0x50],
      [...Buffer.from("GIF89a......")],
      [...Buffer.from("<svg/>")],
      [0xff, 0xd8],
    ]) {
      expect(refusal(Uint8Array.from(bytes))).toBe("picture-unknown-kind");
    }
  });

  it("refuses every cut of a PNG and of a JPEG", () => {
    for (let n = 8; n < good.length; n++) expect(refusal(good.subarray(0, n))).toBe("picture-damaged");
    for (let n = 3; n < shot.length; n += 5) expect(refusal(shot.subarray(0, n))).toBe("picture-damaged");
  });

  it("refuses absurd sizes before unpacking", () => {
    const data = chunk("IDAT", deflateSync(Buffer.alloc(10)));
    expect(refusal(png(head(0, 0), data))).toBe("picture-empty");
    expect(refusal(png(head(5, 0), data))).toBe("picture-empty");
    expect(refusal(png(head(0xffffffff, 0xffffffff), data))).toBe("picture-too-large");
    expect(refusal(png(head(20_001, 1), data))).toBe("picture-too-large");
    expect(refusal(png(head(5000, 5000), data))).toBe("picture-too-large");
    const wide = Buffer.from(shot);
    const frame = wide.indexOf(Buffer.from([0xff, 0xc0]));
    wide.writeUInt16BE(65_535, frame + 5);
    wide.writeUInt16BE(65_535, frame + 7);
    expect(refusal(wide)).toBe("picture-too-large");
    wide.writeUInt16BE(0, frame + 5);
    expect(refusal(wide)).toBe("picture-empty");
    expect(refusal(new Uint8Array(PICTURE_LIMITS.file + 1))).toBe("picture-too-large");
  });

  it("keeps to narrower limits where they are given", () => {
    expect(decodePicture(good, {}, { ...PICTURE_LIMITS, pixels: 107 }).findings[0]?.code).toBe("picture-too-large");
    expect(decodePicture(good, {}, { ...PICTURE_LIMITS, pixels: 108 }).ok).toBe(true);
    expect(decodePicture(good, {}, { ...PICTURE_LIMITS, memory: 1000 }).findings[0]?.what).toMatch(/memory/);
  });

  it("unpacks no bomb, in plain rows or interlaced", () => {
    const bomb = chunk("IDAT", deflateSync(Buffer.alloc(200_000_000), { level: 1 }));
    expect(refusal(png(head(8, 8), bomb))).toBe("picture-damaged");
    expect(refusal(png(head(8, 8, 8, 0, 1), bomb))).toBe("picture-damaged");
    // What the header promises and the data lack.
    expect(refusal(png(head(4000, 4000), chunk("IDAT", deflateSync(Buffer.alloc(100)))))).toBe("picture-damaged");
  });

  it("reads an honest interlaced picture", () => {
    // Two by two: the passes hold (0,0), (1,0) and the second row.
    const data = Buffer.from([0, 0, 0, 255, 0, 255, 0]);
    const { grey } = read(png(head(2, 2, 8, 0, 1), chunk("IDAT", deflateSync(data))));
    expect([...grey]).toEqual([0, 1, 1, 0]);
  });

  it("refuses a second header, a wrong checksum, a missing palette, kinds that don't exist", () => {
    const data = chunk("IDAT", deflateSync(Buffer.from([0, 1])));
    expect(refusal(png(head(1, 1), head(30_000, 30_000), data))).toBe("picture-damaged");
    const wrong = Buffer.from(good);
    wrong[wrong.length - 14]! ^= 1;
    expect(refusal(wrong)).toBe("picture-damaged");
    expect(refusal(png(head(1, 1, 8, 3), data))).toBe("picture-damaged");
    expect(refusal(png(head(1, 1, 3, 0), data))).toBe("picture-damaged");
    expect(refusal(png(head(1, 1, 8, 5), data))).toBe("picture-damaged");
    expect(refusal(png(data, head(1, 1)))).toBe("picture-damaged");
    expect(refusal(png(head(1, 1)))).toBe("picture-damaged");
  });

  it("names the kinds of JPEG it does not read", () => {
    const frame = shot.indexOf(Buffer.from([0xff, 0xc0]));
    const kind = (marker: number): string => {
      const bytes = Buffer.from(shot);
      bytes[frame + 1] = marker;
      return decodePicture(bytes).findings[0]?.why ?? "";
    };
    expect(kind(0xc9)).toMatch(/arithmetic/);
    expect(kind(0xc3)).toMatch(/lossless/);
    const deep = Buffer.from(shot);
    deep[frame + 4] = 12;
    expect(decodePicture(deep).findings[0]?.why).toMatch(/deep colours/);
    const sampled = Buffer.from(shot);
    sampled[frame + 11] = 0;
    expect(refusal(sampled)).toBe("picture-damaged");
  });

  it("counts the steps of a picture that builds up", () => {
    const start = shot.indexOf(Buffer.from([0xff, 0xda]));
    const scan = shot.subarray(start, shot.length - 2);
    const bytes = Buffer.concat([shot.subarray(0, start), ...new Array(300).fill(scan), shot.subarray(-2)]);
    const got = decodePicture(bytes, {}, { ...PICTURE_LIMITS, work: 1200 * 299 });
    expect(got.findings[0]?.what).toMatch(/steps/);
  });

  it("answers any damage with a picture or a refusal, never a throw", () => {
    fc.assert(
      fc.property(
        fc.boolean(),
        fc.array(fc.tuple(fc.nat(), fc.integer({ min: 0, max: 255 })), { minLength: 1, maxLength: 12 }),
        (asPng, hits) => {
          const bytes = Buffer.from(asPng ? good : shot);
          for (const [at, value] of hits) bytes[at % bytes.length] = value;
          const got = decodePicture(bytes);
          if (got.ok) expect(got.value.grey.length).toBe(got.value.width * got.value.height);
          else expect(got.findings[0]?.code).toMatch(/^picture-(unknown-kind|damaged|empty|too-large)$/);
        },
      ),
      { numRuns: 100 },
    );
  });
});
