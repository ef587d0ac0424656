import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/finding.ts";
import type { TurnedPiece } from "../../src/parts/turned-piece.ts";
import { type PlannedTurning, planTurning } from "../../src/plan/turning.ts";
import { turningSpeeds } from "../../src/plan/turning-speed.ts";
import { proveTurning } from "../../src/proof/turning/prove.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Lathe } from "../../src/shop/lathe.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { piece } from "../paths/turning/pieces.ts";
import { meridianFrom, tool } from "../paths/turning/profiles.ts";
import { LATHES, turnedThrough } from "../pipeline/turning-through.ts";

const LATHE: Lathe = {
  ...DEFAULT_SHOP.lathes![0]!,
  from: "shop file",
  head: { kind: "drive centre", diameter: 20, length: 30, grip: 0 },
  tail: { kind: "live centre", diameter: 25, length: 15 },
};

const TOOLS = [
  tool({ name: "big round", noseRadius: 3, width: 6, feedPerTurn: 0.2, plungePerTurn: 0.05 }),
  tool({ name: "small round", slot: 2, noseRadius: 1, width: 2, maxBite: 0.8 }),
  tool({ name: "detail", slot: 3, kind: "detail", noseRadius: 0.3, width: 10, flanks: { first: 20, second: 20 } }),
  tool({ name: "parting", slot: 4, kind: "parting", noseRadius: 0.1, width: 3 }),
];

const SHOP: Shop = { ...DEFAULT_SHOP, lathes: [LATHE], turningTools: TOOLS };

/** One gentle bead between plain stretches. */
const GENTLE = meridianFrom(
  [
    { kind: "taper", width: 30_000, rise: 4000, step: 0 },
    { kind: "taper", width: 30_000, rise: -3000, step: 0 },
  ],
  0,
  9,
);

/** A square shoulder down to a thinner stretch and up again. */
const SHOULDERS = meridianFrom(
  [
    { kind: "cylinder", width: 15_000, rise: 0, step: -4000 },
    { kind: "cylinder", width: 20_000, rise: 0, step: 4000 },
    { kind: "cylinder", width: 15_000, rise: 0, step: 0 },
  ],
  0,
  12,
);

function plan(p: TurnedPiece, shop = SHOP): PlannedTurning & { readonly findings: readonly Finding[] } {
  const out = planTurning(p, shop);
  if (!out.ok) throw new Error(out.findings.map((f) => f.what).join("; "));
  return { ...out.value, findings: out.findings };
}

function codes(p: TurnedPiece, shop = SHOP): readonly string[] {
  return planTurning(p, shop).findings.map((f) => `${f.grade} ${f.code}`);
}

