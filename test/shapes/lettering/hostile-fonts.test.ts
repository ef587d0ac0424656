import fc from "fast-check";
import { describe, expect, it, vi } from "vitest";
import { drawText } from "../../../src/shapes/lettering/draw-text.ts";
import { openFont } from "../../../src/shapes/lettering/outline-face.ts";
import { areaOf } from "../../../src/shapes/region.ts";
import { bytesOf } from "./fonts.ts";
import { cubicFont, nestedOutlines, nestedRoutines, packedAsWoff, tableOf, withTables } from "./hostile.ts";

const sans = bytesOf("sans");
const cubic = cubicFont();

/** Opens a font and draws with it; codes of what was found, or the area drawn, mm². Whatever is wrong must not throw. */
function used(bytes: Uint8Array, text = "HO"): readonly string[] | number {
  const opened = openFont(bytes, "the font");
  if (!opened.ok) return opened.findings.map((f) => f.code);
  const drawn = drawText(
    opened.value,
    {
      text,
      size: { by: "cap height", mm: 7 },
      align: "left",
      letterSpacing: 0,
      lineSpacing: 1.8,
      standing: "first baseline",
      place: { kind: "line", at: { x: 0, y: 0 }, turnedDeg: 0 },
    },
    { tolerance: 0.01, made: "lines" },
  );
  if (!drawn.ok) return drawn.findings.map((f) => f.code);
  return drawn.value.kind === "area" ? areaOf(drawn.value.region) : [];
}

function isAnswer(found: readonly string[] | number): boolean {
  return typeof found === "number" ? Number.isFinite(found) : found.length > 0;
}

describe("sound fonts", () => {
  it("with cubic outlines, holes and lines left open", () => {
    // A square of 7 mm with a bulge that stays within its side's line, and one with a hole of 3 mm.
    expect(used(cubic)).toBeCloseTo(2 * 49 - 9, 3);
  });

  it("packed as WOFF are the same", () => {
    expect(used(packedAsWoff(cubic))).toBe(used(cubic));
    expect(used(packedAsWoff(sans), "Rag")).toBe(used(sans, "Rag"));
  });
});

describe("files that are no font, or of another kind", () => {
  it.each([
    ["empty", new Uint8Array(0), "font-not-a-font"],
    ["short", new Uint8Array(11), "font-not-a-font"],
    ["zeros", new Uint8Array(5000), "font-not-a-font"],
    ["a sentence", new TextEncoder().encode("%PDF-1.7 and what follows"), "font-not-a-font"],
    ["WOFF2", new TextEncoder().encode("wOF2 and what follows it"), "font-unusable-kind"],
    ["a collection", new TextEncoder().encode("ttcf and what follows it"), "font-unusable-kind"],
    ["a header alone", new Uint8Array([0, 1, 0, 0, 0, 9, 0, 0, 0, 0, 0, 0]), "font-damaged"],
    ["countless tables", new Uint8Array([0, 1, 0, 0, 255, 255, 0, 0, 0, 0, 0, 0]), "font-damaged"],
  ])("%s", (_, bytes, code) => {
    expect(used(bytes)).toEqual([code]);
  });
});

