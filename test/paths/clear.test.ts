import fc from "fast-check";
import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import { describe, expect, it } from "vitest";
import type { Toolpath } from "../../src/paths/move.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import type { ClearOperation } from "../../src/plan/operation.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import { intersectionOf, unionOf } from "../../src/shapes/boolean.ts";
import { fitRegion } from "../../src/shapes/fit-arcs.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { offsetRegion } from "../../src/shapes/offset.ts";
import { circle, polygon, rectangle, roundedRectangle, slot } from "../../src/shapes/outlines.ts";
import { distance, type Point } from "../../src/shapes/point.ts";
import { areaOfPolygons } from "../../src/shapes/polygons.ts";
import type { Region } from "../../src/shapes/region.ts";
import { reversed } from "../../src/shapes/segment.ts";
import { refereeOffset } from "../shapes/referee.ts";
import { clearOf, flat, setUpOf, star } from "./fixtures.ts";
import { leftOver, legsOf, lengthBy, misdeeds, reachable, sweptAt, worstGouge } from "./referee.ts";

const GOUGE = 0.005;
const LEFT = 0.01;

function made(operation: ClearOperation, setUp: SetUp): Toolpath {
  const outcome = pathFor(operation, setUp);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.value;
}

function less(outer: Region, ...holes: readonly Region[]): Region {
  const islands = holes.flatMap((h) => h.loops.map((loop) => [...loop].reverse().map(reversed)));
  return { loops: [...outer.loops, ...islands] };
}

/** All that a pocket with straight walls must keep. */
function holdsFor(area: Region, operation: ClearOperation, setUp: SetUp): void {
  const path = made(operation, setUp);
  const shape = flattenRegion(area, 0.0001);
  expect(worstGouge(path, setUp, () => shape, operation.topZ)).toBeLessThanOrEqual(GOUGE);
  const radius = operation.cutter.diameter / 2;
  const reach = reachable(shape, radius);
  for (const level of operation.finishLevels) {
    expect(areaOfPolygons(leftOver(reach, sweptAt(path, setUp, level.z), LEFT))).toBe(0);
  }
  expect(misdeeds(path, setUp, operation.rampAngle)).toEqual([]);
}

const um = (from: number, to: number) =>
  fc.integer({ min: Math.round(from * 1000), max: Math.round(to * 1000) }).map((n) => n / 1000);

