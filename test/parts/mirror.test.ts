import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FaceName } from "../../src/job/board.ts";
import type { Feature } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { faceExtent } from "../../src/parts/faces.ts";
import { mirroredDescription } from "../../src/parts/mirror.ts";
import type { Cavity } from "../../src/parts/workpiece.ts";
import { mapRegion, mirrorAlongX } from "../../src/shapes/plan-map.ts";
import { areaOf, boundsOfRegion, containsPoint, perimeterOf } from "../../src/shapes/region.ts";
import { feature, from, groove, job, part, SIZE } from "./describing.ts";

const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);
const end = fc.constantFrom<FaceName>("first end", "second end");
const edge = fc.constantFrom<FaceName>("lower edge", "upper edge");
const side = fc.constantFrom<FaceName>("face", "back");

const anyFeature: fc.Arbitrary<Feature> = fc.oneof(
  fc.record({ on: side, border: edge, d: um(8, 20), first: um(5, 60), second: um(5, 60), kind: fc.nat(3) }).map((r) =>
    groove("g", 1, {
      on: r.on,
      from: from(r.d, r.border, "near edge"),
      ...(r.kind & 1 ? { first: r.first } : {}),
      ...(r.kind & 2 ? { second: r.second } : {}),
    }),
  ),
  fc.record({ on: side, along: end, first: um(5, 15), stopped: fc.boolean() }).map((r) =>
    feature(
      "r",
      1,
      {
        kind: "rabbet",
        along: r.along,
        width: 7,
        depth: { kind: "to", depth: 3 },
        stops: r.stopped ? { first: r.first } : {},
      },
      { on: r.on },
    ),
  ),
  fc.record({ on: side, e: end, g: edge, x: um(40, 100), y: um(24, 36), t: um(-180, 180), lean: um(0, 10) }).map((r) =>
    feature(
      "s",
      1,
      {
        kind: "recess",
        shape: { kind: "slot", length: 24, width: 10 },
        at: [from(r.x, r.e, "near edge"), from(r.y, r.g)],
        turnedDeg: r.t,
        depth: { kind: "to", depth: 4 },
        wallLeanDeg: r.lean,
      },
      { on: r.on },
    ),
  ),
  fc.record({ on: end, g: edge, y: um(10, 40) }).map((r) =>
    feature(
      "m",
      1,
      {
        kind: "mortise",
        length: 12,
        width: 4,
        depth: { kind: "to", depth: 15 },
        at: [from(r.y, r.g), from(6, "back")],
        turnedDeg: 0,
      },
      { on: r.on },
    ),
  ),
);

function cavitiesOf(f: Feature): { own: readonly Cavity[]; twin: readonly Cavity[] } {
  const found = describeWorkpieces(job([part([f], { mirroredAs: "right side" })]));
  if (!found.ok) throw new Error(found.findings.map((x) => `${x.code} ${x.why}`).join());
  return { own: found.value[0]!.cavities, twin: found.value[1]!.cavities };
}

describe("a mirrored twin", () => {
  it("is the exact mirror image: u → length − u on every face, the ends exchanged", () => {
    fc.assert(
      fc.property(anyFeature, (f) => {
        const { own, twin } = cavitiesOf(f);
        expect(twin.length).toBe(own.length);
        for (const [i, c] of own.entries()) {
          const t = twin[i]!;
          const swapped: Partial<Record<FaceName, FaceName>> = { "first end": "second end", "second end": "first end" };
          expect(t.face).toBe(swapped[c.face] ?? c.face);
          const image = mapRegion(mirrorAlongX(faceExtent(SIZE, c.face).u), c.section);
          expect(areaOf(t.section)).toBeCloseTo(areaOf(image), 7);
          expect(areaOf(t.section)).toBeGreaterThan(0);
          expect(perimeterOf(t.section)).toBeCloseTo(perimeterOf(image), 7);
          const a = boundsOfRegion(t.section)!;
          const b = boundsOfRegion(image)!;
          for (const [p, q] of [
            [a.min, b.min],
            [a.max, b.max],
          ] as const) {
            expect(p.x).toBeCloseTo(q.x, 7);
            expect(p.y).toBeCloseTo(q.y, 7);
          }
          expect([t.from, t.to, t.slopeTan]).toEqual([c.from, c.to, c.slopeTan]);
          // Measured on turned arcs, so it rounds by itself.
          expect(t.insideRadius).toBeCloseTo(c.insideRadius, 9);
        }
      }),
      { numRuns: 300 },
    );
  });

  it("mirrored again is the part itself, but for its name", () => {
    fc.assert(
      fc.property(anyFeature, (f) => {
        const p = part([f]);
        const twice = mirroredDescription(mirroredDescription(p, "x"), p.name);
        expect(twice).toEqual(p);
      }),
    );
  });

  it("exchanges the ends' labels, zero corner, clamps and screws, and keeps the edges", () => {
    const p = part([], {
      faceEdge: "first end",
      wishes: {
        zeroCorner: "left front",
        turned: 90,
        holding: { by: "clamps", clamps: [{ name: "toe", at: { x: 0, y: 10 }, size: { x: 20, y: 30 }, height: 15 }] },
      },
    });
    const t = mirroredDescription(p, "right side");
    expect(t.labels["first end"]).toBe("back end");
    expect(t.labels["lower edge"]).toBe("lower edge");
    expect(t.faceEdge).toBe("second end");
    expect(t.wishes.zeroCorner).toBe("right front");
    expect(t.wishes.turned).toBe(-90);
    expect(t.wishes.holding).toEqual({
      by: "clamps",
      clamps: [{ name: "toe", at: { x: 180, y: 10 }, size: { x: 20, y: 30 }, height: 15 }],
    });
  });

  it("has a drawing's mirror image, not the drawing", () => {
    const p = (x: number, y: number) => ({ x, y });
    const seg = (a: { x: number; y: number }, b: { x: number; y: number }) => ({
      kind: "line" as const,
      from: a,
      to: b,
    });
    // An L that is not its own mirror image.
    const corners = [p(0, 0), p(20, 0), p(20, 6), p(6, 6), p(6, 14), p(0, 14)];
    const region = { loops: [corners.map((c, i) => seg(c, corners[(i + 1) % corners.length]!))] };
    const f = feature("l", 1, {
      kind: "recess",
      shape: { kind: "drawing", region, placed: "as drawn", file: "l.svg" },
      at: [from(50, "first end"), from(20, "lower edge")],
      turnedDeg: 0,
      depth: { kind: "to", depth: 3 },
      wallLeanDeg: 0,
    });
    const { own, twin } = cavitiesOf(f);
    expect(containsPoint(own[0]!.section, p(68, 22))).toBe(true);
    expect(containsPoint(twin[0]!.section, p(200 - 68, 22))).toBe(true);
    expect(containsPoint(twin[0]!.section, p(200 - 68, 32))).toBe(false);
    expect(containsPoint(twin[0]!.section, p(200 - 52, 32))).toBe(true);
  });
});
