import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type FitCardWish, fitCard } from "../../src/fit/fit-card.ts";
import { grooveWidthFor } from "../../src/fit/fit-card-record.ts";
import type { Job } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { doTask } from "../../src/pipeline/task.ts";
import { planJob } from "../../src/plan/plan-job.ts";
import { readPost } from "../../src/program/read-post.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";

const source = { file: "job.yaml", line: 1, column: 1, length: 1, text: "fit card" };
const wish: FitCardWish = {
  name: "fit card",
  wood: "ash",
  thickness: 9,
  runner: 9.53,
  depth: 3.5,
  bit: { name: "4 mm flat", diameter: 4 },
  source,
};

function made(more: Partial<FitCardWish> = {}) {
  const card = fitCard({ ...wish, ...more });
  if (!card.ok) throw new Error(card.findings.map((f) => f.what).join());
  return card.value;
}

function jobOf(more: Partial<FitCardWish> = {}): Job {
  return {
    file: "job.yaml",
    title: "fit card",
    unit: "mm",
    measured: [],
    parts: [made(more).part],
    boards: [],
    overrides: [],
  };
}

function boxOf(points: readonly { readonly x: number; readonly y: number }[]) {
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return { left: Math.min(...xs), right: Math.max(...xs), low: Math.min(...ys), high: Math.max(...ys) };
}

describe("a fit card", () => {
  it("has grooves around the runner in even steps, each with its number as strokes of five and dots of one", () => {
    const { cells } = made();
    expect(cells.map((c) => c.width)).toEqual([9.6, 9.65, 9.7, 9.75, 9.8, 9.85, 9.9, 9.95, 10]);
    for (const c of cells) {
      expect(5 * c.tally.strokes + c.tally.dots).toBe(c.number);
      expect(c.over).toBeCloseTo(c.width - 9.53, 9);
    }
    expect(cells[6]).toMatchObject({ tallyInWords: "stroke, dot, dot" });
  });

  it("cuts every groove with the bit it is for, along the grain, open at the end it says", () => {
    const { part, cells } = made();
    expect(part.grain).toBe("along length");
    expect(part.features.every((f) => f.cutter === "4 mm flat")).toBe(true);
    const grooves = part.features.flatMap((f) => (f.kind === "groove" ? [f] : []));
    expect(grooves.map((g) => g.width)).toEqual(cells.map((c) => c.width));
    for (const [k, g] of grooves.entries()) {
      expect(g.name).toBe(`${k + 1}, ${cells[k]!.width.toFixed(2)} mm`);
      const stops = g.run.kind === "along" ? Object.keys(g.run.stops) : [];
      expect(stops).toEqual([cells[k]!.opensTo === "first end" ? "second" : "first"]);
    }
    const dots = part.features.map((f) => (f.kind === "hole" ? f.centres.length : 0)).reduce((a, b) => a + b, 0);
    const strokes = part.features.filter((f) => f.kind === "recess").length;
    expect(dots + 5 * strokes).toBe(cells.reduce((sum, c) => sum + c.number, 0));
  });

  it("can be made of any runner, bit and number of grooves, without a word from parts and plan", () => {
    const told = new Set(["plan-holding-assumed", "plan-long-stick-out"]);
    fc.assert(
      fc.property(
        fc.integer({ min: 6_500, max: 16_000 }),
        fc.integer({ min: 3, max: 14 }),
        fc.constantFrom(3, 4, 6),
        (um, grooves, diameter) => {
          const job = jobOf({ runner: um / 1000, grooves, bit: { name: `${diameter} mm flat`, diameter } });
          const parts = describeWorkpieces(job);
          if (!parts.ok) throw new Error(parts.findings.map((f) => f.what).join());
          const plan = planJob(job, parts.value, DEFAULT_SHOP);
          expect([...parts.findings, ...plan.findings].filter((f) => !told.has(f.code))).toEqual([]);
          expect(plan.ok && plan.value.length).toBe(1);
        },
      ),
      { numRuns: 12 },
    );
  });

  it("bears the sizes in figures too, where they are burned or cut: clear of grooves, tallies and each other", () => {
    for (const sizes of ["burned", "cut"] as const) {
      const { part, cells } = made({ sizes, runner: 10.1 });
      const marks = part.features.flatMap((f) => (f.kind === "mark" ? [f] : []));
      expect(marks.length).toBe(cells.length);
      expect(marks.every((m) => m.cutter === undefined)).toBe(true);
      for (const [k, m] of marks.entries()) {
        expect(m.content).toMatchObject({ kind: "lines", from: { kind: "text", text: cells[k]!.width.toFixed(2) } });
        expect(m.made.by).toBe(sizes === "burned" ? "burned line" : "cut line");
      }
    }
    const job = jobOf({ sizes: "burned" });
    const parts = describeWorkpieces(job);
    if (!parts.ok) throw new Error(parts.findings.map((f) => f.what).join());
    const [piece] = parts.value;
    const inks = (piece?.marks ?? []).flatMap((m) =>
      m.ink.kind === "lines" ? [m.ink.chains.flatMap((c) => c.flatMap((s) => [s.from, s.to]))] : [],
    );
    expect(inks.length).toBe(9);
    const boxes = [
      ...inks.map(boxOf),
      ...(piece?.cavities ?? []).map((c) => boxOf(c.section.loops.flatMap((l) => l.flatMap((s) => [s.from, s.to])))),
    ];
    for (const [i, a] of boxes.entries()) {
      for (const b of boxes.slice(i + 1)) {
        const apart = Math.max(a.left - b.right, b.left - a.right, a.low - b.high, b.low - a.high);
        expect(apart).toBeGreaterThan(1.5);
      }
    }
    const { length, width } = job.parts[0]!.size;
    for (const b of inks.map(boxOf)) {
      expect(Math.min(b.left, b.low, length - b.right, width - b.high)).toBeGreaterThan(3);
    }
  });

  it("becomes a program that the proof passes", () => {
    const job = jobOf({ grooves: 3 });
    const parts = describeWorkpieces(job);
    const plan = parts.ok ? planJob(job, parts.value, DEFAULT_SHOP) : parts;
    const post = readPost(readFileSync(join(import.meta.dirname, "../../post/millimetre.yaml"), "utf8"), "millimetre");
    if (!plan.ok || !post.ok) throw new Error("no plan");
    const [planned] = plan.value;
    const result = doTask(
      { kind: "set-up", planned: planned as never, post: post.value, sequence: 1 },
      { job, shop: DEFAULT_SHOP },
    );
    expect(result.findings).toEqual([]);
    expect(result.verdict).toBe("fine");
  });

  it("is refused where it would show nothing", () => {
    const codeOf = (more: Partial<FitCardWish>): string | undefined => {
      const card = fitCard({ ...wish, ...more });
      return card.ok ? undefined : card.findings[0]?.code;
    };
    expect(codeOf({ bit: { name: "12 mm flat", diameter: 12 } })).toBe("fit-card-bit-too-wide");
    expect(codeOf({ bit: { name: "ground to fit", diameter: 9.6 } })).toBe("fit-card-bit-too-wide");
    for (const more of [
      { grooves: 2 },
      { grooves: 99 },
      { grooves: 4.5 },
      { step: 0 },
      { runner: 0 },
      { depth: 9 },
      { over: 7 },
    ]) {
      expect(codeOf(more), JSON.stringify(more)).toBe("fit-card-does-not-fit");
    }
  });
});

