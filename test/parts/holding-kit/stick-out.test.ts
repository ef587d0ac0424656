import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { leastStickOut } from "../../../src/parts/holding-kit/stick-out.ts";
import { solidOf, type TurnedPiece } from "../../../src/parts/turned-piece.ts";
import { slot } from "../../../src/shapes/outlines.ts";
import { boundsOfRegion, containsPoint, distanceToBoundary, type Region } from "../../../src/shapes/region.ts";
import { type TurnedSolid, topAt } from "../../../src/shapes/turned-solid.ts";
import { profile, waistPull } from "../turned-sample.ts";

/** A waist between two flanges, no squares: the flanges stand 5 mm higher than the waist. */
function flanged(waist: number, flange: number): TurnedPiece {
  return waistPull({
    ...profile(0, flange, [
      { kind: "cylinder", to: 20, diameter: flange },
      { kind: "cylinder", to: 80, diameter: waist, startDiameter: waist },
      { kind: "cylinder", to: 100, diameter: flange, startDiameter: flange },
    ]),
    blank: { length: 100, across: 50, shape: "round" },
    squares: [],
  });
}

/** With the tip a depth below the wood's top at the section's middle. */
function below(solid: TurnedSolid, section: Region, depth: number, reach: number) {
  const box = boundsOfRegion(section)!;
  return leastStickOut(
    solid,
    section,
    topAt(solid, (box.min.x + box.max.x) / 2, (box.min.y + box.max.y) / 2)! - depth,
    reach,
  );
}

describe("least stick-out from the flange crowns", () => {
  it("is the depth alone while the nut stays over the waist, and the flange's height more once it reaches one", () => {
    const solid = solidOf(flanged(30, 40));
    const section = slot({ x: 50, y: 25 }, 40, 12, 0);
    expect(below(solid, section, 9, 9.99)!.value).toBeCloseTo(9, 9);
    // 30 + 10 reaches the shoulder at 20: 5 mm higher on the radius.
    const flange = below(solid, section, 9, 10.01)!;
    expect(flange.value).toBeCloseTo(14, 9);
    // One of the two shoulders, at 20 and 80.
    expect(Math.abs(flange.flangeAt - 50)).toBeCloseTo(30, 1);
  });

  it("counts square waste as high as half its side", () => {
    const solid = solidOf(waistPull());
    // The slot runs from 38 to 82; squares of 45 end at 20. The waist is 13 at its middle.
    const section = slot({ x: 60, y: 22.5 }, 44, 12, 0);
    expect(below(solid, section, 9, 18.5)!.value).toBeCloseTo(9 + 22.5 - 13, 9);
    // Without the squares in reach the beads count: 21 mm.
    expect(below(solid, section, 9, 17.5)!.value).toBeCloseTo(9 + 21 - 13, 9);
  });

  it("is the depth alone in the flat of a half", () => {
    const half = { ...solidOf(flanged(30, 40)), flatTop: 24 };
    expect(below(half, slot({ x: 50, y: 25 }, 40, 12, 0), 6, 30)!.value).toBeCloseTo(6, 9);
  });

  it("gives nothing where there is no wood or no section", () => {
    const solid = solidOf(flanged(30, 40));
    expect(leastStickOut(solid, { loops: [] }, 6, 10)).toBeUndefined();
    expect(leastStickOut(solid, slot({ x: 300, y: 25 }, 40, 12, 0), 6, 10)).toBeUndefined();
  });

  it("agrees with a search over the wood beneath the nut's shadow, for random waists and slots", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 16_000, max: 34_000 }),
        fc.integer({ min: 14_000, max: 60_000 }),
        fc.integer({ min: 3_000, max: 24_000 }),
        (waistUm, longUm, nutUm) => {
          const solid = solidOf(flanged(waistUm / 1000, 40));
          const section = slot({ x: 50, y: 25 }, longUm / 1000, 12, 0);
          const nut = nutUm / 1000;
          const found = below(solid, section, 7, nut)!.value;
          let highest = 0;
          for (let x = 0.05; x < 100; x += 0.1) {
            for (let y = 25; y < 50; y += 1) {
              const near = containsPoint(section, { x, y }) || distanceToBoundary(section, { x, y }) <= nut;
              if (near) highest = Math.max(highest, topAt(solid, x, y) ?? 0);
            }
          }
          const searched = highest - (topAt(solid, 50, 25)! - 7);
          expect(found).toBeGreaterThanOrEqual(searched - 1e-9);
          // The search steps 0.1 mm along the axis, so it may miss a flange that the nut just reaches.
          const reach = 50 - longUm / 2000 - nut;
          if (Math.abs(reach - 20) > 0.2) expect(found).toBeCloseTo(searched, 6);
        },
      ),
      { numRuns: 15 },
    );
  });
});
