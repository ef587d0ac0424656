import type { ReadMove } from "../../src/reader/read-move.ts";
import type { Box3 } from "../../src/shapes/point.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import { WoodCutter } from "../../src/simulate/cut.ts";
import { cellFor } from "../../src/simulate/grid.ts";
import { type HeldBy, holdOf } from "../../src/simulate/held.ts";
import { jointArea } from "../../src/simulate/joint.ts";
import { loosePieces } from "../../src/simulate/pieces.ts";
import { simulate } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { timeOf } from "../../src/simulate/time.ts";
import { type Columns, centreOf } from "../../src/simulate/wood.ts";
import { at, cutterOf, MACHINE, move } from "../simulate/help.ts";
import { type Row, timed } from "./row.ts";

/** Cutting the grid, and what is asked of it afterwards. */
export default async function bench(): Promise<Row[]> {
  const rows: Row[] = [];
  const blank: Box3 = { min: at(0, 0, -18), max: at(200, 120, 0) };
  const flat = assemblyOf(cutterOf({ kind: "flat" }, 6), MACHINE);
  const ball = assemblyOf(cutterOf({ kind: "round-nose" }, 6), MACHINE);
  const rate = (name: string, moves: readonly ReadMove[], cell: number, assembly = flat, goal?: string) => {
    const length = lengthOf(moves);
    const start = startWood(blank, cell);
    // The wood is opened outside the clock: a copy of all columns, once a program; see its own row.
    const fresh = Array.from({ length: 6 }, () => new WoodCutter(start));
    const { value, spread } = timed(() => {
      const cut = fresh.pop()!;
      for (const m of moves) cut.cut(m, assembly);
    }, 5);
    const perSecond = (ms: number) => (length / ms) * 1000;
    rows.push({
      name,
      value: perSecond(value),
      unit: "mm of path a second, both bounds",
      spread: [perSecond(spread[1]), perSecond(spread[0])],
      note: `${moves.length} moves, ${Math.round(length)} mm`,
      ...(goal === undefined ? {} : { goal }),
    });
  };
  const long = spiral(2.4, 40);
  const short = spiral(2.4, 0.45);
  rate("grid cut g 0.1, flat 6, moves of some 40 mm", long, 0.1, flat, "≥ 20,000");
  rate("grid cut g 0.1, flat 6, moves of 0.45 mm", short, 0.1, flat, "≥ 20,000");
  rate("grid cut g 0.1, flat 6, arcs", circles(), 0.1, flat, "≥ 20,000");
  rate("grid cut g 0.25, flat 6, moves of 0.45 mm", short, 0.25);
  rate("grid cut g 0.25, round-nose 6, moves of 0.45 mm", short, 0.25, ball);
  rate("grid cut g 0.25, round-nose 6, sloping moves of 1 mm", sloping(spiral(2.4, 1)), 0.25, ball);
  rate("grid cut g 0.25, flat 6, sloping moves of 1 mm", sloping(spiral(2.4, 1)), 0.25);

  const board: Box3 = { min: at(0, 0, -18), max: at(400, 200, 0) };
  const cell = cellFor(board, 3);
  const start = startWood(board, cell);
  const bytes = (c: Columns) => [...c.low, ...c.high].reduce((sum, a) => sum + a.byteLength, 0);
  const cells = start.grid.nx * start.grid.ny;
  rows.push({
    name: `columns of a 400 × 200 mm board, cell ${cell}`,
    value: (bytes(start.most) + bytes(start.least) + 4 * cells) / 2 ** 20,
    unit: "MiB with the record of cuts",
    note: `${cells} cells`,
  });

  const opening = timed(() => new WoodCutter(startWood(board, cell)), 5);
  rows.push({ name: "starting and opening its wood", value: opening.value, unit: "ms", spread: opening.spread });

  const around = { keepOuts: [], lowestTip: -19 };
  const whole = timed(
    () =>
      simulate({ wood: startWood(board, cell), events: long, assemblyFor: () => flat, around, withEngagement: true }),
    3,
  );
  rows.push({
    name: "everything: cut, contacts, engagement, on that board",
    value: whole.value,
    unit: "ms",
    spread: whole.spread,
    note: `${Math.round(lengthOf(long))} mm of path`,
  });

  const through = new WoodCutter(start);
  const centre = { x: 200, y: 100 };
  for (const m of circleWithTabs(centre)) through.cut(m, flat);
  const clamped: HeldBy = { kind: "spots", spots: [{ min: { x: 0, y: 0 }, max: { x: 20, y: 200 } }] };
  const history = through.history();
  const loose = timed(() => loosePieces(through.wood, history, clamped), 5);
  rows.push({ name: "loose pieces on that board", value: loose.value, unit: "ms", spread: loose.spread });
  const inside = (c: number) => {
    const p = centreOf(through.wood.grid, c);
    return Math.hypot(p.x - centre.x, p.y - centre.y) < 46;
  };
  const isHeld = (c: number) => holdOf(through.wood, clamped, c) === 1;
  const joint = timed(() => jointArea(through.wood, inside, isHeld, 1000), 3);
  rows.push({
    name: "joint of a piece with four tabs on that board",
    value: joint.value,
    unit: "ms",
    spread: joint.spread,
  });
  const clock = timed(() => timeOf(short, MACHINE), 5);
  rows.push({
    name: "time of a program",
    value: (short.length / clock.value) * 1000,
    unit: "moves a second",
    note: `${short.length} moves`,
  });
  return rows;
}

