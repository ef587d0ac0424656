import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { contactOver, leftUnder, standsOver } from "../../src/plan/turning-contact.ts";
import {
  chainOf,
  type Envelope,
  envelopeAt,
  linePiece,
  piecesOf,
  upperEnvelope,
} from "../../src/plan/turning-envelope.ts";
import { extentOfMeridian, type Meridian } from "../../src/shapes/meridian.ts";
import { nearestOn } from "../../src/shapes/nearest-on.ts";
import { lowerEdgeAt, turningShape } from "../../src/shop/turning-profile.ts";
import { anyMeridian, anyTool, tool } from "../paths/turning/profiles.ts";

function woodOf(m: Meridian): Envelope {
  const { from, to } = extentOfMeridian(m);
  return upperEnvelope([...piecesOf(m.segments), linePiece(from - 30, 0, to + 30, 0)!]);
}

describe("where a turning tool may stand", () => {
  it("agrees with trying every place, for any profile and tool", () => {
    fc.assert(
      fc.property(anyMeridian, anyTool, fc.integer({ min: 0, max: 1000 }), (m, t, share) => {
        const wood = woodOf(m);
        const shape = turningShape(t);
        const { from, to } = extentOfMeridian(m);
        const x = from - 5 + (share / 1000) * (to - from + 10);
        let most = 0;
        for (let k = -6000; k <= 6000; k++) {
          const lower = lowerEdgeAt(shape, k / 1000);
          if (Number.isFinite(lower)) most = Math.max(most, envelopeAt(wood, x + k / 1000) - lower);
        }
        const exact = envelopeAt(contactOver(wood, shape), x);
        // Trying misses a corner by up to half a step: at a side that runs straight back that is a jump.
        expect(exact).toBeGreaterThanOrEqual(most - 1e-9);
        const near = [x - 0.001, x + 0.001].map((p) => envelopeAt(contactOver(wood, shape), p));
        expect(Math.min(exact, ...near)).toBeLessThanOrEqual(most + 0.07);
      }),
      { numRuns: 40 },
    );
  });

  it("keeps a nose exactly its radius off what it can touch, and never nearer", () => {
    fc.assert(
      fc.property(anyMeridian, (m) => {
        const t = tool();
        const chain = chainOf(contactOver(woodOf(m), turningShape(t)));
        const { from, to } = extentOfMeridian(m);
        for (const s of chain) {
          for (const p of [s.from, s.to]) {
            if (p.x < from || p.x > to) continue;
            const d = Math.min(...m.segments.map((q) => nearestOn(q, p).distance), p.y);
            expect(d).toBeGreaterThan(2 - 1e-6);
            expect(d).toBeLessThan(2 + 1e-6);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it("leaves a fillet of its own radius in a square corner, and nothing on a plain cylinder", () => {
    const m = {
      segments: [
        { kind: "line", from: { x: 0, y: 10 }, to: { x: 20, y: 10 } },
        { kind: "line", from: { x: 20, y: 10 }, to: { x: 20, y: 5 } },
        { kind: "line", from: { x: 20, y: 5 }, to: { x: 40, y: 5 } },
      ],
    } as const;
    const shape = turningShape(tool());
    const left = leftUnder(contactOver(woodOf(m), shape), shape);
    expect(envelopeAt(left, 10)).toBeCloseTo(10, 9);
    expect(envelopeAt(left, 30)).toBeCloseTo(5, 9);
    // 2 − √(2² − 1²) above the floor, 1 mm off the wall.
    expect(envelopeAt(left, 21)).toBeCloseTo(5 + 2 - Math.sqrt(3), 9);
  });

  it("lifts a tool whose holder would meet a high neighbour", () => {
    const m = {
      segments: [
        { kind: "line", from: { x: 0, y: 30 }, to: { x: 20, y: 30 } },
        { kind: "line", from: { x: 20, y: 30 }, to: { x: 20, y: 5 } },
        { kind: "line", from: { x: 20, y: 5 }, to: { x: 60, y: 5 } },
      ],
    } as const;
    const t = tool({ reach: 20, holderHalfWidth: 10 });
    const stands = standsOver(woodOf(m), t);
    // Tip at 30 − 20 = 10 beside the wall, reference 2 above it; free beyond the holder's half width.
    expect(envelopeAt(stands, 25)).toBeCloseTo(12, 9);
    expect(envelopeAt(stands, 45)).toBeCloseTo(7, 9);
  });
});
