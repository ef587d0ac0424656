import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pointOnMove } from "../../src/reader/motion.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import type { Cutter } from "../../src/shop/cutter.ts";
import { WoodCutter } from "../../src/simulate/cut.ts";
import { startWood } from "../../src/simulate/start.ts";
import { centreOf, columnAt, halfDiagonal, topOf } from "../../src/simulate/wood.ts";
import { anyForm, at, board, cutterOf, MACHINE, mm, move } from "./help.ts";
import { tipProfile } from "./referee.ts";

const BLANK = board(24, 20, 12);
const CELL = 0.3;

/** Lowest height over a cell's centre by plain search, with the cutter drawn in (shift > 0) or out by `shift`. */
function shifted(m: ReadMove, cutter: Cutter, shift: number, x: number, y: number): number {
  const profile = tipProfile(cutter);
  const height = (t: number) => {
    const c = pointOnMove(m, t)!;
    return c.z + profile(Math.max(0, Math.hypot(c.x - x, c.y - y) + shift));
  };
  const n = 3000;
  let best = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= n; k++) best = Math.min(best, height(k / n));
  return best;
}

const place = fc.tuple(mm(4, 20), mm(4, 16)).map(([x, y]) => ({ x, y }));
const depth = mm(-9, -1);
const moves = fc.oneof(
  fc.tuple(place, place, depth, depth).map(([a, b, z0, z1]) => move(at(a.x, a.y, z0), at(b.x, b.y, z1))),
  fc.tuple(place, mm(0.5, 6), mm(0, 6.28), mm(0.1, 6.28), depth, depth).map(([c, r, s, turn, z0, z1]) => {
    const on = (angle: number, z: number) => at(c.x + r * Math.cos(angle), c.y + r * Math.sin(angle), z);
    return move(on(s, z0), on(s + turn, z1), { arc: { centre: c, ccw: true } });
  }),
);

describe("each bound is what the shrunk or the grown cutter leaves over the cell's centre, no looser", () => {
  it("for lines and arcs, level or not, every form", () => {
    fc.assert(
      fc.property(moves, anyForm, fc.array(place, { minLength: 25, maxLength: 25 }), (m, form, where) => {
        const cutter = cutterOf(form, 6);
        const cut = new WoodCutter(startWood(BLANK, CELL));
        cut.cut(m, assemblyOf(cutter, MACHINE));
        const { wood } = cut;
        // What the plain search may miss between its looks, and the chords of helices that are no flat ring.
        const step = Math.hypot(30, 10) / 3000;
        const slack = CELL / 16 + step * 8;
        for (const p of where) {
          const c = columnAt(wood.grid, p.x, p.y);
          const { x, y } = centreOf(wood.grid, c);
          const by = halfDiagonal(wood.grid);
          const away = 0.02;
          // Held against a cutter a little smaller still, so that no look falls between at a wall.
          const loosest = Math.min(0, shifted(m, cutter, by + away, x, y));
          expect(topOf(wood.most, c)).toBeLessThanOrEqual(loosest + slack);
          const deepest = Math.min(0, shifted(m, cutter, -by - away, x, y));
          expect(Math.max(-12, topOf(wood.least, c))).toBeGreaterThanOrEqual(deepest - slack);
        }
      }),
      { numRuns: 60 },
    );
  });
});
