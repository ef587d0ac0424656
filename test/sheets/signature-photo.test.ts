import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import { makeAll } from "../../src/pipeline.ts";
import type { GreyPicture } from "../../src/shapes/picture/grey-picture.ts";
import { readXml } from "../../src/shapes/xml.ts";
import { pictureData } from "../../src/sheets/picture-data.ts";
import { textsOf } from "../pipeline/texts.ts";
import { fromChain, shaded } from "../shapes/picture/drawn.ts";

/** Two pen strokes on paper: a wave, and a stroke beneath it. */
const WAVE = Array.from({ length: 41 }, (_, i) => ({ x: 20 + 3.5 * i, y: 55 + 18 * Math.sin(i / 3.2) }));
const UNDER = [
  { x: 30, y: 18 },
  { x: 150, y: 26 },
];
const PHOTO = shaded(180, 90, (x, y) => Math.min(fromChain(WAVE, { x, y }), fromChain(UNDER, { x, y })) - 2.2);

function pngOf({ width, height, grey }: GreyPicture): Uint8Array {
  const image = new PNG({ width, height });
  for (let i = 0; i < grey.length; i++) image.data.set([...Array(3).fill(Math.round(40 + 200 * grey[i]!)), 255], 4 * i);
  return PNG.sync.write(image);
}

const JOB = `title: Signed
units: mm
parts:
  burned:
    blank: {wood: cherry, length: 80, width: 50, thickness: 8, grain: along length}
    held by: tape
    features:
      - mark: me
        signature: me.png
        width: 45
        centre at: middle, 25 from lower edge
        made by: burned line
  cut:
    blank: {wood: cherry, length: 80, width: 50, thickness: 8, grain: along length}
    held by: tape
    features:
      - mark: me too
        signature: me.png
        width: 45
        drawn as: outline
        centre at: middle, 25 from lower edge
        made by: v groove
        bit: V 60
  plain:
    blank: {wood: cherry, length: 80, width: 50, thickness: 8, grain: along length}
    held by: tape
    features:
      - mark: name
        text: Ann
        letters: upright
        cap height: 8
        centre at: middle, 25 from lower edge
        made by: burned line
`;

/** Grey values of the photo on a sheet, its place, and how far the traced lines shift beside it. */
function photoOn(svg: string) {
  const image =
    /<image x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)" href="data:image\/png;base64,([^"]+)"/.exec(
      svg,
    )!;
  const [x, y, width, height] = image.slice(1, 5).map(Number) as [number, number, number, number];
  const beside = /<g transform="translate\(([\d.]+) ([\d.]+)\) scale\(1\)"><path d="([^"]+)"/.exec(svg)!;
  const numbers = [...beside[3]!.matchAll(/[ML]([-\d.]+) ([-\d.]+)/g)].map((m) => ({
    x: Number(m[1]),
    y: Number(m[2]),
  }));
  return { x, y, width, height, png: PNG.sync.read(Buffer.from(image[5]!, "base64")), beside, numbers };
}

describe("a signature beside its photo", () => {
  const sample = textsOf("").readText!("shop.yaml")!;
  const made = makeAll(textsOf(JOB, { shop: { text: sample, file: "shop.yaml" }, readBytes: () => pngOf(PHOTO) }));
  const sheet = (part: string): string =>
    made.files.find((f) => f.kind === "sheet" && f.name.includes(`-${part}-`))!.text;

  it.each(["burned", "cut"])(
    "is %s: the photo holds the pen's ink, and the lines read from it lie on that ink",
    (part) => {
      const svg = sheet(part);
      expect(readXml(svg)).toHaveProperty("root");
      const { x, y, width, height, png, beside, numbers } = photoOn(svg);
      expect([width, height, png.width, png.height]).toEqual([45, 22.5, 180, 90]);
      // Side by side, not over each other.
      expect(Number(beside[1])).toBeGreaterThan(x + width);
      expect(Number(beside[2])).toBe(y);
      expect(numbers.length).toBeGreaterThan(part === "cut" ? 20 : 2);
      for (const p of numbers) {
        const column = Math.floor((p.x / width) * png.width);
        const row = Math.floor((p.y / height) * png.height);
        const near = [-2, -1, 0, 1, 2].flatMap((i) =>
          [-2, -1, 0, 1, 2].map((k) => png.data[4 * ((row + k) * png.width + column + i)]!),
        );
        expect(Math.min(...near)).toBeLessThan(128);
      }
    },
  );

  it("is on no sheet without a signature", () => {
    expect(sheet("plain")).not.toContain("<image");
  });

  it("is made smaller where it has many pixels, its greys kept", () => {
    const large: GreyPicture = { width: 900, height: 300, grey: new Float32Array(270_000).fill(0.2140411) };
    const png = PNG.sync.read(Buffer.from(pictureData(large, 300).split(",")[1]!, "base64"));
    expect([png.width, png.height]).toEqual([300, 100]);
    // Half the values of a screen is 0.214 of its light: IEC 61966-2-1.
    expect(Math.abs(png.data[0]! - 127.5)).toBeLessThanOrEqual(1);
  });
});
