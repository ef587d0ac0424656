import { fitArcs } from "../../src/shapes/fit-arcs.ts";
import { growShape, toGrid } from "../../src/shapes/kernel.ts";
import { offsetPasses, offsetPolygons } from "../../src/shapes/offset.ts";
import { areaOfPolygons, simplifyRing } from "../../src/shapes/polygons.ts";
import { line } from "../../src/shapes/segment.ts";
import { indexSegments, nearestDistance } from "../../src/shapes/segment-index.ts";
import { star, threeIslandPocket } from "../shapes/generators.ts";
import { refereeOffset } from "../shapes/referee.ts";
import { type Row, timed } from "./row.ts";

/** Medians of two pieces of work, run in turns so that a busy machine slows both. */
function sideBySide(a: () => void, b: () => void, rounds: number): readonly [number, number] {
  const times: [number[], number[]] = [[], []];
  a();
  b();
  for (let i = 0; i < rounds; i++) {
    for (const [k, work] of [a, b].entries()) {
      const start = performance.now();
      work();
      times[k]!.push(performance.now() - start);
    }
  }
  const [first, second] = times.map((t) => t.sort((x, y) => x - y)[Math.floor(t.length / 2)]!);
  return [first!, second!];
}

export default async function (): Promise<Row[]> {
  const rows: Row[] = [];
  const big = star(100_000);
  const offset = timed(() => offsetPolygons([big], -1.5, 0.001), 9);
  const made = offsetPolygons([big], -1.5, 0.001);
  rows.push({
    name: "100,000-vertex outline offset within 1 µm",
    ...offset,
    unit: "ms",
    goal: "≤ 50 ms",
    note: `${made[0]!.length} vertices, area ${areaOfPolygons(made).toFixed(3)}`,
  });
  const simplified = timed(() => simplifyRing(big, 0.0005), 9);
  rows.push({ name: "  of which dropping points", ...simplified, unit: "ms" });
  const [mine, theirs] = sideBySide(
    () => offsetPolygons([big], -1.5, 0.001),
    () => refereeOffset([big], -1.5, 60),
    3,
  );
  rows.push({
    name: "  beside an independent library",
    value: mine,
    unit: "ms",
    reference: { name: "jsts", value: theirs },
  });

  for (const tolerance of [0.01, 0.001]) {
    const pocket = threeIslandPocket();
    const grid = toGrid(pocket);
    const passes = offsetPasses(pocket, 3, 2.4, tolerance);
    const naive = (): void => {
      // The repeated offset of the original outline, same chord error, same number of passes.
      for (let k = 0; k <= passes.length; k++) growShape(grid, -(3 + 2.4 * k), tolerance / 2);
    };
    const [ours, repeated] = sideBySide(() => offsetPasses(pocket, 3, 2.4, tolerance), naive, 9);
    const rings = passes.reduce((n, p) => n + p.components.flat().length, 0);
    rows.push({
      name: `three-island pocket, ${passes.length} passes, ${tolerance * 1000} µm`,
      value: ours,
      unit: "ms",
      reference: { name: "repeated offset of the original", value: repeated },
      goal: "≤ 0.25 ×",
      note: `${rings} rings, ${passes.flatMap((p) => p.components.flat(2)).length} points`,
    });
    const segments = Math.ceil(Math.PI / 2 / (2 * Math.acos(1 - tolerance / 2 / 10)));
    const [again, library] = sideBySide(
      () => offsetPasses(pocket, 3, 2.4, tolerance),
      () => {
        for (let k = 0; k <= passes.length; k++) refereeOffset(pocket, -(3 + 2.4 * k), segments);
      },
      5,
    );
    rows.push({
      name: "  beside an independent library on the same offsets",
      value: again,
      unit: "ms",
      reference: { name: "jsts", value: library },
    });
  }

  for (const n of [50_000, 100_000, 200_000]) {
    const [half, full] = [star(n), star(2 * n)];
    const [once, twice] = sideBySide(
      () => offsetPolygons([half], -1.5, 0.001),
      () => offsetPolygons([full], -1.5, 0.001),
      5,
    );
    rows.push({
      name: `doubling ${n.toLocaleString("en")} vertices`,
      value: twice,
      unit: "ms",
      reference: { name: "half as many", value: once },
      goal: "≤ 2.3 ×",
    });
  }

  const ring = star(10_000);
  const fit = timed(() => fitArcs(ring, 0.001, true), 9);
  rows.push({
    name: "arcs fitted to 10,000 points within 1 µm",
    ...fit,
    unit: "ms",
    goal: "< 50 ms",
    note: `${fitArcs(ring, 0.001, true).length} lines and arcs`,
  });

  const edges = star(10_000).map((p, i, all) => line(p, all[(i + 1) % all.length]!));
  const index = indexSegments(edges);
  const queries = timed(() => {
    for (let k = 0; k < 10_000; k++) nearestDistance(index, { x: (k % 100) - 50, y: Math.floor(k / 100) - 50 });
  }, 5);
  rows.push({
    name: "nearest of 10,000 segments",
    value: 10_000 / queries.value,
    unit: "queries/ms",
    goal: "≥ 89 (published baseline)",
  });
  return rows;
}
