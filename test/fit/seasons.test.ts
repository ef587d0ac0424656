import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { equilibriumMoisture } from "../../src/fit/moisture.ts";
import { type GrainDirection, growthOf } from "../../src/fit/movement.ts";
import { seasonInWords, type Year, yearOf } from "../../src/fit/seasons.ts";
import { changeOf } from "../../src/fit/seasons-change.ts";
import { type Extent, type GapSpec, gapsOver } from "../../src/fit/seasons-gaps.ts";
import { type Today, todayOf, weeksFor } from "../../src/fit/seasons-today.ts";
import { exactly, minus, sized } from "../../src/fit/sureness-gap.ts";
import { toleranceOf } from "../../src/fit/sureness-instruments.ts";
import { gapInWords } from "../../src/fit/sureness-words.ts";
import { defaultWoods } from "../../src/shop/default-woods.ts";
import type { WoodKind } from "../../src/shop/wood.ts";

const wood = (name: string): WoodKind => defaultWoods().find((w) => w.name === name)!;
const codes = (found: { readonly findings: readonly { grade: string; code: string }[] }): readonly string[] =>
  found.findings.map((f) => `${f.grade} ${f.code}`);
const usual = yearOf(undefined).year!;
const meter = (percent: number, year: Year = usual): Today => todayOf({ kind: "meter", percent }, 9, year).today!;
const calipers = () => toleranceOf("calipers");

