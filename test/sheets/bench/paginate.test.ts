import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { benchPdf, paperMeasure } from "../../../src/sheets/bench/bench-pdf.ts";
import type { BenchPage, Block } from "../../../src/sheets/bench/block.ts";
import { BORDERS, type PaperPage, paginate } from "../../../src/sheets/bench/paginate.ts";
import type { Placed } from "../../../src/sheets/bench/pieces.ts";
import { readPdf } from "../reading-pdf.ts";
import { pages } from "./blocks.ts";

const measure = paperMeasure();
const PAPERS = ["A4", "Letter"] as const;

/** What is drawn of a mark, mm from the paper's upper left corner. */
function reach(m: Placed): { left: number; right: number; top: number; bottom: number } {
  switch (m.kind) {
    case "text":
      return {
        left: m.x,
        right: m.x + measure(m.text, m.size, m.bold),
        top: m.y - m.size * 0.8,
        bottom: m.y + m.size * 0.25,
      };
    case "line":
      return { left: m.x, right: m.toX, top: m.y, bottom: m.toY };
    case "box":
      return { left: m.x, right: m.x + m.width, top: m.y, bottom: m.y + m.height };
    case "dot":
      return { left: m.x, right: m.x, top: m.y, bottom: m.y };
    case "figure":
      return { left: m.x, right: m.x + m.figure.width, top: m.y, bottom: m.y + m.figure.height };
  }
}

/** A page's own marks, without head and foot. */
function own(page: PaperPage): readonly Placed[] {
  return page.marks.filter((m) => {
    const r = reach(m);
    return r.top >= BORDERS.top - 4 && r.bottom <= page.height - BORDERS.bottom + 2;
  });
}

function textsOn(page: PaperPage): readonly string[] {
  return own(page).flatMap((m) => (m.kind === "text" ? [m.text] : []));
}

const onePage = (...blocks: readonly Block[]): BenchPage => ({ title: "t", foot: "f", blocks });

describe("laying blocks out on paper", () => {
  it("puts nothing beyond the borders, and every letter of the blocks somewhere, in order", () => {
    fc.assert(
      fc.property(pages, fc.constantFrom(...PAPERS), (page, paper) => {
        const laid = paginate(page, paper, measure);
        for (const one of laid) {
          for (const m of one.marks) {
            const r = reach(m);
            expect(r.left).toBeGreaterThanOrEqual(BORDERS.left - 0.4);
            expect(r.right).toBeLessThanOrEqual(one.width - BORDERS.right + 0.4);
            expect(r.top).toBeGreaterThanOrEqual(5);
            expect(r.bottom).toBeLessThanOrEqual(one.height - 5);
          }
          // Head and foot apart, all lies between them.
          expect(one.marks.length - own(one).length).toBe(4);
        }
        const letters = (t: string): string => t.replace(/\s/g, "");
        const drawn = letters(laid.flatMap(textsOn).join(""));
        for (const b of page.blocks) {
          if (b.kind === "paragraph" || b.kind === "heading") expect(drawn).toContain(letters(b.text));
          if (b.kind === "list") for (const item of b.items) expect(drawn).toContain(letters(item).slice(0, 60));
        }
      }),
      { numRuns: 20 },
    );
  });

  it("lets no two lines of text lie over each other", () => {
    fc.assert(
      fc.property(pages, (page) => {
        for (const one of paginate(page, "A4", measure)) {
          const boxes = one.marks.filter((m) => m.kind === "text").map(reach);
          boxes.sort((a, b) => a.top - b.top);
          boxes.forEach((a, i) => {
            for (const b of boxes.slice(i + 1, i + 8)) {
              const over = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
              const beside = Math.min(a.right, b.right) - Math.max(a.left, b.left);
              expect(over < 0.35 || beside < 0.01, JSON.stringify([a, b])).toBe(true);
            }
          });
        }
      }),
      { numRuns: 12 },
    );
  });

  it("keeps a heading with what follows, and an item, a figure or a caution whole", () => {
    const filler = (n: number): Block => ({ kind: "list", items: Array.from({ length: n }, (_, i) => `filler ${i}`) });
    for (let n = 30; n <= 48; n += 2) {
      const laid = paginate(
        onePage(
          filler(n),
          { kind: "heading", level: 2, text: "HEAD" },
          { kind: "paragraph", text: "first words", stays: true },
          { kind: "caution", title: "CARE", items: ["one", "two", "three"] },
          { kind: "checklist", items: [{ text: "DO THIS", notes: ["note a", "note b"] }] },
        ),
        "A4",
        measure,
      );
      const pageOf = (t: string): number => laid.findIndex((p) => textsOn(p).includes(t));
      expect(pageOf("HEAD")).toBe(pageOf("CARE"));
      expect(pageOf("HEAD")).toBe(pageOf("first words"));
      expect(pageOf("CARE")).toBe(pageOf("three"));
      expect(pageOf("DO THIS")).toBe(pageOf("note b"));
      expect(pageOf("HEAD")).toBeGreaterThanOrEqual(0);
    }
  });

  it("repeats a table's head on each page that it goes on to, and never parts a row", () => {
    const rows = Array.from({ length: 120 }, (_, i) => [`row ${i}`, `cell ${i} ${"long ".repeat(30)}end${i}`]);
    const laid = paginate(
      onePage({
        kind: "table",
        columns: [
          { head: "NAME", share: 1 },
          { head: "WHAT", share: 3 },
        ],
        rows,
      }),
      "Letter",
      measure,
    );
    expect(laid.length).toBeGreaterThan(4);
    for (const page of laid) expect(textsOn(page).filter((t) => t === "NAME")).toHaveLength(1);
    rows.forEach((_, i) => {
      const at = laid.filter((p) => textsOn(p).includes(`row ${i}`));
      expect(at).toHaveLength(1);
      expect(textsOn(at[0]!).some((t) => t.endsWith(`end${i}`))).toBe(true);
    });
  });

  it("puts what belongs together on one page where one page holds it, and starts a chapter on a new one", () => {
    const part = (name: string): Block => ({
      kind: "together",
      blocks: [
        { kind: "heading", level: 2, text: `${name} head` },
        { kind: "list", items: Array.from({ length: 24 }, (_, i) => `${name} ${i}`) },
        { kind: "blanks", items: [{ label: `${name} found`, unit: "mm" }] },
      ],
    });
    const laid = paginate(
      onePage(part("a"), part("b"), part("c"), { kind: "heading", level: 1, text: "NEW" }),
      "A4",
      measure,
    );
    const pageOf = (t: string): number => laid.findIndex((p) => textsOn(p).includes(t));
    for (const name of ["a", "b", "c"]) {
      expect(pageOf(`${name} head`)).toBe(pageOf(`${name} found`));
    }
    expect(pageOf("NEW")).toBe(pageOf("c found") + 1);
    expect(textsOn(laid.at(-1)!)).toEqual(["NEW"]);
  });
});

