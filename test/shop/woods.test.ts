import { describe, expect, it } from "vitest";
import { defaultWoods } from "../../src/shop/default-woods.ts";

/** C = S / (3000 − 20 S): the Wood Handbook's outside-range formula at 10 % moisture. */
const fromShrinkage = (s: number): number => s / (3000 - 20 * s);
const wood = (name: string) => defaultWoods().find((w) => w.name === name)!;

describe("the built-in woods", () => {
  it("agree with the shrinkage the Wood Handbook gives for single species", () => {
    // Table 4-3, radial and tangential, % green to oven-dry.
    const rows = [
      ["hard maple", 4.8, 9.9],
      ["walnut", 5.5, 7.8],
      ["cherry", 3.7, 7.1],
      ["ash", 4.9, 7.8],
      ["birch", 7.3, 9.5],
      ["beech", 5.5, 11.9],
      ["aspen", 3.5, 6.7],
      ["basswood", 6.6, 9.3],
      ["butternut", 3.4, 6.4],
      ["Douglas fir", 4.8, 7.6],
      ["poplar", 4.6, 8.2],
      ["white fir", 3.3, 7.0],
      ["western red cedar", 2.4, 5.0],
    ] as const;
    for (const [name, radial, tangential] of rows) {
      expect(wood(name).radialPerPercent!.value, name).toBeCloseTo(fromShrinkage(radial), 5);
      expect(wood(name).tangentialPerPercent!.value, name).toBeCloseTo(fromShrinkage(tangential), 5);
    }
  });

  it("keep the handbook's group rows for the oaks, which no single species' shrinkage gives", () => {
    expect(wood("red oak").tangentialPerPercent!.value).toBe(0.00369);
    expect(Math.abs(wood("red oak").tangentialPerPercent!.value - fromShrinkage(8.6))).toBeGreaterThan(0.0005);
  });

  it("give the handbook's worked example: white fir, 232 mm from 8 to 11 %, grows 1.7 mm", () => {
    expect(232 * wood("white fir").tangentialPerPercent!.value * 3).toBeCloseTo(1.7, 1);
  });

  it("use the larger number where the handbook's tables disagree", () => {
    expect(wood("mahogany").radialPerPercent!.value).toBe(0.00172);
    expect(wood("teak").tangentialPerPercent!.value).toBe(0.00201);
  });

  it("name a source for every number, and share no name", () => {
    const names: string[] = [];
    for (const w of defaultWoods()) {
      for (const n of [w.specificGravity, w.radialPerPercent, w.tangentialPerPercent]) {
        if (n) expect(n.source).toMatch(/Wood Handbook|from memory|shrinkage/);
      }
      names.push(w.name.toLowerCase(), ...w.alsoCalled.map((a) => a.toLowerCase()));
    }
    expect(new Set(names).size).toBe(names.length);
  });

  it("move more along the rings than across them, in every solid wood", () => {
    for (const w of defaultWoods()) {
      if (w.class !== "hardwood" && w.class !== "softwood") continue;
      expect(w.tangentialPerPercent!.value).toBeGreaterThan(w.radialPerPercent!.value);
    }
  });
});
