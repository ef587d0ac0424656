import { describe, expect, it } from "vitest";
import { proveBeam } from "../../../src/proof/beam/prove-beam.ts";
import { arc, line, type Segment } from "../../../src/shapes/segment.ts";
import { laserShop, mark } from "../../plan/beam-fixtures.ts";
import { burnText, proved, refusals, type Stroke, setUpFor, writingFor } from "./programs.ts";

const at = (x: number, y: number) => ({ x, y });
/** A letter D, a cross, and a line alone. */
const D: readonly Segment[] = [line(at(20, 20), at(20, 30)), arc(at(20, 30), at(20, 20), at(20, 25), false)];
const CHAINS = [
  D,
  [line(at(30, 20), at(40, 30))],
  [line(at(30, 30), at(40, 20))],
  [line(at(50, 25), at(70, 25)), line(at(70, 25), at(70, 35))],
];
const NAME = mark("name", { kind: "lines", chains: CHAINS }, { by: "burned line" });
const SET_UP = setUpFor([NAME]);
const W = writingFor(SET_UP);
const STROKES: readonly Stroke[] = CHAINS.map((along) => ({ along }));
const RIGHT = burnText(W, STROKES);

describe("burned lines", () => {
  it("the drawing comes through as it was described", () => {
    expect(SET_UP.marks[0]!.aim).toEqual({ kind: "lines", chains: CHAINS });
  });

  it("the right program is proved", () => {
    const p = proved(SET_UP, RIGHT);
    expect(p.findings).toEqual([]);
    expect(p.figures['off the line "name"']!.value).toBeLessThan(0.001);
    expect(p.figures['not burned of the line "name"']!.value).toBe(0);
    expect(p.figures["burned outside the marks"]!.value).toBe(0);
    expect(p.figures["hottest against even"]!.value).toBeLessThan(2.2);
    expect(p.checked.every((c) => !c.startsWith("looked at"))).toBe(true);
  });
});

/** A text with every match of a pattern changed. */
function changed(pattern: RegExp, to: string | ((...groups: string[]) => string)): string {
  const text = typeof to === "string" ? RIGHT.replace(pattern, to) : RIGHT.replace(pattern, to as () => string);
  if (text === RIGHT) throw new Error("nothing was changed");
  return text;
}