describe("the page as PDF, read back", () => {
  it("stays within the borders on both papers, numbers its pages, and gives the same bytes again", () => {
    fc.assert(
      fc.property(pages, fc.constantFrom(...PAPERS), (page, paper) => {
        const bytes = benchPdf(page, paper);
        expect(Buffer.compare(bytes, benchPdf(page, paper))).toBe(0);
        const sheets = readPdf(bytes);
        const [width, height] = paper === "A4" ? [210, 297] : [215.9, 279.4];
        sheets.forEach((sheet, i) => {
          expect(sheet.width).toBeCloseTo(width, 2);
          expect(sheet.height).toBeCloseTo(height, 2);
          expect(sheet.texts.map((t) => t.text)).toContain(`page ${i + 1} of ${sheets.length}`);
          for (const p of sheet.paths.flatMap((q) => q.points.flat())) {
            expect(p.x).toBeGreaterThan(BORDERS.left - 0.6);
            expect(p.x).toBeLessThan(width - BORDERS.right + 0.6);
            expect(p.y).toBeLessThan(height - 5);
          }
          for (const t of sheet.texts) {
            expect(t.at.x).toBeGreaterThan(BORDERS.left - 0.6);
            expect(t.at.y).toBeLessThan(height - 5);
          }
        });
      }),
      { numRuns: 12 },
    );
  });

  it("writes each line upright, at its size, with all its letters", () => {
    const said = "(a) \\ 6 × 4 mm, Ø 3 ± 0.1 \u201cquoted\u201d";
    const [sheet] = readPdf(benchPdf(onePage({ kind: "paragraph", text: said }), "A4"));
    const found = sheet!.texts.find((t) => t.text.startsWith("(a)"))!;
    expect(found.text).toBe('(a) \\ 6 × 4 mm, Ø 3 ± 0.1 "quoted"');
    expect(found.size).toBeCloseTo(3.5, 3);
    expect(found.turnedDeg).toBeCloseTo(0, 6);
    expect(found.at.x).toBeCloseTo(BORDERS.left, 2);
  });
});
