import { describe, expect, it } from "vitest";
import { proveOutlineWalk } from "../../../src/proof/beam/prove-beam.ts";
import { line } from "../../../src/shapes/segment.ts";
import { mark } from "../../plan/beam-fixtures.ts";
import { refusals, setUpFor } from "./programs.ts";

const NAME = mark(
  "name",
  { kind: "lines", chains: [[line({ x: 20, y: 20 }, { x: 60, y: 30 })]] },
  { by: "burned line" },
);
const SET_UP = setUpFor([NAME]);
const WITH_PILOT = setUpFor([NAME], { pilot: 0.01 });

/** A walk round a box at safe height. */
function walk(x0: number, y0: number, x1: number, y1: number, power = 0): string {
  const z = SET_UP.safeZ.toFixed(3);
  return [
    "(S1000 is full power. Power follows speed)",
    "M5 S0",
    "G17 G21 G40 G54 G61 G80 G90 G94",
    "G53 G0 Z0.",
    "G43 H20",
    `G0 X${x0} Y${y0}`,
    `G0 Z${z}`,
    ...(power > 0 ? ["M4 S0"] : []),
    `G1 X${x1} F1500.${power > 0 ? ` S${power}` : ""}`,
    `G1 Y${y1}`,
    `G1 X${x0}`,
    `G1 Y${y0}`,
    "M5 S0",
    "G53 G0 Z0.",
    "M2",
    "",
  ].join("\n");
}

function refused(text: string, setUp = SET_UP): readonly string[] {
  return refusals(proveOutlineWalk(setUp, { file: "walk.ngc", text }));
}

describe("the outline walk", () => {
  it("round the marks with the beam off is proved", () => {
    expect(refused(walk(20, 20, 60, 30))).toEqual([]);
  });

  it("never with the beam on, unless there is a pilot, and then no brighter", () => {
    expect(refused(walk(20, 20, 60, 30, 10))).toContain("proof-beam-walk-burns");
    expect(refused(walk(20, 20, 60, 30, 10), WITH_PILOT)).toEqual([]);
    expect(refused(walk(20, 20, 60, 30, 20), WITH_PILOT)).toContain("proof-beam-walk-burns");
  });

  it("round all of them, and not elsewhere", () => {
    expect(refused(walk(20, 20, 55, 30))).toContain("proof-beam-walk-short");
    expect(refused(walk(20, 20, 95, 30))).toContain("proof-beam-walk-outside");
  });

  it("clear of clamps", () => {
    const post = { name: "post", box: { min: { x: 30, y: 20, z: -10 }, max: { x: 40, y: 30, z: 60 } } };
    expect(refused(walk(20, 20, 60, 30), { ...SET_UP, keepOuts: [post] })).toContain("proof-beam-carriage-hit");
  });

  it("to its end", () => {
    expect(refused(walk(20, 20, 60, 30).replace("M2\n", ""))).toContain("proof-not-reached");
  });
});
