import type { BeamReading, ReadOptions } from "../../src/reader/options.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadProgram } from "../../src/reader/read-move.ts";
import type { ReaderCode } from "../../src/reader/rule.ts";
import type { Controller } from "../../src/shop/machine.ts";
import { FULL } from "./controllers.ts";

/** A controller without a tool table. */
export const BARE: Controller = { ...FULL, toolTable: false, toolChanger: false };

/** One that turns A besides. */
export const TURNING: Controller = { ...BARE, axes: ["X", "Y", "Z", "A"] };

/** Full power is S1000; the beam burns whatever the speed. */
export const CONSTANT: BeamReading = { fullScale: 1000, start: "M3", mode: "constant" };

/** Full power is S255; the power follows the speed. */
export const FOLLOWS: BeamReading = { fullScale: 255, start: "M4", mode: "follows speed" };

/** A whole program for the beam about the given lines; the first of them is line 8. */
export function burning(...lines: readonly string[]): string {
  return [
    "(S0 to S1000 is no power to full power. The power is constant)",
    "M5 S0",
    "G17 G21 G40 G54 G61 G80 G90 G94",
    "G0 Z20.",
    "G0 X10. Y10.",
    "G1 Z0. F600.",
    "M3 S0",
    ...lines,
    "M5 S0",
    "G0 Z20.",
    "M2",
    "",
  ].join("\n");
}

export function readBurning(
  text: string,
  beam: BeamReading = CONSTANT,
  options: ReadOptions = {},
  controller: Controller = BARE,
): ReadProgram {
  return readProgram(text, "burn.ngc", controller, { beam, safeZ: 20, ...options });
}

/** A wrong program for the beam: all that must be said about it, as `code:line`, and nothing else. */
export interface WrongBurning {
  readonly text: string;
  readonly says: readonly `${ReaderCode}:${number}`[];
  readonly beam?: BeamReading;
  readonly options?: ReadOptions;
  readonly controller?: Controller;
}

function wrong(lines: readonly string[], ...says: WrongBurning["says"]): WrongBurning {
  return { text: burning(...lines), says };
}

const ON = "G1 X20. F600. S500";
const OFF = "G1 X30. S0";

