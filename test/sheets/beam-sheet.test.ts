import { describe, expect, it } from "vitest";
import { beamReadOptions, proveBeam } from "../../src/proof/beam/prove-beam.ts";
import { readProgram } from "../../src/reader/read.ts";
import { arc, line } from "../../src/shapes/segment.ts";
import { type BeamSheetContent, drawBeamSheet } from "../../src/sheets/beam-sheet.ts";
import { laserShop, mark } from "../plan/beam-fixtures.ts";
import { burnText, type Stroke, setUpFor, writingFor } from "../proof/beam/programs.ts";

const at = (x: number, y: number) => ({ x, y });
const CHAINS = [
  [line(at(20, 20), at(20, 30)), arc(at(20, 30), at(20, 20), at(20, 25), false)],
  [line(at(30, 20), at(40, 30))],
];
const SET_UP = setUpFor([mark("name <1>", { kind: "lines", chains: CHAINS }, { by: "burned line" })], { lag: 0.001 });
const STROKES: readonly Stroke[] = CHAINS.map((along) => ({ along }));

function contentFor(): BeamSheetContent {
  const text = burnText(writingFor(SET_UP), STROKES);
  const proof = proveBeam({ setUp: SET_UP, programs: [{ file: "1.ngc", text }], shop: laserShop() });
  return {
    jobTitle: "Box & lid",
    file: "1.ngc",
    setUp: SET_UP,
    read: readProgram(text, "1.ngc", SET_UP.machine.controller, beamReadOptions(SET_UP)),
    steps: [
      {
        n: 10,
        title: "name",
        effect: "line",
        power: 0.4,
        feed: 1500,
        passes: 1,
        joulesPerMm: 0.16,
        joulesPerMm2: null,
        evenness: null,
        seconds: 4,
      },
    ],
    findings: proof.findings,
    seconds: 12,
    defaultsUsed: [],
    checked: proof.checked,
    notChecked: proof.notChecked,
    figures: proof.figures,
  };
}

describe("the sheet of a beam program", () => {
  const svg = drawBeamSheet(contentFor());

  it("is true to scale, and the same each time", () => {
    const [, width, height] = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 \1 \2"/.exec(svg)!;
    expect(Number(width)).toBeGreaterThan(130);
    expect(Number(height)).toBeGreaterThan(100);
    expect(drawBeamSheet(contentFor())).toBe(svg);
  });

  it("burns are as wide as the spot, where the late beam puts them", () => {
    const burned = /<path d="([^"]+)" fill="none" stroke="#3a2412" stroke-width="0.14"/.exec(svg)![1]!;
    expect(burned).toContain("A5 5");
    // 25 mm/s and 1 ms: the first line begins 0.025 mm late.
    const starts = [...burned.matchAll(/M([\d.]+) ([\d.]+)/g)].map((m) => Number(m[2]));
    const bottom = Number(/M[\d.]+ ([\d.]+)/.exec(burned)![1]);
    expect(starts[0]).toBe(bottom);
    expect(burned).not.toContain("NaN");
  });

  it("says what everyone must know, and the setting used", () => {
    for (const words of [
      "Eyewear for 450 nm",
      "30 and 60 minutes",
      "PVC",
      "beam less spindle",
      '"line": 40 % of full power',
      "100 mm: measure",
    ]) {
      expect(svg.replaceAll("&quot;", '"')).toContain(words);
    }
  });

  it("a name can close no element", () => {
    expect(svg).not.toContain("<1>");
    expect(svg).toContain("Box &amp; lid");
  });
});
