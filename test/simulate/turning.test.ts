import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { arc, line, pointAt, type Segment } from "../../src/shapes/segment.ts";
import type { TurningTool } from "../../src/shop/lathe.ts";
import { chordsOf } from "../../src/simulate/turning-path.ts";
import { coreHolds, coreToCurve, sweepOf } from "../../src/simulate/turning-sweep.ts";
import { edgeAt, formOf, placeOfSlope } from "../../src/simulate/turning-tool.ts";
import {
  biteOf,
  cutStretch,
  lowestAt,
  removedVolume,
  sectionArea,
  startTurnedWood,
  type TurnedWood,
  woodAbove,
} from "../../src/simulate/turning-wood.ts";
import { NOSE, turningSetUp } from "../proof/turning/fixture.ts";

const um = (least: number, most: number) => fc.integer({ min: least * 1000, max: most * 1000 }).map((v) => v / 1000);

const TOOLS: readonly TurningTool[] = [
  NOSE,
  { ...NOSE, name: "6 mm round-nose", noseRadius: 2, width: 7, flanks: { first: 20, second: 45 } },
  { ...NOSE, name: "detail", kind: "detail", noseRadius: 0.4, width: 10, flanks: { first: 17.5, second: 17.5 } },
  { ...NOSE, name: "point", kind: "detail", noseRadius: 0, width: 8, flanks: { first: 30, second: 15 } },
  { ...NOSE, name: "parting", kind: "parting", noseRadius: 0.1, width: 3 },
  { ...NOSE, name: "square", kind: "parting", noseRadius: 0, width: 3 },
];
const tool = fc.constantFrom(...TOOLS);

/** Whether a point lies in the tool's cutting end, by its definition: within the nose's radius of the core. */
function inEdge(t: TurningTool, x: number, y: number): boolean {
  const { edge, bodies } = formOf(t);
  const core = bodies[0]!;
  const sweep = sweepOf(core, line({ x: 0, y: 0 }, { x: 0, y: 0 }));
  if (coreHolds(sweep, { x, y })) return true;
  const p = line({ x, y }, { x: x + 1e-12, y });
  return Math.abs(x) <= edge.half && coreToCurve(sweep, p) <= core.radius;
}

describe("a turning tool's form", () => {
  it("a round-nose falls away as its circle, then runs up its flank tangent to it", () => {
    const { edge } = formOf(TOOLS[1]!);
    expect(edgeAt(edge, 0)).toBe(-2);
    expect(edgeAt(edge, 1)).toBeCloseTo(-Math.sqrt(3), 12);
    // The 45° flank leaves the circle at d = n·cos 45°, at height −n·sin 45°, with slope 1.
    const touch = 2 * Math.SQRT1_2;
    expect(edgeAt(edge, touch)).toBeCloseTo(-touch, 9);
    expect(edgeAt(edge, touch + 0.5)).toBeCloseTo(-touch + 0.5, 9);
    expect(edgeAt(edge, 3.6)).toBe(Number.POSITIVE_INFINITY);
  });

  it("a parting tool is flat over its width less its corners", () => {
    const { edge } = formOf(TOOLS[4]!);
    expect(edgeAt(edge, 1.4)).toBeCloseTo(-0.1, 12);
    expect(edgeAt(edge, -1.45)).toBeCloseTo(-Math.sqrt(0.01 - 0.0025), 9);
    expect(edgeAt(formOf(TOOLS[5]!).edge, 1.5)).toBeCloseTo(0, 12);
  });

  it("the programmed point is the tip, or the corner where tip line and side line meet", () => {
    const parting = TOOLS[4]!;
    expect(formOf(parting).offset).toEqual({ x: 0, y: 0.1 });
    expect(formOf({ ...parting, point: "corner first" }).offset).toEqual({ x: 1.5, y: 0.1 });
    expect(formOf({ ...parting, point: "corner second" }).offset.x).toBeCloseTo(-1.5, 12);
  });

  it("its lower edge is where its solid begins", () => {
    fc.assert(
      fc.property(tool, um(-5, 5), (t, u) => {
        const { edge } = formOf(t);
        fc.pre(Math.abs(u) < edge.half - 0.01);
        const low = edgeAt(edge, u);
        fc.pre(low < t.reach - t.noseRadius - 1);
        expect(inEdge(t, u, low - 0.001)).toBe(false);
        // Beyond where the rounds about the core fill the width, the shaft's straight sides go on.
        const filled = edge.half - edge.radius;
        if (Math.abs(u) <= filled || edge.radius === 0) expect(inEdge(t, u, low + 0.001)).toBe(true);
      }),
      { numRuns: 100 },
    );
  });

  it("its slope is found where it is", () => {
    fc.assert(
      fc.property(tool, um(-3, 3), (t, k) => {
        const { edge } = formOf(t);
        const u = placeOfSlope(edge, k);
        const here = edgeAt(edge, u);
        // The edge lies above the line of that slope through that place: it is convex.
        for (let v = -edge.half; v <= edge.half; v += edge.half / 20) {
          expect(edgeAt(edge, v)).toBeGreaterThanOrEqual(here + k * (v - u) - 1e-9);
        }
      }),
      { numRuns: 60 },
    );
  });
});

