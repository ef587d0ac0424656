import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import type { TurningMove } from "../../src/paths/turning/move.ts";
import { postFits } from "../../src/program/post-fits.ts";
import { verifySeal } from "../../src/program/seal.ts";
import type { TurningProgramText, TurningWriteInput } from "../../src/program/turning-text.ts";
import { dryRunOfTurning, turningDryRunLift, writeTurningPrograms } from "../../src/program/write-turning.ts";
import { proveTurning, proveTurningDryRun } from "../../src/proof/turning/prove.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadEvent, ReadMove } from "../../src/reader/read-move.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { xScaleOf, xSignOf } from "../../src/shop/lathe.ts";
import {
  CONVENTIONS,
  inInches,
  inputFor,
  inputWith,
  lathe,
  lathePost,
  planned,
  postOf,
  readOptionsOf,
} from "./turning-fixtures.ts";

function written(input: TurningWriteInput, dry = false): readonly TurningProgramText[] {
  const out = dry ? dryRunOfTurning(input) : writeTurningPrograms(input);
  if (!out.ok) throw new Error(out.findings.map(printFinding).join("\n"));
  return out.value;
}

function eventsOf(input: TurningWriteInput, p: TurningProgramText): readonly ReadEvent[] {
  const read = readProgram(p.text, p.name, input.setUp.lathe.controller, readOptionsOf(input.setUp));
  expect(
    read.findings
      .filter((f) => f.grade !== "note")
      .map(printFinding)
      .join("\n"),
  ).toBe("");
  return read.events;
}

/** Motion lines of a program. */
function motion(p: TurningProgramText): readonly string[] {
  return p.text.split("\n").filter((l) => /^G[0123] /.test(l));
}

const REAR = lathe({ xWords: "radius", toolPost: "rear" });

describe("a convex nose cut from its tip outwards", () => {
  // From X0 Z0 on to +X and −Z about (Z−5, X0): a quarter round.
  const nose: readonly TurningMove[] = [
    { kind: "rapid x", r: 1 },
    { kind: "line", to: { x: 0, y: 0 }, feed: 100, why: "entry" },
    { kind: "arc", to: { x: -5, y: 5 }, centre: { x: -5, y: 0 }, ccw: true, feed: 100, why: "finish" },
  ];
  // NISTIR 6556 §4.3.6.1 with the plane's axes in the order Z, X: from Z towards X is positive, and that is G3. With the
  // tool on the other side of the axis X runs the other way, so the same picture is G2. I is never doubled.
  const expected = {
    "radius, rear post": "G3 X5.0 Z-5.0 I0.0 K-5.0",
    "radius, front post": "G2 X-5.0 Z-5.0 I0.0 K-5.0",
    "diameter, rear post": "G3 X10.0 Z-5.0 I0.0 K-5.0",
    "diameter, front post": "G2 X-10.0 Z-5.0 I0.0 K-5.0",
  } as const;
  for (const c of CONVENTIONS) {
    it(`is written so for ${c.name}`, () => {
      const [p] = written(inputWith(lathe(c), nose));
      expect(motion(p!).filter((l) => /^G[23] /.test(l))).toEqual([expected[c.name as keyof typeof expected]]);
    });
  }

  it("turns the other way for a concave cove, with I the true distance", () => {
    const cove: readonly TurningMove[] = [
      { kind: "rapid x", r: 11 },
      { kind: "line", to: { x: 0, y: 10 }, feed: 100, why: "entry" },
      { kind: "arc", to: { x: -5, y: 5 }, centre: { x: 0, y: 5 }, ccw: true, feed: 100, why: "finish" },
      { kind: "arc", to: { x: -10, y: 10 }, centre: { x: -10, y: 5 }, ccw: false, feed: 100, why: "finish" },
    ];
    const arcs = (c: (typeof CONVENTIONS)[number]) =>
      motion(written(inputWith(lathe(c), cove))[0]!).filter((l) => /^G[23] /.test(l));
    expect(arcs(CONVENTIONS[0]!)).toEqual(["G3 X5.0 Z-5.0 I-5.0 K0.0", "G2 X10.0 Z-10.0 I0.0 K-5.0"]);
    expect(arcs(CONVENTIONS[3]!)).toEqual(["G2 X-10.0 Z-5.0 I5.0 K0.0", "G3 X-20.0 Z-10.0 I0.0 K-5.0"]);
  });
});

