import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  buildHollow,
  endsOfHollow,
  type Hollow,
  type HollowWords,
  heightAt,
  hollowTrouble,
  insetAt,
  shiftedHollow,
  tightestBend,
} from "../../src/shapes/hollow.ts";
import { nearestOn } from "../../src/shapes/nearest-on.ts";
import { type Nose, noseWay, type Stand, standsFor } from "../../src/shapes/nose-way.ts";
import type { Point } from "../../src/shapes/point.ts";
import { line, pointAt, radiusOf, type Segment, tangentAt } from "../../src/shapes/segment.ts";

const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);

/** Words of all kinds, most of which make a hollow. */
const words: fc.Arbitrary<HollowWords> = fc.record({
  depth: um(3, 16),
  leanDeg: fc.oneof(fc.constant(0), um(0, 35)),
  footRadius: um(1, 5),
  dish: fc.oneof(fc.constant(0), um(0.2, 5)),
  ease: fc.oneof(fc.constant(0), um(0.3, 3)),
  middle: um(6, 30),
});

function built(w: HollowWords): Hollow {
  const h = buildHollow(w);
  if (typeof h === "string") throw new Error(h);
  return h;
}

const wordsThatFit = words.filter((w) => typeof buildHollow(w) !== "string");

/** The chain with its level floor drawn out to the middle. */
function surface(h: Hollow, middle: number): readonly Segment[] {
  const { floor } = endsOfHollow(h);
  return middle > floor.x + 1e-9 ? [...h.segments, line(floor, { x: middle, y: floor.y })] : h.segments;
}

const away = (segments: readonly Segment[], p: Point): number =>
  Math.min(...segments.map((s) => nearestOn(s, p).distance));

describe("building a hollow", () => {
  it("puts every piece where plane geometry does", () => {
    const h = built({ depth: 11, leanDeg: 0, footRadius: 3.2, dish: 3, ease: 1.5, middle: 12.5 });
    expect(h.segments.map((s) => s.kind)).toEqual(["arc", "line", "arc", "arc"]);
    const [edge, wall, foot, dish] = h.segments;
    expect(edge).toMatchObject({ from: { x: -1.5, y: 0 }, to: { x: 0, y: -1.5 }, centre: { x: -1.5, y: -1.5 } });
    expect(wall!.to.x).toBe(0);
    // A run of 12.5 with a dish of 3 is an arc of radius (12.5² + 3²) / 6.
    const radius = (12.5 ** 2 + 9) / 6;
    if (dish?.kind !== "arc" || foot?.kind !== "arc") throw new Error("arcs were expected");
    expect(radiusOf(dish)).toBeCloseTo(radius, 9);
    expect(dish.to).toEqual({ x: 12.5, y: -14 });
    expect(radiusOf(foot)).toBeCloseTo(3.2, 9);
    // Internally tangent: the centres lie the difference of the radii apart.
    const between = Math.hypot(dish.centre.x - foot.centre.x, dish.centre.y - foot.centre.y);
    expect(between).toBeCloseTo(radius - 3.2, 9);
    // Without its rounding the dish would meet the wall at the depth asked for.
    expect(Math.hypot(dish.centre.x, dish.centre.y + 11)).toBeCloseTo(radius, 9);
  });

  it("never turns back, rises or bends sharply, whatever the words", () => {
    fc.assert(
      fc.property(wordsThatFit, (w) => {
        const h = built(w);
        expect(hollowTrouble(h)).toBeUndefined();
        const { floor, mouth } = endsOfHollow(h);
        expect(floor.y).toBeCloseTo(-w.depth - w.dish, 9);
        expect(mouth.x).toBeLessThanOrEqual(0);
        if (w.dish > 0) expect(floor.x).toBeCloseTo(w.middle, 9);
        // All joints are smooth, so the tightest bend is the foot's or the dish's.
        expect(tightestBend(h)).toBeCloseTo(w.footRadius, 6);
        for (const [i, s] of h.segments.entries()) {
          const next = h.segments[i + 1];
          if (next === undefined) continue;
          const a = tangentAt(s, 1);
          const b = tangentAt(next, 0);
          expect(a.x * b.y - a.y * b.x).toBeCloseTo(0, 5);
        }
      }),
      { numRuns: 100 },
    );
  });

  it("is the same seen by height and by distance", () => {
    fc.assert(
      fc.property(wordsThatFit, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (w, t) => {
        const h = built(w);
        for (const s of h.segments) {
          const p = pointAt(s, t);
          expect(Math.abs(insetAt(h, p.y) - p.x)).toBeLessThan(1e-5);
          if (s.to.x - s.from.x > 1e-3) expect(Math.abs(heightAt(h, p.x) - p.y)).toBeLessThan(1e-4);
        }
        expect(insetAt(h, 0.1)).toBe(Number.NEGATIVE_INFINITY);
        expect(insetAt(h, endsOfHollow(h).floor.y - 0.1)).toBe(Number.POSITIVE_INFINITY);
        const moved = shiftedHollow(h, 2);
        const y = -w.depth / 2;
        expect(insetAt(moved, y)).toBeCloseTo(insetAt(h, y) + 2, 9);
      }),
      { numRuns: 60 },
    );
  });

  it.each([
    [{ depth: 10, leanDeg: 60, footRadius: 2, dish: 0, ease: 0, middle: 10 }, "the walls meet before the floor"],
    [{ depth: 10, leanDeg: 0, footRadius: 2, dish: 11, ease: 0, middle: 10 }, "the dish is steeper than the wall"],
    [{ depth: 10, leanDeg: 30, footRadius: 1, dish: 6, ease: 0, middle: 12 }, "the dish is steeper than the wall"],
    [{ depth: 2, leanDeg: 0, footRadius: 3, dish: 0, ease: 0, middle: 10 }, "the radius at the floor does not fit"],
    [{ depth: 10, leanDeg: 0, footRadius: 6, dish: 0, ease: 0, middle: 5 }, "the radius at the floor does not fit"],
    [
      { depth: 4, leanDeg: 0, footRadius: 3, dish: 0, ease: 2, middle: 10 },
      "the eased edge and the radius at the floor meet",
    ],
  ] as const)("refuses %o: %s", (w, trouble) => {
    expect(buildHollow(w)).toBe(trouble);
  });
});

