import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { curveOf, type Sized } from "../../src/parts/turning/element.ts";
import { type Meridian, radiiAt } from "../../src/shapes/meridian.ts";
import { areaOfMeridian, surfaceOfMeridian, volumeOfMeridian } from "../../src/shapes/meridian-measures.ts";
import { arc, line } from "../../src/shapes/segment.ts";

/** Within a ten-thousandth: far closer than the hundredth of a per cent that is asked. */
function near(found: number, wanted: number): void {
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(wanted)));
}

function turned(sized: Sized): Meridian {
  const curve = curveOf(sized);
  if ("what" in curve) throw new Error(curve.what);
  return { segments: curve };
}

const mm = (value: number) => ({ kind: "mm", mm: value }) as const;

describe("measures of a turned shape against closed forms", () => {
  it("a sphere: 4/3 πr³, 4πr², half a disc", () => {
    const r = 17.3;
    const m: Meridian = { segments: [arc({ x: 0, y: 0 }, { x: 2 * r, y: 0 }, { x: r, y: 0 }, false)] };
    near(volumeOfMeridian(m), (4 / 3) * Math.PI * r ** 3);
    near(surfaceOfMeridian(m), 4 * Math.PI * r * r);
    near(areaOfMeridian(m), (Math.PI * r * r) / 2);
  });

  it("a cone and a frustum", () => {
    const cone: Meridian = { segments: [line({ x: 0, y: 0 }, { x: 12, y: 5 })] };
    near(volumeOfMeridian(cone), (Math.PI * 25 * 12) / 3);
    near(surfaceOfMeridian(cone), Math.PI * 5 * 13);
    const frustum: Meridian = { segments: [line({ x: 0, y: 8 }, { x: 12, y: 3 })] };
    near(volumeOfMeridian(frustum), (Math.PI * 12 * (64 + 24 + 9)) / 3);
    near(surfaceOfMeridian(frustum), Math.PI * 11 * 13);
  });

  it("a shoulder's ring: no volume, its own area", () => {
    const m: Meridian = {
      segments: [
        line({ x: 0, y: 5 }, { x: 4, y: 5 }),
        line({ x: 4, y: 5 }, { x: 4, y: 9 }),
        line({ x: 4, y: 9 }, { x: 6, y: 9 }),
      ],
    };
    near(volumeOfMeridian(m), Math.PI * (25 * 4 + 81 * 2));
    near(surfaceOfMeridian(m), 2 * Math.PI * (5 * 4 + 9 * 2) + Math.PI * (81 - 25));
  });

  it("a half-round bead and cove by Pappus: area times the path of its centroid", () => {
    const [length, foot] = [8, 30];
    const s = length / 2;
    const half = (Math.PI * s * s) / 2;
    const core = Math.PI * (foot / 2) ** 2 * length;
    const centroid = (4 * s) / (3 * Math.PI);
    const bead = turned({
      shape: { kind: "bead", length: mm(length), diameter: foot + length },
      length,
      from: foot,
      to: foot,
    });
    near(volumeOfMeridian(bead), core + 2 * Math.PI * (foot / 2 + centroid) * half);
    near(areaOfMeridian(bead), (foot / 2) * length + half);
    // A half circle's arc has its centroid 2s/π from the chord.
    near(surfaceOfMeridian(bead), 2 * Math.PI * (foot / 2 + (2 * s) / Math.PI) * Math.PI * s);
    const cove = turned({
      shape: { kind: "cove", length: mm(length), diameter: foot - length },
      length,
      from: foot,
      to: foot,
    });
    near(volumeOfMeridian(cove), core - 2 * Math.PI * (foot / 2 - centroid) * half);
    near(areaOfMeridian(cove), (foot / 2) * length - half);
    near(surfaceOfMeridian(cove), 2 * Math.PI * (foot / 2 - (2 * s) / Math.PI) * Math.PI * s);
  });

  it("a flat bead by Pappus: a circle's segment about a cylinder", () => {
    const [length, foot, crown] = [14, 22, 27];
    const h = (crown - foot) / 2;
    const r = (length * length) / (8 * h) + h / 2;
    const a = 2 * Math.asin(length / 2 / r);
    const segment = (r * r * (a - Math.sin(a))) / 2;
    // Centroid of a segment from the circle's centre: c³ / 12A.
    const centroid = foot / 2 + (length ** 3 / (12 * segment) - (r - h));
    const m = turned({ shape: { kind: "bead", length: mm(length), diameter: crown }, length, from: foot, to: foot });
    near(areaOfMeridian(m), (foot / 2) * length + segment);
    near(volumeOfMeridian(m), Math.PI * (foot / 2) ** 2 * length + 2 * Math.PI * centroid * segment);
  });

  it("an ogee: its area is its mean radius times its length, since its halves are alike", () => {
    for (const ends of ["level", "upright"] as const) {
      const [from, to] = [20, 44];
      const length = ends === "level" ? 15 : 9;
      const m = turned({ shape: { kind: "ogee", length: mm(length), ends }, length, from, to });
      near(areaOfMeridian(m), ((from + to) / 4) * length);
    }
  });
});

