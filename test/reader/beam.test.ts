import { describe, expect, it } from "vitest";
import type { ReaderCode } from "../../src/reader/rule.ts";
import { BEAM_RULES } from "../../src/reader/rules.ts";
import { burning, CONSTANT, FOLLOWS, readBurning, WRONG_BURNING } from "./beam-programs.ts";
import { FULL, movesIn, told } from "./controllers.ts";

describe("programs for a beam", () => {
  it.each(WRONG_BURNING.map((c, i) => [i, c.says.join(" "), c] as const))("wrong %i: %s", (_, __, c) => {
    const read = readBurning(c.text, c.beam, c.options, c.controller);
    expect([...told(read)].sort()).toEqual([...c.says].sort());
    for (const f of read.findings) expect(f.grade).toBe(BEAM_RULES[f.code as ReaderCode].ours);
  });

  it("moves carry what the beam is commanded to do", () => {
    const read = readBurning(burning("G1 X20. F600. S500", "G1 X30. S1000", "G1 X31. S0", "M5", "G1 X32."));
    expect(told(read)).toEqual([]);
    expect(movesIn(read).map((m) => m.beam)).toEqual([
      ...[1, 2, 3].map(() => ({ on: false, power: 0 })),
      { on: true, power: 0.5 },
      { on: true, power: 1 },
      ...[1, 2, 3].map(() => ({ on: false, power: 0 })),
    ]);
  });

  it("a beam that follows the speed may be set before its move: it is off while the carriage stands", () => {
    const text = burning("M4 S100", "G1 X20. F600.", "G1 X30. S0")
      .replace("M3 S0", "M4 S0")
      .replace("S1000", "S255")
      .replace("is constant", "follows the speed");
    expect(told(readBurning(text, FOLLOWS))).toEqual([]);
    expect(movesIn(readBurning(text, FOLLOWS))[3]?.beam).toEqual({ on: true, power: 100 / 255 });
  });

  it("on a machine with a table of lengths, G49 says that none is meant", () => {
    const text = burning("G1 X20. F600. S500", "G1 X30. S0").replace("G17 ", "G49 G17 ");
    expect(told(readBurning(text, CONSTANT, {}, FULL))).toEqual([]);
    const slot = burning("G1 X20. F600. S500", "G1 X30. S0").replace("G0 Z20.", "G43 H9\nG0 Z20.");
    expect(told(readBurning(slot, { ...CONSTANT, slot: 9 }, {}, FULL))).toEqual([]);
    expect(told(readBurning(slot, { ...CONSTANT, slot: 8 }, {}, FULL))).toContain("rs-beam-length:5");
  });

  it("on the round, Z may follow the wood along a burned line", () => {
    expect(told(readBurning(burning("G1 X20. Z-0.5 F600. S500", "G1 X30. S0")))).toEqual([]);
  });

  it("without the option S stays a spindle's speed", () => {
    const move = readBurning(burning("G1 X20. F600. S500"), CONSTANT, {});
    expect(move.events.find((e) => e.kind === "move")?.spindle.rpm).toBe(0);
    expect(move.events.every((e) => e.kind !== "move" || e.beam !== undefined)).toBe(true);
  });
});