/** Lowest that a rounded nose leaves at a distance beside its axis, over its tip. */
function rise({ nose, core }: Nose, beside: number): number {
  const q = Math.max(0, beside - core);
  return q > nose ? Number.POSITIVE_INFINITY : nose - Math.sqrt(nose * nose - q * q);
}

/** Highest wood that stands, square to the surface, by plain sampling. */
function ridgeBySampling(h: Hollow, nose: Nose, stands: readonly Stand[], middle: number): number {
  const whole = surface(h, middle);
  const { mouth } = endsOfHollow(h);
  let most = 0;
  const count = 12_000;
  for (let k = 0; k <= count; k++) {
    const d = mouth.x + ((middle - mouth.x) * k) / count;
    const y = Math.min(0, ...stands.map((s) => s.z + rise(nose, Math.abs(d - s.inset))));
    most = Math.max(most, away(whole, { x: d, y }));
  }
  return most;
}

describe("the way of a nose", () => {
  it("keeps exactly its radius off the surface, and touches nothing else", () => {
    fc.assert(
      fc.property(wordsThatFit, fc.double({ min: 0.2, max: 1, noNaN: true }), (w, share) => {
        const h = built(w);
        const nose = share * w.footRadius;
        const way = noseWay(h, nose, w.middle)!;
        const whole = surface(h, w.middle + 10);
        for (const [i, s] of way.entries()) {
          const next = way[i + 1];
          if (next !== undefined) expect(Math.hypot(s.to.x - next.from.x, s.to.y - next.from.y)).toBeLessThan(1e-6);
          for (const t of [0, 0.3, 0.7, 1]) expect(Math.abs(away(whole, pointAt(s, t)) - nose)).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("has none where the nose is rounder than the hollow", () => {
    const h = built({ depth: 8, leanDeg: 0, footRadius: 2.9, dish: 0, ease: 0, middle: 12 });
    expect(noseWay(h, 3, 12)).toBeUndefined();
    expect(standsFor(h, { nose: 3, core: 0 }, 12, { wall: 0.02, floor: 0.02 })).toBeUndefined();
  });

  it("is walked in steps whose ridges are as high as allowed, for balls and for flats with a radius", () => {
    fc.assert(
      fc.property(wordsThatFit, fc.boolean(), um(0.01, 0.06), (w, flat, allowed) => {
        // A flat does not reach the middle of a dish; nor does one wider than the hollow.
        const nose: Nose =
          flat && w.dish === 0 && w.middle > 8 ? { nose: 1, core: 1.5 } : { nose: w.footRadius, core: 0 };
        if (w.middle < nose.nose + nose.core + 1.5 || endsOfHollow(built(w)).floor.x > w.middle - 1) {
          if (w.dish === 0) return;
        }
        const h = built(w);
        const stands = standsFor(h, nose, w.middle, { wall: allowed, floor: allowed })!;
        expect(ridgeBySampling(h, nose, stands, w.middle)).toBeLessThan(allowed + 1e-5);
        for (const s of stands) expect(s.inset).toBeLessThan(w.middle);
      }),
      { numRuns: 40 },
    );
  });

  it("takes as many steps as the textbook's formula says", () => {
    // A long dish of radius ρ by a ball of radius R: s = √(8 h R ρ / (ρ − R)) along the surface.
    const h = built({ depth: 4, leanDeg: 0, footRadius: 3, dish: 8, ease: 0, middle: 40 });
    const dish = h.segments[h.segments.length - 1]!;
    if (dish.kind !== "arc") throw new Error("a dish was expected");
    const rho = radiusOf(dish);
    const step = Math.sqrt((8 * 0.02 * 3 * rho) / (rho - 3));
    const stands = standsFor(h, { nose: 3, core: 0 }, 40, { wall: 0.02, floor: 0.02 })!;
    const onDish = stands.filter((s) => s.inset > dish.from.x + 3).slice(0, -1);
    expect(onDish.length).toBeGreaterThan(30);
    for (const [i, s] of onDish.entries()) {
      const next = onDish[i + 1];
      if (next === undefined) continue;
      // The ball's centres run on a circle of radius ρ − R; the surface between their contacts is ρ / (ρ − R) as long.
      const along = (Math.hypot(next.inset - s.inset, next.z - s.z) * rho) / (rho - 3);
      expect(Math.abs(along / step - 1)).toBeLessThan(0.003);
    }
    const length = rho * Math.asin((40 - dish.from.x) / rho);
    expect(Math.abs(stands.filter((s) => s.inset > dish.from.x).length - length / step)).toBeLessThanOrEqual(2);
  });

  it("has published ridges on a level floor: R 3, step 0.6 leaves 0.0150", () => {
    const h = built({ depth: 5, leanDeg: 0, footRadius: 3, dish: 0, ease: 0, middle: 20 });
    const ridge = 3 - Math.sqrt(9 - 0.09);
    expect(ridge).toBeCloseTo(0.0150377, 6);
    const stands = standsFor(h, { nose: 3, core: 0 }, 20, { wall: ridge, floor: ridge })!;
    const level = stands.filter((s) => Math.abs(s.z + 5) < 1e-9 && s.inset > 3.0001);
    expect(level[1]!.inset - level[0]!.inset).toBeCloseTo(0.6, 5);
  });

  it("goes down an upright wall once, at its foot", () => {
    const h = built({ depth: 9, leanDeg: 0, footRadius: 3.2, dish: 0, ease: 0, middle: 12 });
    const stands = standsFor(h, { nose: 3, core: 0 }, 12, { wall: 0.02, floor: 0.02 })!;
    expect(stands[0]!.inset).toBeCloseTo(3, 6);
    expect(stands[0]!.z).toBeCloseTo(-5.8 - 3, 6);
  });
});
