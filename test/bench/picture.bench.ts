import jpeg from "jpeg-js";
import { PNG } from "pngjs";
import { decodePicture } from "../../src/shapes/picture/decode.ts";
import { type Dithering, dither } from "../../src/shapes/picture/dither.ts";
import type { GreyPicture } from "../../src/shapes/picture/grey-picture.ts";
import { resample } from "../../src/shapes/picture/resample.ts";
import { signatureOutline, signatureStrokes } from "../../src/shapes/picture/signature.ts";
import { askFor, toneCurve } from "../../src/shapes/picture/tone.ts";
import { type Row, timed } from "./row.ts";

/** Bytes of a hilly scene, 4 a pixel. */
function scene(width: number, height: number): Buffer {
  const data = Buffer.alloc(4 * width * height);
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k += 4) {
      const v = 128 + 60 * Math.sin(x / 37) + 50 * Math.cos(y / 23) + 15 * Math.sin((x * y) / 997);
      data.set([v, v * 0.9, v * 0.8, 255], k);
    }
  }
  return data;
}

/** A pen's loops on shaded paper, `width` pixels wide. */
function signed(width: number): GreyPicture {
  const height = Math.round(width / 2);
  const grey = new Float32Array(width * height);
  for (let i = 0; i < grey.length; i++) grey[i] = 0.9 - (0.4 * (i % width)) / width;
  const pen = width / 120;
  for (let n = 0; n <= 6000; n++) {
    const t = (n / 6000) * 6 * Math.PI;
    const cx = width * (0.13 + (t * 12 - 28 * Math.sin(t)) / 320);
    const cy = height * (0.5 - 0.21 * Math.cos(t));
    for (let y = Math.floor(cy - pen); y <= cy + pen; y++) {
      for (let x = Math.floor(cx - pen); x <= cx + pen; x++) {
        if (Math.hypot(x - cx, y - cy) <= pen) grey[y * width + x] = 0.08;
      }
    }
  }
  return { width, height, grey };
}

function read(bytes: Uint8Array): GreyPicture {
  const got = decodePicture(bytes);
  if (!got.ok) throw new Error(got.findings[0]?.what);
  return got.value;
}

export default async function (): Promise<Row[]> {
  const rows: Row[] = [];
  const png = PNG.sync.write(Object.assign(new PNG({ width: 1000, height: 600 }), { data: scene(1000, 600) }));
  const photo = jpeg.encode({ width: 4000, height: 3000, data: scene(4000, 3000) }, 85).data;
  const measured = toneCurve([
    { asked: 0, got: 0.1 },
    { asked: 0.5, got: 0.25 },
    { asked: 1, got: 0.7 },
  ]);
  if (!measured.ok) throw new Error("the tone curve of the bench is refused");
  const make = (bytes: Uint8Array, way: Dithering): number =>
    dither(askFor(resample(read(bytes), 1000, 600), measured.value), way).bits.length;
  for (const kind of ["floyd-steinberg", "jarvis-judice-ninke", "stucki"] as const) {
    rows.push({
      name: `100 × 60 mm picture at 0.1 mm, PNG, ${kind}`,
      ...timed(() => make(png, { kind, serpentine: true }), 5),
      unit: "ms",
      goal: "≤ 2000 ms",
    });
  }
  rows.push({
    name: "100 × 60 mm picture at 0.1 mm, PNG, bayer 8",
    ...timed(() => make(png, { kind: "bayer", size: 8 }), 5),
    unit: "ms",
    goal: "≤ 2000 ms",
  });
  rows.push({
    name: "the same from a photo of 12 million pixels, JPEG",
    ...timed(() => make(photo, { kind: "floyd-steinberg", serpentine: true }), 3),
    unit: "ms",
    goal: "≤ 2000 ms",
  });
  for (const width of [1000, 4000]) {
    const picture = signed(width);
    rows.push({
      name: `outline of a signature, ${width} pixels wide`,
      ...timed(() => signatureOutline(picture, { width: 60 }), 3),
      unit: "ms",
    });
    rows.push({
      name: `middle of its strokes, ${width} pixels wide`,
      ...timed(() => signatureStrokes(picture, { width: 60 }), 3),
      unit: "ms",
    });
  }
  return rows;
}
