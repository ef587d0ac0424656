import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { BeamMove } from "../../../src/paths/beam/beam-move.ts";
import { beamPath } from "../../../src/paths/beam/beam-path.ts";
import { rowsAcross } from "../../../src/paths/beam/rows.ts";
import { chainTour, wayBetween } from "../../../src/paths/chain-tour.ts";
import type { BeamArea, BeamDots, BeamLines, BeamSetUp, PlannedBeam } from "../../../src/plan/beam-setup.ts";
import { circle, rectangle } from "../../../src/shapes/outlines.ts";
import { greyPicture } from "../../../src/shapes/picture/grey-picture.ts";
import { distance, type Point3 } from "../../../src/shapes/point.ts";
import { areaOf, containsPoint, distanceToBoundary, type Region } from "../../../src/shapes/region.ts";
import { arc, lengthOf, line, reversed } from "../../../src/shapes/segment.ts";
import { laserMachine, laserShop, mark, marked, planned } from "../../plan/beam-fixtures.ts";
import { solidOfBlank } from "../../plan/round-stock.ts";

const AREA = { by: "burned area", angleDeg: 0, ways: "two", contour: false } as const;
const LINE = { by: "burned line" } as const;

/** Feed moves with where each begins. */
interface Walked {
  readonly from: Point3;
  readonly to: Point3;
  readonly power: number;
  readonly feed: number;
  readonly length: number;
}

function walked(moves: readonly BeamMove[], safeZ: number): readonly Walked[] {
  let at: Point3 | undefined;
  const found: Walked[] = [];
  for (const m of moves) {
    if (m.kind === "rapid xy") at = { ...m.to, z: safeZ };
    else if (m.kind === "rapid z") at = at && { ...at, z: m.z };
    else {
      const from = at!;
      const curve = m.kind === "line" ? line(from, m.to) : arc(from, m.to, m.centre, m.ccw);
      const length = m.kind === "line" ? Math.hypot(distance(from, m.to), m.to.z - from.z) : lengthOf(curve);
      found.push({ from, to: m.to, power: m.power, feed: m.feed, length });
      at = m.to;
    }
  }
  return found;
}

function pathOf(plan: PlannedBeam, k = 0) {
  const { moves } = beamPath(plan.operations[k]!, plan.setUp);
  return { moves, feeds: walked(moves, plan.setUp.safeZ) };
}

function areaPlan(region: Region, made: object = {}, laser: object = {}): PlannedBeam {
  const shop = laserShop(laserMachine(laser));
  return planned(marked([mark("a", { kind: "area", region }, { ...AREA, ...made })]), shop);
}

function polygonLoops(points: readonly (readonly [number, number])[]): Region["loops"] {
  const at = points.map(([x, y]) => ({ x, y }));
  return [at.map((p, i) => line(p, at[(i + 1) % at.length]!))];
}

/** A ring: a disc with a hole. */
function ring(x: number, y: number, outer: number, inner: number): Region {
  const hole = circle({ x, y }, inner).loops[0]!.map(reversed).reverse();
  return { loops: [...circle({ x, y }, outer).loops, hole] };
}

