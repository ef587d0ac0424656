import { describe, expect, it } from "vitest";
import type { TurningSetUp } from "../../../src/plan/turning-setup.ts";
import { proveTurning, proveTurningDryRun } from "../../../src/proof/turning/prove.ts";
import { ridgeOf } from "../../../src/proof/turning/rules.ts";
import { LATHE, LATHES, moved, NOSE, programFor, SHOP, sampleProfile, turningSetUp, type Writing } from "./fixture.ts";

const profile = sampleProfile();
const setUp = turningSetUp(profile);

function proved(text: string, to: TurningSetUp = setUp) {
  return proveTurning({ setUp: to, programs: [{ file: "a.ngc", text }], shop: SHOP });
}

function refusals(text: string, to: TurningSetUp = setUp): readonly string[] {
  return [
    ...new Set(
      proved(text, to)
        .findings.filter((f) => f.grade === "refuse")
        .map((f) => f.code),
    ),
  ];
}

const good = programFor(setUp, profile);

describe("a right program", () => {
  it.each(LATHES)("passes in each convention of X: $xWords, $toolPost post", (lathe) => {
    const to = { ...setUp, lathe };
    const proof = proved(programFor(to, profile), to);
    expect(proof.findings.filter((f) => f.grade === "refuse")).toEqual([]);
    expect(proof.figures.gouge!.value).toBeLessThan(0.0002);
    expect(proof.figures["wood left"]!.value).toBeLessThanOrEqual(0.01);
    expect(proof.checked.some((line) => line.startsWith("looked at"))).toBe(false);
  });

  it("leaves in an inside corner what a nose must leave: n(√2 − 1), told as a caution with its place", () => {
    const beyond = proved(good).findings.filter((f) => f.code === "proof-turning-out-of-reach");
    expect(beyond.every((f) => f.grade === "caution")).toBe(true);
    const corner = beyond[0]!;
    expect(Math.abs(corner.measured!.value - 1.5 * (Math.SQRT2 - 1))).toBeLessThan(corner.measured!.bound);
    expect(corner.place.at!.z).toBeCloseTo(-55, 1);
    expect(corner.why).toContain("from the first end");
  });

  it("says what was checked and what was not", () => {
    const { checked, notChecked } = proved(good);
    expect(checked.join()).toContain("radius or as diameter");
    expect(notChecked.join()).toContain("mounting");
  });
});

