import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ReadProgram } from "../../src/reader/read-move.ts";
import { FULL, lineOf, readAny, readOurs } from "./controllers.ts";

const START = "G17 G21 G40 G54 G61 G80 G90 G94 F500.\nG43 H1\nG0 Z5.\nG0 X0. Y0.\nS900 M3\n";

/** Words of one line: at most one of each letter, one G and one M of a group; most such lines are wrong somehow. */
const anyWords = fc
  .tuple(
    fc.subarray([
      "X1.5",
      "Y-2.25",
      "Z3.",
      "I0.5",
      "J-1.",
      "K2.",
      "R2.",
      "F300.",
      "S1200",
      "T2",
      "H1",
      "D1",
      "L2",
      "P0.5",
      "Q1.",
    ]),
    fc.constantFrom("", "G0", "G1", "G2", "G3", "G80", "G81", "G82", "G83", "G85", "G38.2"),
    fc.subarray(["G17", "G18", "G91", "G90", "G93", "G43", "G49", "G55", "G64", "G98", "G20", "G41"], { maxLength: 2 }),
    fc.constantFrom("", "", "G4", "G53", "G92", "G28"),
    fc.subarray(["M3", "M8", "M6", "M0", "M48"], { maxLength: 2 }),
  )
  .map(([words, motion, modes, own, ms]) => {
    const groups = modes.filter((g, k) => k === 0 || groupOf(g) !== groupOf(modes[0]!));
    return [...words, motion, ...groups, own, ...ms].filter((w) => w !== "");
  });

/** Lines that are right, or right but for a word that was dropped. */
const rightWords = fc
  .tuple(
    fc.constantFrom(
      ["G90", "G1", "X1.5", "Y2.", "F300.", "S1200", "M4"],
      ["G91", "G3", "X4.", "I2.", "F200."],
      ["G91", "G18", "G2", "X4.", "I2.", "Y1.", "G61"],
      ["G17", "G90", "G99", "G81", "X1.5", "Z-3.", "R1.", "L2", "F90."],
      ["G90", "G0", "Z9.", "G4", "P1.", "M8"],
      ["T2", "M6", "G43", "H2", "M3", "S700"],
      ["G94", "G1", "X9.", "F250.", "M9"],
      ["G20", "G90", "G1", "Y0.5", "F10.", "M0"],
    ),
    fc.nat(30),
  )
  .map(([words, drop]) => words.filter((_, k) => k !== drop));

const wordsOfALine = fc.oneof({ weight: 1, arbitrary: anyWords }, { weight: 3, arbitrary: rightWords });

function groupOf(g: string): string {
  return ["G17 G18", "G90 G91", "G43 G49"].find((pair) => pair.split(" ").includes(g)) ?? g;
}

/** All that a reading says, but for the exact text of lines. */
function essence(read: ReadProgram): unknown {
  const findings = read.findings.map((f) => `${f.code}:${lineOf(f)}`).sort();
  return { events: read.events, findings, unit: read.unit };
}

const program = (lines: readonly string[]) => `${START}${lines.join("\n")}\nM5\nM2\n`;

describe("a reading doesn't depend on how the text is laid out", () => {
  it("order of words", () => {
    let whole = 0;
    fc.assert(
      fc.property(
        fc.array(
          wordsOfALine.chain((w) => fc.tuple(fc.constant(w), fc.shuffledSubarray(w, { minLength: w.length }))),
          { minLength: 1, maxLength: 4 },
        ),
        (lines) => {
          const a = readAny(program(lines.map(([w]) => w.join(" "))), {}, FULL);
          const b = readAny(program(lines.map(([, w]) => w.join(" "))), {}, FULL);
          expect(essence(b)).toEqual(essence(a));
          if (a.events[a.events.length - 1]?.kind === "end") whole++;
        },
      ),
      { numRuns: 1200 },
    );
    expect(whole).toBeGreaterThan(50);
  });

  it("case, and blanks outside comments", () => {
    fc.assert(
      fc.property(
        fc.array(wordsOfALine, { minLength: 1, maxLength: 4 }),
        fc.infiniteStream(fc.nat(5)),
        (lines, dice) => {
          const plain = program(lines.map((w) => w.join("")));
          const roll = dice[Symbol.iterator]();
          const loose = [...plain]
            .map((c) => {
              const face = roll.next().value as number;
              const blank = face === 0 ? " " : face === 1 ? "\t" : "";
              return c === "\n" ? `${blank}\n` : blank + (face % 2 === 0 ? c.toLowerCase() : c);
            })
            .join("");
          expect(essence(readAny(loose, {}, FULL))).toEqual(essence(readAny(plain, {}, FULL)));
        },
      ),
      { numRuns: 500 },
    );
  });

  it("reading twice, and reading another text between, gives the same", () => {
    fc.assert(
      fc.property(fc.array(wordsOfALine, { maxLength: 5 }), fc.array(wordsOfALine, { maxLength: 5 }), (a, b) => {
        const text = program(a.map((w) => w.join(" ")));
        const first = readOurs(text);
        readOurs(program(b.map((w) => w.join(" "))));
        expect(readOurs(text)).toEqual(first);
      }),
      { numRuns: 300 },
    );
  });
});

