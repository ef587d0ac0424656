import { describe, expect, it } from "vitest";
import { FINDING_CODES } from "../../src/finding-codes.ts";
import type { ReadOptions } from "../../src/reader/options.ts";
import type { ReaderCode } from "../../src/reader/rule.ts";
import { READER_CODES, RULES } from "../../src/reader/rules.ts";
import type { Controller } from "../../src/shop/machine.ts";
import { WRONG_BURNING } from "./beam-programs.ts";
import { about, FULL, PLAIN, readAny, readOurs, told } from "./controllers.ts";
import { WRONG_TURNING } from "./lathe-programs.ts";

/** A wrong program: all that must be said about it, as `code:line`, and nothing else. */
interface Case {
  readonly text: string;
  readonly says: readonly `${ReaderCode}:${number}`[];
  readonly controller?: Controller;
  readonly options?: ReadOptions;
  /** Read as anybody's file. */
  readonly any?: true;
}

const CUTS = about("G1 Z-1. F600.");

function wrong(line: string, says: Case["says"], rest: Omit<Case, "text" | "says"> = {}): Case {
  return { text: about(line), says, ...rest };
}

const LONG_COMMENT = `(${"x".repeat(252)})`;
const COMPENSATED = "rs-compensation-used:6";
const CYCLE_START = "G1 Z5. F300.";

