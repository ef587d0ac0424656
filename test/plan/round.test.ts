import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/finding.ts";
import type { SetUpWishes } from "../../src/job/wishes.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import { toSetup } from "../../src/shapes/frame.ts";
import { topAt } from "../../src/shapes/turned-solid.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { BLANK, type Blank, planRound, room, slot, solidOfBlank, workpieceOf } from "./round-stock.ts";

const middle = room(slot({ x: 80, y: 20 }, 50, 14), 18);

function planned(blank: Blank = BLANK, wishes: SetUpWishes = {}, cavities = [middle]) {
  return planRound(workpieceOf(blank, cavities, wishes));
}

function only(blank: Blank = BLANK, wishes: SetUpWishes = {}, cavities = [middle]): SetUp {
  const { setUps, findings } = planned(blank, wishes, cavities);
  if (setUps.length !== 1) throw new Error(findings.map((f) => `${f.code}: ${f.what}`).join("\n"));
  return setUps[0]!.setUp;
}

function codes(findings: readonly Finding[], grade: Finding["grade"] = "refuse"): readonly string[] {
  return findings.filter((f) => f.grade === grade).map((f) => f.code);
}

describe("how a turned blank lies", () => {
  it("rolls about its axis: first end at the left whichever side is up, each side an index position", () => {
    const faces = ["face", "upper edge", "back", "lower edge"] as const;
    const angles = [0, 90, 180, 270];
    const cavities = faces.map((face) => ({
      ...middle,
      id: face,
      face,
      to: 8,
      section: slot({ x: face === "back" || face === "upper edge" ? 100 : 60, y: 20 }, 30, 8),
    }));
    const { setUps } = planned(BLANK, {}, cavities);
    expect(setUps.map((s) => s.setUp.index).sort((a, b) => a! - b!)).toEqual(angles);
    for (const { setUp } of setUps) {
      expect(toSetup(setUp.frame, { x: 0, y: 20, z: 20 })).toMatchObject({ x: 0, y: 20, z: -20 });
      // All four were drawn over the same place of the axis.
      const xs = setUp.target.cavities[0]!.section.loops[0]!.map((s) => s.from.x);
      expect((Math.min(...xs) + Math.max(...xs)) / 2).toBeCloseTo(60, 9);
      expect(setUp.round!.axis).toEqual({ y: 20, z: -20 });
    }
  });

  it("moves the solid with it, turned half about or not", () => {
    const taper: Blank = { ...BLANK, radii: [18, 12] };
    for (const turned of [0, 180]) {
      const s = only(taper, { turned });
      for (const [x, y] of [
        [25, 20],
        [70, 14],
        [130, 28],
        [10, 3],
      ] as const) {
        const there = toSetup(s.frame, { x, y, z: topAt(solidOfBlank(taper), x, y)! });
        expect(topAt(s.round!, there.x, there.y)).toBeCloseTo(there.z, 9);
      }
    }
  });

  it("refuses an axis across the machine, an end up, and a half on its round side", () => {
    expect(codes(planned(BLANK, { turned: 90 }).findings)).toContain("plan-round-across");
    const end = { ...middle, face: "first end" as const, section: slot({ x: 20, y: 20 }, 20, 10), to: 5 };
    expect(codes(planned({ ...BLANK, length: 60, square: 10 }, {}, [end]).findings)).toContain("plan-round-end-up");
    const half: Blank = { ...BLANK, half: 1 };
    expect(codes(planned(half, {}, [{ ...middle, face: "back", to: 4 }]).findings)).toContain("plan-round-end-up");
  });

  it("never turns a blank too long for the machine across it", () => {
    const { x } = DEFAULT_SHOP.machines[0]!.travel;
    const one = { ...DEFAULT_SHOP, machines: DEFAULT_SHOP.machines.slice(0, 1) };
    const long = planRound(workpieceOf({ ...BLANK, length: x + 10 }, [middle]), one);
    expect(codes(long.findings)).toEqual(["plan-larger-than-travel"]);
  });
});

