import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PlanShape } from "../../src/job/job.ts";
import { widestAgainst } from "../../src/proof/against-hollow.ts";
import { motionsOf } from "../../src/proof/motion.ts";
import { readOptions } from "../../src/proof/prove.ts";
import { radiusAt, type Silhouette } from "../../src/proof/silhouette.ts";
import { readProgram } from "../../src/reader/read.ts";
import { buildHollow, endsOfHollow, insetAt } from "../../src/shapes/hollow.ts";
import { nearestOn } from "../../src/shapes/nearest-on.ts";
import { boundsOfRegion, containsPoint, distanceToBoundary } from "../../src/shapes/region.ts";
import { cutterProfile } from "../../src/shop/profile.ts";
import { SLOT } from "../parts/hollow-made.ts";
import { bit } from "../plan/planning.ts";
import { inSection, made, proofOf, um } from "./hollow-help.ts";

describe("what is told of a hollow's surface", () => {
  it.each([
    ["slot", SLOT, 0],
    ["rectangle", { kind: "rounded rectangle", length: 44, width: 24, radius: 4 }, 3.2],
  ] as const)("is no less than what plain sampling of the program's moves finds: %s", (_, shape: PlanShape, off) => {
    const m = made(shape, 7, { dish: 2 })!;
    const { setUp } = m.planned;
    const ridge = proofOf(m).figures["ridges in hollows"]!.value;
    const { hollow, section } = setUp.cavities[0]!;
    const read = readProgram(m.programs[0]!.text, "m", setUp.machine.controller, readOptions(setUp));
    const strokes = motionsOf(read).filter((s) => !s.move.rapid && s.zFrom === s.zTo);
    const top = setUp.blank.max.z;
    const box = boundsOfRegion(inSection(setUp, section))!;
    const outline = inSection(setUp, section);
    let most = 0;
    fc.assert(
      fc.property(um(0, 1), um(0, 1), (u, v) => {
        const p = { x: box.min.x + u * (box.max.x - box.min.x), y: box.min.y + v * (box.max.y - box.min.y) };
        if (!containsPoint(outline, p)) return;
        // Near a rectangle's diagonals the nose itself leaves more than ridges.
        const dx = Math.min(p.x - box.min.x, box.max.x - p.x);
        const dy = Math.min(p.y - box.min.y, box.max.y - p.y);
        if (Math.abs(dx - dy) < off * Math.SQRT2) return;
        const d = distanceToBoundary(outline, p);
        let y = 0;
        for (const s of strokes) {
          const beside = nearestOn(s.curve, p).distance;
          if (beside < 3) y = Math.min(y, s.zFrom - top + 3 - Math.sqrt(9 - beside * beside));
        }
        const left = Math.min(...hollow!.segments.map((s) => nearestOn(s, { x: d, y }).distance));
        most = Math.max(most, left);
        expect(left).toBeLessThan(ridge + 0.0005);
      }),
      { numRuns: 400 },
    );
    // The sampling comes near what was told.
    expect(most).toBeGreaterThan(ridge * 0.4);
  });
});

describe("how near a cutter may come to a hollow", () => {
  const cutters: readonly Silhouette[] = ["6 mm round-nose", "6 mm radiused corner", "6 mm flat", "60 degree V"].map(
    (n) => cutterProfile(bit(n)),
  );

  it("is the largest sum of its radius and the hollow's inset, found by plain sampling too", () => {
    fc.assert(
      fc.property(
        fc.record({
          depth: um(4, 14),
          leanDeg: fc.constantFrom(0, 7, 25),
          footRadius: um(1, 4),
          dish: fc.constantFrom(0, 1.5, 4),
          ease: fc.constantFrom(0, 1.5),
          middle: um(9, 25),
        }),
        fc.constantFrom(...cutters),
        um(0, 13),
        (w, body, below) => {
          const h = buildHollow(w);
          if (typeof h === "string") return;
          const { mouth, floor } = endsOfHollow(h);
          const tip = -Math.min(below, -floor.y);
          const high = Math.min(-tip, 20);
          const exact = widestAgainst(body, 0, high, h, tip);
          let sampled = Number.NEGATIVE_INFINITY;
          for (let k = 0; k <= 4000; k++) {
            const at = (high * k) / 4000;
            const p = body.find((q) => at >= q.from && at <= q.to);
            if (p === undefined) continue;
            sampled = Math.max(sampled, radiusAt(p, at) + Math.max(mouth.x, insetAt(h, Math.max(floor.y, tip + at))));
          }
          expect(exact).toBeGreaterThan(sampled - 1e-6);
          expect(exact - sampled).toBeLessThan(0.02);
        },
      ),
      { numRuns: 100 },
    );
  });
});