const point = fc.record({ x: um(-40, -10), y: um(3, 14) });
const way: fc.Arbitrary<Segment> = fc.oneof(
  fc.tuple(point, point).map(([a, b]) => line(a, b)),
  fc
    .tuple(point, um(1, 8), fc.integer({ min: 0, max: 359 }), fc.integer({ min: 10, max: 300 }), fc.boolean())
    .map(([centre, r, from, sweep, ccw]) => {
      const at = (deg: number) => ({
        x: centre.x + r * Math.cos((deg * Math.PI) / 180),
        y: centre.y + 10 + r * Math.sin((deg * Math.PI) / 180),
      });
      return arc(at(from), at(ccw ? from + sweep : from - sweep), { x: centre.x, y: centre.y + 10 }, ccw);
    }),
);

/** The lowest that an edge comes over a place, looked for at many places of the way. */
function slowLowest(t: TurningTool, s: Segment, z: number): number {
  const { edge } = formOf(t);
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= 4000; k++) {
    const p = pointAt(s, k / 4000);
    least = Math.min(least, p.y + edgeAt(edge, z - p.x));
  }
  return least;
}

describe("cutting", () => {
  it("over every place the tool's lowest is exact along a line", () => {
    fc.assert(
      fc.property(tool, point, point, um(-42, -8), (t, a, b, z) => {
        const { edge } = formOf(t);
        const s = line(a, b);
        const slope = placeOfSlope(edge, a.x === b.x ? 0 : (b.y - a.y) / (b.x - a.x));
        const fast = lowestAt(edge, s, z, slope);
        const slow = slowLowest(t, s, z);
        // The slow one steps; a steep flank makes a step of the way into a step of height.
        expect(fast).toBeLessThanOrEqual(slow + 1e-6);
        if (Number.isFinite(slow)) expect(slow - fast).toBeLessThan(0.12);
      }),
      { numRuns: 60 },
    );
  });

  it("the two bounds hold the true wood between them", () => {
    const setUp = turningSetUp([line({ x: 5, y: 3 }, { x: 55, y: 3 })]);
    fc.assert(
      fc.property(tool, way, um(-38, -12), (t, s, z) => {
        const wood = startTurnedWood(setUp);
        const { edge } = formOf(t);
        for (const piece of chordsOf(s, 0.001)) cutStretch(wood, edge, piece, s.kind === "line" ? 0 : 0.001);
        const i = Math.floor((z - wood.from) / wood.cell);
        const truth = Math.min(12, Math.max(0, slowLowest(t, s, z)));
        expect(wood.least[i]!).toBeLessThanOrEqual(truth + 1e-6);
        // The slow way finds too much wood by its own steps, so only the upper bound needs room.
        expect(wood.most[i]!).toBeGreaterThanOrEqual(truth - 0.05);
      }),
      { numRuns: 80 },
    );
  });

  it("a groove's volume lies between the bounds: π(R² − r²)·width", () => {
    const setUp = turningSetUp([line({ x: 5, y: 3 }, { x: 55, y: 3 })]);
    const square = TOOLS[5]!;
    const before = startTurnedWood(setUp);
    const after: TurnedWood = { ...before, most: before.most.slice(), least: before.least.slice() };
    cutStretch(after, formOf(square).edge, line({ x: -30, y: 14 }, { x: -30, y: 7 }), 0);
    cutStretch(after, formOf(square).edge, line({ x: -30, y: 7 }, { x: -20.5, y: 7 }), 0);
    const truth = Math.PI * (144 - 49) * 12.5;
    const { least, most } = removedVolume(before, after, Number.POSITIVE_INFINITY);
    expect(least).toBeLessThanOrEqual(truth + 1e-6);
    expect(most).toBeGreaterThanOrEqual(truth - 1e-6);
    expect(most - least).toBeLessThan(truth * 0.01);
  });

  it("going back the same way meets nothing, a hair sideways or deeper does", () => {
    const setUp = turningSetUp([line({ x: 5, y: 3 }, { x: 55, y: 3 })]);
    fc.assert(
      fc.property(tool, um(-30, -20), um(5, 11), (t, z, r) => {
        const wood = startTurnedWood(setUp);
        const { edge } = formOf(t);
        const down = line({ x: z, y: 14 + t.noseRadius }, { x: z, y: r });
        cutStretch(wood, edge, down, 0);
        expect(woodAbove(wood, edge, line(down.to, down.from)).depth).toBeLessThan(1e-6);
        const low = { x: z, y: r - 0.01 };
        expect(woodAbove(wood, edge, line(low, low)).depth).toBeGreaterThan(0.009);
        const beside = { x: z + 0.3, y: r };
        expect(woodAbove(wood, edge, line(beside, beside)).depth).toBeGreaterThan(0.001);
      }),
      { numRuns: 60 },
    );
  });
});

