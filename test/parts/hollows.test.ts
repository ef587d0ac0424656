import fc from "fast-check";
import Module from "manifold-3d";
import { beforeAll, describe, expect, it } from "vitest";
import type { Feature, PlanShape } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { faceFrame } from "../../src/parts/faces.ts";
import { atMouth } from "../../src/parts/lean.ts";
import { volumeOfTarget } from "../../src/parts/section.ts";
import { distanceToSolid, isSolid } from "../../src/parts/solid.ts";
import type { Target } from "../../src/parts/target.ts";
import { targetFor } from "../../src/parts/target-for.ts";
import { websOf } from "../../src/parts/web.ts";
import type { Cavity } from "../../src/parts/workpiece.ts";
import { endsOfHollow, heightAt, insetAt, shiftedHollow } from "../../src/shapes/hollow.ts";
import { slot } from "../../src/shapes/outlines.ts";
import { boundsOfRegion, distanceToBoundary } from "../../src/shapes/region.ts";
import { pointAt } from "../../src/shapes/segment.ts";
import { job, part } from "./describing.ts";
import { hollowFeature, SLOT, THICK } from "./hollow-made.ts";

const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);

function described(f: Feature): {
  readonly cavity?: Cavity;
  readonly codes: readonly string[];
  readonly lines: readonly (number | undefined)[];
} {
  const found = describeWorkpieces(job([part([f], { size: THICK })]));
  const refusals = found.findings.filter((x) => x.grade === "refuse");
  const codes = refusals.map((x) => x.code);
  const lines = refusals.map((x) => x.place.source?.line);
  return found.ok ? { cavity: found.value[0]!.cavities[0]!, codes, lines } : { codes, lines };
}

function cavityOf(f: Feature): Cavity {
  const { cavity, codes } = described(f);
  if (cavity === undefined) throw new Error(codes.join());
  return cavity;
}

function targetOf(f: Feature): Target {
  const found = describeWorkpieces(job([part([f], { size: THICK })]));
  if (!found.ok) throw new Error(JSON.stringify(found.findings));
  const w = found.value[0]!;
  const blank = { min: { x: 0, y: 0, z: -THICK.thickness }, max: { x: THICK.length, y: THICK.width, z: 0 } };
  return targetFor(w, w.cavities, faceFrame(w.size, "face"), blank);
}

describe("a recess that is a hollow", () => {
  it("goes as deep as its depth and its dish together, and is as wide as it says where its edge has been eased", () => {
    const c = cavityOf(hollowFeature(SLOT, 11, { dish: 3, ease: 1.5 }));
    expect(c.to).toBeCloseTo(14, 9);
    expect(c.slopeTan).toBe(0);
    // The section is the mouth at the face: wider by the edge's radius on every side.
    const box = boundsOfRegion(c.section)!;
    expect(box.max.x - box.min.x).toBeCloseTo(63, 9);
    expect(box.max.y - box.min.y).toBeCloseTo(28, 9);
    expect(endsOfHollow(c.hollow!).mouth).toEqual({ x: 0, y: 0 });
    expect(insetAt(c.hollow!, -5)).toBeCloseTo(1.5, 9);
    expect(endsOfHollow(c.hollow!).floor.x).toBeCloseTo(14, 9);
  });

  it("says the same surface about its mouth as about its outline", () => {
    const c = cavityOf(hollowFeature(SLOT, 11, { dish: 3, ease: 1.5 }));
    const about = { ...c, section: slot({ x: 60, y: 30 }, 60, 25, 0), hollow: shiftedHollow(c.hollow!, -1.5) };
    const again = atMouth(about);
    expect(boundsOfRegion(again.section)).toEqual(boundsOfRegion(c.section));
    expect(endsOfHollow(again.hollow!).mouth.x).toBe(0);
    expect(atMouth(c)).toBe(c);
  });

  it("without any of the three words stays what it was", () => {
    expect(cavityOf(hollowFeature(SLOT, 11)).hollow).toBeUndefined();
  });

  it.each([
    ["through", hollowFeature(SLOT, 11, { dish: 3, depth: { kind: "through" } }), "part-must-be-blind", 6],
    ["too deep with its dish", hollowFeature(SLOT, 20, { dish: 3 }), "part-too-deep", 7],
    ["a dish too deep for its width", hollowFeature(SLOT, 5, { dish: 13 }), "part-hollow-shape", 7],
    ["a radius that does not fit", hollowFeature(SLOT, 5, { floorRadius: 13 }), "part-hollow-shape", 8],
    ["an edge that leaves no wall", hollowFeature(SLOT, 5, { floorRadius: 3, ease: 3 }), "part-hollow-shape", 9],
    ["walls that meet", hollowFeature(SLOT, 20, { wallLeanDeg: 40, floorRadius: 1 }), "part-slope-eats-floor", 10],
    [
      "a dish in an oval",
      hollowFeature({ kind: "oval", length: 60, width: 25 }, 8, { dish: 2 }),
      "part-hollow-valleys",
      7,
    ],
    [
      "an edge off the face",
      hollowFeature({ kind: "slot", length: 119, width: 25 }, 8, { ease: 1 }),
      "part-off-the-board",
      5,
    ],
  ] as const)("is refused: %s", (_, f, code, line) => {
    const found = described(f);
    expect(found.codes).toEqual([code]);
    if (code !== "part-off-the-board") expect(found.lines).toEqual([line]);
  });

  it("may be dished in a slot, a circle and a rectangle", () => {
    const shapes: readonly PlanShape[] = [
      SLOT,
      { kind: "circle", diameter: 30 },
      { kind: "rounded rectangle", length: 50, width: 30, radius: 4 },
      { kind: "rounded rectangle", length: 50, width: 30, radius: 0 },
    ];
    for (const s of shapes) expect(described(hollowFeature(s, 8, { dish: 2 })).codes).toEqual([]);
  });
});

