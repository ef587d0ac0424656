import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import type { FitPlan } from "../../src/fit/fit-plan.ts";
import { planFit } from "../../src/fit/plan-fit.ts";
import { readJob } from "../../src/job/read-job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import type { Point } from "../../src/shapes/point.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { assemble } from "./assembler.ts";
import {
  BOTTOM_THICKNESS,
  CLEARANCE,
  cabinets,
  jobText,
  LIP,
  REVEAL,
  RUNNER_TALL,
  type TrueCabinet,
  type TrueOpening,
} from "./cabinets.ts";

const shop = ((): Shop => {
  const read = readShop(undefined, "built-in defaults");
  if (!read.ok) throw new Error("the built-in shop is wrong");
  return read.value;
})();

/** Rounding of sizes to the tenth, and of heights to the twentieth. */
const ROUNDED = 0.051;

function planned(text: string): { readonly plan: FitPlan; readonly parts: ReturnType<typeof describeWorkpieces> } {
  const job = readJob(text, "cabinet.yaml", () => undefined);
  if (!job.ok) throw new Error(job.findings.map(printFinding).join("\n"));
  const fit = planFit(job.value, shop);
  if (!fit.ok || !fit.value.plan)
    throw new Error(
      fit.findings
        .filter((f) => f.grade === "refuse")
        .map(printFinding)
        .join("\n"),
    );
  return { plan: fit.value.plan, parts: describeWorkpieces(fit.value.job) };
}

/** Growth of a width from today, by the handbook's coefficient: ΔD = D·C·ΔM. */
function grown(wood: string, dimension: "width" | "thickness", size: number, from: number, to: number): number {
  const kind = shop.woods.find((w) => w.name === wood)!;
  const c = dimension === "width" ? kind.tangentialPerPercent!.value : kind.radialPerPercent!.value;
  return size * c * (to - from);
}

/** Distance of a point to the right of a line, seen along it: > 0 within a shape whose corners run counter-clockwise. */
function within(p: Point, a: Point, b: Point): number {
  return ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / Math.hypot(b.x - a.x, b.y - a.y);
}

/** Least gaps of the front to left and right, when it lies as evenly between as it can; and to below and above. */
function gapsAround(
  o: TrueOpening,
  front: readonly Point[],
): { readonly beside: number; readonly below: number; readonly above: number; readonly shift: number } {
  const [a, b, c, d] = o.corners;
  const left = Math.min(...front.map((p) => within(p, d, a)));
  const right = Math.min(...front.map((p) => within(p, b, c)));
  const shift = (right - left) / 2;
  const moved = front.map((p) => ({ x: p.x + shift, y: p.y }));
  return {
    beside: (left + right) / 2,
    below: Math.min(...moved.map((p) => within(p, a, b))),
    above: Math.min(...moved.map((p) => within(p, c, d))),
    shift,
  };
}