describe("zero on a turned blank", () => {
  it("is a corner of the square end, where it stands until the split", () => {
    const s = only();
    expect(s.zero).toMatchObject({ corner: "left front", z: "top" });
    expect(s.zero.across).toBeUndefined();
    expect(s.zero.how).toMatch(/square end/);
  });

  it("without square ends is the axis, found from both flanks and from the waste board, never from the crown", () => {
    const round: Blank = { ...BLANK, square: 0, radii: [18, 14, 16] };
    const s = only(round);
    expect(s.zero).toMatchObject({ across: "axis", z: "axis" });
    expect(s.zero.how).toMatch(/both flanks.*waste board lies at Z -/);
    expect(s.round!.axis).toEqual({ y: 0, z: 0 });
    expect(codes(planned(round, { zeroZ: "top" }).findings)).toContain("plan-zero-on-crown");
    const board = only(round, { zeroZ: "waste board" });
    // The lowest seat's height and the radius in it bring the axis where the set-up says it is.
    const rest = board.rests![0]!;
    expect(board.round!.axis.z).toBeCloseTo(rest.seat + rest.radius, 1);
  });

  it("lies on the trued flat of a half", () => {
    const s = only({ ...BLANK, half: 1.2 }, {}, [{ ...middle, to: 8 }]);
    expect(s.zero.z).toBe("top");
    expect(s.round!.flatTop).toBeCloseTo(0, 12);
    expect(s.zero.how).toMatch(/trued flat/);
  });

  it("is refused on a square that a cut takes", () => {
    const near = { ...middle, id: "near", section: slot({ x: 14, y: 20 }, 40, 10), to: 6 };
    expect(codes(planned(BLANK, {}, [near]).findings)).toContain("plan-zero-spot-cut");
    expect(codes(planned(BLANK, { zeroCorner: "right front" }, [near]).findings)).not.toContain("plan-zero-spot-cut");
  });
});

describe("holding a turned blank", () => {
  it("grips square ends in jaws lower than the nut passes, and says that it assumes so", () => {
    const { setUps, findings } = planned();
    const { setUp } = setUps[0]!;
    expect(setUp.holding).toMatchObject({ kind: "spots", by: "jaws" });
    expect(setUp.keepOuts.map((k) => k.name)).toEqual([
      "jaws 1, front cheek",
      "jaws 1, back cheek",
      "jaws 2, front cheek",
      "jaws 2, back cheek",
    ]);
    for (const k of setUp.keepOuts) {
      expect(k.box.max.y <= 1e-9 || k.box.min.y >= 40 - 1e-9).toBe(true);
      expect(k.box.max.z).toBe(-4);
    }
    expect(codes(findings, "caution")).toContain("plan-holding-assumed");
    const said = planned(BLANK, {
      holding: { by: "jaws", jaws: [{ name: "vice", at: 0, along: 15, thickness: 10, height: 12 }] },
    });
    expect(codes(said.findings, "caution")).not.toContain("plan-holding-assumed");
    expect(said.setUps[0]!.setUp.keepOuts[0]!.box).toMatchObject({
      min: { x: 0, y: -10 },
      max: { x: 15, y: 0, z: -8 },
    });
  });

  it("lays round ends in cradles whose seats differ as their radii do, clear of the cut", () => {
    const { setUps, findings } = planned({ ...BLANK, square: 0, radii: [18, 13] });
    const { setUp } = setUps[0]!;
    const [a, b] = setUp.rests!;
    expect(a!.seat + a!.radius).toBeCloseTo(b!.seat + b!.radius, 1);
    expect(Math.abs(a!.seat - b!.seat)).toBeGreaterThan(2);
    expect(a!.to).toBeLessThan(55 - 13);
    expect(b!.from).toBeGreaterThan(105 + 13);
    // The bed lies under the seats, not under the box.
    expect(setUp.round!.axis.z - (a!.seat + a!.radius) - 12).toBeCloseTo(setUp.bedZ, 1);
    expect(codes(findings, "note")).toContain("plan-cradles");
    expect(codes(findings, "caution")).not.toContain("plan-axis-tilted");
  });

  it("says by how much seats of one height tilt unlike ends", () => {
    const cradles = [
      { name: "left", at: 5, along: 10, seat: 12, caulHeight: 10 },
      { name: "right", at: 145, along: 10, seat: 12, caulHeight: 10 },
    ];
    const blank: Blank = { ...BLANK, square: 0, radii: [18, 18, 18, 16, 16, 16] };
    const tilted = planned(blank, { holding: { by: "cradles", cradles } }).findings.find(
      (f) => f.code === "plan-axis-tilted",
    );
    // 2 mm over 140 mm, of which the room takes 50.
    expect(tilted?.measured?.value).toBeCloseTo((2 * 50) / 140, 6);
  });

  it("refuses tape, and jaws without a square to grip", () => {
    expect(codes(planned(BLANK, { holding: { by: "tape" } }).findings)).toContain("plan-round-holding");
    expect(codes(planned({ ...BLANK, square: 0 }, { holding: { by: "jaws", jaws: [] } }).findings)).toContain(
      "plan-round-holding",
    );
  });

  it("tells the moment that tries to roll it: force times the farthest height from the axis", () => {
    const roll = (radius: number) =>
      planned({ ...BLANK, radii: [radius, radius] }).findings.find((f) => f.code === "plan-roll-moment")!.measured!;
    expect(roll(19).unit).toBe("N·m");
    expect(roll(19).value).toBeGreaterThan(roll(14).value);
  });
});

