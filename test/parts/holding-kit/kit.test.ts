import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { describeWorkpieces } from "../../../src/parts/describe.ts";
import { holdingKit } from "../../../src/parts/holding-kit/kit.ts";
import { holdingWishOf } from "../../../src/parts/holding-kit/wish.ts";
import type { TurnedPiece } from "../../../src/parts/turned-piece.ts";
import { turnedWorkpieces } from "../../../src/parts/turning/workpieces.ts";
import { radiiOver } from "../../../src/shapes/meridian.ts";
import { slot } from "../../../src/shapes/outlines.ts";
import { areaOf } from "../../../src/shapes/region.ts";
import { planRound } from "../../plan/round-stock.ts";
import { job } from "../describing.ts";
import { profile, room, tenonPull, waistPull } from "../turned-sample.ts";
import { pieces } from "../turning/sample.ts";

function kitOf(piece: TurnedPiece) {
  const kit = holdingKit(piece);
  if (!kit.ok) throw new Error(kit.findings.map((f) => f.what).join("; "));
  return { ...kit.value, findings: kit.findings };
}

describe("a blank with square ends", () => {
  it("lies on the bed where the packing has room under the waist, or is raised until it has", () => {
    // Squares of 45: the axis 22.5 above the bed, 9.5 mm of room under the 13 mm waist, 10 wanted below a seat.
    const raised = kitOf(waistPull());
    expect(raised.how).toBe("square ends");
    expect(raised.axisHeight).toBe(24);
    expect(raised.steps.join(" ")).toContain("packing 1.50 mm high");
    const wide = waistPull({
      blank: { length: 120, across: 50, shape: "square" },
      squares: [
        { from: 0, to: 20, side: 50 },
        { from: 100, to: 120, side: 50 },
      ],
    });
    expect(kitOf(wide).axisHeight).toBe(25);
    expect(kitOf(wide).steps.join(" ")).toContain("lie on the bed");
  });

  it("takes supports no thicker than the shop can cut out, the thinnest where even that is too much", () => {
    const thicknessOf = (thickest: number): number => {
      const kit = holdingKit(waistPull(), { thickest, wood: "plywood" });
      if (!kit.ok) throw new Error("no kit");
      expect(kit.value.parts.every((p) => p.wood === "plywood")).toBe(true);
      const { from, to } = kit.value.supports[0]!.bears;
      expect(kit.value.parts[0]!.size.thickness).toBeCloseTo(to - from, 9);
      return to - from;
    };
    const free = thicknessOf(Number.POSITIVE_INFINITY);
    expect(thicknessOf(free)).toBe(free);
    for (const [limit, expected] of [
      [11.6, 9],
      [6, 6],
      [3, 6],
    ] as const)
      expect(thicknessOf(limit)).toBe(Math.min(free, expected));
  });

  it("has packing under the middle of the finger room, its seat from the profile at that very place", () => {
    const kit = kitOf(waistPull());
    const [packing] = kit.supports;
    expect(kit.supports).toHaveLength(1);
    expect(packing!.bears.from).toBeGreaterThanOrEqual(60 - 9);
    expect(packing!.bears.to).toBeLessThanOrEqual(60 + 9);
    const radii = radiiOver(waistPull().meridian, packing!.bears.from, packing!.bears.to)!;
    expect(packing!.seatRadius).toBeCloseTo(radii.most + 0.05, 9);
    expect(packing!.seatHeight).toBeCloseTo(24 - radii.most, 9);
    expect(kit.tilt).toBeUndefined();
  });

  it("gives zero in Y, Z and angle from a square that no cut takes, and names the other when one does", () => {
    expect(kitOf(waistPull()).zero.spot).toContain("first end");
    expect(kitOf(waistPull()).zero.gives).toContain("0, 90, 180, 270");
    const over = waistPull({ fingerRoom: room(40, { section: slot({ x: 40, y: 0 }, 70, 20, 0) }) });
    expect(kitOf(over).zero.spot).toContain("second end");
  });

  it("is refused when the finger room takes the zero from both ends", () => {
    const over = holdingKit(waistPull({ fingerRoom: room(60, { section: slot({ x: 60, y: 0 }, 110, 20, 0) }) }));
    expect(over.ok).toBe(false);
    expect(over.findings.map((f) => f.code)).toEqual(["kit-zero-cut-away"]);
  });
});