const CASES: readonly Case[] = [
  // file
  { text: "G21 G90\n(nothing more)\n", says: ["rs-e01-no-end:2"] },
  { text: "%\nG21\n", says: ["rs-e02-percent-unmatched:2"] },
  { text: "%\nM2\n", says: ["rs-e02-percent-unmatched:2"] },
  { text: "G21\n%\nM2\n", says: ["rs-e02-percent-unmatched:2"] },
  {
    text: "(first)\n%\nG21\n%\n",
    says: ["rs-e02-percent-unmatched:2", "rs-e02-percent-unmatched:4", "rs-e01-no-end:4"],
  },
  { text: "% begins\nM2\n", says: ["rs-e03-percent-line:1"] },
  { text: "%\nG21 %\nM2\n%\n", says: ["rs-e03-percent-line:2"] },
  { text: "", says: ["rs-e04-empty:1"] },
  { text: "\n \t\r\n\n", says: ["rs-e04-empty:3"] },
  { text: "\ufeffG21\nM2\n", says: ["rs-e05-illegal-byte:1"] },
  wrong("G0 X\u00e9", ["rs-e11-number:6"]),
  wrong("\u00e9 G0 X1.", ["rs-e05-illegal-byte:6"]),
  wrong("G0 X1.\u0000", ["rs-e05-illegal-byte:6"]),
  // line
  wrong(LONG_COMMENT, ["rs-e06-line-too-long:6"]),
  wrong("G0 N5 X1.", ["rs-e07-not-at-line-start:6"]),
  wrong("N5 / G0 X1.", ["rs-e07-not-at-line-start:6"]),
  wrong("(a) N5", ["rs-e07-not-at-line-start:6"]),
  wrong("N5 N6 G0 X1.", ["rs-e07-not-at-line-start:6"]),
  wrong("N123456 G0 X1.", ["rs-e08-line-number:6"]),
  wrong("N000001 G0 X1.", ["rs-e08-line-number:6"]),
  wrong("N-5 G0 X1.", ["rs-e08-line-number:6"]),
  wrong("N5.0 G0 X1.", ["rs-e08-line-number:6"]),
  wrong("N G0 X1.", ["rs-e08-line-number:6"]),
  wrong("G0 X1. E5", ["rs-e09-unknown-letter:6"]),
  wrong("G0 U1.", ["rs-e09-unknown-letter:6"]),
  wrong("G0 X1. ; to the left", ["rs-e09-unknown-letter:6"]),
  wrong("$H", ["rs-e09-unknown-letter:6"]),
  wrong("(never closes", ["rs-e10-comment:6"]),
  wrong("(one (two))", ["rs-e10-comment:6"]),
  wrong("(na\u00efve)", ["rs-e10-comment:6"]),
  wrong("G0 X1.)", ["rs-e10-comment:6"]),
  wrong("G0 X", ["rs-e11-number:6"]),
  wrong("G0 X Y1.", ["rs-e11-number:6"]),
  wrong("G0 X1e3", ["rs-e11-number:6"]),
  wrong("G0 X1,5", ["rs-e11-number:6"]),
  wrong("G0 X1.5.2", ["rs-e11-number:6"]),
  wrong("G0 X--1.", ["rs-e11-number:6"]),
  wrong("G0 X-", ["rs-e11-number:6"]),
  wrong("G0 X.", ["rs-e11-number:6"]),
  wrong("G0 X-[1]", ["rs-e11-number:6"]),
  wrong("G0 X-#1", ["rs-e11-number:6"]),
  wrong("M3.5", ["rs-e12-not-whole:6"]),
  wrong("T1.5", ["rs-e12-not-whole:6"]),
  wrong("G10 L2 P1.5 X0", ["rs-e12-not-whole:6", "rs-unsafe-word:6"]),
  wrong("G1 X1. F-100.", ["rs-e13-negative:6", "rs-e30-no-feed:6"]),
  wrong("S-1", ["rs-e13-negative:6"]),
  wrong("G-1 X1.", ["rs-e13-negative:6"]),
  wrong("M-3", ["rs-e13-negative:6"]),
  wrong("T-1", ["rs-e13-negative:6"]),
  wrong("G4 P-1.", ["rs-e13-negative:6"]),
  wrong("G0 X1. X2.", ["rs-e14-letter-repeated:6"]),
  wrong("G0 G1 X1. F100.", ["rs-e15-same-g-group:6"]),
  wrong("G90 G91", ["rs-e15-same-g-group:6"]),
  wrong("G4 P1. G53 G0 Z0.", ["rs-e15-same-g-group:6"]),
  wrong("M3 M5", ["rs-e16-same-m-group:6"]),
  { text: about("M7 M8", "M9"), says: ["rs-e16-same-m-group:6"] },
  {
    text: about("M5", "T1 M6 M3 M9 M48 M0", "M5"),
    says: ["rs-e17-too-many-m:7"],
  },
  ...[5, 7, 12, 33, 44, 50, 52, 70, 71, 95, 96, 97].map((g) => wrong(`G${g}`, ["rs-e18-unknown-g:6"])),
  wrong("G1.5 X1.", ["rs-e18-unknown-g:6"]),
  wrong("G59.4", ["rs-e18-unknown-g:6"]),
  wrong("G100", ["rs-e18-unknown-g:6"]),
  ...[10, 19, 31, 98, 99, 100].map((m) => wrong(`M${m}`, ["rs-e19-unknown-m:6"])),
  // words without a user
  wrong("D1", ["rs-e20-stray-d:6"]),
  wrong("G40 D1", ["rs-e20-stray-d:6"]),
  wrong("H1", ["rs-e21-stray-h:6"]),
  wrong("G1 X5. I1. F100.", ["rs-e22-stray-centre:6"]),
  wrong("K1.", ["rs-e22-stray-centre:6"]),
  wrong("L2", ["rs-e23-stray-l:6"]),
  wrong("P2.", ["rs-e24-stray-p:6"]),
  wrong("G64 P0.05", ["rs-e24-stray-p:6"]),
  wrong("G81 X1. Z-1. R2. P1. F100.", ["rs-e24-stray-p:6"]),
  wrong("Q2.", ["rs-e25-stray-q:6"]),
  wrong("G1 X5. R2. F100.", ["rs-e26-stray-r:6"]),
  // motion
  wrong("G0", ["rs-e27-no-axis-word:6"]),
  wrong("G1 F100.", ["rs-e27-no-axis-word:6"]),
  wrong("G2 I5.", ["rs-e27-no-axis-word:6", "rs-e30-no-feed:6", "rs-e33-arc-no-plane-word:6"]),
  wrong("G80 X1.", ["rs-e28-no-motion-mode:6"]),
  { text: about("G80", "X1."), says: ["rs-e28-no-motion-mode:7"] },
  { text: "G17 G21 G90 G94\nZ5.\nM2\n", says: ["rs-e28-no-motion-mode:2"] },
  wrong("G92 G1 X1. F100.", ["rs-e29-two-claims:6", "rs-unsafe-word:6"]),
  wrong("G28 G0 Z5.", ["rs-e29-two-claims:6", "rs-unsafe-word:6"]),
  wrong("G1 X1.", ["rs-e30-no-feed:6"]),
  wrong("G1 X1. F0.", ["rs-e30-no-feed:6"]),
  wrong("G2 X12. I1.", ["rs-e30-no-feed:6"]),
  wrong("G93 G1 X11.", ["rs-e31-no-inverse-time:6"]),
  { text: about("G93 G1 X11. F2.", "X12."), says: ["rs-e31-no-inverse-time:7"] },
  wrong("G93 G1 X11. F0.", ["rs-e31-no-inverse-time:6"]),
  { text: about("G93 G1 X11. F2.", "G94 G1 X12."), says: ["rs-e30-no-feed:7"] },
  wrong("G0 A90.", ["rs-e32-no-such-axis:6"]),
  wrong("G0 X1. C5.", ["rs-e32-no-such-axis:6"]),
  wrong("G0 A90. B1.", ["rs-e32-no-such-axis:6"], { controller: { ...FULL, axes: ["X", "Y", "Z", "A"] } }),
  // arcs
  wrong("G2 Z5. I5. F100.", ["rs-e33-arc-no-plane-word:6"]),
  wrong("G18 G2 Y5. I5. F100.", ["rs-e33-arc-no-plane-word:6"]),
  wrong("G2 X20. F100.", ["rs-e34-arc-no-centre:6"]),
  { text: about("G2 X20. I5. F100.", "X10."), says: ["rs-e34-arc-no-centre:7"] },
  wrong("G2 X20. R5. I5. F100.", ["rs-e35-arc-radius-and-centre:6"]),
  wrong("G2 X20. I5. K1. F100.", ["rs-e36-arc-wrong-centre-word:6"]),
  wrong("G18 G2 X20. I5. J1. F100.", ["rs-e36-arc-wrong-centre-word:6"]),
  wrong("G19 G2 Y20. J5. I1. F100.", ["rs-e36-arc-wrong-centre-word:6"]),
  wrong("G2 X20.0021 I5. F100.", ["rs-e37-arc-radius-mismatch:6"]),
  wrong("G3 X19.9979 I5. F100.", ["rs-e37-arc-radius-mismatch:6"]),
  wrong("G2 X20. I0. J0. F100.", ["rs-e38-arc-zero-radius:6"]),
  wrong("G2 X15. I5. F100.", ["rs-e38-arc-zero-radius:6"]),
  wrong("G2 X20. R4.9999 F100.", ["rs-e39-arc-radius-too-small:6"]),
  wrong("G2 X20. R0. F100.", ["rs-e39-arc-radius-too-small:6"]),
  wrong("G2 X10. R5. F100.", ["rs-e40-arc-radius-no-chord:6"]),
  // codes of one line
  wrong("G4", ["rs-e41-dwell:6"]),
  wrong("G4 X1.", ["rs-e41-dwell:6"]),
  wrong("G10 P1 X0", ["rs-e42-origin:6", "rs-unsafe-word:6"]),
  wrong("G10 L2 P10 X0", ["rs-e42-origin:6", "rs-unsafe-word:6"]),
  wrong("G10 L3 P1 X0", ["rs-e42-origin:6", "rs-unsafe-word:6"]),
  { text: about("G1 Z5. F100.", "G2 G53 X20. I5."), says: ["rs-e43-machine-coordinates:7"] },
  wrong("G91 G53 G0 Z0.", ["rs-e43-machine-coordinates:6"]),
  wrong("G53", ["rs-e43-machine-coordinates:6"]),
  wrong("G41 D1 G53 G0 Z0.", ["rs-e43-machine-coordinates:6", COMPENSATED]),
  wrong("G92", ["rs-e44-offset-no-axis:6", "rs-unsafe-word:6"]),
  // tool
  wrong("G43", ["rs-e45-length-offset:6"]),
  wrong("T9", ["rs-e46-slot:6"], { options: { highestSlot: 8 } }),
  wrong("G43 H9", ["rs-e46-slot:6"], { options: { highestSlot: 8 } }),
  wrong("G41 D9", ["rs-e46-slot:6", COMPENSATED], { options: { highestSlot: 8 } }),
  wrong("T0101", ["rs-e46-slot:6"], { options: { highestSlot: 8 } }),
  {
    text: about("G41 D1", "G42 D1", "G18", "G21", "G55", "G28", "G38.2 X1. F10.", "G40"),
    says: [
      COMPENSATED,
      "rs-e47-compensation:7",
      "rs-compensation-used:7",
      "rs-e47-compensation:8",
      "rs-e47-compensation:9",
      "rs-e47-compensation:10",
      "rs-e47-compensation:11",
      "rs-unsafe-word:11",
      "rs-e47-compensation:12",
      "rs-probe-used:12",
    ],
  },
  wrong("G18 G41 D1", ["rs-e47-compensation:6", COMPENSATED]),
  // cycles
  wrong("G99 G81 X1. Z-5. F100.", ["rs-e48-cycle-level:6"]),
  wrong("G99 G81 X1. R2. F100.", ["rs-e48-cycle-level:6"]),
  { text: about("G99 G81 X1. Z-5. R2. F100.", "G82 X2. P0.5", "G80"), says: ["rs-e48-cycle-level:7"] },
  wrong("G99 G81 X1. Z5. R2. F100.", ["rs-e49-cycle-upside-down:6"]),
  ...[82, 86, 89].map((g) => wrong(`G99 G${g} X1. Z-5. R2. F100.`, ["rs-e50-cycle-dwell:6"])),
  wrong("G99 G88 X1. Z-5. R2. F100.", ["rs-e50-cycle-dwell:6"]),
  wrong("G99 G83 X1. Z-5. R2. F100.", ["rs-e51-cycle-peck:6"]),
  wrong("G99 G83 X1. Z-5. R2. Q0. F100.", ["rs-e51-cycle-peck:6"]),
  wrong("G99 G83 X1. Z-5. R2. Q-1. F100.", ["rs-e51-cycle-peck:6"]),
  wrong("G99 G87 X1. Z-5. R2. I1. J0. F100.", ["rs-e52-cycle-offsets:6"]),
  wrong("G99 G81 X1. Z-5. R2. L0 F100.", ["rs-e53-cycle-repeats:6"]),
  wrong("M5 G99 G86 X1. Z-5. R2. P0. F100.", ["rs-e54-cycle-spindle:6"]),
  { text: about("M4", "G99 G84 X1. Z-5. R2. F100."), says: ["rs-e54-cycle-spindle:7"] },
  wrong("G99 G81 X1. Z-5. R2.", ["rs-e55-cycle-mode:6"]),
  wrong("G93 G99 G81 X1. Z-5. R2. F100.", ["rs-e55-cycle-mode:6"]),
  wrong("G41 D1 G99 G81 X1. Z-5. R2. F100.", ["rs-e55-cycle-mode:6", COMPENSATED]),
  wrong("G99 G81 X1. Z-5. R2. A90. F100.", ["rs-e55-cycle-mode:6"], {
    controller: { ...FULL, axes: ["X", "Y", "Z", "A"] },
  }),
  // parameters and expressions
  ...["#0=1", "#5400=1", "#1.5=1", "#1X5", "#1=[1/0]", "#1=SQRT[-1]", "#1=LN[0]", "#1=ACOS[2]", "#1=ASIN[-2]"].map(
    (l) => wrong(l, ["rs-e56-expression:6"]),
  ),
  ...["G0 X[1+2", "G0 X[1 PLUS 2]", "G0 XSIN 30", "G0 XATAN[1]", "G0 X[[0-8]**0.5]", "G0 X[5 MOD 0]"].map((l) =>
    wrong(l, ["rs-e56-expression:6"]),
  ),

  // not stated
  { text: "G21 G17 G94\nG0 Z5.\nM2\n", says: ["rs-l01-not-stated:2"], any: true },
  { text: "G21 G17 G90\nG0 Z5.\nG0 X0. Y0.\nS1 M3\nG1 Z0. F100.\nM5\nM2\n", says: ["rs-l01-not-stated:5"], any: true },
  {
    text: "G21 G90 G94\nG0 Z5.\nG0 X0. Y0.\nS1 M3\nG2 X1. I0.5 F9.\nM5\nM2\n",
    says: ["rs-l01-not-stated:5"],
    any: true,
  },
  { text: "G17 G90 G94\nG0 Z5.\nM2\n", says: ["rs-l01-unit-not-stated:2"], any: true },
  { text: "G17 G90 G94\nF100.\nG21\nM2\n", says: ["rs-l01-unit-not-stated:2"], any: true },
  { text: about("G80").replace("G54 ", ""), says: ["rs-l01-not-stated:3"] },
  { text: about("G80").replace("G61 ", ""), says: ["rs-l01-not-stated:3"] },
  { text: about("G80").replace("G40 ", ""), says: ["rs-l01-not-stated:3"] },
  {
    text: about("M5", "T2 M6", "G53 G0 Z0.", "G43 H2", "G0 X0. Y0."),
    says: ["rs-l01-not-stated:8"],
  },
  // habits
  { text: CUTS.replace("S18000 M3", "S18000"), says: ["rs-l02-spindle-stopped:6"] },
  { text: CUTS.replace("M3", "M5"), says: ["rs-l02-spindle-stopped:6"] },
  { text: CUTS.replace("S18000 M3", "M3"), says: ["rs-l02-spindle-stopped:6"] },
  wrong("G0 Z2.", ["rs-l03-rapid-low:6"], { options: { safeZ: 15 } }),
  wrong("G20", ["rs-l04-second-unit:6"]),
  wrong("G3 X10.0005 I5. F100.", ["rs-l05-arc-nearly-closed:6"]),
  wrong("G3 X10. I5. F100.", ["rs-l05-arc-nearly-closed:6"], { options: { wholeCircles: false } }),
  { text: about("M5").replace(/M5\nM5\n/, ""), says: ["rs-l06-left-running:6"] },
  wrong("M8", ["rs-l06-left-running:8"]),
  wrong("G0 X31.", ["rs-l07-outside:6"], {
    options: { box: { min: { x: 0, y: 0, z: -5 }, max: { x: 30, y: 30, z: 30 } } },
  }),
  wrong("G2 X20. I5. F100.", ["rs-l07-outside:6"], {
    options: { box: { min: { x: 0, y: 0, z: -5 }, max: { x: 30, y: 14, z: 30 } } },
  }),
  wrong("G0 X411.", ["rs-l07-outside:6"], { options: { machineTravel: { x: 400, y: 400, z: 80 } } }),
  {
    text: about("G80").replace("G0 Z20.", "G0 X0. Y0."),
    says: ["rs-l08-position-unknown:3", "rs-l08-position-unknown:4"],
  },
  { text: "G17 G21 G90 G94\nG0 Z9.\nS9 M3\nG1 X5. Y5. F9.\nM5\nM2\n", says: ["rs-l08-position-unknown:4"], any: true },
  { text: "G17 G21 G91 G94\nG0 Z9.\nM2\n", says: ["rs-l08-position-unknown:2"], any: true },
  { text: "G17 G21 G90 G94\nG0 Z9.\nS9 M3\nG2 X5. I5. F9.\nM5\nM2\n", says: ["rs-l08-position-unknown:4"], any: true },
  { text: about("M5", "M0", "G0 X0. Y0."), says: ["rs-l08-position-unknown:8"] },
  wrong("M0", ["rs-l09-bit-standing:6"]),
  { text: about("T2 M6", "G61"), says: ["rs-l09-bit-standing:6"] },
  wrong("M1", ["rs-l09-bit-standing:6"], { any: true, controller: FULL }),
  { text: about("G1 Z-1. F100.", "G4 P5."), says: ["rs-l09-bit-dwelling:7"] },
  { text: about("G80").replace("G43 H1\n", "\n"), says: ["rs-l10-length-unstated:3"] },
  { text: about("G80").replace("G43 H1\n", "G49\n"), says: ["rs-l10-length-unstated:3"] },
  { text: about("M5", "T2 M6", "G61", "G0 Z30."), says: ["rs-l10-length-unstated:9"] },
  {
    text: about("G92 X0."),
    says: ["rs-unsafe-word:6", "rs-l11-left-over-offset:8"],
  },
  wrong("G92.3", ["rs-unsafe-word:6", "rs-l11-left-over-offset:6"]),
  wrong("G0 X20. Z30.", ["rs-l12-rapid-slanting:6"]),
  { text: about("G1 Z2. F600.", "G0 X20."), says: ["rs-l12-rapid-slanting:7"], options: { safeZ: 15 } },
  wrong("G53 G0 X0. Z0.", ["rs-l12-rapid-slanting:6"]),
  // the machine
  wrong("G2 X20. I5. F100.", ["rs-no-arcs:6"], { controller: { ...FULL, arcs: false } }),
  { text: about("M5", "T2 M6", "G61"), says: ["rs-no-tool-changer:7"], controller: { ...FULL, toolChanger: false } },
  { text: about("G80"), says: ["rs-no-tool-table:2"], controller: { ...FULL, toolTable: false } },
  wrong("G53 G0 Z0.", ["rs-not-homed:6"], { controller: { ...FULL, homes: false } }),
  wrong("G28", ["rs-not-homed:6", "rs-unsafe-word:6", "rs-l12-rapid-slanting:6"], {
    controller: { ...FULL, homes: false },
  }),
  { text: about("G80"), says: ["rs-no-exact-path:1"], controller: { ...FULL, exactPath: false } },
  // ways of writing
  wrong("G0 X 1.", ["rs-space-in-word:6"]),
  wrong("G0 X1 0.", ["rs-space-in-word:6"]),
  wrong("N1 0 G0 X1.", ["rs-space-in-word:6"]),
  wrong(`(${"x".repeat(119)})`, ["rs-line-long:6"]),
  wrong("G0 X[1+1]", ["rs-expression-used:6"]),
  wrong("G28", ["rs-unsafe-word:6", "rs-l12-rapid-slanting:6"], { any: true, controller: FULL }),
  wrong("#5221=5", ["rs-unsafe-word:6"], { any: true, controller: FULL }),
  wrong("/G0 X1.", ["rs-block-delete:6"]),
  { text: about("G55", "G0 Z20."), says: ["rs-system-changed:6"] },
  wrong("G41 D1", [COMPENSATED]),
  wrong("G38.2 Z0. F50.", ["rs-probe-used:6"]),
  wrong("G99 G84 X1. Z-5. R2. F100.", ["rs-cycle-not-for-wood:6"]),
  { text: about(CYCLE_START, "G99 G87 X1. Z-5. R2. I1. J0. K-2."), says: ["rs-cycle-not-for-wood:7"] },
  wrong("G99 G88 X1. Z-5. R2. P1. F100.", ["rs-cycle-not-for-wood:6"]),
  wrong("G0 X#3", ["rs-parameter-unknown:6"], { any: true, controller: FULL }),
  { text: about("M5", "M6", "G61"), says: ["rs-change-without-tool:7"] },
  wrong("G99 G83 X1. Z-5. R2. Q0.0001 F100.", ["rs-too-many-moves:6"]),
  wrong("G91 G99 G81 X1. Z-5. R-2. L99999999 F100.", ["rs-too-many-moves:6"]),
];