function check(c: TrueCabinet): void {
  const { choices: ch } = c;
  const { plan, parts } = planned(jobText(c));
  expect(parts.findings.filter((f) => f.grade === "refuse").map(printFinding)).toEqual([]);
  const wet = plan.year.wettest.moisture;
  const dry = plan.year.driest.moisture;
  for (const o of c.openings) {
    const bench = { cleanUp: ch.cleanUp, pare: 0.5, ...(ch.set === "lipped" && { lipThickness: LIP.thickness }) };
    const made = assemble(plan, o.name, bench);
    const gaps = gapsAround(o, made.front);
    const hung = ch.kind === "side-hung";
    const foot = hung ? made.bearing : 0;
    // The front, today and in the wet month: it hangs on the wall that carries.
    const top = Math.max(...made.front.map((p) => p.y));
    const low = Math.min(...made.front.map((p) => p.y));
    const upWet = grown(ch.woods.front, "width", top - foot, ch.moisture, wet);
    const downWet = hung ? grown(ch.woods.front, "width", foot - low, ch.moisture, wet) : 0;
    expect(gaps.beside).toBeGreaterThan(REVEAL - ROUNDED);
    expect(gaps.above - Math.max(0, upWet)).toBeGreaterThan(REVEAL - ROUNDED);
    expect(gaps.below - Math.max(0, downWet)).toBeGreaterThan(REVEAL - ROUNDED);
    // Even: no gap is more than it needs by more than the sides' wood, which may move more, asks.
    if (ch.set === "inset") expect(gaps.beside).toBeLessThan(REVEAL + 0.2);
    // The sides, likewise.
    const sideWet = grown(ch.woods.side, "width", made.box.top - foot, ch.moisture, wet);
    const rails = o.corners.map((p) => p.y);
    expect(Math.min(rails[2]!, rails[3]!) - made.box.top - Math.max(0, sideWet)).toBeGreaterThan(
      REVEAL - ROUNDED - 0.3,
    );
    if (hung)
      expect(
        made.box.bottom - Math.max(0, grown(ch.woods.side, "width", foot - made.box.bottom, ch.moisture, wet)),
      ).toBeGreaterThan(REVEAL - ROUNDED);
    else expect(made.box.bottom).toBe(0);
    // The box is upright between the narrowest, with its clearance when both sides have swollen.
    const box = made.box.right - made.box.left;
    const swollen = 2 * Math.max(0, grown(ch.woods.side, "thickness", ch.sideThickness, ch.moisture, wet));
    const upright = Math.min(o.corners[1].x, o.corners[2].x) - Math.max(o.corners[0].x, o.corners[3].x);
    const narrowest = Math.min(upright, o.middle, o.back);
    expect(narrowest - box - swollen).toBeGreaterThan(2 * CLEARANCE - ROUNDED);
    // Nothing of the box stands out behind the front.
    const [a, b, cc, e] = made.front;
    expect(made.box.left - Math.max(a.x, e.x)).toBeGreaterThan(-ROUNDED);
    expect(Math.min(b.x, cc.x) - made.box.right).toBeGreaterThan(-ROUNDED);
    // Along: flush in front (a lip lies on the case), clear of the back in the dry month.
    expect(made.show).toBeCloseTo(ch.set === "lipped" ? -LIP.thickness : 0, 6);
    const shrinks = -grown("cherry", "width", o.depth, ch.moisture, dry);
    expect(o.depth - made.farthest - Math.max(0, shrinks)).toBeGreaterThan(2 - 1e-6);
    // Joints close: the back is as long as between its seats; the bottom lies in its grooves with play, under the back.
    expect(made.backLength.is).toBeCloseTo(made.backLength.wanted, 6);
    expect(made.bottomUnderBack).toBeCloseTo(0, 6);
    expect(made.bottomPlay).toBeCloseTo(1, 6);
    const bottomGrows = ch.bottom === "solid" ? grown("cherry", "width", o.depth, ch.moisture, wet) : 0;
    expect(made.bottomBack.before - bottomGrows).toBeGreaterThan(1);
    expect(made.bottomBack.under).toBeGreaterThan(0);
    expect(made.grooveOverBottom).toBeGreaterThan(0.15);
    expect(plan.drawers.find((d) => d.name === o.name)!.bottom.size.thickness).toBe(BOTTOM_THICKNESS);
    // Runner in its groove: play across at all times, free at the floor.
    if (made.runner) {
      const runnerWet = grown("hard maple", "width", RUNNER_TALL, ch.moisture, wet);
      expect(made.runner.groove.width - RUNNER_TALL).toBeGreaterThan(0.4 - 1e-6);
      expect(made.runner.groove.width - RUNNER_TALL - Math.max(0, runnerWet)).toBeGreaterThan(0);
      expect(made.runner.finishedDepth - made.runner.enters).toBeGreaterThan(0.8 - 1e-6);
    }
    if (made.lip) {
      const shift = gaps.shift;
      const rim = [
        Math.max(o.corners[0].x, o.corners[3].x) - (made.lip.left + shift),
        made.lip.right + shift - Math.min(o.corners[1].x, o.corners[2].x),
        -made.lip.bottom,
        made.lip.top - Math.max(o.corners[2].y, o.corners[3].y),
      ];
      for (const over of rim) expect(over).toBeGreaterThan(LIP.over - 1.5);
    }
  }
  checkRuns(plan);
  checkHolds(plan, c);
}

