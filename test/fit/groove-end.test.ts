import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noseContact, noseRadius, noseStop } from "../../src/fit/groove-end.ts";

/** A point. */
interface P {
  readonly x: number;
  readonly y: number;
}

/** Points of a runner's front end, tip at x = 0, its middle at y = 0: two quarter rounds and the flat between them. */
function runnerPoints(height: number, c: number, n: number): readonly P[] {
  const half = height / 2;
  const points: P[] = [];
  for (let i = 0; i <= n; i++) {
    const a = (Math.PI / 2) * (i / n);
    for (const side of [1, -1]) points.push({ x: c - c * Math.cos(a), y: side * (half - c + c * Math.sin(a)) });
  }
  return points;
}

/** How far a groove reaches towards the runner at a height: its wall, as a distance from its farthest point. */
function grooveWall(height: number, r: number, y: number): number {
  const beyond = Math.abs(y) - (height / 2 - r);
  if (beyond <= 0) return 0;
  return beyond > r ? Number.POSITIVE_INFINITY : r - Math.sqrt(r * r - beyond * beyond);
}

/** Slides the runner in until one of its points meets the wall: the tip's place is the most that any point needs. */
function slidIn(groove: { height: number; radius: number }, nose: { height: number; radius: number }, above: number) {
  let tip = 0;
  for (const p of runnerPoints(nose.height, nose.radius, 4000)) {
    tip = Math.max(tip, grooveWall(groove.height, groove.radius, p.y + above) - p.x);
  }
  return tip;
}

describe("where a runner's nose meets the end of its groove", () => {
  it("agrees with sliding one outline into the other, point by point", () => {
    const um = (min: number, max: number) => fc.integer({ min, max }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        um(6000, 16000),
        um(50, 900),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: -0.98, max: 0.98, noNaN: true }),
        (height, play, noseShare, endShare, lie) => {
          const nose = { height, radius: (noseShare * height) / 2 };
          const groove = { height: height + play, radius: (endShare * (height + play)) / 2 };
          const above = (lie * play) / 2;
          const brute = slidIn(groove, nose, above);
          // Sampled points can miss the touching one, never pass it.
          expect(brute).toBeLessThanOrEqual(noseContact(groove, nose, above) + 1e-6);
          expect(brute).toBeGreaterThan(noseContact(groove, nose, above) - 0.005);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("a round nose in a round end goes home to the tip in the middle, and touches half the play before when it hangs", () => {
    const stop = noseStop({ height: 9.9, radius: 4.95 }, { height: 9.5, radius: 4.75 });
    expect(stop.home).toBeCloseTo(0, 12);
    expect(stop.touch).toBeCloseTo(0.2, 9);
    expect(stop.lift).toBeCloseTo(0.2, 12);
  });

  it("a nose no sharper than the corners of a square end stops crisply at its tip", () => {
    expect(noseStop({ height: 9.9, radius: 3 }, { height: 9.5, radius: 3 })).toEqual({ home: 0, touch: 0, lift: 0 });
    expect(noseStop({ height: 9.9, radius: 3 }, { height: 9.5, radius: 4.75 }).touch).toBe(0);
  });

  it("a square nose stops before the tip of a round end: r − √(r² − (h/2)²) for sharp corners in the middle", () => {
    const groove = { height: 10, radius: 5 };
    expect(noseContact(groove, { height: 9.6, radius: 0 }, 0)).toBeCloseTo(5 - Math.sqrt(25 - 4.8 ** 2), 12);
    expect(noseContact(groove, { height: 9.6, radius: 0 }, 0.2)).toBeCloseTo(5, 6);
  });

  it("pushing home never takes the drawer farther than hanging free", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4750 }), fc.integer({ min: 0, max: 4950 }), (c, r) => {
        const stop = noseStop({ height: 9.9, radius: r / 1000 }, { height: 9.5, radius: c / 1000 });
        expect(stop.touch).toBeGreaterThanOrEqual(stop.home);
      }),
      { numRuns: 50 },
    );
  });

  it("a round nose is half the runner's height, and never more than the groove's end radius", () => {
    expect(noseRadius(9.5, 4.95, "round")).toBe(4.75);
    expect(noseRadius(9.5, 3.2, "round")).toBe(3.2);
    expect(noseRadius(9.5, 4.95, { eased: 1 })).toBe(1);
    expect(() => noseRadius(9.5, 4.95, { eased: 5 })).toThrow(RangeError);
  });

  it("a runner that is not within its groove is our mistake", () => {
    expect(() => noseContact({ height: 9, radius: 4 }, { height: 9.5, radius: 4 }, 0)).toThrow(RangeError);
    expect(() => noseContact({ height: 10, radius: 5 }, { height: 9.5, radius: 4 }, 0.3)).toThrow(RangeError);
  });
});