describe("wrong programs", () => {
  it.each(CASES.map((c) => [c.says.join(" "), JSON.stringify(c.text).slice(0, 150), c] as const))(
    "%s %s",
    (_, __, c) => {
      const read = c.any
        ? readAny(c.text, c.options, c.controller ?? PLAIN)
        : readOurs(c.text, c.options, c.controller);
      expect([...told(read)].sort()).toEqual([...c.says].sort());
      const broken = read.findings.some((f) => RULES[f.code as ReaderCode].breaks);
      expect(read.events[read.events.length - 1]?.kind === "end").toBe(!broken);
      for (const f of read.findings) {
        expect(f.grade).toBe(RULES[f.code as ReaderCode][c.any ? "any" : "ours"]);
        expect(f.place.program?.text).toBe(
          c.text.split(/\r?\n/)[(f.place.program?.line ?? 1) - 1]?.slice(0, 200) ?? "",
        );
      }
    },
  );

  it("every code of the reader has a case", () => {
    const shown = new Set(CASES.flatMap((c) => c.says.map((s) => s.slice(0, s.lastIndexOf(":")))));
    for (const c of WRONG_TURNING) for (const s of c.says) shown.add(s.slice(0, s.lastIndexOf(":")));
    for (const c of WRONG_BURNING) for (const s of c.says) shown.add(s.slice(0, s.lastIndexOf(":")));
    shown.add("rs-more-findings"); // in hostile.test.ts
    expect(READER_CODES.filter((code) => !shown.has(code))).toEqual([]);
  });

  it("the language's fifty-six rules are all there, and no other", () => {
    const numbers = READER_CODES.map((c) => /^rs-e(\d\d)-/.exec(c)?.[1]).filter((n) => n !== undefined);
    expect(numbers).toEqual(Array.from({ length: 56 }, (_, k) => String(k + 1).padStart(2, "0")));
    const lints = new Set(READER_CODES.map((c) => /^rs-l(\d\d)-/.exec(c)?.[1]).filter((n) => n !== undefined));
    expect([...lints]).toEqual(Array.from({ length: 12 }, (_, k) => String(k + 1).padStart(2, "0")));
  });

  it("every code is among the project's, and no broken rule of the language may be overridden", () => {
    for (const code of READER_CODES) {
      expect(FINDING_CODES[code]).toBeDefined();
      if (/^rs-e\d/.test(code)) expect(FINDING_CODES[code].override).toBe(false);
    }
    const ours = Object.keys(FINDING_CODES).filter((c) => c.startsWith("rs-"));
    expect(ours.sort()).toEqual([...READER_CODES].sort());
  });

  it("the programs they are made from have nothing wrong", () => {
    expect(told(readOurs(about("G80")))).toEqual([]);
    expect(told(readOurs(CUTS))).toEqual([]);
    expect(told(readOurs(about(CYCLE_START, "G99 G81 X1. Z-5. R2.", "G80")))).toEqual([]);
  });
});