const FAULTS: readonly (readonly [what: string, text: string, code: string])[] = [
  ["X mirrored", changed(/X(-?[\d.]+)/g, (_, x) => `X${(100 - Number(x)).toFixed(4)}`), "proof-beam-outside-marks"],
  ["Y negative", changed(/Y(\d)/g, "Y-$1"), "proof-not-reached"],
  ["inches", changed(/G21/g, "G20"), "rs-l07-outside"],
  ["S ten times too small", changed(/S400/g, "S40"), "proof-beam-setting"],
  ["S as for a spindle", changed(/S400/g, "S4000"), "rs-beam-scale"],
  ["feed doubled", changed(/F1500/g, "F3000"), "proof-beam-setting"],
  ["one line missing", burnText(W, STROKES.slice(1)), "proof-beam-line-missed"],
  ["one line twice", burnText(W, [...STROKES, STROKES[1]!]), "proof-beam-passes"],
  [
    "the beam not switched off between two",
    changed(/G1 X30\.0000 Y20\.0000 F6000\. S0/, "G1 X30.0000 Y20.0000 F6000."),
    "proof-beam-outside-marks",
  ],
  ["an arc the other way", changed(/G2 X20/, "G3 X20"), "proof-beam-outside-marks"],
  ["an arc's centre as if radii were diameters", changed(/J-5\.0000/, "J-10.0000"), "proof-not-reached"],
  ["an arc as a chord", changed(/G2 X20\.0000 Y20\.0000 I0\.0000 J-5\.0000/, "G1 X20. Y20."), "proof-beam-line-missed"],
  ["a corner off by 0.05", changed(/X70\.0000 Y25\.0000/g, "X70.0500 Y25.0000"), "proof-beam-outside-marks"],
  ["a line too short by 0.05", changed(/X70\.0000 Y35\.0000/g, "X70.0000 Y34.9500"), "proof-beam-line-missed"],
  ["half a millimetre too high", changed(/G1 Z0\.0000/, "G1 Z0.6000"), "proof-beam-out-of-focus"],
  ["the zero of another face", changed(/G1 Z0\.0000/, "G1 Z10.0000"), "proof-beam-out-of-focus"],
  ["no stop for the bit", changed(/\(MSG, Bit out, laser mode\)\n/, ""), "proof-beam-stop-missing"],
  ["no stop at the end", changed(/\(MSG, Disconnect the beam\)\nM0\n/, ""), "proof-beam-stop-missing"],
  [
    "M5 S0 forgotten at the end",
    changed(/M5 S0\nG53 G0 Z0\.\n\(MSG, Dis/, "G53 G0 Z0.\n(MSG, Dis"),
    "rs-beam-standing",
  ],
  ["exact path not kept", changed(/G61/g, "G64"), "proof-exact-path-unstated"],
  [
    "a rapid between two lines with the beam on",
    changed(/G1 (X30\.0000 Y20\.0000) F6000\. S0/, "G0 $1"),
    "rs-beam-rapid",
  ],
];

describe("wrong programs for lines", () => {
  it.each(FAULTS)("%s", (_, text, code) => {
    expect(refusals(proved(SET_UP, text))).toContain(code);
  });

  it("a text that breaks the language is refused whole", () => {
    const p = proved(SET_UP, RIGHT.replace("G61", "G61 Q"));
    expect(refusals(p)).toContain("proof-not-reached");
    expect(p.checked).toEqual([expect.stringContaining("breaks them")]);
  });

  it("a late beam may shift a line's ends by the way made meanwhile, and no farther", () => {
    const late = setUpFor([NAME], { lag: 0.002 });
    expect(refusals(proved(late, RIGHT))).toEqual([]);
    const shifted = RIGHT.replaceAll("X70.0000 Y35.0000", "X70.0000 Y35.2000");
    expect(refusals(proved(late, shifted))).toContain("proof-beam-outside-marks");
  });

  it("with constant power a corner's heat is told, and a late beam's dot", () => {
    const constant = setUpFor([NAME], { mode: "constant", start: "M3", lag: 0.001 });
    const p = proved(constant, burnText(writingFor(constant), STROKES));
    expect(refusals(p)).toEqual([]);
    const steady = proved(SET_UP, RIGHT);
    const times = "hottest against even";
    expect(p.figures[times]!.value).toBeGreaterThan(steady.figures[times]!.value);
    expect(p.figures['slowest on the line "name"']!.value).toBeLessThan(1);
  });

  it("a mark over a clamp, and one over the edge", () => {
    const clamp = { name: "clamp", box: { min: { x: 60, y: 30, z: -10 }, max: { x: 80, y: 80, z: 5 } } };
    expect(refusals(proved({ ...SET_UP, keepOuts: [clamp] }, RIGHT))).toEqual(["proof-beam-on-clamp"]);
    const tall = { ...clamp, box: { min: { x: 82, y: 20, z: -10 }, max: { x: 110, y: 40, z: 40 } } };
    // Head and nut reach 15 mm and more to the side, and stand 12 mm above the wood.
    expect(refusals(proved({ ...SET_UP, keepOuts: [tall] }, RIGHT))).toContain("proof-beam-carriage-hit");
    const narrow = { ...SET_UP, blank: { ...SET_UP.blank, max: { ...SET_UP.blank.max, x: 65 } } };
    expect(refusals(proved(narrow, RIGHT))).toContain("proof-beam-off-wood");
  });

  it("two programs of one set-up are judged together", () => {
    const half = (own: readonly Stroke[], file: string) => ({ file, text: burnText(W, own) });
    const both = [half(STROKES.slice(0, 2), "1.ngc"), half(STROKES.slice(2), "2.ngc")];
    const p = proveBeamOf(both);
    expect(refusals(p)).toEqual([]);
    expect(refusals(proveBeamOf(both.slice(0, 1)))).toEqual(["proof-beam-line-missed"]);
  });
});

function proveBeamOf(programs: readonly { readonly file: string; readonly text: string }[]) {
  return proveBeam({ setUp: SET_UP, programs, shop: laserShop() });
}
