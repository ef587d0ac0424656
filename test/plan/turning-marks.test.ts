import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { planTurning } from "../../src/plan/turning.ts";
import { KEEP_CLEAR } from "../../src/plan/turning-obstacles.ts";
import type { TurningSetUp } from "../../src/plan/turning-setup.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { intoKeepOut } from "../../src/simulate/turning.ts";
import { standing } from "../../src/simulate/turning-sweep.ts";
import { formOf } from "../../src/simulate/turning-tool.ts";
import { piece } from "../paths/turning/pieces.ts";

/** A plain cylinder with waste at both ends. */
function mounted(radius: number, length: number, shape: "square" | "round", block = 10): TurningSetUp {
  const cylinder = {
    segments: [{ kind: "line" as const, from: { x: 0, y: radius }, to: { x: length, y: radius } }],
  };
  const shop = { ...DEFAULT_SHOP, habits: { ...DEFAULT_SHOP.habits, gaugeBlock: block } };
  const plan = planTurning(piece(cylinder, { shape }), shop);
  if (!plan.ok) throw new Error(plan.findings.map((f) => f.what).join("; "));
  return plan.value.setUp;
}

describe("witness marks on the lathe", () => {
  it("stand a block off a flat where a corner passes the tip by it, else off the corner; off round wood by its radius", () => {
    // 30 mm square: corners at 21.21, a flat at 15; 42 mm square: corners at 29.70, a flat at 21.
    const at = (s: TurningSetUp) => [s.marks![0]!.against, s.marks![0]!.at.y] as const;
    expect(at(mounted(14, 100, "square"))).toEqual(["flat", 25]);
    const corner = at(mounted(26, 100, "square"));
    expect(corner[0]).toBe("corner");
    expect(corner[1]).toBeCloseTo(27 * Math.SQRT2 + 10, 9);
    expect(at(mounted(14, 100, "round"))).toEqual(["round", 25]);
  });

  it("are named by their distance from the tailstock end, and lie a block beyond it", () => {
    const [over, end] = mounted(20, 100, "square").marks!;
    expect(over!.name).toBe("beside the wood, 40 mm from its tailstock end");
    expect(over!.at.x).toBe(-40);
    expect(over!.untouched).toBe(false);
    expect(end).toMatchObject({ against: "end", untouched: true });
    expect(end!.at.x).toBe(10);
  });

  it("keep every tool clear of wood, whichever way it stands, and of all keep-outs", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 8_000, max: 45_000 }),
        fc.integer({ min: 30_000, max: 300_000 }),
        fc.constantFrom("square" as const, "round" as const),
        fc.integer({ min: 2, max: 25 }),
        (radiusUm, lengthUm, shape, block) => {
          const s = mounted(radiusUm / 1000, lengthUm / 1000, shape, block);
          const start = s.start.segments[0]!.from.y;
          expect(s.marks!.some((m) => m.against === "end")).toBe(true);
          for (const m of s.marks!) {
            expect(m.at.y).toBeGreaterThanOrEqual(start + KEEP_CLEAR - 1e-9);
            for (const tool of s.tools) {
              const form = formOf(tool);
              const ref = { x: m.at.x + form.offset.x, y: m.at.y + form.offset.y };
              const sweeps = form.bodies.map((b) => standing(b, ref));
              for (const k of s.keepOuts) expect(intoKeepOut(sweeps, k.outline)).toBe(0);
            }
          }
        },
      ),
      { numRuns: 25 },
    );
  });
});
