import { describe, expect, it } from "vitest";
import type { RecessFeature } from "../../src/job/job.ts";
import { isDished } from "../../src/plan/hollow.ts";
import { HOLLOW_RIDGE } from "../../src/plan/levels.ts";
import { buildHollow, type Hollow } from "../../src/shapes/hollow.ts";
import { hollowFeature, SLOT, THICK } from "../parts/hollow-made.ts";
import { bit, operations, plan, shopWith } from "./planning.ts";

const asked = (more: Partial<RecessFeature>, cutter?: string) => [hollowFeature(SLOT, 9, more, cutter)];

const refused = (more: Partial<RecessFeature>, cutter?: string, shop?: ReturnType<typeof shopWith>) =>
  plan(asked(more, cutter), { size: THICK }, shop)
    .findings.filter((f) => f.grade === "refuse")
    .map((f) => ({ code: f.code, what: f.what, mend: f.mend }));

describe("planning a hollow", () => {
  it("takes a round nose, and rings from the mouth to the middle", () => {
    const [op] = operations(asked({ dish: 3 }), { size: THICK });
    if (op?.kind !== "clear") throw new Error("clearing was expected");
    expect(op.cutter.form.kind).toBe("round-nose");
    const keeps = op.finishLevels.map((l) => l.keep!);
    const heights = op.finishLevels.map((l) => l.z);
    expect([...keeps].sort((a, b) => a - b)).toEqual(keeps);
    expect([...heights].sort((a, b) => b - a)).toEqual(heights);
    // The first at the wall's foot, a radius off the wall; the last as near the middle as its ridge lets it be.
    expect(keeps[0]).toBeCloseTo(3, 6);
    expect(12.5 - keeps[keeps.length - 1]!).toBeLessThan(Math.sqrt(2 * 3 * HOLLOW_RIDGE));
    // Roughing keeps the allowance off both wall and floor.
    for (const l of op.levels) expect(l.keep!).toBeGreaterThan(3.1);
    expect(Math.min(...op.levels.map((l) => l.z))).toBeGreaterThan(-12);
  });

  it("takes smaller steps where valleys run from corners", () => {
    const rings = (radius: number) => {
      const shape = { kind: "rounded rectangle", length: 60, width: 25, radius } as const;
      const [op] = operations([hollowFeature(shape, 9, { dish: 3 })], { size: THICK });
      return op?.kind === "clear" ? op.finishLevels.length : 0;
    };
    expect(rings(4) / rings(12.5)).toBeGreaterThan(1.25);
  });

  it.each([
    ["a flat bit that is named", { dish: 3 }, "6 mm flat", undefined, "plan-bit-wrong-form"],
    ["a tip with a flat, for a dish", { dish: 3 }, "6 mm radiused corner", undefined, "plan-bit-wrong-form"],
    ["a nose rounder than the foot", { floorRadius: 2 }, "6 mm round-nose", undefined, "plan-bit-too-wide"],
    ["corners tighter than the bit", { dish: 2, insideRadius: 2 }, "6 mm round-nose", undefined, "plan-bit-too-wide"],
    ["a shop with flat bits alone", { dish: 2 }, undefined, shopWith([bit("6 mm flat")]), "plan-no-bit-fits"],
    [
      "a bit that does not plunge",
      { dish: 2 },
      "6 mm round-nose",
      shopWith([bit("6 mm round-nose", { deadCentre: 0.5 })]),
      "plan-bit-dead-centre",
    ],
    [
      "flutes too short",
      { dish: 2 },
      "6 mm round-nose",
      shopWith([bit("6 mm round-nose", { fluteLength: 9 })]),
      "plan-bit-flute-short",
    ],
  ] as const)("refuses %s, and says what to do", (_, more, cutter, shop, code) => {
    const [first, ...others] = refused(more, cutter, shop);
    expect(first?.code).toBe(code);
    expect(first!.mend!.length).toBeGreaterThan(10);
    expect(others).toEqual([]);
  });

  it("takes a smaller nose for a tighter foot", () => {
    const small = bit("6 mm round-nose", { name: "4 mm round-nose", diameter: 4, slot: 40 });
    const shop = shopWith([bit("6 mm round-nose"), small]);
    const [op] = operations(asked({ floorRadius: 2.5 }), { size: THICK }, shop);
    expect(op?.cutter.name).toBe("4 mm round-nose");
  });

  it("tells a dish from the rounding at a flat floor", () => {
    const words = { depth: 6, leanDeg: 0, footRadius: 3, ease: 0, middle: 12 };
    expect(isDished(buildHollow({ ...words, dish: 1 }) as Hollow)).toBe(true);
    expect(isDished(buildHollow({ ...words, dish: 0 }) as Hollow)).toBe(false);
    expect(isDished(buildHollow({ ...words, dish: 0, depth: 3 }) as Hollow)).toBe(false);
  });
});