/** Rounded-square rings from outside in, cut into lines no longer than `piece`. */
function spiral(step: number, piece: number): ReadMove[] {
  const moves: ReadMove[] = [];
  for (let r = 50; r > 3; r -= step) {
    const corners = [
      at(100 - 1.6 * r, 60 - r, -5),
      at(100 + 1.6 * r, 60 - r, -5),
      at(100 + 1.6 * r, 60 + r, -5),
      at(100 - 1.6 * r, 60 + r, -5),
    ];
    for (const [i, a] of corners.entries()) {
      const b = corners[(i + 1) % 4]!;
      const n = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / piece));
      for (let k = 0; k < n; k++) {
        const on = (t: number) => at(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), -5);
        moves.push(move(on(k / n), on((k + 1) / n)));
      }
    }
  }
  return moves;
}

function sloping(moves: readonly ReadMove[]): ReadMove[] {
  const z = (x: number) => -4 + 2 * Math.sin(x / 9);
  return moves.map((m) => move(at(m.from.x!, m.from.y!, z(m.from.x!)), at(m.to.x!, m.to.y!, z(m.to.x!) - 1e-6)));
}

function circles(): ReadMove[] {
  const centre = { x: 100, y: 60 };
  const moves: ReadMove[] = [];
  for (let r = 2; r < 55; r += 2.4) {
    const a = at(100 + r, 60, -5);
    const b = at(100 - r, 60, -5);
    moves.push(move(a, b, { arc: { centre, ccw: true } }), move(b, a, { arc: { centre, ccw: true } }));
  }
  return moves;
}

function circleWithTabs(centre: { x: number; y: number }): ReadMove[] {
  const r = 50;
  const on = (deg: number, z: number) =>
    at(centre.x + r * Math.cos((deg * Math.PI) / 180), centre.y + r * Math.sin((deg * Math.PI) / 180), z);
  const moves = [move(on(0, -15), on(0, -15), { arc: { centre, ccw: true } })];
  for (let k = 0; k < 4; k++) {
    moves.push(move(on(90 * k + 7, -18.3), on(90 * k + 83, -18.3), { arc: { centre, ccw: true } }));
  }
  return moves;
}

function lengthOf(moves: readonly ReadMove[]): number {
  return moves.reduce((sum, m) => {
    if (m.path.kind === "line") return sum + Math.hypot(m.to.x! - m.from.x!, m.to.y! - m.from.y!, m.to.z! - m.from.z!);
    return sum + Math.PI * Math.hypot(m.from.x! - m.path.centre.x, m.from.y! - m.path.centre.y);
  }, 0);
}
