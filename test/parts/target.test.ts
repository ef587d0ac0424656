import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Feature } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { faceFrame } from "../../src/parts/faces.ts";
import { sectionAt, volumeOfTarget } from "../../src/parts/section.ts";
import { distanceToSolid, isSolid } from "../../src/parts/solid.ts";
import type { Target } from "../../src/parts/target.ts";
import { targetFor } from "../../src/parts/target-for.ts";
import { placed } from "../../src/plan/placing.ts";
import { toSetup } from "../../src/shapes/frame.ts";
import { areaOfPolygons } from "../../src/shapes/polygons.ts";
import { lengthOf } from "../../src/shapes/segment.ts";
import { feature, from, groove, job, part, SIZE, spot } from "./describing.ts";

const FEATURES: readonly Feature[] = [
  groove("long", 1, { from: from(6, "lower edge", "near edge"), width: 5, depth: 4 }),
  groove("cross", 2, { from: from(150, "first end", "near edge"), width: 7, depth: 3, second: 10 }),
  feature("rabbet", 3, { kind: "rabbet", along: "second end", width: 9, depth: { kind: "to", depth: 6 }, stops: {} }),
  feature("dish", 4, {
    kind: "recess",
    shape: { kind: "circle", diameter: 24 },
    at: spot(60, 36),
    turnedDeg: 0,
    depth: { kind: "to", depth: 5 },
    wallLeanDeg: 25,
  }),
  feature("screw", 5, {
    kind: "hole",
    diameter: 4,
    depth: { kind: "through" },
    centres: [spot(110, 36)],
    head: { kind: "countersunk", headDiameter: 9, includedAngle: 90 },
  }),
];

function targetTurned(turned: number): Target {
  const found = describeWorkpieces(job([part(FEATURES)]));
  if (!found.ok) throw new Error(found.findings.map((f) => f.what).join());
  const w = found.value[0]!;
  const p = placed(SIZE, "face", turned, "left front", "top");
  return targetFor(w, w.cavities, p.frame, p.blank);
}

/** The part written down by hand: is there wood at (x, y, depth) of the face? */
function wood(x: number, y: number, deep: number): boolean {
  if (x < 0 || y < 0 || x > 200 || y > 60 || deep < 0 || deep > 12) return false;
  if (y > 6 && y < 11 && deep < 4) return false;
  // Stopped 10 mm from the upper edge, its end round about y = 46.5.
  if (x > 150 && x < 157 && y < 46.5 && deep < 3) return false;
  if (Math.hypot(x - 153.5, y - 46.5) < 3.5 && deep < 3) return false;
  if (x > 191 && deep < 6) return false;
  if (deep < 5 && Math.hypot(x - 60, y - 36) < 12 - deep * Math.tan((25 * Math.PI) / 180)) return false;
  const r = Math.hypot(x - 110, y - 36);
  return !(r < 2 || r < 4.5 - deep);
}

const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);

