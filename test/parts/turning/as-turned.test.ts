import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { AsTurned, ElementShape, TurnedDescription } from "../../../src/job/turned.ts";
import { readOff } from "../../../src/parts/turning/as-turned.ts";
import { describePiece } from "../../../src/parts/turning/describe-turned.ts";
import { layOut } from "../../../src/parts/turning/layout.ts";
import { type Meridian, radiiAt } from "../../../src/shapes/meridian.ts";
import { distanceToPoint } from "../../../src/shapes/nearest.ts";
import { at, mm, shares, turnedPart } from "./describing.ts";

const SHAPES: readonly ElementShape[] = [
  { kind: "cylinder", length: mm(30), diameter: 40 },
  { kind: "bead", length: mm(10), diameter: 44, from: 36, to: 36 },
  { kind: "cove", length: mm(50), diameter: 30, from: 42, to: 40 },
  { kind: "taper", length: shares(1), from: 40, to: 28 },
];

function readings(list: readonly (readonly [number, number])[], more: Partial<AsTurned> = {}): AsTurned {
  return {
    with: "calipers",
    readings: list.map(([x, diameter], i) => ({ at: x, diameter, source: at(60 + i) })),
    source: at(59),
    ...more,
  };
}

const plan: Meridian = layOut(turnedPart(SHAPES)).laid!.meridian;

function radius(m: Meridian, x: number): number {
  return radiiAt(m, x)!.least;
}

describe("diameters read off the turned blank", () => {
  it("replace the plan's at their stations, and move what lies between in proportion", () => {
    const list = [
      [10, 40.4],
      [65, 29.6],
      [120, 2 * radius(plan, 120) + 0.2],
    ] as const;
    const { meridian, error, offsets } = readOff(plan, readings(list));
    for (const [x, d] of list) expect(2 * radius(meridian, x)).toBeCloseTo(d, 9);
    expect(offsets.map((o) => Number(o.toFixed(9)))[0]).toBe(0.2);
    // Beyond the outer stations their own differences hold; halfway between two, half of each.
    expect(radius(meridian, 2)).toBeCloseTo(20.2, 9);
    expect(radius(meridian, 149)).toBeCloseTo(radius(plan, 149) + 0.1, 9);
    expect(radius(meridian, 92.5)).toBeCloseTo(radius(plan, 92.5) + (offsets[1]! + offsets[2]!) / 2, 3);
    expect(error).toBeGreaterThanOrEqual(0.05);
    expect(error).toBeLessThan(0.06);
  });

  it("beside a shoulder count for the side they are nearer to", () => {
    const high = readOff(plan, readings([[40, 42.3]]));
    const low = readOff(plan, readings([[40, 36.2]]));
    expect(high.offsets[0]).toBeCloseTo(0.15, 9);
    expect(low.offsets[0]).toBeCloseTo(0.1, 9);
  });

  it("carry the error of what they were taken with", () => {
    const error = (more: Partial<AsTurned>) => readOff(plan, readings([[10, 40]], more)).error;
    expect(error({})).toBeCloseTo(0.05, 9);
    expect(error({ with: "rule" })).toBeCloseTo(0.5, 9);
    expect(error({ error: 0.02 })).toBeCloseTo(0.02, 9);
  });

  it("leave lines and arcs that meet exactly and never go back, near the plan moved point by point", () => {
    const stations = fc
      .uniqueArray(fc.integer({ min: 1, max: 149 }), { minLength: 1, maxLength: 8 })
      .map((list) => [...list].sort((a, b) => a - b));
    const offs = fc.array(
      fc.integer({ min: -600, max: 600 }).map((n) => n / 1000),
      { minLength: 8, maxLength: 8 },
    );
    fc.assert(
      fc.property(stations, offs, (xs, o) => {
        const list = xs.map((x, i) => [x, 2 * (radius(plan, x) + o[i]!)] as const);
        const { meridian, error, offsets } = readOff(plan, readings(list, { error: 0 }));
        for (const [i, s] of meridian.segments.entries()) {
          const next = meridian.segments[i + 1];
          if (next !== undefined) expect(next.from).toEqual(s.to);
          expect(s.to.x).toBeGreaterThanOrEqual(s.from.x);
        }
        // The bent plan by itself: each of its points moved by what the stations say there.
        const offset = (x: number): number => {
          const k = xs.findIndex((s) => s >= x);
          if (k < 0) return offsets[offsets.length - 1]!;
          if (k === 0) return offsets[0]!;
          const t = (x - xs[k - 1]!) / (xs[k]! - xs[k - 1]!);
          return offsets[k - 1]! * (1 - t) + offsets[k]! * t;
        };
        for (let i = 0; i <= 300; i++) {
          const x = i / 2;
          const p = { x, y: radius(plan, x) + offset(x) };
          const d = Math.min(...meridian.segments.map((s) => distanceToPoint(s, p)));
          expect(d).toBeLessThanOrEqual(error + 1e-3);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe("how well a turned radius is known", () => {
  const described = (more: Partial<TurnedDescription>) => describePiece(turnedPart(SHAPES, {}, more));

  it("by machine the program's accuracy, by hand half a millimetre until it is measured", () => {
    expect(described({}).piece!.radiusError).toMatchObject({ value: 0.01 });
    const hand = described({ turnedBy: "hand" });
    expect(hand.piece!.radiusError.value).toBe(0.5);
    expect(hand.findings.map((f) => `${f.grade} ${f.code}`)).toContain("caution turned-unmeasured");
    const read = described({ turnedBy: "hand", asTurned: readings([[10, 40.2]]) });
    expect(read.findings.map((f) => f.code)).not.toContain("turned-unmeasured");
    expect(read.piece!.asTurned).toBe(true);
    expect(read.piece!.radiusError.from).toContain("calipers");
  });

  it("by readings only where something is turned, and asked about where they are far off", () => {
    const codes = (list: readonly (readonly [number, number])[]) =>
      described({ asTurned: readings(list), squareEnds: { first: 0, second: 0 } }).findings.map(
        (f) => `${f.grade} ${f.code} ${f.place.source?.line}`,
      );
    expect(
      codes([
        [10, 40],
        [151, 28],
      ]),
    ).toContain("refuse turned-reading 61");
    expect(codes([[10, 52]])).toContain("refuse turned-reading 60");
    expect(codes([[10, 44.5]])).toContain("caution turned-reading-far 60");
    expect(codes([[10, 43.5]])).toEqual(["note turned-shoulders 10"]);
  });
});