describe("the groove that was chosen", () => {
  const cards = [
    { name: "ash sides", bit: "4 mm flat", runner: 9.5, chosen: 9.85 },
    { name: "thin runners", bit: "4 mm flat", runner: 6, chosen: 6.25 },
    { name: "with the old bit", bit: "6 mm flat", runner: 9.5, chosen: 9.45 },
  ];

  it("gives every groove cut with its bit the same play", () => {
    expect(grooveWidthFor(9.5, "4 mm flat", cards)).toMatchObject({ width: 9.85, over: 0.35 });
    expect(grooveWidthFor(9.42, "4 MM flat ", cards)).toMatchObject({ width: 9.77, from: { name: "ash sides" } });
    expect(grooveWidthFor(6.2, "4 mm flat", cards)).toMatchObject({ width: 6.45, from: { name: "thin runners" } });
    // A bit that cuts wide: the groove is programmed narrower than the runner, and fits.
    expect(grooveWidthFor(9.5, "6 mm flat", cards)).toMatchObject({ width: 9.45, over: -0.05 });
  });

  it("says nothing of other bits, or of runners of quite another width", () => {
    expect(grooveWidthFor(9.5, "3 mm flat", cards)).toBeUndefined();
    expect(grooveWidthFor(20, "4 mm flat", cards)).toBeUndefined();
    expect(grooveWidthFor(9.5, "4 mm flat", [])).toBeUndefined();
  });
});