describe("a target", () => {
  it("holds wood exactly where the part written down by hand does, lying any way round", () => {
    for (const turned of [0, 90, 180, 270]) {
      const t = targetTurned(turned);
      const frame = placed(SIZE, "face", turned, "left front", "top").frame;
      fc.assert(
        fc.property(um(-3, 203), um(-3, 63), um(0, 12), (x, y, deep) => {
          const p = toSetup(frame, { x, y, z: SIZE.thickness - deep });
          const slab = t.slabs.find((s) => p.z > s.zLow && p.z < s.zHigh);
          fc.pre(slab !== undefined);
          if (isSolid(slab!, p, p.z) !== wood(x, y, deep)) {
            // Only a point on a wall itself may fall on either side.
            expect(Math.abs(distanceToSolid(slab!, p, p.z))).toBeLessThan(1e-6);
          }
        }),
        { numRuns: 1500 },
      );
    }
  });

  it("tells the distance to wood: a ball of that radius holds none, and of a little more holds some", () => {
    const t = targetTurned(0);
    fc.assert(
      fc.property(um(0, 200), um(0, 60), um(0, 12), (x, y, deep) => {
        const slab = t.slabs.find((s) => -deep > s.zLow && -deep < s.zHigh);
        fc.pre(slab !== undefined);
        const d = distanceToSolid(slab!, { x, y }, -deep);
        fc.pre(d > 0.01);
        const ring = (r: number) =>
          Array.from({ length: 720 }, (_, k) => (k * Math.PI) / 360).map((a) =>
            wood(x + r * Math.cos(a), y + r * Math.sin(a), deep),
          );
        expect(ring(d - 0.005).some(Boolean)).toBe(false);
        // 720 directions see a wall that is met at a point within a few hundredths.
        expect(ring(d + 0.05).some(Boolean)).toBe(true);
      }),
      { numRuns: 400 },
    );
  });

  it("has the same volume lying any way round, and slabs that add up to the blank", () => {
    const volumes = [0, 90, 180, 270].map((t) => volumeOfTarget(targetTurned(t)));
    for (const v of volumes) expect(v).toBeCloseTo(volumes[0]!, 3);
    const t = targetTurned(0);
    expect(t.slabs[0]!.zLow).toBe(-12);
    expect(t.slabs.at(-1)!.zHigh).toBe(0);
    for (const [i, s] of t.slabs.slice(1).entries()) expect(s.zLow).toBe(t.slabs[i]!.zHigh);
  });

  it("bounds its wood: walls without sloped ones add up to the section's outline", () => {
    const t = targetTurned(0);
    const slab = t.slabs.find((s) => s.zHigh < -5.5 && s.zHigh > -6.5)!;
    expect(slab.air.length).toBe(1);
    const walls = slab.walls.reduce((sum, w) => sum + lengthOf(w.curve), 0);
    expect(walls).toBeCloseTo(2 * 260 + Math.PI * 4, 6);
    // Where a groove runs out, the blank's own edge is no wall.
    const top = t.slabs.at(-1)!;
    const onFirstEnd = top.walls.filter((w) => w.box.min.x === 0 && w.box.max.x === 0);
    expect(onFirstEnd.reduce((sum, w) => sum + lengthOf(w.curve), 0)).toBeCloseTo(60 - 5, 6);
  });

  it("is drawn by sections that agree with it, and by none outside it", () => {
    const t = targetTurned(0);
    expect(sectionAt(t, 1)).toEqual([]);
    expect(sectionAt(t, -13)).toEqual([]);
    expect(areaOfPolygons(sectionAt(t, -11))).toBeCloseTo(200 * 60 - Math.PI * 4, 1);
  });

  it("leaves tabs standing to their height", () => {
    const cut = feature("window", 1, {
      kind: "outline",
      side: "inside",
      shape: { kind: "rounded rectangle", length: 60, width: 30, radius: 6 },
      at: spot(100, 30),
      turnedDeg: 0,
      hold: { kind: "tabs", count: 2, width: 6, height: 2 },
    });
    const found = describeWorkpieces(job([part([cut])]));
    if (!found.ok) throw new Error("a part was expected");
    const w = found.value[0]!;
    const t = targetFor(w, w.cavities, faceFrame(SIZE, "face"), {
      min: { x: 0, y: 0, z: -12 },
      max: { x: 200, y: 60, z: 0 },
    });
    expect(t.slabs.map((s) => s.kept.length)).toEqual([2, 0]);
    // On the middle of the long sides, a tab's width across a band of 8 mm.
    const low = t.slabs[0]!;
    expect(isSolid(low, { x: 100, y: 42 }, -11)).toBe(true);
    expect(isSolid(low, { x: 100, y: 18 }, -11)).toBe(true);
    expect(isSolid(low, { x: 104, y: 42 }, -11)).toBe(false);
    expect(isSolid(t.slabs[1]!, { x: 100, y: 42 }, -9)).toBe(false);
  });
});