/** Parts, kerfs and planing of a board with fronts sum to its length, and nothing overlaps. */
function checkRuns(plan: FitPlan): void {
  for (const run of plan.runs) {
    const sizes = run.parts.map((p) => plan.parts.find((q) => q.description.name === p.part)!.description.size);
    const along = sizes.map((s) => (run.way === "row" ? s.length : s.width));
    run.parts.forEach((p, i) => {
      expect(p.to - p.from).toBeCloseTo(along[i]!, 6);
    });
    const whole = run.way === "row" ? run.size.length : run.size.width;
    const ends = run.parts[0]!.from + (whole - run.parts.at(-1)!.to);
    const sum = along.reduce((a, b) => a + b, 0) + (along.length - 1) * run.between + ends;
    expect(whole).toBeCloseTo(sum, 6);
    // 1.5 mm of kerf, and 1.5 mm planed off each of two edges.
    expect(run.between).toBeCloseTo(4.5, 6);
    for (const p of run.parts) expect(plan.cutList.find((i) => i.part === p.part)?.run).toBe(run.name);
  }
}

function checkHolds(plan: FitPlan, c: TrueCabinet): void {
  const measured = c.openings.every((o) => o.between !== undefined);
  const held = plan.holdPoints.flatMap((h) => h.holdsBack);
  if (measured || c.choices.kind === "below") expect(held).toEqual([]);
  else
    expect(new Set(held)).toEqual(
      new Set(
        plan.parts.filter((p) => p.role === "side").flatMap((p) => [p.description.name, p.description.mirroredAs]),
      ),
    );
  expect(plan.cutList.length).toBe(plan.parts.length);
  expect(plan.parts.filter((p) => p.role === "side").reduce((n, p) => n + p.description.copies, 0)).toBe(
    c.openings.length,
  );
  const runners = plan.parts.filter((p) => p.role === "runner");
  expect(runners.reduce((n, p) => n + p.description.copies, 0)).toBe(2 * c.openings.length);
}

describe("random cabinets, assembled from their parts", () => {
  it("fit their openings with the stated gaps in every season", () => {
    fc.assert(fc.property(cabinets, check), { numRuns: 40 });
  });

  it("keep their gaps within what measuring errors inside the tolerance allow", () => {
    fc.assert(
      fc.property(
        cabinets,
        fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 32, maxLength: 32 }),
        (c, draws) => {
          // Calipers: ± 0.1 mm. Each reading errs by a draw of its own.
          const errors = new Map<string, number>();
          const error = (what: string): number => {
            const known = errors.get(what) ?? draws[errors.size % draws.length]! / 1000;
            errors.set(what, known);
            return known;
          };
          const { plan } = planned(jobText(c, error));
          for (const o of c.openings) {
            const d = plan.drawers.find((x) => x.name === o.name)!;
            const told = (what: string) => d.gaps.find((g) => g.name.startsWith(what))!.now.worst;
            const behind = o.depth - d.box.depth;
            expect(behind).toBeGreaterThan(told("gap behind").least - 1e-6);
            expect(behind).toBeLessThan(told("gap behind").most + 1e-6);
            const beside = told("gap on each side");
            const lean = Math.min(
              ...[o.middle, o.back, (o.corners[1].x + o.corners[2].x - o.corners[0].x - o.corners[3].x) / 2],
            );
            const each = (lean - d.mouth.lean - d.box.width) / 2;
            expect(each).toBeGreaterThan(beside.least - 0.002);
            expect(each).toBeLessThan(beside.most + 0.002);
          }
        },
      ),
      { numRuns: 12 },
    );
  });
});
