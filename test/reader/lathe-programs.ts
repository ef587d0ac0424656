import type { LatheReading, ReadOptions } from "../../src/reader/options.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadProgram } from "../../src/reader/read-move.ts";
import type { ReaderCode } from "../../src/reader/rule.ts";
import type { Controller } from "../../src/shop/machine.ts";
import { FULL } from "./controllers.ts";

/** A lathe's controller: X and Z, a changer, no table of lengths. */
export const LATHE: Controller = { ...FULL, toolTable: false, axes: ["X", "Z"] };

/** Radius X at the rear, safe beyond 20 mm, wood up to 16 mm. */
export const REAR: LatheReading = { xWords: "radius", side: 1, safeRadius: 20, stockRadius: 16 };

/** A whole turning program of ours about the given lines; the first of them is line 6. */
export function turning(...lines: readonly string[]): string {
  return [
    "G18 G21 G40 G54 G61 G80 G90 G94",
    "G0 X25.",
    "G0 Z5.",
    "T1 M6",
    "G61 S1200 M3",
    ...lines,
    "G0 X25.",
    "M5",
    "M2",
    "",
  ].join("\n");
}

/** Brings the tool to radius 20, Z −10 behind the change of tool. */
export const THERE = ["G0 X20.", "G0 Z-10."] as const;

export function readTurning(text: string, lathe: LatheReading = REAR, options: ReadOptions = {}): ReadProgram {
  return readProgram(text, "turn.ngc", LATHE, { lathe, ...options });
}

/** A wrong turning program: all that must be said about it, as `code:line`, and nothing else. */
export interface WrongTurning {
  readonly text: string;
  readonly says: readonly `${ReaderCode}:${number}`[];
  readonly lathe?: LatheReading;
  readonly options?: ReadOptions;
}

function wrong(lines: readonly string[], ...says: WrongTurning["says"]): WrongTurning {
  return { text: turning(...THERE, ...lines), says };
}