describe("volumes of hollows", () => {
  let wasm: Awaited<ReturnType<typeof Module>>;
  beforeAll(async () => {
    wasm = await Module();
    wasm.setup();
  });

  /** A slot's hollow as an independent solid: its cross-section drawn along the middle, and turned at both ends. */
  function solidOf(c: Cavity, length: number, width: number): number {
    const { CrossSection } = wasm;
    const half = width / 2;
    const chain = c.hollow!.segments.flatMap((s) => Array.from({ length: 25 }, (_, k) => pointAt(s, k / 24)));
    const floor = endsOfHollow(c.hollow!).floor;
    const right = chain.map((p): [number, number] => [half - p.x, p.y]);
    const profile: [number, number][] = [[0, floor.y], ...[...right].reverse(), [0, 0]];
    const turned = new CrossSection([profile]).revolve(160);
    const across = new CrossSection([[...right.map(([x, y]): [number, number] => [-x, y]), ...[...right].reverse()]]);
    const drawn = across
      .extrude(length - width)
      .rotate([90, 0, 90])
      .translate([-(length - width) / 2, 0, 0]);
    const ends = [-1, 1].map((side) => turned.translate([(side * (length - width)) / 2, 0, 0]));
    return wasm.Manifold.union([drawn, ...ends]).volume();
  }

  it("agree with an independent solid library", () => {
    fc.assert(
      fc.property(
        um(4, 12),
        fc.constantFrom(0, 8, 20),
        um(1, 4),
        fc.constantFrom(0, 1.2, 3),
        fc.constantFrom(0, 1.5),
        (depth, wallLeanDeg, floorRadius, dish, ease) => {
          const f = hollowFeature(SLOT, depth, {
            wallLeanDeg,
            floorRadius,
            ...(dish > 0 ? { dish } : {}),
            ...(ease > 0 ? { ease } : {}),
          });
          const { cavity } = described(f);
          if (cavity === undefined) return;
          const box = boundsOfRegion(cavity.section)!;
          const length = box.max.x - box.min.x;
          const width = box.max.y - box.min.y;
          const blank = THICK.length * THICK.width * THICK.thickness;
          const found = blank - volumeOfTarget(targetOf(f));
          const exact = solidOf(cavity, length, width);
          expect(Math.abs(found - exact) / exact).toBeLessThan(0.002);
        },
      ),
      { numRuns: 8 },
    );
  });

  it("of a bowl is Pappus's: a dished circle, turned about its middle", () => {
    const f = hollowFeature({ kind: "circle", diameter: 30 }, 6, { floorRadius: 2, dish: 3 });
    const c = cavityOf(f);
    // ∫ 2π (15 − d) · depth(d) dd, by Simpson on a fine grid.
    const count = 20_000;
    let sum = 0;
    for (let k = 0; k <= count; k++) {
      const d = (15 * k) / count;
      const weight = k === 0 || k === count ? 1 : k % 2 === 1 ? 4 : 2;
      sum += weight * (15 - d) * -heightAt(c.hollow!, d);
    }
    const exact = (2 * Math.PI * sum * (15 / count)) / 3;
    const found = THICK.length * THICK.width * THICK.thickness - volumeOfTarget(targetOf(f));
    expect(Math.abs(found / exact - 1)).toBeLessThan(0.001);
  });
});

describe("the wood beneath a hollow", () => {
  it("lies as far away as the level lines say, at every height", () => {
    const f = hollowFeature(SLOT, 9, { dish: 2, ease: 1.2, wallLeanDeg: 10 });
    const c = cavityOf(f);
    const target = targetOf(f);
    fc.assert(
      fc.property(um(25, 95), um(12, 48), um(0, 10.9), (x, y, below) => {
        const p = { x, y };
        const z = -below;
        const slab = target.slabs.find((s) => z >= s.zLow && z < s.zHigh)!;
        const box = boundsOfRegion(c.section)!;
        const inside = slab.air.length > 0 && x > box.min.x && x < box.max.x && y > box.min.y && y < box.max.y;
        if (!inside) return;
        const d = distanceToBoundary(c.section, p);
        const mid = { x: Math.min(Math.max(x, box.min.x + 14), box.max.x - 14), y: 30 };
        const within = Math.hypot(x - mid.x, y - mid.y) < (box.max.y - box.min.y) / 2;
        if (!within) return;
        const gap = d - insetAt(c.hollow!, z);
        if (Math.abs(gap) < 1e-6) return;
        expect(isSolid(slab, p, z)).toBe(gap < 0);
        if (gap > 0) expect(distanceToSolid(slab, p, z)).toBeCloseTo(gap, 6);
      }),
      { numRuns: 100 },
    );
  });

  it("is thinnest beneath the middle of a dish", () => {
    const c = cavityOf(hollowFeature(SLOT, 11, { dish: 3 }));
    const [web] = websOf(THICK, [c], 10);
    expect(web).toMatchObject({ between: "floor and far face", bound: 0 });
    expect(web!.thickness).toBeCloseTo(22 - 14, 9);
  });
});
