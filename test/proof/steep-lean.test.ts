import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makeAll } from "../../src/pipeline.ts";
import { oneBoard, textsOf } from "../pipeline/texts.ts";

describe("recesses with steeply leaning walls", () => {
  it("are made and proved, also where the floor's corners are tighter than the bit", () => {
    const um = (least: number, most: number) =>
      fc.integer({ min: least * 1000, max: most * 1000 }).map((n) => n / 1000);
    const recess = fc.record({
      length: um(40, 70),
      width: um(30, 50),
      radius: um(0, 9),
      depth: um(2, 7),
      lean: fc.constantFrom(20, 30, 40),
      shape: fc.constantFrom("rounded rectangle", "oval", "slot"),
    });
    fc.assert(
      fc.property(recess, (r) => {
        const features = [
          "- recess: room",
          `  shape: ${r.shape}`,
          `  length: ${Math.max(r.length, r.width + 1)}`,
          `  width: ${r.width}`,
          ...(r.shape === "rounded rectangle" ? [`  corner radius: ${r.radius}`] : []),
          "  centre at: 60 from first end, 40 from lower edge",
          `  depth: ${r.depth}`,
          `  wall: sloped ${r.lean} deg`,
        ];
        const made = makeAll(textsOf(oneBoard(features)));
        if (made.verdict === "input") return;
        expect(made.findings.filter((f) => f.grade === "refuse").map((f) => `${f.code}: ${f.what}`)).toEqual([]);
      }),
      { numRuns: 20, endOnFailure: true },
    );
  });
});