describe("the year", () => {
  it("is the user's seasons in their order, with the wettest and the driest found", () => {
    const { year, findings } = yearOf({
      april: { celsius: 19, humidity: 45 },
      july: { celsius: 26, humidity: 66 },
      january: { celsius: 21, humidity: 34 },
    });
    expect(findings).toEqual([]);
    expect(year?.seasons.map((s) => s.name)).toEqual(["april", "july", "january"]);
    expect(year).toMatchObject({ from: "job file", wettest: { name: "july" }, driest: { name: "january" } });
    expect(year?.wettest.moisture).toBe(equilibriumMoisture({ celsius: 26, humidity: 66 }));
    expect(seasonInWords(year!.wettest)).toMatch(/^july: 26 °C and 66 %, wood at 1[12]\.\d % \(Wood Handbook/);
  });

  it("is a usual one where the job names none, marked as such, inside the coefficients' range", () => {
    expect(yearOf(undefined)).toMatchObject({ year: { from: "built-in default" }, findings: [] });
  });

  it("refuses air that there is not, and a single season", () => {
    expect(codes(yearOf({ wet: { celsius: 20, humidity: 100 }, dry: { celsius: 20, humidity: 30 } }))).toEqual([
      "refuse fit-climate-impossible",
    ]);
    expect(codes(yearOf({ wet: { celsius: 70, humidity: 60 }, dry: { celsius: 20, humidity: 0 } }))).toEqual([
      "refuse fit-climate-impossible",
      "refuse fit-climate-impossible",
    ]);
    expect(codes(yearOf({ summer: { celsius: 20, humidity: 60 } }))).toEqual(["refuse fit-seasons-few"]);
    expect(codes(yearOf({}))).toEqual(["refuse fit-seasons-few"]);
  });

  it("cautions off the published table, and outside the coefficients' range", () => {
    expect(codes(yearOf({ wet: { celsius: 20, humidity: 95 }, dry: { celsius: 20, humidity: 40 } }))).toEqual([
      "caution fit-climate-off-table",
      "caution fit-moisture-off-range",
    ]);
    expect(codes(yearOf({ wet: { celsius: 20, humidity: 60 }, dry: { celsius: 20, humidity: 15 } }))).toEqual([
      "caution fit-moisture-off-range",
    ]);
  });
});

describe("the wood's moisture today", () => {
  it("by meter is what it reads, give or take the meter", () => {
    const { today, findings } = todayOf({ kind: "meter", percent: 8.5 }, 9, usual);
    expect(findings).toEqual([]);
    expect(today).toMatchObject({ moisture: 8.5, plusMinus: 1, guess: false });
    expect(todayOf({ kind: "meter", percent: 8.5 }, 9, usual, {}, { "moisture meter": 0.5 }).today?.plusMinus).toBe(
      0.5,
    );
    expect(codes(todayOf({ kind: "meter", percent: 42 }, 9, usual))).toEqual(["refuse fit-moisture-impossible"]);
  });

  it("by weeks goes from what it was to the shop's air, quickly where thin; two thirds of the way in the stated weeks", () => {
    const air = { celsius: 18, humidity: 55 };
    const end = equilibriumMoisture(air);
    const lain = (weeks: number, thickness: number): Today =>
      todayOf({ kind: "weeks", weeks, air, before: 7 }, thickness, usual).today!;
    expect(lain(0, 20).moisture).toBe(7);
    expect(lain(weeksFor(20), 20).moisture).toBeCloseTo(7 + (end - 7) * (1 - Math.exp(-1)), 9);
    expect(weeksFor(10)).toBeCloseTo(weeksFor(20) / 4, 12);
    expect(lain(200, 20).moisture).toBeCloseTo(end, 6);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 40, max: 300 }), (tenths, thickness) => {
        const here = lain(tenths / 10, thickness / 10).moisture;
        const later = lain(tenths / 10 + 1, thickness / 10).moisture;
        expect(later).toBeGreaterThanOrEqual(here);
        expect(here).toBeLessThanOrEqual(end + 1e-9);
        expect(lain(tenths / 10, thickness / 10 + 5).moisture).toBeLessThanOrEqual(here + 1e-9);
      }),
      { numRuns: 40 },
    );
  });

  it("by weeks is surer the longer it lay there, where nobody knows what it was before", () => {
    const air = { celsius: 18, humidity: 55 };
    const unsure = [0, 1, 3, 8, 30].map((weeks) => todayOf({ kind: "weeks", weeks, air }, 20, usual).today!.plusMinus);
    expect([...unsure].sort((a, b) => b - a)).toEqual(unsure);
    expect(unsure[0]).toBe(3);
  });

  it("not known is the middle of the year, called a guess, with the whole year either way", () => {
    const found = todayOf({ kind: "guess" }, 9, usual);
    expect(codes(found)).toEqual(["caution fit-moisture-guessed"]);
    const { moisture, plusMinus, guess } = found.today!;
    expect(guess).toBe(true);
    expect(moisture - plusMinus).toBeLessThanOrEqual(usual.driest.moisture);
    expect(moisture + plusMinus).toBeGreaterThanOrEqual(usual.wettest.moisture);
  });
});

/** A drawer side in its opening: the case's height stands still, the side grows across the grain. */
function sideGap(more: Partial<GapSpec> = {}, side: Partial<Extent> = {}, height = 57): GapSpec {
  return {
    name: "gap above the drawer side",
    room: [
      {
        name: "opening",
        size: sized("opening height", 58.5),
        wood: wood("ash"),
        direction: "along",
        today: meter(8),
      },
    ],
    filled: [
      {
        name: "side",
        size: exactly(height),
        wood: wood("ash"),
        direction: "tangential",
        today: meter(8),
        ...side,
      },
    ],
    limits: { least: 0.3, most: 2.5, from: "common practice, no source" },
    place: { part: "left side" },
    ...more,
  };
}