/** One wrong program for each rule of the lathe. The line after `THERE` is line 8. */
export const WRONG_TURNING: readonly WrongTurning[] = [
  // Y does not exist, and its centre word with it
  wrong(["G1 X15. Y1. F300."], "rs-e32-no-such-axis:8"),
  wrong(["G1 X15. F300.", "G3 X12. Z-13. I-3. J0. K0."], "rs-e36-arc-wrong-centre-word:9"),
  // arcs lie in G18
  wrong(["G1 X15. F300.", "G17", "G2 X16. Z-10. I0.5"], "rs-lathe-plane:10"),
  wrong(["G1 X15. F300.", "G19 G3 X15. Z-12. K-1."], "rs-lathe-plane:9"),
  {
    text: turning(...THERE, "G1 X15. F300.", "G3 X12. Z-13. I-3. K0.").replace("G18 ", ""),
    says: ["rs-lathe-plane:9", "rs-e36-arc-wrong-centre-word:9"],
  },
  // feed mode
  wrong(["G93", "G94"], "rs-lathe-feed-mode:8"),
  wrong(["G93 G1 X15. F30.", "G94 G1 X14. F100."], "rs-lathe-feed-mode:8"),
  // words that other dialects have for lathes
  wrong(["G95"], "rs-e18-unknown-g:8"),
  wrong(["G96 S100"], "rs-e18-unknown-g:8"),
  wrong(["G97 S1000"], "rs-e18-unknown-g:8"),
  wrong(["G7"], "rs-e18-unknown-g:8"),
  wrong(["G8"], "rs-e18-unknown-g:8"),
  wrong(["G33 Z-20. K1."], "rs-e18-unknown-g:8", "rs-e22-stray-centre:8"),
  wrong(["G50 S2000"], "rs-e18-unknown-g:8"),
  wrong(["G70"], "rs-e18-unknown-g:8"),
  wrong(["G71 U1. R1."], "rs-e18-unknown-g:8", "rs-e09-unknown-letter:8"),
  wrong(["G72"], "rs-e18-unknown-g:8"),
  wrong(["G73"], "rs-e18-unknown-g:8"),
  wrong(["G74"], "rs-e18-unknown-g:8"),
  wrong(["G75"], "rs-e18-unknown-g:8"),
  wrong(["G76"], "rs-e18-unknown-g:8"),
  wrong(["G1 X15. U1. F300."], "rs-e09-unknown-letter:8"),
  wrong(["G1 X15. W-1. F300."], "rs-e09-unknown-letter:8"),
  wrong(["G99 G81 X15. Z-20. R2. F100."], "rs-lathe-cycle:8"),
  wrong(["G41 D1"], "rs-compensation-used:8", "rs-e47-compensation:8"),
  // the side of the axis
  wrong(["G1 X-1. F300."], "rs-lathe-past-axis:8"),
  {
    text: turning(...THERE),
    lathe: { ...REAR, side: -1 },
    says: [
      "rs-lathe-past-axis:2",
      "rs-l08-position-unknown:2",
      "rs-l12-rapid-slanting:3",
      "rs-lathe-past-axis:6",
      "rs-l08-position-unknown:6",
      "rs-l12-rapid-slanting:7",
      "rs-lathe-past-axis:8",
    ],
  },
  // rapids
  wrong(["G0 X22. Z-12."], "rs-l12-rapid-slanting:8"),
  wrong(["G0 X18.", "G0 Z-12."], "rs-l12-rapid-slanting:9"),
  wrong(["G1 X12. F300.", "G0 Z-12."], "rs-l12-rapid-slanting:9"),
  { text: turning("G0 Z-10."), says: ["rs-l08-position-unknown:6"] },
  { text: turning("G0 X12."), says: ["rs-l08-position-unknown:6"] },
  { text: turning("G0 X20.", "G0 X12."), says: ["rs-l08-position-unknown:7"] },
  { text: turning("G1 X12. F300."), says: ["rs-l08-position-unknown:6"] },
  { text: turning("G0 X20.", "G1 X12. F300."), says: ["rs-l08-position-unknown:7"] },
  { text: turning("G53 G0 X0. Z0."), says: ["rs-l12-rapid-slanting:6"] },
  // a rapid in the very first line of motion goes nowhere but out
  { text: turning(...THERE).replace("G0 X25.\nG0 Z5.", "G0 X5.\nM0\nG61"), says: ["rs-l08-position-unknown:2"] },
  // no radius is safe when none is given
  {
    text: turning("G53 G0 X0.", "G0 Z-10.", "G0 X20.", "G0 Z-9.").replace("G0 X25.\nG0 Z5.\n", ""),
    lathe: { xWords: "radius", side: 1 },
    says: ["rs-l12-rapid-slanting:7"],
  },
  // the wood turns before it is cut, and stands when hands come near
  { text: turning(...THERE, "G1 X15. F300.").replace("G61 S1200 M3", "G61 S1200"), says: ["rs-l02-spindle-stopped:8"] },
  wrong(["G1 X15. F300.", "G0 X25.", "M0"], "rs-l09-bit-standing:10"),
  wrong(["G1 X15. F300.", "G4 P3."], "rs-l09-bit-dwelling:9"),
  wrong(["G1 X15. F300.", "M5", "G1 X14."], "rs-l02-spindle-stopped:10"),
  // travel
  {
    text: turning(...THERE, "G1 X15. F300."),
    options: { machineTravel: { x: 8, y: Number.POSITIVE_INFINITY, z: 400 } },
    says: ["rs-l07-outside:8"],
  },
  {
    text: turning(...THERE, "G1 X15. F300."),
    options: { machineTravel: { x: 100, y: Number.POSITIVE_INFINITY, z: 12 } },
    says: ["rs-l07-outside:7"],
  },
];