describe("speeds of turned work", () => {
  const facts = { lathe: LATHE, startDiameter: 60, finishDiameter: 40, length: 120, paperJoint: false };

  it("are the lowest of rule, lathe, holding and workshop caps, and say which", () => {
    // 6,000 inch × rpm over 120 mm: 1270 rpm; until round 1000 governs.
    const big = turningSpeeds({ ...facts, startDiameter: 170, finishDiameter: 120 });
    expect(big.rough).toBe(Math.floor((6000 * 25.4) / 170 / 50) * 50);
    expect(big.finish).toBe(1250);
    expect(big.reason).toContain("6,000 inch × rpm");
    expect(turningSpeeds(facts)).toMatchObject({ rough: 1000, finish: 3000 });
    expect(turningSpeeds({ ...facts, startDiameter: 40 }).rough).toBe(1500);
    expect(turningSpeeds({ ...facts, length: 401 }).finish).toBe(2500);
    expect(turningSpeeds({ ...facts, paperJoint: true })).toMatchObject({ rough: 1000, finish: 1000 });
    expect(turningSpeeds({ ...facts, lathe: { ...LATHE, holdingMaxRpm: 700 } })).toMatchObject({
      rough: 700,
      finish: 700,
    });
    expect(turningSpeeds({ ...facts, lathe: { ...LATHE, holdingMaxRpm: 700 } }).reason).toContain("holding");
    expect(
      turningSpeeds({ ...facts, lathe: { ...LATHE, spindle: { kind: "program", min: 100, max: 900 } } }),
    ).toMatchObject({
      rough: 900,
      finish: 900,
    });
  });

  it("take the mark at or below on a dial, and tell when even the lowest is too fast", () => {
    const dial = (rpms: readonly number[]): Lathe => ({
      ...LATHE,
      spindle: { kind: "dial", positions: rpms.map((rpm) => ({ mark: String(rpm), rpm })) },
    });
    expect(turningSpeeds({ ...facts, lathe: dial([500, 900, 2000, 3500]) })).toMatchObject({
      rough: 900,
      finish: 2000,
      lowestTooFast: false,
    });
    expect(turningSpeeds({ ...facts, lathe: dial([1400, 2800]) })).toMatchObject({ rough: 1400, lowestTooFast: true });
    const shop = { ...SHOP, lathes: [dial([1600, 2800])] };
    expect(codes(piece(SHOULDERS), shop)).toContain("caution turning-lathe-too-fast");
  });

  it("reckon with the diagonal of a square until round, and of square ends to the last", () => {
    const round = plan(piece(SHOULDERS, { shape: "round" })).setUp;
    const square = plan(piece(SHOULDERS)).setUp;
    // 26 mm across: 36.8 mm over the corners.
    expect(square.start.segments[0]!.from.y).toBeCloseTo((26 / 2) * Math.SQRT2, 9);
    expect(round.start.segments[0]!.from.y).toBe(13);
    const wide = piece(SHOULDERS, { squares: [{ from: 0, to: 25, side: 80 }] });
    expect(plan(wide).setUp.finishRpm).toBe(Math.floor((6000 * 25.4) / (80 * Math.SQRT2) / 50) * 50);
  });
});