describe("a gap across the year", () => {
  it("is the gap as fitted, less what the wood grows to each season", () => {
    const gap = gapsOver(sideGap(), usual, calipers);
    expect(gap.now.value).toBeCloseTo(1.5, 9);
    expect(gap.guess).toBe(false);
    const c = 0.00274;
    for (const [k, season] of usual.seasons.entries()) {
      expect(gap.seasons[k]!.value, season.name).toBeCloseTo(58.5 - 57 * (1 + c * (season.moisture - 8)), 9);
      expect(gap.seasons[k]).toMatchObject({ when: season.name, form: "6 to 14 %" });
    }
    expect(gap.tightest.when).toBe("wet");
    expect(gap.widest.when).toBe("dry");
    expect(gap.findings).toEqual([]);
    expect(changeOf(57, wood("ash"), "tangential", meter(8), usual).wet).toBeCloseTo(1.5 - gap.tightest.value, 9);
  });

  it("is narrower by the finish on its faces, once that is on", () => {
    const bare = gapsOver(sideGap(), usual, calipers);
    const finished = gapsOver(sideGap({}, { finish: 0.08 }), usual, calipers);
    expect(finished.now.value).toBeCloseTo(bare.now.value, 12);
    for (const [k, g] of finished.seasons.entries()) expect(g.value).toBeCloseTo(bare.seasons[k]!.value - 0.08, 12);
  });

  it("widens in the wet where the room is what grows: a groove across the grain of a side", () => {
    const groove: Extent = { ...sideGap().filled[0]!, name: "groove", size: exactly(9.8) };
    const runner: Extent = { ...groove, name: "runner", size: exactly(9.5), direction: "along" };
    const gap = gapsOver(sideGap({ room: [groove], filled: [runner] }), usual, calipers);
    expect(gap.tightest.when).toBe("dry");
  });

  it("counts the moisture of one wood once, so that what grows together cancels", () => {
    const groove: Extent = { ...sideGap().filled[0]!, name: "groove", size: exactly(9.8) };
    const runner: Extent = { ...groove, name: "runner", size: exactly(9.5) };
    const gap = gapsOver(sideGap({ room: [groove], filled: [runner] }), usual, calipers);
    const [share] = gap.tightest.shares;
    expect(share?.name).toBe("moisture of ash");
    expect(share!.part).toBeLessThan(0.3 * 0.00274 * 1.1);
    const apart = gapsOver(sideGap({ room: [groove], filled: [{ ...runner, today: meter(9) }] }), usual, calipers);
    expect(apart.tightest.shares.map((s) => s.name).sort()).toEqual([
      "moisture of ash, groove",
      "moisture of ash, runner",
    ]);
  });

  it("refuses when it binds, unless that rests on a remembered number; cautions when tight and when it gapes", () => {
    const high = gapsOver(sideGap({}, {}, 58.2), usual, calipers);
    expect(codes(high)).toEqual(["refuse fit-gap-binds"]);
    expect(high.findings[0]).toMatchObject({
      what: 'the gap above the drawer side binds in "wet"',
      limit: { value: 0 },
    });
    const sapele = gapsOver(sideGap({}, { wood: wood("sapele") }, 58.2), usual, calipers);
    expect(codes(sapele)).toEqual(["caution fit-gap-binds"]);
    expect(sapele.findings[0]?.why).toMatch(/0\.00259 .*remembered/);
    expect(codes(gapsOver(sideGap({}, {}, 57.6), usual, calipers))).toEqual(["caution fit-gap-tight"]);
    expect(codes(gapsOver(sideGap({}, {}, 55.5), usual, calipers))).toEqual(["caution fit-gap-gapes"]);
  });

  it("advises enough: with so much more room it neither binds nor is tight", () => {
    fc.assert(
      fc.property(fc.integer({ min: 57_500, max: 59_000 }), (um) => {
        const tight = gapsOver(sideGap({}, {}, um / 1000), usual, calipers);
        const found = tight.findings.find((f) => f.code === "fit-gap-binds" || f.code === "fit-gap-tight");
        const more = Number(/leave ([\d.]+) mm more/.exec(found?.mend ?? "")?.[1] ?? "0");
        const mended = gapsOver(sideGap({ extra: exactly(more) }, {}, um / 1000), usual, calipers);
        expect(codes(mended)).not.toContain("refuse fit-gap-binds");
        expect(codes(mended)).not.toContain("caution fit-gap-tight");
        if (found === undefined) expect(tight.tightest.value).toBeGreaterThanOrEqual(0.3);
      }),
      { numRuns: 40 },
    );
  });

  it("warns where only the measuring may make it bind, and names what to measure again", () => {
    const tape = () => toleranceOf("tape");
    const gap = gapsOver(sideGap({}, {}, 57.2), usual, tape);
    expect(codes(gap)).toEqual(["caution fit-gap-may-bind"]);
    expect(gap.findings[0]?.mend).toMatch(/measure "opening height" again/);
    // A little less: likely errors leave room, all together they do not.
    const all = gapsOver(sideGap({}, {}, 56.65), usual, tape);
    expect(codes(all)).toEqual(["note fit-gap-may-bind"]);
  });

  it("says when the moisture today is a guess, and when a season lies outside the formula's range", () => {
    const today = todayOf({ kind: "guess" }, 9, usual).today!;
    expect(gapsOver(sideGap({}, { today }), usual, calipers).guess).toBe(true);
    // A guess about wood that doesn't move in this gap makes no guess of it.
    const still = sideGap();
    expect(gapsOver({ ...still, room: [{ ...still.room[0]!, today }] }, usual, calipers).guess).toBe(false);
    const { year } = yearOf({ wet: { celsius: 21, humidity: 82 }, dry: { celsius: 21, humidity: 40 } });
    const gap = gapsOver(sideGap(), year!, calipers);
    expect(gap.seasons.map((s) => s.form)).toEqual(["outside 6 to 14 %", "6 to 14 %"]);
  });
});

