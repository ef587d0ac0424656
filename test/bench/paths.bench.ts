import type { Move, Toolpath } from "../../src/paths/move.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import type { ClearOperation } from "../../src/plan/operation.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import type { Position, ReadMove } from "../../src/reader/read-move.ts";
import { differenceOf } from "../../src/shapes/boolean.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { growShape, toGrid } from "../../src/shapes/kernel.ts";
import { offsetPasses, offsetPolygons } from "../../src/shapes/offset.ts";
import { circle, polygon, rectangle, slot } from "../../src/shapes/outlines.ts";
import { areaOfPolygons, polygonsToRegion, type Ring, simplifyRing } from "../../src/shapes/polygons.ts";
import { areaOf, type Region } from "../../src/shapes/region.ts";
import { lengthOf, reversed } from "../../src/shapes/segment.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import type { EngagementSummary } from "../../src/simulate/engagement.ts";
import { simulate } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { clearOf, star as lobed, setUpOf } from "../paths/fixtures.ts";
import { legsOf, sweptAt } from "../paths/referee.ts";
import { star, threeIslandPocket } from "../shapes/generators.ts";
import { type Row, timed } from "./row.ts";

const DIAMETER = 6;
const STEP = 2.4;

/** How much of the cutter is in wood along a path, from the grid. */
function engagementOf(path: Toolpath, setUp: SetUp): EngagementSummary {
  const assembly = assemblyOf(path.operation.cutter, setUp.machine);
  const simulated = simulate({
    wood: startWood(setUp.blank, 0.2),
    events: asRead(path.moves),
    assemblyFor: () => assembly,
    around: { keepOuts: [], lowestTip: setUp.blank.min.z - 1 },
    withEngagement: true,
  });
  return simulated.engagement!;
}

/** Made moves as a reader would give them. */
function asRead(moves: readonly Move[]): ReadMove[] {
  let at: Position = { x: undefined, y: undefined, z: 50 };
  return moves.flatMap((m, line): ReadMove[] => {
    if (m.kind === "dwell") return [];
    const from = at;
    at = m.kind === "rapid z" ? { ...at, z: m.z } : { ...at, ...m.to };
    const path: ReadMove["path"] =
      m.kind === "arc" ? { kind: "arc", plane: "XY", centre: m.centre, ccw: m.ccw } : { kind: "line" };
    const rapid = m.kind === "rapid z" || m.kind === "rapid xy";
    const feed = m.kind === "line" || m.kind === "arc" ? m.feed : 0;
    const spindle = { turning: "clockwise", rpm: 18000 } as const;
    return [{ kind: "move", line, rapid, from, to: at, path, machine: false, feed, spindle, tool: 1, exactPath: true }];
  });
}

/** Pockets on a board big enough for each, all one level deep unless told otherwise. */
function benchSet(): readonly { readonly name: string; readonly area: Region }[] {
  const island = (x: number, y: number, r: number) =>
    circle({ x, y }, r).loops.map((l) => [...l].reverse().map(reversed));
  const corners = (...xy: readonly (readonly [number, number])[]): Region => polygon(xy.map(([x, y]) => ({ x, y })));
  const ell = corners([30, 30], [130, 30], [130, 80], [80, 80], [80, 130], [30, 130]);
  const necks = corners(
    [20, 50],
    [50, 50],
    [50, 66.5],
    [65, 66.5],
    [65, 50],
    [95, 50],
    [95, 66.4],
    [110, 66.4],
    [110, 50],
    [140, 50],
    [140, 90],
    [110, 90],
    [110, 73.2],
    [95, 73.2],
    [95, 90],
    [65, 90],
    [65, 73.5],
    [50, 73.5],
    [50, 90],
    [20, 90],
  );
  return [
    { name: "circle, radius 20", area: circle({ x: 80, y: 80 }, 20) },
    { name: "slot, 80 × 20", area: slot({ x: 80, y: 80 }, 80, 20, 0) },
    {
      name: "L with islands",
      area: { loops: [...ell.loops, ...island(55, 55, 8), ...island(105, 55, 6), ...island(55, 105, 5)] },
    },
    { name: "narrow necks", area: necks },
    { name: "star, 1,000 corners", area: moved(polygonsToRegion([star(1000)])) },
    { name: "star with three islands", area: moved(polygonsToRegion(threeIslandPocket())) },
  ];
}

function moved(region: Region): Region {
  return polygonsToRegion(region.loops.map((loop) => loop.map((s) => ({ x: s.from.x + 80, y: s.from.y + 80 }))));
}

function made(operation: ClearOperation, setUp: SetUp): Toolpath {
  const outcome = pathFor(operation, setUp);
  if (!outcome.ok) throw new Error(outcome.findings.map((f) => f.what).join("; "));
  return outcome.value;
}

/** Lengths by kind of move, mm: in wood, and through air or over cleared ground. */
function lengths(path: Toolpath, setUp: SetUp): { readonly cut: number; readonly air: number } {
  let cut = 0;
  let air = 0;
  for (const leg of legsOf(path, setUp)) {
    const length = Math.hypot(leg.way === undefined ? 0 : lengthOf(leg.way), leg.to.z - leg.from.z);
    const inAir = !("why" in leg.move) || leg.move.why === "link" || leg.move.why === "lift";
    if (inAir) air += length;
    else cut += length;
  }
  return { cut, air };
}

