import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chipLoadFor, depthFactor } from "../../src/shop/chip-load.ts";
import type { Cutter } from "../../src/shop/cutter.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { speedsFor } from "../../src/shop/speeds.ts";
import { maxRpmFor } from "../../src/shop/spindle-speed.ts";
import { cuttingPower, surfaceSpeed, tipBending } from "../../src/shop/strength.ts";

const bit = (name: string): Cutter => DEFAULT_SHOP.cutters.find((c) => c.name === name)!;
const wood = (name: string) => DEFAULT_SHOP.woods.find((w) => w.name === name)!;
const machine = (post: string) => DEFAULT_SHOP.machines.find((m) => m.post === post)!;
const quarter = bit("1/4 in flat");

describe("chip loads", () => {
  it("are the charts' at their own diameters, the lower where they disagree", () => {
    // Both charts: 1/4 in in hardwood, 0.005 to 0.007 in.
    expect(chipLoadFor(quarter, wood("ash"), 6.35)).toMatchObject({ low: 0.127, high: expect.closeTo(0.1778, 9) });
    // 3/8 in in hardwood: 0.013–0.015 against 0.006–0.008 in.
    const threeEighths = chipLoadFor({ ...quarter, diameter: 9.525 }, wood("ash"), 5);
    expect(threeEighths.low).toBeCloseTo(0.1524, 9);
    expect(threeEighths.high).toBeCloseTo(0.2032, 9);
    // 1/8 in in hardwood: 0.002–0.004 against 0.003–0.005 in.
    const eighth = chipLoadFor({ ...quarter, diameter: 3.175 }, wood("ash"), 1);
    expect([eighth.low, eighth.high]).toEqual([expect.closeTo(0.0508, 9), expect.closeTo(0.1016, 9)]);
    expect(chipLoadFor(quarter, wood("mdf"), 3).low).toBeCloseTo(0.3048, 9);
  });

  it("lie evenly between two diameters, shrink below the smallest, stay above the largest", () => {
    const at = (diameter: number) => chipLoadFor({ ...quarter, diameter }, wood("plywood"), 0.5).low;
    expect(at((3.175 + 6.35) / 2)).toBeCloseTo((0.0762 + 0.1524) / 2, 9);
    expect(at(3.175 / 2)).toBeCloseTo(0.0762 / 2, 9);
    expect(at(20)).toBeCloseTo(0.4572, 9);
  });

  it("come down with depth: 25 % at two diameters, 50 % at three", () => {
    expect(depthFactor(0.3)).toBe(1);
    expect(depthFactor(1)).toBe(1);
    expect(depthFactor(2)).toBe(0.75);
    expect(depthFactor(2.5)).toBe(0.625);
    expect(depthFactor(3)).toBe(0.5);
    expect(depthFactor(9)).toBe(0.5);
  });

  it("are the user's own where they were found, by any name of the wood", () => {
    const own = { ...quarter, chipLoads: { "White Ash": 0.11 } };
    expect(chipLoadFor(own, wood("ash"), 30)).toMatchObject({ low: 0.11, high: 0.11, measured: true });
    expect(chipLoadFor(own, wood("cherry"), 3).measured).toBe(false);
  });

  it("take V bits from their own chart", () => {
    expect(chipLoadFor(bit("90 degree V"), wood("ash"), 2).low).toBeCloseTo(0.06096, 9);
  });
});