describe("witness marks on a turned blank", () => {
  it("leave the tip clear of the box around the blank, whose corners the square ends reach", () => {
    // A thin middle in a thick square: a block on it does not reach up to the top of the squares.
    const thin: Blank = { length: 200, across: 60, square: 22, radii: [12, 12] };
    const setUp = only(thin, {}, [room(slot({ x: 100, y: 30 }, 100, 8), 24)]);
    expect(setUp.marks.length).toBeGreaterThanOrEqual(2);
    for (const m of setUp.marks) expect(m.at.z + setUp.habits.gaugeBlock).toBeGreaterThan(setUp.blank.max.z);
  });

  it.each([
    ["square ends", BLANK],
    ["round ends", { ...BLANK, square: 0, radii: [18, 18, 12, 18, 18] }],
    ["a half", { ...BLANK, half: 1 }],
  ] as const)("stand on real wood: %s", (_, blank) => {
    const s = only(blank, {}, [{ ...middle, to: "half" in blank ? 7 : 18 }]);
    expect(s.marks.length).toBeGreaterThanOrEqual(2);
    for (const m of s.marks) expect(topAt(s.round!, m.at.x, m.at.y)).toBeCloseTo(m.at.z, 9);
    // End for end no mark lands on a mark.
    const { min, max } = s.blank;
    for (const a of s.marks)
      for (const b of s.marks) expect(Math.abs(a.at.x + b.at.x - min.x - max.x)).toBeGreaterThanOrEqual(3.9);
  });
});