describe("measures of a cut", () => {
  it("a square's section within a circle: all of the circle, all of the square, or between", () => {
    expect(sectionArea(5, 5)).toBeCloseTo(25 * Math.PI, 12);
    expect(sectionArea(5 * Math.SQRT2, 5)).toBeCloseTo(100, 12);
    // At r = 2h/√3 each side's chord spans 60°: four triangles of h²/√3, and four sectors of 30°.
    const r = 10 / Math.sqrt(3);
    expect(sectionArea(r, 5)).toBeCloseTo((4 * 25) / Math.sqrt(3) + (Math.PI * r * r) / 3, 9);
  });

  it("a bite is as deep as it is long, a skin as thin as it is", () => {
    const profile = new Float64Array(400);
    profile.fill(5, 100, 112);
    expect(biteOf(profile, 0, 399, 0.025)).toBeCloseTo(0.3, 1);
    profile.fill(0.7, 0, 100);
    expect(biteOf(profile, 0, 399, 0.025)).toBeCloseTo(0.7, 1);
    profile.fill(5, 100, 400);
    expect(biteOf(profile, 0, 399, 0.025)).toBeCloseTo(5, 1);
  });
});

describe("swept cores", () => {
  it("a point is in a swept core exactly when some place of the way puts it there", () => {
    fc.assert(
      fc.property(tool, way, point, (t, s, p) => {
        const body = formOf(t).bodies[0]!;
        const sweep = sweepOf(body, s);
        let seen = false;
        for (let k = 0; k <= 2000 && !seen; k++) {
          const at = pointAt(s, k / 2000);
          seen = coreHolds(sweepOf(body, line(at, at)), p);
        }
        if (seen) expect(coreHolds(sweep, p)).toBe(true);
        // Held by the sweep but by no place looked at: only within a step of its boundary.
        else if (coreHolds(sweep, p)) expect(coreToCurve(sweep, line(p, { x: p.x + 1e-9, y: p.y }))).toBeLessThan(0.05);
      }),
      { numRuns: 60 },
    );
  });

  it("its distance from a curve is the least over all places of the way", () => {
    fc.assert(
      fc.property(tool, way, um(0.5, 3), (t, s, y) => {
        const body = formOf(t).bodies[0]!;
        const low = line({ x: -60, y: y - 3 }, { x: 0, y: y - 3.5 });
        const fast = coreToCurve(sweepOf(body, s), low);
        let slow = Number.POSITIVE_INFINITY;
        for (let k = 0; k <= 1000; k++) {
          const at = pointAt(s, k / 1000);
          slow = Math.min(slow, coreToCurve(sweepOf(body, line(at, at)), low));
        }
        expect(fast).toBeLessThanOrEqual(slow + 1e-9);
        expect(slow - fast).toBeLessThan(0.02);
      }),
      { numRuns: 40 },
    );
  });
});
