import opentype from "opentype.js";
import { describe, expect, it } from "vitest";
import { drawText } from "../../../src/shapes/lettering/draw-text.ts";
import type { TextLayout } from "../../../src/shapes/lettering/layout.ts";
import { extentOfInk, type Typeface } from "../../../src/shapes/lettering/typeface.ts";
import { areaOf, areaOfLoop, boundsOfRegion, containsPoint, perimeterOf } from "../../../src/shapes/region.ts";
import { bytesOf, faceOf } from "./fonts.ts";

const flat: Omit<TextLayout, "text" | "size"> = {
  align: "left",
  letterSpacing: 0,
  lineSpacing: 1.8,
  standing: "first baseline",
  place: { kind: "line", at: { x: 0, y: 0 }, turnedDeg: 0 },
};

function line(face: Typeface, text: string, ligatures = true) {
  const set = face.setLine(text, ligatures);
  if (!set.ok) throw new Error(set.findings[0]!.what);
  return set.value;
}

/** Box of a line in font units. */
function box(face: Typeface, text: string) {
  const boxes = line(face, text).glyphs.flatMap((g) => {
    const b = extentOfInk(g.ink);
    const [x, y] = [g.pen + g.dx, g.dy];
    return b === undefined ? [] : [[b.minX + x, b.minY + y, b.maxX + x, b.maxY + y] as const];
  });
  return [
    Math.min(...boxes.map((b) => b[0])),
    Math.min(...boxes.map((b) => b[1])),
    Math.max(...boxes.map((b) => b[2])),
    Math.max(...boxes.map((b) => b[3])),
  ];
}

function area(face: Typeface, text: string, capHeight: number, tolerance: number, made: "lines" | "arcs") {
  const drawn = drawText(face, { ...flat, text, size: { by: "cap height", mm: capHeight } }, { tolerance, made });
  if (!drawn.ok || drawn.value.kind !== "area") throw new Error("no area");
  return drawn.value;
}

const serif = faceOf("serif");
const italic = faceOf("italic");
const sans = faceOf("sans");
const roman = faceOf("roman");

describe("advances and boxes, against HarfBuzz and a third library as measured once", () => {
  it("sets 'Été 2026' in EB Garamond", () => {
    expect(serif.unitsPerEm).toBe(1000);
    expect(line(serif, "Été 2026").advance).toBe(3368);
    expect(box(serif, "Été 2026").map((v) => Math.round(v))).toEqual([37, -16, 3345, 838]);
  });

  it("kerns through extension lookups, which the font library overlooks", () => {
    expect(line(serif, "AVAV").advance).toBe(2318);
    const single = ["A", "V"].map((c) => line(serif, c).advance);
    expect(2 * (single[0]! + single[1]!)).toBe(2728);
  });

  it("sets a font that defeats the font library's own text calls", () => {
    expect(Math.abs((line(sans, "Été 2026").advance / sans.unitsPerEm) * 100 - 450.1953)).toBeLessThan(1e-4);
    expect(Math.abs((line(sans, "AVAV").advance / sans.unitsPerEm) * 100 - 254.443)).toBeLessThan(1e-3);
  });
});

describe("kerning, accents and ligatures", () => {
  it.each([
    ["serif", serif],
    ["sans", sans],
    ["roman", roman],
    ["italic", italic],
  ])("%s: pairs are closer than the letters apart, accented pairs too", (_, face) => {
    const alone = (text: string): number => [...text].reduce((sum, c) => sum + line(face, c).advance, 0);
    for (const pair of ["AV", "To", "ÀV"]) expect(line(face, pair).advance).toBeLessThan(alone(pair));
    expect(line(face, "HH").advance).toBe(alone("HH"));
  });

  it.each([
    ["serif", serif],
    ["sans", sans],
    ["roman", roman],
  ])("%s: an accent is the same typed as one character or as two", (_, face) => {
    const text = "Éñçåöőřąşčž";
    expect(line(face, text.normalize("NFD"))).toEqual(line(face, text));
    const [low, high] = [box(face, "E"), box(face, "É")];
    expect(high[3]!).toBeGreaterThan(low[3]! + 0.05 * face.unitsPerEm);
  });

  it("joins f and i, but not where letters are set apart", () => {
    expect(line(serif, "ffi").glyphs).toHaveLength(1);
    expect(line(serif, "ffi", false).glyphs).toHaveLength(3);
  });
});