describe("clearing", () => {
  const setUp = setUpOf(120, 120, 20);
  const both = [
    { wall: 0, floor: 0 },
    { wall: 0.3, floor: 0.2 },
  ];

  it("clears recesses of many kinds to the wall and the floor, and never beyond", () => {
    const areas: Region[] = [
      circle({ x: 60, y: 60 }, 20),
      roundedRectangle({ x: 60, y: 60 }, 80, 40, 5, 20),
      slot({ x: 60, y: 60 }, 70, 10, 30),
      polygon([
        { x: 20, y: 20 },
        { x: 100, y: 20 },
        { x: 100, y: 50 },
        { x: 50, y: 50 },
        { x: 50, y: 100 },
        { x: 20, y: 100 },
      ]),
      polygon(star(200, 40, 0.25, 9, { x: 60, y: 60 })),
      less(rectangle({ x: 10, y: 10 }, { x: 110, y: 110 }), circle({ x: 40, y: 50 }, 10), circle({ x: 80, y: 70 }, 12)),
    ];
    for (const area of areas)
      for (const allowance of both) holdsFor(area, clearOf(area, 6, [-3, -6], { allowance }), setUp);
  });

  it("clears both halves of a recess that a narrow neck joins, and the neck", () => {
    for (const neck of [6.2, 6.5, 7, 9]) {
      const h = neck / 2;
      const area = polygon([
        { x: 15, y: 40 },
        { x: 45, y: 40 },
        { x: 45, y: 60 - h },
        { x: 75, y: 60 - h },
        { x: 75, y: 40 },
        { x: 105, y: 40 },
        { x: 105, y: 80 },
        { x: 75, y: 80 },
        { x: 75, y: 60 + h },
        { x: 45, y: 60 + h },
        { x: 45, y: 80 },
        { x: 15, y: 80 },
      ]);
      for (const allowance of both) holdsFor(area, clearOf(area, 6, [-4], { allowance }), setUp);
    }
  });

  it("holds for random recesses with islands, any step up to the radius", () => {
    const corner = fc.tuple(um(0.55, 1), um(0, 0.9));
    const shape = fc.record({
      corners: fc.array(corner, { minLength: 3, maxLength: 9 }),
      islands: fc.array(fc.record({ x: um(30, 90), y: um(30, 90), r: um(2, 9) }), { maxLength: 3 }),
      diameter: um(3, 8),
      share: um(0.2, 0.5),
      wall: um(0, 0.4),
      floor: um(0, 0.3),
    });
    fc.assert(
      fc.property(shape, ({ corners, islands, diameter, share, wall, floor }) => {
        const outer = corners.map(([r, shift], i): Point => {
          const t = ((i + 0.45 * shift) / corners.length) * 2 * Math.PI;
          return { x: 60 + 55 * r * Math.cos(t), y: 60 + 55 * r * Math.sin(t) };
        });
        const holes = islands.filter((a, i) =>
          islands.slice(0, i).every((b) => Math.hypot(a.x - b.x, a.y - b.y) > a.r + b.r + 0.5),
        );
        const inner = holes.filter((a) => fits(outer, a.x, a.y, a.r + 0.5));
        const area = less(polygon(outer), ...inner.map((a) => circle({ x: a.x, y: a.y }, a.r)));
        const operation = clearOf(area, diameter, [-2, -4], {
          step: share * diameter,
          allowance: { wall: Math.round(wall * 10) / 10, floor },
        });
        holdsFor(area, operation, setUp);
      }),
      { numRuns: 10 },
    );
  });

  it("goes down a sloped wall ring by ring and never into it", () => {
    for (const lean of [5, 30, 60]) {
      const small = setUpOf(80, 80, 20);
      const tan = Math.tan((lean * Math.PI) / 180);
      const top = roundedRectangle({ x: 40, y: 40 }, 60, 50, 12, 0);
      const at = (z: number): Region => (z >= 0 ? top : fitRegion(offsetRegion(top, z * tan, 0.0005), 0.0005));
      const levels = [-2, -4, -6].map((z) => ({ z, area: at(z) }));
      const finishLevels = Array.from({ length: 9 }, (_, i) => ({
        z: (-2 * (i + 1)) / 3,
        area: at((-2 * (i + 1)) / 3),
      }));
      const operation = clearOf(top, 6, [-6], { levels, finishLevels, allowance: { wall: 0.3, floor: 0.2 } });
      const path = made(operation, small);
      const known = new Map<number, ReturnType<typeof flattenRegion>>();
      const sectionAt = (z: number) => {
        const key = Math.round(z * 20) / 20;
        const there = known.get(key) ?? offsetRegion(top, Math.min(-1e-9, key * tan), 0.002);
        known.set(key, there);
        return there;
      };
      // Heights between levels are rounded to 0.05 mm for the judge, which leans the wall by so much.
      expect(worstGouge(path, small, sectionAt, 0)).toBeLessThanOrEqual(GOUGE + 0.025 * tan);
      for (const level of finishLevels.filter((_, i) => i % 4 === 0)) {
        const reach = reachable(flattenRegion(level.area, 0.0005), 3);
        expect(areaOfPolygons(leftOver(reach, sweptAt(path, small, level.z), LEFT))).toBe(0);
      }
      expect(misdeeds(path, small, 3)).toEqual([]);
    }
  });

  it("enters an open area from the air and runs its walls out into it", () => {
    const air = less(rectangle({ x: -60, y: -60 }, { x: 180, y: 180 }), rectangle({ x: 0, y: 0 }, { x: 120, y: 120 }));
    const cases: { area: Region; openAir: Region }[] = [
      // A rabbet along an edge, a notch in an edge, a trench right across.
      { area: rectangle({ x: -10, y: 108 }, { x: 130, y: 130 }), openAir: air },
      { area: rectangle({ x: 40, y: -10 }, { x: 75, y: 30 }), openAir: air },
      { area: rectangle({ x: 50, y: -10 }, { x: 62, y: 130 }), openAir: air },
    ];
    for (const { area, openAir } of cases) {
      for (const allowance of both) {
        const operation = clearOf(area, 6, [-3, -6], { allowance, openAir, grainDeg: 0 });
        const path = made(operation, setUp);
        const board = flattenRegion(
          less(rectangle({ x: -200, y: -200 }, { x: 300, y: 300 }), rectangle({ x: 0, y: 0 }, { x: 120, y: 120 })),
          0.001,
        );
        const allowed = unionOf(board, flattenRegion(area, 0.001));
        expect(worstGouge(path, setUp, () => allowed, 0)).toBeLessThanOrEqual(GOUGE);
        const wanted = intersectionOf(
          flattenRegion(rectangle({ x: 0, y: 0 }, { x: 120, y: 120 }), 1),
          intersectionOf(reachable(allowed, 3), flattenRegion(area, 0.001)),
        );
        expect(areaOfPolygons(leftOver(wanted, sweptAt(path, setUp, -6), LEFT))).toBe(0);
        expect(misdeeds(path, setUp, 3)).toEqual([]);
        const entries = legsOf(path, setUp).filter((l) => "why" in l.move && l.move.why === "entry" && l.to.z < -1);
        expect(entries.length).toBeGreaterThan(0);
        // The first way down is beside the wood.
        const first = entries[0]!;
        const beside = Math.max(0, -first.to.x, first.to.x - 120, -first.to.y, first.to.y - 120);
        expect(beside).toBeGreaterThanOrEqual(3);
      }
    }
  });

  it("keeps out of the air where a clamp stands", () => {
    const air = less(rectangle({ x: -60, y: -60 }, { x: 180, y: 180 }), rectangle({ x: 0, y: 0 }, { x: 120, y: 120 }));
    const area = rectangle({ x: 50, y: -10 }, { x: 75, y: 30 });
    const clamp = { name: "clamp", box: { min: { x: 30, y: -40, z: -20 }, max: { x: 95, y: -1, z: 8 } } };
    const clamped = setUpOf(120, 120, 20, { keepOuts: [clamp] });
    const path = made(clearOf(area, 6, [-3], { openAir: air, allowance: { wall: 0.3, floor: 0 } }), clamped);
    for (const leg of legsOf(path, clamped)) {
      for (const end of [leg.from, leg.to]) {
        if (end.z < 8) expect(Math.max(-1 - end.y, 0) === 0 && end.y >= 2 - 1e-6).toBe(true);
      }
    }
  });

  it("keeps one direction: climb has the wood on the right, conventional on the left", () => {
    const area = less(circle({ x: 60, y: 60 }, 40), circle({ x: 60, y: 60 }, 12));
    for (const roughing of ["climb", "conventional"] as const) {
      for (const finishing of ["climb", "conventional"] as const) {
        const operation = { ...clearOf(area, 6, [-3], { allowance: { wall: 0.3, floor: 0 } }), roughing, finishing };
        const path = made(operation, setUp);
        for (const [why, habit] of [
          ["rough", roughing],
          ["finish", finishing],
        ] as const) {
          const turns = { outer: 0, inner: 0 };
          for (const leg of legsOf(path, setUp)) {
            if (!("why" in leg.move) || leg.move.why !== why || leg.way?.kind !== "arc") continue;
            const r = Math.hypot(leg.to.x - 60, leg.to.y - 60);
            // The area swept about the middle: positive counter-clockwise.
            const { from, to } = leg.way;
            const sweep = leg.move.kind === "arc" && leg.move.ccw ? 1 : -1;
            if (Math.hypot(leg.way.centre.x - 60, leg.way.centre.y - 60) > 0.5) continue;
            const length = Math.hypot(to.x - from.x, to.y - from.y);
            if (r > 28) turns.outer += sweep * length;
            if (r < 24) turns.inner += sweep * length;
          }
          const climb = habit === "climb" ? 1 : -1;
          expect(Math.sign(turns.outer)).toBe(climb);
          expect(Math.sign(turns.inner)).toBe(-climb);
        }
      }
    }
  });

  it("gives the same moves every time", () => {
    const area = less(rectangle({ x: 10, y: 10 }, { x: 110, y: 110 }), circle({ x: 40, y: 50 }, 10));
    const operation = clearOf(area, 6, [-3, -6], { allowance: { wall: 0.3, floor: 0.2 } });
    expect(JSON.stringify(made(operation, setUp))).toBe(JSON.stringify(made(operation, setUp)));
  });

  it("cuts a round pocket in rings as long as the closed form, and no pocket in less than the least length", () => {
    const area = circle({ x: 60, y: 60 }, 20);
    const path = made(clearOf(area, 6, [-3], { step: 2.4 }), setUp);
    const cut = lengthBy(path, setUp, ["rough"]);
    // Rings at 17, 14.6 … 2.6; the helix takes the innermost. Source: 2π Σ r.
    const rings = [17, 14.6, 12.2, 9.8, 7.4, 5, 2.6].reduce((sum, r) => sum + 2 * Math.PI * r, 0);
    const helix = 2 * Math.PI * 0.85 * 3;
    expect(cut).toBeGreaterThan(rings);
    expect(cut).toBeLessThan(rings + helix + 7 * 2.6);
    // L ≥ (A − πR²) / 2R.
    expect(cut).toBeGreaterThan((Math.PI * 400 - Math.PI * 9) / 6);
  });

  it("takes as much as an independent library says the cutter can reach", () => {
    for (const area of [
      polygon(star(200, 40, 0.25, 9, { x: 60, y: 60 })),
      less(rectangle({ x: 10, y: 10 }, { x: 110, y: 90 }), circle({ x: 40, y: 50 }, 10), circle({ x: 80, y: 70 }, 12)),
    ]) {
      const path = made(clearOf(area, 6, [-3], { allowance: { wall: 0.3, floor: 0 } }), setUp);
      const shape = flattenRegion(area, 0.0005);
      const opened = BufferOp.bufferOp(refereeOffset(shape, -3, 100), 3, 100).getArea();
      const around = shape.reduce(
        (sum, r) => sum + r.reduce((l, p, i) => l + distance(p, r[(i + 1) % r.length]!), 0),
        0,
      );
      const swept = areaOfPolygons(sweptAt(path, setUp, -3));
      expect(swept).toBeLessThanOrEqual(opened + 0.001 * around);
      expect(swept).toBeGreaterThanOrEqual(opened - 0.006 * around);
    }
  });

  it("slows down where the cutter is buried, and there only", () => {
    const area = slot({ x: 60, y: 60 }, 80, 10, 0);
    const path = made(clearOf(area, 6, [-3]), setUp);
    const feeds = legsOf(path, setUp).flatMap((l) =>
      "why" in l.move && l.move.why === "rough" && l.way !== undefined && l.to.z === -3 ? [l.move.feed] : [],
    );
    expect(feeds).toContain(900);
    const wide = made(clearOf(circle({ x: 60, y: 60 }, 40), 6, [-3]), setUp);
    const share = (feed: number): number =>
      legsOf(wide, setUp)
        .filter((l) => "why" in l.move && l.move.why === "rough" && l.move.feed === feed)
        .reduce((sum, l) => sum + Math.hypot(l.to.x - l.from.x, l.to.y - l.from.y), 0);
    expect(share(900)).toBeLessThan(0.1 * share(1500));
  });

  it("keeps its helix outside a dead centre, or says that there is no way in", () => {
    const wide = { ...clearOf(circle({ x: 60, y: 60 }, 20), 6, [-3]), cutter: flat(6, 2) };
    const path = made(wide, setUp);
    const helix = legsOf(path, setUp).filter((l) => l.move.kind === "arc" && l.move.why === "entry");
    expect(helix.length).toBeGreaterThan(0);
    for (const leg of helix) {
      if (leg.way?.kind !== "arc") continue;
      const radius = Math.hypot(leg.way.centre.x - leg.from.x, leg.way.centre.y - leg.from.y);
      expect(radius).toBeGreaterThanOrEqual(2);
      expect(radius).toBeLessThanOrEqual(3);
    }
    const tight = pathFor({ ...clearOf(circle({ x: 60, y: 60 }, 4), 6, [-3]), cutter: flat(6, 2) }, setUp);
    expect(tight.ok ? [] : tight.findings.map((f) => f.code)).toEqual(["no-way-in"]);
  });

  it("refuses an area, or a piece of one, that the cutter does not fit into", () => {
    const narrow = pathFor(clearOf(slot({ x: 60, y: 60 }, 60, 5.5, 0), 6, [-3]), setUp);
    expect(narrow.ok ? [] : narrow.findings.map((f) => f.code)).toEqual(["cutter-fits-nowhere"]);
    const two = { loops: [...circle({ x: 30, y: 60 }, 10).loops, ...circle({ x: 90, y: 60 }, 2).loops] };
    const partly = pathFor(clearOf(two, 6, [-3]), setUp);
    expect(partly.ok ? [] : partly.findings.map((f) => f.code)).toEqual(["cutter-fits-nowhere"]);
  });

  it("refuses to plan with a step wider than the radius", () => {
    expect(() => pathFor(clearOf(circle({ x: 60, y: 60 }, 20), 6, [-3], { step: 3.1 }), setUp)).toThrow(RangeError);
  });
});

function fits(ring: readonly Point[], x: number, y: number, r: number): boolean {
  return ring.every((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const length = Math.hypot(q.x - p.x, q.y - p.y);
    const side = ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x)) / length;
    const t = Math.min(1, Math.max(0, ((x - p.x) * (q.x - p.x) + (y - p.y) * (q.y - p.y)) / length ** 2));
    return side > 0 && Math.hypot(p.x + t * (q.x - p.x) - x, p.y + t * (q.y - p.y) - y) > r;
  });
}
