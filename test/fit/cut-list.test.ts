import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boardFeet, cubicMetres, sheetArea, volumeOf } from "../../src/fit/board-measure.ts";
import { csvCell, cutListCsv } from "../../src/fit/cut-list-csv.ts";
import { type CutList, cutListFor } from "../../src/fit/cut-list-job.ts";
import { cutListTable, cuttingPlanTables, woodTable } from "../../src/fit/cut-list-table.ts";
import { fitJob } from "../../src/fit/fit-job.ts";
import { readJob } from "../../src/job/read-job.ts";
import { readShop } from "../../src/shop/read-shop.ts";

const shop = readShop(undefined, "defaults");

function listed(text: string): { readonly list: CutList; readonly codes: readonly string[] } {
  if (!shop.ok) throw new Error("the built-in shop is wrong");
  const job = readJob(text, "cut.yaml", () => undefined);
  if (!job.ok) throw new Error(job.findings.map((f) => `${f.place.source?.line}: ${f.what}`).join("\n"));
  const fit = fitJob(job.value, shop.value);
  if (!fit.ok) throw new Error(fit.findings.map((f) => f.what).join("\n"));
  const { list, findings } = cutListFor(fit.value.job, fit.value.plan, shop.value);
  return { list, codes: findings.map((f) => f.code) };
}

/** Boards hold what they are said to hold, to the micrometre; every piece is cut once or is missing. */
function checked(list: CutList): void {
  const kerf = list.allowances.kerf;
  const cut = new Map<string, number>();
  for (const plan of list.plans) {
    const pieceOf = (name: string) => list.rows.find((r) => r.part === name)!;
    for (const strip of [...plan.boards, ...plan.buy].flatMap((b) => b.strips)) {
      const { bar } = strip;
      const sawn = bar.pieces.reduce((s, p) => s + p.to - p.from, 0);
      expect(sawn + bar.kerfs + bar.offcut).toBeCloseTo(bar.length, 6);
      expect(strip.to - strip.from).toBeCloseTo(strip.width, 6);
      for (const p of bar.pieces) {
        cut.set(p.name, (cut.get(p.name) ?? 0) + 1);
        const { rough, grain } = pieceOf(p.name);
        expect(p.to - p.from).toBeCloseTo(grain === "along width" ? rough.width : rough.length, 6);
        const across = [rough.width, rough.thickness, rough.length].filter((w) => w <= strip.width + 1e-6);
        expect(across.length).toBeGreaterThan(0);
      }
    }
    for (const b of plan.boards) {
      expect(b.strips.reduce((s, t) => s + t.width, 0) + b.kerfs + b.offcut).toBeCloseTo(b.width, 6);
      for (const [i, s] of b.strips.entries()) {
        expect(s.bar.length).toBeCloseTo(b.length, 6);
        if (i > 0) expect(s.from - b.strips[i - 1]!.to).toBeCloseTo(kerf, 6);
      }
    }
    for (const m of plan.missing) cut.set(m.name, (cut.get(m.name) ?? 0) + m.count);
  }
  for (const r of list.rows) {
    const wanted = r.outOf === undefined && r.from !== "panel" ? r.count : 0;
    expect(cut.get(r.part) ?? 0).toBe(wanted);
  }
}

describe("board measure", () => {
  it("counts a piece 12 in by 12 in by 1 in as one board foot", () => {
    // Wood Handbook, FPL-GTR-282, glossary; 1 ft³ is 12 board feet and 0.028 316 846 592 m³ (NIST SP 811, B.8).
    expect(boardFeet(volumeOf({ length: 304.8, width: 304.8, thickness: 25.4 }))).toBeCloseTo(1, 12);
    expect(cubicMetres(12 * volumeOf({ length: 304.8, width: 304.8, thickness: 25.4 }))).toBeCloseTo(
      0.028316846592,
      12,
    );
    // A board 8 ft long, 6 in wide and 4/4 thick: thickness × width × length in feet over 12 gives 4.
    expect(boardFeet(volumeOf({ length: 96 * 25.4, width: 6 * 25.4, thickness: 25.4 }))).toBeCloseTo(4, 12);
    expect(sheetArea(304.8 * 304.8).squareFeet).toBeCloseTo(1, 12);
  });
});