describe("turning programs", () => {
  for (const [k, c] of CONVENTIONS.entries()) {
    for (const homes of [k % 2 === 0]) {
      it(`pass the strict reader and the proof: ${c.name}, ${homes ? "homes" : "does not home"}`, () => {
        const l = lathe(c, { controller: { ...REAR.controller, homes } });
        const input = inputFor(l);
        const files = written(input);
        for (const p of files) eventsOf(input, p);
        const shop = { ...DEFAULT_SHOP, lathes: [l] };
        const programs = files.map((p) => ({ file: p.name, text: p.text }));
        const proof = proveTurning({ setUp: input.setUp, programs, shop });
        expect(
          proof.findings
            .filter((f) => f.grade === "refuse")
            .map(printFinding)
            .join("\n"),
        ).toBe("");
        expect(proof.figures["wood left"]!.value).toBeLessThan(0.01);
      });
    }
  }

  it("make the same motion in every convention and unit, within rounding", () => {
    const read = (l: typeof REAR, edit?: (t: string) => string): readonly ReadMove[] => {
      const input = inputFor(l, edit);
      return written(input)
        .flatMap((p) => eventsOf(input, p))
        .flatMap((e) => (e.kind === "move" ? [e] : []));
    };
    const base = read(REAR);
    const others = [
      ...CONVENTIONS.slice(1).map((c) => ({ l: lathe(c), edit: undefined })),
      ...CONVENTIONS.map((c) => ({ l: lathe(c), edit: inInches })),
    ];
    for (const { l, edit } of others) {
      const moves = read(l, edit);
      expect(moves.length).toBe(base.length);
      const side = xSignOf(l);
      for (const [k, m] of moves.entries()) {
        const b = base[k]!;
        expect(m.rapid).toBe(b.rapid);
        expect(m.path.kind).toBe(b.path.kind);
        if (m.to.x !== undefined || b.to.x !== undefined)
          expect(Math.abs(side * m.to.x! - b.to.x!)).toBeLessThan(0.0003);
        if (m.to.z !== undefined || b.to.z !== undefined) expect(Math.abs(m.to.z! - b.to.z!)).toBeLessThan(0.0003);
        if (m.path.kind === "arc" && b.path.kind === "arc") {
          expect(m.path.ccw).toBe(side === 1 ? b.path.ccw : !b.path.ccw);
          expect(Math.abs(side * m.path.centre.x - b.path.centre.x)).toBeLessThan(0.0005);
          expect(Math.abs(m.path.centre.y - b.path.centre.y)).toBeLessThan(0.0005);
        }
      }
    }
  });

  it("double X words in a diameter dialect, and nothing else", () => {
    const radius = written(inputFor(lathe({ xWords: "radius", toolPost: "rear" })));
    const diameter = written(inputFor(lathe({ xWords: "diameter", toolPost: "rear" })));
    const halved = diameter.map((p) =>
      motion(p).map((l) => l.replace(/X(-?[0-9.]+)/, (_, x) => `X${String(Number(x) / 2)}`)),
    );
    const plain = radius.map((p) => motion(p).map((l) => l.replace(/X(-?[0-9.]+)/, (_, x) => `X${String(Number(x))}`)));
    expect(halved).toEqual(plain);
  });

  it("are the same bytes every time, carry their seal and say what X is", () => {
    const a = written(inputFor(REAR));
    expect(a).toEqual(written(inputFor(REAR)));
    for (const p of a) {
      expect(verifySeal(p.text).kind).toBe("untouched");
      expect(p.text).toContain("X words are RADII");
      for (const line of p.text.split("\n")) expect(line.length).toBeLessThanOrEqual(120);
    }
    const [d] = written(inputFor(lathe({ xWords: "diameter", toolPost: "front" })));
    expect(d!.text).toContain("X words are DIAMETERS");
    expect(d!.text).toContain("I is not doubled");
    expect(d!.text).toContain("X below 0");
  });

  it("never move X and Z in one rapid, take X out first, and begin every operation with all modes", () => {
    for (const p of written(inputFor(REAR))) {
      const lines = p.text.split("\n").filter((l) => !l.startsWith("("));
      for (const l of lines.filter((m) => /^G0 /.test(m))) expect(l).toMatch(/^G0 [XZ]-?[0-9.]+$/);
      const firstMotion = lines.find((l) => /G0|G1|G2|G3/.test(l) && !/^N/.test(l));
      expect(firstMotion).toBe("G53 G0 X0.0");
      for (const l of lines.filter((m) => m.startsWith("N"))) {
        expect(l.replace(/^N[0-9]+ /, "")).toBe("G18 G21 G40 G49 G54 G61 G80 G90 G94");
      }
      expect(lines.filter((l) => l !== "").slice(-4)).toEqual(["G53 G0 X0.0", "M5", "M9", "M2"]);
    }
  });

  it("ask for a clear tool where the lathe does not home", () => {
    const input = inputFor(
      lathe({ xWords: "radius", toolPost: "rear" }, { controller: { ...REAR.controller, homes: false } }),
    );
    const lines = written(input)[0]!
      .text.split("\n")
      .filter((l) => !/^\((?!MSG)/.test(l));
    expect(lines.slice(0, 5)).toEqual([
      expect.stringMatching(/^N10 /),
      "M5",
      expect.stringMatching(/^\(MSG, Set zero with/),
      "M0",
      "G18 G21 G40 G49 G54 G61 G80 G90 G94",
    ]);
    expect(lines[5]).toBe(`G0 X${input.setUp.safeRadius}`);
  });

  it("stop for the next tool with X out, then Z, spindle off and still", () => {
    const change = (t: string): string => t.replace("tool change: none", "tool change: [T M6]");
    const refused = writeTurningPrograms(inputFor(REAR, change));
    expect(refused.findings.map((f) => f.what.split(": ")[1])).toEqual(["it changes tools within a program"]);
    const turret = lathe(
      { xWords: "radius", toolPost: "rear" },
      { controller: { ...REAR.controller, toolChanger: true } },
    );
    const input = inputFor(turret, change);
    const [p, ...none] = written(input);
    expect(none).toEqual([]);
    const lines = p!.text.split("\n");
    const stops = lines.flatMap((l, k) => (l === "M0" && /Next tool/.test(lines[k - 1]!) ? [k] : []));
    expect(stops).toHaveLength(p!.tools.length - 1);
    for (const k of stops) {
      expect(lines.slice(k - 5, k - 1)).toEqual(["G53 G0 X0.0", "G0 Z0.0", "M5", "G4 P8.0"]);
      expect(lines[k + 1]).toMatch(/^G18 /);
      expect(lines[k + 2]).toBe("G53 G0 X0.0");
      expect(lines[k + 3]).toMatch(/^T[0-9]+ M6$/);
    }
    eventsOf(input, p!);
  });

  it("ask for the speed where it is a belt or a dial", () => {
    const spindle = {
      kind: "dial",
      positions: [
        { mark: "low", rpm: 800 },
        { mark: "high", rpm: 2000 },
      ],
    } as const;
    const input = inputFor(lathe({ xWords: "radius", toolPost: "rear" }, { spindle }));
    const texts = written(input).map((p) => p.text);
    expect(texts[0]).toContain("(MSG, Speed: set it to low, 800 rpm.");
    expect(texts.join("\n")).toContain("(MSG, Speed: set it to high, 2000 rpm.");
    for (const p of written(input)) eventsOf(input, p);
  });

  it("let no name of the job move anything", () => {
    const input = inputFor(REAR);
    const evil = ") G0 X0 (MSG, \u2028%~!";
    const named = {
      ...input,
      title: evil,
      setUp: { ...input.setUp, name: evil, piece: { ...input.setUp.piece, name: evil, wood: evil } },
    };
    const plain = written(input).map(motion);
    expect(written(named).map(motion)).toEqual(plain);
    for (const p of written(named)) eventsOf(named, p);
  });
});

describe("witness stops of a turning program", () => {
  const proofOf = (setUp: TurningWriteInput["setUp"], files: readonly TurningProgramText[]): readonly string[] =>
    proveTurning({
      setUp,
      programs: files.map((p) => ({ file: p.name, text: p.text })),
      shop: { ...DEFAULT_SHOP, lathes: [setUp.lathe] },
    })
      .findings.filter((f) => f.grade === "refuse")
      .map((f) => f.code);

  for (const [k, c] of CONVENTIONS.entries()) {
    it(`halt a gauge block off the wood and beside its end before it turns: ${c.name}`, () => {
      const l = lathe(c, { controller: { ...REAR.controller, homes: k % 2 === 1 } });
      const input = inputFor(l);
      const { setUp } = input;
      const files = written(input);
      for (const [nth, p] of files.entries()) {
        const halts: (readonly [number, number])[] = [];
        let at: ReadMove["to"] | undefined;
        for (const e of eventsOf(input, p)) {
          if (e.kind === "spindle" && e.spindle.turning !== "off") break;
          if (e.kind === "move") at = e.machine ? undefined : e.to;
          if (e.kind === "stop" && at?.x !== undefined && at.z !== undefined) halts.push([at.z, xSignOf(l) * at.x]);
        }
        const asked = setUp.marks!.filter((m) => nth === 0 || m.untouched);
        expect(halts).toHaveLength(asked.length);
        for (const [i, m] of asked.entries()) {
          expect(halts[i]![0]).toBeCloseTo(m.at.x, 3);
          expect(halts[i]![1]).toBeCloseTo(m.at.y, 3);
        }
        expect(p.text).toContain("10 mm block");
      }
      for (const p of written(input, true)) expect(p.text).not.toContain("block");
      expect(proofOf(setUp, files)).toEqual([]);
    });
  }

  it("are missed by the proof when they are left out, nearer than the block, or made inside the safe radius elsewhere", () => {
    const input = inputFor(REAR);
    const { setUp } = input;
    const [over, end] = setUp.marks!;
    expect([over!.against, end!.against]).toEqual(["flat", "end"]);
    const left = written({ ...input, setUp: { ...setUp, marks: [end!] } });
    expect(new Set(proofOf(setUp, left))).toEqual(new Set(["proof-witness-missed"]));
    const near = { ...over!, at: { x: over!.at.x, y: setUp.safeRadius - 0.5 } };
    expect(Math.abs(near.at.y - over!.at.y)).toBeGreaterThan(0.1);
    const codes = proofOf(setUp, written({ ...input, setUp: { ...setUp, marks: [near, end!] } }));
    expect(new Set(codes)).toEqual(new Set(["proof-witness-missed", "proof-turning-ends-in"]));
  });
});

describe("the dry run of a turning program", () => {
  for (const c of CONVENTIONS) {
    it(`is the same motion farther out, nothing turning: ${c.name}`, () => {
      const input = inputFor(lathe(c));
      const scale = xScaleOf(input.setUp.lathe);
      const lift = turningDryRunLift(input);
      // The still tool has nothing to halt at in a rehearsal.
      const wet = written({ ...input, setUp: { ...input.setUp, marks: [] } });
      const dry = written(input, true);
      expect(dry).toHaveLength(wet.length);
      for (const [k, p] of dry.entries()) {
        expect(p.dryRun).toBe(true);
        expect(p.text).not.toMatch(/^[^(]*(S[0-9]|M3|M4)/m);
        const xs = (q: TurningProgramText): readonly number[] =>
          motion(q)
            .flatMap((l) => /X(-?[0-9.]+)/.exec(l)?.[1] ?? [])
            .map((x) => Number(x) / scale);
        const [a, b] = [xs(wet[k]!), xs(p)];
        expect(b.length).toBe(a.length);
        for (const [i, x] of b.entries()) expect(x - a[i]!).toBeCloseTo(lift, 3);
        const start = input.setUp.start.segments[0]!.from.y;
        expect(Math.min(...b)).toBeGreaterThan(start);
      }
      const programs = dry.map((p) => ({ file: p.name, text: p.text }));
      const findings = programs.flatMap((q) => proveTurningDryRun(input.setUp, q).findings);
      expect(
        findings
          .filter((f) => f.grade === "refuse")
          .map(printFinding)
          .join("\n"),
      ).toBe("");
    });
  }
});

describe("a post and a lathe", () => {
  const refusals = (name: "lathe-radius" | "lathe-diameter", l: typeof REAR): readonly string[] => {
    const out = writeTurningPrograms({ ...inputFor(REAR), post: lathePost(name), setUp: planned(l).setUp });
    return out.ok ? [] : out.findings.map((f) => f.what.split(": ")[1]!);
  };

  it("must agree on what an X word means", () => {
    expect(
      refusals(
        "lathe-diameter",
        lathe({ xWords: "radius", toolPost: "rear" }, { controller: { ...REAR.controller, homes: false } }),
      ),
    ).toEqual(["X words disagree"]);
    expect(refusals("lathe-radius", REAR)).toEqual([]);
  });

  it("must agree on homing, arcs and exact path", () => {
    const off = { ...REAR.controller, homes: false, arcs: false, exactPath: false, cornerError: 0.05 };
    expect(refusals("lathe-radius", lathe({ xWords: "radius", toolPost: "rear" }, { controller: off }))).toEqual([
      "it writes arcs",
      "it retracts X to a machine position",
      "it asks for exact path",
    ]);
  });

  it("must both be of a lathe", () => {
    const router = DEFAULT_SHOP.machines[0]!;
    expect(postFits(lathePost("lathe-radius"), router, []).map((f) => f.what.split(": ")[1])).toContain(
      "it is for a lathe",
    );
    const { xWords: _, ...plain } = postOf(REAR);
    const out = writeTurningPrograms({ ...inputFor(REAR), post: plain });
    expect(out.ok).toBe(false);
    expect(out.findings.map((f) => f.what.split(": ")[1])).toEqual(["it is for a router"]);
  });

  it("cannot use the length offset or the router's plane", () => {
    expect(() =>
      lathePost("lathe-radius", (t) => t.replace("length offset: none", "length offset: G43").replace("G49, ", "")),
    ).toThrow(/length offset/);
    expect(() => lathePost("lathe-radius", (t) => t.replace("G18", "G17"))).toThrow(/G17|plane/);
  });

  it("write chords where a controller knows no arcs", () => {
    const l = lathe({ xWords: "radius", toolPost: "rear" }, { controller: { ...REAR.controller, arcs: false } });
    const input = inputFor(l, (t) => t.replace("arcs: centre", "arcs: {chords within: 0.002}"));
    const files = written(input);
    for (const p of files) expect(p.text).not.toMatch(/^G[23] /m);
    const programs = files.map((p) => ({ file: p.name, text: p.text }));
    const proof = proveTurning({ setUp: input.setUp, programs, shop: { ...DEFAULT_SHOP, lathes: [l] } });
    expect(
      proof.findings
        .filter((f) => f.grade === "refuse")
        .map(printFinding)
        .join("\n"),
    ).toBe("");
  });
});
