import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/finding.ts";
import type { TargetCavity } from "../../src/parts/target.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import { prove, proveDryRun, proveSetUp } from "../../src/proof/prove.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { circle, rectangle, roundedRectangle, slotBetween } from "../../src/shapes/outlines.ts";
import type { Point } from "../../src/shapes/point.ts";
import type { Cutter } from "../../src/shop/cutter.ts";
import { bit, cavity, feed, programText, rectangleRings, setUpOf, shop, targetOf } from "./fixture.ts";

const SIX = bit("6 mm flat");

function found(
  cavities: readonly TargetCavity[],
  text: string,
  cutters: readonly Cutter[] = [SIX],
  changes: Partial<SetUp> = {},
) {
  const setUp = setUpOf(targetOf(cavities), cutters, changes);
  return prove({ setUp, text, file: "part.ngc", shop }).findings;
}

const refused = (findings: readonly Finding[]): string[] => [
  ...new Set(findings.filter((f) => f.grade === "refuse").map((f) => f.code)),
];

/** Full circle of the axis about a centre, as two halves, counter-clockwise. */
function round(c: Point, r: number, z: number): ReadMove[] {
  const a = { x: c.x + r, y: c.y, z };
  const b = { x: c.x - r, y: c.y, z };
  return [feed(a, b, { centre: c, ccw: true }), feed(b, a, { centre: c, ccw: true })];
}

const along = (a: Point, b: Point, z: number): ReadMove => feed({ ...a, z }, { ...b, z });
const levels = (zs: readonly number[], of: (z: number) => readonly ReadMove[]): ReadMove[] => zs.flatMap((z) => of(z));

const MIN = { x: 30, y: 25.5 };
const MAX = { x: 60, y: 49.5 };
const recess = cavity({ section: roundedRectangle({ x: 45, y: 37.5 }, 30, 24, 3, 0), zTo: -5 });
const clearing = levels([-2.5, -5], (z) => rectangleRings(MIN, MAX, 3, z));
const right = programText(clearing);

describe("a right program", () => {
  it("passes, says what it measured, and what nobody measured", () => {
    const setUp = setUpOf(targetOf([recess]), [SIX]);
    const proof = prove({ setUp, text: right, file: "part.ngc", shop });
    expect(proof.findings.filter((f) => f.grade === "refuse")).toEqual([]);
    expect(proof.figures.gouge!.value).toBe(0);
    expect(proof.figures["wood left"]!.value).toBeLessThan(0.005);
    expect(proof.figures["wood left: part, recess"]).toBeDefined();
    expect(proof.figures["rapid clearance"]!.value).toBe(15);
    expect(proof.checked.length).toBeGreaterThan(5);
    expect(proof.notChecked.join(" ")).toContain("your measuring");
  });

  it("with its refusals says no more that all is well", () => {
    const setUp = setUpOf(targetOf([recess]), [SIX]);
    const proof = prove({ setUp, text: right.replaceAll("Z-5.0", "Z-5.5"), file: "part.ngc", shop });
    expect(proof.checked.every((line) => line.startsWith("looked at"))).toBe(true);
  });

  it("that breaks the language is not followed", () => {
    const setUp = setUpOf(targetOf([recess]), [SIX]);
    const proof = prove({ setUp, text: right.replace("G1 X", "G1 X1.2.3 X"), file: "part.ngc", shop });
    expect(proof.findings.some((f) => f.code === "proof-not-reached")).toBe(true);
    expect(proof.figures.gouge).toBeUndefined();
  });
});

