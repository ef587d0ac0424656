import { describe, expect, it } from "vitest";
import { lengthOf } from "../../src/shapes/segment.ts";
import { lineEnergy, peakEnergy, ripple, runUp, twoWayShift } from "../../src/shop/beam.ts";
import type { Laser } from "../../src/shop/laser.ts";
import { beamRun, energyOver } from "../../src/simulate/beam.ts";
import { doseAt, doseOf, hottestOf } from "../../src/simulate/beam-dose.ts";
import type { Pace } from "../../src/simulate/pace.ts";
import { BARE, burning, readBurning } from "../reader/beam-programs.ts";

const LASER: Laser = {
  offset: { x: 60, y: 0 },
  wavelength: 450,
  ratedPower: 8,
  spot: { x: 0.14, y: 0.14 },
  focusGap: 5,
  focusRange: 0.4,
  fullScale: 1000,
  mode: "constant",
  start: "M3",
  lag: 0,
  from: "shop file",
};
const PACE: Pace = {
  topFeed: { x: 12000, y: 12000, z: 3000 },
  acceleration: { x: 1000, y: 1000, z: 300 },
  cornerDeviation: 0.02,
};

/** 8 W at 100 mm/s, the check values of a published beam: 0.911868 J/mm² on the centre line of a 0.14 mm spot. */
const FAST = "F6000.";

function run(lines: readonly string[], laser: Laser = LASER) {
  const read = readBurning(burning(...lines), undefined, {}, BARE);
  expect(read.findings).toEqual([]);
  return beamRun(read.events, laser, PACE);
}

describe("the beam in time", () => {
  it("a run-up of v²/2a reaches full speed, so the burned stretch is even", () => {
    const up = runUp(100, 1000);
    const { burns } = run([`G1 X${10 + up} ${FAST} S0`, `G1 X${40 + up} S1000`, `G1 X${40 + 2 * up} S0`]);
    expect(burns).toHaveLength(1);
    expect(burns[0]!.slowest).toBeCloseTo(100, 6);
    expect(burns[0]!.energy).toBeCloseTo(30 * lineEnergy(8, 100), 9);
  });

  it("half the run-up leaves the beginning slower and hotter: v = √(2 a s)", () => {
    const { burns } = run([`G1 X12.5 ${FAST} S0`, "G1 X42.5 S1000", "G1 X47.5 S0"]);
    expect(burns[0]!.slowest).toBeCloseTo(Math.sqrt(2 * 1000 * 2.5), 6);
    const shares = Array.from({ length: 30 }, (_, i) => energyOver(burns[0]!, LASER, i / 30, (i + 1) / 30));
    expect(shares[0]!).toBeGreaterThan(1.2 * lineEnergy(8, 100));
    expect(shares[20]!).toBeCloseTo(lineEnergy(8, 100), 6);
    expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(burns[0]!.energy, 9);
  });

  it("power that follows the speed gives every millimetre the same energy", () => {
    const { burns, still } = run([`G1 X20. ${FAST} S1000`, "G1 Y20.", "G1 X10. S0"], {
      ...LASER,
      mode: "follows speed",
    });
    for (const b of burns) expect(b.energy).toBeCloseTo(lengthOf(b.curve) * 0.08, 9);
    expect(still).toEqual([]);
  });

  it("a late beam shifts two ways of a line by twice v t", () => {
    const lag = 0.0005;
    const there = [`G1 X20. ${FAST} S0`, "G1 X50. S1000", "G1 X60. S0"];
    const back = ["G1 Y10.1", "G1 X50.", "G1 X20. S1000", "G1 X10. S0"];
    const { burns } = run([...there, ...back], { ...LASER, lag });
    const starts = burns.filter((b) => lengthOf(b.curve) > 1);
    expect(starts).toHaveLength(2);
    expect(starts[0]!.curve.from.x).toBeCloseTo(20.05, 6);
    expect(starts[1]!.curve.from.x).toBeCloseTo(49.95, 6);
    expect(starts[0]!.curve.from.x - 20 + 50 - starts[1]!.curve.from.x).toBeCloseTo(twoWayShift(100, lag), 6);
    // What was late at the beginning is burned behind the end.
    const tails = burns.filter((b) => lengthOf(b.curve) <= 1);
    expect(tails.map((b) => b.curve.to.x)).toEqual([expect.closeTo(50.05, 6), expect.closeTo(19.95, 6)]);
    expect(tails.every((b) => b.commanded !== b.move)).toBe(true);
  });

  it("a late beam burns on where the carriage stands, unless its power follows the speed", () => {
    const lines = [`G1 X40. ${FAST} S1000`, "M5", "G4 P1."];
    const late = { ...LASER, lag: 0.002 };
    expect(run(lines, late).still).toEqual([expect.objectContaining({ seconds: expect.closeTo(0.002, 9), power: 1 })]);
    expect(run(lines, late).still[0]!.at.x).toBe(40);
    expect(run(lines, { ...late, mode: "follows speed" }).still).toEqual([]);
    expect(run(lines).still).toEqual([]);
  });

  it("an arc burns along itself, and in time adds up to its length over its speed", () => {
    const { burns } = run(["G1 X20. F600. S500", "G3 X20. Y20. I0. J5.", "G1 X10. S0"]);
    expect(lengthOf(burns[1]!.curve)).toBeCloseTo(5 * Math.PI, 9);
    expect(burns[1]!.seconds).toBeGreaterThan((5 * Math.PI) / 10);
    expect(burns[1]!.seconds).toBeLessThan((5 * Math.PI) / 10 + 0.03);
  });
});

