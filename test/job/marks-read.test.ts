import { readFileSync } from "node:fs";
import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import type { MarkContent, MarkFeature } from "../../src/job/mark.ts";
import { boundsOfContent } from "../../src/job/mark-content.ts";
import { readJob } from "../../src/job/read-job.ts";
import { areaOf } from "../../src/shapes/region.ts";
import { lengthOf } from "../../src/shapes/segment.ts";

const BOOK = new URL(
  "../../node_modules/@expo-google-fonts/eb-garamond/400Regular/EBGaramond_400Regular.ttf",
  import.meta.url,
);
const DRAWING =
  '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20"><rect id="leaf" x="5" y="5" width="20" height="10"/></svg>';
const FRONT = "front view:\n  - [cinnamon, cloves]\n  - [cumin, Cumin]\n  - bay, -\n";

function job(lines: string, before = "", files: Readonly<Record<string, Uint8Array>> = {}) {
  const inner = lines
    .trim()
    .split("\n")
    .map((l, i) => (i === 0 ? `      - ${l}` : `        ${l}`));
  const text = `title: x\nunits: mm\n${FRONT}parts:\n  bottom:\n    blank: {wood: ash, length: 180, width: 120, thickness: 6}\n${before}    features:\n${inner.join("\n")}\n`;
  return readJob(text, "case.yaml", (p) => (p === "leaf.svg" ? DRAWING : undefined), {
    readBytes: (p) => files[p],
    bookFont: () => readFileSync(BOOK),
    today: "2026-11-05",
  });
}

function mark(lines: string, before = "", files: Readonly<Record<string, Uint8Array>> = {}): MarkFeature {
  const read = job(lines, before, files);
  if (!read.ok) throw new Error(read.findings.map((f) => `${f.code}: ${f.what}; ${f.why ?? ""}`).join("\n"));
  const found = read.value.parts[0]!.features[0]!;
  if (found.kind !== "mark") throw new Error(found.kind);
  return found;
}

/** A grey PNG; 0 is black. */
function pngOf(width: number, height: number, grey: (x: number, y: number) => number): Uint8Array {
  const png = new PNG({ width, height });
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const v = Math.round(255 * grey(x, y));
      png.data.set([v, v, v, 255], 4 * (y * width + x));
    }
  }
  return PNG.sync.write(png);
}

const AT = "centre at: 90 from first end, 60 from lower edge";
const BURNED = `${AT}\nmade by: burned line`;

function texts(m: MarkFeature): readonly string[] {
  return (m.each ?? [m.content]).map((c) => (c.from.kind === "text" ? c.from.text : c.from.kind));
}

function lineLength(c: MarkContent): number {
  return c.kind === "lines" ? c.chains.flat().reduce((sum, s) => sum + lengthOf(s), 0) : Number.NaN;
}