/** One wrong program or more for each rule of the beam. */
export const WRONG_BURNING: readonly WrongBurning[] = [
  // the first word
  { text: burning(ON, OFF).replace("M5 S0\nG17", "G17"), says: ["rs-beam-first:6"] },
  { text: burning(ON, OFF).replace("M5 S0\nG17", "M5\nG17"), says: ["rs-beam-first:2"] },
  { text: burning(ON, OFF).replace("M5 S0\nG17", "S0\nG17"), says: ["rs-beam-first:2"] },
  { text: burning(ON, OFF).replace("M5 S0\nG17", "M5 S1\nG17"), says: ["rs-beam-first:2"] },
  {
    text: burning(ON, OFF).replace("M5 S0\nG17", "M3 S18000\nM5 S0\nG17"),
    says: ["rs-beam-first:2", "rs-beam-scale:2", "rs-beam-still:2"],
  },
  // start, scale, power
  wrong(["M4 S0", ON, OFF], "rs-beam-start-code:8"),
  { text: burning(ON, OFF), beam: FOLLOWS, says: ["rs-beam-start-code:7", "rs-beam-scale:8", "rs-beam-undeclared:8"] },
  wrong(["G1 X20. F600. S1000.5", OFF], "rs-beam-scale:8"),
  wrong(["G1 X20. F600. S18000", OFF], "rs-beam-scale:8"),
  wrong(["G1 X20. F600. S-1", OFF], "rs-e13-negative:8"),
  wrong(["M5 S0", "M3 G1 X20. F600.", OFF], "rs-beam-power-unsaid:9"),
  // declared
  { text: burning(ON, OFF).replace("S1000", "S100"), says: ["rs-beam-undeclared:8"] },
  { text: burning(ON, OFF).replace("S1000", "S10000"), says: ["rs-beam-undeclared:8"] },
  { text: burning(ON, OFF).replace("constant", "as always"), says: ["rs-beam-undeclared:8"] },
  { text: burning(ON, "(S1000 is full power, constant)", OFF).replace(/^.*\n/, "\n"), says: ["rs-beam-undeclared:8"] },
  // where it must be off
  wrong([ON, "G0 X30.", OFF], "rs-beam-rapid:9", "rs-l12-rapid-slanting:9"),
  wrong([ON, "G0 Z20.", "G0 X30. S0"], "rs-beam-rapid:9"),
  wrong(["M3 S500", ON, OFF], "rs-beam-still:8"),
  wrong(["S500", ON, OFF], "rs-beam-still:8"),
  wrong([ON, "S300", "G1 X25.", OFF], "rs-beam-still:9"),
  wrong([ON, "G4 P0.1", OFF], "rs-beam-dwell:9"),
  wrong([ON, "G1 S0 X25.", "M0", "G61", "G0 Z20."], "rs-beam-standing:10"),
  wrong([ON, "M1", "G61", "G0 Z20. S0"], "rs-beam-standing:9"),
  wrong([ON, "G1 Z-1.", OFF], "rs-beam-upright:9"),
  // ends
  { text: burning(ON, OFF).replace("M5 S0\nG0 Z20.\nM2", "G0 Z20.\nM2"), says: ["rs-beam-left-on:11"] },
  { text: burning(ON, OFF).replace("M5 S0\nG0 Z20.\nM2", "M5 S1\nG0 Z20.\nM2"), says: ["rs-beam-left-on:12"] },
  {
    text: burning(ON).replace("M5 S0\nG0 Z20.\nM2", "G0 Z20.\nM2"),
    says: ["rs-beam-rapid:9", "rs-beam-left-on:10"],
  },
  { text: burning("M8", ON, OFF), says: ["rs-l06-left-running:13"] },
  // feed and units
  { text: burning(ON, OFF).replace("G1 Z0. F600.", "G0 Z0."), says: ["rs-l03-rapid-low:6"] },
  {
    text: burning("G1 X20. S500", OFF).replace("G1 Z0. F600.", "G0 Z0."),
    says: ["rs-l03-rapid-low:6", "rs-e30-no-feed:8", "rs-e30-no-feed:9"],
  },
  wrong(["G93", "G1 X20. F30. S500", "G94 G1 X30. F600. S0"], "rs-beam-feed-mode:9"),
  // a rotary axis: none here; not in inverse time; inverse time left on where nothing turns
  { text: burning("G1 X20. A5. F600. S500", OFF), controller: TURNING, says: ["rs-beam-turn:8"] },
  {
    text: burning("G1 X20. A5. F600. S500", OFF),
    controller: TURNING,
    beam: { ...CONSTANT, turns: true },
    says: ["rs-beam-turn-feed:8"],
  },
  {
    text: burning("G93 G1 X20. A5. F60. S500", "G1 X30. F60.", "G94 G1 X40. F600. S0"),
    controller: TURNING,
    beam: { ...CONSTANT, turns: true },
    says: ["rs-beam-feed-mode:9"],
  },
  { text: burning(ON, OFF).replace("G21 ", ""), says: ["rs-l01-unit-not-stated:4"] },
  { text: burning("G20", ON, OFF), says: ["rs-l04-second-unit:8"] },
  { text: burning(ON, OFF).replace("G90 ", ""), says: ["rs-l01-not-stated:4"] },
  // from nowhere
  {
    text: burning(ON, OFF).replace("G0 X10. Y10.\n", ""),
    says: ["rs-l08-position-unknown:5", "rs-l08-position-unknown:7", "rs-l08-position-unknown:8"],
  },
  { text: burning(ON, OFF).replace("G0 Z20.\nG0 X10.", "G0 X10."), says: ["rs-l08-position-unknown:4"] },
  wrong(["G91", "G1 X20. F600. S500", "G90", OFF, "M5 S0", "M0", "G61", ON], "rs-l08-position-unknown:15"),
  // tools and cycles
  wrong(["T1", ON, OFF], "rs-beam-tool:8"),
  wrong(["G99 G81 X1. Z-1. R1. F100.", "G80", ON, OFF], "rs-beam-cycle:8", "rs-l12-rapid-slanting:8"),
  {
    text: burning("M5 S0", "T1 M6", "G61"),
    controller: { ...BARE, toolChanger: true },
    says: ["rs-beam-tool:9"],
  },
  { text: burning(ON, OFF), controller: FULL, says: ["rs-beam-length:4", "rs-beam-length:6", "rs-beam-length:11"] },
  {
    text: burning(ON, OFF).replace("G0 Z20.\nG0 X10.", "G43 H1\nG0 Z20.\nG0 X10."),
    controller: FULL,
    says: ["rs-beam-length:5", "rs-beam-length:7", "rs-beam-length:12"],
  },
];