describe("planted faults are refused", () => {
  const writing = (w: Writing) => programFor(setUp, profile, w);
  it.each([
    ["0.02 mm too deep", writing({ deeper: 0.02 }), "proof-turning-gouge"],
    ["0.02 mm too shallow", writing({ deeper: -0.02 }), "proof-turning-wood-left"],
    [
      "a stretch left 0.02 mm proud",
      writing({ edit: (way) => way.map((s, i) => (i === 3 ? moved(s, 0, 0.02) : s)) }),
      "proof-turning-wood-left",
    ],
    [
      "a radius 0.02 mm too small",
      writing({ edit: (way) => way.map((s, i) => (i === 3 ? moved(s, 0, -0.02) : s)) }),
      "proof-turning-gouge",
    ],
    ["a stretch missing", writing({ edit: (way) => way.slice(0, 4) }), "proof-turning-wood-left"],
    ["a stretch taken straight", writing({ edit: (way) => way.filter((_, i) => i !== 3) }), "proof-turning-gouge"],
    ["arcs of the wrong sense", good.replaceAll("G3 ", "G2 "), "proof-turning-wood-left"],
    ["the other arcs of the wrong sense", good.replaceAll("G2 ", "G3 "), "proof-turning-gouge"],
    ["no spindle start", good.replace("S1400 M3", "S1400"), "proof-turning-wood-standing"],
    ["the spindle backwards", good.replace("M3", "M4"), "proof-spindle-backwards"],
    ["no spin-up", good.replace("G4 P5.", "G4 P1."), "proof-no-spin-up"],
    ["the finishing speed before the wood is round", good.replace("S1400", "S2800"), "proof-turning-speed"],
    ["a speed the lathe has not", good.replace("S2800", "S9000"), "proof-spindle-out-of-range"],
    ["a feed the slides cannot do", good.replaceAll("F240.", "F9000."), "proof-feed-too-fast"],
    ["too deep a bite", writing({ bite: 1.4 }), "proof-turning-bite"],
    ["a rapid into the wood", good.replace(/G1 (X\S+) F120\.(?![\s\S]*F120)/, "G0 $1"), "proof-turning-rapid-in-wood"],
    ["a rapid along the axis in a groove", good.replace(/G0 X20\.0000\nG0 Z/, "G0 Z"), "rs-l12-rapid-slanting"],
    ["a start from anywhere", good.replace("G53 G0 X0.", "G0 X20."), "proof-start-unasked"],
    ["the tool left in at the end", good.replace(/G0 X20\.0000\nG0 Z\S+\nM5/, "M5"), "proof-turning-ends-in"],
    ["corners rounded off", good.replace("G61", "G64"), "proof-exact-path-unstated"],
    [
      "parting through",
      good.replace("M5\nG4 P8.", "G0 X14.\nG1 X6. F60.\nG1 X0.5 F60.\nG0 X20.\nM5\nG4 P8."),
      "proof-turning-parted-through",
    ],
    [
      "into the wood beside",
      good.replace("M5\nG4 P8.", "G0 Z-58.\nG0 X13.\nG1 X11. F60.\nG0 X20.\nM5\nG4 P8."),
      "proof-turning-gouge",
    ],
    [
      "into the drive centre",
      good.replace("M5\nG4 P8.", "G0 Z-62.\nG0 X13.\nG1 X12.4 F60.\nG0 X20.\nM5\nG4 P8."),
      "proof-turning-keep-out-hit",
    ],
    ["cut off in the middle", good.slice(0, good.length / 2), "proof-not-reached"],
    ["without a tool's name", good.replace("(Tool: 3 mm round-nose)\n", ""), "proof-turning-no-tool"],
  ] as const)("%s", (name, text, code) => {
    expect(text).not.toBe(good);
    const to =
      name === "without a tool's name" ? { ...setUp, tools: [NOSE, { ...NOSE, name: "other", slot: 2 }] } : setUp;
    expect(refusals(text, to)).toContain(code);
  });

  it("radius written for diameter, and diameter for radius", () => {
    const diameter = { ...setUp, lathe: { ...LATHE, xWords: "diameter" as const } };
    expect(refusals(good, diameter)).not.toEqual([]);
    expect(refusals(programFor(diameter, profile), setUp)).not.toEqual([]);
    // Without arcs, which give it away by their centres, the shape itself tells.
    const flat = [{ kind: "line" as const, from: { x: 5, y: 6 }, to: { x: 55, y: 6 } }];
    const plain = turningSetUp(flat);
    const asDiameter = { ...plain, lathe: diameter.lathe };
    expect(refusals(programFor(plain, flat), plain)).toEqual([]);
    expect(refusals(programFor(plain, flat), asDiameter)).toContain("proof-turning-gouge");
    expect(refusals(programFor(asDiameter, flat), plain)).toContain("proof-turning-wood-left");
  });

  it("front post for rear post", () => {
    expect(refusals(good, { ...setUp, lathe: { ...LATHE, toolPost: "front" } })).toContain("rs-lathe-past-axis");
  });

  it("a holder that meets the wood", () => {
    const short = { ...setUp, tools: [{ ...NOSE, reach: 3 }] };
    expect(refusals(good, short)).toContain("proof-turning-holder-in-wood");
  });

  it("a smaller tool in the drawer is no excuse for what a larger one leaves", () => {
    const small = { ...NOSE, name: "1 mm round-nose", slot: 2, noseRadius: 0.5, width: 1 };
    const proof = proveTurning({
      setUp,
      programs: [{ file: "a.ngc", text: good }],
      shop: { ...SHOP, turningTools: [NOSE, small] },
    });
    expect(proof.findings.map((f) => `${f.grade} ${f.code}`)).toContain("refuse proof-turning-wood-left");
  });
});

