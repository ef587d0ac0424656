import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { growthOf } from "../../src/fit/movement.ts";
import { planFit } from "../../src/fit/plan-fit.ts";
import { readJob } from "../../src/job/read-job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import type { Workpiece } from "../../src/parts/workpiece.ts";
import { boundsOfRegion, containsPoint } from "../../src/shapes/region.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";

/** The sizes drawn for one cabinet of one drawer. mm */
interface Drawn {
  readonly width: number;
  readonly height: number;
  readonly depth: number;
  readonly side: number;
  readonly tall: number;
  readonly reach: number;
  readonly clearance: number;
  readonly free: number;
  readonly letIn: number;
}

function jobOf(d: Drawn): string {
  return `title: Case
units: mm
case:
  wood: cherry
  side thickness: 15
  measured with: calipers
  moisture today: 9 % by meter
  openings:
    one: {width: ${d.width}, height: ${d.height}, depth: ${d.depth}}
drawers:
  fronts: {wood: cherry, thickness: 14}
  sides: {wood: ash, thickness: ${d.side}}
  runners:
    {wood: hard maple, thickness: ${d.reach + d.letIn}, tall: ${d.tall}, clearance: ${d.clearance}, free depth: ${d.free}, let in: ${d.letIn}}
  bottoms: {wood: plywood, thickness: 4}
  front joint: half-blind
  back joint: through
`;
}

function piece(workpieces: readonly Workpiece[], name: string): Workpiece {
  const found = workpieces.find((w) => w.name === name);
  if (found === undefined) throw new Error(`no workpiece "${name}"`);
  return found;
}

const step = (min: number, max: number, by: number) =>
  fc.integer({ min: Math.round(min / by), max: Math.round(max / by) }).map((n) => Number((n * by).toFixed(3)));

const CLEAN_UP = 0.3;
const TO_PARE = 0.5;

describe("a drawer hung in its case, from its parts alone", () => {
  it("slides along its runners to the stop with the stated clearances, in every season", () => {
    const draw = fc.record({
      width: step(110, 300, 0.1),
      height: step(60, 120, 0.1),
      depth: step(150, 320, 0.1),
      side: step(9, 12, 0.1),
      tall: step(8, 14, 0.1),
      reach: step(3, 4.5, 0.1),
      clearance: step(0.2, 0.5, 0.01),
      free: step(0.5, 1, 0.1),
      letIn: fc.constantFrom(0, 1),
    });
    let fits = 0;
    fc.assert(
      fc.property(draw, (d) => {
        const job = readJob(jobOf(d), "case.yaml", () => undefined);
        if (!job.ok) throw new Error(job.findings.map((f) => f.what).join());
        const fit = planFit(job.value, DEFAULT_SHOP);
        const refused = fit.findings.filter((f) => f.grade === "refuse");
        // The drawn sizes can all be fitted.
        expect(refused.map((f) => `${f.code} ${f.why}`)).toEqual([]);
        if (!fit.ok || fit.value.plan === undefined) throw new Error("a plan was expected");
        const { plan } = fit.value;
        const [drawer] = plan.drawers;
        const wanted = plan.parts.filter((p) => p.role === "side" || p.role === "runner");
        const described = describeWorkpieces({ ...fit.value.job, parts: wanted.map((p) => p.description) });
        if (!described.ok) throw new Error("workpieces were expected");
        const { box, side, runner } = drawer!;
        const right = piece(described.value, side.parts.right);
        const left = piece(described.value, side.parts.left);
        const strip = piece(described.value, runner.part);
        const groove = right.cavities.find((c) => c.shape.kind === "groove" && c.shape.bearingWall === "upper edge")!;
        const twin = left.cavities.find((c) => c.shape.kind === "groove" && c.shape.bearingWall === "upper edge")!;
        const at = boundsOfRegion(groove.section)!;
        const mirror = boundsOfRegion(twin.section)!;
        // Left and right: the same groove from end to end.
        expect(right.size.length - mirror.max.x).toBeCloseTo(at.min.x, 6);
        expect(mirror.min.y).toBeCloseTo(at.min.y, 9);
        expect(mirror.max.y).toBeCloseTo(at.max.y, 9);
        expect(twin.to).toBeCloseTo(groove.to, 9);
        // The runner as it comes: as tall as its blank is wide, let in, screwed on its spacer.
        const tall = strip.size.width;
        const reach = strip.size.thickness - d.letIn;
        const nose = tall / 2;
        const lower = runner.spacer;
        // Hung on it, the side's lower edge is where the box was said to be.
        expect(lower + tall - at.max.y).toBeCloseTo(box.bottom, 6);
        // Along the travel, today: the runner's points stay within the groove, right up to the stop.
        const tip = runner.setback;
        const inGroove = (pull: number, x: number, up: number): boolean =>
          containsPoint(groove.section, { x: x - side.frontAt + pull, y: up - box.bottom });
        const stands = (pull: number, lifted: number): boolean => {
          for (let k = 0; k <= 24; k++) {
            const a = (Math.PI / 2) * (k / 24);
            const x = tip + nose * (1 - Math.cos(a));
            const reachUp = nose * Math.sin(a) * 0.99999;
            if (!inGroove(pull, x, lower + tall / 2 + reachUp - lifted)) return false;
            if (!inGroove(pull, x, lower + tall / 2 - reachUp - lifted)) return false;
          }
          return true;
        };
        // Pushed home the drawer lies lifted, the runner in the groove's middle; it stands proud by what is to be pared.
        const lifted = (at.max.y - at.min.y - tall) / 2;
        expect(stands(TO_PARE + 0.002, lifted)).toBe(true);
        expect(stands(TO_PARE - 0.01, lifted)).toBe(false);
        for (const out of [20, 60, 100]) expect(stands(out, 1e-4)).toBe(true);
        // Through the year, sizes grown by the wood's own numbers.
        const wood = (name: string) => DEFAULT_SHOP.woods.find((w) => w.name === name || w.alsoCalled.includes(name))!;
        const grown = (size: number, of: string, way: "tangential" | "radial", to: number): number =>
          size + growthOf(size, wood(of), way, plan.today.moisture, to).change;
        for (const season of [plan.year.driest, plan.year.wettest]) {
          const m = season.moisture;
          const walls = grown(at.max.y - at.min.y, "ash", "tangential", m);
          const runs = grown(tall, "hard maple", "tangential", m);
          expect(walls - runs).toBeGreaterThanOrEqual(d.clearance - 0.011);
          // Across: half the opening from the case side to the middle, the box's middle in the middle.
          const outer = (d.width - box.width) / 2;
          const finished = right.size.thickness - CLEAN_UP;
          const swell = grown(finished, "ash", "radial", m) - finished;
          const floor = outer - swell + (groove.to - CLEAN_UP);
          const face = reach + grown(strip.size.thickness, "hard maple", "radial", m) - strip.size.thickness;
          expect(floor - face).toBeGreaterThanOrEqual(d.free - 0.011);
          // Behind it the case shrinks towards its end; 2 mm stay.
          const deep = grown(d.depth, "cherry", "tangential", m);
          expect(deep - (tip + strip.size.length)).toBeGreaterThanOrEqual(2 - 1e-6);
        }
        fits += 1;
      }),
      { numRuns: 12 },
    );
    expect(fits).toBe(12);
  });
});
