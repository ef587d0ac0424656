import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import type { Cutter } from "../../src/shop/cutter.ts";
import { WoodCutter } from "../../src/simulate/cut.ts";
import { startWood } from "../../src/simulate/start.ts";
import { columnAt, topOf, type Wood } from "../../src/simulate/wood.ts";
import { anyForm, at, board, cutterOf, MACHINE, mm, move } from "./help.ts";
import { lowestAt } from "./referee.ts";

const BLANK = board(24, 20, 12);

const place = fc.tuple(mm(2, 22), mm(2, 18)).map(([x, y]) => ({ x, y }));
const depth = mm(-9, 1);

const line = fc.tuple(place, place, depth, depth).map(([a, b, z0, z1]) => move(at(a.x, a.y, z0), at(b.x, b.y, z1)));
const level = fc.tuple(place, place, depth).map(([a, b, z]) => move(at(a.x, a.y, z), at(b.x, b.y, z)));
const plunge = fc.tuple(place, depth, depth).map(([a, z0, z1]) => move(at(a.x, a.y, z0), at(a.x, a.y, z1)));
const turning = (levelled: boolean) =>
  fc
    .tuple(place, mm(0.3, 8), mm(0, 6.283), mm(0.05, 6.283), depth, depth, fc.boolean(), fc.boolean())
    .map(([c, r, start, sweep, z0, z1, ccw, whole]) => {
      const on = (angle: number, z: number) => at(c.x + r * Math.cos(angle), c.y + r * Math.sin(angle), z);
      const end = levelled ? z0 : z1;
      const from = on(start, z0);
      const to = whole ? { ...from, z: end } : on(start + (ccw ? sweep : -sweep), end);
      return move(from, to, { arc: { centre: c, ccw } });
    });
const upright = fc
  .tuple(place, mm(0.5, 4), mm(0, 6.283), mm(0.05, 6.283), fc.boolean(), fc.boolean(), mm(-3, 3))
  .map(([c, r, start, sweep, ccw, overX, aside]) => {
    const on = (angle: number, side: number) => {
      const along = r * Math.cos(angle);
      const z = -4 + r * Math.sin(angle);
      return overX ? at(c.x + along, c.y + side, z) : at(c.x + side, c.y + along, z);
    };
    const centre = { x: overX ? c.x : c.y, y: -4 };
    const plane = overX ? ("XZ" as const) : ("YZ" as const);
    return move(on(start, 0), on(start + (ccw ? sweep : -sweep), aside), { arc: { centre, ccw, plane } });
  });

const tools = fc.tuple(anyForm, mm(3, 8)).map(([form, d]) => cutterOf(form, d));
const points = fc.array(fc.tuple(mm(0.1, 23.9), mm(0.1, 19.9)), { minLength: 60, maxLength: 60 });

/** How far the two bounds are on the wrong side of the true height at the worst of the points. */
function worst(wood: Wood, moves: readonly ReadMove[], cutter: Cutter, where: readonly (readonly [number, number])[]) {
  let over = 0;
  let under = 0;
  for (const [x, y] of where) {
    const c = columnAt(wood.grid, x, y);
    const truth = Math.max(-12, Math.min(0, ...moves.map((m) => lowestAt(m, cutter, x, y))));
    const most = Math.max(-12, topOf(wood.most, c));
    const least = Math.max(-12, topOf(wood.least, c));
    over = Math.max(over, least - truth);
    under = Math.max(under, truth - most);
  }
  return { over, under };
}

/** The referee looks at some hundred places a move: beside a jump (a wall) it may see too little taken. */
const REFEREE = 1e-6;

/** A failure is shrunk for this long at most, ms: then the smallest case found so far is told. */
const SHRINKING = 30_000;

function holds(arb: fc.Arbitrary<ReadMove>, cell: number, runs: number): void {
  fc.assert(
    fc.property(fc.array(arb, { minLength: 1, maxLength: 2 }), tools, points, (moves, cutter, where) => {
      const cut = new WoodCutter(startWood(BLANK, cell));
      const assembly = assemblyOf(cutter, MACHINE);
      for (const m of moves) cut.cut(m, assembly);
      const { over, under } = worst(cut.wood, moves, cutter, where);
      expect(over).toBeLessThanOrEqual(1e-7);
      expect(under).toBeLessThanOrEqual(REFEREE);
    }),
    { numRuns: runs, interruptAfterTimeLimit: SHRINKING },
  );
}

describe("least ≤ true height ≤ most, at every point, for every form of cutter", () => {
  it("level lines", () => holds(level, 0.3, 50));
  it("sloping lines", () => holds(line, 0.3, 50));
  it("plunges", () => holds(plunge, 0.3, 40));
  it("level arcs and whole circles", () => holds(turning(true), 0.3, 50));
  it("helices", () => holds(turning(false), 0.3, 45));
  it("arcs standing upright", () => holds(upright, 0.3, 40));
  it("a coarse grid", () => holds(fc.oneof(line, level, turning(true), turning(false)), 0.8, 50));

  it("and lines that go on from one another, where what was swept is not swept again", () => {
    const chain = fc
      .array(place, { minLength: 3, maxLength: 8 })
      .chain((places) =>
        depth.map((z) => places.slice(1).map((p, i) => move(at(places[i]!.x, places[i]!.y, z), at(p.x, p.y, z)))),
      );
    fc.assert(
      fc.property(chain, tools, points, (moves, cutter, where) => {
        const cut = new WoodCutter(startWood(BLANK, 0.3));
        const assembly = assemblyOf(cutter, MACHINE);
        for (const m of moves) cut.cut(m, assembly);
        const { over, under } = worst(cut.wood, moves, cutter, where);
        expect(over).toBeLessThanOrEqual(1e-7);
        expect(under).toBeLessThanOrEqual(REFEREE);
      }),
      { numRuns: 45, interruptAfterTimeLimit: SHRINKING },
    );
  });
});

describe("the bounds are as near as half a diagonal allows", () => {
  it("away from walls the two floors differ only by the form's own rise over a cell's diagonal", () => {
    const cut = new WoodCutter(startWood(BLANK, 0.2));
    const flat = cutterOf({ kind: "flat" }, 6);
    cut.cut(move(at(5, 10, -4), at(19, 10, -4)), assemblyOf(flat, MACHINE));
    const c = columnAt(cut.wood.grid, 12.05, 11.1);
    expect(topOf(cut.wood.most, c)).toBe(-4);
    expect(topOf(cut.wood.least, c)).toBe(-4);
  });

  it("a wall stands within a cell's diagonal of where both bounds put it", () => {
    const cell = 0.2;
    const cut = new WoodCutter(startWood(BLANK, cell));
    const flat = cutterOf({ kind: "flat" }, 6);
    cut.cut(move(at(5, 10, -4), at(19, 10, -4)), assemblyOf(flat, MACHINE));
    const wallOf = (columns: Wood["most"]) => {
      for (let y = 10; y < 16; y += 0.01) if (topOf(columns, columnAt(cut.wood.grid, 12.05, y)) === 0) return y;
      return Number.NaN;
    };
    expect(wallOf(cut.wood.most)).toBeLessThanOrEqual(13);
    expect(wallOf(cut.wood.most)).toBeGreaterThan(13 - 1.5 * cell * Math.SQRT2);
    expect(wallOf(cut.wood.least)).toBeGreaterThanOrEqual(13);
    expect(wallOf(cut.wood.least)).toBeLessThan(13 + 1.5 * cell * Math.SQRT2);
  });
});