describe("what a face lacks", () => {
  it("names every missing character once", () => {
    const set = serif.setLine("日Aç日語", true);
    expect(set.ok).toBe(false);
    expect(set.findings).toHaveLength(1);
    expect(set.findings[0]).toMatchObject({ code: "lettering-character-missing", grade: "refuse" });
    expect(set.findings[0]!.what).toContain("“日” (U+65E5), “語” (U+8A9E)");
  });

  it("refuses figures within a script that runs the other way", () => {
    expect(sans.setLine("שלום", true).ok).toBe(true);
    expect(sans.setLine("שלום 26", true).findings[0]!.code).toBe("lettering-two-directions");
  });
});

describe("areas", () => {
  it("have outer loops counter-clockwise and holes clockwise, ink where the letters are", () => {
    const { region } = area(sans, "BO", 100, 0.01, "arcs");
    expect(region.loops.map((l) => Math.sign(areaOfLoop(l))).sort()).toEqual([-1, -1, -1, 1, 1]);
    const b = boundsOfRegion(area(sans, "O", 100, 0.01, "arcs").region)!;
    const middle = { x: (b.min.x + b.max.x) / 2, y: (b.min.y + b.max.y) / 2 };
    expect(containsPoint(region, { x: 3, y: 50 })).toBe(true);
    expect(containsPoint(area(sans, "O", 100, 0.01, "arcs").region, middle)).toBe(false);
  });

  it("agree with the exact area under the font's curves", () => {
    for (const [face, font] of [
      [sans, "sans"],
      [serif, "serif"],
    ] as const) {
      const file = bytesOf(font);
      const plain = opentype.parse(file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength));
      const scale = 20 / face.capHeight;
      for (const c of "OSanRo8") {
        const exact = Math.abs(exactArea(plain.charToGlyph(c).path.commands)) * scale * scale;
        for (const made of ["lines", "arcs"] as const) {
          const found = area(face, c, 20, 0.002, made).region;
          // A strip of the tolerance's width along the boundary.
          expect(Math.abs(areaOf(found) - exact), `${font} ${c} ${made}`).toBeLessThan(0.002 * perimeterOf(found));
        }
      }
    }
  });

  it("merge letters that overlap", () => {
    const touching = { ...flat, text: "OO", size: { by: "cap height", mm: 20 } as const, letterSpacing: -0.5 };
    const drawn = drawText(sans, touching, { tolerance: 0.01, made: "lines" });
    if (!drawn.ok || drawn.value.kind !== "area") throw new Error("no area");
    const outer = drawn.value.region.loops.filter((l) => areaOfLoop(l) > 0);
    expect(outer).toHaveLength(1);
    expect(areaOf(drawn.value.region)).toBeLessThan(2 * areaOf(area(sans, "O", 20, 0.01, "lines").region));
  });

  it("stand exactly as high as asked", () => {
    for (const face of [serif, sans, roman, italic]) {
      for (const mm of [2.5, 12, 80]) {
        const b = boundsOfRegion(area(face, "H", mm, 0.001, "lines").region)!;
        expect(Math.abs(b.max.y - mm)).toBeLessThanOrEqual(0.0001);
      }
    }
  });
});

/** Green's theorem with the closed forms for lines, quadratic and cubic curves. */
function exactArea(commands: readonly opentype.PathCommand[]): number {
  let twice = 0;
  let [x, y] = [0, 0];
  let [sx, sy] = [0, 0];
  const cross = (ax: number, ay: number, bx: number, by: number): number => ax * by - ay * bx;
  for (const c of commands) {
    if (c.type === "M") [sx, sy] = [c.x, c.y];
    if (c.type === "L") twice += cross(x, y, c.x, c.y);
    if (c.type === "Q") {
      twice += (2 * cross(x, y, c.x1, c.y1) + 2 * cross(c.x1, c.y1, c.x, c.y) + cross(x, y, c.x, c.y)) / 3;
    }
    if (c.type === "Z") {
      twice += cross(x, y, sx, sy);
      [x, y] = [sx, sy];
    } else [x, y] = [c.x, c.y];
  }
  return twice / 2;
}
