import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PlanShape } from "../../src/job/job.ts";
import { SLOT } from "../parts/hollow-made.ts";
import { made, proofOf, refusals, um } from "./hollow-help.ts";

describe("hollows as they are made", () => {
  it.each([
    ["a dished slot", SLOT, 11, { dish: 3 }],
    ["a dished slot with an eased edge", SLOT, 9, { dish: 2, ease: 1.5 }],
    ["a slot with sloped walls and a flat floor", SLOT, 9, { wallLeanDeg: 12, floorRadius: 4 }],
    ["a dished circle", { kind: "circle", diameter: 26 }, 6, { dish: 2 }],
    [
      "a dished rectangle with tight corners",
      { kind: "rounded rectangle", length: 44, width: 24, radius: 3.2 },
      7,
      { dish: 2 },
    ],
    [
      "a flat rectangle with an eased edge",
      { kind: "rounded rectangle", length: 44, width: 24, radius: 6 },
      6,
      { ease: 1.5 },
    ],
    ["an oval with a rounding at its floor", { kind: "oval", length: 34, width: 22 }, 6, { floorRadius: 3.2 }],
  ] as const)("are proved: %s", (_, shape, depth, more) => {
    const m = made(shape, depth, more);
    expect(m).toBeDefined();
    const proof = proofOf(m!);
    expect(refusals(proof)).toEqual([]);
    expect(proof.figures["ridges in hollows"]!.value).toBeLessThanOrEqual(0.03);
    expect(proof.figures["wood left"]!.value).toBeLessThanOrEqual(0.01);
    expect(proof.figures.gouge!.value).toBeLessThanOrEqual(0.01);
  });

  it("by a bit with a small corner radius, where the floor is flat", () => {
    const m = made(SLOT, 6, { floorRadius: 3 }, "6 mm radiused corner")!;
    expect(m.planned.operations[0]!.cutter.name).toBe("6 mm radiused corner");
    expect(refusals(proofOf(m))).toEqual([]);
  });

  it("whatever the words: random hollows are proved or refused before", () => {
    let proved = 0;
    fc.assert(
      fc.property(
        fc.constantFrom<PlanShape["kind"]>("slot", "circle", "rounded rectangle"),
        um(14, 30),
        um(3.2, 6),
        um(4, 10),
        fc.constantFrom(0, 0, 5, 15),
        um(3, 4.5),
        fc.constantFrom(0, 0.8, 2),
        fc.constantFrom(0, 0, 1, 2),
        (kind, width, corner, depth, wallLeanDeg, floorRadius, dish, ease) => {
          const shape: PlanShape =
            kind === "circle"
              ? { kind, diameter: width }
              : kind === "slot"
                ? { kind, length: 45, width }
                : { kind: "rounded rectangle", length: 45, width, radius: corner };
          const m = made(shape, depth, {
            wallLeanDeg,
            floorRadius,
            ...(dish > 0 ? { dish } : {}),
            ...(ease > 0 ? { ease } : {}),
          });
          if (m === undefined) return;
          proved++;
          expect(refusals(proofOf(m))).toEqual([]);
        },
      ),
      { numRuns: 5 },
    );
    expect(proved).toBeGreaterThan(2);
  });
});
