import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noseRadius } from "../../src/fit/groove-end.ts";
import { type RunnerPartAsk, runnerOutline, runnerPart } from "../../src/fit/runner-part.ts";
import { runnerScrews } from "../../src/fit/screw-holes.ts";
import type { BoardDescription, Job, PartDescription } from "../../src/job/job.ts";
import { screwCalled } from "../../src/job/screws.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import type { Cavity } from "../../src/parts/workpiece.ts";
import { areaOf, boundsOfRegion, containsPoint, distanceToBoundary } from "../../src/shapes/region.ts";
import { said } from "./said.ts";

const screw = screwCalled("3 mm").screw!;
const SIZES = { length: 180, height: 9.5, thickness: 6 };
const screws = runnerScrews({
  said: said("runner"),
  screw,
  length: 16,
  count: 3,
  runner: { ...SIZES, letIn: 0, noseRadius: 4.75 },
  caseThickness: 15,
  caseChange: { dry: -1.2, wet: 1.8 },
  caseDepth: 205,
  face: "only",
});
const ASK: RunnerPartAsk = {
  said: said("runner"),
  wood: "hard maple",
  ...SIZES,
  noseRadius: 4.75,
  noseMade: "by hand",
  screw,
  screws,
  copies: 4,
};

function job(parts: readonly PartDescription[], boards: readonly BoardDescription[] = []): Job {
  return { file: "case.yaml", title: "case", unit: "mm", measured: [], parts, boards, overrides: [] };
}

function cavities(part: PartDescription): readonly Cavity[] {
  const made = describeWorkpieces(job([part]));
  expect(made.findings).toEqual([]);
  if (!made.ok) throw new Error("a workpiece was expected");
  return made.value[0]!.cavities;
}

describe("a runner written out", () => {
  it("has a round countersunk hole in front and slots behind, each in the room for its screw's head, without a finding", () => {
    const made = cavities(runnerPart(ASK).part);
    expect(made.map((c) => [c.feature, c.through])).toEqual([
      ["front screw", false],
      ["front screw", true],
      ["head room 1", false],
      ["screw slot 1", true],
      ["head room 2", false],
      ["screw slot 2", true],
    ]);
    for (const [i, hole] of screws.holes.slice(1).entries()) {
      const slot = boundsOfRegion(made.find((c) => c.feature === `screw slot ${i + 1}`)!.section)!;
      expect([slot.min.x, slot.max.x]).toEqual([expect.closeTo(hole.from, 9), expect.closeTo(hole.to, 9)]);
      expect([slot.min.y, slot.max.y]).toEqual([expect.closeTo(3, 9), expect.closeTo(6.5, 9)]);
      // The head goes all the way that the screw goes: its rim stays within its room at both ends of the slot.
      const room = made.find((c) => c.feature === `head room ${i + 1}`)!;
      for (const x of [hole.from + screws.clearance / 2, hole.to - screws.clearance / 2]) {
        for (const turn of [0, 1, 2, 3, 4, 5]) {
          const rim = { x: x + 3 * Math.cos(turn), y: 4.75 + 3 * Math.sin(turn) };
          expect(containsPoint(room.section, rim)).toBe(true);
          expect(distanceToBoundary(room.section, rim)).toBeGreaterThan(0.25);
        }
      }
    }
  });

  it("serves both sides: half a turn in its plane changes none of its cuts but from end to end", () => {
    const boxes = cavities(runnerPart(ASK).part).map((c) => boundsOfRegion(c.section)!);
    for (const b of boxes) expect(b.min.y + b.max.y).toBeCloseTo(9.5, 9);
  });

  it("says what is left to the hand", () => {
    const { byHand } = runnerPart(ASK);
    expect(byHand[0]).toContain("half circle, radius 4.75 mm");
    expect(byHand.join()).toContain("glue only the front 30 mm");
    expect(byHand.join()).toContain("90 mm, 168 mm from the nose");
    expect(runnerPart({ ...ASK, noseRadius: 1 }).byHand[0]).toContain("ease the two corners");
    expect(runnerPart({ ...ASK, noseRadius: 0 }).byHand[0]).not.toContain("nose to");
  });

  it("its outline is a rectangle less what two rounded corners take: (2 − π/2)·r²", () => {
    fc.assert(
      fc.property(fc.integer({ min: 6000, max: 16000 }), fc.integer({ min: 0, max: 1000 }), (um, share) => {
        const height = um / 1000;
        const r = noseRadius(height, ((height / 2) * share) / 1000, "round");
        const region = runnerOutline(180, height, r);
        expect(areaOf(region)).toBeCloseTo(180 * height - (2 - Math.PI / 2) * r * r, 6);
        const [loop] = region.loops;
        loop!.forEach((s, i) => {
          expect(s.to).toEqual(loop![(i + 1) % loop!.length]!.from);
        });
      }),
      { numRuns: 40 },
    );
    expect(() => runnerOutline(180, 9.5, 5)).toThrow(RangeError);
  });

  it("can be cut out of a board with its nose", () => {
    const part = runnerPart({ ...ASK, noseMade: "outline", copies: 1 }).part;
    const board: BoardDescription = {
      name: "strip",
      wood: "hard maple",
      size: { length: 240, width: 40, thickness: 6 },
      grain: "along length",
      places: [{ part: "runner", at: { x: 20, y: 15 }, turned: 0, source: said("strip").source }],
      wishes: {},
      source: said("strip").source,
    };
    const made = describeWorkpieces(job([part], [board]));
    expect(made.findings).toEqual([]);
    const outline = made.ok ? made.value[0]!.cavities.find((c) => c.shape.kind === "outline") : undefined;
    if (outline?.shape.kind !== "outline") throw new Error("an outline was expected");
    const box = boundsOfRegion(outline.shape.profile)!;
    expect([box.min.x, box.max.x, box.min.y, box.max.y]).toEqual([20, 200, 15, 24.5]);
    expect(areaOf(outline.shape.profile)).toBeCloseTo(180 * 9.5 - (2 - Math.PI / 2) * 4.75 ** 2, 6);
  });
});
