import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Move } from "../../src/paths/move.ts";
import type { WriteInput } from "../../src/program/program-text.ts";
import { dryRunOf, writePrograms } from "../../src/program/write-programs.ts";
import { arc, line, machine, operation, POSTS, type PostName, path, post, SAFE_Z, sample, setUp } from "./fixtures.ts";
import { type Line, motionsOf, parseProgram, spelled } from "./grammar.ts";

function texts(input: WriteInput, dry = false): readonly string[] {
  const out = dry ? dryRunOf(input) : writePrograms(input);
  if (!out.ok) throw new Error(out.findings.map((f) => f.what).join("; "));
  return out.value.map((p) => p.text);
}

function programs(input: WriteInput, dry = false): readonly (readonly Line[])[] {
  return texts(input, dry).map(parseProgram);
}

const has = (l: Line, letter: string, value?: number): boolean =>
  (l.words ?? []).some((w) => w.letter === letter && (value === undefined || w.value === value));

/** Random toolpaths: lines, arcs, helices and hops between safe and cutting height, in whole micrometres. */
const micro = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);
const anyCuts: fc.Arbitrary<{ x: number; y: number; moves: Move[] }> = fc
  .record({
    x: micro(0, 200),
    y: micro(0, 100),
    steps: fc.array(
      fc.record({
        dx: micro(-20, 20),
        dy: micro(-20, 20),
        z: micro(-15, 1),
        kind: fc.constantFrom("line", "half", "circle", "hop"),
        ccw: fc.boolean(),
        feed: micro(100, 4000),
      }),
      { minLength: 1, maxLength: 12 },
    ),
  })
  .map(({ x, y, steps }) => {
    let at = { x, y, z: 1 };
    const moves: Move[] = [];
    for (const s of steps) {
      const to = { x: at.x + s.dx, y: at.y + s.dy, z: s.z };
      const middle = { x: (at.x + to.x) / 2, y: (at.y + to.y) / 2 };
      if (s.kind === "line") moves.push(line(to.x, to.y, to.z, s.feed));
      else if (s.kind === "half") moves.push(arc(to.x, to.y, to.z, middle.x, middle.y, s.ccw, s.feed));
      else if (s.kind === "circle") moves.push(arc(at.x, at.y, s.z, middle.x, middle.y, s.ccw, s.feed));
      else
        moves.push(
          { kind: "rapid z", z: SAFE_Z },
          { kind: "rapid xy", to: { x: to.x, y: to.y } },
          { kind: "rapid z", z: 1 },
        );
      at = s.kind === "circle" ? { ...at, z: s.z } : s.kind === "hop" ? { ...to, z: 1 } : to;
    }
    return { x, y, moves };
  });

function input(name: PostName, cuts: { x: number; y: number; moves: readonly Move[] }): WriteInput {
  return sample(name, { toolpaths: [path(operation("cut"), cuts.x, cuts.y, cuts.moves)] });
}

