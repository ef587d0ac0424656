import { describe, expect, it } from "vitest";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { WoodCutter } from "../../src/simulate/cut.ts";
import { engagementAlong, summarise } from "../../src/simulate/engagement.ts";
import { pathOf } from "../../src/simulate/path.ts";
import { simulate } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { at, board, held, move } from "./help.ts";

const BLANK = board(80, 60, 18);
const flat6 = held({ kind: "flat" }, 6);

/** Mean engagement of a last move after the others are cut. */
function engaged(before: readonly ReadMove[], last: ReadMove, cell = 0.05) {
  const cut = new WoodCutter(startWood(BLANK, cell));
  for (const m of before) cut.cut(m, flat6);
  return summarise(engagementAlong(cut.wood, pathOf(last)!, 3));
}

/** Published closed forms: φ = acos(1 − ae/R), and its ring and boss variants. */
describe("engagement against closed forms, R 3, step 1.2", () => {
  it("straight: 53.13°", () => {
    const e = engaged([move(at(-10, 20, -4), at(90, 20, -4))], move(at(10, 21.2, -4), at(70, 21.2, -4)));
    expect(Math.abs(e.meanDeg - 53.1301)).toBeLessThan(1);
    expect(Math.abs(e.meanDeg - 53.1301)).toBeLessThan(e.boundDeg + 1);
  });

  it("half and whole: 90° and 180°", () => {
    const half = engaged([move(at(-10, 20, -4), at(90, 20, -4))], move(at(10, 23, -4), at(70, 23, -4)));
    expect(Math.abs(half.meanDeg - 90)).toBeLessThan(1.5);
    const whole = engaged([], move(at(10, 23, -4), at(70, 23, -4)));
    expect(whole.meanDeg).toBe(180);
  });

  const centre = { x: 40, y: 30 };
  const ring = (r: number) => move(at(40 + r, 30, -4), at(40 + r, 30, -4), { arc: { centre, ccw: true } });

  it("inside a ring, path radius 6: 63.8961°", () => {
    const e = engaged([ring(4.8), ring(2), move(at(40, 30, -4), at(42, 30, -4))], ring(6));
    expect(Math.abs(e.meanDeg - 63.8961)).toBeLessThan(1.2);
  });

  it("around a boss, path radius 6: 40.5358°", () => {
    const e = engaged([ring(7.2), ring(9), ring(12)], ring(6));
    expect(Math.abs(e.meanDeg - 40.5358)).toBeLessThan(1.2);
  });

  it("cleared ground: none", () => {
    const e = engaged([move(at(-10, 20, -4), at(90, 20, -4))], move(at(10, 20, -4), at(70, 20, -4)));
    expect(e.largestDeg).toBe(0);
    expect(e.idleLength).toBeCloseTo(60, 9);
  });
});

describe("over a program", () => {
  it("a corner is wider than the straight for a short way: largest and 99 % differ", () => {
    const first = [
      move(at(-10, 10, -4), at(70, 10, -4), { line: 1 }),
      move(at(70, 10, -4), at(70, 70, -4), { line: 2 }),
    ];
    const second = [
      move(at(-10, 11.2, -4), at(68.8, 11.2, -4), { line: 3 }),
      move(at(68.8, 11.2, -4), at(68.8, 70, -4), { line: 4 }),
    ];
    const wood = startWood(BLANK, 0.1);
    const s = simulate({
      wood,
      events: [...first, ...second],
      assemblyFor: () => flat6,
      around: { keepOuts: [], lowestTip: -20 },
      withEngagement: true,
    });
    expect(s.engagement!.largestDeg).toBeGreaterThan(175);
    expect(s.engagement!.meanDeg).toBeLessThan(130);
    expect(s.engagement!.meanDeg).toBeGreaterThan(80);
  });

  it("moves that take nothing count as air", () => {
    const slot = move(at(10, 20, -4), at(50, 20, -4), { line: 1 });
    const again = move(at(50, 20, -4), at(10, 20, -4), { line: 2 });
    const above = move(at(10, 20, -4), at(10, 20, 4), { line: 3 });
    const wood = startWood(BLANK, 0.2);
    const s = simulate({
      wood,
      events: [slot, again, above],
      assemblyFor: () => flat6,
      around: { keepOuts: [], lowestTip: -20 },
    });
    expect(s.air).toEqual({ feedLength: 88, surely: 48, perhaps: 48 });
    const exact = (6 * 40 + 9 * Math.PI) * 4;
    expect(s.removed.least).toBeLessThan(exact);
    expect(s.removed.most).toBeGreaterThan(exact);
  });
});