describe("a cut list", () => {
  const head = "title: T\nunits: mm\n";

  it("lists parts, their mirror images, boards of several parts and turning blanks of an ordinary job", () => {
    const { list } = listed(`${head}parts:
  side: {blank: {wood: ash, length: 190, width: 57, thickness: 9}, copies: 3, mirrored as: other side}
  plate: {blank: {wood: cherry, length: 90, width: 46, thickness: 6}}
  base: {blank: {wood: plywood, length: 200, width: 100, thickness: 4}, copies: 2}
  knob:
    blank: {wood: cherry, length: 120, square: 40}
    features: [{turning: profile, elements: [{cylinder: {length: 1 share, diameter: 30}}]}]
boards:
  offcut: {blank: {wood: cherry, length: 120, width: 76, thickness: 6}, places: [{part: plate, at: "15 from first end, 15 from lower edge"}]}
`);
    const row = (part: string) => list.rows.find((r) => r.part === part)!;
    expect(row("side")).toMatchObject({
      count: 6,
      twin: "other side",
      rough: { length: 202, width: 60, thickness: 12 },
    });
    expect(row("plate")).toMatchObject({ outOf: "offcut", count: 1 });
    expect(row("offcut")).toMatchObject({ only: "board", from: "board" });
    expect(row("base")).toMatchObject({ from: "panel", rough: { length: 200, width: 100, thickness: 4 } });
    expect(row("knob")).toMatchObject({ from: "turning blank", rough: { length: 120, width: 43, thickness: 43 } });
    checked(list);
    const plywood = list.totals.find((t) => t.wood === "plywood")!;
    expect(plywood.sheet).toBe(40_000);
    expect(plywood.waste).toBeCloseTo(0, 12);
    const ash = list.totals.find((t) => t.wood === "ash")!;
    expect(ash.finished).toBeCloseTo(6 * 190 * 57 * 9, 6);
    expect(ash.waste).toBeCloseTo(1 - ash.finished / ash.boards, 12);
  });

  it("cuts from what lies in the shop, the thinnest board that will do, and says what it does not hold", () => {
    const parts = `${head}parts:
  side: {blank: {wood: ash, length: 190, width: 57, thickness: 9}, copies: 4}
`;
    const stock = (boards: string) => listed(`${parts}stock: {white ash: ${boards}}\n`);
    const plenty = stock(
      "[{length: 900, width: 150, thickness: 25}, {length: 500, width: 130, thickness: 14, count: 2}]",
    );
    expect(plenty.codes).toEqual([]);
    // 202 + 1.5 twice in 500, two strips of 60 in 130: one board of the thinner ones is enough.
    expect(plenty.list.plans).toMatchObject([{ thickness: 14, boards: [{ length: 500, width: 130 }], missing: [] }]);
    checked(plenty.list);
    const short = stock("[{length: 500, width: 70, thickness: 14}]");
    expect(short.codes).toEqual(["cut-stock-short"]);
    expect(short.list.plans[0]!.missing).toMatchObject([{ name: "side", count: 2 }]);
    checked(short.list);
    expect(stock("[{length: 500, width: 130, thickness: 10}]").codes).toEqual(["cut-stock-thin"]);
    expect(listed(`${parts}stock: {cherry: [{length: 500, width: 130, thickness: 20}]}\n`).codes).toEqual([
      "cut-stock-unused",
    ]);
  });

  it("rips strips for runners off a board's edge, kerfs counted", () => {
    const { list } = listed(`${head}case:
  wood: cherry
  side thickness: 15
  moisture today: 8 % by meter
  openings: {till: {width: 142, height: 58, depth: 205}}
drawers:
  fronts: {wood: cherry, thickness: 14}
  sides: {wood: ash, thickness: 10}
  bottoms: {wood: plywood, thickness: 4}
  runners: {wood: hard maple, tall: 12, thickness: 4.2}
  front joint: rabbet
  back joint: through
stock: {hard maple: [{length: 250, width: 100, thickness: 16}]}
`);
    checked(list);
    const maple = list.plans.find((p) => p.wood === "hard maple")!;
    // Taller than thick, so it stands in the board: 12 + 3 = 15 of its 16 mm, and 4.2 + 3 mm are ripped off.
    expect(maple.boards[0]!.strips.map((s) => [s.from, s.to])).toEqual([
      [0, 7.2],
      [8.7, 15.9],
    ]);
    expect(list.rows.filter((r) => r.what === "front").every((r) => r.outOf === "fronts of row 1")).toBe(true);
  });

  it("adds up, whatever is cut from whatever boards", () => {
    const mm = (from: number, to: number) => fc.integer({ min: from * 1000, max: to * 1000 }).map((um) => um / 1000);
    const part = fc.record({
      length: mm(60, 500),
      width: mm(20, 110),
      thickness: mm(5, 22),
      copies: fc.integer({ min: 1, max: 4 }),
    });
    const board = fc.record({
      length: mm(400, 1500),
      width: mm(60, 220),
      thickness: mm(9, 30),
      count: fc.integer({ min: 1, max: 2 }),
    });
    const cases = fc.record({
      parts: fc.array(part, { minLength: 1, maxLength: 6 }),
      boards: fc.array(board, { maxLength: 3 }),
      grain: fc.constantFrom("along length", "along width"),
    });
    fc.assert(
      fc.property(cases, ({ parts, boards, grain }) => {
        const lines = parts.map(
          ({ copies, ...s }, i) =>
            `  p${i}: {blank: {wood: ash, length: ${s.length}, width: ${s.width}, thickness: ${s.thickness}, grain: ${grain}}, copies: ${copies}}`,
        );
        const stock = boards.map(
          (b) => `{length: ${b.length}, width: ${b.width}, thickness: ${b.thickness}, count: ${b.count}}`,
        );
        const text = [head, "parts:", ...lines, ...(stock.length > 0 ? [`stock: {ash: [${stock.join(", ")}]}`] : [])];
        const { list, codes } = listed(text.join("\n"));
        checked(list);
        const missing = list.plans.some((p) => p.missing.length > 0);
        expect(codes.includes("cut-stock-short")).toBe(missing);
        for (const plan of list.plans.filter((p) => p.inStock)) {
          for (const b of boards) {
            const used = plan.boards.filter(
              (c) => Math.abs(c.length - b.length) < 1e-3 && Math.abs(c.width - b.width) < 1e-3,
            );
            const there = boards.filter((o) => o.length === b.length && o.width === b.width);
            expect(used.length).toBeLessThanOrEqual(there.reduce((n, o) => n + o.count, 0));
          }
        }
        for (const t of list.totals) {
          expect(t.waste).toBeGreaterThanOrEqual(0);
          expect(t.rough).toBeLessThanOrEqual(t.boards + 1e-3);
        }
      }),
      { numRuns: 20 },
    );
  });

  it("stands on the page as plain rows", () => {
    const { list } = listed(`${head}parts: {side: {blank: {wood: ash, length: 190, width: 57, thickness: 9}}}\n`);
    for (const t of [cutListTable(list, "mm"), woodTable(list), ...cuttingPlanTables(list, "in")]) {
      expect(t.rows.length).toBeGreaterThan(0);
      for (const r of t.rows) expect(r).toHaveLength(t.columns.length);
    }
    expect(cutListTable(list, "mm").rows[0]).toContain("202 × 60 × 12");
    expect(cuttingPlanTables(list, "in")[0]!.rows.flat().join()).toContain("7 61/64 in");
  });
});

