import { describe, expect, it } from "vitest";
import type { ReadEvent } from "../../src/reader/read-move.ts";
import { about, FULL, movesIn, PLAIN, readAny, readOurs, told } from "./controllers.ts";

const START = "G17 G21 G40 G54 G61 G80 G90 G94\n";

function summary(events: readonly ReadEvent[]): readonly string[] {
  return events.map(asText);
}

function asText(e: ReadEvent): string {
  switch (e.kind) {
    case "move": {
      const at = (p: typeof e.to) => [p.x, p.y, p.z].map((v) => (v === undefined ? "?" : String(v))).join(" ");
      return `${e.line} ${e.rapid ? "rapid" : `feed ${e.feed}`} to ${at(e.to)}${e.machine ? " machine" : ""} ${e.spindle.turning} ${e.spindle.rpm}`;
    }
    case "dwell":
      return `${e.line} dwell ${e.seconds}`;
    case "stop":
      return `${e.line} ${e.optional ? "optional " : ""}stop`;
    case "tool change":
      return `${e.line} tool ${e.slot}`;
    case "spindle":
      return `${e.line} spindle ${e.spindle.turning} ${e.spindle.rpm}`;
    case "length offset":
      return `${e.line} length ${e.slot}`;
    case "comment":
      return `${e.line} ${e.message ? "message" : "comment"}:${e.text}`;
    case "line number":
      return `${e.line} N${e.n}`;
    case "end":
      return `${e.line} end`;
  }
}

