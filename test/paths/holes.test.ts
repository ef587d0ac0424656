import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { helixDown, pitchOf, rampLength } from "../../src/paths/descend.ts";
import type { Toolpath } from "../../src/paths/move.ts";
import { inShortOrder } from "../../src/paths/order.ts";
import { pathFor } from "../../src/paths/path-for.ts";
import { comeDown, startTrail } from "../../src/paths/trail.ts";
import type { BoreOperation, Operation, PeckOperation, SinkOperation } from "../../src/plan/operation.ts";
import { flattenRegion } from "../../src/shapes/flatten.ts";
import { circle } from "../../src/shapes/outlines.ts";
import { areaOfPolygons } from "../../src/shapes/polygons.ts";
import { nearestTour, tourLength } from "../../src/shapes/tour.ts";
import { baseOf, flat, setUpOf } from "./fixtures.ts";
import { leftOver, legsOf, lengthBy, misdeeds, reachable, sweptAt, worstGouge } from "./referee.ts";

const setUp = setUpOf(60, 60, 20);
const centre = { x: 30, y: 30 };

function made(operation: Operation): Toolpath {
  const outcome = pathFor(operation, setUp);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.value;
}

function boreOf(diameter: number, cutter: number, changes: Partial<BoreOperation> = {}): BoreOperation {
  return {
    ...baseOf(cutter),
    kind: "bore",
    centres: [centre],
    diameter,
    floorZ: -8,
    step: 0.4 * cutter,
    allowance: { wall: 0.3, floor: 0.2 },
    rampAngle: 3,
    depthPerTurn: 2,
    ...changes,
  };
}

describe("the helix", () => {
  it("is as long as the closed form", () => {
    // Source: path z / sin a, pitch 2πr·tan a; r 2, a 3°, z 6: pitch 0.658576, 9.1106 turns, 114.6439 mm.
    expect(pitchOf(2, 3)).toBeCloseTo(0.658576, 6);
    expect(6 / pitchOf(2, 3)).toBeCloseTo(9.1106, 4);
    expect(rampLength(6, 3) / Math.cos((3 * Math.PI) / 180)).toBeCloseTo(114.6439, 4);
    const operation = boreOf(20, 6);
    const trail = startTrail(operation, setUp);
    // Nine whole turns of exactly that pitch.
    const depth = 9 * pitchOf(2, 3);
    comeDown(trail, { x: 32, y: 30 }, 0);
    const top = trail.tip!.z;
    helixDown(trail, { centre, radius: 2, fromRad: 0, ccw: true }, top - depth, pitchOf(2, 3));
    const path: Toolpath = { operation, moves: trail.moves };
    const entry = legsOf(path, setUp).filter((l) => l.move.kind === "arc" && l.move.why === "entry");
    const length = entry.reduce((sum, l) => sum + Math.hypot(l.from.z - l.to.z, Math.PI * 2), 0);
    expect(entry.length).toBe(18);
    expect(length).toBeCloseTo(depth / Math.sin((3 * Math.PI) / 180), 6);
  });
});