describe("damaged fonts get an answer", () => {
  it("cut short anywhere", () => {
    for (const whole of [cubic, sans, packedAsWoff(cubic)]) {
      for (let i = 1; i < 12; i++) {
        expect(used(whole.slice(0, Math.floor((whole.length * i) / 12)))).toEqual(["font-damaged"]);
      }
    }
  });

  it("with any bytes changed", () => {
    const change = fc.record({ at: fc.nat(cubic.length - 1), to: fc.nat(255) });
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 12 }), (changes) => {
        const bytes = cubic.slice();
        for (const { at, to } of changes) bytes[at] = to;
        expect(isAnswer(used(bytes))).toBe(true);
      }),
      { numRuns: 150 },
    );
  });

  it.each(["cmap", "head", "hhea", "hmtx", "maxp", "glyf", "loca", "GSUB", "GPOS", "GDEF"])(
    "with %s emptied, zeroed, filled with ones or with noise",
    (tag) => {
      const size = Math.min(tableOf(sans, tag).length, 60_000);
      const noise = Uint8Array.from({ length: size }, (_, i) => (i * 2654435761) >>> 24);
      for (const table of [new Uint8Array(0), new Uint8Array(size), new Uint8Array(size).fill(255), noise]) {
        expect(isAnswer(used(withTables(sans, { [tag]: table })))).toBe(true);
      }
    },
  );

  it("with a character table that claims all numbers there are", () => {
    const cmap = new Uint8Array(28 + 12);
    const view = new DataView(cmap.buffer);
    view.setUint16(2, 1);
    view.setUint32(4, 0x0003000a);
    view.setUint32(8, 12);
    view.setUint16(12, 12);
    view.setUint32(16, 28);
    view.setUint32(24, 0x7fffffff);
    view.setUint32(32, 0xffffffff);
    expect(isAnswer(used(withTables(sans, { cmap })))).toBe(true);
  });

  it("with more letters claimed than there are", () => {
    const maxp = tableOf(sans, "maxp");
    maxp[4] = 255;
    maxp[5] = 255;
    expect(isAnswer(used(withTables(sans, { maxp })))).toBe(true);
  });

  it("with letters made of letters without end", () => {
    const count = tableOf(sans, "maxp").reduce((n, b, i) => (i === 4 || i === 5 ? n * 256 + b : n), 0);
    for (const [levels, copies] of [
      [60, 2],
      [6, 200],
      [4, 1000],
    ] as const) {
      const nested = nestedOutlines(count, levels, copies);
      // All glyphs beyond are blank, so H is made the deepest one through the character table of a symbol font.
      const cmap = oneCharacter(72, levels - 1);
      expect(used(withTables(sans, { ...nested, cmap }), "H")).toEqual(["font-unusable-kind"]);
    }
  });

  it("with routines that call routines without end", () => {
    for (const [levels, calls] of [
      [40, 2],
      [8, 100],
      [4, 2000],
    ] as const) {
      const found = used(withTables(cubic, { "CFF ": nestedRoutines(3, levels, calls) }), "H");
      expect(found).toEqual(["font-unusable-kind"]);
    }
  });

  it("with drawing commands that there are none of, and nothing is printed", () => {
    const printed = vi.spyOn(console, "log");
    // Three lines that hold an area, then a number and the unused operator.
    const lines = [147, 139, 5, 139, 147, 5, 131, 139, 5];
    expect(used(withTables(cubic, { "CFF ": nestedRoutines(3, 1, 0, lines) }), "H")).toBeCloseTo(49, 6);
    for (const operator of [0, 2, 9, 13, 15, 16, 17]) {
      const cff = nestedRoutines(3, 1, 0, [...lines, 139, operator]);
      expect(used(withTables(cubic, { "CFF ": cff }), "H")).toEqual(["font-unusable-kind"]);
    }
    expect(printed).not.toHaveBeenCalled();
    printed.mockRestore();
  });

  it("in WOFF files whose tables are not as long as they claim", () => {
    expect(used(packedAsWoff(cubic, (n) => n + 1))).toEqual(["font-damaged"]);
    expect(used(packedAsWoff(cubic, () => 0xfffffff0))).toEqual(["font-damaged"]);
    expect(used(packedAsWoff(cubic, () => 1))).toEqual(["font-damaged"]);
  });
});

/** A character table with one character in it. */
function oneCharacter(code: number, glyph: number): Uint8Array {
  const cmap = new Uint8Array(12 + 28);
  const view = new DataView(cmap.buffer);
  view.setUint16(2, 1);
  view.setUint32(4, 0x0003000a);
  view.setUint32(8, 12);
  view.setUint16(12, 12);
  view.setUint32(16, 28);
  view.setUint32(24, 1);
  view.setUint32(28, code);
  view.setUint32(32, code);
  view.setUint32(36, glyph);
  return cmap;
}
