import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { makeAll } from "../../src/pipeline.ts";
import { programsOf, projectText, textsOf } from "../pipeline/texts.ts";

const CABINET = `title: One small drawer
units: mm
case:
  wood: cherry
  side thickness: 12
  measured with: calipers
  moisture today: 8 % by meter
  openings:
    till: {width: {mouth: 82.3, middle: 82.1, back: 82.4}, height: {left: 46.1, right: 46.0}, depth: 96}
drawers:
  held by: tape
  fronts: {wood: cherry, thickness: 12, as planed: 12.1}
  sides: {wood: ash, thickness: 9, as planed: 9}
  bottoms: {wood: plywood, thickness: 4, as planed: 4}
  runners: {wood: hard maple, tall: 11, tall as planed: 11, thickness: 4, as planed: 4, screw: 3.5 mm, screws: 2}
  front joint: rabbet
  back joint: through
`;
const MEASURED = `${CABINET}  between runners:
    till: {mouth: 74.4, back: 74.5}
`;

const shop = {
  text: projectText("samples/shop.yaml").replace(
    "diameter: 3.5\n    measured diameter: 3.5",
    "diameter: 4\n    measured diameter: 4",
  ),
  file: "shop.yaml",
};

describe("a small cabinet, from openings to programs", () => {
  it("holds the sides' programs back until it is measured between the runners, and makes the others", () => {
    const made = makeAll(textsOf(CABINET, { shop }));
    expect(made.findings.filter((f) => f.grade === "refuse").map(printFinding)).toEqual([]);
    expect(made.verdict).toBe("fine");
    expect(made.report?.heldBack.map((h) => h.setUp)).toEqual([
      "till right side, outside up",
      "till right side, inside up",
      "till left side, outside up",
      "till left side, inside up",
    ]);
    expect(new Set(made.report?.heldBack.flatMap((h) => h.because))).toEqual(new Set(["fit-measure-first"]));
    expect(programsOf(made).some((p) => p.name.includes("-side-"))).toBe(false);
    expect(programsOf(made).map((p) => p.name)).toEqual(
      expect.arrayContaining([expect.stringContaining("till-front"), expect.stringContaining("till-runner")]),
    );
    expect(made.findings.filter((f) => f.code === "fit-measure-first" && f.grade === "caution")).toHaveLength(1);
  });

  it("makes the sides' programs, proved, as deep as what was measured asks", () => {
    const made = makeAll(textsOf(MEASURED, { shop }));
    expect(made.findings.filter((f) => f.grade === "refuse").map(printFinding)).toEqual([]);
    expect(made.report?.heldBack).toEqual([]);
    const sides = programsOf(made).filter((p) => p.name.includes("side-outside"));
    expect(sides).toHaveLength(2);
    for (const side of sides) {
      // The box is as wide as the narrowest width less reveals: 82.1 mm less 0.6 on each side, to the tenth; half of what
      // it is wider than the runners' distance goes into each side, and 0.8 mm more, and 0.3 mm that is cleaned up.
      const enters = (80.9 - 74.4) / 2;
      const lowest = Math.min(...[...side.text.matchAll(/Z(-?[\d.]+)/g)].map((m) => Number(m[1])));
      expect(-lowest).toBeGreaterThan(enters + 0.8 + 0.3 - 1e-6);
      expect(-lowest).toBeLessThan(enters + 0.8 + 0.3 + 0.3);
    }
  });
});
