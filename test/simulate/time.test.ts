import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ReadEvent, ReadMove } from "../../src/reader/read-move.ts";
import { timeOf } from "../../src/simulate/time.ts";
import { cornerSpeed, secondsOf, trapezoid } from "../../src/simulate/trapezoid.ts";
import { at, MACHINE, mm, move } from "./help.ts";

const feed = (v: number) => v * 60;

describe("the clock against closed forms", () => {
  it("rest to rest: 2.1 s for 100 mm, 0.126491 s for 2 mm at 50 mm/s and 500 mm/s²", () => {
    const s = { speed: 50, acceleration: 500, exit: 0 };
    expect(trapezoid({ ...s, length: 100 }, 0, 0)).toBeCloseTo(2.1, 9);
    expect(trapezoid({ ...s, length: 2 }, 0, 0)).toBeCloseTo(0.126491, 6);
  });

  it("corner speeds for 0.01 mm at 500 mm/s²: 90°, 135°, 170°", () => {
    expect(cornerSpeed(500, 0.01, 90)).toBeCloseTo(3.47434, 5);
    expect(cornerSpeed(500, 0.01, 135)).toBeCloseTo(7.79008, 5);
    expect(cornerSpeed(500, 0.01, 170)).toBeCloseTo(36.1795, 4);
    expect(cornerSpeed(500, 0.01, 180)).toBe(Number.POSITIVE_INFINITY);
  });

  it("a program of one line, and an arc of 1 mm no faster than 22.3607 mm/s", () => {
    expect(timeOf([move(at(0, 0, 0), at(100, 0, 0), { feed: feed(50) })], MACHINE).seconds).toBeCloseTo(2.1, 9);
    const turn = move(at(1, 0, 0), at(1, 0, 0), { feed: feed(50), arc: { centre: { x: 0, y: 0 }, ccw: true } });
    const v = 22.36068;
    expect(timeOf([turn], MACHINE).seconds).toBeCloseTo((2 * Math.PI) / v + v / 500, 4);
  });

  it("two legs of a right angle meet at the corner speed", () => {
    const legs = [
      move(at(0, 0, 0), at(100, 0, 0), { feed: feed(50) }),
      move(at(100, 0, 0), at(100, 100, 0), { feed: feed(50) }),
    ];
    const c = 3.47434;
    const leg = 100 / 50 + 50 / (2 * 500) + (50 - c) ** 2 / (2 * 500 * 50);
    expect(timeOf(legs, MACHINE).seconds).toBeCloseTo(2 * leg, 6);
    // In exact-path mode the corner is not rounded: the tool stops in it.
    const exact = legs.map((m) => ({ ...m, exactPath: true }));
    expect(timeOf(exact, MACHINE).seconds).toBeCloseTo(4.2, 9);
  });

  it("axis limits: a rapid goes as fast as its slowest axis allows, alone or together", () => {
    const rapid = (to: [number, number, number]) =>
      timeOf([move(at(0, 0, 0), at(...to), { rapid: true, feed: 0 })], MACHINE);
    expect(rapid([300, 0, 0]).rapidSeconds).toBeCloseTo(300 / 100 + 100 / 500, 9);
    expect(rapid([0, 0, 60]).rapidSeconds).toBeCloseTo(60 / 50 + 50 / 500, 9);
    // 45° in plan: both axes at their top.
    const v = 100 * Math.SQRT2;
    expect(rapid([300, 300, 0]).rapidSeconds).toBeCloseTo((300 * Math.SQRT2) / v + v / (500 * Math.SQRT2), 9);
    const slow = { ...MACHINE, acceleration: { x: 500, y: 500, z: 100 } };
    expect(timeOf([move(at(0, 0, 0), at(0, 0, 1), { feed: feed(50) })], slow).seconds).toBeCloseTo(
      2 * Math.sqrt(1 / 100),
      9,
    );
  });

  it("a line cut in pieces takes as long as in one", () => {
    const n = 400;
    const pieces = Array.from({ length: n }, (_, i) =>
      move(at((100 * i) / n, 0, 0), at((100 * (i + 1)) / n, 0, 0), { feed: feed(50) }),
    );
    expect(timeOf(pieces, MACHINE).seconds).toBeCloseTo(2.1, 6);
  });
});

describe("what is counted where", () => {
  it("dwells, operations by line number, waits, and moves of unknown length", () => {
    const unknown: ReadMove = {
      ...move(at(0, 0, 0), at(0, 0, 5), { rapid: true, feed: 0, line: 2 }),
      from: { x: undefined, y: undefined, z: undefined },
    };
    const events: ReadEvent[] = [
      unknown,
      { kind: "line number", line: 3, n: 10 },
      { kind: "dwell", line: 4, seconds: 4 },
      move(at(0, 0, 0), at(100, 0, 0), { feed: feed(50), line: 5 }),
      { kind: "stop", line: 6, optional: false },
      { kind: "line number", line: 7, n: 20 },
      move(at(100, 0, 0), at(102, 0, 0), { feed: feed(50), line: 8 }),
      { kind: "end", line: 9 },
    ];
    const t = timeOf(events, MACHINE);
    expect(t.uncounted).toBe(1);
    expect(t.waits).toBe(1);
    expect(t.dwellSeconds).toBe(4);
    expect(t.operations.map((o) => o.n)).toEqual([10, 20]);
    expect(t.operations[0]!.seconds).toBeCloseTo(6.1, 9);
    expect(t.operations[1]!.seconds).toBeCloseTo(0.126491, 6);
    expect(t.seconds).toBeCloseTo(6.1 + 0.126491, 6);
  });
});

describe("look-ahead", () => {
  it("never passes a limit of speed, of a joint, or of what braking and speeding up can reach", () => {
    const stretch = fc.record({ length: mm(0.01, 20), speed: mm(1, 80), acceleration: mm(50, 900), exit: mm(0, 90) });
    fc.assert(
      fc.property(fc.array(stretch, { minLength: 1, maxLength: 30 }), (run) => {
        const seconds = secondsOf(run);
        for (const [i, s] of run.entries()) {
          expect(seconds[i]!).toBeGreaterThanOrEqual(s.length / s.speed - 1e-9);
          // No slower than stopping at both ends.
          expect(seconds[i]!).toBeLessThanOrEqual(trapezoid(s, 0, 0) + 1e-9);
        }
      }),
    );
  });
});