describe("the dose", () => {
  const EVEN = ["G1 X15. F6000. S0", "G1 X45. S1000", "G1 X50. S0"];

  it("is the published peak on a line, and its Gaussian beside it", () => {
    const { burns, still } = run(EVEN);
    const map = doseOf(burns, still, LASER);
    expect(doseAt(map, { x: 30, y: 10 })).toBeCloseTo(0.911868, 5);
    expect(doseAt(map, { x: 30, y: 10 })).toBeCloseTo(peakEnergy(8, 100, 0.14), 6);
    expect(doseAt(map, { x: 30, y: 10.07 }) / doseAt(map, { x: 30, y: 10 })).toBeCloseTo(Math.exp(-2), 6);
    const hot = hottestOf(map)!;
    expect(hot.dose).toBeLessThanOrEqual(peakEnergy(8, 100, 0.14) * (1 + 1e-6));
    expect(hot.most!).toBeGreaterThanOrEqual(peakEnergy(8, 100, 0.14) * (1 - 1e-6));
    expect(hot.most! / hot.dose).toBeLessThan(1.07);
  });

  it("holds all the energy: its sum over the cells is the burns' own", () => {
    const { burns, still } = run(EVEN);
    const map = doseOf(burns, still, LASER);
    let sum = 0;
    for (const tile of map.tiles.values()) for (const dose of tile) sum += dose * map.cell * map.cell;
    expect(sum / burns[0]!.energy).toBeCloseTo(1, 3);
  });

  it("of even lines swings as Poisson's sum says", () => {
    for (const spacing of [0.07, 0.105, 0.14]) {
      const lines = Array.from({ length: 9 }, (_, k) => [
        `G1 X10. Y${(10 + k * spacing).toFixed(4)} S0 F6000.`,
        "G1 X15.",
        "G1 X45. S1000",
        "G1 X50. S0",
      ]).flat();
      const { burns, still } = run(lines);
      const map = doseOf(burns, still, LASER);
      const mean = 8 / 100 / spacing;
      const wave = ripple(0.14, spacing);
      expect(doseAt(map, { x: 30, y: 10 + 4 * spacing }) / mean - 1).toBeCloseTo(wave.above, 4);
      expect(1 - doseAt(map, { x: 30, y: 10 + 4.5 * spacing }) / mean).toBeCloseTo(wave.below, 4);
    }
  });

  it("of an oval spot is wider across the travel that sees its long side", () => {
    const oval = { x: 0.2, y: 0.1 };
    const { burns } = run(EVEN);
    const map = doseOf(burns, [], { ...LASER, spot: oval });
    expect(doseAt(map, { x: 30, y: 10.05 }) / doseAt(map, { x: 30, y: 10 })).toBeCloseTo(Math.exp(-2), 6);
    expect(doseAt(map, { x: 30, y: 10 })).toBeCloseTo(peakEnergy(8, 100, 0.1), 6);
  });

  it("no place between the cells is hotter than the bound, on a crossing at any angle", () => {
    const { burns } = run(["G1 X20. F1200. S1000", "G1 X14.3 Y13.1", "G1 X16. Y5.", "G1 X10. Y9. S0"]);
    const map = doseOf(burns, [], LASER);
    const hot = hottestOf(map)!;
    let most = 0;
    for (const b of burns) {
      for (const end of [b.curve.from, b.curve.to]) {
        for (let i = -12; i <= 12; i++) {
          for (let k = -12; k <= 12; k++)
            most = Math.max(most, doseAt(map, { x: end.x + i / 150, y: end.y + k / 150 }));
        }
      }
    }
    expect(most).toBeLessThanOrEqual(hot.most!);
    expect(hot.most! / hot.dose).toBeLessThan(1.05);
  });
});