describe("lettering in a job", () => {
  it("has the single strokes of the data at the size asked for", () => {
    // Hershey's data (US National Bureau of Standards): "ABC 2026" is drawn in 11 strokes, 411.5397 units long and 152
    // wide, capitals 21 units high.
    const m = mark(`mark: a\ntext: ABC 2026\nletters: upright\ncap height: 5\n${BURNED}`);
    if (m.content.kind !== "lines") throw new Error(m.content.kind);
    expect(m.content.chains.length).toBe(11);
    expect(lineLength(m.content)).toBeCloseTo((411.5397 * 5) / 21, 3);
    const box = boundsOfContent(m.content)!;
    expect(box.max.x - box.min.x).toBeCloseTo((152 * 5) / 21, 6);
    expect(box.max.x).toBeCloseTo(-box.min.x, 9);
    expect([box.min.y, box.max.y]).toEqual([expect.closeTo(-2.5, 9), expect.closeTo(2.5, 9)]);
  });

  it("has the bundled face's kerned box for an area, filled to the width asked for", () => {
    // EB Garamond, 1000 units to the em: 'Été 2026' has ink from x 37 to 3345 and y −16 to 838 (its own tables, shaped).
    const m = mark(`mark: a\ntext: Été 2026\nwidth: 33.08\n${AT}\nmade by: burned area`);
    if (m.content.kind !== "area") throw new Error(m.content.kind);
    const box = boundsOfContent(m.content)!;
    expect(box.max.x - box.min.x).toBeCloseTo(33.08, 2);
    expect(box.max.y - box.min.y).toBeCloseTo(8.54, 1);
    expect(m.content.from).toMatchObject({ kind: "text", face: "the bundled book face" });
    expect(m.made).toEqual({ by: "burned area", angleDeg: 0, ways: "one", contour: true });
  });

  it("takes the user's own font from beside the job, kerned, also one that the font library's own text calls fail on", () => {
    const dejavu = readFileSync(new URL("../../node_modules/dejavu-fonts-ttf/ttf/DejaVuSans.ttf", import.meta.url));
    const m = mark(
      `mark: a\ntext: AVAV\nletters: fonts/DejaVuSans.ttf\ncap height: 10\n${AT}\nmade by: burned area`,
      "",
      { "fonts/DejaVuSans.ttf": dejavu },
    );
    const box = boundsOfContent(m.content)!;
    // By its own tables, 2048 units to the em: advances A 1401, V 1401, kerned by −131 (AV and VA), as shaped: 5211 in
    // all; ink from 16 to 16 before the end; capitals 1493 high.
    expect(box.max.x - box.min.x).toBeCloseTo(((5211 - 32) * 10) / 1493, 1);
    expect(box.max.y - box.min.y).toBeCloseTo(10, 2);
  });

  it("stands letters with and without tails alike", () => {
    const heights = ["oak", "gyp"].map((t) => mark(`mark: a\ntext: ${t}x\ncap height: 5\n${BURNED}`));
    const base = (m: MarkFeature): number =>
      m.content.kind === "lines" ? Math.min(...m.content.chains.at(-1)!.flatMap((s) => [s.from.y, s.to.y])) : 0;
    expect(base(heights[0]!)).toBeCloseTo(base(heights[1]!), 9);
    expect(base(heights[0]!)).toBeCloseTo(-2.5, 9);
  });

  it("fills every placeholder, for each copy its own", () => {
    const m = mark(
      `mark: a\ntext: ["{drawer}, {name}", "{row}.{column} of {count}, no {serial}", "{date} {{x}}"]\ncap height: 4\nserial: from 7\ndate: today\n${BURNED}`,
      "    each: [cinnamon, cumin, bay]\n",
    );
    expect(texts(m)).toEqual([
      "cinnamon, cinnamon\n1.1 of 3, no 7\n5 November 2026 {x}",
      "cumin, cumin\n2.1 of 3, no 8\n5 November 2026 {x}",
      "bay, bay\n3.1 of 3, no 9\n5 November 2026 {x}",
    ]);
  });

  it("has one content where all copies read alike, and the part's own name where copies have none", () => {
    expect(
      texts(mark(`mark: a\ntext: "{name}, {date}"\ndate: this month\ncap height: 4\n${BURNED}`, "    copies: 3\n")),
    ).toEqual(["bottom, November 2026"]);
    expect(texts(mark(`mark: a\ntext: "{date}"\ndate: this year\ncap height: 4\n${BURNED}`))).toEqual(["2026"]);
    expect(texts(mark(`mark: a\ntext: "{date}"\ndate: St Cecilia's\ncap height: 4\n${BURNED}`))).toEqual([
      "St Cecilia's",
    ]);
  });

  it("stands on an arc about the circle's centre", () => {
    const m = mark(`mark: a\ntext: oak\ncap height: 5\non arc: {radius: 40}\n${BURNED}`);
    const box = boundsOfContent(m.content)!;
    // The tops of the letters lie between the baseline's circle and a cap height more.
    expect(box.max.y).toBeGreaterThan(44);
    expect(box.max.y).toBeLessThan(45.5);
    expect(box.min.y).toBeGreaterThan(38);
  });
});

describe("the middle of a face", () => {
  const at = (place: string, on = "face") => {
    const m = mark(`mark: a\ntext: oak\ncap height: 2\non: ${on}\n${place}\nmade by: burned line`);
    return m.at.map((f) =>
      m.midway?.includes(f.border) ? `midway ${f.border}` : `${f.distance} ${f.border} ${f.reach}`,
    );
  };

  it("is where a mark lies that says so, in the direction that no distance fixes", () => {
    expect(at("centre at: middle")).toEqual(["midway first end", "midway lower edge"]);
    expect(at("centre at: middle, the middle")).toEqual(["midway first end", "midway lower edge"]);
    expect(at("centre at: middle, 45 from upper edge")).toEqual(["midway first end", "45 upper edge centre"]);
    expect(at("centre at: 30 from second end, the middle")).toEqual(["30 second end centre", "midway lower edge"]);
    expect(at("centre at: middle\nnear edge at: 5 from first end")).toEqual([
      "5 first end near edge",
      "midway lower edge",
    ]);
    expect(at("centre at: middle", "lower edge")).toEqual(["midway first end", "midway back"]);
  });
});