describe("bored holes", () => {
  it("come out at their size, floor and all, for any cutter that fits", () => {
    const um = (from: number, to: number) => fc.integer({ min: from * 1000, max: to * 1000 }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        um(3, 8),
        um(1, 20),
        um(0, 1),
        fc.boolean(),
        fc.constantFrom(-3, -8),
        (cutter, more, wall, climb, floorZ) => {
          const diameter = cutter + more;
          const habit = climb ? "climb" : "conventional";
          const operation = {
            ...boreOf(diameter, cutter, { floorZ, allowance: { wall: wall < 0.3 ? 0 : wall / 3, floor: wall / 4 } }),
            roughing: habit,
            finishing: habit,
          } as const;
          const path = made(operation);
          const hole = flattenRegion(circle(centre, diameter / 2), 0.0001);
          expect(worstGouge(path, setUp, () => hole, 0)).toBeLessThanOrEqual(0.0005);
          expect(areaOfPolygons(leftOver(reachable(hole, cutter / 2), sweptAt(path, setUp, floorZ), 0.01))).toBe(0);
          expect(misdeeds(path, setUp, 3)).toEqual([]);
          // Climb in a hole: counter-clockwise.
          for (const leg of legsOf(path, setUp)) if (leg.move.kind === "arc") expect(leg.move.ccw).toBe(climb);
        },
      ),
      { numRuns: 12 },
    );
  });

  it("end on their walls along a tangent", () => {
    const path = made(boreOf(20, 6, { allowance: { wall: 0.3, floor: 0 } }));
    const legs = legsOf(path, setUp);
    const leads = legs.filter((l) => "why" in l.move && l.move.why === "lead" && l.way?.kind === "arc");
    expect(leads.length).toBe(2);
    for (const leg of leads) {
      if (leg.way?.kind !== "arc") continue;
      // A half circle between the middle region and the wall: its centre lies on the line to the touching point.
      const wallEnd = [leg.from, leg.to].find((p) => Math.abs(Math.hypot(p.x - 30, p.y - 30) - 7) < 1e-9)!;
      const c = leg.way.centre;
      expect(Math.abs((wallEnd.x - 30) * (c.y - 30) - (wallEnd.y - 30) * (c.x - 30))).toBeLessThan(1e-9);
    }
  });

  it("are refused when the cutter is too wide, or cannot get down", () => {
    const wide = pathFor(boreOf(6, 6), setUp);
    expect(wide.ok ? [] : wide.findings.map((f) => f.code)).toEqual(["cutter-fits-nowhere"]);
    const dead = pathFor({ ...boreOf(8, 6), cutter: flat(6, 2) }, setUp);
    expect(dead.ok ? [] : dead.findings.map((f) => f.code)).toEqual(["no-way-in"]);
  });
});

describe("drilled holes", () => {
  const operation: PeckOperation = {
    ...baseOf(4),
    kind: "peck",
    centres: [
      { x: 50, y: 10 },
      { x: 10, y: 10 },
      { x: 30, y: 10 },
    ],
    tipZ: -10,
    bite: 4,
  };

  it("go down in even bites with the drill right out between them, and no rapid below the surface", () => {
    const legs = legsOf(made(operation), setUp);
    expect(misdeeds(made(operation), setUp, 3).filter((m) => !m.includes("too steep"))).toEqual([]);
    const depths = legs.filter((l) => l.move.kind === "line").map((l) => l.to.z);
    const third = -10 / 3;
    for (let i = 0; i < 9; i++) expect(depths[i]).toBeCloseTo(third * ((i % 3) + 1), 9);
    for (const leg of legs)
      if (leg.move.kind === "rapid z" && leg.to.z < leg.from.z) expect(leg.to.z).toBeGreaterThan(0);
    expect(legs.filter((l) => l.move.kind === "rapid xy").map((l) => l.to.x)).toEqual([10, 30, 50]);
  });

  it("are sunk straight down, with a dwell at the bottom", () => {
    const sink: SinkOperation = { ...baseOf(10), kind: "sink", centres: [centre], tipZ: -3, dwellSeconds: 0.3 };
    const moves = made(sink).moves;
    expect(moves.map((m) => m.kind)).toEqual(["rapid xy", "rapid z", "line", "dwell", "rapid z"]);
  });
});

describe("the order of holes", () => {
  it("visits each once, on a way no longer than to the nearest each time", () => {
    const point = fc.record({ x: fc.integer({ min: 0, max: 500 }), y: fc.integer({ min: 0, max: 500 }) });
    fc.assert(
      fc.property(fc.array(point, { maxLength: 30 }), fc.option(point, { nil: undefined }), (points, start) => {
        const wish = start === undefined ? {} : { start };
        const order = inShortOrder(points, start);
        expect([...order].sort(byPlace)).toEqual([...points].sort(byPlace));
        const stops = order.map((p) => ({ from: p, to: p }));
        const asGiven = stops.map((_, index) => ({ index, reversed: false }));
        expect(tourLength(stops, asGiven, wish)).toBeLessThanOrEqual(nearestTour(stops, wish).length + 1e-6);
      }),
    );
  });

  it("measures feed moves by what they are for", () => {
    expect(lengthBy(made(boreOf(20, 6)), setUp, ["finish"])).toBeGreaterThan(2 * Math.PI * 7);
  });
});

function byPlace(a: { x: number; y: number }, b: { x: number; y: number }): number {
  return a.x - b.x || a.y - b.y;
}