describe("levels that follow the wood", () => {
  it("begin at the wood's own top, and say where wood is while it is not everywhere", () => {
    const waist: Blank = { ...BLANK, radii: [19, 11, 19] };
    const { setUps } = planned(waist, {}, [room(slot({ x: 80, y: 20 }, 80, 14), 20)]);
    const o = setUps[0]!.operations[0]!;
    if (o.kind !== "clear") throw new Error("a clearing was expected");
    // Highest at the ends of the slot, 40 mm from the middle: 11 + 8 × 40 / 60.
    expect(o.topZ).toBeCloseTo(-20 + 11 + (8 * 40) / 60, 6);
    expect(o.levels[0]!.wood!.loops.length).toBe(2);
    expect(o.levels[o.levels.length - 1]!.wood).toBeUndefined();
  });

  it("reckon a bit's reach from real wood, flanges within reach of the nut counted", () => {
    const deep = room(slot({ x: 80, y: 20 }, 20, 14), 27);
    const bits = (stickOut: number) => ({
      ...DEFAULT_SHOP,
      cutters: DEFAULT_SHOP.cutters
        .filter((c) => c.name === "6 mm flat")
        .map((c) => ({ ...c, fluteLength: 20, stickOut })),
    });
    const waist: Blank = { ...BLANK, radii: [19, 19, 19, 12, 12, 12, 19, 19, 19] };
    const reach = DEFAULT_SHOP.machines[0]!.nut.diameter / 2 - 3 + 10;
    // Flat to 15 mm beside the middle, then 7 mm up over 15 mm.
    const rise = 12 + Math.max(0, reach - 15) * (7 / 15);
    const need = 27 - (20 - rise) + 1;
    expect(codes(planRound(workpieceOf(waist, [deep]), bits(need + 0.01)).findings)).toEqual([]);
    const short = planRound(workpieceOf(waist, [deep]), bits(need - 0.01)).findings.find((f) => f.grade === "refuse")!;
    expect(short.code).toBe("plan-bit-stick-out-short");
    expect(short.measured!.value).toBeCloseTo(need, 6);
  });

  it("pass over a bit too short for the flanges where a longer one fits, and say so; the number is on the plan", () => {
    const deep = room(slot({ x: 80, y: 20 }, 20, 14), 27);
    const waist: Blank = { ...BLANK, radii: [19, 19, 19, 12, 12, 12, 19, 19, 19] };
    const flat = DEFAULT_SHOP.cutters.find((c) => c.name === "6 mm flat")!;
    const bits = (...stickOuts: readonly number[]) => ({
      ...DEFAULT_SHOP,
      cutters: stickOuts.map((stickOut, i) => ({
        ...flat,
        name: `bit ${i + 1}`,
        slot: i + 1,
        fluteLength: 20,
        stickOut,
      })),
    });
    const half = DEFAULT_SHOP.machines[0]!.nut.diameter / 2 - 3 + 10;
    const above = Math.max(0, half - 15) * (7 / 15);
    const need = 27 - 8 + above + 1;
    for (const turned of [0, 180]) {
      const { setUps, findings } = planRound(workpieceOf(waist, [deep], { turned }), bits(need - 0.5, need + 0.5));
      expect(codes(findings)).toEqual([]);
      const [o] = setUps[0]!.operations;
      expect(o!.cutter.name).toBe("bit 2");
      expect(o!.cutterReason).toMatch(/"bit 1" would have to stick out farther/);
      const note = findings.find((f) => f.code === "plan-least-stick-out")!;
      expect(note.grade).toBe("note");
      expect(note.measured!.value).toBeCloseTo(need, 6);
      expect(note.limit!.value).toBeCloseTo(need + 0.5, 9);
      const at = Number(/wood ([\d.]+) mm from the first end/.exec(note.why!)![1]);
      expect(Math.abs(at - 80)).toBeCloseTo(half, 1);
    }
    const refused = planRound(workpieceOf(waist, [deep]), bits(need - 0.5)).findings.find((f) => f.grade === "refuse")!;
    expect(refused.code).toBe("plan-bit-stick-out-short");
    expect(refused.what + refused.why).toMatch(/flange beside the cut.* mm from the first end/);
    expect(refused.mend).toMatch(/collet/);
  });

  it("say nothing of stick-out where no flange stands higher than the wood over the cut", () => {
    const { findings } = planned({ ...BLANK, square: 0, radii: [17, 17] });
    expect(findings.map((f) => f.code)).not.toContain("plan-least-stick-out");
  });

  it("refuse a floor that leaves the wood, below or sideways, and say where", () => {
    const below = planned({ ...BLANK, radii: [12, 12] }, {}, [room(slot({ x: 80, y: 20 }, 50, 18), 29)]).findings;
    expect(below.find((f) => f.code === "plan-round-broken-through")?.what).toMatch(/below/);
    const sideways = planned({ ...BLANK, radii: [12, 12] }, {}, [room(slot({ x: 80, y: 20 }, 50, 18), 10)]).findings;
    const found = sideways.find((f) => f.code === "plan-round-broken-through")!;
    expect(found.what).toMatch(/sideways/);
    // Floor 10 mm above the axis, 9 mm wide of it: 13.45 mm out, where the wood ends at 12.
    expect(found.measured!.value).toBeCloseTo(12 - Math.hypot(9, 10), 2);
  });
});