describe("every program", () => {
  for (const name of POSTS) {
    it(`of post ${name} is of our subset of the language, line by line`, () => {
      for (const dry of [false, true]) {
        for (const text of texts(sample(name), dry)) {
          expect(() => parseProgram(text)).not.toThrow();
          for (const l of text.split("\n")) expect(l.length).toBeLessThanOrEqual(120);
          expect(text.endsWith("\n")).toBe(true);
          expect(text).toMatch(/^[ -~\n]*$/);
        }
      }
    });

    it(`of post ${name} starts with Z alone and never moves X or Y together with a rapid Z`, () => {
      for (const dry of [false, true]) {
        for (const lines of programs(sample(name), dry)) {
          const moving = lines.filter((l) => has(l, "X") || has(l, "Y") || has(l, "Z"));
          expect(has(moving[0]!, "X") || has(moving[0]!, "Y")).toBe(false);
          for (const l of moving) {
            if (has(l, "G", 0)) expect(has(l, "Z") && (has(l, "X") || has(l, "Y")), spelled(l)).toBe(false);
            // Every motion says its code.
            expect(
              [0, 1, 2, 3].some((g) => has(l, "G", g)),
              spelled(l),
            ).toBe(true);
          }
        }
      }
    });

    it(`of post ${name} moves sideways at rapid only at safe height or at the machine's top`, () => {
      for (const lines of programs(sample(name))) {
        for (const m of motionsOf(lines)) {
          if (m.code !== 0 || (m.from[0] === m.to[0] && m.from[1] === m.to[1])) continue;
          if (m.from[2] !== undefined) expect(m.from[2]).toBeGreaterThanOrEqual(SAFE_Z);
        }
      }
    });

    it(`of post ${name} restates all modes at every operation and after every stop and change`, () => {
      const opening = post(name).opening.join(" ");
      for (const lines of programs(sample(name))) {
        const commands = lines.filter((l) => l.words);
        for (const [k, l] of commands.entries()) {
          if (l.label !== undefined) expect(spelled(l)).toBe(opening);
          if (has(l, "M", 0) || has(l, "M", 6)) expect(spelled(commands[k + 1]!)).toBe(opening);
        }
        const labels = commands.flatMap((l) => l.label ?? []);
        expect(labels).toEqual(labels.map((_, k) => 10 * (k + 1)));
      }
    });

    it(`of post ${name} cuts only with the spindle turning, after its spin-up wait`, () => {
      for (const lines of programs(sample(name))) {
        let turning = false;
        let z: number | undefined;
        const unit = post(name).unit === "mm" ? 1 : 25.4;
        for (const [k, l] of lines.entries()) {
          if (has(l, "M", 3)) {
            expect(has(l, "S")).toBe(true);
            const wait = lines[k + 1]!.words!;
            expect(spelled(lines[k + 1]!)).toMatch(/^G4 P/);
            expect(wait[1]!.value).toBeGreaterThanOrEqual(machine(name).spinUpSeconds);
            turning = true;
          }
          if (has(l, "M", 5) || has(l, "M", 6)) turning = false;
          const zWord = l.words?.find((w) => w.letter === "Z");
          if (zWord) z = zWord.value * unit;
          if (has(l, "G", 1) || has(l, "G", 2) || has(l, "G", 3)) {
            if (z !== undefined && z < 1) expect(turning, spelled(l)).toBe(true);
          }
          if (has(l, "M", 0)) expect(turning, "a stop with the bit turning").toBe(false);
        }
        expect(turning).toBe(false);
      }
    });

    it(`of post ${name} ends lifted, spindle and coolant off, with M2 last`, () => {
      for (const lines of programs(sample(name))) {
        const last = lines.filter((l) => l.words).slice(-4);
        expect(spelled(last[0]!)).toMatch(name === "plain" ? /^G0 Z12\.0$/ : /^G53 G0 Z0\.0$/);
        expect(last.slice(1).map(spelled)).toEqual(["M5", "M9", "M2"]);
      }
    });

    it(`of post ${name} halts a gauge block above every mark before the spindle first turns`, () => {
      const su = setUp(name);
      const unit = post(name).unit === "mm" ? 1 : 25.4;
      for (const lines of programs(sample(name))) {
        const start = lines.findIndex((l) => has(l, "M", 3));
        const before = motionsOf(lines.slice(0, start)).filter((m) => m.code === 1);
        expect(before.length).toBe(su.marks.length);
        for (const [k, m] of before.entries()) {
          const mark = su.marks[k]!.at;
          expect(m.to[0]).toBeCloseTo(mark.x, 3);
          expect(m.to[1]).toBeCloseTo(mark.y, 3);
          expect(Math.abs(m.to[2]! - (mark.z + su.habits.gaugeBlock))).toBeLessThan(0.0002 * unit);
        }
      }
    });

    it(`of post ${name} is the same text every time`, () => {
      expect(texts(sample(name))).toEqual(texts(sample(name)));
    });
  }

  it("calls a cutter's length wherever there is a table, right after lift and change, and at every restart", () => {
    for (const lines of programs(sample("millimetre"))) {
      const commands = lines.filter((l) => l.words);
      const labels = commands.flatMap((l, k) => (l.label === undefined ? [] : [k]));
      for (const [n, k] of labels.entries()) {
        const upTo = commands.slice(k, labels[n + 1] ?? commands.length);
        const offset = upTo.findIndex((l) => has(l, "G", 43));
        const sideways = upTo.findIndex((l) => has(l, "X"));
        expect(offset).toBeGreaterThan(0);
        expect(offset).toBeLessThan(sideways);
      }
      expect(commands.some((l) => has(l, "G", 49))).toBe(false);
    }
  });

  it("waits for the spindle to stand before a bit is changed or a dial is set", () => {
    const [lines] = programs(sample("millimetre"));
    const change = lines!.findIndex((l) => has(l, "T", 2));
    expect(lines!.slice(change - 2, change).map(spelled)).toEqual(["M5", "G4 P8.0"]);
    const dial = sample("plain", {
      toolpaths: [
        path(operation("a", "a", "6 mm flat", 16000), 5, 5, [line(5, 5, -1), line(9, 5, -1)]),
        path(operation("b", "b", "6 mm flat", 12000), 5, 5, [line(5, 5, -1), line(9, 5, -1)]),
      ],
    });
    const [plain] = programs(dial);
    const asks = plain!.flatMap((l, k) => (l.comment?.includes("set the dial to") ? [k] : []));
    expect(asks).toHaveLength(2);
    expect(plain![asks[0]!]!.comment).toContain("set the dial to 3, 16000 rpm");
    expect(plain![asks[1]!]!.comment).toContain("set the dial to 2, 12000 rpm");
    expect(plain!.slice(asks[1]! - 2, asks[1]).map(spelled)).toEqual(["M5", "G4 P6.0"]);
  });

  it("is one file for each run of a bit on machines without a changer, in order", () => {
    const out = writePrograms(sample("plain"));
    if (!out.ok) throw new Error("the sample does not write");
    expect(out.value.map((p) => p.name)).toEqual([
      "01-left-side-inside-up-bit-6-mm-flat.nc",
      "02-left-side-inside-up-bit-4-mm-flat.nc",
    ]);
    expect(out.value.map((p) => p.operations.map((o) => [o.label, o.id]))).toEqual([
      [[10, "bore"]],
      [
        [10, "groove"],
        [20, "mark"],
      ],
    ]);
    for (const p of out.value) expect(p.text).not.toMatch(/^T|M6|G43|G53/m);
  });

  it("prints overrides and cautions, and cautions for turning bits", () => {
    const [text] = texts(
      sample("millimetre", {
        overrides: [{ code: "least-web", because: "it is (only) a trial" }],
        cautions: ["Light feed: the groove is deep"],
      }),
    );
    const header = text!.split("\nN10 ")[0]!;
    expect(header).toContain("(OVERRIDDEN: least-web, because: it is [only] a trial)");
    expect(header).toContain("(Caution: Light feed: the groove is deep)");
    expect(header).toContain("eyes and ears covered");
  });

  it("speaks the post's unit in its words", () => {
    const [text] = texts(sample("inch"));
    expect(text).toContain("(Safe height: Z 0.4724 in)");
    expect(text).toContain("the 10 mm block [0.3937 in] must just fit");
    expect(text).not.toMatch(/\d mm\)/);
  });
});

