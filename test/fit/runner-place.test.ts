import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noseStop } from "../../src/fit/groove-end.ts";
import { runnersBelow } from "../../src/fit/runner-below.ts";
import { behindDrawer, type HungAsk, hungPlace, runnerLength, setbackOf } from "../../src/fit/runner-place.ts";
import { spacerOf, spacersNeeded } from "../../src/fit/spacer.ts";
import { STILL } from "../../src/fit/through-year.ts";
import { said } from "./said.ts";

const SAID = said("runner");
const grades = (found: readonly { grade: string; code: string }[]) => found.map((f) => `${f.grade} ${f.code}`);

describe("where the nose stands", () => {
  it("the front stands proud by what is left to pare, and lies flush when it is pared: set up and slid in", () => {
    const um = (min: number, max: number) => fc.integer({ min, max }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        um(8000, 14000),
        um(100, 600),
        um(0, 20000),
        um(8000, 20000),
        fc.boolean(),
        (h, play, sideFrontAt, stopFromFront, round) => {
          const groove = { height: h + play, radius: (h + play) / 2 };
          const nose = { height: h, radius: round ? h / 2 : 1 };
          const {
            nose: at,
            flush,
            pare,
          } = setbackOf({ said: SAID, stop: noseStop(groove, nose), sideFrontAt, stopFromFront });
          // Push the drawer in by tenths of a hundredth until the groove's end meets the nose, runner in the middle.
          const meets = (shift: number, noseAt: number): boolean => {
            const end = sideFrontAt + stopFromFront + shift;
            for (let i = 0; i <= 400; i++) {
              const a = (Math.PI / 2) * (i / 400);
              const x = noseAt + nose.radius * (1 - Math.cos(a));
              const y = h / 2 - nose.radius + nose.radius * Math.sin(a);
              const inside = x - end;
              const half = groove.height / 2;
              const wall = inside >= half ? half : Math.sqrt(Math.max(0, half ** 2 - (half - inside) ** 2));
              if (inside < -1e-9 || y > wall + 1e-9) return true;
            }
            return false;
          };
          expect(meets(-pare - 1e-4, at)).toBe(false);
          expect(meets(-pare + 0.005, at)).toBe(true);
          expect(meets(-1e-4, flush)).toBe(false);
          expect(meets(0.005, flush)).toBe(true);
          expect(flush - at).toBeCloseTo(0.5, 9);
        },
      ),
      { numRuns: 30 },
    );
  });

  it("a square nose in a round end is a soft stop, a round one isn't; a nose before the case's edge is refused", () => {
    const groove = { height: 9.9, radius: 4.95 };
    const square = noseStop(groove, { height: 9.5, radius: 1 });
    const round = noseStop(groove, { height: 9.5, radius: 4.75 });
    const at = { said: SAID, sideFrontAt: 8, stopFromFront: 12 };
    expect(grades(setbackOf({ ...at, stop: square }).findings)).toEqual(["caution fit-stop-soft"]);
    expect(setbackOf({ ...at, stop: round }).findings).toEqual([]);
    expect(setbackOf({ ...at, stop: round }).nose).toBeCloseTo(19.5, 9);
    expect(grades(setbackOf({ ...at, stop: round, sideFrontAt: -15 }).findings)).toEqual(["refuse fit-nose-outside"]);
  });

  it("the runner is as long as leaves 2 mm and the case's shrinkage behind it, to the half millimetre", () => {
    const length = runnerLength(SAID, { depth: 205, nose: 19.5, depthChange: { dry: -1.3, wet: 2 } });
    expect(length).toEqual({ length: 182, findings: [] });
    expect(runnerLength(SAID, { depth: 205, nose: 19.5, depthChange: { dry: -1, wet: 2 } }).length).toBe(182.5);
    expect(grades(runnerLength(SAID, { depth: 20, nose: 19.5, depthChange: STILL }).findings)).toEqual([
      "refuse fit-runner-no-length",
    ]);
  });

  it("behind a drawer the case's dry-season shrinkage and 2 mm are wanted", () => {
    const change = { dry: -1.3, wet: 2 };
    const enough = behindDrawer(SAID, 3.3, change);
    expect([enough.gap.dry, enough.gap.today, enough.gap.wet]).toEqual([
      expect.closeTo(2, 9),
      3.3,
      expect.closeTo(5.3, 9),
    ]);
    expect(enough.wanted).toBeCloseTo(3.3, 9);
    expect(enough.findings).toEqual([]);
    expect(grades(behindDrawer(SAID, 3.2, change).findings)).toEqual(["caution fit-back-tight"]);
    expect(grades(behindDrawer(SAID, 1.3, change).findings)).toEqual(["refuse fit-back-tight"]);
  });
});

