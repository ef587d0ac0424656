import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { faceFrame } from "../../src/parts/faces.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { compose, inverse, turnedAboutZ } from "../../src/shapes/frame.ts";
import { circle, rectangle } from "../../src/shapes/outlines.ts";
import type { Assembly } from "../../src/shop/cutter.ts";
import { WoodCutter } from "../../src/simulate/cut.ts";
import { type HeldBy, holdOf } from "../../src/simulate/held.ts";
import { jointArea } from "../../src/simulate/joint.ts";
import { lonePieces, loosePieces } from "../../src/simulate/pieces.ts";
import { startWood } from "../../src/simulate/start.ts";
import { thinnestWeb } from "../../src/simulate/webs.ts";
import { centreOf, type Wood } from "../../src/simulate/wood.ts";
import { at, board, held, mm, move, polyline } from "./help.ts";

const BLANK = board(80, 60, 9);
const THROUGH = -9.2;
const flat6 = held({ kind: "flat" }, 6);
const centre = { x: 40, y: 30 };

/** Clamped along the left edge. */
const CLAMPED: HeldBy = { kind: "spots", spots: [{ min: { x: 0, y: 0 }, max: { x: 6, y: 60 } }] };
const TAPED: HeldBy = { kind: "underside", leastArea: 100 };

function cutAll(moves: readonly ReadMove[], cell = 0.25, assembly: Assembly = flat6) {
  const cut = new WoodCutter(startWood(BLANK, cell));
  for (const m of moves) cut.cut(m, assembly);
  return { wood: cut.wood, history: cut.history() };
}

function ring(r: number, z: number, line: number): ReadMove {
  return move(at(40 + r, 30, z), at(40 + r, 30, z), { arc: { centre, ccw: true }, line });
}