describe("a name", () => {
  const evil = fc.oneof(
    fc.string({ unit: "binary", maxLength: 80 }),
    fc.stringMatching(/^[()\r\nGXYZMSTN0-9 .,;%!~?-]{0,60}$/),
    fc.constantFrom(")\nM3 S20000\n(", "MSG, x", "\u2028G0 Z-5", "%\nM2", "(", ")", ""),
  );

  it("cannot change a single byte outside comments", () => {
    const bare = (t: string): string => t.replace(/\([^()\n]*\)\n/g, "");
    for (const name of ["millimetre", "plain"] as const) {
      const plain = texts(sample(name)).map(bare);
      fc.assert(
        fc.property(evil, evil, (a, b) => {
          const base = sample(name);
          const su = base.setUp;
          const named: WriteInput = {
            ...base,
            title: a,
            version: b,
            overrides: [{ code: a, because: b }],
            cautions: [b, a],
            setUp: {
              ...su,
              name: a,
              workpiece: { ...su.workpiece, name: b, wood: a },
              machine: { ...su.machine, name: b },
              zero: { ...su.zero, how: a },
              marks: su.marks.map((m) => ({ ...m, name: b })),
            },
            toolpaths: base.toolpaths.map((p, k) => ({
              ...p,
              operation: {
                ...p.operation,
                title: a,
                id: b,
                cutter: { ...p.operation.cutter, name: `${k === 0 ? a : b}#${k === 0 ? 0 : 1}` },
              },
            })),
          };
          const out = texts(named);
          for (const t of out) expect(() => parseProgram(t)).not.toThrow();
          expect(out.map(bare)).toEqual(plain);
          const written = writePrograms(named);
          for (const p of written.ok ? written.value : []) expect(p.name).toMatch(/^[0-9]{2}[a-z0-9-]*\.nc$/);
        }),
        { numRuns: 100 },
      );
    }
  });
});