describe("speeds", () => {
  it("start from the chart's 18000 rpm and its chip load", () => {
    const s = speedsFor(quarter, wood("ash"), { ...machine("millimetre"), topFeed: { x: 9000, y: 9000, z: 3000 } }, 3);
    expect(s.rpm).toBe(18000);
    expect(s.feed).toBeCloseTo(0.1524 * 2 * 18000, 6);
    expect(s.slot).toBeCloseTo(0.127 * 2 * 18000, 6);
    expect(s.ramp).toBeCloseTo(s.feed / 2, 9);
    expect(s.plunge).toBeCloseTo(s.feed / 4, 9);
    expect(s.findings).toEqual([]);
  });

  it("slow the spindle where the machine can't feed so fast, so that the chip load holds", () => {
    const s = speedsFor(quarter, wood("ash"), machine("millimetre"), 3);
    expect(s.rpm).toBeLessThan(20000);
    expect(s.feed).toBeLessThanOrEqual(6000);
    expect(s.reason).toMatch(/18000 rpm|slowed/);
    const slow = speedsFor(
      quarter,
      wood("ash"),
      { ...machine("millimetre"), topFeed: { x: 3000, y: 3000, z: 900 } },
      3,
    );
    expect(slow.rpm).toBe(9800);
    expect(slow.reason).toContain("slowed so that the machine's feed keeps the chip load");
    expect(slow.feed / 2 / slow.rpm).toBeGreaterThanOrEqual(0.127);
  });

  it("caution that the bit rubs where the spindle can't turn slowly enough", () => {
    const s = speedsFor(quarter, wood("mdf"), machine("plain"), 3);
    expect(s.rpm).toBe(10000);
    expect(s.dialMark).toBe("1");
    expect(s.feed).toBe(3000);
    expect(s.findings.map((f) => [f.grade, f.code])).toContainEqual(["caution", "chip-load-low"]);
  });

  it("choose only marks that the dial has", () => {
    const dial = machine("plain").spindle;
    if (dial.kind !== "dial") throw new Error("the plain machine has a dial");
    for (const c of DEFAULT_SHOP.cutters) {
      const s = speedsFor(c, wood("ash"), machine("plain"), 2);
      expect(dial.positions).toContainEqual({ mark: s.dialMark, rpm: s.rpm });
    }
  });

  it("refuse only on what the user read off the bit", () => {
    const printed = speedsFor({ ...quarter, maxRpm: 8000 }, wood("ash"), machine("plain"), 3);
    expect(printed.findings.filter((f) => f.grade === "refuse").map((f) => f.code)).toEqual([
      "spindle-too-fast-for-bit",
    ]);
    const wide = speedsFor(
      { ...quarter, diameter: 60 },
      wood("ash"),
      { ...machine("plain"), spindle: { kind: "program", min: 14000, max: 20000 } },
      3,
    );
    expect(wide.findings.map((f) => [f.grade, f.code])).toContainEqual(["caution", "spindle-fast-for-diameter"]);
    expect(wide.findings.every((f) => f.grade !== "refuse")).toBe(true);
  });

  it("keep within machine and bit for every built-in pair, at any depth", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DEFAULT_SHOP.cutters),
        fc.constantFrom(...DEFAULT_SHOP.machines),
        fc.constantFrom(...DEFAULT_SHOP.woods),
        fc.integer({ min: 100, max: 30000 }),
        (c, m, w, micro) => {
          const s = speedsFor(c, w, m, micro / 1000);
          const [low, high] = m.spindle.kind === "program" ? [m.spindle.min, m.spindle.max] : [10000, 24000];
          expect(s.rpm).toBeGreaterThanOrEqual(low);
          expect(s.rpm).toBeLessThanOrEqual(high);
          expect(s.feed).toBeLessThanOrEqual(Math.max(m.topFeed.x, m.topFeed.z));
          expect(s.plunge).toBeLessThanOrEqual(m.topFeed.z);
          expect(s.slot).toBeLessThanOrEqual(s.feed);
          for (const v of [s.feed, s.plunge, s.ramp, s.slot]) expect(v).toBeGreaterThan(0);
          expect(s.findings.every((f) => f.grade === "caution" && f.limit !== undefined)).toBe(true);
          const load = chipLoadFor(c, w, micro / 1000);
          const rubs = s.findings.some((f) => f.code === "chip-load-low");
          expect(s.feed / s.rpm / c.flutes < load.low * (1 - 1e-9)).toBe(rubs);
        },
      ),
    );
  });
});

describe("the highest speed for a diameter", () => {
  it("is the lowest of the published charts, and never rises with the diameter", () => {
    expect([6, 25.4, 26, 51, 64].map(maxRpmFor)).toEqual([22000, 22000, 18000, 12000, 8000]);
    let last = Number.POSITIVE_INFINITY;
    for (let d = 1; d < 200; d++) {
      expect(maxRpmFor(d)).toBeLessThanOrEqual(last);
      last = maxRpmFor(d);
    }
  });

  it("agrees with the published rim speed: 3 in at 24000 rpm is 18850 ft/min", () => {
    expect(surfaceSpeed(76.2, 24000) * 196.85).toBeCloseTo(18850, -1);
  });
});

describe("power and bending", () => {
  it("follow P = kc · Q", () => {
    // 6 mm wide, 3 mm deep at 2000 mm/min: 600 mm³/s; 50 N/mm² gives 30 W.
    expect(cuttingPower("hardwood", 3, 6, 2000)).toBeCloseTo(30, 9);
  });

  it("follow F L³ / 3 E I for a plain cylinder, and eight times that at twice the overhang", () => {
    const c = { ...quarter, diameter: 4, shankDiameter: 4, fluteLength: 8, stickOut: 16 };
    const rpm = 18000;
    const force = 100 / surfaceSpeed(4, rpm);
    const expected = (force * 16 ** 3) / (3 * 580_000 * ((Math.PI * 4 ** 4) / 64));
    expect(tipBending(c, 100, rpm)).toBeCloseTo(expected, 12);
    expect(tipBending({ ...c, stickOut: 32 }, 100, rpm) / tipBending(c, 100, rpm)).toBeCloseTo(8, 9);
    // A published figure for such a cylinder: 5.5 N/µm.
    expect(force / expected / 1000).toBeCloseTo(5.5, 0);
  });

  it("shrink on a thicker shank, and no stiffer than the shank alone would be", () => {
    const thin = { ...quarter, diameter: 3, shankDiameter: 3, fluteLength: 12, stickOut: 20 };
    const onThick = tipBending({ ...thin, shankDiameter: 6 }, 50, 18000);
    expect(onThick).toBeLessThan(tipBending(thin, 50, 18000));
    expect(onThick).toBeGreaterThan(tipBending({ ...thin, stickOut: 12 }, 50, 18000));
  });
});
