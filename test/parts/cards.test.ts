import { describe, expect, it } from "vitest";
import type { Outcome } from "../../src/finding.ts";
import type { Card } from "../../src/parts/cards/card.ts";
import { type GreyCardWish, greyCard, greyShares } from "../../src/parts/cards/grey-card.ts";
import { kerfCard, kerfFrom } from "../../src/parts/cards/kerf-card.ts";
import { crossPoint, registrationCross } from "../../src/parts/cards/registration-cross.ts";
import { cellEffect, recordCell, type TestCardWish, testCard } from "../../src/parts/cards/test-card.ts";
import { planBeam } from "../../src/plan/beam.ts";
import type { BeamDots, BeamLines } from "../../src/plan/beam-setup.ts";
import { boundsOfRegion } from "../../src/shapes/region.ts";
import { boundsOf } from "../../src/shapes/segment.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import { BURNS, laserShop } from "../plan/beam-fixtures.ts";

const WISH: TestCardWish = {
  wood: "hard maple",
  thickness: 6,
  powers: [0.2, 0.355, 0.5, 1],
  speeds: [900, 1800, 12_000],
  burn: "area",
  passes: 1,
  cell: 8,
  label: { power: 0.4, speed: 1500 },
};

function value(card: Outcome<Card>): Card {
  if (!card.ok) throw new Error(card.findings.map((f) => f.what).join("\n"));
  return card.value;
}

function plans(card: Card) {
  const shop = laserShop(undefined, { burns: [...card.burns, ...BURNS] });
  const fast = { ...shop, machines: shop.machines.map((m) => ({ ...m, topFeed: { x: 20_000, y: 20_000, z: 3000 } })) };
  const made = planBeam(card.workpiece, fast, []);
  if (!made.ok) throw new Error(made.findings.map((f) => f.what).join("\n"));
  return made.value[0]!;
}

describe("a test card", () => {
  it.each(["area", "line"] as const)("burns each cell at its own power and speed: %s", (burn) => {
    const card = value(testCard({ ...WISH, burn }));
    const plan = plans(card);
    const cells = plan.operations.filter((o) => o.markId !== `${card.workpiece.name} numbers`);
    expect(cells).toHaveLength(12);
    for (const [row, power] of WISH.powers.entries()) {
      for (const [column, speed] of WISH.speeds.entries()) {
        expect(cells[row * 3 + column]).toMatchObject({ kind: burn === "line" ? "lines" : burn, power, speed });
      }
    }
  });

  it("is labelled by itself: power in per cent at the left, speed on top, nothing over anything, all on the card", () => {
    const card = value(testCard(WISH));
    const { size, marks = [] } = card.workpiece;
    const cells = marks.flatMap((m) => (m.ink.kind === "area" ? [boundsOfRegion(m.ink.region)!] : []));
    const [numbers] = marks.flatMap((m) => (m.ink.kind === "lines" ? [m.ink.chains] : []));
    const strokes = numbers!.flat().map(boundsOf);
    expect(strokes.length).toBeGreaterThan(50);
    for (const b of [...cells, ...strokes]) {
      expect(Math.min(b.min.x, b.min.y)).toBeGreaterThan(3);
      expect(b.max.x).toBeLessThan(size.length - 3);
      expect(b.max.y).toBeLessThan(size.width - 3);
    }
    const apart = (a: (typeof cells)[number], b: (typeof cells)[number]): boolean =>
      a.max.x < b.min.x || b.max.x < a.min.x || a.max.y < b.min.y || b.max.y < a.min.y;
    for (const [i, a] of cells.entries()) {
      expect(cells.every((b, k) => k === i || apart(a, b))).toBe(true);
      expect(strokes.every((s) => apart(a, s))).toBe(true);
    }
    // The weakest row on top, the slowest column at the left.
    expect(cells[0]!.min.y).toBeGreaterThan(cells[3]!.max.y);
    expect(cells[0]!.max.x).toBeLessThan(cells[1]!.min.x);
    expect(cellEffect(0.355, 900)).toBe("35.5 % at 900");
  });

  it("has its chosen cell recorded as lines that the shop file reads back", () => {
    const text = `units: mm\n${recordCell({ ...WISH, passes: 2, spacing: 0.08 }, 1, 2, "dark area")}`;
    const read = readShop(text, "shop.yaml");
    expect(read.ok && read.value.burns).toEqual([
      {
        effect: "dark area",
        wood: "hard maple",
        power: 0.355,
        speed: 12_000,
        passes: 2,
        spacing: 0.08,
        from: "shop file",
      },
    ]);
    const odd = readShop(`units: mm\n${recordCell(WISH, 0, 0, 'dark: "area" #1')}`, "shop.yaml");
    expect(odd.ok && odd.value.burns![0]!.effect).toBe('dark: "area" #1');
    expect(() => recordCell(WISH, 4, 0, "line")).toThrow(RangeError);
  });

  it.each([
    { powers: [] },
    { powers: [0, 0.5] },
    { powers: [0.5, 1.2] },
    { powers: [0.5, 0.5] },
    { speeds: [0] },
    { speeds: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13] },
    { cell: 1 },
    { passes: 0 },
    { thickness: 0 },
    { spacing: 0 },
    { label: { power: 0, speed: 100 } },
  ])("is refused for a wish that cannot be: %o", (change) => {
    const card = testCard({ ...WISH, ...change });
    expect(card.ok).toBe(false);
    expect(new Set(card.findings.map((f) => f.code))).toEqual(new Set(["card-wish"]));
  });
});

