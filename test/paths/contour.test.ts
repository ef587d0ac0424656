import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Toolpath } from "../../src/paths/move.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import type { ContourOperation, FollowOperation, Operation } from "../../src/plan/operation.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import { differenceOf, unionOf } from "../../src/shapes/boolean.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { offsetPolygons } from "../../src/shapes/offset.ts";
import { circle, polygon, rectangle, roundedRectangle, slotBetween } from "../../src/shapes/outlines.ts";
import type { Point } from "../../src/shapes/point.ts";
import { areaOfPolygons, type Polygons } from "../../src/shapes/polygons.ts";
import type { Region } from "../../src/shapes/region.ts";
import { baseOf, setUpOf, star } from "./fixtures.ts";
import { leftOver, legsOf, misdeeds, placesOn, reachable, sweptAt, worstGouge } from "./referee.ts";

const setUp = setUpOf(120, 120, 9);

function made(operation: Operation, at: SetUp = setUp): Toolpath {
  const outcome = pathFor(operation, at);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.value;
}

function contourOf(profile: Region, changes: Partial<ContourOperation> = {}): ContourOperation {
  return {
    ...baseOf(6),
    kind: "contour",
    profile,
    side: "outside",
    levels: [-3, -6, -9.5],
    tabs: [],
    allowance: 0.3,
    rampAngle: 3,
    ...changes,
  };
}

/** Everything a cutter may enter: all but the part (outside), or the opening alone (inside). */
function freeOf(operation: ContourOperation): Polygons {
  const profile = flattenRegion(operation.profile, 0.0001);
  const far = flattenRegion(rectangle({ x: -200, y: -200 }, { x: 400, y: 400 }), 1);
  return operation.side === "outside" ? differenceOf(far, profile) : profile;
}

/** The wall is reached all round, but for where tabs stand. */
function wallLeft(operation: ContourOperation, path: Toolpath, tabs: Polygons, at: SetUp = setUp): number {
  const floor = operation.levels[operation.levels.length - 1]!;
  const free = freeOf(operation);
  const profile = flattenRegion(operation.profile, 0.0001);
  const band =
    operation.side === "outside"
      ? differenceOf(offsetPolygons(profile, 1, 0.001), profile)
      : differenceOf(profile, offsetPolygons(profile, -1, 0.001));
  const reach = reachable(free, 3);
  const wanted = differenceOf(differenceOf(band, differenceOf(band, reach)), offsetPolygons(tabs, 6.05, 0.001));
  return areaOfPolygons(leftOver(wanted, sweptAt(path, at, floor), 0.01));
}

describe("outlines", () => {
  const shapes: Region[] = [
    roundedRectangle({ x: 60, y: 60 }, 70, 50, 8, 15),
    polygon([
      { x: 25, y: 25 },
      { x: 95, y: 25 },
      { x: 95, y: 55 },
      { x: 55, y: 55 },
      { x: 55, y: 95 },
      { x: 25, y: 95 },
    ]),
    circle({ x: 60, y: 60 }, 25),
    polygon(star(90, 32, 0.2, 5, { x: 60, y: 60 })),
  ];

  it("are cut to size outside and inside, climbing down without a lift", () => {
    for (const profile of shapes) {
      for (const side of ["outside", "inside"] as const) {
        for (const allowance of [0, 0.3]) {
          const operation = contourOf(profile, { side, allowance });
          const path = made(operation);
          const free = freeOf(operation);
          expect(worstGouge(path, setUp, () => free, 0)).toBeLessThanOrEqual(0.005);
          expect(wallLeft(operation, path, [])).toBe(0);
          expect(misdeeds(path, setUp, 3)).toEqual([]);
          expect(path.moves.filter((m) => m.kind === "rapid xy").length).toBe(allowance > 0 ? 2 : 1);
        }
      }
    }
  });

  it("keep their direction: climb goes clockwise outside and counter-clockwise in an opening", () => {
    for (const side of ["outside", "inside"] as const) {
      for (const habit of ["climb", "conventional"] as const) {
        const operation = { ...contourOf(circle({ x: 60, y: 60 }, 25), { side }), roughing: habit, finishing: habit };
        const ccw = (side === "inside") === (habit === "climb");
        for (const leg of legsOf(made(operation), setUp)) {
          if (leg.move.kind !== "arc" || leg.move.why === "lead") continue;
          expect(leg.move.ccw).toBe(ccw);
        }
      }
    }
  });

  it("leave every tab standing to its full height, and nothing else", () => {
    const um = (from: number, to: number) => fc.integer({ min: from * 1000, max: to * 1000 }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        fc.constantFrom(...shapes),
        fc.array(fc.tuple(um(0, 1), um(3, 8), um(1, 7)), { minLength: 1, maxLength: 4 }),
        fc.constantFrom("outside" as const, "inside" as const),
        fc.constantFrom(0, 0.3),
        (profile, wishes, side, allowance) => {
          const tabs = wishes.map(([turn, width, height]) => {
            const t = 2 * Math.PI * turn;
            const out: Point = { x: Math.cos(t), y: Math.sin(t) };
            const at = (r: number): Point => ({ x: 60 + r * out.x, y: 60 + r * out.y });
            return { area: bar(at(5), at(70), width), zTop: -9 + height };
          });
          const operation = contourOf(profile, { side, allowance, tabs });
          const path = made(operation);
          for (const leg of legsOf(path, setUp)) {
            for (const p of placesOn(leg, 0.2)) {
              for (const tab of tabs) {
                if (p.z < tab.zTop - 1e-9) expect(apart(tab.area, p)).toBeGreaterThan(3 - 0.001);
              }
            }
          }
          const free = freeOf(operation);
          expect(worstGouge(path, setUp, () => free, 0)).toBeLessThanOrEqual(0.005);
          // Where two tabs all but meet, what is between them may stay.
          const each = unionOf(...tabs.map((t) => flattenRegion(t.area, 0.001)));
          const standing = offsetPolygons(offsetPolygons(each, 3.6, 0.01), -3.6, 0.01);
          expect(wallLeft(operation, path, standing)).toBe(0);
          expect(misdeeds(path, setUp, 3)).toEqual([]);
        },
      ),
      { numRuns: 20 },
    );
  });

  it("are refused where the cutter fits nowhere", () => {
    const tiny = pathFor(contourOf(circle({ x: 60, y: 60 }, 2.5), { side: "inside" }), setUp);
    expect(tiny.ok ? [] : tiny.findings.map((f) => f.code)).toEqual(["cutter-fits-nowhere"]);
  });
});

