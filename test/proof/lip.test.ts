import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { EaseOperation, Operation } from "../../src/plan/operation.ts";
import type { PlannedSetUp } from "../../src/plan/plan-job.ts";
import { lipCores } from "../../src/proof/lip-core.ts";
import type { Point3 } from "../../src/shapes/point.ts";
import { refusedBy, through } from "../pipeline/round-through.ts";
import { BLANK, type Blank, planRound, room, slot, workpieceOf } from "../plan/round-stock.ts";

const um = (min: number, max: number) =>
  fc.integer({ min: Math.round(min * 1000), max: Math.round(max * 1000) }).map((n) => n / 1000);

const EASE = 1.5;

function plannedFor(blank: Blank, length: number, width: number): PlannedSetUp {
  const cavity = room(slot({ x: 80, y: 20 }, length, width), 20, { lipEase: EASE, insideRadius: 5 });
  const planned = planRound(workpieceOf(blank, [cavity]));
  const refused = planned.findings.filter((f) => f.grade === "refuse").map((f) => `${f.code} ${f.what}`);
  if (refused.length > 0) throw new Error(refused.join("; "));
  return planned.setUps[0]!;
}

/** The same set-up, its easing done otherwise. */
function eased(one: PlannedSetUp, how: (o: EaseOperation) => readonly Operation[]): PlannedSetUp {
  return { ...one, operations: one.operations.flatMap((o) => (o.kind === "ease" ? how(o) : [o])) };
}

const moved = (o: EaseOperation, by: (p: Point3) => Point3): EaseOperation => ({
  ...o,
  passes: o.passes.map((pass) => ({ ...pass, points: pass.points.map(by) })),
});

function codes(s: PlannedSetUp): readonly string[] {
  return [...new Set(refusedBy(through(s).proof).map((r) => r.split(":")[0]!))];
}

describe("an eased lip, from plan to proof", () => {
  const one = plannedFor({ ...BLANK, radii: [17, 16] }, 34, 15);

  it("is proved: no gouge, ridges as stated", () => {
    const { proof } = through(one);
    expect(refusedBy(proof)).toEqual([]);
    expect(proof.figures.gouge!.value).toBeLessThan(0.01);
    const ridges = proof.figures["ridges on eased lips"]!;
    expect(ridges.value).toBeGreaterThan(0.01);
    expect(ridges.value + ridges.bound).toBeLessThan(0.03);
    const ease = one.operations.find((o) => o.kind === "ease")!;
    expect(ease.passes.every((p) => p.closed)).toBe(true);
  });

  it("refused when it is not cut, or a pass is missing", () => {
    expect(codes(eased(one, () => []))).toEqual(["proof-wood-left"]);
    expect(codes(eased(one, (o) => [{ ...o, passes: o.passes.filter((_, i) => i !== 4) }]))).toEqual([
      "proof-wood-left",
    ]);
    expect(codes(eased(one, (o) => [{ ...o, passes: o.passes.slice(0, -1) }]))).toEqual(["proof-wood-left"]);
  });

  it("refused when it stands 0.02 mm too deep, or 0.02 mm aside", () => {
    expect(codes(eased(one, (o) => [moved(o, (p) => ({ ...p, z: p.z - 0.02 }))]))).toContain("proof-gouge");
    expect(codes(eased(one, (o) => [moved(o, (p) => ({ ...p, y: p.y + 0.02 }))]))).toContain("proof-gouge");
  });

  it("refused when it keeps 0.02 mm off", () => {
    expect(codes(eased(one, (o) => [moved(o, (p) => ({ ...p, z: p.z + 0.02 }))]))).toEqual(["proof-wood-left"]);
  });

  it("refused when one move of all cuts a corner", () => {
    const shortcut = (o: EaseOperation): EaseOperation => ({
      ...o,
      passes: o.passes.map((pass, i) =>
        i === 5 ? { ...pass, points: pass.points.filter((_, k) => k % 20 < 15) } : pass,
      ),
    });
    expect(codes(eased(one, (o) => [shortcut(o)])).length).toBeGreaterThan(0);
  });
});

describe("how far a nose is clear of an eased lip", () => {
  it("is what a search through the core finds, on cylinders and cones", () => {
    fc.assert(
      fc.property(
        fc.record({ a: um(15, 18), b: um(15, 18), width: um(8, 15) }),
        fc.array(fc.tuple(fc.nat(999), um(-0.4, 1.4), um(-0.3, 0.6)), { minLength: 4, maxLength: 4 }),
        ({ a, b, width }, draws) => {
          const [core] = lipCores(plannedFor({ ...BLANK, radii: [a, b] }, 34, width).setUp);
          const { lip, clearance } = core!;
          const radius = (x: number): number => a + ((b - a) * (x - 20)) / 120;
          const lean = Math.atan((b - a) / 120);
          // Set-up coordinates: zero on the top of the square, on the axis or a flank; found from the solid itself.
          const { y: y0, z: z0 } = plannedFor({ ...BLANK, radii: [a, b] }, 34, width).setUp.round!.axis;
          const places = lip.runs[0]!.places;
          for (const [nth, share, off] of draws) {
            const p = places[nth % places.length]!;
            const n = (k: number): Point3 => {
              const t = k * p.turn;
              const s = Math.sin(p.turn);
              const [q, r] = [Math.sin(p.turn - t) / s, Math.sin(t) / s];
              return {
                x: q * p.wall.x + r * p.skin.x,
                y: q * p.wall.y + r * p.skin.y,
                z: q * p.wall.z + r * p.skin.z,
              };
            };
            const d = n(Math.min(1, Math.max(0, share)));
            const far = EASE + 3 + off;
            const c = { x: p.at.x + far * d.x, y: p.at.y + far * d.y, z: p.at.z + far * d.z };
            const found = clearance(c, 3);
            if (found === undefined) continue;
            // The core over each place of a fine raster: under the cone less e, and e outside the slot.
            let least = Number.POSITIVE_INFINITY;
            const GRID = 0.05;
            for (let x = c.x - far - 1; x <= c.x + far + 1; x += GRID) {
              for (let y = c.y - far - 1; y <= c.y + far + 1; y += GRID) {
                const out = Math.hypot(Math.max(0, Math.abs(x - 80) - (34 - width) / 2), y - y0) - width / 2;
                if (out < EASE) continue;
                const r = radius(x) - EASE / Math.cos(lean);
                if (Math.abs(y - y0) >= r) continue;
                const top = z0 + Math.sqrt(r * r - (y - y0) ** 2);
                least = Math.min(least, Math.hypot(x - c.x, y - c.y, Math.max(0, c.z - top)));
              }
            }
            expect(found).toBeLessThan(least - EASE - 3 + 0.002);
            expect(found).toBeGreaterThan(least - EASE - 3 - 0.08);
          }
        },
      ),
      { numRuns: 6 },
    );
  });
});
