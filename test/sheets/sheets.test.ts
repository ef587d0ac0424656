import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makeAll } from "../../src/pipeline.ts";
import { circle, rectangle, slot } from "../../src/shapes/outlines.ts";
import { readXml } from "../../src/shapes/xml.ts";
import { depthInks, inkFor } from "../../src/sheets/ink.ts";
import { regionData } from "../../src/sheets/path-data.ts";
import { reportFinding, tame } from "../../src/sheets/report.ts";
import { minutes, wrap } from "../../src/sheets/sheet.ts";
import { decimal, element, escapeXml, text } from "../../src/sheets/svg.ts";
import { madeSample, oneBoard, textsOf } from "../pipeline/texts.ts";

describe("text in a sheet", () => {
  it("can close no element and no attribute, whatever it is", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 80 }), (s) => {
        const written = element("g", { "data-name": s }, text(1, 2, s));
        expect(written.match(/</g)).toHaveLength(4);
        expect(written.match(/"/g)).toHaveLength(6);
        expect(written).not.toMatch(/[\u0000-\u001f\ufffe\uffff]/);
      }),
    );
    expect(escapeXml('a<b>&"c"\n')).toBe("a&lt;b&gt;&amp;&quot;c&quot; ");
  });

  it("has numbers to a micrometre and no minus zero", () => {
    expect([decimal(-0.0001), decimal(1 / 3), decimal(12), decimal(100)]).toEqual(["0", "0.333", "12", "100"]);
  });

  it("is broken at spaces and loses no word", () => {
    fc.assert(
      fc.property(
        fc.array(fc.stringMatching(/^[a-z]{1,12}$/), { maxLength: 40 }),
        fc.integer({ min: 12, max: 60 }),
        (words, most) => {
          const rows = wrap(words.join(" "), most);
          expect(rows.join(" ")).toBe(words.join(" "));
          for (const row of rows) expect(row.length).toBeLessThanOrEqual(most);
        },
      ),
    );
  });

  it("says times as a person does", () => {
    expect([minutes(0.2), minutes(42.4), minutes(89), minutes(150)]).toEqual(["1 s", "42 s", "89 s", "3 min"]);
  });
});

/** Relative lightness of a colour: IEC 61966-2-1 (sRGB) luminance, from memory. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16) / 255) as [number, number, number];
  const linear = (c: number): number => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
  return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
}

describe("the depth scale", () => {
  it("darkens steadily and tells every depth apart in black and white", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 10, max: 5000 }), { minLength: 1, maxLength: 12 }), (hundredths) => {
        const depths = hundredths.map((h) => h / 100);
        const inks = depthInks(depths);
        for (const [i, ink] of inks.entries()) {
          if (i > 0) expect(luminance(ink.tint)).toBeLessThan(luminance(inks[i - 1]!.tint));
        }
        const hatchings = inks.map((k) => `${k.gap} ${k.angle} ${k.crossed}`);
        expect(new Set(hatchings).size).toBe(inks.length);
        for (const d of depths) {
          const ink = inks[inkFor(d, inks)]!;
          expect(d).toBeLessThanOrEqual(ink.upTo + 0.006);
          expect(d).toBeGreaterThan(ink.over - 0.006);
        }
      }),
    );
  });
});

describe("outlines on a sheet", () => {
  const sheet = { left: 10, baseline: 100 };

  it("keep arcs as arcs, turned over with the sheet's Y", () => {
    expect(regionData(sheet, rectangle({ x: 0, y: 0 }, { x: 5, y: 2 }))).toMatch(
      /^M10 100L15 100L15 98L10 98L10 100Z$/,
    );
    expect(regionData(sheet, slot({ x: 0, y: 0 }, 20, 6, 0)).match(/L/g)).toHaveLength(2);
    // Counter-clockwise seen from above is drawn against SVG's positive angle.
    for (const flags of regionData(sheet, circle({ x: 0, y: 0 }, 4)).matchAll(/A4 4 0 ([01]) ([01])/g)) {
      expect(flags[2]).toBe("0");
    }
  });
});

describe("a whole sheet", () => {
  const made = madeSample("first-part.yaml");
  const sheets = made.files.filter((f) => f.name.endsWith(".svg"));

  it("is well-formed, shows borders, zero, marks, the check line and both boxes", () => {
    for (const { text: svg } of sheets) {
      expect(readXml(svg)).toHaveProperty("root");
      for (const words of [
        "upper edge",
        "lower edge (face edge)",
        "front end",
        "back end",
        "grain",
        "100 mm",
        ">A<",
        "Checked:",
        "Not checked:",
      ]) {
        expect(svg, words).toContain(words);
      }
    }
  });

  it("draws its check line 100 mm long", () => {
    for (const { text: svg } of sheets) {
      const lines = [...svg.matchAll(/<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="\2"/g)];
      expect(lines.some((l) => Math.abs(Number(l[3]) - Number(l[1]) - 100) < 1e-9)).toBe(true);
    }
  });
});

describe("numbers in the report", () => {
  it("are finite and repeatable", () => {
    expect([tame(-1e-9), tame(1 / 3), tame(Number.POSITIVE_INFINITY), tame(Number.NaN)]).toEqual([
      0, 0.333333, 1e9, -1e9,
    ]);
    const told = reportFinding({ grade: "note", code: "our-bug", place: {}, what: "x" });
    expect(told).toMatchObject({ why: null, mend: null, part: null, job: null, measured: null });
  });
});

describe("a hollow on its sheet", () => {
  it("says how deep it is, where, and what ridges its passes leave", () => {
    const asked = oneBoard(
      [
        "- recess: finger room",
        "  shape: slot",
        "  length: 50",
        "  width: 24",
        "  centre at: 60 from first end, 40 from lower edge",
        "  depth: 8",
        "  floor: dished 2",
      ],
      { length: 120, width: 80, thickness: 18 },
    ).replace("shop: shop.yaml", "");
    const made = makeAll(textsOf(asked));
    expect(made.findings.filter((f) => f.grade === "refuse")).toEqual([]);
    const sheet = made.files.find((f) => f.kind === "sheet")!.text;
    expect(sheet).toContain("finger room, 10 deep in the middle, ridges to 0.02");
  });
});