describe("choosing turning tools", () => {
  it("takes one tool where one reaches all", () => {
    const { operations } = plan(piece(GENTLE));
    expect(operations.map((o) => [o.kind, o.tool.name])).toEqual([
      ["rough", "big round"],
      ["finish", "big round"],
      ["part", "parting"],
    ]);
  });

  it("adds only the tool that gets into a square corner, and says what for", () => {
    const { operations, findings } = plan(piece(SHOULDERS));
    const names = [...new Set(operations.map((o) => o.tool.name))];
    expect(names).toEqual(["big round", "parting"]);
    const second = operations.find((o) => o.kind === "finish" && o.tool.name === "parting")!;
    expect(second.toolReason).toMatch(/gets in where the tools before can't: up to [23]/);
    const left = findings.filter((f) => f.code === "turning-not-reached");
    expect(left).toHaveLength(1);
    // A 0.1 mm corner round leaves r(√2 − 1) in a square corner.
    expect(left[0]!.measured!.value).toBeCloseTo(0.1 * (Math.SQRT2 - 1), 2);
    expect(left[0]!.why).toMatch(/40.*60/);
  });

  it("says where and how much no tool reaches", () => {
    const only = { ...SHOP, turningTools: [TOOLS[0]!] };
    const { findings } = plan(piece(SHOULDERS), only);
    const left = findings.filter((f) => f.code === "turning-not-reached");
    expect(left).toHaveLength(2);
    expect(left[0]!.measured!.value).toBeCloseTo(3 * (Math.SQRT2 - 1), 2);
    expect(left[0]!.grade).toBe("caution");
    expect(left.map((f) => Math.round(f.place.at!.x))).toEqual([40, 60]);
  });

  it("does not send a wide tool into a narrow groove", () => {
    const groove = meridianFrom(
      [
        { kind: "cylinder", width: 15_000, rise: 0, step: -3000 },
        { kind: "cylinder", width: 2500, rise: 0, step: 3000 },
        { kind: "cylinder", width: 15_000, rise: 0, step: 0 },
      ],
      0,
      12,
    );
    const left = plan(piece(groove)).findings.filter((f) => f.code === "turning-not-reached");
    // A 3 mm parting tool is too wide for 2.5 mm; the 2 mm round nose leaves two fillets of 1 mm radius.
    expect(left.every((f) => f.measured!.value < 0.43)).toBe(true);
    expect(left.length).toBeGreaterThan(0);
  });
});

describe("what a turning plan refuses and what it cautions about", () => {
  it("is silent where the shop's own numbers cover all", () => {
    const own = { ...SHOP, turningTools: TOOLS.map((t) => ({ ...t, feedPerTurn: 0.15, plungePerTurn: 0.04 })) };
    expect(codes(piece(GENTLE), own)).toEqual([]);
    const { operations, setUp } = plan(piece(GENTLE), own);
    expect(operations[0]!.feed).toBeCloseTo(setUp.roughRpm * 0.15, 9);
    expect(operations[0]!.plunge).toBeCloseTo(setUp.roughRpm * 0.04, 9);
  });

  it("cautions about a holding that nobody measured, feeds that are not yours, slim work", () => {
    const { head: _h, tail: _t, ...bare } = LATHE;
    const shop = { ...SHOP, lathes: [bare] };
    const slim = meridianFrom([{ kind: "taper", width: 200_000, rise: 2000, step: 0 }], 0, 7);
    expect(codes(piece(slim), shop)).toEqual([
      "caution turning-holding-assumed",
      "caution turning-slim",
      "caution turning-feeds-assumed",
    ]);
  });

  it("refuses by what the user measured, and only cautions by what is invented", () => {
    const long = meridianFrom([{ kind: "cylinder", width: 15_000, rise: 0, step: 0 }], 0, 10);
    const own = { ...SHOP, lathes: [{ ...LATHE, betweenCentres: 60 }] };
    expect(codes(piece(long), own)).toEqual(["refuse turning-no-lathe"]);
    const builtIn = { ...SHOP, lathes: [{ ...LATHE, betweenCentres: 60, from: "built-in default" as const }] };
    expect(codes(piece(long), builtIn)).toContain("caution turning-travel-short");
    expect(codes(piece(long), { ...SHOP, lathes: [{ ...LATHE, swing: 20 }] })).toEqual(["refuse turning-no-lathe"]);
    expect(codes(piece(long), { ...SHOP, lathes: [] })).toEqual(["refuse turning-no-lathe"]);
    expect(codes(piece(long), { ...SHOP, turningTools: [TOOLS[3]!] })).toEqual(["refuse turning-no-tool"]);
  });

  it("refuses a profile fatter than the flats of its square, and takes it from a round of that size", () => {
    const p = piece(SHOULDERS);
    const thin = { ...p, blank: { ...p.blank, across: 23 } };
    expect(codes(thin)).toEqual(["refuse turning-blank-too-small"]);
    const round = { ...p, blank: { ...p.blank, across: 24, shape: "round" as const } };
    expect(codes(round).some((c) => c.startsWith("refuse"))).toBe(false);
  });

  it("takes the lathe that the job names", () => {
    const other = { ...LATHE, name: "the other" };
    const shop = { ...SHOP, lathes: [LATHE, other] };
    expect(plan(piece(GENTLE, { wishes: { machine: "the other" } }), shop).setUp.lathe.name).toBe("the other");
    expect(plan(piece(GENTLE), shop).setUp.lathe.name).toBe(LATHE.name);
  });
});

describe("mounting and parting", () => {
  it("keeps jaws where they grip, and a centre's cone and body", () => {
    const jaws = { kind: "jaws", diameter: 80, length: 50, grip: 12 } as const;
    const { setUp } = plan(piece(GENTLE), { ...SHOP, lathes: [{ ...LATHE, head: jaws }] });
    const length = setUp.piece.blank.length;
    const [head, tail] = setUp.keepOuts;
    expect(head!.name).toBe("jaws");
    expect(Math.max(...head!.outline.map((p) => p.x))).toBeCloseTo(-length + 12, 9);
    expect(Math.max(...head!.outline.map((p) => p.y))).toBe(40);
    expect(tail!.outline[0]).toEqual({ x: 0, y: 0 });
    expect(tail!.outline[1]!.y).toBeCloseTo(15 * Math.tan(Math.PI / 6), 9);
    expect(setUp.safeRadius).toBeGreaterThanOrEqual(40 + SHOP.habits.clearance);
    const free = plan(piece(GENTLE), {
      ...SHOP,
      lathes: [{ ...LATHE, tail: { kind: "none", diameter: 0, length: 0 } }],
    });
    expect(free.setUp.keepOuts).toHaveLength(1);
  });

  it("parts beside each pull in the waste only, down to a nub", () => {
    const p = piece(GENTLE);
    const two = { ...p, waste: [...p.waste, { from: 50, to: 60 }] };
    const part = plan(two).operations.find((o) => o.kind === "part")!;
    if (part.kind !== "part") throw new Error("no parting");
    expect(part.nubRadius).toBe(4);
    const length = two.blank.length;
    const places = part.at.map((s) => [s.from + length, s.to + length].map((v) => Math.round(v * 10) / 10));
    // 4.5 mm slots: at both faces of the middle waste, and beside the pull's two ends.
    expect(places).toEqual([
      [85, 89.5],
      [50, 60],
      [20.5, 25],
    ]);
  });

  it("leaves to the saw what the parting tool can't do", () => {
    expect(
      codes(piece(GENTLE), { ...SHOP, turningTools: TOOLS.slice(0, 3) }).filter((c) => c.endsWith("not-parted")),
    ).toHaveLength(2);
    const wide = {
      ...SHOP,
      turningTools: [
        ...TOOLS.slice(0, 3),
        tool({ name: "wide", slot: 4, kind: "parting", noseRadius: 0.1, width: 30 }),
      ],
    };
    expect(codes(piece(GENTLE), wide).filter((c) => c.endsWith("not-parted"))).toHaveLength(2);
  });
});

describe("a rest on the bed", () => {
  const withRest = (rest: NonNullable<Lathe["rest"]>): Shop => ({ ...SHOP, lathes: [{ ...LATHE, rest }] });
  const p = piece(GENTLE);
  const length = p.blank.length;

  it("is refused where the blank would turn into it", () => {
    expect(codes(p, withRest({ fromTailstock: 30, width: 20, opening: 20, reach: 60 }))).toContain(
      "refuse turning-rest-in-work",
    );
    // Beyond the headstock end there is no wood to meet it.
    expect(codes(p, withRest({ fromTailstock: length + 20, width: 20, opening: 20, reach: 60 }))).not.toContain(
      "refuse turning-rest-in-work",
    );
  });

  it("hides the wood under it from the tools, which is said, and rapids pass beyond it", () => {
    const made = plan(p, withRest({ fromTailstock: 30, width: 20, opening: 80, reach: 60 }));
    const hidden = made.findings.filter((f) => f.code === "turning-not-reached");
    expect(hidden.some((f) => f.what.startsWith("the rest hides the profile"))).toBe(true);
    expect(hidden.every((f) => f.mend!.startsWith("move the rest"))).toBe(true);
    expect(made.setUp.finishRpm).toBe(made.setUp.roughRpm);
    expect(made.setUp.safeRadius).toBeGreaterThanOrEqual(60 + SHOP.habits.clearance);
    expect(plan(p).findings.some((f) => f.why?.includes("rest") ?? false)).toBe(false);
    for (const m of made.setUp.marks!) expect(Math.abs(m.at.x + 30) > 10 || m.at.y > 60).toBe(true);
  });

  it("is kept clear of by the programs, and the proof refuses one that was made without it", () => {
    const rest = { fromTailstock: 30, width: 20, opening: 80, reach: 60 };
    const lathe = { ...LATHES[0]!, rest };
    const made = turnedThrough(p, lathe);
    const proved = proveTurning({ setUp: made.setUp, programs: made.programs, shop: made.shop });
    expect(proved.findings.filter((f) => f.grade === "refuse").map((f) => f.what)).toEqual([]);
    const blind = turnedThrough(p, LATHES[0]!);
    const refused = proveTurning({ setUp: made.setUp, programs: blind.programs, shop: made.shop }).findings;
    expect(refused.some((f) => f.grade === "refuse" && /rest/.test(`${f.what} ${f.why ?? ""}`))).toBe(true);
  });
});