function uncut(path: Toolpath, setUp: SetUp, area: Region, z: number): number {
  const shape = flattenRegion(area, 0.0005);
  const reach = offsetPolygons(offsetPolygons(shape, -(DIAMETER / 2 + 0.005), 0.001), DIAMETER / 2, 0.001);
  return areaOfPolygons(differenceOf(reach, sweptAt(path, setUp, z)));
}

/** Medians of pieces of work run in turns, so that a busy machine slows all alike. */
function inTurns(works: readonly (() => void)[], rounds: number): number[] {
  const times: number[][] = works.map(() => []);
  for (const work of works) work();
  for (let i = 0; i < rounds; i++) {
    for (const [k, work] of works.entries()) {
      const start = performance.now();
      work();
      times[k]!.push(performance.now() - start);
    }
  }
  return times.map((t) => t.sort((a, b) => a - b)[Math.floor(t.length / 2)]!);
}

export default async function (): Promise<Row[]> {
  const rows: Row[] = [];
  const setUp = setUpOf(160, 160, 20);
  for (const { name, area } of benchSet()) {
    const operation = clearOf(area, DIAMETER, [-3], { step: STEP });
    const path = made(operation, setUp);
    const { cut, air } = lengths(path, setUp);
    const size = areaOf(area);
    rows.push({
      name: `${name}: length × step ÷ area`,
      value: (cut * STEP) / size,
      unit: "",
      note: `area ${size.toFixed(0)} mm², cut ${cut.toFixed(0)} mm, least (A − πR²)/2R ${((size - Math.PI * 9) / 6).toFixed(0)} mm`,
    });
    rows.push({ name: "  through air, of the whole length", value: (100 * air) / (cut + air), unit: "%" });
    const engaged = engagementOf(path, setUp);
    rows.push({ name: "  largest angle in wood, from simulation", value: engaged.largestDeg, unit: "°" });
    rows.push({ name: "  angle not passed over 99 % of the way", value: engaged.deg99, unit: "°" });
    rows.push({ name: "  left uncut", value: (1e6 * uncut(path, setUp, area, -3)) / size, unit: "ppm", goal: "0 ppm" });
    rows.push({ name: "  time", ...timed(() => void made(operation, setUp)), unit: "ms" });
  }
  rows.push(...besideNaive(setUp), ...growth(setUp));
  return rows;
}

/** The pocket of a thousand corners and three islands, with entries, links and finish, beside bare repeated offsets. */
function besideNaive(setUp: SetUp): Row[] {
  const pocket = threeIslandPocket();
  const grid = toGrid(pocket);
  const count = offsetPasses(pocket, DIAMETER / 2, STEP, 0.01).length;
  const naive = (): void => {
    // Each pass from the original outline, chord error 10 µm, until one comes back empty.
    for (let k = 0; k <= count; k++) growShape(grid, -(DIAMETER / 2 + STEP * k), 0.01);
  };
  const area = moved(polygonsToRegion(pocket));
  return [0, 0.3].map((wall): Row => {
    const operation = clearOf(area, DIAMETER, [-3], { step: STEP, allowance: { wall, floor: 0 } });
    const [mine, theirs] = inTurns([() => void made(operation, setUp), naive], 11);
    return {
      name: `three-island pocket${wall > 0 ? ", with allowance and finish" : ""}`,
      value: mine!,
      unit: "ms",
      goal: "≤ 0.25 ×",
      reference: { name: "naive repeated offset", value: theirs! },
    };
  });
}

/** What doubling costs: corners that all matter at 1 µm, noise on every corner, and area. */
function growth(setUp: SetUp): Row[] {
  const clearing = (ring: Ring): ClearOperation => clearOf(polygonsToRegion([ring]), DIAMETER, [-3], { step: STEP });
  const centre = { x: 80, y: 80 };
  const smooth = [lobed(1000, 50, 0.2, 6, centre), lobed(2000, 50, 0.1, 12, centre)];
  const noisy = [1000, 2000].map((n) =>
    star(n).map((p, i) => ({ x: 80 + p.x * (1 + 0.0004 * (i % 2)), y: 80 + p.y * (1 + 0.0004 * (i % 2)) })),
  );
  const double = (name: string, rings: readonly Ring[], goal?: string): Row => {
    const [one, two] = inTurns(
      rings.map((ring) => () => void made(clearing(ring), setUp)),
      15,
    );
    const kept = rings.map((ring) => simplifyRing(ring, 0.001).length);
    const row = { name, value: two!, unit: "ms", reference: { name: "once", value: one! } };
    const note = `${kept[0]} and ${kept[1]} corners after 1 µm simplification`;
    return goal === undefined ? { ...row, note } : { ...row, goal, note };
  };
  const sides = [70, 70 * Math.SQRT2];
  const squares = sides.map((side) => {
    const shape = rectangle({ x: 20, y: 20 }, { x: 20 + side, y: 20 + side });
    const middle = { x: 20 + side / 2, y: 20 + side / 2 };
    const hole = circle(middle, side / 8).loops.map((l) => [...l].reverse().map(reversed));
    return clearOf({ loops: [...shape.loops, ...hole] }, DIAMETER, [-3], { step: STEP });
  });
  const [small, large] = inTurns(
    squares.map((o) => () => void made(o, setUp)),
    21,
  );
  return [
    double("twice the corners", smooth, "≤ 2.3 ×"),
    double("twice the corners, each 20 µm off", noisy),
    { name: "twice the area", value: large!, unit: "ms", goal: "≤ 2.3 ×", reference: { name: "once", value: small! } },
  ];
}