describe("rows across an area", () => {
  it("are ⌊height / spacing⌋ + 1, evenly about the middle: 151 across 15 mm at 0.1 (the reference's own example)", () => {
    const rows = rowsAcross(rectangle({ x: 0, y: 0 }, { x: 30, y: 15 }), 0.1, 0);
    expect(rows).toHaveLength(151);
    for (const row of rows) {
      expect(row.spans).toHaveLength(1);
      expect(row.spans[0]!.from).toBeCloseTo(0, 6);
      expect(row.spans[0]!.to).toBeCloseTo(30, 6);
    }
    const odd = rowsAcross(rectangle({ x: 0, y: 0 }, { x: 30, y: 1 }), 0.3, 0);
    for (const [k, y] of [0.05, 0.35, 0.65, 0.95].entries()) expect(odd[k]!.y).toBeCloseTo(y, 9);
  });

  it("leave islands bare: a ring's rows are two chords each where they cross its hole, by Pythagoras", () => {
    const rows = rowsAcross(ring(0, 0, 10, 4), 0.5, 0);
    for (const { y, spans } of rows) {
      const out = Math.sqrt(100 - y * y);
      if (Math.abs(y) > 4.001) expect(spans).toHaveLength(1);
      if (Math.abs(y) > 3.9) continue;
      const inn = Math.sqrt(16 - y * y);
      expect(spans).toHaveLength(2);
      for (const [got, want] of [
        [spans[0]!.from, -out],
        [spans[0]!.to, -inn],
        [spans[1]!.from, inn],
        [spans[1]!.to, out],
      ] as const) {
        expect(Math.abs(got - want)).toBeLessThan(0.02);
      }
    }
  });

  it("cover the area: length times spacing comes to it, at any angle, and no row leaves it", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3000, max: 12_000 }),
        fc.integer({ min: 500, max: 2500 }),
        fc.integer({ min: -180, max: 180 }),
        fc.integer({ min: 50, max: 200 }),
        (outer, inner, deg, apart) => {
          const region = ring(20, 30, outer / 1000, inner / 1000);
          const spacing = apart / 1000;
          const rows = rowsAcross(region, spacing, deg);
          const length = rows.reduce((sum, r) => sum + r.spans.reduce((s, p) => s + p.to - p.from, 0), 0);
          // The midpoint rule on a circle strays near its poles by no more than a row of what is left there.
          expect(Math.abs(length * spacing - areaOf(region))).toBeLessThan(
            2.5 * spacing * Math.sqrt(8 * (outer / 1000) * spacing),
          );
          const rad = (deg * Math.PI) / 180;
          for (const r of rows) {
            for (const s of r.spans) {
              const x = (s.from + s.to) / 2;
              const p = { x: x * Math.cos(rad) - r.y * Math.sin(rad), y: x * Math.sin(rad) + r.y * Math.cos(rad) };
              expect(containsPoint(region, p) || distanceToBoundary(region, p) < 0.002).toBe(true);
            }
          }
        },
      ),
      { numRuns: 25 },
    );
  });

  it("give parts that lie between two lines lines of their own, where the border isn't burned", () => {
    // Rows at 0, 1, 2 …; a bar from 1.7 to 1.9 lies between two of them, joined to a post at its left.
    const bar: Region = {
      loops: polygonLoops([
        [0, 0],
        [1, 0],
        [1, 1.7],
        [9, 1.7],
        [9, 1.9],
        [1, 1.9],
        [1, 5],
        [0, 5],
      ]),
    };
    const plain = rowsAcross(bar, 1, 0);
    expect(plain.map((r) => r.spans.length)).toEqual([1, 1, 1, 1, 1, 1]);
    expect(Math.max(...plain.flatMap((r) => r.spans.map((s) => s.to)))).toBeLessThan(1.001);
    const without = rowsAcross(bar, 1, 0, false);
    const extra = without.filter((r) => r.spans.some((s) => s.to > 8));
    expect(extra).toHaveLength(1);
    expect(extra[0]!.y).toBeGreaterThan(1.7);
    expect(extra[0]!.y).toBeLessThan(1.9);
    expect(extra[0]!.spans[0]!.from).toBeCloseTo(1, 9);
    // What is convex needs none.
    const disc = circle({ x: 3, y: 2 }, 4);
    expect(rowsAcross(disc, 0.3, 20, false)).toEqual(rowsAcross(disc, 0.3, 20, true));
  });

  it("are none for nothing, and a spacing of zero is our bug", () => {
    expect(rowsAcross({ loops: [] }, 0.1, 0)).toEqual([]);
    expect(() => rowsAcross(rectangle({ x: 0, y: 0 }, { x: 1, y: 1 }), 0, 0)).toThrow(RangeError);
  });
});

