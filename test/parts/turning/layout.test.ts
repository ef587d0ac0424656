import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ElementShape } from "../../../src/job/turned.ts";
import { curveOf } from "../../../src/parts/turning/element.ts";
import { type Laid, layOut } from "../../../src/parts/turning/layout.ts";
import { radiiAt } from "../../../src/shapes/meridian.ts";
import { boundsOf, radiusOf, tangentAt } from "../../../src/shapes/segment.ts";
import { mm, shares, turnedPart } from "./describing.ts";

function laid(...args: Parameters<typeof turnedPart>): Laid {
  const { laid, findings } = layOut(turnedPart(...args));
  if (laid === undefined) throw new Error(findings.map((f) => `${f.code}: ${f.what}; ${f.why}`).join("\n"));
  return laid;
}

function findings(...args: Parameters<typeof turnedPart>): readonly string[] {
  return layOut(turnedPart(...args)).findings.map((f) => `${f.code} ${f.place.source?.line}`);
}

/** All that holds for any turned shape: it fills the blank, meets exactly, never goes back, stays within the wood. */
function holds(l: Laid, from: number, to: number, across: number): void {
  const { segments } = l.meridian;
  expect(segments[0]!.from.x).toBe(from);
  expect(segments[segments.length - 1]!.to.x).toBe(to);
  for (const [i, s] of segments.entries()) {
    const next = segments[i + 1];
    if (next !== undefined) expect(next.from).toEqual(s.to);
    expect(s.to.x).toBeGreaterThanOrEqual(s.from.x);
    const box = boundsOf(s);
    expect(box.min.x).toBeGreaterThanOrEqual(s.from.x - 1e-6);
    expect(box.max.x).toBeLessThanOrEqual(s.to.x + 1e-6);
    expect(box.min.y).toBeGreaterThanOrEqual(-1e-6);
    expect(box.max.y).toBeLessThanOrEqual(across / 2 + 1e-6);
    if (s.kind === "arc")
      expect(Math.abs(radiusOf(s) - Math.hypot(s.to.x - s.centre.x, s.to.y - s.centre.y))).toBeLessThan(1e-7);
  }
  for (const [i, e] of l.elements.entries()) {
    expect(e.from).toBe(i === 0 ? from : l.elements[i - 1]!.to);
    const begins = radiiAt(l.meridian, e.from)!;
    expect(
      Math.min(Math.abs(begins.least - e.fromDiameter / 2), Math.abs(begins.most - e.fromDiameter / 2)),
    ).toBeLessThan(1e-6);
  }
}

describe("curves of single elements", () => {
  const bead = (from: number, to: number, diameter: number, length: number) =>
    curveOf({ shape: { kind: "bead", length: mm(length), diameter, from, to }, length, from, to });

  it("a bead with unlike ends: one arc through both that touches the crown's level", () => {
    const curve = bead(20, 26, 30, 12);
    if ("what" in curve) throw new Error(curve.what);
    expect(curve).toHaveLength(1);
    const box = boundsOf(curve[0]!);
    expect(box.max.y).toBeCloseTo(15, 9);
    expect(curve[0]!.from).toEqual({ x: 0, y: 10 });
    expect(curve[0]!.to).toEqual({ x: 12, y: 13 });
  });

  it("a quarter round is a bead whose crown is at its end", () => {
    const [a, b] = [
      bead(20, 30, 30, 5),
      curveOf({ shape: { kind: "round-over", length: mm(5) }, length: 5, from: 20, to: 30 }),
    ];
    if ("what" in a || "what" in b) throw new Error("neither is wrong");
    expect(a[0]).toMatchObject({ kind: "arc", ccw: false });
    const centre = a[0]!.kind === "arc" ? a[0]!.centre : undefined;
    expect(centre!.x).toBeCloseTo(5, 9);
    expect(centre!.y).toBeCloseTo(10, 9);
    expect(b[0]).toMatchObject({ centre: { x: 5, y: 10 } });
  });

  it("an ogee's arcs pass into each other smoothly and leave its ends as said", () => {
    for (const [ends, length] of [
      ["level", 16],
      ["upright", 10],
    ] as const) {
      for (const [from, to] of [
        [20, 44],
        [44, 20],
      ] as const) {
        const curve = curveOf({ shape: { kind: "ogee", length: mm(length), ends }, length, from, to });
        if ("what" in curve) throw new Error(curve.what);
        const [a, b] = curve;
        const joint = [tangentAt(a!, 1), tangentAt(b!, 0)];
        expect(joint[0]!.x * joint[1]!.y - joint[0]!.y * joint[1]!.x).toBeCloseTo(0, 9);
        for (const t of [tangentAt(a!, 0), tangentAt(b!, 1)]) {
          expect(Math.abs(ends === "level" ? t.y : t.x)).toBeCloseTo(0, 9);
        }
      }
    }
  });

  it("refuse what no tool could turn, and say how much would do", () => {
    const trouble = (c: ReturnType<typeof curveOf>) => ("what" in c ? `${c.key}: ${c.mend}` : "fine");
    expect(trouble(bead(20, 20, 32, 8))).toMatch(/^length: make it longer/);
    expect(trouble(bead(20, 20, 20, 8))).toMatch(/^diameter: /);
    expect(trouble(bead(20, 20, 28, 8))).toBe("fine");
    const ogee = (ends: "level" | "upright", length: number) =>
      trouble(curveOf({ shape: { kind: "ogee", length: mm(length), ends }, length, from: 20, to: 40 }));
    expect(ogee("level", 9)).toContain("at least 10 mm");
    expect(ogee("upright", 11)).toContain("at most 10 mm");
    const over = (length: number) =>
      trouble(curveOf({ shape: { kind: "round-over", length: mm(length) }, length, from: 20, to: 30 }));
    expect(over(4)).toContain("at least 5 mm");
    expect(over(5)).toBe("fine");
  });
});

