import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { surenessOf } from "../../src/fit/sureness.ts";
import {
  exactly,
  type Gap,
  gapValue,
  hangingOn,
  leastOf,
  likelyCase,
  minus,
  mostOf,
  namesIn,
  plus,
  sensitivities,
  sized,
  standsUpTo,
  straightened,
  times,
  worstCase,
} from "../../src/fit/sureness-gap.ts";
import { readingsIn, toleranceOf, trueSize, usualTolerance } from "../../src/fit/sureness-instruments.ts";
import type { Measurement } from "../../src/job/job.ts";

const NAMES = ["a", "b", "c", "d"] as const;
const READINGS: ReadonlyMap<string, number> = new Map([
  ["a", 142.3],
  ["b", 142.1],
  ["c", 9.2],
  ["d", 57.4],
]);
const tolerances = fc.tuple(...NAMES.map(() => fc.integer({ min: 0, max: 1000 }).map((um) => um / 1000)));

/** A gap with, beside it, the same reckoned the plain way: the referee. */
interface Refereed {
  readonly gap: Gap;
  readonly plain: (at: ReadonlyMap<string, number>) => number;
}

const leaf: fc.Arbitrary<Refereed> = fc.oneof(
  fc
    .constantFrom(...NAMES)
    .map((name): Refereed => ({ gap: sized(name, READINGS.get(name)!), plain: (at) => at.get(name)! })),
  fc.integer({ min: -50_000, max: 50_000 }).map((um) => ({ gap: exactly(um / 1000), plain: () => um / 1000 })),
);
const gaps: fc.Arbitrary<Refereed> = fc.letrec<{ gap: Refereed }>((tie) => ({
  gap: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    leaf,
    fc
      .tuple(tie("gap"), tie("gap"))
      .map(([a, b]): Refereed => ({ gap: plus(a.gap, b.gap), plain: (at) => a.plain(at) + b.plain(at) })),
    fc
      .tuple(tie("gap"), tie("gap"))
      .map(([a, b]): Refereed => ({ gap: minus(a.gap, b.gap), plain: (at) => a.plain(at) - b.plain(at) })),
    fc
      .tuple(tie("gap"), fc.integer({ min: -20, max: 20 }))
      .map(([a, k]): Refereed => ({ gap: times(k / 10, a.gap), plain: (at) => (k / 10) * a.plain(at) })),
    fc.tuple(tie("gap"), tie("gap")).map(
      ([a, b]): Refereed => ({
        gap: leastOf([a.gap, b.gap]),
        plain: (at) => Math.min(a.plain(at), b.plain(at)),
      }),
    ),
    fc.tuple(tie("gap"), tie("gap")).map(
      ([a, b]): Refereed => ({
        gap: mostOf([a.gap, b.gap]),
        plain: (at) => Math.max(a.plain(at), b.plain(at)),
      }),
    ),
  ),
})).gap;

