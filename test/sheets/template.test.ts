import { Resvg } from "@resvg/resvg-js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { TurnedPiece } from "../../src/parts/turned-piece.ts";
import { slot } from "../../src/shapes/outlines.ts";
import { drawingsPdf, plain } from "../../src/sheets/pdf.ts";
import { OVERLAP, PAPERS, type PaperName, tilesFor } from "../../src/sheets/pdf-tiles.ts";
import { spread, storyStickDrawing, storyStickSvg, templateDrawing, templateSvg } from "../../src/sheets/template.ts";
import { boundsOfDrawing } from "../../src/sheets/template-drawing.ts";
import { templatePdf } from "../../src/sheets/template-pdf.ts";
import { settingOf, stationsOf } from "../../src/sheets/template-stations.ts";
import { profile, room, tenonPull, waistPull } from "../parts/turned-sample.ts";
import { pieces } from "../parts/turning/sample.ts";
import { pageSvg, readPdf } from "./reading-pdf.ts";

/** A pull half a metre long: it needs several sheets. */
function longPull(length = 500): TurnedPiece {
  const made = profile(20, 38, [
    { kind: "taper", to: length / 2, diameter: 30 },
    { kind: "taper", to: length - 20, diameter: 38 },
  ]);
  return waistPull({
    ...made,
    blank: { length, across: 45, shape: "square" },
    squares: [
      { from: 0, to: 20, side: 45 },
      { from: length - 20, to: length, side: 45 },
    ],
    fingerRoom: room(length / 2, { section: slot({ x: length / 2, y: 0 }, 60, 20, 0) }),
  });
}

describe("caliper settings", () => {
  it("are given in mm and to the nearest 1/64 in with the rounding shown", () => {
    expect(settingOf(31.75).both).toBe("31.75 mm = 1 1/4 in");
    // 29/32 in is 23.01875 mm.
    expect(settingOf(23).both).toBe("23.00 mm, 29/32 in (+0.02 mm)");
    expect(settingOf(25.4).both).toBe("25.40 mm = 1 in");
    expect(settingOf(0).both).toBe("0.00 mm = 0 in");
    expect(settingOf(12.1).both).toBe("12.10 mm, 15/32 in (-0.19 mm)");
  });

  it("are never more than half of 1/64 in off, and the fraction is in lowest terms", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 400_000 }), (um) => {
        const { inch, off } = settingOf(um / 1000);
        expect(Math.abs(off)).toBeLessThanOrEqual(25.4 / 128 + 1e-9);
        const m = /^(?:(\d+))?(?:(?:^| )(\d+)\/(\d+))? in$/.exec(inch)!;
        const [whole, n, q] = [Number(m[1] ?? 0), Number(m[2] ?? 0), Number(m[3] ?? 1)];
        expect((whole + n / q) * 25.4 - um / 1000).toBeCloseTo(off, 9);
        expect(q === 1 || n % 2 === 1).toBe(true);
      }),
      { numRuns: 100 },
    );
  });
});

describe("stations", () => {
  it("are where elements meet, and where beads are thickest and coves thinnest", () => {
    expect(stationsOf(waistPull()).map((s) => [s.at, ...s.diameters.map((d) => Math.round(d * 1e6) / 1e6)])).toEqual([
      [20, 38],
      [26, 42],
      [32, 38],
      [36, 38],
      [60, 26],
      [84, 38],
      [88, 38],
      [94, 42],
      [100, 38],
    ]);
  });

  it("show both diameters of a shoulder, in order from the first end", () => {
    const shoulder = stationsOf(tenonPull()).find((s) => s.at === 12)!;
    expect(shoulder.diameters).toEqual([10, 24]);
    expect(shoulder.what).toBe("tenon / fillet");
  });

  it("find a vee's bottom within one element", () => {
    const made = profile(20, 38, [
      { kind: "vee", name: "vee", to: 30, diameter: 30 },
      { kind: "vee", name: "vee", to: 40, diameter: 38 },
    ]);
    const whole = { ...made.elements[0]!, to: 40, toDiameter: 38 };
    const found = stationsOf(waistPull({ ...made, elements: [whole] }));
    expect(found.find((s) => s.at === 30)).toMatchObject({
      diameters: [30],
      what: "thinnest of vee",
      transition: false,
    });
  });
});

describe("labels", () => {
  it("keep their order and pitch, and stay on their places where there is room", () => {
    expect(spread([0, 10, 20], 4)).toEqual([0, 10, 20]);
    expect(spread([10, 10], 4)).toEqual([8, 12]);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 200_000 }), { minLength: 1, maxLength: 30 }), (drawn) => {
        const wanted = drawn.map((um) => um / 1000).sort((a, b) => a - b);
        const places = spread(wanted, 3.4);
        for (let i = 1; i < places.length; i++) expect(places[i]! - places[i - 1]!).toBeGreaterThan(3.4 - 1e-9);
        const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
        expect(mean(places)).toBeCloseTo(mean(wanted), 6);
      }),
      { numRuns: 60 },
    );
  });
});

