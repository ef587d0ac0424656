import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { curveOf, type Sized } from "../../src/parts/turning/element.ts";
import { extentOfMeridian, type Meridian, radiiAt, radiiOver } from "../../src/shapes/meridian.ts";
import { arc, line, pointAt, type Segment } from "../../src/shapes/segment.ts";
import { movedSolid, topAt, woodOver } from "../../src/shapes/turned-solid.ts";

const STEPPED: Meridian = {
  segments: [
    line({ x: 0, y: 5 }, { x: 10, y: 5 }),
    line({ x: 10, y: 5 }, { x: 10, y: 9 }),
    arc({ x: 10, y: 9 }, { x: 20, y: 9 }, { x: 15, y: 9 }, false),
    line({ x: 20, y: 9 }, { x: 30, y: 4 }),
  ],
};

describe("radii of a meridian", () => {
  it("at places: one, two at a shoulder, none beyond the ends", () => {
    expect(extentOfMeridian(STEPPED)).toEqual({ from: 0, to: 30 });
    expect(radiiAt(STEPPED, 4)).toEqual({ least: 5, most: 5 });
    expect(radiiAt(STEPPED, 10)).toEqual({ least: 5, most: 9 });
    expect(radiiAt(STEPPED, 15)!.most).toBeCloseTo(14, 12);
    expect(radiiAt(STEPPED, 25)).toEqual({ least: 6.5, most: 6.5 });
    expect(radiiAt(STEPPED, -0.1)).toBeUndefined();
    expect(radiiAt(STEPPED, 30.1)).toBeUndefined();
    expect(() => extentOfMeridian({ segments: [] })).toThrow(RangeError);
  });

  it("over stretches, with crowns and waists that lie within", () => {
    expect(radiiOver(STEPPED, 9, 11)).toMatchObject({ least: 5 });
    expect(radiiOver(STEPPED, 12, 18)!.most).toBeCloseTo(14, 12);
    expect(radiiOver(STEPPED, 14, 14.5)!.most).toBeCloseTo(9 + Math.sqrt(25 - 0.25), 12);
    expect(radiiOver(STEPPED, -5, 40)!.least).toBe(4);
    expect(radiiOver(STEPPED, 31, 40)).toBeUndefined();
  });
});

const µm = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);
const mm = (value: number) => ({ kind: "mm", mm: value }) as const;

/** Three elements, one behind the other, shoulders where they don't meet. */
const meridian: fc.Arbitrary<Meridian> = fc
  .array(fc.record({ length: µm(2, 30), from: µm(8, 40), to: µm(8, 40), extra: µm(0.2, 10), kind: fc.nat(4) }), {
    minLength: 1,
    maxLength: 4,
  })
  .map((list) => {
    const segments: Segment[] = [];
    let x = 0;
    for (const { length, from, to, extra, kind } of list) {
      const shape: Sized["shape"] = (
        [
          { kind: "bead", length: mm(length), diameter: Math.max(from, to) + extra, from, to },
          { kind: "cove", length: mm(length), diameter: Math.min(from, to) - extra / 2, from, to },
          { kind: "ogee", length: mm(length), from, to, ends: "level" },
          { kind: "round-over", length: mm(length), from, to },
          { kind: "taper", length: mm(length), from, to },
        ] as const
      )[kind]!;
      const made = curveOf({ shape, length, from, to });
      const curve = "what" in made ? [line({ x: 0, y: from / 2 }, { x: length, y: to / 2 })] : made;
      const at = (p: Segment["from"]): Segment["from"] => ({ x: p.x + x, y: p.y });
      const put = curve.map((s) =>
        s.kind === "line" ? line(at(s.from), at(s.to)) : arc(at(s.from), at(s.to), at(s.centre), s.ccw),
      );
      const last = segments[segments.length - 1];
      if (last !== undefined && last.to.y !== put[0]!.from.y) segments.push(line(last.to, put[0]!.from));
      segments.push(...put);
      x = put[put.length - 1]!.to.x;
    }
    return { segments };
  });

describe("random meridians", () => {
  it("hold all their points within the radii over a stretch, and reach both of them", () => {
    fc.assert(
      fc.property(meridian, µm(0, 1), µm(0, 1), (m, a, b) => {
        const { to } = extentOfMeridian(m);
        const [from, till] = [Math.min(a, b) * to, Math.max(a, b) * to];
        const radii = radiiOver(m, from, till)!;
        let [least, most] = [Number.POSITIVE_INFINITY, 0];
        for (const s of m.segments) {
          for (let i = 0; i <= 200; i++) {
            const p = pointAt(s, i / 200);
            if (p.x < from || p.x > till) continue;
            expect(p.y).toBeGreaterThanOrEqual(radii.least - 1e-7);
            expect(p.y).toBeLessThanOrEqual(radii.most + 1e-7);
            least = Math.min(least, p.y);
            most = Math.max(most, p.y);
          }
        }
        // Samples come within a step of both; where curves stand upright a step is long.
        if (till - from > 5) {
          expect(least - radii.least).toBeLessThan(0.7);
          expect(radii.most - most).toBeLessThan(0.7);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("bound the wood over patches of plan, lying either way", () => {
    fc.assert(
      fc.property(meridian, µm(0, 1), µm(0, 0.2), µm(0, 25), µm(0, 3), fc.boolean(), (m, a, w, d, e, flip) => {
        const { to } = extentOfMeridian(m);
        const lying = { meridian: m, axis: { y: 0, z: 0 }, squares: [] };
        const solid = movedSolid(lying, { x: flip ? to + 7 : 7, flip, axis: { y: 30, z: 40 } });
        const [x0, x1] = [a * to + 7, Math.min(a + w, 1) * to + 7];
        const over = woodOver(solid, x0, x1, d, d + e);
        for (let i = 0; i <= 10; i++) {
          for (let k = 0; k <= 4; k++) {
            const x = x0 + ((x1 - x0) * i) / 10;
            const away = d + (e * k) / 4;
            const top = topAt(solid, x, 30 + away);
            if (top !== undefined) {
              expect(over.some).toBeDefined();
              expect(top).toBeLessThanOrEqual(over.some!.high + 1e-7);
            }
            if (over.all !== undefined) expect(top ?? 0).toBeGreaterThanOrEqual(over.all.high - 1e-7);
            // Turned round, the same wood stands at the other end.
            // At the very end, rounding may put the place beyond it.
            if (x - 7 > to - 1e-9 || x - 7 < 1e-9) continue;
            const there = topAt(lying, flip ? to + 7 - x : x - 7, away);
            expect(top === undefined ? -1 : top - 40).toBeCloseTo(there ?? -1, 6);
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});
