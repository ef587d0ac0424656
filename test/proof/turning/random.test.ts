import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { proveTurning } from "../../../src/proof/turning/prove.ts";
import { depthIn, radiusThere, turnedTarget } from "../../../src/proof/turning/solid.ts";
import { readProgram } from "../../../src/reader/read.ts";
import { arc, line, pointAt, type Segment } from "../../../src/shapes/segment.ts";
import { halfPlanePath } from "../../../src/simulate/turning-path.ts";
import { LATHES, moved, NOSE, noseWay, programFor, SHOP, turningSetUp } from "./fixture.ts";

const um = (least: number, most: number) => fc.integer({ min: least * 1000, max: most * 1000 }).map((v) => v / 1000);

/** A profile from x = 5 to 55 whose pieces are long and open against the nose: cylinders, tapers, beads and coves. */
const anyProfile: fc.Arbitrary<readonly Segment[]> = fc
  .record({
    first: um(6, 9),
    kinds: fc.array(fc.constantFrom("cylinder", "taper", "bead", "cove"), { minLength: 2, maxLength: 4 }),
    rises: fc.array(um(-1.5, 1.5), { minLength: 4, maxLength: 4 }),
    sags: fc.array(um(0.5, 1.5), { minLength: 4, maxLength: 4 }),
  })
  .map(({ first, kinds, rises, sags }) => {
    const width = 50 / kinds.length;
    const pieces: Segment[] = [];
    let at = { x: 5, y: first };
    for (const [i, kind] of kinds.entries()) {
      const x = i === kinds.length - 1 ? 55 : at.x + width;
      const level = { x, y: at.y };
      const sag = sags[i]!;
      const radius = (width * width) / 8 / sag + sag / 2;
      const middle = at.x + (x - at.x) / 2;
      if (kind === "taper") {
        const to = { x, y: Math.min(10, Math.max(5, at.y + rises[i]!)) };
        pieces.push(line(at, to));
        at = to;
        continue;
      }
      if (kind === "cylinder") pieces.push(line(at, level));
      if (kind === "bead") pieces.push(arc(at, level, { x: middle, y: at.y + sag - radius }, false));
      if (kind === "cove") pieces.push(arc(at, level, { x: middle, y: at.y - sag + radius }, true));
      at = level;
    }
    return pieces;
  });

describe("random profiles, written by the tests themselves", () => {
  it("pass when cut true, in any convention of X; a 20 µm fault anywhere is refused", () => {
    fc.assert(
      fc.property(anyProfile, fc.constantFrom(...LATHES), fc.constantFrom(0.02, -0.02), (profile, lathe, fault) => {
        const setUp = turningSetUp(profile, { lathe });
        const proved = (deeper: number) =>
          proveTurning({
            setUp,
            programs: [{ file: "a.ngc", text: programFor(setUp, profile, { deeper, bite: 0.9 }) }],
            shop: SHOP,
          });
        const good = proved(0);
        expect(good.findings.filter((f) => f.grade === "refuse")).toEqual([]);
        expect(good.figures.gouge!.value).toBeLessThan(0.0003);
        const bad = proved(fault);
        const expected = fault > 0 ? "proof-turning-gouge" : "proof-turning-wood-left";
        expect(bad.findings.filter((f) => f.grade === "refuse").map((f) => f.code)).toContain(expected);
        // Moved straight in, the nose goes as deep where the surface is level, less on a slope, never more.
        if (fault > 0) expect(bad.figures.gouge!.value).toBeLessThan(0.0203);
      }),
      { numRuns: 14 },
    );
  });

  it("the gouge of a crooked pass is what a brute search finds", () => {
    fc.assert(
      fc.property(anyProfile, um(-0.4, 0.4), um(-0.3, 0.3), (profile, dx, dy) => {
        const setUp = turningSetUp(profile);
        const edit = (way: readonly Segment[]) => way.map((s) => moved(s, dx, dy));
        const text = programFor(setUp, profile, { edit, bite: 0.9 });
        const proof = proveTurning({ setUp, programs: [{ file: "a.ngc", text }], shop: SHOP });
        // The nose's circle at many places of the finish pass, and its points: how deep do they lie?
        const target = turnedTarget(setUp);
        let deepest = 0;
        for (const e of readProgram(text, "a", setUp.lathe.controller, {
          lathe: { xWords: "radius", side: 1, safeRadius: 20 },
        }).events) {
          if (e.kind !== "move" || e.rapid || e.spindle.rpm !== 2800) continue;
          const path = halfPlanePath(e, setUp.lathe)!;
          for (let k = 0; k <= 60; k++) {
            const p = pointAt(path, k / 60);
            for (let a = 180; a <= 360; a += 3) {
              const q = {
                x: p.x + 1.5 * Math.cos((a * Math.PI) / 180),
                y: p.y + 1.5 + 1.5 * Math.sin((a * Math.PI) / 180),
              };
              deepest = Math.max(deepest, depthIn(target, q));
            }
          }
        }
        const { value, bound } = proof.figures.gouge!;
        expect(value + bound).toBeGreaterThanOrEqual(deepest - 1e-6);
        // At a corner that stands out, what is cut off it is farther from the nose's edge than from the surface.
        expect(value).toBeLessThan(Math.max(0.02, 3 * deepest));
      }),
      { numRuns: 12 },
    );
  });
});

describe("the solid to be kept", () => {
  it("is the profile, with the wood beside it whole", () => {
    const target = turnedTarget(turningSetUp([line({ x: 5, y: 6 }, { x: 55, y: 8 })]));
    expect(radiusThere(target, -30)).toBeCloseTo(7, 9);
    expect(radiusThere(target, -58)).toBe(12);
    expect(depthIn(target, { x: -58, y: 11.5 })).toBeCloseTo(0.5, 9);
    expect(depthIn(target, { x: -30, y: 8 })).toBeCloseTo(-25 / Math.hypot(25, 1), 9);
  });

  it("lets parting into waste down to a nub, but reach is judged with the waste standing", () => {
    const setUp = turningSetUp([line({ x: 5, y: 6 }, { x: 55, y: 6 })]);
    const wasted = { ...setUp, piece: { ...setUp.piece, waste: [{ from: 25, to: 30 }] } };
    expect(radiusThere(turnedTarget(wasted), -33)).toBe(1.5);
    expect(radiusThere(turnedTarget(wasted, true), -33)).toBe(6);
    expect(depthIn(turnedTarget(wasted), { x: -36, y: 3 })).toBeCloseTo(1, 9);
  });

  it("a nose's way keeps the nose's radius from the profile", () => {
    fc.assert(
      fc.property(anyProfile, (profile) => {
        const target = turnedTarget(turningSetUp(profile));
        for (const s of noseWay(profile, NOSE.noseRadius)) {
          for (let k = 0; k <= 10; k++) {
            const p = pointAt(moved(s, -60), k / 10);
            expect(depthIn(target, p)).toBeLessThan(-NOSE.noseRadius + 1e-6);
          }
        }
      }),
      { numRuns: 40 },
    );
  });
});