describe("inch and millimetre programs", () => {
  it("are the same motion within 0.0003 mm", () => {
    fc.assert(
      fc.property(anyCuts, (cuts) => {
        const [a] = programs(input("millimetre", cuts)).map(motionsOf);
        const [b] = programs(input("inch", cuts)).map(motionsOf);
        // An arc that is a line in one raster may be an arc in the other: ends are compared in order, by nearest.
        const ends = (list: typeof a) => list!.map((m) => m.to.map((v) => v ?? 0));
        const [ea, eb] = [ends(a), ends(b)];
        for (const [one, other] of [
          [ea, eb],
          [eb, ea],
        ] as const) {
          let k = 0;
          for (const p of one) {
            const same = (n: number): boolean => other[n]?.every((v, d) => Math.abs(v - p[d]!) <= 0.0003) ?? false;
            // The next end, or one after it where a short move is left out; else still the last.
            const near = [k, k + 1, k + 2, k + 3, k - 1].find(same) ?? -1;
            expect(near, JSON.stringify(p)).toBeGreaterThanOrEqual(0);
            k = near + 1;
          }
        }
      }),
      { numRuns: 80 },
    );
  });
});

describe("written motions", () => {
  it("end where the toolpath's moves end, whatever the moves, with arcs that read back on their circle", () => {
    for (const name of ["millimetre", "inch", "no-arcs"] as const) {
      fc.assert(
        fc.property(anyCuts, (cuts) => {
          const planned = input(name, cuts).toolpaths[0]!.moves;
          const [lines] = programs(input(name, cuts));
          const start = lines!.findIndex((l) => has(l, "M", 3));
          const motions = motionsOf(lines!).slice(motionsOf(lines!.slice(0, start)).length);
          const ends = motions.map((m) => m.to);
          const step = name === "inch" ? 0.00013 : 0.000051;
          let k = 0;
          for (const m of planned) {
            if (m.kind !== "line" && m.kind !== "arc") continue;
            const at = ends.findIndex(
              (e, n) => n >= k - 1 && [m.to.x, m.to.y, m.to.z].every((v, d) => Math.abs(e[d]! - v) <= step),
            );
            expect(at).toBeGreaterThanOrEqual(0);
            k = at;
          }
          for (const m of motions) {
            if (!m.centre) continue;
            const r0 = Math.hypot(m.from[0]! - m.centre[0], m.from[1]! - m.centre[1]);
            const r1 = Math.hypot(m.to[0]! - m.centre[0], m.to[1]! - m.centre[1]);
            expect(Math.abs(r0 - r1)).toBeLessThan(0.002);
          }
          if (name === "no-arcs") expect(motions.every((m) => m.code < 2)).toBe(true);
        }),
        { numRuns: 40 },
      );
    }
  });

  it("keep the feed in force, restated after every restart", () => {
    const [lines] = programs(sample("millimetre"));
    const first = new Map<number, number | undefined>();
    let label = 0;
    for (const l of lines!) {
      if (l.label !== undefined) label = l.label;
      if (has(l, "G", 1) && !first.has(label)) first.set(label, l.words!.find((w) => w.letter === "F")?.value);
    }
    expect([...first.values()].every((f) => f !== undefined && f > 0)).toBe(true);
  });

  it("of a toolpath that breaks its own rules are never written", () => {
    const bad = (moves: readonly Move[]) => () =>
      texts(sample("millimetre", { toolpaths: [{ operation: operation("x"), moves }] }));
    expect(bad([{ kind: "rapid z", z: 12 }])).toThrow(RangeError);
    expect(bad([{ kind: "rapid xy", to: { x: 1, y: 1 } }, line(1, 1, -3)])).toThrow(RangeError);
    expect(
      bad([
        { kind: "rapid xy", to: { x: 1, y: 1 } },
        { kind: "rapid z", z: 5 },
      ]),
    ).toThrow(RangeError);
    expect(
      bad([
        { kind: "rapid xy", to: { x: 1, y: 1 } },
        { kind: "rapid z", z: 1 },
        { kind: "rapid xy", to: { x: 5, y: 1 } },
        { kind: "rapid z", z: 12 },
      ]),
    ).toThrow(/sideways rapid/);
    expect(
      bad([
        { kind: "rapid xy", to: { x: Number.NaN, y: 1 } },
        { kind: "rapid z", z: 12 },
      ]),
    ).toThrow(RangeError);
    expect(bad([{ kind: "rapid xy", to: { x: 1, y: 1 } }, line(1, 1, -3, 0), { kind: "rapid z", z: 12 }])).toThrow(
      RangeError,
    );
  });
});

