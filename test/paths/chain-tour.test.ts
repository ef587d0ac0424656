import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Chain, chainLength, circleChain, isClosed } from "../../src/paths/chain.ts";
import { chainTour, wayBetween } from "../../src/paths/chain-tour.ts";
import { distance, type Point } from "../../src/shapes/point.ts";
import { line, pointAt } from "../../src/shapes/segment.ts";
import { nearestTour } from "../../src/shapes/tour.ts";

const mm = (max: number): fc.Arbitrary<number> => fc.integer({ min: 0, max: max * 1000 }).map((v) => v / 1000);
const place: fc.Arbitrary<Point> = fc.record({ x: mm(150), y: mm(150) });
const stroke: fc.Arbitrary<Chain> = fc.tuple(place, place, place).map(([a, b, c]) => [line(a, b), line(b, c)]);
const ring: fc.Arbitrary<Chain> = fc
  .tuple(place, mm(10), mm(6))
  .map(([c, r, turn]) => circleChain(c, 1 + r, turn, true));
const square: fc.Arbitrary<Chain> = fc.tuple(place, mm(20)).map(([p, s]) => {
  const [a, b, c, d] = [p, { x: p.x + 1 + s, y: p.y }, { x: p.x + 1 + s, y: p.y + 1 + s }, { x: p.x, y: p.y + 1 + s }];
  return [line(a, b), line(b, c), line(c, d), line(d, a)];
});
const chains = fc.array(fc.oneof(stroke, ring, square), { minLength: 1, maxLength: 25 });

describe("chains on a short round", () => {
  it("are all there, whole, closed ones closed, on a way no longer than to the nearest each time", () => {
    fc.assert(
      fc.property(chains, fc.option(place, { nil: undefined }), (given, from) => {
        const order = chainTour(given, from);
        expect(order).toHaveLength(given.length);
        expect(lengths(order)).toEqual(lengths(given));
        expect(order.filter(isClosed)).toHaveLength(given.filter(isClosed).length);
        const stops = given.map((c) => ({ from: c[0]!.from, to: c[c.length - 1]!.to }));
        const nearest = nearestTour(stops, from === undefined ? {} : { start: from });
        expect(wayBetween(order, from)).toBeLessThanOrEqual(nearest.length + 1e-6);
      }),
      { numRuns: 40 },
    );
  });

  it("a closed one is begun where the way over it is shortest: no place on it, tried one by one, does better", () => {
    fc.assert(
      fc.property(fc.oneof(ring, square), place, place, (closed, from, to) => {
        const order = chainTour([closed, [line(to, { x: to.x + 500, y: to.y })]], from);
        const at = order.findIndex(isClosed);
        // The stroke may come first where that is shorter.
        if (at !== 0) return;
        const over = (p: Point): number => distance(from, p) + distance(p, order[1]![0]!.from);
        const tried = closed.flatMap((s) => Array.from({ length: 101 }, (_, k) => over(pointAt(s, k / 100))));
        expect(over(order[0]![0]!.from)).toBeLessThanOrEqual(Math.min(...tried) + 1e-4);
      }),
      { numRuns: 40 },
    );
  });
});

function lengths(all: readonly Chain[]): number[] {
  return all.map((c) => Math.round(chainLength(c) * 1e6) / 1e6).sort((a, b) => a - b);
}
