import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pathFor } from "../../src/paths/path-for.ts";
import type { EaseOperation } from "../../src/plan/operation.ts";
import type { Point3 } from "../../src/shapes/point.ts";
import { baseOf, setUpOf } from "./fixtures.ts";

const setUp = setUpOf(120, 120, 30);
const NOSE = 3;

/** Passes along X about an edge at y = 60, z = −12: the nose's middle stands at these angles from level, at one distance. */
function passesAbout(far: number, degrees: readonly number[]): EaseOperation {
  const passes = degrees.map((deg) => {
    const rad = (deg * Math.PI) / 180;
    const at = (x: number): Point3 => ({ x, y: 60 - far * Math.cos(rad), z: -12 + far * Math.sin(rad) - NOSE });
    return { points: [at(40), at(80), at(40)], closed: true };
  });
  return { ...baseOf(2 * NOSE), kind: "ease", passes };
}

describe("a nose on its way from one pass over a lip to the next", () => {
  it("never comes nearer to the edge than on the passes, whichever way the round between them bends", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 200, max: 5000 }).map((n) => NOSE + n / 1000),
        fc.integer({ min: 0, max: 90 }),
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 4, max: 30 }),
        (far, from, count, step) => {
          // Wood that turns under is not followed from above.
          const degrees = Array.from({ length: count + 1 }, (_, k) => from + k * step).filter((d) => d <= 170);
          const operation = passesAbout(far, degrees);
          const made = pathFor(operation, setUp);
          if (!made.ok) throw new Error(JSON.stringify(made.findings));
          let tip: Point3 | undefined;
          for (const m of made.value.moves) {
            if (m.kind === "rapid xy") tip = { ...m.to, z: setUp.safeZ };
            else if (m.kind === "rapid z") tip = { ...tip!, z: m.z };
            else if (m.kind === "line") {
              for (let k = 0; k <= 40; k++) {
                const [y, z] = [tip!.y + ((m.to.y - tip!.y) * k) / 40, tip!.z + ((m.to.z - tip!.z) * k) / 40];
                expect(Math.hypot(y - 60, z + NOSE + 12)).toBeGreaterThan(far - 1e-6);
              }
              tip = m.to;
            }
          }
        },
      ),
      { numRuns: 100 },
    );
  });
});