describe("the order of a program", () => {
  const cases: readonly (readonly [string, string, string])[] = [
    ["the spindle never started", right.replace("S18000 M3\n", ""), "proof-still-bit-in-wood"],
    ["started backwards", right.replace("M3", "M4"), "proof-spindle-backwards"],
    ["the wait for it deleted", right.replace("G4 P4.0\n", ""), "proof-no-spin-up"],
    ["the wait too short", right.replace("G4 P4.0", "G4 P2.0"), "proof-no-spin-up"],
    ["a speed the spindle doesn't have", right.replace("S18000", "S30000"), "proof-spindle-out-of-range"],
    [
      "a slot with no bit of the set-up",
      right.replace("T3 M6", "T5 M6").replace("G43 H3", "G43 H5"),
      "proof-wrong-bit",
    ],
    ["another bit's length", right.replace("G43 H3", "G43 H4"), "proof-length-of-other-bit"],
    ["exact path not said", right.replaceAll("G61", "G64"), "proof-exact-path-unstated"],
    ["a feed no axis can do", right.replaceAll("F1500", "F15000"), "proof-feed-too-fast"],
    ["no lift at the end", right.replace("G0 Z15.0\nG53 G0 Z0.0\nM5", "M5"), "proof-ends-low"],
    ["a rapid in wood", right.replace("G1 Z-2.5 F500", "G0 Z-2.5"), "proof-rapid-in-wood"],
    ["inches for millimetres", right.replaceAll("G21", "G20"), "proof-wood-left"],
  ];
  it.each(cases)("%s is refused", (_, text, code) => {
    expect(refused(found([recess], text))).toContain(code);
  });

  it("a change of feed far beyond the charts is cautioned", () => {
    const codes = found([recess], right.replaceAll("F1500", "F150")).map((f) => `${f.grade} ${f.code}`);
    expect(codes).toContain("caution proof-chip-load");
    const fast = right.replaceAll("F1500", "F6000").replace("S18000", "S8000");
    expect(found([recess], fast).map((f) => `${f.grade} ${f.code}`)).toContain("caution proof-chip-load");
  });

  it("a finding names line and text, part, feature and the job's line", () => {
    const f = found([recess], right.replaceAll("Z-5.0", "Z-5.1")).find((k) => k.code === "proof-gouge")!;
    expect(f.place).toMatchObject({ part: "part", feature: "recess", source: { file: "job.yaml", line: 7 } });
    expect(f.place.program!.text).toContain("Z-5.1");
    expect(f.measured!.value).toBeCloseTo(0.1, 4);
    expect(f.limit!.value).toBe(0.01);
  });

  it("marks must be visited with the spindle off, a gauge block high", () => {
    const marks = [{ name: "A: front left", at: { x: 10, y: 10, z: 0 } }];
    const halt =
      "G0 X10.0 Y10.0\nG0 Z15.0\nG1 Z10.0 F300\nM0\nG17 G21 G40 G54 G61 G80 G90 G94\nG53 G0 Z0.0\nG43 H3\nG0 X33";
    const text = right.replace("G0 X33", halt);
    expect(refused(found([recess], right, [SIX], { marks }))).toContain("proof-witness-missed");
    expect(refused(found([recess], text, [SIX], { marks }))).toEqual([]);
    expect(refused(found([recess], text.replace("Z10.0", "Z9.9"), [SIX], { marks }))).toContain("proof-witness-missed");
  });

  it("a program that starts from nowhere known without asking is refused", () => {
    const machine = { ...shop.machines[0]!, controller: { ...shop.machines[0]!.controller, homes: false } };
    const text = right.replaceAll("G53 G0 Z0.0", "G0 Z15.0");
    expect(refused(found([recess], text, [SIX], { machine }))).toContain("proof-start-unasked");
  });
});

