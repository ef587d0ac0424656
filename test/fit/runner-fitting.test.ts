import { describe, expect, it } from "vitest";
import type { DrawerFit } from "../../src/fit/fit-plan.ts";
import { planFit } from "../../src/fit/plan-fit.ts";
import { type RunnerFittingAsk, runnerFitting } from "../../src/fit/runner-fitting.ts";
import { knownDrivers } from "../../src/fit/screw-driver.ts";
import { runnerScrews } from "../../src/fit/screw-holes.ts";
import { readJob } from "../../src/job/read-job.ts";
import { screwCalled } from "../../src/job/screws.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { said } from "./said.ts";

const CASE = `title: Case
units: mm
case:
  wood: cherry
  side thickness: 15
  measured with: calipers
  moisture today: 9 % by meter
  openings:
    upper: {width: 142.3, height: 58.5, depth: 205}
    lower: {width: 142.3, height: 80, depth: 205}
drawers:
  fronts: {wood: cherry, thickness: 14}
  sides: {wood: ash, thickness: 9}
  runners: {wood: hard maple, thickness: 4.5, tall: 9.5}
  bottoms: {wood: plywood, thickness: 4}
  front joint: half-blind
  back joint: through
`;

function fitted(): readonly DrawerFit[] {
  const job = readJob(CASE, "case.yaml", () => undefined);
  expect(job.findings.filter((f) => f.grade === "refuse")).toEqual([]);
  if (!job.ok) throw new Error("a job was expected");
  const fit = planFit(job.value, DEFAULT_SHOP);
  expect(fit.findings.filter((f) => f.grade === "refuse")).toEqual([]);
  if (!fit.ok || fit.value.plan === undefined) throw new Error("a plan was expected");
  return fit.value.plan.drawers;
}

const drawers = fitted();
const screw = screwCalled("3 mm").screw!;
const length = drawers[0]!.runner.size.length;
const ASK: RunnerFittingAsk = {
  said: said("spacer"),
  wood: "plywood",
  drawers: drawers.map((fit) => ({ fit, sideHeightChange: { dry: -0.3, wet: 0.3 } })),
  runnerHeightChange: { dry: -0.1, wet: 0.1 },
  screw,
  screwLength: 14,
  screws: runnerScrews({
    said: said("runner"),
    screw,
    length: 14,
    count: 3,
    runner: { length, height: 9.5, thickness: 4.5, letIn: 0, noseRadius: 4.75 },
    caseThickness: 15,
    caseChange: { dry: -1, wet: 1 },
    caseDepth: 205,
    face: "only",
  }),
  drivers: knownDrivers(),
};

describe("fitting runners into the case", () => {
  it("gives each height its spacer, which carries the runner where the drawer was fitted to hang", () => {
    const fitting = runnerFitting(ASK);
    expect(fitting.findings).toEqual([]);
    expect(fitting.spacers.flatMap((s) => s.part.name)).toEqual(
      fitting.spacers.length === 1 ? ["spacer"] : ["spacer 1", "spacer 2"],
    );
    for (const [i, place] of fitting.places.entries()) {
      const fit = drawers[i]!;
      const spacer = fitting.spacers.find((s) => Math.abs(s.part.size.width - fit.runner.spacer) < 0.06)!;
      // On the spacer lies the runner, on the runner hangs the groove: the side's lower edge is where it was fitted.
      const wall = spacer.part.size.width + fit.runner.size.width;
      expect(Math.abs(wall - fit.side.runnerGroove!.upper - fit.box.bottom)).toBeLessThan(0.011);
      expect(place.hung.runnerTop).toBeCloseTo(fit.runner.bearing, 9);
      expect(place.hung.gapBelow.today).toBeCloseTo(fit.box.bottom, 9);
    }
  });

  it("says what the hands need: setback, pilots, and which side of the glue-up", () => {
    const { words, beforeGlueUp } = runnerFitting(ASK);
    expect(beforeGlueUp).toBe(false);
    const text = words.join("\n");

    expect(text).toContain("behind the case's front edge");
    expect(text).toContain("0.5 mm (1/64 in) proud");
    expect(text).toContain("pilot holes for the 3 mm screws: 1.9 mm");
    const none = runnerFitting({ ...ASK, drivers: [] });
    expect(none.beforeGlueUp).toBe(true);
    expect(none.words[0]).toContain("before the case is glued up");
    expect(none.findings.map((f) => f.code)).toEqual(["fit-driver-no-room", "fit-driver-no-room"]);
  });
});