describe("how high a hung drawer's runner sits", () => {
  const ask: HungAsk = {
    said: SAID,
    opening: 58.4,
    gapBelow: 0.8,
    sideHeight: 56,
    sideHeightChange: { dry: -0.6, wet: 0.9 },
    bearingAt: 33,
    runnerHeight: 9.5,
    runnerHeightChange: { dry: -0.1, wet: 0.15 },
  };

  it("the spacer is what is left beneath the runner", () => {
    const place = hungPlace(ask);
    expect(place.runnerTop).toBeCloseTo(33.8, 9);
    expect(place.spacer).toBeCloseTo(24.3, 9);
    expect(place.runnerMiddle).toBeCloseTo(29.05, 9);
    expect(place.findings).toEqual([]);
  });

  it("hung up anew in each season, the side keeps the stated gaps", () => {
    const um = (min: number, max: number) => fc.integer({ min, max }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        um(30000, 120000),
        um(0, 1),
        um(-2, 0),
        um(0, 2),
        um(-3, 0),
        um(0, 3),
        (height, at, dry, wet, rDry, rWet) => {
          const bearingAt = 15 + at * (height - 25);
          const part = { ...ask, opening: height + 3, gapBelow: 1.5, sideHeight: height, bearingAt };
          const place = hungPlace({
            ...part,
            sideHeightChange: { dry: dry * height, wet: wet * height },
            runnerHeightChange: { dry: rDry, wet: rWet },
          });
          for (const [season, k, r] of [
            ["dry", dry, rDry],
            ["wet", wet, rWet],
          ] as const) {
            // The runner swells about its screws, every point of the side about the wall it hangs on.
            const top = place.runnerMiddle + (9.5 + r) / 2;
            const lowerEdge = top - bearingAt * (1 + k);
            const upperEdge = top + (height - bearingAt) * (1 + k);
            expect(place.gapBelow[season]).toBeCloseTo(lowerEdge, 9);
            expect(place.gapAbove[season]).toBeCloseTo(height + 3 - upperEdge, 9);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it.each([
    ["binds below", { gapBelow: 0.4, sideHeightChange: { dry: -1, wet: 1.2 } }, "refuse fit-side-binds"],
    ["binds above", { opening: 57 }, "refuse fit-side-binds"],
    ["gapes above", { opening: 61 }, "caution fit-side-gapes"],
    ["lies in the floor", { bearingAt: 8 }, "refuse fit-runner-below-floor"],
  ] as const)("a side that %s", (_, change, wanted) => {
    expect(grades(hungPlace({ ...ask, ...change }).findings)).toContain(wanted);
  });
});

describe("spacers", () => {
  it("are ordinary boards as wide as they stand high, one for both sides", () => {
    const s = spacerOf({
      said: said("spacer, row 1"),
      wood: "plywood",
      height: 24.3,
      depth: 205,
      openings: ["A", "B"],
    });
    expect(s.part).toMatchObject({ size: { length: 195, width: 24.3, thickness: 18 }, copies: 1, features: [] });
    expect(s.words).toContain("24.3 mm");
    expect(s.findings).toEqual([]);
    expect(grades(spacerOf({ said: SAID, wood: "ash", height: 3, depth: 205, openings: ["A"] }).findings)).toEqual([
      "caution fit-spacer-thin",
    ]);
    expect(() => spacerOf({ said: SAID, wood: "ash", height: 0, depth: 205, openings: [] })).toThrow(RangeError);
  });

  it("runners within half a tenth share one, and no group is wider than that", () => {
    const groups = spacersNeeded([
      { opening: "A", spacer: 24.3 },
      { opening: "B", spacer: 30 },
      { opening: "C", spacer: 24.34 },
      { opening: "D", spacer: 24.38 },
    ]);
    expect(groups).toEqual([
      { height: 24.3, openings: ["A", "C"] },
      { height: 24.38, openings: ["D"] },
      { height: 30, openings: ["B"] },
    ]);
  });
});

describe("runners below, kickers above", () => {
  const ask = {
    said: SAID,
    opening: 110,
    slidesAt: 0,
    sideHeight: 90,
    sideHeightChange: { dry: -1, wet: 1.4 },
    runner: { height: 15, width: 12, heightChange: { dry: -0.2, wet: 0.3 } },
    kicker: { height: 15, heightChange: { dry: -0.2, wet: 0.3 } },
    sideThickness: 9,
    sideGap: 0.6,
    clearance: 1,
  };

  it("the kicker leaves the clearance in the wettest season, and the side bears with all its thickness", () => {
    const b = runnersBelow(ask);
    expect([b.runnerTop, b.runnerBottom]).toEqual([0, -15]);
    expect(b.above.wet).toBeCloseTo(1, 9);
    expect(b.kickerBottom).toBeCloseTo(90 + 1 + 1.7, 9);
    expect(b.kickerSpacer).toBe(b.kickerBottom);
    expect(b.runnerSpacer).toBeUndefined();
    expect(b.bears).toBe(9);
    expect(b.findings).toEqual([]);
    expect(runnersBelow({ ...ask, slidesAt: 20 }).runnerSpacer).toBe(5);
  });

  it.each([
    ["too high", { opening: 91 }, "refuse fit-below-no-room"],
    ["binding", { clearance: -0.1 }, "refuse fit-below-no-room"],
    ["beside its runners", { sideGap: 13 }, "refuse fit-below-no-room"],
    ["with much play", { clearance: 3 }, "caution fit-kicker-loose"],
  ] as const)("a drawer %s", (_, change, wanted) => {
    expect(grades(runnersBelow({ ...ask, ...change }).findings)).toEqual([wanted]);
  });
});