describe("a gap that binds", () => {
  const grade = (spec: GapSpec): readonly string[] =>
    gapsOver(spec, usual, calipers)
      .findings.filter((f) => f.code === "fit-gap-binds")
      .map((f) => `${f.grade}: ${f.mend}`);

  it("is refused where all was measured, and cautioned where moisture or seasons are guessed, saying what to measure", () => {
    const measured = sideGap({}, {}, 58.45);
    expect(grade(measured)).toEqual([expect.stringMatching(/^refuse: leave /)]);
    const today = todayOf({ kind: "guess" }, 9, usual).today!;
    expect(grade(sideGap({}, { today }, 58.45))).toEqual([
      expect.stringMatching(/^caution: measure how moist the wood is/),
    ]);
    expect(grade({ ...measured, seasonsAssumed: true })).toEqual([
      expect.stringMatching(/^caution: name your driest and wettest month/),
    ]);
    // Seasons don't matter where nothing moves: what is too large today is too large.
    const still = sideGap({}, { direction: "along" }, 58.55);
    expect(grade({ ...still, seasonsAssumed: true })).toEqual([expect.stringMatching(/^refuse: /)]);
  });
});

describe("a gap in words", () => {
  it("tells every season, worst and likely, what matters most and what to measure again", () => {
    const words = gapInWords(gapsOver(sideGap(), usual, () => toleranceOf("rule")));
    expect(words[0]).toMatch(/^now: 1\.50 mm \(likely 1\.20 to 1\.80, at worst 1\.20 to 1\.80\)$/);
    expect(words[1]).toMatch(/^wet: 0\.\d\d mm \(likely /);
    expect(words[3]).toBe(
      '"opening height" matters most: ± 0.3 mm by rule (common practice, no source) is ± 0.30 mm of the gap',
    );
    expect(words[4]).toMatch(/^the fit stands \d+ % of the errors/);
    expect(words[5]).toBe('measure "opening height" again, more finely');
  });

  it("calls a guess a guess, and tells when nothing measured counts", () => {
    const today = todayOf({ kind: "guess" }, 9, usual).today!;
    const still: Extent = { ...sideGap().room[0]!, size: exactly(58.5) };
    expect(gapInWords(gapsOver(sideGap({}, { today }), usual, calipers))[0]).toMatch(/^now \(a guess/);
    const sure = gapInWords(gapsOver(sideGap({ room: [still] }, { direction: "along" }), usual, calipers));
    expect(sure.at(-1)).toBe("no error of measuring or making counts in it");
    expect(gapInWords(gapsOver(sideGap({}, {}, 58.2), usual, calipers))).toContain(
      "the fit stands no error at all as it is",
    );
  });
});

describe("gaps in random years, with random errors", () => {
  const woods = fc.constantFrom(...defaultWoods());
  const directions = fc.constantFrom<GrainDirection>("along", "radial", "tangential", "across");
  const percent = fc.integer({ min: 500, max: 1500 }).map((m) => m / 100);
  const error = fc.integer({ min: -1000, max: 1000 }).map((k) => k / 1000);
  const climates = fc
    .tuple(fc.integer({ min: 5, max: 30 }), fc.integer({ min: 15, max: 90 }), fc.integer({ min: 15, max: 90 }))
    .map(([celsius, a, b]) => ({
      wet: { celsius, humidity: Math.max(a, b) },
      dry: { celsius, humidity: Math.min(a, b) },
    }));
  const sizes = fc.integer({ min: 4000, max: 300_000 }).map((um) => um / 1000);

  it("stay within the worst case, grown from true sizes at the true moisture", () => {
    fc.assert(
      fc.property(
        climates,
        fc.tuple(woods, directions, sizes, percent, error, error),
        fc.tuple(woods, directions, percent, error, error),
        fc.constantFrom("calipers", "rule", "tape"),
        (climate, [w1, d1, size, m1, e1, f1], [w2, d2, m2, e2, f2], instrument) => {
          const { year } = yearOf(climate);
          const tolerance = toleranceOf(instrument as "rule");
          const room: Extent = {
            name: "room",
            size: sized("room", size + 1),
            wood: w1,
            direction: d1,
            today: meter(m1, year),
          };
          const filled: Extent = {
            name: "drawer",
            size: sized("drawer", size),
            wood: w2,
            direction: d2,
            today: meter(m2, year),
          };
          const gap = gapsOver(sideGap({ room: [room], filled: [filled] }), year!, () => tolerance);
          // One wood has one moisture, where both were found alike.
          const alike = w1.name === w2.name && m1 === m2;
          // What cancels does so to the first order: a hundredth of a millimetre for drawers of any size.
          const slack = alike ? 0.01 : 1e-9;
          for (const [k, season] of year!.seasons.entries()) {
            const truth = (reading: number, e: number, w: WoodKind, d: GrainDirection, m: number): number => {
              const now = reading + e * tolerance.plusMinus;
              return now + growthOf(now, w, d, m, season.moisture).change;
            };
            const found = truth(size + 1, e1, w1, d1, m1 + f1) - truth(size, e2, w2, d2, alike ? m2 + f1 : m2 + f2);
            const { worst } = gap.seasons[k]!;
            expect(found).toBeGreaterThanOrEqual(worst.least - slack);
            expect(found).toBeLessThanOrEqual(worst.most + slack);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it("grow the drawer the more, the wetter the season and the drier it was fitted", () => {
    fc.assert(
      fc.property(climates, woods, sizes, percent, (climate, w, size, m) => {
        const { year } = yearOf(climate);
        const spec = (moisture: number): GapSpec =>
          sideGap({}, { wood: w, direction: "tangential", today: meter(moisture, year) }, size);
        const gap = gapsOver(spec(m), year!, calipers);
        const [wet, dry] = gap.seasons;
        expect(wet!.value).toBeLessThanOrEqual(dry!.value + 1e-9);
        const inRange = [m, m + 1, year!.wettest.moisture].every((x) => x >= 6 && x <= 14);
        if (inRange)
          expect(gapsOver(spec(m + 1), year!, calipers).seasons[0]!.value).toBeGreaterThan(wet!.value - 1e-9);
      }),
      { numRuns: 40 },
    );
  });

  it("agree with the sum of their parts when reckoned by hand", () => {
    const gap = gapsOver({ ...sideGap(), extra: minus(exactly(2), sized("spacer", 1.5)) }, usual, calipers);
    expect(gap.now.value).toBeCloseTo(58.5 - 57 + 0.5, 9);
    expect(gap.now.shares.map((s) => s.name)).toEqual(["opening height", "spacer"]);
  });
});
