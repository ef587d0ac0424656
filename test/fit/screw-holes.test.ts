import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { driverFit, knownDrivers } from "../../src/fit/screw-driver.ts";
import { gaugeOfHead, pilotFor } from "../../src/fit/screw-gauge.ts";
import { coneDepth, type RunnerScrewsAsk, runnerScrews, screwsOfDivider } from "../../src/fit/screw-holes.ts";
import { knownScrews, screwCalled } from "../../src/job/screws.ts";
import { said } from "./said.ts";

const called = (name: string) => screwCalled(name).screw!;

const ASK: RunnerScrewsAsk = {
  said: said("runner"),
  screw: called("3 mm"),
  length: 16,
  count: 3,
  runner: { length: 180, height: 9.5, thickness: 6, letIn: 0, noseRadius: 4.75 },
  caseThickness: 15,
  caseChange: { dry: -1.2, wet: 1.8 },
  caseDepth: 200,
  face: "only",
};

/** Clearance hole of a numbered screw by Joyce's rule, (number + 3) / 64 in, or the next 64th where that is under its body. */
function joyceClearance(number: number): number {
  const rule = (number + 3) / 64;
  return rule > 0.06 + 0.013 * number ? rule : rule + 1 / 64;
}

const codes = (ask: Partial<RunnerScrewsAsk>) =>
  runnerScrews({ ...ASK, ...ask }).findings.map((f) => `${f.grade} ${f.code}`);

describe("screw tables and rules", () => {
  it("No. 8: shank 0.164 in, clearance 11/64 in; a 13/32 in head is No. 10 (E. Joyce, Technique of Furniture Making)", () => {
    expect(called("no 8").bodyDiameter / 25.4).toBeCloseTo(0.164, 6);
    expect(called("no 8").clearance / 25.4).toBeCloseTo(11 / 64, 12);
    expect(gaugeOfHead((13 / 32) * 25.4)).toBe(10);
  });

  it("Joyce's clearances are the table's for Nos. 4 to 10, the next 64th where his fall under the body", () => {
    for (const n of [4, 5, 6, 7, 8, 9, 10]) {
      expect(called(`no ${n}`).clearance / 25.4, `no ${n}`).toBeCloseTo(joyceClearance(n), 6);
    }
  });

  it.each([
    [4, 0.065, 0.067],
    [6, 0.081, 0.083],
    [8, 0.097, 0.1],
    [10, 0.112, 0.116],
  ])(
    "No. %i: the head's cone is %f in deep at 82°, no more than the table's head height (a supplier's flat-head table)",
    (n, depth, most) => {
      const s = called(`no ${n}`);
      const found = coneDepth(s.headDiameter, s.bodyDiameter, 82) / 25.4;
      expect(found).toBeCloseTo(depth, 3);
      expect(found).toBeLessThanOrEqual(most);
      expect(found).toBeGreaterThan(most - 0.004);
    },
  );

  it.each([
    ["3 mm", 1.5],
    ["3.5 mm", 1.75],
    ["5 mm", 2.5],
  ])("a %s head at 90° is %f mm high: half its body (DIN 97 and 7997, from memory)", (name, depth) => {
    const s = called(name);
    expect(coneDepth(s.headDiameter, s.bodyDiameter, 90)).toBeCloseTo(depth, 9);
  });

  it("pilots are the chart's where it has a row (plate 6B), and near them in proportion elsewhere", () => {
    expect(pilotFor(called("no 6"), "hard").diameter / 25.4).toBeCloseTo(0.086, 9);
    expect(pilotFor(called("no 8"), "soft").diameter / 25.4).toBeCloseTo(5 / 64, 9);
    for (const s of knownScrews()) {
      for (const wood of ["hard", "soft"] as const) {
        expect(pilotFor(s, wood).diameter, s.name).toBeLessThan(0.75 * s.bodyDiameter);
        expect(pilotFor(s, wood).diameter, s.name).toBeGreaterThan(0.4 * s.bodyDiameter);
      }
      expect(pilotFor(s, "soft").diameter).toBeLessThan(pilotFor(s, "hard").diameter);
    }
  });
});

