import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  nearestTour,
  type Stop,
  type Tour,
  type TourWish,
  tourLength,
  tourOf,
  USUAL_TRIES,
} from "../../src/shapes/tour.ts";
import { INSTANCES, roundedLength } from "./published-tours.ts";

describe.each(INSTANCES)("$name", ({ points, optimum }) => {
  const stops = points.map((p) => ({ from: p, to: p }));
  const orderOf = (tries: number): number[] => tourOf(stops, { closed: true, tries }).turns.map((t) => t.index);

  it("is at most 5 % longer than the published optimum with few tries, 1 % with the usual ones, and never shorter", () => {
    expect(roundedLength(points, orderOf(2))).toBeLessThanOrEqual(optimum * 1.05);
    const usual = roundedLength(points, orderOf(USUAL_TRIES));
    expect(usual).toBeLessThanOrEqual(optimum * 1.01);
    expect(usual).toBeGreaterThanOrEqual(optimum);
  });
});

const place = fc.record({
  x: fc.integer({ min: 0, max: 200_000 }).map((v) => v / 1000),
  y: fc.integer({ min: 0, max: 200_000 }).map((v) => v / 1000),
});
const point: fc.Arbitrary<Stop> = place.map((p) => ({ from: p, to: p }));
const stretch: fc.Arbitrary<Stop> = fc.record({ from: place, to: place });
const stopsOf = (maxLength: number): fc.Arbitrary<Stop[]> =>
  fc.array(fc.oneof(point, stretch), { minLength: 1, maxLength });
const ways: fc.Arbitrary<Omit<TourWish, "tries">> = fc.oneof(
  fc.constant({ closed: true }),
  fc.constant({}),
  place.map((start) => ({ start })),
  place.map((end) => ({ end })),
  fc.record({ start: place, end: place }),
);

function expectWhole(tour: Tour, stops: readonly Stop[], wish: Omit<TourWish, "tries">): void {
  expect(tour.turns.map((t) => t.index).sort((a, b) => a - b)).toEqual(stops.map((_, i) => i));
  expect(tour.length).toBeCloseTo(tourLength(stops, tour.turns, wish), 6);
}

describe("any stops, points and stretches", () => {
  it("are each visited once, the length is the one that is told, and no longer than by nearest neighbours", () => {
    fc.assert(
      fc.property(stopsOf(60), ways, (stops, wish) => {
        const tour = tourOf(stops, { ...wish, tries: 3 });
        expectWhole(tour, stops, wish);
        expect(tour.length).toBeLessThanOrEqual(nearestTour(stops, wish).length + 1e-6);
      }),
      { numRuns: 60 },
    );
  });

  it("few of them: within 3 % of the shortest of all orders, tried one by one", () => {
    fc.assert(
      fc.property(stopsOf(5), ways, (stops, wish) => {
        const best = shortest(stops, wish);
        expect(tourOf(stops, { ...wish, tries: 20 }).length).toBeLessThanOrEqual(best * 1.03 + 1e-6);
      }),
      { numRuns: 40 },
    );
  });

  it("come in the same order twice", () => {
    fc.assert(
      fc.property(stopsOf(40), ways, (stops, wish) => {
        expect(tourOf(stops, { ...wish, tries: 3 })).toEqual(tourOf(stops, { ...wish, tries: 3 }));
      }),
      { numRuns: 10 },
    );
  });

  it("all in one place, in a line, or far off: still whole", () => {
    const one = Array.from({ length: 30 }, () => ({ from: { x: 5, y: 5 }, to: { x: 5, y: 5 } }));
    expectWhole(tourOf(one, { tries: 3 }), one, {});
    const row = Array.from({ length: 40 }, (_, i) => ({
      from: { x: (i * 17) % 40, y: 0 },
      to: { x: (i * 17) % 40, y: 0 },
    }));
    expect(tourOf(row, { start: { x: 0, y: 0 }, tries: 3 }).length).toBeCloseTo(39, 9);
    const far = row.map(({ from }) => ({ from: { x: from.x * 1e9, y: 1e12 }, to: { x: from.x * 1e9, y: 1e12 } }));
    expectWhole(tourOf(far, { closed: true, tries: 1 }), far, { closed: true });
  });

  it("a coordinate that is no number is a mistake of the caller", () => {
    expect(() => tourOf([{ from: { x: Number.NaN, y: 0 }, to: { x: 0, y: 0 } }], { tries: 1 })).toThrow(RangeError);
  });

  it("none: no way at all", () => {
    expect(tourOf([], { tries: 5 })).toEqual({ turns: [], length: 0 });
  });
});

function shortest(stops: readonly Stop[], wish: Omit<TourWish, "tries">): number {
  let best = Number.POSITIVE_INFINITY;
  const visit = (left: readonly number[], turns: Tour["turns"]): void => {
    if (left.length === 0) best = Math.min(best, tourLength(stops, turns, wish));
    for (const index of left) {
      for (const reversed of [false, true])
        visit(
          left.filter((i) => i !== index),
          [...turns, { index, reversed }],
        );
    }
  };
  visit(
    stops.map((_, i) => i),
    [],
  );
  return best;
}