describe("a grey card", () => {
  const wish: GreyCardWish = {
    thickness: 6,
    setting: BURNS[2]!,
    fields: 5,
    cell: 8,
    label: { power: 0.4, speed: 1500 },
  };

  it("has fields with evenly more dots, whatever tones the setting already has", () => {
    const dark = {
      ...BURNS[2]!,
      tones: [
        { dots: 0, dark: 0 },
        { dots: 0.2, dark: 0.9 },
        { dots: 1, dark: 1 },
      ],
    };
    const plan = plans(value(greyCard({ ...wish, setting: dark })));
    const fields = plan.operations.filter((o): o is BeamDots => o.kind === "dots");
    expect(greyShares(5)).toEqual([0, 0.25, 0.5, 0.75, 1]);
    expect(fields).toHaveLength(4);
    for (const [i, f] of fields.entries()) {
      const share = f.aim.bits.reduce((n, b) => n + b, 0) / f.aim.bits.length;
      expect(Math.abs(share - (i + 1) / 4)).toBeLessThan(0.02);
      expect(f.power).toBe(dark.power);
    }
  });

  it("is refused with too few fields, or fields too small", () => {
    expect(greyCard({ ...wish, fields: 2 }).ok).toBe(false);
    expect(greyCard({ ...wish, cell: 1 }).ok).toBe(false);
  });
});

describe("a kerf card", () => {
  const wish = { wood: "hard maple", length: 110, width: 20, thickness: 4, slits: 10, setting: BURNS[3]! };

  it("has n slits from edge to edge that make n + 1 even pieces", () => {
    const plan = plans(value(kerfCard(wish)));
    const { chains, passes } = plan.operations[0] as BeamLines;
    expect(passes).toBe(2);
    expect(chains.map(([s]) => s!.from.x)).toEqual([10, 20, 30, 40, 50, 60, 70, 80, 90, 100]);
    for (const [s] of chains) expect([s!.from.y, s!.to.y]).toEqual([0, 20]);
  });

  it("gives the kerf as stock less pieces, over the slits", () => {
    // Ten slits of 0.18 mm take 1.8 mm.
    expect(kerfFrom(110, [108.2], 10)).toBeCloseTo(0.18, 12);
    expect(
      kerfFrom(
        110,
        Array.from({ length: 11 }, () => 108.2 / 11),
        10,
      ),
    ).toBeCloseTo(0.18, 9);
    expect(() => kerfFrom(110, [100], 0)).toThrow(RangeError);
  });

  it("is refused without slits, or with pieces too thin to measure", () => {
    expect(kerfCard({ ...wish, slits: 0 }).ok).toBe(false);
    expect(kerfCard({ ...wish, slits: 60 }).ok).toBe(false);
  });
});

describe("the registration cross", () => {
  const wish = { wood: "hard maple", length: 61, width: 40, thickness: 6, across: 10, setting: BURNS[0]! };

  it("is burned about whole millimetres, where the bit then pricks", () => {
    const card = value(registrationCross(wish));
    const { chains } = plans(card).operations[0] as BeamLines;
    expect(crossPoint(wish)).toEqual({ x: 31, y: 20 });
    const middles = chains.map(([s]) => ({ x: (s!.from.x + s!.to.x) / 2, y: (s!.from.y + s!.to.y) / 2 }));
    expect(middles).toEqual([
      { x: 31, y: 20 },
      { x: 31, y: 20 },
    ]);
    expect(card.steps.join(" ")).toMatch(/drive to X 31 Y 20.*cross off by/);
  });

  it("is refused where it does not fit the waste", () => {
    expect(registrationCross({ ...wish, across: 40 }).ok).toBe(false);
    expect(registrationCross({ ...wish, across: 1 }).ok).toBe(false);
  });
});