describe("a runner's screw holes", () => {
  it("the front one is round and holds; the others are slotted by what the case moves there, and half a millimetre", () => {
    const { holes, findings } = runnerScrews(ASK);
    expect(findings).toEqual([]);
    expect(holes.map((h) => [h.kind, h.at])).toEqual([
      ["round", 12],
      ["slotted", 90],
      ["slotted", 168],
    ]);
    // 156 of 200 mm: the case shrinks 0.936 there and swells 1.404; outwards to the tenth.
    expect(holes[2]).toEqual({ kind: "slotted", at: 168, from: 164.8, to: 171.7 });
  });

  it("in every season each screw stays within its hole, wherever the case has moved", () => {
    const um = (min: number, max: number) => fc.integer({ min, max }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        um(-3000, 0),
        um(0, 3000),
        fc.integer({ min: 2, max: 5 }),
        um(120000, 350000),
        (dry, wet, count, depth) => {
          const ask = {
            ...ASK,
            count,
            caseChange: { dry, wet },
            caseDepth: depth,
            runner: { ...ASK.runner, length: depth - 20 },
          };
          const { holes, clearance } = runnerScrews(ask);
          const held = holes[0]!.at;
          const body = ask.screw.bodyDiameter / 2;
          for (const share of [dry, 0, wet]) {
            for (const h of holes) {
              // The case's wood moves in proportion to its distance from where the runner is held.
              const place = held + (h.at - held) * (1 + share / depth);
              expect(place - body).toBeGreaterThan(h.from);
              expect(place + body).toBeLessThan(h.to);
            }
          }
          for (const h of holes) expect(h.to - h.from).toBeGreaterThanOrEqual(clearance - 1e-9);
        },
      ),
      { numRuns: 40 },
    );
  });

  it("where the case doesn't move all are round", () => {
    expect(runnerScrews({ ...ASK, caseChange: { dry: 0, wet: 0 } }).holes.map((h) => h.kind)).toEqual([
      "round",
      "round",
      "round",
    ]);
  });

  it("the head's edge lies below the sliding face, and its cone and the wood beneath make up the runner", () => {
    for (const screw of knownScrews()) {
      const s = runnerScrews({ ...ASK, screw });
      // By similar triangles: so deep below its mouth the cone is as wide as the head.
      const half = ((screw.headAngle / 2) * Math.PI) / 180;
      expect((s.mouth - screw.headDiameter) / 2 / Math.tan(half)).toBeCloseTo(s.sunk, 9);
      expect((s.mouth - s.clearance) / 2 / Math.tan(half)).toBeCloseTo(s.cone, 9);
      expect(s.cone + s.under).toBeCloseTo(ASK.runner.thickness, 9);
      expect(s.room.width).toBeGreaterThan(screw.headDiameter);
    }
  });

  it("no screw is longer than runner and case side less 2 mm: refused, and not to be overridden when it comes out", () => {
    // 6 + 15 − 2 − 0.3 sunk: 18.7 is the longest.
    expect(runnerScrews(ASK).longest).toBeCloseTo(18.7, 9);
    expect(codes({ length: 18.7 })).toEqual([]);
    expect(codes({ length: 18.8 })).toEqual(["refuse fit-screw-long"]);
    expect(codes({ length: 21 })).toEqual(["refuse fit-screw-through"]);
    // Let in by 2, the runner stands only 4 out.
    expect(codes({ length: 18, runner: { ...ASK.runner, letIn: 2 } })).toEqual(["refuse fit-screw-long"]);
  });

  it.each([
    ["bites little", { length: 11 }, "caution fit-screw-short"],
    ["doesn't reach the case", { length: 5 }, "refuse fit-screw-short"],
    ["is wider than the runner", { screw: called("no 10") }, "refuse fit-screw-head-wide"],
    ["leaves thin edges", { screw: called("3.5 mm") }, "caution fit-screw-edge-thin"],
    ["leaves little beneath its head", { runner: { ...ASK.runner, thickness: 3.4 } }, "caution fit-screw-under-head"],
    ["goes through with its head", { runner: { ...ASK.runner, thickness: 1.5 } }, "refuse fit-screw-under-head"],
    ["stands alone", { count: 1 }, "caution fit-screws-crowded"],
    ["is one of too many", { count: 40 }, "refuse fit-screws-crowded"],
    ["is one of many", { count: 17 }, "caution fit-screws-crowded"],
    ["lies behind the glue", { runner: { ...ASK.runner, height: 60, noseRadius: 30 } }, "caution fit-screw-front-far"],
  ] as const)("a screw that %s", (_, ask, finding) => {
    expect(codes(ask)).toContain(finding);
  });

  it("from both faces of a divider they are moved along, so that they pass clear of each other", () => {
    const one = runnerScrews({ ...ASK, caseThickness: 18, face: "first of two" });
    const other = runnerScrews({ ...ASK, caseThickness: 18, face: "second of two" });
    expect(other.holes.map((h, i) => Number((h.at - one.holes[i]!.at).toFixed(6)))).toEqual([12, 12, 12]);
    expect(other.holes[0]!.at).toBeLessThanOrEqual(one.glueTo);
    const side = (s: typeof one) => ({ holes: s.holes, reaches: s.reaches, height: 0 });
    const apart = screwsOfDivider(said("divider"), ASK.screw, 18, side(one), side(other));
    expect(apart.overlap).toBeCloseTo(2 * 10.3 - 18, 9);
    expect(apart.apart).toBeCloseTo(12, 9);
    expect(apart.findings).toEqual([]);
    // Let into the divider, the runners bring their screws nearer to each other.
    const letIn = { ...ASK, caseThickness: 18, length: 15, runner: { ...ASK.runner, letIn: 2 } };
    expect(runnerScrews(letIn).reaches - runnerScrews({ ...ASK, caseThickness: 18, length: 15 }).reaches).toBeCloseTo(
      2,
      9,
    );
    // The same holes from both faces meet point to point.
    const meet = screwsOfDivider(said("divider"), ASK.screw, 18, side(one), side(one));
    expect(meet.findings.map((f) => `${f.grade} ${f.code}`)).toEqual(["refuse fit-screws-meet"]);
    // In a thick divider they never reach each other.
    expect(screwsOfDivider(said("divider"), ASK.screw, 22, side(one), side(one)).findings).toEqual([]);
    // Runners of unlike rows are told by height.
    const higher = { ...side(one), height: 4 };
    expect(screwsOfDivider(said("divider"), ASK.screw, 18, side(one), higher).findings[0]?.grade).toBe("caution");
  });
});

describe("whether a driver fits into the opening", () => {
  const ask = {
    said: said("runner"),
    width: 142,
    height: 58.5,
    reach: 6,
    deepest: 170,
    screwLength: 16,
    drivers: knownDrivers(),
  };
  it("the handiest that fits behind a screw that is just started", () => {
    // 142 − 2·6 − 13: 117 mm; a stubby driver's hand is too high for the opening, an offset one is not.
    expect(driverFit(ask).room).toBe(117);
    expect(driverFit(ask).driver?.name).toBe("an offset driver");
    expect(driverFit({ ...ask, height: 70 }).driver?.name).toBe("a stubby driver");
    expect(driverFit({ ...ask, width: 260, height: 100 }).driver?.name).toBe("a drill with a bit");
  });

  it("where none does, the runners go on before glue-up; it never refuses", () => {
    for (const none of [{ width: 50 }, { height: 20 }, { deepest: 900 }, { drivers: [] }]) {
      const found = driverFit({ ...ask, ...none });
      expect(found.driver).toBeUndefined();
      expect(found.findings.map((f) => f.grade)).toEqual(["caution"]);
      expect(found.findings[0]!.what).toContain("before glue-up");
    }
  });
});
