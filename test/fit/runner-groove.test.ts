import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noseStop } from "../../src/fit/groove-end.ts";
import { entersFromBetween, type RunnerGrooveAsk, runnerGroove } from "../../src/fit/runner-groove.ts";
import { type Change, STILL } from "../../src/fit/through-year.ts";
import { said } from "./said.ts";

const ASK: RunnerGrooveAsk = {
  said: said("side"),
  runner: { height: 9.5, reach: 4, heightChange: { dry: -0.1, wet: 0.12 }, thicknessChange: { dry: -0.04, wet: 0.05 } },
  side: {
    height: 57,
    thickness: 9,
    thicknessChange: { dry: -0.1, wet: 0.15 },
    grooveWidthChange: { dry: -0.08, wet: 0.1 },
  },
  sideGap: 0.8,
  clearance: 0.3,
  freeDepth: 0.5,
  cleanUp: 0.3,
  bearingAt: 33,
  stopFromFront: 12,
  ends: "round",
  on: "face",
  frontEnd: "first end",
};

const codes = (ask: Partial<RunnerGrooveAsk>) =>
  runnerGroove({ ...ASK, ...ask }).findings.map((f) => `${f.grade} ${f.code}`);

describe("a runner's groove", () => {
  it("is wider by what the runner outgrows it, deeper by what both swell, and by the clean-up when it is cut", () => {
    const g = runnerGroove(ASK);
    expect(g.width).toBeCloseTo(9.5 + 0.3 + 0.02, 9);
    expect(g.enters).toBeCloseTo(3.2, 9);
    expect(g.finishedDepth).toBeCloseTo(3.2 + 0.5 + 0.05 + 0.15, 9);
    expect(g.depth).toBeCloseTo(g.finishedDepth + 0.3, 9);
    expect(g.behind).toBeCloseTo(9 - g.finishedDepth, 9);
    expect([g.upper, g.upper - g.lower]).toEqual([33, expect.closeTo(g.width, 9)]);
    expect(g.endRadius).toBe(g.width / 2);
    expect(g.play.wet).toBeCloseTo(0.3, 9);
    expect(g.free.wet).toBeCloseTo(0.5, 9);
    expect(g.feature).toMatchObject({
      kind: "groove",
      bearingWall: "upper edge",
      run: { kind: "along", from: { distance: 33, border: "lower edge", reach: "far edge" }, stops: { first: 12 } },
    });
  });

  it("of the mirror-image side stops at the other end", () => {
    const { run } = runnerGroove({ ...ASK, frontEnd: "second end" }).feature;
    expect(run).toMatchObject({ stops: { second: 12 } });
  });

  it("in every season holds its runner, cut out as rectangles: along the travel and at the stop", () => {
    const um = (min: number, max: number) => fc.integer({ min, max }).map((n) => n / 1000);
    const change = fc.record({ dry: um(-250, 0), wet: um(0, 250) });
    fc.assert(
      fc.property(
        um(6000, 16000),
        um(3000, 8000),
        um(200, 900),
        um(200, 500),
        change,
        change,
        change,
        change,
        (h, reach, gap, clearance, r, t, s, w) => {
          const g = runnerGroove({
            ...ASK,
            runner: { height: h, reach, heightChange: r, thicknessChange: t },
            side: { height: 120, thickness: 16, thicknessChange: s, grooveWidthChange: w },
            sideGap: gap,
            clearance,
            bearingAt: 70,
          });
          const stop = noseStop({ height: g.width, radius: g.endRadius }, { height: h, radius: h / 2 });
          expect(stop.home).toBeCloseTo(0, 9);
          for (const season of ["dry", "wet"] as const) {
            const at = (c: Change): number => c[season];
            // Upright: the runner hangs at the upper wall; what is left below it.
            const upper = 70;
            const lower = upper - (g.width + at(w));
            const under = upper - (h + at(r)) - lower;
            expect(under).toBeGreaterThanOrEqual(clearance - 1e-9);
            expect(g.play[season]).toBeCloseTo(under, 9);
            // Across, from the case side: the runner's face and the groove's floor, the side swollen towards the case.
            const face = reach + at(t);
            const outer = gap - at(s);
            const floor = outer + g.finishedDepth;
            expect(floor - face).toBeGreaterThanOrEqual(ASK.freeDepth - 1e-9);
            expect(g.free[season]).toBeCloseTo(floor - face, 9);
          }
        },
      ),
      { numRuns: 50 },
    );
  });

  it.each([
    ["too wide a runner for its clearance", { clearance: -0.1 }, ["refuse fit-runner-binds"]],
    ["much play", { clearance: 1.5 }, ["caution fit-runner-loose"]],
    ["a runner that doesn't reach", { sideGap: 4.2 }, ["refuse fit-runner-misses"]],
    ["a runner that reaches a little", { sideGap: 2.5 }, ["caution fit-runner-shallow"]],
    ["half of the side", { runner: { ...ASK.runner, reach: 5 } }, ["caution fit-groove-deep"]],
    ["all of the side", { runner: { ...ASK.runner, reach: 9.5 } }, ["refuse fit-groove-through"]],
    ["a bearing wall at the upper edge", { bearingAt: 57 }, ["refuse fit-groove-off-side"]],
    ["a bearing wall below the floor", { bearingAt: 9 }, ["refuse fit-groove-off-side"]],
    ["little wood above the bearing wall", { bearingAt: 50 }, ["caution fit-bearing-wall-thin"]],
  ] as const)("%s", (_, ask, wanted) => {
    expect(codes(ask).filter((c) => !c.startsWith("note"))).toEqual(wanted);
  });

  it("a third of the side is comfortable, up to half is said, beyond is cautioned", () => {
    const deep = (reach: number) => codes({ runner: { ...ASK.runner, reach } }).find((c) => c.includes("deep"));
    expect(deep(3)).toBeUndefined();
    expect(deep(4)).toBe("note fit-groove-deep");
    expect(deep(5)).toBe("caution fit-groove-deep");
  });

  it("its depth follows what is measured between the runners: the narrower end counts, half of what the box is wider", () => {
    expect(entersFromBetween(140.5, { mouth: 134, back: 133.6 })).toBeCloseTo(3.45, 9);
    const still = {
      ...ASK,
      runner: { ...ASK.runner, thicknessChange: STILL },
      side: { ...ASK.side, thicknessChange: STILL },
    };
    // 0.2 mm narrower between the runners make each groove 0.1 deeper.
    const depth = (back: number): number =>
      runnerGroove({ ...still, sideGap: 4 - entersFromBetween(140.5, { mouth: 134, back }) }).depth;
    expect(depth(133.4) - depth(133.6)).toBeCloseTo(0.1, 9);
  });
});