describe("a right program is read to its very moves", () => {
  it("from an unknown place to the end", () => {
    const text = [
      "%",
      "(runner groove)",
      "N10 G17 G21 G40 G54 G61 G80 G90 G94",
      "G53 G0 Z0.",
      "T2 M6",
      "G61",
      "G53 G0 Z0.",
      "G43 H2",
      "G0 X-5. Y+4.5",
      "G0 Z12.",
      "S16000 M3",
      "G4 P2.5",
      "G1 Z-1.25 F450.",
      "X60. F1200.",
      "G3 X60. Y14.5 I0. J5.",
      "G0 Z12.",
      "M5",
      "(MSG, measure the groove)",
      "M0",
      "M2",
      "%",
      "anything at all",
    ].join("\r\n");
    const read = readOurs(text, { safeZ: 12 });
    expect(told(read)).toEqual([]);
    expect(read.unit).toBe("mm");
    expect(read.lineCount).toBe(22);
    expect(summary(read.events)).toEqual([
      "2 comment:runner groove",
      "3 N10",
      "4 rapid to ? ? ? machine off 0",
      "5 tool 2",
      "7 rapid to ? ? ? machine off 0",
      "8 length 2",
      "9 rapid to -5 4.5 ? off 0",
      "10 rapid to -5 4.5 12 off 0",
      "11 spindle clockwise 16000",
      "12 dwell 2.5",
      "13 feed 450 to -5 4.5 -1.25 clockwise 16000",
      "14 feed 1200 to 60 4.5 -1.25 clockwise 16000",
      "15 feed 1200 to 60 14.5 -1.25 clockwise 16000",
      "16 rapid to 60 14.5 12 clockwise 16000",
      "17 spindle off 16000",
      "18 message: measure the groove",
      "19 stop",
      "20 end",
    ]);
    const moves = movesIn(read);
    expect(moves[0]?.machineTarget).toEqual({ x: undefined, y: undefined, z: 0 });
    expect(moves[6]?.path).toEqual({ kind: "arc", plane: "XY", centre: { x: 60, y: 9.5 }, ccw: true });
    expect(moves.map((m) => m.tool)).toEqual([undefined, 2, 2, 2, 2, 2, 2, 2]);
    expect(moves.every((m) => m.exactPath)).toBe(true);
    for (const [a, b] of moves.slice(2).map((m, k) => [moves[k + 1]!, m] as const)) {
      if (a.line !== 7) expect(b.from).toBe(a.to);
    }
  });

  it("does what stands on one line in the order of table 8, not of the words", () => {
    const text = `${START}T1\nG0 Z30.\nM2 M3 M6 T3 X1. G0 S900 (at first) G4 P1. G21\n`;
    const read = readAny(text);
    expect(told(read)).toEqual(["rs-l06-left-running:4"]);
    expect(summary(read.events.filter((e) => e.line === 4))).toEqual([
      "4 comment:at first",
      "4 tool 3",
      "4 spindle clockwise 900",
      "4 dwell 1",
      "4 rapid to 1 ? 30 clockwise 900",
      "4 end",
    ]);
  });

  it("takes a change of unit, distance mode or spindle for the motion on its own line", () => {
    const text = `${START}G0 Z30.\nG0 X10. Y0.\nS9 M3\nG91 G1 X1. F100.\nM5 G90 X20.\nG20 X1.\nM2\n`;
    const moves = movesIn(readAny(text));
    expect(moves.map((m) => m.to.x)).toEqual([undefined, 10, 11, 20, 25.4]);
    expect(moves[3]?.spindle.turning).toBe("off");
    expect(moves[4]?.feed).toBeCloseTo(2540, 9);
  });

  it("lets a motion code stay in force, and group 0 suspend it", () => {
    const text = `${START}G0 Z5.\nX1. Y1.\nG92 X0. Y0.\nX2.\nG92.1\nM2\n`;
    const read = readAny(text);
    expect(read.events.filter((e) => e.kind === "move").map((m) => [m.line, m.from.x, m.to.x])).toEqual([
      [2, undefined, undefined],
      [3, undefined, 1],
      [5, 0, 2],
    ]);
    expect(told(read)).toEqual(["rs-unsafe-word:4", "rs-unsafe-word:6"]);
  });

  it("computes feeds under G93 from the length of each move", () => {
    const text = `${START}G0 Z5.\nG0 X0. Y0.\nS9 M3\nG93 G1 X30. Y40. F2.\nG3 X30. Y40. I5. F4.\nG94 G1 X0. F300.\nM5\nM2\n`;
    const moves = movesIn(readAny(text));
    expect(moves[2]?.feed).toBeCloseTo(100, 9);
    expect(moves[3]?.feed).toBeCloseTo(2 * Math.PI * 5 * 4, 9);
    expect(moves[4]?.feed).toBe(300);
  });

  it("keeps a message's text and tells it from a comment, and takes the last of several", () => {
    const read = readAny("(one)\n( m s G , Clamp clear? )\n(two)(three)G21\n(message, no)\nM2\n");
    expect(read.events.filter((e) => e.kind === "comment").map((e) => [e.line, e.message, e.text])).toEqual([
      [1, false, "one"],
      [2, true, " Clamp clear? "],
      [3, false, "three"],
      [4, false, "message, no"],
    ]);
  });

  it("reads every line ending, and nothing after the end", () => {
    for (const end of ["\n", "\r", "\r\n"]) {
      const read = readAny(["G21", "", "M2", "X(((", "$"].join(end));
      expect(told(read)).toEqual([]);
      expect(read.lineCount).toBe(5);
      expect(read.events).toEqual([{ kind: "end", line: 3 }]);
    }
    expect(told(readAny("M30"))).toEqual([]);
    expect(readAny("M30").lineCount).toBe(1);
  });

  it("ends at a percent line too", () => {
    const read = readAny("\n%\nG21\n % \nX(((");
    expect(told(read)).toEqual([]);
    expect(read.events).toEqual([{ kind: "end", line: 4 }]);
  });

  it("skips slashed lines when the switch is on, but checks them", () => {
    const text = `${START}/G0 Z5.\n/G1\nM2\n`;
    const off = readAny(text);
    expect(told(off)).toContain("rs-e27-no-axis-word:3");
    const on = readAny(text, { blockDelete: true });
    expect(on.events.filter((e) => e.kind === "move")).toEqual([]);
    expect(told(on)).toContain("rs-e27-no-axis-word:3");
  });

  it("goes on after a mistake, with events up to it and no echo of it", () => {
    const text = about("G1 X20. F100. D5", "G1 X30.", "G2 X40. I5.1", "G1 Y2. Q1.");
    const read = readOurs(text);
    expect(told(read)).toEqual(["rs-e20-stray-d:6", "rs-e37-arc-radius-mismatch:8", "rs-e25-stray-q:9"]);
    expect(Math.max(...read.events.map((e) => e.line))).toBe(5);
  });

  it("keeps events whole when only a habit is broken", () => {
    const read = readOurs(about("G0 X20. Z30.", "G0 X5."));
    expect(told(read)).toEqual(["rs-l12-rapid-slanting:6"]);
    expect(read.events[read.events.length - 1]).toEqual({ kind: "end", line: 9 });
  });

  it("forgets the position at a stop in our programs, and keeps it in others", () => {
    const text = about("M5", "M0", "G0 Z25.");
    const ours = readOurs(text).events.filter((e) => e.kind === "move");
    expect(ours[ours.length - 1]?.from).toEqual({ x: undefined, y: undefined, z: undefined });
    const any = readAny(text, {}, FULL).events.filter((e) => e.kind === "move");
    expect(any[any.length - 1]?.from).toEqual({ x: 10, y: 10, z: 20 });
  });

  it("takes a length offset as a new meaning of Z", () => {
    const moves = movesIn(readAny(`${START}G0 Z5.\nG43 H1\nG0 X1. Y1.\nG0 Z6.\nG43 H1\nG0 X2.\nM2\n`, {}, FULL));
    expect(moves.map((m) => m.to.z)).toEqual([5, undefined, 6, 6]);
  });

  it("carries turns of an A axis", () => {
    const moves = movesIn(
      readAny(
        `${START}G0 Z5.\nG0 A90.\nG91 G0 A-30. X1.\nM2\n`.replace(" X1.", ""),
        {},
        { ...PLAIN, axes: ["X", "Y", "Z", "A"] },
      ),
    );
    expect(moves.map((m) => m.turn)).toEqual([undefined, { from: undefined, to: 90 }, { from: 90, to: 60 }]);
  });

  it("lets a slow approach be made with the spindle off, above the wood only", () => {
    const stock = { min: { x: 0, y: 0, z: -10 }, max: { x: 100, y: 100, z: 0 } };
    const down = (z: string) => about("M5", "G1 Z10. F300.", `G1 Z${z}`);
    expect(told(readOurs(down("5."), { stock }))).toEqual([]);
    expect(told(readOurs(down("-0.5"), { stock }))).toEqual(["rs-l02-spindle-stopped:8"]);
    expect(told(readOurs(down("5.")))).toEqual(["rs-l02-spindle-stopped:7", "rs-l02-spindle-stopped:8"]);
  });

  it("takes a dial's word for the speed", () => {
    const text = about("G1 Z-1. F600.").replace("S18000 M3", "M3");
    expect(told(readOurs(text, { speedByDial: true }))).toEqual([]);
  });
});