describe("pictograms in a job", () => {
  const made = "made by: burned area";

  it("fill each copy's own drawer, spans and all", () => {
    const m = mark(`mark: a\npictogram: own\nwidth: 24\n${AT}\n${made}`, "    each: [cloves, cumin]\n");
    const [cloves, cumin] = m.each!;
    // A cell is 12 by 6 mm; the filled drawer stays 0.72 mm within its lines.
    for (const [c, area] of [
      [cloves!, (12 - 1.44) * (6 - 1.44)],
      [cumin!, (24 - 1.44) * (6 - 1.44)],
    ] as const) {
      if (c.kind !== "lines and areas") throw new Error(c.kind);
      expect(areaOf(c.region)).toBeCloseTo(area, 9);
      // Every stretch of line once: four levels (the last only as wide as bay), three uprights broken by the wide drawer.
      expect(c.chains.flat().reduce((sum, s) => sum + lengthOf(s), 0)).toBeCloseTo(
        24 + 24 + 24 + 12 + 18 + 6 + 6 + 12,
        9,
      );
    }
    expect(cloves!.from).toEqual({ kind: "pictogram", row: 1, column: 2 });
  });

  it("may be a grid of their own, and are hatched where only lines are drawn", () => {
    const grid =
      "pictogram:\n  rows: 3\n  columns: 2\n  joined: row 1 column 1 to row 2 column 1\n  filled: row 2 column 1\n  height: 30";
    const m = mark(`mark: a\n${grid}\nwidth: 20\n${AT}\nmade by: cut line\ndepth: 0.8`);
    if (m.content.kind !== "lines") throw new Error(m.content.kind);
    expect(m.content.from).toEqual({ kind: "pictogram", row: 1, column: 1 });
    const slanted = m.content.chains.flat().filter((s) => s.from.x !== s.to.x && s.from.y !== s.to.y);
    expect(slanted.length).toBe(5);
    for (const s of slanted) {
      expect(Math.abs(s.from.x - s.to.x)).toBeCloseTo(Math.abs(s.from.y - s.to.y), 9);
      for (const p of [s.from, s.to]) {
        expect(p.x).toBeLessThan(0);
        expect(p.y).toBeGreaterThan(-5);
      }
    }
  });
});

describe("drawings, pictures and signatures in a job", () => {
  it("draws an element by its id in true size, or to a width", () => {
    const own = mark(`mark: a\ndrawing: leaf.svg\nid: leaf\n${BURNED}`);
    expect(boundsOfContent(own.content)).toEqual({ min: { x: -10, y: -5 }, max: { x: 10, y: 5 } });
    const wide = mark(`mark: a\ndrawing: leaf.svg\nid: leaf\nwidth: 30\n${BURNED}`);
    if (wide.content.kind !== "area") throw new Error(wide.content.kind);
    expect(areaOf(wide.content.region)).toBeCloseTo(450, 3);
    const asDrawn = mark(`mark: a\ndrawing: leaf.svg\nplaced: as drawn\n${BURNED}`);
    expect(boundsOfContent(asDrawn.content)).toEqual({ min: { x: 5, y: 5 }, max: { x: 25, y: 15 } });
  });

  it("takes a picture as wide as the job says", () => {
    const grey = (x: number, y: number): number => (x + y) / 40;
    const m = mark(`mark: a\npicture: oak.png\nwidth: 30\ntones: ordered\n${AT}\nmade by: burned picture`, "", {
      "oak.png": pngOf(30, 10, grey),
    });
    expect(m.content).toMatchObject({ kind: "picture", width: 30, height: 10, from: { file: "oak.png" } });
    expect(m.made).toEqual({ by: "burned picture", tones: "ordered" });
  });

  it("draws a signature as the middle of its strokes, about the middle of its ink", () => {
    const stroke = (x: number, y: number): number => (Math.abs(y - 30) < 3 && x > 20 && x < 100 ? 0.05 : 0.95);
    const m = mark(`mark: a\nsignature: me.png\nwidth: 60\n${BURNED}`, "", { "me.png": pngOf(120, 60, stroke) });
    const box = boundsOfContent(m.content)!;
    // 79 pixels of half a millimetre.
    expect(box.max.x - box.min.x).toBeGreaterThan(38.5);
    expect(box.max.x - box.min.x).toBeLessThan(40.5);
    expect(box.max.y - box.min.y).toBeLessThan(0.7);
    expect(box.min.x + box.max.x).toBeCloseTo(0, 9);
    if (m.content.from.kind !== "signature") throw new Error(m.content.from.kind);
    // The ink's middle in the photo: pixel 60.5 of 120 across, row 30 of 60, half a millimetre each.
    expect(m.content.from.photo).toMatchObject({ width: 60, height: 30 });
    expect(m.content.from.photo!.middle.x).toBeCloseTo(30.25, 0);
    expect(m.content.from.photo!.middle.y).toBeCloseTo(14.75, 0);
  });
});