const µm = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);

describe("measures of arcs that are nearly straight", () => {
  it("keep their digits: an ogee that rises by a thousandth is a cylinder to a thousandth", () => {
    const length = 34.752;
    const m = turned({ shape: { kind: "ogee", length: mm(length), ends: "level" }, length, from: 6.006, to: 6.008 });
    expect(Math.abs(volumeOfMeridian(m) - Math.PI * 3.0035 ** 2 * length)).toBeLessThan(1e-4);
    expect(Math.abs(areaOfMeridian(m) - 3.0035 * length)).toBeLessThan(1e-8);
    expect(Math.abs(surfaceOfMeridian(m) - 2 * Math.PI * 3.0035 * length)).toBeLessThan(1e-6);
  });
});

describe("measures against fine sums", () => {
  it("agree within a ten-thousandth for any element", () => {
    const any = fc
      .record({ length: µm(2, 60), from: µm(6, 40), to: µm(6, 40), extra: µm(0.5, 30) })
      .chain(({ length, from, to, extra }) =>
        fc
          .constantFrom<Sized["shape"]>(
            { kind: "bead", length: mm(length), diameter: Math.max(from, to) + extra, from, to },
            { kind: "cove", length: mm(length), diameter: Math.max(1, Math.min(from, to) - extra), from, to },
            { kind: "taper", length: mm(length), from, to },
            { kind: "ogee", length: mm(length), from, to, ends: "level" },
            { kind: "ogee", length: mm(length), from, to, ends: "upright" },
            { kind: "round-over", length: mm(length), from, to },
          )
          .map((shape) => ({ shape, length, from, to })),
      );
    let judged = 0;
    fc.assert(
      fc.property(any, (sized) => {
        const curve = curveOf(sized);
        if ("what" in curve) return;
        judged++;
        const m = { segments: curve };
        const n = 2000;
        let [area, volume] = [0, 0];
        for (let i = 0; i < n; i++) {
          // Middles of strips crowded towards both ends, where curves may stand upright.
          const at = (k: number): number => (sized.length * (1 - Math.cos((Math.PI * k) / n))) / 2;
          const [x0, x1] = [at(i), at(i + 1)];
          const y = radiiAt(m, (x0 + x1) / 2)!.most;
          area += y * (x1 - x0);
          volume += Math.PI * y * y * (x1 - x0);
        }
        expect(Math.abs(areaOfMeridian(m) - area)).toBeLessThan(1e-4 * area);
        expect(Math.abs(volumeOfMeridian(m) - volume)).toBeLessThan(1e-4 * volume);
      }),
      { numRuns: 60 },
    );
    expect(judged).toBeGreaterThan(15);
  });
});