describe("SVG templates", () => {
  it("are true to scale: the view box is as large in units as the page in mm, and black and white alone", () => {
    for (const piece of [waistPull(), tenonPull(), longPull()]) {
      for (const svg of [templateSvg(piece), storyStickSvg(piece)]) {
        const m = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!;
        expect(m[1]).toBe(m[3]);
        expect(m[2]).toBe(m[4]);
        expect([...svg.matchAll(/#[0-9a-f]{6}/g)].every((c) => c[0] === "#000000" || c[0] === "#ffffff")).toBe(true);
      }
    }
  });

  it("draw the profile itself, arcs as arcs, and let no name out of its text", () => {
    const svg = templateSvg(waistPull({ name: '</text><script>alert("1")</script>' }));
    expect(svg).not.toContain("<script>");
    // The cove's radius: (24² + 6²) / 12 = 51.
    expect(svg).toMatch(/A51 51 0 0 0 /);
    expect(svg).toMatch(/A10 10 0 0 1 /);
  });
});

describe("PDF templates", () => {
  const papers: readonly PaperName[] = ["A4", "Letter"];

  it("have two check lines of 100 ± 0.1 mm on every sheet, one along and one up, and the sheet's name", () => {
    for (const paper of papers) {
      for (const piece of [...pieces(), tenonPull(), longPull()]) {
        const pages = readPdf(templatePdf(piece, paper));
        expect(pages.length).toBeGreaterThanOrEqual(2);
        for (const page of pages) {
          const runs = page.paths
            .filter((p) => p.clip === undefined)
            .flatMap((p) => p.points.filter((r) => r.length === 2));
          const along = runs.filter(([a, b]) => a!.y === b!.y && Math.abs(b!.x - a!.x - 100) < 0.1);
          const up = runs.filter(([a, b]) => a!.x === b!.x && Math.abs(Math.abs(b!.y - a!.y) - 100) < 0.1);
          expect([along.length, up.length]).toEqual([1, 1]);
          expect(page.texts.some((t) => t.text.startsWith(`${piece.name}: `) && /sheet/.test(t.text))).toBe(true);
        }
      }
    }
  });

  it("rendered at 20 dots a millimetre, show the check line 100 ± 0.1 mm long", () => {
    const [page] = readPdf(templatePdf(pieces()[0]!, "A4"));
    const DOTS = 20;
    const image = new Resvg(pageSvg(page!), {
      fitTo: { mode: "width", value: Math.round(page!.width * DOTS) },
    }).render();
    const { width, pixels } = image;
    expect(width / DOTS).toBeCloseTo(297, 1);
    const lines = page!.paths.filter((p) => p.clip === undefined).flatMap((p) => p.points);
    const line = lines.find((r) => r.length === 2 && r[0]!.y === r[1]!.y && r[1]!.x - r[0]!.x > 90)!;
    const row = Math.round(line[0]!.y * DOTS);
    const dark = (x: number): boolean => pixels[(row * width + x) * 4]! < 128;
    const first = Array.from({ length: width }, (_, x) => x).find(dark)!;
    let last = first;
    while (dark(last + 1)) last++;
    // The end ticks, 0.2 mm wide, stand half beyond the line at each end.
    expect(Math.abs((last - first + 1) / DOTS - 0.2 - 100)).toBeLessThanOrEqual(0.1);
  });

  it("draw the profile at true size: each sheet's share, put together by the crosses, is the meridian", () => {
    for (const paper of papers) {
      const piece = longPull();
      const tiles = tilesFor(templateDrawing(piece), PAPERS[paper]).tiles;
      const pages = readPdf(templatePdf(piece, paper)).slice(0, tiles.length);
      expect(tiles.length).toBeGreaterThan(1);
      for (const [i, page] of pages.entries()) {
        const tile = tiles[i]!;
        const heavy = page.paths.filter(
          (p) => p.clip !== undefined && Math.abs(p.width - 0.35) < 1e-4 && p.points[0]!.length > 2,
        );
        expect(heavy).toHaveLength(1);
        for (const p of heavy[0]!.points[0]!) {
          const x = p.x - tile.left + tile.window.min.x;
          const y = tile.window.max.y - (p.y - tile.top);
          const r = x < 250 ? 19 - (4 * (x - 20)) / 230 : 15 + (4 * (x - 250)) / 230;
          expect(y).toBeCloseTo(r, 3);
        }
      }
    }
  });

  it("draw arcs within a hundredth of a micrometre a millimetre of radius", () => {
    const [page] = readPdf(templatePdf(waistPull(), "A4"));
    const tile = tilesFor(templateDrawing(waistPull()), PAPERS.A4).tiles[0]!;
    const heavy = page!.paths.find((p) => Math.abs(p.width - 0.35) < 1e-4 && p.points[0]!.length > 20)!;
    const cove = heavy.points[0]!.map((p) => ({
      x: p.x - tile.left + tile.window.min.x,
      y: tile.window.max.y - (p.y - tile.top),
    })).filter((p) => p.x > 36.001 && p.x < 83.999);
    expect(cove.length).toBeGreaterThan(15);
    for (const p of cove) expect(Math.abs(Math.hypot(p.x - 60, p.y - 64) - 51)).toBeLessThan(51e-5);
  });

  it("share their crosses: each lies at one place of the drawing on the two sheets that have it", () => {
    for (const paper of papers) {
      const { tiles } = tilesFor(templateDrawing(longPull(900)), PAPERS[paper]);
      const all = tiles.flatMap((t) => t.crosses.map((c) => ({ n: t.number, ...c })));
      expect(all.length).toBe(4 * (tiles.length - 1));
      for (const c of all) {
        const twin = all.filter((d) => d.n !== c.n && Math.hypot(d.x - c.x, d.y - c.y) < 1e-9);
        expect(twin).toHaveLength(1);
      }
    }
  });

  it("leave nothing out: tiles cover the drawing and overlap by 12 mm, whatever its size", () => {
    fc.assert(
      fc.property(fc.integer({ min: 130_000, max: 1_600_000 }), fc.constantFrom(...papers), (um, paper) => {
        const drawing = storyStickDrawing(longPull(um / 1000));
        const box = boundsOfDrawing(drawing);
        const { tiles, paper: lies } = tilesFor(drawing, PAPERS[paper]);
        expect(Math.min(...tiles.map((t) => t.window.min.x))).toBeLessThan(box.min.x);
        expect(Math.max(...tiles.map((t) => t.window.max.x))).toBeGreaterThan(box.max.x);
        expect(Math.min(...tiles.map((t) => t.window.min.y))).toBeLessThan(box.min.y);
        expect(Math.max(...tiles.map((t) => t.window.max.y))).toBeGreaterThan(box.max.y);
        const first = tiles.filter((t) => t.row === 1);
        for (let i = 1; i < first.length; i++) {
          expect(first[i - 1]!.window.max.x - first[i]!.window.min.x).toBeCloseTo(OVERLAP, 9);
        }
        for (const t of tiles) {
          expect(t.left + t.window.max.x - t.window.min.x).toBeLessThanOrEqual(lies.width - 10);
          expect(t.top + t.window.max.y - t.window.min.y).toBeLessThanOrEqual(lies.height - 10);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("keep 10 mm from the paper's borders with all they draw outside the windows", () => {
    for (const page of readPdf(templatePdf(longPull(), "Letter"))) {
      for (const path of page.paths) {
        if (path.clip !== undefined) continue;
        for (const p of path.points.flat()) {
          expect(Math.min(p.x, page.width - p.x, p.y, page.height - p.y)).toBeGreaterThan(9.9);
        }
      }
      for (const t of page.texts.filter((text) => text.turnedDeg === 0)) {
        expect(page.height - t.at.y).toBeGreaterThan(10);
      }
    }
  });

  it("are the same bytes twice, without a date, and hold text that the built-in fonts have", () => {
    expect(templatePdf(waistPull(), "A4")).toEqual(templatePdf(waistPull(), "A4"));
    expect(Buffer.from(templatePdf(waistPull(), "A4")).toString("latin1")).toContain("(D:19700101000000Z)");
    expect(plain("1 1/2″ ≤ “é” – Ø")).toBe('1 1/2 in ? "é" - Ø');
  });

  it("show texts where the drawing has them, turned as it turns them", () => {
    const drawing = {
      title: "text",
      marks: [
        { kind: "text", at: { x: 10, y: 5 }, text: "level", size: 4, turnedDeg: 0, anchor: "start", bold: false },
        { kind: "text", at: { x: 40, y: 5 }, text: "up", size: 4, turnedDeg: 90, anchor: "start", bold: true },
      ],
    } as const;
    const [page] = readPdf(drawingsPdf([drawing], "A4"));
    const tile = tilesFor(drawing, PAPERS.A4).tiles[0]!;
    for (const mark of drawing.marks) {
      const found = page!.texts.find((t) => t.text === mark.text)!;
      expect(found.at.x).toBeCloseTo(tile.left + mark.at.x - tile.window.min.x, 3);
      expect(found.at.y).toBeCloseTo(tile.top + tile.window.max.y - mark.at.y, 3);
      expect(found.turnedDeg).toBeCloseTo(mark.turnedDeg, 3);
      expect(found.size).toBeCloseTo(4, 3);
    }
  });
});
