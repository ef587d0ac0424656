import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { frontSettings, layTails, placeBack, placeFront } from "../../src/fit/joints.ts";
import type { Given } from "../../src/job/drawers.ts";

const source = { file: "x", line: 1, column: 1, length: 1, text: "" };
const given = <T>(value: T): Given<T> => ({ value, source });
const said = { part: "side", source };
const um = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((v) => v / 1000);

describe("tails up a side", () => {
  it("take every groove inside one of them, leave room for pins, and stay within the side", () => {
    fc.assert(
      fc.property(
        um(40, 200),
        um(5, 7),
        um(3.5, 6),
        um(0.35, 0.65),
        um(8, 12),
        um(4, 7),
        (height, at, bottom, where, runner, pin) => {
          const middle = height * where;
          const grooves = [
            { from: at, to: at + bottom },
            {
              from: Math.max(at + bottom + 4, middle - runner),
              to: Math.max(at + bottom + 4, middle - runner) + runner,
            },
          ].filter((g) => g.to < height - 4);
          const tails = layTails(height, 0, undefined, pin, grooves);
          expect(tails).toBeDefined();
          for (const g of grooves)
            expect(tails!.some((t) => t.from <= g.from - 1 + 1e-6 && t.to >= g.to + 1 - 1e-6)).toBe(true);
          for (const [i, t] of tails!.entries()) {
            expect(t.to - t.from).toBeGreaterThan(2.9);
            const next = tails![i + 1];
            if (next) expect(next.from - t.to).toBeCloseTo(pin, 5);
          }
          expect(tails![0]!.from).toBeGreaterThanOrEqual(1 - 1e-9);
          expect(height - tails!.at(-1)!.to).toBeGreaterThanOrEqual(1 - 1e-9);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("are as many as are asked for, or none", () => {
    expect(layTails(60, 0, 3, 5, [])).toHaveLength(3);
    expect(layTails(20, 0, 9, 5, [])).toBeUndefined();
    // A groove that takes nearly the whole side leaves no place for a pin.
    expect(layTails(40, 0, 2, 5, [{ from: 3, to: 37 }])).toBeUndefined();
    expect(layTails(40, 0, undefined, 5, [{ from: 3, to: 37 }])).toHaveLength(1);
  });
});

describe("what a joint takes of the side's length", () => {
  const front = (kind: "half-blind" | "through" | "rabbet" | "butt", lip?: number) =>
    placeFront({ kind: given(kind), proud: given(0.3) }, 15, lip, said);

  it("in front: all but the lap, all and what is proud, or nothing", () => {
    expect(front("half-blind").place).toEqual({ show: 0, inside: 15, sideEnd: 5, takes: 10, lap: 5 });
    expect(front("through").place).toMatchObject({ sideEnd: -0.3, takes: 15.3, lap: 0 });
    expect(front("rabbet").place).toMatchObject({ sideEnd: 5, takes: 10 });
    expect(front("butt").place).toMatchObject({ sideEnd: 15, takes: 0 });
    // Behind a lip the sides end where it begins: at the case's front.
    expect(front("half-blind", 6).place).toMatchObject({ show: -6, inside: 9, sideEnd: 0, takes: 9 });
    expect(front("through", 6).findings.map((f) => f.code)).toEqual(["fit-joint-no-room"]);
  });

  it("at the back", () => {
    const back = (kind: "through" | "half-blind" | "housing" | "rabbet" | "butt") =>
      placeBack({ kind: given(kind), proud: given(0.3) }, 9, 9, said).place;
    expect(back("through")).toEqual({ outer: 0.3, proud: 0.3, enters: 9, takes: 9.3 });
    expect(back("half-blind")).toEqual({ outer: -3, proud: 0, enters: 9, takes: 6 });
    expect(back("housing")).toEqual({ outer: 9, proud: 0, enters: 3, takes: 0 });
    expect(back("rabbet")).toEqual({ outer: 0, proud: 0, enters: 3, takes: 0 });
    expect(back("butt")).toEqual({ outer: 0, proud: 0, enters: 0, takes: 0 });
  });

  it("is set on gauges that name what they are scribed from", () => {
    const wish = { kind: given("half-blind" as const), proud: given(0.3) };
    const settings = frontSettings(wish, front("half-blind").place, 9, { left: 0.6, right: 0.8 }, []).settings;
    expect(settings.map((s) => `${s.name} ${s.value}`)).toEqual(["baseline 10", "lap 10", "inset 9.6", "inset 9.8"]);
    for (const s of settings) expect(s.where).toMatch(/from (?:its inside|the front end|its left end|its right end)/);
  });
});