describe("a burned area's moves", () => {
  const plan = areaPlan(rectangle({ x: 20, y: 10 }, { x: 50, y: 25 }));
  const { moves, feeds } = pathOf(plan);
  const operation = plan.operations[0] as BeamArea;

  it("begin with a rapid at safe height and end with a lift; the beam is on in even burning moves only", () => {
    expect(moves[0]).toMatchObject({ kind: "rapid xy" });
    expect(moves[moves.length - 1]).toEqual({ kind: "rapid z", z: plan.setUp.safeZ });
    for (const f of feeds.filter((m) => m.power > 0)) {
      expect(f.power).toBe(0.4);
      expect(f.feed).toBe(3000);
      expect([f.from.z, f.to.z]).toEqual([0, 0]);
    }
  });

  it("burn 0.1 mm apart over all of it, to and fro, with the whole run-up before and after each line", () => {
    const burned = feeds.filter((m) => m.power > 0);
    // 15 mm less 0.9 of the spot's 0.2, a row each 0.1 mm, each 30 mm less as much.
    expect(burned).toHaveLength(149);
    expect(burned.reduce((sum, m) => sum + m.length, 0)).toBeCloseTo(149 * 29.82, 1);
    const { runUp } = operation;
    expect(runUp).toBeCloseTo(2500 / 1000, 9);
    for (const [k, b] of burned.entries()) {
      const sense = k % 2 === 0 ? 1 : -1;
      expect(Math.sign(b.to.x - b.from.x)).toBe(sense);
      const i = feeds.indexOf(b);
      expect(feeds[i - 1]!).toMatchObject({ power: 0, feed: 3000 });
      expect(feeds[i - 1]!.length).toBeCloseTo(runUp, 9);
      expect(feeds[i + 1]!).toMatchObject({ power: 0, feed: 3000 });
      expect(feeds[i + 1]!.length).toBeCloseTo(runUp, 9);
    }
  });

  it("go one way only where that is wished, and follow the border last", () => {
    const plan = areaPlan(ring(30, 30, 8, 3), { ways: "one", contour: true });
    const { region, spacing } = plan.operations[0] as BeamArea;
    const count = rowsAcross(region, spacing, 0).reduce((n, r) => n + r.spans.length, 0);
    const burned = pathOf(plan).feeds.filter((m) => m.power > 0);
    for (const r of burned.slice(0, count)) {
      expect(r.to.x).toBeGreaterThan(r.from.x);
      expect(r.to.y).toBeCloseTo(r.from.y, 9);
    }
    // Both circles, half a spot inside the drawn ones, at the very end.
    const last = burned.slice(count).reduce((sum, m) => sum + m.length, 0);
    expect(last).toBeCloseTo(2 * Math.PI * (7.91 + 3.09), 1);
  });

  it("switch early by the way made while a late beam answers, both ways alike", () => {
    const late = pathOf(areaPlan(rectangle({ x: 20, y: 10 }, { x: 50, y: 12 }), {}, { lag: 0.002 }));
    const burned = late.feeds.filter((m) => m.power > 0);
    for (const [k, b] of burned.entries()) {
      const shift = (k % 2 === 0 ? -1 : 1) * 50 * 0.002;
      expect(b.from.x).toBeCloseTo((k % 2 === 0 ? 20.09 : 49.91) + shift, 2);
      expect(b.to.x).toBeCloseTo((k % 2 === 0 ? 49.91 : 20.09) + shift, 2);
    }
  });
});

describe("a picture's moves", () => {
  it("burn each row's dots where they are, and pass over rows without any", () => {
    // Two columns of four: left half black, but for the second row from the top, which is white.
    const grey = greyPicture(4, 4, [0, 0, 1, 1, 1, 1, 1, 1, 0, 1, 0, 1, 1, 1, 1, 0]);
    const shop = laserShop();
    const picture = mark(
      "a",
      { kind: "picture", grey, corner: { x: 20, y: 10 }, width: 0.8, height: 0.8, turnedDeg: 0 },
      { by: "burned picture", tones: "ordered" },
    );
    const plan = planned(marked([picture]), shop);
    const { aim } = plan.operations[0] as BeamDots;
    expect([...aim.bits]).toEqual([1, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 0, 1]);
    const burned = pathOf(plan).feeds.filter((m) => m.power > 0);
    const near = (v: number): number => Math.round(v * 1e6) / 1e6;
    expect(burned.map((m) => [near(m.from.x), near(m.to.x), near(m.from.y)])).toEqual([
      [20, 20.4, 10.7],
      // The next row with dots goes back.
      [20.6, 20.4, 10.3],
      [20.2, 20, 10.3],
      [20.6, 20.8, 10.1],
    ]);
  });
});