describe("units", () => {
  const tenth = fc.integer({ min: -50_000, max: 50_000 });
  type Step =
    | {
        readonly kind: "line";
        readonly code: string;
        readonly x: number;
        readonly y: number;
        readonly z: number;
        readonly f: number;
      }
    | { readonly kind: "arc"; readonly ccw: boolean; readonly quarter: number; readonly r: number; readonly dz: number }
    | { readonly kind: "bore"; readonly code: string; readonly x: number; readonly depth: number; readonly q: number };
  const step: fc.Arbitrary<Step> = fc.oneof(
    fc.record({
      kind: fc.constant("line" as const),
      code: fc.constantFrom("G0", "G1"),
      x: tenth,
      y: tenth,
      z: tenth,
      f: fc.integer({ min: 1, max: 9999 }),
    }),
    fc.record({
      kind: fc.constant("arc" as const),
      ccw: fc.boolean(),
      quarter: fc.nat(3),
      r: fc.integer({ min: 10, max: 50_000 }),
      dz: tenth,
    }),
    fc.record({
      kind: fc.constant("bore" as const),
      code: fc.constantFrom("G81", "G83", "G85"),
      x: tenth,
      depth: fc.integer({ min: 100, max: 20_000 }),
      q: fc.integer({ min: 1000, max: 9000 }),
    }),
  );

  /** The steps as a program; numbers are ten-thousandths of an inch, written exactly in either unit. */
  function written(steps: readonly Step[], inch: boolean, incremental: boolean): string {
    const n = (units: number): string => (inch ? (units / 10_000).toFixed(4) : (units * 0.00254).toFixed(5));
    const lines = [`G17 ${inch ? "G20" : "G21"} G40 G54 G61 G80 G90 G94 G99`, `F${n(100_000)}`, `G0 Z${n(0)}`];
    lines.push(`G0 X${n(0)} Y${n(0)}`, "S900 M3", incremental ? "G91" : "G90");
    let at = { x: 0, y: 0, z: 0 };
    const go = (to: typeof at): string => {
      const from = incremental ? at : { x: 0, y: 0, z: 0 };
      at = to;
      return `X${n(to.x - from.x)} Y${n(to.y - from.y)} Z${n(to.z - from.z)}`;
    };
    for (const s of steps) {
      if (s.kind === "line") lines.push(`${s.code} ${go(s)} F${n(s.f * 100)}`);
      if (s.kind === "arc") {
        const [cx, cy] = [
          [s.r, 0],
          [0, s.r],
          [-s.r, 0],
          [0, -s.r],
        ][s.quarter]!;
        const turn = s.ccw ? 1 : -1;
        const to = { x: at.x + cx! + turn * cy!, y: at.y + cy! - turn * cx!, z: at.z + s.dz };
        lines.push(`${s.ccw ? "G3" : "G2"} ${go(to)} I${n(cx!)} J${n(cy!)}`);
      }
      if (s.kind === "bore") {
        const q = s.code === "G83" ? ` Q${n(s.q)}` : "";
        const top = at.z;
        const levels = incremental ? `R${n(0)} Z${n(-s.depth)}` : `R${n(top)} Z${n(top - s.depth)}`;
        const x = incremental ? n(s.x - at.x) : n(s.x);
        lines.push(`${s.code} X${x} ${levels}${q}`, "G80");
        at = { x: s.x, y: at.y, z: top };
      }
    }
    return `${lines.join("\n")}\nM5\nM2\n`;
  }

  /** Largest difference between two readings' numbers, mm and mm/min; the rest must be equal. */
  function difference(a: ReadProgram, b: ReadProgram): number {
    let worst = 0;
    const strip = (_: string, v: unknown) => (typeof v === "number" ? 0 : v);
    expect(JSON.stringify(b.events, strip)).toBe(JSON.stringify(a.events, strip));
    const numbers = (v: unknown): number[] =>
      typeof v === "number" ? [v] : typeof v === "object" && v !== null ? Object.values(v).flatMap(numbers) : [];
    const [p, q] = [numbers(a.events), numbers(b.events)];
    for (const [k, v] of p.entries()) worst = Math.max(worst, Math.abs(v - q[k]!));
    return worst;
  }

  it("an inch program moves as the same program in millimetres", () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), fc.boolean(), (steps, incremental) => {
        const mm = readAny(written(steps, false, incremental));
        const inch = readAny(written(steps, true, incremental));
        expect(mm.findings.filter((f) => f.grade === "refuse")).toEqual([]);
        expect(inch.unit).toBe("inch");
        expect(difference(mm, inch)).toBeLessThan(1e-8);
      }),
      { numRuns: 250 },
    );
  });

  it("an incremental program moves as the same program in absolute coordinates", () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), fc.boolean(), (steps, inch) => {
        const absolute = readAny(written(steps, inch, false));
        const incremental = readAny(written(steps, inch, true));
        expect(difference(absolute, incremental)).toBeLessThan(1e-8);
      }),
      { numRuns: 250 },
    );
  });

  it("each move begins where the one before ended", () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), (steps) => {
        const moves = readAny(written(steps, false, false)).events.filter((e) => e.kind === "move");
        for (let k = 1; k < moves.length; k++) expect(moves[k]!.from).toBe(moves[k - 1]!.to);
      }),
      { numRuns: 100 },
    );
  });
});