describe("what can't be written", () => {
  it("is refused where the post asks more than the machine knows, or less than it needs", () => {
    const against = (name: PostName, controller: Partial<ReturnType<typeof machine>["controller"]>) => {
      const m = machine(name);
      const su = setUp(name, { machine: { ...m, controller: { ...m.controller, ...controller } } });
      const out = writePrograms(sample(name, { setUp: su }));
      return out.ok ? [] : out.findings.map((f) => f.code);
    };
    for (const name of POSTS) expect(against(name, {})).toEqual([]);
    const wrong = ["post-does-not-fit-machine"];
    expect(against("millimetre", { arcs: false })).toEqual(wrong);
    expect(against("millimetre", { toolChanger: false })).toEqual(wrong);
    expect(against("millimetre", { toolTable: false })).toEqual(wrong);
    expect(against("millimetre", { homes: false })).toEqual(wrong);
    expect(against("millimetre", { exactPath: false })).toEqual(wrong);
    expect(against("plain", { toolTable: true })).toEqual(wrong);
    expect(against("plain", { homes: true })).toEqual([]);
  });

  it("is refused where there is nothing to cut", () => {
    const out = writePrograms(sample("millimetre", { toolpaths: [] }));
    expect(out.ok).toBe(false);
    expect(out.findings.map((f) => f.code)).toEqual(["nothing-to-write"]);
  });
});

describe("a dry run", () => {
  for (const name of POSTS) {
    it(`of post ${name} makes the same motions, lifted, with nothing turning and no witness stops`, () => {
      const su = setUp(name);
      const top = Math.max(su.blank.max.z, ...su.keepOuts.map((k) => k.box.max.z));
      const real = programs(sample(name));
      const dry = programs(sample(name), true);
      expect(dry.length).toBe(real.length);
      for (const [n, lines] of dry.entries()) {
        expect(lines.some((l) => has(l, "S") || has(l, "M", 3) || has(l, "M", 4))).toBe(false);
        expect(lines.some((l) => l.comment?.startsWith("Witness"))).toBe(false);
        expect(lines[0]!.comment).toMatch(/^DRY RUN: .* lifted by/);
        for (const m of motionsOf(lines)) {
          if (m.to[2] !== undefined) expect(m.to[2]).toBeGreaterThanOrEqual(top + su.habits.clearance - 0.001);
        }
        const cuts = (list: readonly Line[]) => motionsOf(list).filter((m) => m.code > 0);
        // Witness stops stand a gauge block above the wood, higher than any cut of the sample.
        const a = cuts(real[n]!).filter((m) => m.to[2]! < 9);
        const b = cuts(lines);
        expect(b.length).toBe(a.length);
        const lift = b[b.length - 1]!.to[2]! - a[a.length - 1]!.to[2]!;
        for (let k = 1; k <= b.length; k++) {
          const [p, q] = [a[a.length - k]!, b[b.length - k]!];
          expect(q.code).toBe(p.code);
          expect(q.feed).toBe(p.feed);
          expect(q.to[0]).toBe(p.to[0]);
          expect(q.to[1]).toBe(p.to[1]);
          expect(Math.abs(q.to[2]! - p.to[2]! - lift)).toBeLessThan(0.0006);
        }
      }
    });
  }
});
