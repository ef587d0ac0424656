import { describe, expect, it } from "vitest";
import type { Feature } from "../../src/job/job.ts";
import type { MarkContent, MarkMade } from "../../src/job/mark.ts";
import { rectangle } from "../../src/shapes/outlines.ts";
import { line } from "../../src/shapes/segment.ts";
import { feature } from "../parts/describing.ts";
import { bit, operations, plan, refusals, shopWith } from "./planning.ts";

const drawn = { kind: "drawing", file: "x.svg" } as const;
const BAR: MarkContent = { kind: "area", region: rectangle({ x: -10, y: -2 }, { x: 10, y: 2 }), from: drawn };
const STROKE: MarkContent = { kind: "lines", chains: [[line({ x: -10, y: 0 }, { x: 10, y: 0 })]], from: drawn };

function mark(content: MarkContent, made: MarkMade): Feature {
  const at = [
    { reach: "centre", border: "first end", distance: 60 },
    { reach: "centre", border: "lower edge", distance: 30 },
  ] as const;
  return feature(
    "name",
    5,
    { kind: "mark", content, made, at, turnedDeg: 0 },
    {
      lines: { depth: 7, deepest: 8, bit: 9 },
    },
  );
}

describe("the bit for a mark that is cut", () => {
  it("a V-groove takes the sharpest V, of equals the one nearest 60 degrees, and is as deep as its bit makes it", () => {
    const [op] = operations([mark(BAR, { by: "v-groove" })]);
    expect(op!.kind).toBe("v-groove");
    expect(op!.cutter.name).toBe("60 degree V");
    // (2 − 0.2 / 2) / tan 30°
    expect(op!.topZ - (op!.kind === "v-groove" ? op!.levels.at(-1)! : 0)).toBeCloseTo(1.9 / Math.tan(Math.PI / 6), 2);
    const sharp = shopWith([
      bit("60 degree V"),
      bit("90 degree V", { form: { kind: "v", includedAngle: 90, tipFlat: 0 } }),
    ]);
    expect(operations([mark(BAR, { by: "v-groove" })], {}, sharp)[0]!.cutter.name).toBe("90 degree V");
  });

  it("a cap is kept; the sheet says what a wrong zero does", () => {
    const { setUps, findings } = plan([mark(BAR, { by: "v-groove", cap: 0.8 })]);
    const [op] = setUps[0]!.operations;
    expect(op!.kind === "v-groove" && [op!.cap, op!.levels.at(-1)]).toEqual([0.8, -0.8 + op!.topZ]);
    const note = findings.find((f) => f.code === "plan-v-depth-widens")!;
    // 2 × 0.1 × tan 30°
    expect(note.measured!.value).toBeCloseTo(0.11547, 5);
    expect(setUps[0]!.setUp.notes).toContain(note);
  });

  it("a cut line takes what cuts the finest line; lines keep their arcs", () => {
    const [op] = operations([mark(STROKE, { by: "cut line", depth: 0.4 })]);
    expect(op!.kind).toBe("trace");
    expect(op!.cutter.form.kind).toBe("v");
    const flats = shopWith([bit("6 mm flat"), bit("3 mm flat")]);
    expect(operations([mark(STROKE, { by: "cut line", depth: 0.4 })], {}, flats)[0]!.cutter.name).toBe("3 mm flat");
  });

  it("refuses what cannot be: no V, a blunt tip, too wide for the bit, through the wood, a bit that doesn't plunge", () => {
    const v = mark(BAR, { by: "v-groove" });
    expect(refusals(plan([v], {}, shopWith([bit("6 mm flat")])))[0]![0]).toBe("plan-no-bit-fits");
    const blunt = bit("60 degree V", { form: { kind: "v", includedAngle: 60, tipFlat: 4 } });
    expect(refusals(plan([v], {}, shopWith([blunt])))[0]![0]).toBe("plan-bit-too-wide");
    const narrow = bit("60 degree V", { diameter: 3, nominalDiameter: 3 });
    expect(refusals(plan([v], {}, shopWith([narrow])))[0]![0]).toBe("plan-bit-flute-short");
    expect(refusals(plan([mark(BAR, { by: "v-groove", cap: 12 })]))).toEqual([["mark-kind-unfit", 8]]);
    expect(refusals(plan([mark(STROKE, { by: "cut line", depth: 12 })]))).toEqual([["mark-kind-unfit", 7]]);
    const dead = bit("3 mm flat", { deadCentre: 1 });
    expect(refusals(plan([mark(STROKE, { by: "cut line", depth: 0.4 })], {}, shopWith([dead])))[0]![0]).toBe(
      "plan-bit-dead-centre",
    );
    const drill = mark(STROKE, { by: "cut line", depth: 0.4, bit: "3 mm drill" });
    expect(refusals(plan([drill]))).toEqual([["plan-bit-wrong-form", 9]]);
  });
});