describe("what is cut", () => {
  const off = (by: number): ReadMove[] => clearing.map((m, i) => (i === 17 + 1 ? shifted(m, by) : m));
  const shifted = (m: ReadMove, by: number): ReadMove => ({
    ...m,
    from: { ...m.from, x: m.from.x! + by },
    to: { ...m.to, x: m.to.x! + by },
  });

  it("a recess: one wall 0.02 mm out or in is refused, 0.005 is not", () => {
    expect(refused(found([recess], programText(off(0.02))))).toEqual(["proof-gouge"]);
    expect(refused(found([recess], programText(off(-0.02))))).toEqual(["proof-wood-left"]);
    expect(refused(found([recess], programText(off(0.005))))).toEqual([]);
    expect(refused(found([recess], programText(off(-0.005))))).toEqual([]);
  });

  it("radius for diameter, and a mirrored motion", () => {
    expect(refused(found([recess], programText(levels([-2.5, -5], (z) => rectangleRings(MIN, MAX, 6, z)))))).toContain(
      "proof-wood-left",
    );
    const mirrored = clearing.map((m) => ({
      ...m,
      from: { ...m.from, x: 100 - m.from.x! },
      to: { ...m.to, x: 100 - m.to.x! },
    }));
    expect(refused(found([recess], programText(mirrored)))).toEqual(
      expect.arrayContaining(["proof-gouge", "proof-wood-left"]),
    );
  });

  it("a bit wider than the accepted corners leaves wood in them", () => {
    const twelve = bit("12 mm flat");
    const text = programText(
      levels([-2.5, -5], (z) => rectangleRings(MIN, MAX, 6, z)),
      twelve.slot,
    );
    expect(refused(found([recess], text, [twelve]))).toContain("proof-wood-left");
  });

  it("a floor 0.02 mm too high says how much", () => {
    const findings = found([recess], right.replaceAll("Z-5.0", "Z-4.98"));
    expect(refused(findings)).toEqual(["proof-floor-high"]);
    expect(findings.find((f) => f.code === "proof-floor-high")!.measured!.value).toBeCloseTo(0.02, 6);
    expect(refused(found([recess], right.replaceAll("Z-5.0", "Z-4.995")))).toEqual([]);
  });

  const ring = cavity({
    section: { loops: [...circle({ x: 50, y: 40 }, 14).loops, ...reversedLoops(circle({ x: 50, y: 40 }, 6))] },
    zTo: -4,
    insideRadius: 14,
  });
  const ringProgram = (inner: number, outer: number): string =>
    programText(
      levels([-2, -4], (z) => [
        ...round({ x: 50, y: 40 }, 10, z),
        ...round({ x: 50, y: 40 }, inner, z),
        ...round({ x: 50, y: 40 }, outer, z),
      ]),
    );

  it("an island and a round wall", () => {
    expect(refused(found([ring], ringProgram(9, 11)))).toEqual([]);
    expect(refused(found([ring], ringProgram(8.98, 11)))).toEqual(["proof-gouge"]);
    expect(refused(found([ring], ringProgram(9.02, 11)))).toEqual(["proof-wood-left"]);
    expect(refused(found([ring], ringProgram(9, 11.02)))).toEqual(["proof-gouge"]);
    expect(refused(found([ring], ringProgram(9, 10.98)))).toEqual(["proof-wood-left"]);
    expect(refused(found([ring], ringProgram(8.995, 11.005)))).toEqual([]);
  });

  it("arcs walked the wrong way round", () => {
    const wrong = ringProgram(9, 11).replace(/G3 (X39\.0 Y40\.0 Z-4\.0.*)/, "G2 $1");
    expect(wrong).not.toBe(ringProgram(9, 11));
    expect(refused(found([ring], wrong))).toEqual(["proof-wood-left"]);
  });

  const a = { x: 20, y: 30 };
  const b = { x: 70, y: 45 };
  const groove = cavity({
    section: slotBetween(a, b, 6),
    zTo: -4,
    shape: { kind: "groove", start: a, end: b, width: 6, openStart: false, openEnd: false },
  });
  it("a groove end 0.02 mm short or long", () => {
    const length = Math.hypot(50, 15);
    const end = (t: number): Point => ({ x: b.x + (t * 50) / length, y: b.y + (t * 15) / length });
    const program = (t: number): string => programText(levels([-2, -4], (z) => [along(a, end(t), z)]));
    expect(refused(found([groove], program(0)))).toEqual([]);
    expect(refused(found([groove], program(0.005)))).toEqual([]);
    expect(refused(found([groove], program(0.02)))).toEqual(["proof-gouge"]);
    expect(refused(found([groove], program(-0.02)))).toEqual(["proof-wood-left"]);
  });

  it("a rabbet, open to the air on three sides", () => {
    const rabbet = cavity({
      section: rectangle({ x: -10, y: 70 }, { x: 110, y: 90 }),
      zTo: -4,
      shape: { kind: "rabbet" },
    });
    const program = (y: number): string =>
      programText(
        levels([-2, -4], (z) => [along({ x: -5, y: 78 }, { x: 105, y: 78 }, z), along({ x: 105, y }, { x: -5, y }, z)]),
      );
    expect(refused(found([rabbet], program(73)))).toEqual([]);
    expect(refused(found([rabbet], program(72.98)))).toEqual(["proof-gouge"]);
    expect(refused(found([rabbet], program(73.02)))).toEqual(["proof-wood-left"]);
  });

  it("a countersink that is too shallow or too deep", () => {
    const sunk = bit("90 degree countersink");
    const centre = { x: 50, y: 40 };
    const shape = { kind: "hole", centre, diameter: 9, role: "countersink" } as const;
    const cone = cavity({ section: circle(centre, 4.5), zTo: -4, slopeTan: 1, insideRadius: 0.5, shape });
    const program = (z: number): string => programText([feed({ ...centre, z: 1 }, { ...centre, z })], sunk.slot);
    expect(refused(found([cone], program(-4), [sunk]))).toEqual([]);
    expect(refused(found([cone], program(-4.02), [sunk]))).toEqual(["proof-gouge"]);
    expect(refused(found([cone], program(-3.98), [sunk]))).toEqual(["proof-wood-left"]);
    expect(refused(found([cone], program(-3.995), [sunk]))).toEqual([]);
  });
});