describe("grooves as wide as the cutter", () => {
  function followOf(start: Point, end: Point, changes: Partial<FollowOperation>): FollowOperation {
    return {
      ...baseOf(6),
      kind: "follow",
      start,
      end,
      openStart: false,
      openEnd: false,
      levels: [-2, -4],
      rampAngle: 3,
      ...changes,
    };
  }

  it("are swept from end to end at every level, closed or open", () => {
    const ends = [
      { start: { x: 20, y: 30 }, end: { x: 100, y: 80 }, openStart: false, openEnd: false },
      { start: { x: 50, y: 50 }, end: { x: 56, y: 50 }, openStart: false, openEnd: false },
      { start: { x: 0, y: 30 }, end: { x: 90, y: 30 }, openStart: true, openEnd: false },
      { start: { x: 30, y: 30 }, end: { x: 120, y: 30 }, openStart: false, openEnd: true },
      { start: { x: 40, y: 0 }, end: { x: 40, y: 120 }, openStart: true, openEnd: true },
    ];
    for (const { start, end, ...open } of ends) {
      const operation = followOf(start, end, open);
      const path = made(operation);
      expect(misdeeds(path, setUp, 3)).toEqual([]);
      const groove = flattenRegion(slotBetween(start, end, 6), 0.0001);
      const board = flattenRegion(rectangle({ x: 0, y: 0 }, { x: 120, y: 120 }), 1);
      const far = flattenRegion(rectangle({ x: -99, y: -99 }, { x: 220, y: 220 }), 1);
      const free = open.openStart || open.openEnd ? unionOf(differenceOf(far, board), groove) : groove;
      expect(worstGouge(path, setUp, () => free, 0)).toBeLessThanOrEqual(0.0005);
      for (const z of operation.levels) expect(areaOfPolygons(leftOver(groove, sweptAt(path, setUp, z), 0.01))).toBe(0);
      // No side is entered at full depth: a level below the first is never cut before the one above it.
      const deepest = legsOf(path, setUp).findIndex((l) => l.to.z <= -4);
      const shallower = legsOf(path, setUp).findIndex((l) => l.to.z === -2 && l.way !== undefined);
      expect(shallower).toBeLessThan(deepest);
    }
  });

  it("run out past the edge only where no clamp stands", () => {
    const clamp = { name: "clamp", box: { min: { x: -30, y: 20, z: -9 }, max: { x: -1, y: 40, z: 8 } } };
    const clamped = setUpOf(120, 120, 9, { keepOuts: [clamp] });
    const path = made(followOf({ x: 4, y: 30 }, { x: 90, y: 30 }, { openStart: true }), clamped);
    for (const leg of legsOf(path, clamped)) if (leg.to.z < 8) expect(leg.to.x).toBeGreaterThanOrEqual(4);
  });

  it("are refused when there is no length to ramp along", () => {
    const short = pathFor(followOf({ x: 30, y: 30 }, { x: 30.1, y: 30 }, {}), setUp);
    expect(short.ok ? [] : short.findings.map((f) => f.code)).toEqual(["no-way-in"]);
  });
});

/** A straight bar of a width between two points. */
function bar(a: Point, b: Point, width: number): Region {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const nx = (-(b.y - a.y) / length) * (width / 2);
  const ny = ((b.x - a.x) / length) * (width / 2);
  return polygon([
    { x: a.x - nx, y: a.y - ny },
    { x: b.x - nx, y: b.y - ny },
    { x: b.x + nx, y: b.y + ny },
    { x: a.x + nx, y: a.y + ny },
  ]);
}

/** Distance of a point from a bar; 0 inside. Plain arithmetic over its four sides. */
function apart(area: Region, p: Point): number {
  let least = Number.POSITIVE_INFINITY;
  let inside = true;
  for (const s of area.loops[0]!) {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    if (dx * (p.y - s.from.y) - dy * (p.x - s.from.x) < 0) inside = false;
    const t = Math.min(1, Math.max(0, ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / (dx * dx + dy * dy)));
    least = Math.min(least, Math.hypot(s.from.x + t * dx - p.x, s.from.y + t * dy - p.y));
  }
  return inside ? 0 : least;
}
