import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assemblyOf } from "../../src/shop/assembly.ts";
import type { Cutter, CutterForm } from "../../src/shop/cutter.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { cutterProfile, cutterRadiusAt, noseHeight, radiusOfPiece } from "../../src/shop/profile.ts";

const flat6 = DEFAULT_SHOP.cutters.find((c) => c.name === "6 mm flat")!;

function cutter(form: CutterForm, more: Partial<Cutter> = {}): Cutter {
  return { ...flat6, form, ...more };
}

const micrometres = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);

const anyCutter: fc.Arbitrary<Cutter> = fc
  .record({
    d: micrometres(1, 20),
    kind: fc.integer({ min: 0, max: 5 }),
    a: fc.integer({ min: 20, max: 160 }),
    s: fc.integer({ min: 1, max: 9 }),
  })
  .map(({ d, kind, a, s }) => {
    const forms: CutterForm[] = [
      { kind: "flat" },
      { kind: "round-nose" },
      { kind: "radiused-corner", cornerRadius: (d / 2) * (s / 10) },
      { kind: "v", includedAngle: a, tipFlat: d * (s / 20) },
      { kind: "drill", pointAngle: a },
      { kind: "countersink", includedAngle: a, tipFlat: d * (s / 20) },
    ];
    const c = cutter(forms[kind]!, { diameter: d, shankDiameter: d });
    const fluteLength = noseHeight(c) + 10;
    return { ...c, fluteLength, stickOut: fluteLength + 5 };
  });

describe("a cutter's profile", () => {
  it("is a cylinder for a flat cutter", () => {
    expect(cutterProfile(flat6)).toEqual([{ kind: "cylinder", from: 0, to: 22, radius: 3 }]);
    expect(cutterRadiusAt(flat6, 0)).toBe(3);
  });

  it("follows the circle of a round nose", () => {
    const c = cutter({ kind: "round-nose" });
    for (const h of [0, 0.1, 1, 2.5, 3]) expect(cutterRadiusAt(c, h)).toBeCloseTo(Math.sqrt(9 - (3 - h) ** 2), 12);
    expect(cutterRadiusAt(c, 5)).toBe(3);
  });

  it("rounds a corner outside its flat core", () => {
    const c = cutter({ kind: "radiused-corner", cornerRadius: 1 });
    expect(cutterRadiusAt(c, 0)).toBeCloseTo(2, 12);
    expect(cutterRadiusAt(c, 0.5)).toBeCloseTo(2 + Math.sqrt(0.75), 12);
    expect(cutterRadiusAt(c, 1)).toBeCloseTo(3, 12);
  });

  it("opens a V from half its tip flat", () => {
    const c = cutter({ kind: "v", includedAngle: 90, tipFlat: 0.4 }, { diameter: 12, fluteLength: 8 });
    expect(cutterRadiusAt(c, 0)).toBeCloseTo(0.2, 12);
    expect(cutterRadiusAt(c, 2)).toBeCloseTo(2.2, 12);
    expect(noseHeight(c)).toBeCloseTo(5.8, 12);
    expect(cutterRadiusAt(c, 7)).toBe(6);
  });

  it("gives the published cone depths of flat-head screws", () => {
    // A supplier's 82 degree flat heads: head and body diameters, inch; depth (head − body) / 2 / tan 41°.
    const heads = [
      [0.225, 0.112, 0.065],
      [0.279, 0.138, 0.081],
      [0.332, 0.164, 0.097],
      [0.385, 0.19, 0.112],
    ] as const;
    for (const [head, body, depth] of heads) {
      const c = cutter({ kind: "countersink", includedAngle: 82, tipFlat: body }, { diameter: head, fluteLength: 2 });
      expect(noseHeight(c)).toBeCloseTo(depth, 3);
    }
  });

  it("leaves no gap and never narrows upwards, whatever the form", () => {
    fc.assert(
      fc.property(anyCutter, (c) => {
        const pieces = cutterProfile(c);
        expect(pieces[0]!.from).toBe(0);
        expect(pieces[pieces.length - 1]!.to).toBe(c.fluteLength);
        for (let k = 1; k < pieces.length; k++) {
          const [a, b] = [pieces[k - 1]!, pieces[k]!];
          expect(b.from).toBe(a.to);
          expect(radiusOfPiece(a, a.to)).toBeCloseTo(radiusOfPiece(b, b.from), 9);
        }
        let last = 0;
        for (let i = 0; i <= 50; i++) {
          const r = cutterRadiusAt(c, (c.fluteLength * i) / 50);
          expect(r).toBeGreaterThanOrEqual(last - 1e-12);
          last = r;
        }
        expect(last).toBeCloseTo(c.diameter / 2, 9);
      }),
    );
  });

  it("is nothing below the tip and outside a piece's own heights", () => {
    expect(cutterRadiusAt(flat6, -0.001)).toBe(0);
    expect(radiusOfPiece({ kind: "cylinder", from: 1, to: 2, radius: 3 }, 2.1)).toBe(0);
    expect(radiusOfPiece({ kind: "cylinder", from: 1, to: 2, radius: 3 }, Number.NaN)).toBe(0);
  });
});

describe("an assembly", () => {
  const [machine] = DEFAULT_SHOP.machines;

  it("goes from the tip to the spindle body without a gap, for every built-in cutter and machine", () => {
    for (const m of DEFAULT_SHOP.machines) {
      for (const c of DEFAULT_SHOP.cutters) {
        const { pieces } = assemblyOf(c, m);
        let top = 0;
        for (const p of pieces) {
          expect(p.profile.from).toBeCloseTo(top, 12);
          top = p.profile.to;
        }
        expect(top).toBeCloseTo(c.stickOut + m.nut.length + m.body.length, 12);
        expect(pieces.map((p) => p.member)).toContain("nut");
        expect(pieces.map((p) => p.member)).toContain("shank");
      }
    }
  });

  it("carries the laser head beside it", () => {
    const { pieces } = assemblyOf(flat6, { ...machine!, laserHead: { x: 60, y: -5, radius: 20, underside: -4 } });
    const head = pieces.find((p) => p.member === "laser head")!;
    expect(head.offset).toEqual({ x: 60, y: -5 });
    expect(head.profile).toMatchObject({ from: 24, radius: 20 });
  });

  it("holds every built-in cutter's nose within its flutes", () => {
    for (const c of DEFAULT_SHOP.cutters) expect(noseHeight(c)).toBeLessThanOrEqual(c.fluteLength);
  });
});