describe("the cut list as CSV", () => {
  /** Cells of a CSV text, read by the grammar of RFC 4180 §2. */
  function cellsOf(text: string): string[][] {
    const rows: string[][] = [[]];
    const cell = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/y;
    for (cell.lastIndex = 0; cell.lastIndex < text.length; ) {
      const m = cell.exec(text);
      if (m === null) throw new Error("not RFC 4180");
      rows.at(-1)!.push(m[1] === undefined ? m[2]! : m[1].replace(/""/g, '"'));
      if (m[3] === "\r\n" && cell.lastIndex < text.length) rows.push([]);
    }
    return rows;
  }

  it("reads back cell by cell, and no cell begins as a formula", () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: "grapheme", maxLength: 12 }), { minLength: 2, maxLength: 5 }), (cells) => {
        const line = `${cells.map(csvCell).join(",")}\r\n`;
        const back = cellsOf(line)[0]!;
        expect(back.map((c, i) => (c === cells[i] ? c : c.slice(1)))).toEqual(cells);
        for (const c of back) expect(c.trimStart()).not.toMatch(/^[=+\-@\t\r]/);
      }),
      { numRuns: 60 },
    );
    for (const evil of ["=1+1", "+1", "-1", "@x", " =1", "\t=1", "\r=1", "\uff1d1", "\n=x"])
      expect(csvCell(evil)).toMatch(/^"?'/);
    expect(csvCell("a side, left")).toBe('"a side, left"');
    expect(csvCell("side 1")).toBe("side 1");
  });

  it("has one line for each row, in the job's unit", () => {
    const { list } = listed(
      'title: T\nunits: in\nparts: {"=cmd()": {blank: {wood: ash, length: 7 1/2 in, width: 2 in, thickness: 1/2 in}}}\n',
    );
    const rows = cellsOf(cutListCsv(list, "in"));
    expect(rows[0]).toContain("finished length (in)");
    expect(rows[1]!.slice(0, 7)).toEqual(["'=cmd()", "part", "ash", "1", "7.5", "2", "0.5"]);
    expect(new Set(rows.map((r) => r.length)).size).toBe(1);
  });
});