describe("elements along the blank", () => {
  const cylinder = (length: number, diameter: number): ElementShape => ({
    kind: "cylinder",
    length: mm(length),
    diameter,
  });

  it("share what the fixed lengths leave", () => {
    const l = laid([
      cylinder(30, 20),
      { kind: "taper", length: shares(2), to: 40 },
      { kind: "cylinder", length: shares(1), diameter: 40 },
    ]);
    expect(l.elements.map((e) => [e.from, e.to])).toEqual([
      [0, 30],
      [30, 110],
      [110, 150],
    ]);
    expect(l.elements[1]).toMatchObject({ fromDiameter: 20, toDiameter: 40 });
  });

  it("take the diameters they don't say from their neighbours", () => {
    const l = laid([
      cylinder(20, 20),
      { kind: "ogee", length: mm(30), ends: "level" },
      cylinder(20, 40),
      { kind: "round-over", length: mm(10) },
      cylinder(70, 24),
    ]);
    expect(l.elements.map((e) => [e.fromDiameter, e.toDiameter])).toEqual([
      [20, 20],
      [20, 40],
      [40, 40],
      [40, 24],
      [24, 24],
    ]);
    expect(l.meridian.segments.every((s) => s.from.x < s.to.x)).toBe(true);
  });

  it("say shoulders, and ask about steps that are hardly meant", () => {
    expect(findings([cylinder(50, 20), cylinder(100, 30)])).toEqual(["turned-shoulders 10"]);
    expect(findings([cylinder(50, 20), cylinder(100, 20.1)])).toEqual(["turned-small-step 21"]);
    expect(findings([cylinder(50, 20), cylinder(100, 20)])).toEqual([]);
  });

  it("of half a profile are mirrored at the middle", () => {
    const l = laid([cylinder(20, 20), { kind: "taper", length: mm(25), from: 24, to: 40 }, cylinder(30, 40)], {
      half: true,
    });
    expect(l.elements.map((e) => e.toDiameter)).toEqual([20, 40, 40, 40, 24, 20]);
    for (const x of [3, 21, 33.3, 60, 74]) expect(radiiAt(l.meridian, x)).toEqual(radiiAt(l.meridian, 150 - x));
  });

  it("stand several times in one blank, waste between and beside them", () => {
    const l = laid(
      [cylinder(30, 20), { kind: "bead", length: mm(20), diameter: 44, from: 30, to: 30 }, cylinder(13, 24)],
      { pulls: 2, parting: mm(8), endWaste: shares(1) },
    );
    expect(l.pulls).toEqual([
      { from: 8, to: 71 },
      { from: 79, to: 142 },
    ]);
    expect(l.waste).toEqual([
      { from: 0, to: 8 },
      { from: 71, to: 79 },
      { from: 142, to: 150 },
    ]);
    // Waste is as thin as the thinner of its neighbours.
    expect(l.elements.filter((e) => e.kind === "parting").map((e) => e.fromDiameter)).toEqual([20, 20, 24]);
  });

  it("that cannot be are refused at their own lines, all of them, each once", () => {
    expect(findings([cylinder(50, 20), cylinder(90, 30)])).toEqual(["turned-lengths 19"]);
    expect(findings([cylinder(80, 20), cylinder(80, 30)])).toEqual(["turned-lengths 19"]);
    expect(findings([cylinder(150, 20), { kind: "fillet", length: shares(1), diameter: 10 }])).toEqual([
      "turned-lengths 19",
    ]);
    expect(findings([{ kind: "taper", length: mm(150), to: 30 }])).toEqual(["turned-end-unknown 20"]);
    expect(
      findings([cylinder(20, 20), { kind: "taper", length: mm(60) }, { kind: "taper", length: mm(70), to: 30 }]),
    ).toEqual(["turned-end-unknown 21", "turned-end-unknown 22"]);
    expect(
      findings([cylinder(20, 51), { kind: "bead", length: mm(10), diameter: 40, from: 20, to: 20 }, cylinder(20, 60)], {
        pulls: 2,
        parting: mm(50),
      }),
    ).toEqual(["turned-too-thick 20", "turned-shape 21", "turned-too-thick 22", "turned-shoulders 10"]);
    expect(findings([{ kind: "vee", length: mm(30), diameter: 20 }, cylinder(120, 20)])).toEqual([
      "turned-below-axis 20",
    ]);
  });
});

