import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pointOnMove } from "../../src/reader/motion.ts";
import type { LatheReading } from "../../src/reader/options.ts";
import { readProgram } from "../../src/reader/read.ts";
import { movesIn, PLAIN, told } from "./controllers.ts";
import { LATHE, REAR, readTurning, THERE, turning, WRONG_TURNING } from "./lathe-programs.ts";

describe("wrong turning programs", () => {
  it.each(WRONG_TURNING.map((c) => [c.says.join(" "), c] as const))("%s", (_, c) => {
    expect([...told(readTurning(c.text, c.lathe, c.options))].sort()).toEqual([...c.says].sort());
  });

  it("a lathe's findings speak of wood that turns, a router's of a bit", () => {
    const stopped = turning(...THERE, "G1 X15. F300.").replace("S1200 M3", "S1200");
    expect(readTurning(stopped).findings[0]!.what).toContain("wood stands still");
    expect(
      readProgram(stopped, "a", PLAIN)
        .findings.map((f) => f.what)
        .join(),
    ).not.toContain("wood stands still");
  });

  it("a controller that has no Y says so even where the reader is not told of a lathe", () => {
    expect(told(readProgram(turning("G0 Y1."), "a", LATHE))).toContain("rs-e32-no-such-axis:6");
  });
});

describe("right turning programs", () => {
  it("are read without a word", () => {
    const cut = ["G1 X15. F300.", "G3 X12. Z-13. I-3. K0.", "G1 Z-20.", "G0 X22.", "G0 Z-10.", "G0 X17."];
    expect(told(readTurning(turning(...THERE, ...cut)))).toEqual([]);
    const homed = turning("G53 G0 X0.", "G0 Z-10.", "G0 X17.", "G1 X15. F300.");
    expect(told(readTurning(homed))).toEqual([]);
  });

  it("with a table of tools, a length offset makes X and Z unknown, and home keeps the tool clear", () => {
    const text = turning("G53 G0 X0.", "G43 H1", "G0 Z-10.", "G0 X17.").replace("G0 X25.\nG0 Z5.\n", "");
    const ending = text.replace("G0 X25.\nM5", "G53 G0 X0.\nM5");
    expect(told(readProgram(ending, "a", { ...LATHE, toolTable: true }, { lathe: REAR }))).toEqual([]);
    const unsafe = turning("G53 G0 X0.", "G0 Z-10.", "G1 X17. F300.", "G43 H1", "G0 Z-12.").replace(/G0 X25.\n/g, "");
    const late = readProgram(unsafe, "a", { ...LATHE, toolTable: true }, { lathe: REAR });
    expect(told(late)).toContain("rs-l08-position-unknown:9");
  });
});

/** The same motion in each convention: side of the tool and meaning of X. */
const CONVENTIONS: readonly LatheReading[] = [
  { ...REAR, xWords: "radius", side: 1 },
  { ...REAR, xWords: "diameter", side: 1 },
  { ...REAR, xWords: "radius", side: -1 },
  { ...REAR, xWords: "diameter", side: -1 },
];

/** Writes a place or a centre as the convention says; arcs turn the other way on the other side. */
function wordsFor(c: LatheReading) {
  const scale = c.side * (c.xWords === "diameter" ? 2 : 1);
  const n = (v: number): string => v.toFixed(4);
  return {
    to: (r: number, z: number) => `X${n(scale * r)} Z${n(z)}`,
    x: (r: number) => `X${n(scale * r)}`,
    centre: (r: number, z: number) => `I${n(c.side * r)} K${n(z)}`,
    arc: (convex: boolean) => (convex === (c.side === 1) ? "G3" : "G2"),
  };
}

describe("both conventions of X, and both sides of the axis", () => {
  it.each(CONVENTIONS)("a convex nose from the tip outwards is G3 at positive X: %o", (c) => {
    const w = wordsFor(c);
    const text = [
      "G18 G21 G40 G54 G61 G90 G94",
      `G0 ${w.x(25)}`,
      "G0 Z0.",
      "S900 M3",
      `G0 ${w.x(17)}`,
      `G1 ${w.x(0)} F200.`,
      `${w.arc(true)} ${w.to(8, -8)} ${w.centre(0, -8)}`,
      `${w.arc(false)} ${w.to(12, -12)} ${w.centre(4, 0)}`,
      `G0 ${w.x(25)}`,
      "M5",
      "M2",
    ].join("\n");
    const moves = movesIn(readTurning(text, c));
    // The nose bulges beyond its chord, away from the centre on the axis; the cove hollows below it.
    const nose = pointOnMove(moves[4]!, 0.5)!;
    expect(c.side * nose.x).toBeCloseTo(8 * Math.SQRT1_2, 6);
    expect(nose.z).toBeCloseTo(-8 + 8 * Math.SQRT1_2, 6);
    const cove = pointOnMove(moves[5]!, 0.5)!;
    expect(c.side * cove.x).toBeCloseTo(12 - 4 * Math.SQRT1_2, 6);
    expect(cove.z).toBeCloseTo(-8 - 4 * Math.SQRT1_2, 6);
  });

  it("random paths read alike in all four", () => {
    const um = (least: number, most: number) =>
      fc.integer({ min: least * 1000, max: most * 1000 }).map((v) => v / 1000);
    fc.assert(
      fc.property(fc.array(fc.tuple(um(1, 15), um(-80, 0)), { minLength: 1, maxLength: 8 }), (points) => {
        const [first, ...rest] = CONVENTIONS.map((c) => {
          const w = wordsFor(c);
          const lines = points.map(([r, z]) => `G1 ${w.to(r, z)} F300.`);
          const head = ["G18 G21 G40 G54 G61 G90 G94", `G0 ${w.x(25)}`, "G0 Z1.", `G0 ${w.x(24)}`, "S900 M3", "G4 P1."];
          const text = [...head, ...lines, `G0 ${w.x(25)}`, "M5", "M2"].join("\n");
          return movesIn(readTurning(text, c)).map((m) => [c.side * (m.to.x ?? 0), m.to.z]);
        });
        for (const other of rest) expect(other).toEqual(first);
        expect(first!.slice(3, -1)).toEqual(points.map(([r, z]) => [r, z]));
      }),
      { numRuns: 60 },
    );
  });

  it("inches and diameters together", () => {
    const c: LatheReading = { ...REAR, xWords: "diameter" };
    const text = [
      "G18 G20 G40 G54 G61 G90 G94",
      "G0 X2.",
      "G0 Z-1.",
      "S900 M3",
      "G0 X1.",
      "G1 X0.5 F10.",
      "G0 X2.",
      "M5",
      "M2",
    ].join("\n");
    const moves = movesIn(readTurning(text, c));
    expect(moves[3]!.to.x).toBeCloseTo(0.25 * 25.4, 9);
    expect(moves[3]!.feed).toBeCloseTo(254, 9);
  });
});