/** A blank with round ends, the second thinner than the first. */
function taperPull(first: number, second: number, more: Partial<TurnedPiece> = {}): TurnedPiece {
  return {
    ...waistPull(),
    ...profile(0, first, [
      { kind: "cylinder", to: 25, diameter: first },
      { kind: "taper", to: 75, diameter: second },
      { kind: "cylinder", to: 100, diameter: second },
    ]),
    blank: { length: 100, across: 45, shape: "round" },
    squares: [],
    waste: [],
    fingerRoom: room(50, { section: slot({ x: 50, y: 0 }, 40, 14, 0) }),
    ...more,
  };
}

describe("a blank with round ends", () => {
  it("has cradles of unlike height under unlike ends, so that the axis is level, and says so with numbers", () => {
    const kit = kitOf(taperPull(40, 28));
    const [a, , b] = kit.supports;
    expect(a!.seatHeight + 20).toBeCloseTo(kit.axisHeight, 9);
    expect(b!.seatHeight + 14).toBeCloseTo(kit.axisHeight, 9);
    const finding = kit.findings.find((f) => f.code === "kit-axis-tilted")!;
    // Cradles 12 mm thick, 14 mm clear of the finger room: 6 to 94 mm, a span of 88. 6 / 88 = tan 3.90°.
    expect(finding.why).toContain("3.90°");
    expect(kit.tilt!.overRoom).toBeCloseTo(((2 * 0.05) / 88) * 40, 9);
    expect(finding.grade).toBe("note");
  });

  it("makes a lean of more than 0.1 mm over the finger room a caution, with its bound", () => {
    const kit = kitOf(taperPull(40, 28, { radiusError: { value: 0.5, from: "turned by hand" } }));
    const finding = kit.findings.find((f) => f.code === "kit-axis-tilted")!;
    expect(finding.grade).toBe("caution");
    expect(finding.measured!.value).toBeCloseTo((Math.atan(1 / 88) * 180) / Math.PI, 3);
  });

  it("never has zero from the crown alone, and tells how lines and end screws give the angle", () => {
    const kit = kitOf(taperPull(40, 28));
    expect(kit.zero.gives).toContain("both flanks");
    expect(kit.zero.gives).toContain("never from touching the crown alone");
    expect(kit.steps.join(" ")).toMatch(/witness line.*Screw a plate.*caul/);
    expect(kit.parts.map((p) => p.name.replace("long pull, ", ""))).toEqual([
      "cradle at first end",
      "packing",
      "cradle at second end",
      "caul at first end",
      "caul at second end",
      "plate at first end",
      "plate at second end",
    ]);
  });

  it("cautions about ends too slim for a screw, and is refused where no cradle finds room", () => {
    expect(kitOf(taperPull(40, 8)).findings.map((f) => f.code)).toContain("kit-ends-too-slim");
    const none = holdingKit(taperPull(40, 28, { fingerRoom: room(50, { section: slot({ x: 50, y: 0 }, 96, 14, 0) }) }));
    expect(none.ok).toBe(false);
    expect(none.findings.map((f) => f.code)).toEqual(["kit-nothing-to-hold"]);
  });

  it("carries a half in cradles with its flat up, without plates or cauls", () => {
    const kit = kitOf(tenonPull());
    expect(kit.holds).toBe("half");
    expect(kit.parts.every((p) => /cradle|packing/.test(p.name))).toBe(true);
    // Half a kerf of 1 mm and 0.5 mm of truing below the axis.
    expect(kit.steps.join(" ")).toContain(`lies ${(kit.axisHeight - 1).toFixed(2)} mm above the bed`);
  });
});