describe("a lathe with a changer", () => {
  const lathe = { ...LATHE, controller: { ...LATHE.controller, toolChanger: true } };
  const spare = { ...NOSE, name: "6 mm round-nose", slot: 2, noseRadius: 3, width: 6 };
  const to = { ...setUp, lathe, tools: [NOSE, spare] };
  const called = (slot: number): string =>
    good.replace("(Tool: 3 mm round-nose)\n", "").replace("G53 G0 X0.", `G53 G0 X0.\nT${slot} M6\nG61\nG53 G0 X0.`);

  it("takes the tool that the text calls", () => {
    expect(refusals(called(1), to)).toEqual([]);
    expect(refusals(called(2), to)).toContain("proof-turning-gouge");
    expect(refusals(called(7), to)).toContain("proof-turning-no-tool");
  });

  it("goes by the point that the shop file names", () => {
    // Programmed by its first corner, the same nose stands 1.5 mm farther towards the tailstock.
    const corner = { ...to, tools: [{ ...NOSE, point: "corner first" as const }] };
    expect(refusals(called(1), corner)).toContain("proof-turning-gouge");
    const shifted = called(1).replaceAll(/Z(-?[\d.]+)/g, (_, z) => `Z${(Number(z) - 1.5).toFixed(4)}`);
    expect(refusals(shifted, corner)).toEqual([]);
  });
});

describe("speeds", () => {
  it("are held against the holding's limit, and cautioned where turners' pages say less", () => {
    const held = { ...setUp, lathe: { ...LATHE, holdingMaxRpm: 2000 } };
    expect(refusals(good, held)).toContain("proof-turning-speed");
    const paper = {
      ...setUp,
      piece: {
        ...setUp.piece,
        split: { by: "paper joint" as const, kerf: 0, wander: 0, truing: 0.2, source: setUp.piece.source },
      },
    };
    const codes = proved(good, paper).findings.map((f) => `${f.grade} ${f.code}`);
    expect(codes).toContain("caution proof-turning-speed-high");
  });

  it("a square blank counts by its diagonal, and as not round while its corners stand", () => {
    const square = {
      ...setUp,
      piece: { ...setUp.piece, blank: { length: 60, across: 17, shape: "square" as const } },
      roughRpm: 1500,
    };
    expect(refusals(good, square)).toEqual([]);
    expect(refusals(good.replace("S1400", "S1600"), square)).toContain("proof-turning-speed");
  });
});

describe("ridges from turn to turn", () => {
  it("n − √(n² − f²/4), none under a square end that overlaps itself", () => {
    expect(ridgeOf(200, 1000, 1.5, 3)).toBeCloseTo(1.5 - Math.sqrt(2.25 - 0.01), 12);
    expect(ridgeOf(200, 1000, 0.1, 3)).toBe(0);
    expect(refusals(good.replaceAll("F240.", "F1400."))).toEqual([]);
    const codes = proved(good.replaceAll("F240.", "F1400.")).findings.map((f) => f.code);
    expect(codes).toContain("proof-turning-ridge");
  });
});

describe("a dry run", () => {
  const dry = good
    .replaceAll(/^S\d+( M3)?\n/gm, "")
    .replaceAll(/^G4.*\n/gm, "")
    .replaceAll(/X(\d+\.\d+)/g, (_, x) => `X${(Number(x) + 15).toFixed(4)}`);

  it("lifted clear passes", () => {
    expect(proveTurningDryRun(setUp, { file: "dry.ngc", text: dry }).findings).toEqual([]);
  });

  it("touching anything, or turning, is refused", () => {
    const codes = (text: string) => proveTurningDryRun(setUp, { file: "d", text }).findings.map((f) => f.code);
    expect(codes(dry.replaceAll(/X(\d+\.\d+)/g, (_, x) => `X${(Number(x) - 10).toFixed(4)}`))).toContain(
      "dry-run-touches",
    );
    expect(codes(dry.replace("M5\n", "S500 M3\nM5\n"))).toContain("dry-run-spindle");
  });
});
