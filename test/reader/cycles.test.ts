import { describe, expect, it } from "vitest";
import { readAny, told } from "./controllers.ts";

/** Moves and waits of drilling lines, as text; the machine stands at X0 Y0 and the given height. */
function drilled(lines: string, height = 20, plane = "G17"): readonly string[] {
  const text = `${plane} G21 G40 G54 G61 G80 G90 G94 F200.\nG0 Z${height}\nG0 X0 Y0\nS9 M3\n${lines}\nG80\nM5\nM2\n`;
  const read = readAny(text);
  expect(told(read).filter((c) => !/^rs-l(04|09|12)/.test(c))).toEqual([]);
  const first = text.slice(0, text.indexOf(lines)).split("\n").length;
  const last = first + lines.split("\n").length;
  return read.events
    .filter((e) => e.line >= first && e.line < last)
    .map((e) => {
      if (e.kind === "move") return `${e.rapid ? "rapid" : "feed"} ${round(e.to.x)} ${round(e.to.y)} ${round(e.to.z)}`;
      if (e.kind === "dwell") return `wait ${e.seconds}`;
      if (e.kind === "spindle") return `spindle ${e.spindle.turning}`;
      return e.kind;
    });
}

function round(v: number | undefined): string {
  return v === undefined ? "?" : String(Number(v.toFixed(6)));
}

describe("drilling cycles are the moves they consist of", () => {
  it("G81 back to R, and on with X and Y alone", () => {
    expect(drilled("G99 G81 X5. Y6. Z-4. R2.\nX7.")).toEqual([
      "rapid 5 6 20",
      "rapid 5 6 2",
      "feed 5 6 -4",
      "rapid 5 6 2",
      "rapid 7 6 2",
      "feed 7 6 -4",
      "rapid 7 6 2",
    ]);
  });

  it("G98 goes back to where the cycle began, when that is higher than R", () => {
    expect(drilled("G98 G81 X5. Z-4. R2.\nX7.")).toEqual([
      "rapid 5 0 20",
      "rapid 5 0 2",
      "feed 5 0 -4",
      "rapid 5 0 20",
      "rapid 7 0 20",
      "rapid 7 0 2",
      "feed 7 0 -4",
      "rapid 7 0 20",
    ]);
  });

  it("from below R it first goes straight up, and clears to R", () => {
    expect(drilled("G98 G81 X5. Z-4. R2.", 1)).toEqual(["rapid 0 0 2", "rapid 5 0 2", "feed 5 0 -4", "rapid 5 0 2"]);
  });

  it("G82 waits, G85 and G89 come up at feed, G86 stops the spindle to come up", () => {
    expect(drilled("G99 G82 X5. Z-4. R2. P1.5").slice(2)).toEqual(["feed 5 0 -4", "wait 1.5", "rapid 5 0 2"]);
    expect(drilled("G99 G85 X5. Z-4. R2.").slice(2)).toEqual(["feed 5 0 -4", "feed 5 0 2"]);
    expect(drilled("G99 G89 X5. Z-4. R2. P1.").slice(2)).toEqual(["feed 5 0 -4", "wait 1", "feed 5 0 2"]);
    expect(drilled("G99 G86 X5. Z-4. R2. P0.").slice(2)).toEqual([
      "feed 5 0 -4",
      "wait 0",
      "spindle off",
      "rapid 5 0 2",
      "spindle clockwise",
    ]);
  });

  it("G83 goes down by bites, out each time, and back to a bit above the last depth", () => {
    expect(drilled("G99 G83 X5. Z-4. R2. Q2.5").slice(2)).toEqual([
      "feed 5 0 -0.5",
      "rapid 5 0 2",
      "rapid 5 0 -0.246",
      "feed 5 0 -3",
      "rapid 5 0 2",
      "rapid 5 0 -2.746",
      "feed 5 0 -4",
      "rapid 5 0 2",
    ]);
    expect(drilled("G99 G83 X5. Z-4. R2. Q6.").slice(2)).toEqual(["feed 5 0 -4", "rapid 5 0 2"]);
  });

  it("G91: X, Y and R step from here, Z from R, and L repeats the step", () => {
    expect(drilled("G91 G99 G81 X5. Y1. Z-6. R-18. L3")).toEqual([
      "rapid 5 1 20",
      "rapid 5 1 2",
      "feed 5 1 -4",
      "rapid 5 1 2",
      "rapid 10 2 2",
      "feed 10 2 -4",
      "rapid 10 2 2",
      "rapid 15 3 2",
      "feed 15 3 -4",
      "rapid 15 3 2",
    ]);
  });

  it("in G90, L drills the same hole again", () => {
    expect(drilled("G99 G81 X5. Z-4. R2. L2").slice(2)).toEqual([
      "feed 5 0 -4",
      "rapid 5 0 2",
      "feed 5 0 -4",
      "rapid 5 0 2",
    ]);
  });

  it("in the other planes the depth is along Y or X", () => {
    expect(drilled("G99 G81 X5. Z20. Y-4. R2.", 20, "G18")).toEqual([
      "rapid 0 2 20",
      "rapid 5 2 20",
      "feed 5 -4 20",
      "rapid 5 2 20",
    ]);
    expect(drilled("G99 G81 Y5. X-4. R2.", 20, "G19")).toEqual([
      "rapid 2 0 20",
      "rapid 2 5 20",
      "feed -4 5 20",
      "rapid 2 5 20",
    ]);
  });

  it("levels in inches are inches", () => {
    expect(drilled("G20 G99 G83 X1. Z-0.5 R0.5 Q0.75 F10.")).toEqual([
      "rapid 25.4 0 20",
      "rapid 25.4 0 12.7",
      "feed 25.4 0 -6.35",
      "rapid 25.4 0 12.7",
      "rapid 25.4 0 -6.096",
      "feed 25.4 0 -12.7",
      "rapid 25.4 0 12.7",
    ]);
  });

  it("another motion forgets the cycle's numbers", () => {
    const text = "G17 G21 G90 G94 G99 F9.\nG0 Z9.\nG0 X0. Y0.\nS9 M3\nG81 X1. Z-1. R1.\nG0 X2.\nG81 X3.\nM5\nM2\n";
    expect(told(readAny(text))).toEqual(["rs-e48-cycle-level:7"]);
  });
});