describe("burned lines", () => {
  it("follow every chain once, arcs as arcs, each pass of an open one the other way", () => {
    const bow = arc({ x: 30, y: 20 }, { x: 30, y: 40 }, { x: 30, y: 30 }, true);
    const ink = { kind: "lines", chains: [[line({ x: 10, y: 20 }, { x: 30, y: 20 }), bow]] } as const;
    const shop = { ...laserShop(), burns: [{ ...laserShop().burns![0]!, passes: 2 }] };
    const { feeds, moves } = pathOf(planned(marked([mark("a", ink, LINE)]), shop));
    const burned = feeds.filter((m) => m.power > 0);
    expect(burned.reduce((sum, m) => sum + m.length, 0)).toBeCloseTo(2 * (20 + Math.PI * 10), 9);
    expect(moves.filter((m) => m.kind === "arc").map((m) => m.kind === "arc" && m.ccw)).toEqual([true, false]);
    expect(feeds.filter((m) => m.power === 0 && m.length > 0 && m.from.z === 0)).toEqual([]);
  });

  it("come in an order whose way between is no longer than as drawn, and all of them come", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(...([0, 1, 2, 3] as const).map(() => fc.integer({ min: 0, max: 90_000 }))), {
          minLength: 1,
          maxLength: 25,
        }),
        (drawn) => {
          const chains = drawn
            .map(([a, b, c, d]) => [line({ x: a! / 1000, y: b! / 1000 }, { x: c! / 1000, y: d! / 1000 })])
            .filter(([s]) => lengthOf(s!) > 0);
          const order = chainTour(chains);
          expect(order).toHaveLength(chains.length);
          expect(wayBetween(order)).toBeLessThanOrEqual(wayBetween(chains) + 1e-6);
          const key = (c: readonly { from: { x: number; y: number }; to: { x: number; y: number } }[]): string =>
            [c[0]!.from, c[0]!.to]
              .map((p) => `${p.x},${p.y}`)
              .sort()
              .join(" ");
          expect(order.map(key).sort()).toEqual(chains.map(key).sort());
        },
      ),
      { numRuns: 30 },
    );
  });

  it("of a cut through keep to their order: what lies inside first, each round and round", () => {
    const through = mark("a", { kind: "area", region: ring(30, 30, 10, 4) }, { by: "burned through", keep: "inside" });
    const plan = planned(marked([through]));
    const burned = pathOf(plan).feeds.filter((m) => m.power > 0);
    const radius = burned.map((m) => Math.round(Math.hypot(m.to.x - 30, m.to.y - 30) * 10) / 10);
    const turn = radius.indexOf(10.1);
    expect(new Set(radius.slice(0, turn))).toEqual(new Set([3.9]));
    expect(new Set(radius.slice(turn))).toEqual(new Set([10.1]));
    expect(burned.reduce((sum, m) => sum + m.length, 0)).toBeCloseTo(2 * 2 * Math.PI * (3.9 + 10.1), 1);
    expect((plan.operations[0] as BeamLines).inOrder).toBe(true);
  });
});

describe("Z that follows the round", () => {
  const round = solidOfBlank({ length: 160, across: 40, square: 20, radii: [15, 15] });
  const workpiece = (ink: Parameters<typeof mark>[1], made: Parameters<typeof mark>[2]) =>
    marked([mark("a", ink, made)], {
      size: { length: 160, width: 40, thickness: 40 },
      round,
      wishes: { holding: { by: "jaws", jaws: [] } },
    });
  const shop = laserShop(laserMachine({ zFollows: true }));

  /** Height of a cylinder of radius 15 about the axis of the blank, zero on the square's top. */
  const height = (setUp: BeamSetUp, y: number): number => {
    const { axis } = setUp.round!;
    return axis.z + Math.sqrt(15 ** 2 - (y - axis.y) ** 2);
  };

  it("keeps the focus on the wood across the round, within a twentieth of a millimetre between its corners", () => {
    const plan = planned(
      workpiece({ kind: "lines", chains: [[line({ x: 60, y: 10 }, { x: 70, y: 32 })]] }, LINE),
      shop,
    );
    const burned = pathOf(plan).feeds.filter((m) => m.power > 0);
    expect(burned.length).toBeGreaterThan(30);
    for (const m of burned) {
      expect(m.from.z).toBeCloseTo(height(plan.setUp, m.from.y), 6);
      const middle = { y: (m.from.y + m.to.y) / 2, z: (m.from.z + m.to.z) / 2 };
      expect(Math.abs(middle.z - height(plan.setUp, middle.y))).toBeLessThan(0.05);
    }
  });

  it("stays level along the axis, and passes from row to row over the crown", () => {
    const region = rectangle({ x: 60, y: 11 }, { x: 80, y: 29 });
    const plan = planned(workpiece({ kind: "area", region }, { ...AREA, contour: false }), shop);
    const { feeds } = pathOf(plan);
    const burned = feeds.filter((m) => m.power > 0);
    for (const m of burned) {
      expect(m.from.z).toBe(m.to.z);
      expect(Math.abs(m.from.z - height(plan.setUp, m.from.y))).toBeLessThan(0.011);
    }
    // With the beam off, nothing goes sideways over the wood lower than the wood there.
    for (const m of feeds.filter((f) => f.power === 0 && distance(f.from, f.to) > 0.2)) {
      expect(Math.min(m.from.z, m.to.z)).toBeGreaterThanOrEqual(height(plan.setUp, m.from.y) - 0.011);
    }
  });
});