describe("necks", () => {
  const ball: ElementShape = { kind: "bead", length: mm(30), diameter: 30 };
  const peg = (diameter: number): ElementShape => ({ kind: "cylinder", length: shares(1), diameter });

  it("that come to nothing between more wood would part on the lathe; at a free end they may", () => {
    expect(findings([peg(20), ball, peg(20)])).toEqual(["turned-shoulders 10", "turned-thin 21"]);
    expect(findings([peg(20), ball])).toEqual(["turned-shoulders 10", "turned-thin 21"]);
    const freed: ElementShape = { kind: "bead", length: mm(15), diameter: 30, from: 30, to: 0 };
    expect(findings([peg(30), freed])).toEqual([]);
    expect(findings([peg(30), freed], { endWaste: mm(5) })).toContain("turned-thin 21");
    expect(layOut(turnedPart([peg(30), freed], { endWaste: mm(5) })).laid).toBeUndefined();
  });

  it("that are thin are cautioned of", () => {
    const { laid: l, findings: found } = layOut(
      turnedPart([peg(20), { kind: "cove", length: mm(30), diameter: 3, from: 20, to: 20 }, peg(20)]),
    );
    expect(l).toBeDefined();
    expect(found.map((f) => `${f.grade} ${f.code}`)).toEqual(["caution turned-thin"]);
  });
});

describe("random profiles", () => {
  const µm = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);
  const any: fc.Arbitrary<ElementShape> = fc
    .record({ length: µm(1, 40), d: µm(8, 60), e: µm(8, 60), f: µm(8, 60), share: fc.boolean(), weight: µm(0.1, 3) })
    .chain(({ length, d, e, f, share, weight }) => {
      const stretch = share ? shares(weight) : mm(length);
      const [low, high] = [Math.min(e, f), Math.max(e, f)];
      return fc.constantFrom<ElementShape>(
        { kind: "cylinder", length: stretch, diameter: d },
        { kind: "fillet", length: stretch, diameter: d },
        { kind: "bead", length: stretch, diameter: d },
        { kind: "bead", length: stretch, diameter: high + 1, from: e, to: f },
        { kind: "cove", length: stretch, diameter: d },
        { kind: "cove", length: stretch, diameter: low - 1, from: e, to: f },
        { kind: "taper", length: stretch, from: e, to: f },
        { kind: "taper", length: stretch },
        { kind: "ogee", length: stretch, ends: "level" },
        { kind: "ogee", length: stretch, from: e, to: f, ends: "upright" },
        { kind: "vee", length: stretch, diameter: d },
        { kind: "round-over", length: stretch },
        { kind: "round-over", length: stretch, from: e, to: f },
      );
    });

  it("meet exactly, fill the blank, never go back, or are refused with a place", () => {
    let judged = 0;
    fc.assert(
      fc.property(
        fc.array(any, { minLength: 1, maxLength: 6 }),
        fc.boolean(),
        fc.integer({ min: 1, max: 3 }),
        µm(0, 20),
        (shapes, half, pulls, square) => {
          const part = turnedPart(
            shapes,
            { half, pulls, endWaste: shares(1) },
            { blank: { length: 900, across: 64, shape: "square" }, squareEnds: { first: square, second: square } },
          );
          const { laid: l, findings: found } = layOut(part);
          for (const f of found) {
            expect(f.place.source).toBeDefined();
            expect(`${f.what} ${f.why} ${f.mend}`).not.toMatch(/undefined|NaN|Infinity/);
          }
          if (l === undefined) {
            expect(found.some((f) => f.grade === "refuse")).toBe(true);
            return;
          }
          judged++;
          holds(l, square, 900 - square, 64);
          expect(l.pulls).toHaveLength(pulls);
          if (half) {
            for (const x of [301.1, 377.7, 449]) {
              const [a, b] = [radiiAt(l.meridian, x)!, radiiAt(l.meridian, 900 - x)!];
              if (a.least === a.most) expect(a.least).toBeCloseTo(b.least, 6);
            }
          }
        },
      ),
      { numRuns: 400 },
    );
    expect(judged).toBeGreaterThan(60);
  });
});