function reversedLoops(region: ReturnType<typeof circle>): ReturnType<typeof circle>["loops"] {
  return region.loops.map((loop) =>
    [...loop]
      .reverse()
      .map((s) =>
        s.kind === "line" ? { ...s, from: s.to, to: s.from } : { ...s, from: s.to, to: s.from, ccw: !s.ccw },
      ),
  );
}

describe("holding and contacts", () => {
  const profile = roundedRectangle({ x: 50, y: 40 }, 40, 30, 5, 0);
  const band = roundedRectangle({ x: 50, y: 40 }, 54, 44, 12, 0);
  const tab = (x: number, y: number) => ({ area: rectangle({ x: x - 4, y: y - 8 }, { x: x + 4, y: y + 8 }), zTop: -9 });
  const tabs = [tab(50, 21), tab(50, 59)];
  const outline = (keeps: typeof tabs): TargetCavity =>
    cavity({
      section: { loops: [...band.loops, ...reversedLoops(profile)] },
      zTo: -12,
      clear: "walls",
      keeps,
      profile,
      shape: { kind: "outline", side: "outside", profile },
      feature: "outline",
    });

  /** Once around, a radius outside the outline. */
  const around = (z: number, by = 0): ReadMove[] => {
    const d = 3 + by;
    const corners: readonly (readonly [Point, Point, Point])[] = [
      [
        { x: 65, y: 25 - d },
        { x: 70 + d, y: 30 },
        { x: 65, y: 30 },
      ],
      [
        { x: 70 + d, y: 50 },
        { x: 65, y: 55 + d },
        { x: 65, y: 50 },
      ],
      [
        { x: 35, y: 55 + d },
        { x: 30 - d, y: 50 },
        { x: 35, y: 50 },
      ],
      [
        { x: 30 - d, y: 30 },
        { x: 35, y: 25 - d },
        { x: 35, y: 30 },
      ],
    ];
    return corners.flatMap(([from, to, centre], i) => [
      feed({ ...from, z }, { ...to, z }, { centre, ccw: true }),
      feed({ ...to, z }, { ...corners[(i + 1) % 4]![0], z }),
    ]);
  };
  /** The same over tabs on the two long sides. */
  const overTabs = (z: number, by = 0): ReadMove[] =>
    around(z, by).flatMap((m) => {
      if (m.path.kind === "arc" || Math.abs(m.from.y! - m.to.y!) > 1e-9) return [m];
      const sign = Math.sign(m.to.x! - m.from.x!);
      const y = m.from.y!;
      const p = [m.from.x!, 50 - sign * 7, 50 - sign * 7, 50 + sign * 7, 50 + sign * 7, m.to.x!];
      const h = [z, z, -9, -9, z, z];
      return p.slice(1).map((x, i) => feed({ x: p[i]!, y, z: h[i]! }, { x, y, z: h[i + 1]! }));
    });

  it("an outline with tabs passes; 0.02 mm off does not", () => {
    const spots = { kind: "spots", by: "clamps", spots: [{ min: { x: 0, y: 0 }, max: { x: 12, y: 80 } }] } as const;
    const text = programText([...levels([-3, -6, -9], (z) => around(z)), ...overTabs(-12)]);
    expect(refused(found([outline(tabs)], text, [SIX], { holding: spots }))).toEqual([]);
    const wide = programText([...levels([-3, -6, -9], (z) => around(z, 0.02)), ...overTabs(-12, 0.02)]);
    expect(refused(found([outline(tabs)], wide, [SIX], { holding: spots }))).toEqual(["proof-wood-left"]);
    const narrow = programText([...levels([-3, -6], (z) => around(z)), ...around(-9, -0.02), ...overTabs(-12)]);
    expect(refused(found([outline(tabs)], narrow, [SIX], { holding: spots }))).toEqual(["proof-gouge"]);
  });

  it("a piece that nothing holds is loose, and cutting away a tab is a gouge", () => {
    const spots = { kind: "spots", by: "clamps", spots: [{ min: { x: 0, y: 0 }, max: { x: 12, y: 80 } }] } as const;
    const text = programText(levels([-3, -6, -9, -12], (z) => around(z)));
    expect(refused(found([outline([])], text, [SIX], { holding: spots }))).toContain("proof-loose-piece");
    expect(refused(found([outline(tabs)], text, [SIX], { holding: spots }))).toContain("proof-gouge");
    // Taped down all over, the same piece stays where it is.
    expect(refused(found([outline([])], text))).toEqual([]);
  });

  it("a clamp in the way", () => {
    const keepOuts = [{ name: "left clamp", box: { min: { x: 32, y: 20, z: -12 }, max: { x: 40, y: 30, z: 12 } } }];
    expect(refused(found([recess], right, [SIX], { keepOuts }))).toContain("proof-keep-out-hit");
  });

  it("a shank that rubs: deeper than the flutes in one narrow place", () => {
    const short: Cutter = { ...SIX, fluteLength: 3, shankDiameter: 8 };
    expect(refused(found([recess], right, [short]))).toContain("proof-shank-rubs");
  });

  it("a dry run that stays up touches nothing; one that goes down is refused", () => {
    const setUp = setUpOf(targetOf([recess]), [SIX]);
    const dry = right
      .split("\n")
      .filter((l) => !/^(S.*M3|M5|G4 P.*)$/.test(l))
      .map((l) =>
        l.replace(/Z(-?[\d.]+)/, (_, z: string) => (l.includes("G53") ? `Z${z}` : `Z${(Number(z) + 15).toFixed(1)}`)),
      )
      .join("\n");
    expect(refused(proveDryRun(setUp, { file: "dry.ngc", text: dry }).findings)).toEqual([]);
    expect(refused(proveDryRun(setUp, { file: "dry.ngc", text: right }).findings)).toEqual(
      expect.arrayContaining(["dry-run-spindle", "dry-run-touches"]),
    );
  });
});

describe("several programs for one set-up", () => {
  it("are proved together: wood is carried on, and only all of them must clear it", () => {
    const setUp = setUpOf(targetOf([recess]), [SIX]);
    const upper = programText(clearing.filter((m) => m.to.z === -2.5));
    const lower = programText(clearing.filter((m) => m.to.z === -5));
    const programs = [
      { file: "1.ngc", text: upper },
      { file: "2.ngc", text: lower },
    ];
    expect(refused(proveSetUp({ setUp, programs, shop }).findings)).toEqual([]);
    expect(refused(proveSetUp({ setUp, programs: programs.slice(0, 1), shop }).findings)).toEqual(["proof-floor-high"]);
  });
});
