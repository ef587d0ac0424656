import { describe, expect, it } from "vitest";
import { cutMove, WoodCutter } from "../../src/simulate/cut.ts";
import { startWood } from "../../src/simulate/start.ts";
import { columnAt, topOf, type Wood } from "../../src/simulate/wood.ts";
import { at, board, held, move } from "./help.ts";

const BLANK = board(30, 20, 9);
const flat6 = held({ kind: "flat" }, 6);

function printOf(wood: Wood): string {
  return JSON.stringify([wood.most, wood.least].map((c) => [...c.low, ...c.high].map((a) => Array.from(a).join())));
}

describe("wood is a value", () => {
  it("cutting leaves the wood it began with as it was, whichever side is cut", () => {
    const start = startWood(BLANK, 0.5);
    const before = printOf(start);
    const stub = held({ kind: "flat" }, 6, { fluteLength: 3, stickOut: 20 });
    const cut = new WoodCutter(start);
    cut.cut(move(at(-5, 10, -4), at(20, 10, -4)), flat6);
    // Flutes shorter than the cut is deep raise the underside, or leave a roof.
    cut.cut(move(at(-5, 5, -9.5), at(35, 5, -9.5)), stub);
    cut.cut(move(at(-5, 15, -6), at(35, 15, -6)), stub);
    expect(printOf(start)).toBe(before);
    const kept = cut.snapshot();
    const then = printOf(kept);
    cut.cut(move(at(-5, 15, -9.5), at(35, 15, -9.5)), flat6);
    expect(printOf(kept)).toBe(then);
    expect(cut.wood.least.low.length).toBe(2);
  });

  it("one move as a value, and rapids that take nothing", () => {
    const start = startWood(BLANK, 0.5);
    const after = cutMove(start, move(at(5, 10, -4), at(20, 10, -4)), flat6);
    const c = columnAt(start.grid, 12, 10);
    expect(topOf(start.most, c)).toBe(0);
    expect(topOf(after.most, c)).toBe(-4);
    const rapid = move(at(5, 10, -4), at(20, 10, -4), { rapid: true, feed: 0 });
    expect(printOf(cutMove(start, rapid, flat6))).toBe(printOf(start));
  });

  it("flutes shorter than the depth leave wood standing above them", () => {
    const stub = held({ kind: "flat" }, 6, { fluteLength: 3, stickOut: 20 });
    const after = cutMove(startWood(BLANK, 0.5), move(at(-5, 10, -6), at(35, 10, -6)), stub);
    const c = columnAt(after.grid, 15.2, 10.2);
    for (const columns of [after.most, after.least]) {
      expect(columns.high.map((h) => h[c])).toEqual([-6, 0]);
      expect(columns.low.map((l) => l[c])).toEqual([-9, -3]);
    }
  });
});