describe("the supports as ordinary parts", () => {
  it("are described like any flat part, without a refusal", () => {
    for (const piece of [waistPull(), taperPull(40, 28), tenonPull()]) {
      const { parts } = kitOf(piece);
      const described = describeWorkpieces(job(parts));
      expect(described.findings.filter((f) => f.grade === "refuse")).toEqual([]);
      expect(described.ok && described.value).toHaveLength(parts.length);
    }
  });

  it("keep the seat's arc exact: area by closed form, for any radii", () => {
    fc.assert(
      fc.property(fc.integer({ min: 12_000, max: 44_000 }), fc.integer({ min: 12_000, max: 44_000 }), (d1, d2) => {
        const kit = kitOf(taperPull(d1 / 1000, d2 / 1000));
        for (const s of kit.supports) {
          const part = kit.parts.find((p) => p.name === s.name)!;
          const [outline] = part.features;
          if (outline?.kind !== "outline" || outline.shape.kind !== "drawing")
            throw new Error("an outline was expected");
          const r = s.seatRadius;
          const width = part.size.length - 24;
          const height = part.size.width - 24;
          // A segment of 120°: r²/2 (θ − sin θ).
          const bite = (r * r * ((2 * Math.PI) / 3 - Math.sin((2 * Math.PI) / 3))) / 2;
          expect(areaOf(outline.shape.region)).toBeCloseTo(width * height - bite, 6);
          expect(height - r / 2).toBeCloseTo(s.seatHeight, 6);
          // The wood as drawn rests on the bottom of its seat, its axis at the height of all the others.
          expect(s.seatHeight + s.bears.radius).toBeCloseTo(kit.axisHeight, 6);
          expect(s.seatHeight).toBeGreaterThan(9.999);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe("the kit as the planner's holding", () => {
  it("plans cradles at its own places and heights, the axis level", () => {
    for (const piece of pieces()) {
      const kit = kitOf(piece);
      const wish = holdingWishOf(kit);
      if (kit.how === "square ends") {
        expect(wish).toBeUndefined();
        continue;
      }
      const { workpieces } = turnedWorkpieces(piece);
      const [workpiece] = workpieces;
      const { setUps } = planRound({ ...workpiece!, wishes: { ...workpiece!.wishes, holding: wish! } });
      const ends = kit.supports.filter((s) => s.bears.where !== "middle");
      const rests = setUps[0]!.setUp.rests!;
      expect(rests.map((r) => r.seat)).toEqual(ends.map((s) => s.seatHeight));
      for (const r of rests) expect(r.seat + r.radius).toBeCloseTo(kit.axisHeight, 6);
    }
  });
});

describe("kits of random profiles", () => {
  const um = (min: number, max: number) => fc.integer({ min, max }).map((v) => v / 1000);
  const drawn = fc.record({
    diameters: fc.array(um(14_000, 44_000), { minLength: 3, maxLength: 7 }),
    shoulders: fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }),
    about: um(40_000, 120_000),
    long: um(20_000, 70_000),
    square: fc.boolean(),
    cut: fc.constantFrom("crown" as const, "back" as const),
    error: um(0, 500),
  });

  it("never seat wood that doesn't fit, stand a cradle in the finger room, or name a zero that is cut away", () => {
    fc.assert(
      fc.property(drawn, (d) => {
        const pieceLength = 160;
        const span = pieceLength - 2 * (d.square ? 20 : 0);
        const start = d.square ? 20 : 0;
        const steps = d.diameters.map((diameter, i) => ({
          kind: "taper" as const,
          to: start + (span * (i + 1)) / d.diameters.length,
          diameter,
          ...(d.shoulders[i] === true ? { startDiameter: diameter } : {}),
        }));
        const piece = waistPull({
          ...profile(start, d.diameters[0]!, steps),
          blank: { length: pieceLength, across: 46, shape: d.square ? "square" : "round" },
          squares: d.square
            ? [
                { from: 0, to: 20, side: 46 },
                { from: 140, to: 160, side: 46 },
              ]
            : [],
          radiusError: { value: d.error, from: "drawn" },
          fingerRoom: room(d.about, { section: slot({ x: d.about, y: 0 }, d.long, 8, 0), cut: d.cut }),
        });
        const made = holdingKit(piece);
        const [from, to] = [d.about - d.long / 2, d.about + d.long / 2];
        if (!made.ok) {
          const codes = made.findings.filter((f) => f.grade === "refuse").map((f) => f.code);
          // Refused only where an end is really taken: less than a cradle's 6 mm, or both squares.
          if (codes.includes("kit-nothing-to-hold")) expect(Math.min(from, pieceLength - to)).toBeLessThan(6.5);
          else expect(from < 19 && to > 141).toBe(true);
          return;
        }
        const kit = made.value;
        for (const s of kit.supports) {
          for (let x = s.bears.from; x <= s.bears.to; x += 0.25) {
            const r = radiiOver(piece.meridian, x, x)?.most ?? 0;
            expect(r + d.error).toBeLessThanOrEqual(s.seatRadius + 1e-9);
          }
          if (s.bears.where === "first end") expect(s.bears.to).toBeLessThanOrEqual(from + 1e-9);
          if (s.bears.where === "second end") expect(s.bears.from).toBeGreaterThanOrEqual(to - 1e-9);
        }
        const most = radiiOver(piece.meridian, start, pieceLength - start)!.most + d.error;
        expect(kit.axisHeight).toBeGreaterThanOrEqual(most - 1e-9);
        if (d.square) {
          const first = kit.zero.spot.includes("first");
          expect(first ? from >= 18.9 : to <= 141.1).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });
});