describe("loose pieces", () => {
  it("a disc cut out of a clamped board, with the line that cut it free", () => {
    const { wood, history } = cutAll([ring(15, -4, 1), ring(15, -8, 2), ring(15, THROUGH, 3)]);
    const loose = loosePieces(wood, history, CLAMPED);
    expect(loose).toHaveLength(1);
    expect(loose[0]!.line).toBe(3);
    // Cut by the grown cutter: no larger than the true disc of radius 12, and not much smaller.
    expect(loose[0]!.area).toBeLessThanOrEqual(Math.PI * 144);
    expect(loose[0]!.area).toBeGreaterThan(Math.PI * 11.5 ** 2);
    expect(Math.hypot(loose[0]!.at.x - 40, loose[0]!.at.y - 30)).toBeLessThan(12);
    const lone = lonePieces(wood, CLAMPED).filter((p) => !p.sliver);
    expect(lone.map((p) => p.held)).toEqual([true, false]);
  });

  it("the same disc on tape is held by its underside, a small one is not", () => {
    const big = cutAll([ring(15, THROUGH, 1)]);
    expect(loosePieces(big.wood, big.history, TAPED)).toEqual([]);
    const small = cutAll([ring(7, THROUGH, 1)]);
    expect(loosePieces(small.wood, small.history, TAPED).map((p) => p.line)).toEqual([1]);
  });

  it("a slug cut free and then milled away is still told, at the line that freed it", () => {
    const { wood, history } = cutAll([ring(9, THROUGH, 1), ring(5, THROUGH, 2), ring(2, THROUGH, 3)]);
    expect(lonePieces(wood, CLAMPED).filter((p) => !p.sliver)).toHaveLength(1);
    const loose = loosePieces(wood, history, CLAMPED);
    expect(loose.map((p) => p.line)).toEqual([1]);
    expect(Math.abs(loose[0]!.area - Math.PI * 36) / (Math.PI * 36)).toBeLessThan(0.15);
  });

  it("the same opening cleared from the inside out frees nothing", () => {
    const { wood, history } = cutAll([
      ring(0.5, THROUGH, 1),
      ring(2, THROUGH, 2),
      ring(5, THROUGH, 3),
      ring(9, THROUGH, 4),
    ]);
    expect(loosePieces(wood, history, CLAMPED)).toEqual([]);
  });

  it("a skin, and tabs, keep the disc joined; milling the last tab away frees it", () => {
    const skin = cutAll([ring(15, -8.5, 1)]);
    expect(loosePieces(skin.wood, skin.history, CLAMPED)).toEqual([]);
    const round = (from: number, to: number, z: number, line: number) => {
      const on = (deg: number) =>
        at(40 + 15 * Math.cos((deg * Math.PI) / 180), 30 + 15 * Math.sin((deg * Math.PI) / 180), z);
      return move(on(from), on(to), { arc: { centre, ccw: true }, line });
    };
    const tabbed = [ring(15, -6, 1), round(25, 155, THROUGH, 2), round(205, 335, THROUGH, 3)];
    const kept = cutAll(tabbed);
    expect(loosePieces(kept.wood, kept.history, CLAMPED)).toEqual([]);
    const freed = cutAll([...tabbed, round(155, 205, THROUGH, 4), round(335, 385, THROUGH, 5)]);
    expect(loosePieces(freed.wood, freed.history, CLAMPED).map((p) => p.line)).toEqual([5]);
  });

  it("an offcut beyond the clamps falls off; two that part at once are both told", () => {
    const { wood, history } = cutAll([move(at(60, -5, THROUGH), at(60, 65, THROUGH), { line: 4 })]);
    expect(loosePieces(wood, history, CLAMPED).map((p) => [p.line, Math.round(p.area / 100)])).toEqual([[4, 10]]);
    const cross = polyline([at(90, 30, THROUGH), at(50, 30, THROUGH), at(50, 65, THROUGH), at(50, -5, THROUGH)], 1);
    const both = cutAll(cross);
    expect(loosePieces(both.wood, both.history, CLAMPED).map((p) => p.line)).toEqual([2, 3]);
  });

  it("wood that nothing holds is loose from the start", () => {
    const { wood, history } = cutAll([]);
    expect(loosePieces(wood, history, { kind: "spots", spots: [] }).map((p) => p.line)).toEqual([undefined]);
  });

  it("a piece that an earlier set-up had cut off is loose from the start", () => {
    const faceUp = turnedAboutZ(0, at(0, 0, -9));
    const toFace = compose(inverse(faceUp), faceFrame({ length: 80, width: 60, thickness: 9 }, "back"));
    const slit = rectangle({ x: 36, y: -1 }, { x: 42, y: 61 });
    const earlier = { toFace, section: slit, from: 0, to: Number.POSITIVE_INFINITY, slopeTan: 0, keeps: [] };
    const cut = new WoodCutter(startWood(BLANK, 0.5, [earlier]));
    cut.cut(move(at(10, 10, -2), at(20, 10, -2), { line: 1 }), flat6);
    const loose = loosePieces(cut.wood, cut.history(), CLAMPED);
    expect(loose.map((p) => [p.line, p.at.x > 40])).toEqual([[undefined, true]]);
  });

  it("agrees with flooding the state after every move", () => {
    const place = fc.tuple(mm(10, 75), mm(5, 55));
    const program = fc.array(fc.tuple(place, place), { minLength: 3, maxLength: 9 });
    fc.assert(
      fc.property(program, (pairs) => {
        const cut = new WoodCutter(startWood(BLANK, 0.5));
        const moves = pairs.map(([[ax, ay], [bx, by]], i) =>
          move(at(ax, ay, THROUGH), at(bx, by, THROUGH), { line: i + 1 }),
        );
        const joined: Wood[] = [];
        for (const m of moves) {
          cut.cut(m, flat6);
          joined.push(cut.snapshot());
        }
        // Slow referee: number of loose pieces, slivers apart, after each move.
        const counts = joined.map((w) => lonePieces(w, CLAMPED).filter((p) => !p.held && !p.sliver).length);
        const loose = loosePieces(cut.wood, cut.history(), CLAMPED);
        for (const [i, n] of counts.entries()) {
          const told = loose.filter((p) => p.line! <= i + 1).length;
          if (n > 0) expect(told).toBeGreaterThan(0);
          if (n === 0 && (i === 0 || counts[i - 1] === 0)) expect(loose.some((p) => p.line === i + 1)).toBe(false);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe("the joint that holds a piece", () => {
  const isHeld = (wood: Wood) => (c: number) => holdOf(wood, CLAMPED, c) === 1;
  const within = (wood: Wood, r: number) => (c: number) => {
    const p = centreOf(wood.grid, c);
    return Math.hypot(p.x - 40, p.y - 30) < r;
  };

  /** A square piece cut round with tabs `width` wide and `height` high on two sides. */
  function tabbed(width: number, height: number, turn: number, cell = 0.2) {
    const half = 15;
    const moves: ReadMove[] = [];
    const cos = Math.cos(turn);
    const sin = Math.sin(turn);
    const corner = (x: number, y: number, z: number) => at(40 + x * cos - y * sin, 30 + x * sin + y * cos, z);
    const w = width / 2 + 3;
    const side = (a: [number, number], b: [number, number]) =>
      moves.push(move(corner(...a, THROUGH), corner(...b, THROUGH)));
    side([-half, half], [half, half]);
    side([-half, -half], [half, -half]);
    for (const x of [-half, half]) {
      side([x, -half], [x, -w]);
      side([x, w], [x, half]);
      moves.push(move(corner(x, -half, -9 + height), corner(x, half, -9 + height)));
    }
    return cutAll(moves, cell).wood;
  }

  it("two tabs of known section: never more than the truth, and near it", () => {
    for (const [width, height] of [
      [6, 2],
      [4, 3.5],
      [8, 1],
    ] as const) {
      const wood = tabbed(width, height, 0);
      const truth = 2 * width * height;
      const joint = jointArea(wood, within(wood, 11.9), isHeld(wood), 1000);
      expect(joint.area).toBeLessThanOrEqual(truth);
      // Each tab loses what the grown cutter took from its two sides, and a cell.
      expect(joint.area).toBeGreaterThan(2 * (width - 4 * 0.2 * Math.SQRT1_2 - 0.4) * height);
      expect(joint.enough).toBe(false);
    }
  });

  it("stays below the truth when the tabs lie askew to the grid", () => {
    for (const turn of [0.2, 0.5, Math.PI / 4]) {
      const wood = tabbed(6, 2, turn);
      const joint = jointArea(wood, within(wood, 11.9), isHeld(wood), 1000);
      expect(joint.area).toBeLessThanOrEqual(24);
      // A row of cells corner to corner is as short as their shadow along an axis: down to 1/√2 of the truth.
      expect(joint.area).toBeGreaterThan(24 * Math.SQRT1_2 * 0.7);
    }
  });

  it("a skin joins all round; nothing joins a loose disc; a held piece needs no joint", () => {
    const skin = cutAll([ring(15, -8.5, 1)]).wood;
    const joint = jointArea(skin, within(skin, 11.9), isHeld(skin), 1000);
    expect(joint.area).toBeLessThanOrEqual(2 * Math.PI * 12 * 0.5);
    expect(joint.area).toBeGreaterThan(2 * Math.PI * 12 * 0.5 * Math.SQRT1_2 * 0.95);
    expect(jointArea(skin, within(skin, 11.9), isHeld(skin), 10)).toMatchObject({ enough: true });
    const free = cutAll([ring(15, THROUGH, 1)]).wood;
    expect(jointArea(free, within(free, 11.9), isHeld(free), 1000)).toEqual({ area: 0, enough: false });
    expect(jointArea(free, () => true, isHeld(free), 1000).area).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("webs between two sides", () => {
  const faceUp = turnedAboutZ(0, at(0, 0, -9));
  const size = { length: 80, width: 60, thickness: 9 };
  const below = (depth: number) => ({
    toFace: compose(inverse(faceUp), faceFrame(size, "back")),
    section: circle({ x: 40, y: 30 }, 8),
    from: 0,
    to: depth,
    slopeTan: 0,
    keeps: [],
  });
  const cutFrom = (z: number, depth: number) => {
    const cut = new WoodCutter(startWood(BLANK, 0.25, [below(depth)]));
    cut.cut(move(at(20, 30, z), at(60, 30, z)), flat6);
    return thinnestWeb(cut.wood);
  };

  it("the thinnest, with its place", () => {
    const web = cutFrom(-4, 3.5)!;
    expect(web.thickness).toBeCloseTo(1.5, 5);
    expect(web.thickness).toBeLessThanOrEqual(1.5);
    expect(Math.hypot(web.at.x - 40, web.at.y - 30)).toBeLessThan(9);
  });

  it("cuts that went past each other, by how much", () => {
    expect(cutFrom(-6, 4)!.thickness).toBeCloseTo(-1, 5);
  });

  it("no web where cuts do not overlap, nor where one goes right through", () => {
    const cut = new WoodCutter(startWood(BLANK, 0.25, [below(4)]));
    cut.cut(move(at(10, 10, -6), at(20, 10, -6)), flat6);
    expect(thinnestWeb(cut.wood)).toBeUndefined();
    expect(cutFrom(THROUGH, 4)).toBeUndefined();
  });

  it("over a mortise cut from an edge", () => {
    const toFace = compose(inverse(faceUp), faceFrame(size, "lower edge"));
    const mortise = {
      toFace,
      section: rectangle({ x: 30, y: 3 }, { x: 50, y: 6 }),
      from: 0,
      to: 40,
      slopeTan: 0,
      keeps: [],
    };
    const cut = new WoodCutter(startWood(BLANK, 0.25, [mortise]));
    cut.cut(move(at(20, 20, -2), at(60, 20, -2)), flat6);
    const web = thinnestWeb(cut.wood)!;
    // Top of the mortise is 6 above the back, drawn out by half a cell's diagonal; the floor is 7 above it.
    expect(web.thickness).toBeLessThanOrEqual(1);
    expect(web.thickness + web.bound).toBeGreaterThanOrEqual(1);
    expect(web.thickness).toBeGreaterThan(1 - 0.25);
  });
});