describe("a gap as a function of what was measured", () => {
  const errors = fc.tuple(...NAMES.map(() => fc.integer({ min: -1000, max: 1000 }).map((k) => k / 1000)));

  it("has the value that plain reckoning gives, at the readings and anywhere else", () => {
    fc.assert(
      fc.property(gaps, errors, ({ gap, plain }, e) => {
        const at = new Map(NAMES.map((n, k) => [n, READINGS.get(n)! + e[k]!]));
        expect(gapValue(gap)).toBeCloseTo(plain(READINGS), 8);
        expect(gapValue(gap, at)).toBeCloseTo(plain(at), 8);
      }),
      { numRuns: 60 },
    );
  });

  it("lies between its worst cases, whatever the errors within their tolerances", () => {
    fc.assert(
      fc.property(gaps, errors, tolerances, ({ gap, plain }, e, tol) => {
        const tolerance = (name: string): number => tol[NAMES.indexOf(name as "a")]!;
        const { least, most } = worstCase(gap, tolerance);
        const at = new Map(NAMES.map((n, k) => [n, READINGS.get(n)! + e[k]! * tolerance(n)]));
        expect(plain(at)).toBeGreaterThanOrEqual(least - 1e-8);
        expect(plain(at)).toBeLessThanOrEqual(most + 1e-8);
        const likely = likelyCase(gap, tolerance);
        expect(likely.least).toBeGreaterThanOrEqual(least - 1e-8);
        expect(likely.most).toBeLessThanOrEqual(most + 1e-8);
      }),
      { numRuns: 60 },
    );
  });

  it("changes by its sensitivities, where no other branch is near", () => {
    fc.assert(
      fc.property(gaps, ({ gap, plain }) => {
        const step = 1e-6;
        for (const name of NAMES) {
          const nudged = (by: number): number => plain(new Map([...READINGS, [name, READINGS.get(name)! + by]]));
          const up = (nudged(step) - nudged(0)) / step;
          const down = (nudged(0) - nudged(-step)) / step;
          // At a tie of branches there is no one derivative.
          if (Math.abs(up - down) > 1e-3) continue;
          expect(sensitivities(gap).get(name) ?? 0).toBeCloseTo(up, 3);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("stands tolerances multiplied as far as it says, and no further", () => {
    fc.assert(
      fc.property(gaps, tolerances, ({ gap }, tol) => {
        const tolerance = (name: string): number => tol[NAMES.indexOf(name as "a")]!;
        const value = gapValue(gap);
        const limits = { least: value - 0.7, most: value + 0.9 };
        const k = standsUpTo(gap, tolerance, limits);
        const times = Math.min(k, 1000);
        const { least, most } = worstCase(gap, (n) => times * tolerance(n));
        expect(least).toBeGreaterThanOrEqual(limits.least - 1e-6);
        expect(most).toBeLessThanOrEqual(limits.most + 1e-6);
        if (k < 1000) {
          const further = worstCase(gap, (n) => (k + 0.001) * 1.001 * tolerance(n));
          expect(further.least < limits.least || further.most > limits.most).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("knows errors that cancel: what is taken away again does not count", () => {
    const gap = minus(plus(sized("a", 10), sized("b", 5)), sized("a", 10));
    expect(namesIn(gap)).toEqual(["b"]);
    expect(worstCase(gap, () => 1)).toEqual({ least: 4, most: 6 });
  });

  it("adds a plain sum's errors straight in the worst case, and by squares in the likely one", () => {
    const gap = minus(sized("a", 10), times(2, sized("b", 4)));
    const tolerance = (n: string): number => (n === "a" ? 0.3 : 0.2);
    expect(worstCase(gap, tolerance).least).toBeCloseTo(2 - 0.7, 12);
    expect(likelyCase(gap, tolerance).most).toBeCloseTo(2 + 0.5, 12);
  });

  it("straightens a formula that bends: the diagonal of an opening, right to the first order", () => {
    const [w, h] = [300, 400];
    const gap = straightened(500, [
      { name: "width", reading: w, derivative: w / 500 },
      { name: "height", reading: h, derivative: h / 500 },
    ]);
    const at = new Map([
      ["width", 300.2],
      ["height", 399.9],
    ]);
    expect(gapValue(gap, at)).toBeCloseTo(Math.hypot(300.2, 399.9), 3);
  });

  it("can be said by what it hangs on", () => {
    const gap = hangingOn(1.4, [
      { name: "opening", share: 1 },
      { name: "side", share: -2 },
      { name: "opening", share: 0.5 },
    ]);
    expect(gapValue(gap)).toBe(1.4);
    expect(sensitivities(gap)).toEqual(
      new Map([
        ["opening", 1.5],
        ["side", -2],
      ]),
    );
  });

  it("refuses two readings under one name", () => {
    expect(() => plus(sized("a", 1), sized("a", 2))).toThrow(RangeError);
  });
});

describe("how sure a gap is", () => {
  const tolerance = (name: string) => toleranceOf(name.startsWith("opening") ? "calipers" : "rule");
  const limits = { least: 0, most: 2, from: "the test" };

  it("names the size that matters most, how far each may be off alone, and which to measure again", () => {
    const gap = minus(minus(sized("opening", 142.1), exactly(123.7)), times(2, sized("side", 9)));
    const sure = surenessOf(gap, tolerance, limits);
    expect(sure.value).toBeCloseTo(0.4, 9);
    expect(sure.worst.least).toBeCloseTo(0.4 - 0.1 - 0.6, 9);
    expect(sure.likely.least).toBeCloseTo(0.4 - Math.hypot(0.1, 0.6), 9);
    expect(sure.matters).toMatchObject({ name: "side", factor: -2 });
    expect(sure.matters!.part).toBeCloseTo(0.6, 9);
    expect(sure.matters!.alone).toBeCloseTo(0.2, 9);
    expect(sure.holds).toBe(false);
    expect(sure.stands).toBeCloseTo(0.4 / 0.7, 9);
    expect(sure.measureAgain?.name).toBe("side");
  });

  it("does not ask to measure again what holds, or what is still to be made", () => {
    const holds = surenessOf(minus(sized("opening", 10), exactly(9)), tolerance, limits);
    expect(holds).toMatchObject({ holds: true });
    expect(holds.measureAgain).toBeUndefined();
    const made = surenessOf(minus(exactly(10), sized("cut", 9.9)), () => toleranceOf("by hand"), limits);
    expect(made).toMatchObject({ holds: false, matters: { name: "cut" } });
    expect(made.measureAgain).toBeUndefined();
  });

  it("with nothing measured is as sure as can be", () => {
    const sure = surenessOf(exactly(1), tolerance, limits);
    expect(sure).toMatchObject({ holds: true, shares: [], stands: Number.POSITIVE_INFINITY });
    expect(sure.matters).toBeUndefined();
  });

  it("of a gap that is already wrong, stands nothing", () => {
    expect(surenessOf(sized("opening", -0.1), tolerance, limits).stands).toBe(0);
  });

  it("takes the narrowest of several readings, each with an error of its own", () => {
    const opening = leastOf([
      sized("opening, mouth", 142.3),
      sized("opening, middle", 142.1),
      sized("opening, back", 142.4),
    ]);
    const sure = surenessOf(minus(opening, exactly(141.5)), tolerance, limits);
    expect(sure.value).toBeCloseTo(0.6, 9);
    expect(sure.worst.least).toBeCloseTo(0.5, 9);
    // Two of the readings may both be the narrowest.
    expect(sure.worst.most).toBeCloseTo(0.7, 9);
    expect(sure.matters?.name).toBe("opening, middle");
  });
});

describe("measuring tools", () => {
  const measurement: Measurement = {
    name: "opening width",
    value: 142.1,
    power: 1,
    readings: [
      { place: "mouth", value: 142.3 },
      { place: "middle", value: 142.1 },
      { place: "back", value: 142.4 },
    ],
    with: "calipers",
    source: { file: "job.yaml", line: 1, column: 1, length: 1, text: "" },
  };

  it("have a tolerance each, the user's own where given", () => {
    const order = ["gauge", "calipers", "rule", "unsaid", "tape"] as const;
    const usual = order.map((i) => usualTolerance(i).plusMinus);
    expect([...usual].sort((a, b) => a - b)).toEqual(usual);
    for (const i of order) expect(usualTolerance(i).from).toBe("common practice, no source");
    expect(toleranceOf("calipers", { calipers: 0.03 })).toMatchObject({ plusMinus: 0.03, from: "your own" });
    expect(toleranceOf("tape", { calipers: 0.03 })).toEqual(usualTolerance("tape"));
    expect(toleranceOf("rule", { rule: 0 }).plusMinus).toBe(0);
    for (const i of ["moisture meter", "weeks in the shop", "guess"] as const) expect(usualTolerance(i).unit).toBe("%");
  });

  it("give every place its own reading", () => {
    expect(readingsIn(measurement).map((r) => r.name)).toEqual([
      "opening width, mouth",
      "opening width, middle",
      "opening width, back",
    ]);
    expect(readingsIn({ ...measurement, readings: [] })).toEqual([
      { name: "opening width", value: 142.1, with: "calipers" },
    ]);
    expect(gapValue(trueSize(measurement, "least")!)).toBe(142.1);
    expect(gapValue(trueSize(measurement, "most")!)).toBe(142.4);
    expect(gapValue(trueSize(measurement, { place: "back" })!)).toBe(142.4);
    expect(trueSize(measurement, { place: "top" })).toBeUndefined();
  });
});
