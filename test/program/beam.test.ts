import { describe, expect, it } from "vitest";
import { beamPath } from "../../src/paths/beam/beam-path.ts";
import type { PlannedBeam } from "../../src/plan/beam-setup.ts";
import { beamPenFor, powerText } from "../../src/program/beam-pen.ts";
import type { BeamWriteInput } from "../../src/program/beam-text.ts";
import { LONGEST_LINE } from "../../src/program/comment.ts";
import { readPost } from "../../src/program/read-post.ts";
import { verifySeal } from "../../src/program/seal.ts";
import { outlineWalkOf, writeBeamProgram } from "../../src/program/write-beam.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadEvent } from "../../src/reader/read-move.ts";
import { circle, rectangle } from "../../src/shapes/outlines.ts";
import { greyPicture } from "../../src/shapes/picture/grey-picture.ts";
import { line } from "../../src/shapes/segment.ts";
import type { Laser } from "../../src/shop/laser.ts";
import { BURNS, LASER, laserMachine, laserShop, mark, marked, planned } from "../plan/beam-fixtures.ts";
import { POSTS, type PostName, post, postText } from "./fixtures.ts";

const MARKS = [
  mark(
    "name",
    { kind: "lines", chains: [[line({ x: 50, y: 20 }, { x: 60, y: 20 })], [line({ x: 52, y: 30 }, { x: 60, y: 35 })]] },
    { by: "burned line" },
  ),
  mark(
    "patch",
    { kind: "area", region: circle({ x: 25, y: 25 }, 5) },
    { by: "burned area", angleDeg: 30, ways: "two", contour: true },
  ),
  mark(
    "face",
    {
      kind: "picture",
      grey: greyPicture(2, 1, [0.2, 0.7]),
      corner: { x: 70, y: 20 },
      width: 4,
      height: 4,
      turnedDeg: 0,
    },
    { by: "burned picture", tones: "error spread" },
  ),
  mark(
    "cut",
    { kind: "area", region: rectangle({ x: 5, y: 45 }, { x: 15, y: 55 }) },
    { by: "burned through", keep: "inside" },
  ),
];

function laserFor(name: PostName, laser: Partial<Laser> = {}): Partial<Laser> {
  const table = name === "millimetre" || name === "inch";
  return table ? laser : { ...laser, slot: undefined as never };
}

function input(name: PostName, laser: Partial<Laser> = {}): BeamWriteInput & { readonly plan: PlannedBeam } {
  const plan = planned(marked(MARKS), laserShop(laserMachine(laserFor(name, laser), {}, name)));
  return {
    plan,
    setUp: plan.setUp,
    paths: plan.operations.map((o) => beamPath(o, plan.setUp)),
    post: post(name),
    title: "Lid",
    version: "0.1.0",
  };
}

function written(i: BeamWriteInput, walk = false): string {
  const made = walk ? outlineWalkOf(i) : writeBeamProgram(i);
  if (!made.ok) throw new Error(made.findings.map((f) => `${f.what}: ${f.why}`).join("\n"));
  return made.value.text;
}

function read(i: BeamWriteInput, text: string) {
  const { laser, machine, safeZ } = i.setUp;
  const { fullScale, start, mode, slot } = laser;
  return readProgram(text, "a.nc", machine.controller, {
    safeZ,
    beam: { fullScale, start, mode, ...(slot === undefined ? {} : { slot }) },
  });
}

const onMoves = (events: readonly ReadEvent[]) =>
  events.flatMap((e) => (e.kind === "move" && e.beam?.on === true ? [e] : []));

describe.each(POSTS)("a beam program in post %s", (name) => {
  const i = input(name);
  const text = written(i);
  const program = read(i, text);

  it("keeps every rule of the language, the house and the beam, from the first line to its end", () => {
    expect(program.findings.filter((f) => f.grade === "refuse")).toEqual([]);
    expect(program.events[program.events.length - 1]?.kind).toBe("end");
    expect(verifySeal(text)).toMatchObject({ kind: "untouched" });
    for (const l of text.split("\n")) expect(l.length).toBeLessThanOrEqual(LONGEST_LINE);
  });

  it("says M5 S0 before anything else, and again behind every line number and before every stop and the end", () => {
    const lines = text.split("\n");
    expect(lines.find((l) => l !== "%" && !l.startsWith("("))).toBe("M5 S0");
    for (const [k, l] of lines.entries()) {
      if (/^N\d+ /.test(l)) expect(lines[k + 1]).toBe("M5 S0");
      if (l !== "M0") continue;
      const before = lines
        .slice(0, k)
        .reverse()
        .find((w) => !w.startsWith("(") && /^M[345]|S\d/.test(w));
      expect(before).toBe("M5 S0");
    }
    const words = lines.filter((l) => /^M[345] |S\d/.test(l) && !l.startsWith("("));
    expect(words[words.length - 1]).toBe("M5 S0");
  });

  it("has the beam on in feed moves of the planned power and speed only, over the planned length", () => {
    const on = onMoves(program.events);
    expect(on.length).toBeGreaterThan(100);
    for (const m of on) {
      expect(m.rapid).toBe(false);
      const o = i.plan.operations.find(
        (p) => Math.abs(p.power - m.beam!.power) < 1e-9 && Math.abs(p.speed - m.feed) < 1,
      )!;
      expect(o).toBeDefined();
      expect(m.to.z).toBeCloseTo(o.z, 3);
    }
    const planned = i.paths.map((p) => p.moves.filter((m) => "power" in m && m.power > 0).length);
    // Chords may make more of an arc, never fewer; whole arcs beyond three quarters of a turn are halved.
    expect(on.length).toBeGreaterThanOrEqual(planned.reduce((a, b) => a + b, 0));
  });

  it("stops for the bit to come out and laser mode, halts with the focus block, and stops again at the end", () => {
    const said = program.events.flatMap((e) => (e.kind === "comment" || e.kind === "stop" ? [e] : []));
    const before = said.flatMap((e, k) => (e.kind === "stop" ? [said[k - 1]] : []));
    const words = before.map((e) => (e?.kind === "comment" ? e.text : ""));
    expect(words).toHaveLength(3);
    expect(words[0]).toMatch(/Bit out, laser mode, head connected, eyewear 450 nm on all/);
    expect(words[1]).toMatch(/The 20 mm focus block.* must just fit under the head/);
    expect(words[2]).toMatch(/Disconnect the beam and leave laser mode before any bit/);
    const firstOn = program.events.findIndex((e) => e.kind === "move" && e.beam?.on);
    const stops = program.events.flatMap((e, k) => (e.kind === "stop" ? [k] : []));
    expect(stops.filter((k) => k < firstOn)).toHaveLength(2);
  });

  it("walks the outline at safe height with the beam off throughout", () => {
    const walk = written(i, true);
    const events = read(i, walk).events;
    expect(read(i, walk).findings.filter((f) => f.grade === "refuse")).toEqual([]);
    expect(onMoves(events)).toEqual([]);
    for (const e of events) {
      if (e.kind === "move" && !e.machine && e.to.z !== undefined)
        expect(e.to.z).toBeGreaterThanOrEqual(i.setUp.safeZ - 1e-9);
    }
    const xs = events.flatMap((e) => (e.kind === "move" && e.to.x !== undefined ? [e.to.x] : []));
    // The rows of the patch lie at 30 degrees, and their run-ups are walked.
    expect(Math.min(...xs)).toBeLessThan(20);
  });

  it("gives the same bytes again", () => {
    expect(written(input(name))).toBe(text);
  });
});

describe("the header", () => {
  const text = written(input("millimetre"));

  it("declares scale and mode, the spot's coordinates, each setting with its energy at most, and how zero is found", () => {
    expect(text).toContain(
      "S1000 is full power of the beam, M4 starts it, the controller must be in the mode in which power follows speed",
    );
    expect(text).toMatch(/X, Y and Z are those of the beam's spot at focus/);
    // 4 W at 25 mm/s is 0.16 J/mm; 4 W at 50 mm/s with lines 0.1 mm apart 0.8 J/mm².
    expect(text).toContain('"name", burned line: S400, F1500.0, 1 pass, at most 0.160 J/mm');
    expect(text).toContain("lines 0.1 mm apart, at most 0.080 J/mm, 0.800 J/mm2");
    expect(written(input("plain", { mode: "constant", start: "M3" }))).toContain(
      "power is constant, whatever the speed",
    );
  });

  it("warns of eyes, fire, fumes, materials, finish, sanding and glue", () => {
    const flat = text.replace(/\)\n\( *-? */g, " ");
    for (const words of [
      "eyewear for 450 nm on everyone in the room",
      "vacuum all chips",
      "Look again after 30 and 60 minutes",
      "Never leave it alone",
      "nothing shiny",
      "PVC, vinyl, other chlorinated or fluorinated plastics, polycarbonate, ABS, unknown films",
      "unknown finish",
      "Sand to the last grit before burning",
      "Char does not glue",
      "Fumes",
    ]) {
      expect(flat.toLowerCase()).toContain(words.toLowerCase());
    }
  });

  it("lets no name of the job change a word of the program", () => {
    const evil = { ...MARKS[0]!, feature: "a) M3 S1000 (\nM4 S1000" };
    const plan = planned(marked([evil]));
    const i: BeamWriteInput = {
      setUp: { ...plan.setUp, name: "x)\nM3 S1000" },
      paths: plan.operations.map((o) => beamPath({ ...o, title: evil.feature }, plan.setUp)),
      post: post("millimetre"),
      title: "t)\nG0 X0",
      version: "0.1.0",
    };
    const words = written(i)
      .split("\n")
      .filter((l) => !l.startsWith("("));
    expect(words.some((l) => /M3|M4 S1000|X0$/.test(l))).toBe(false);
  });
});

describe("S words", () => {
  const words = { fullScale: 255, start: "M4" } as const;

  it("are the share of the machine's own scale, with the post's decimals", () => {
    const fine = { ...post("millimetre"), beam: { starts: ["M4" as const], powerDecimals: 2 } };
    expect(powerText(0.4, { fullScale: 1000, start: "M4" }, post("millimetre"))).toBe("400");
    expect(powerText(0.333, words, post("millimetre"))).toBe("85");
    expect(powerText(0.333, words, fine)).toBe("84.92");
    expect(powerText(1, { fullScale: 1, start: "M4" }, fine)).toBe("1");
    expect(powerText(0.5, { fullScale: 1, start: "M4" }, fine)).toBe("0.5");
  });

  it("are refused where rounding would change the power", () => {
    const coarse = writeBeamProgram(input("millimetre", { fullScale: 1 }));
    expect(coarse.ok).toBe(false);
    expect(coarse.findings.map((f) => f.code)).toContain("beam-power-unsayable");
    const scaled = written(input("millimetre", { fullScale: 255 }));
    expect(scaled).toContain("S102");
  });

  it("stand on the burning line itself; the pen refuses a rapid or a burn at the wrong time", () => {
    const lines: string[] = [];
    const pen = beamPenFor(post("millimetre"), { fullScale: 1000, start: "M4" }, 5, lines);
    pen.off();
    pen.rapidXY(1, 2);
    pen.rapidZ(5);
    const burn = { kind: "line", to: { x: 3, y: 2, z: 0 }, feed: 600, power: 0.5 } as const;
    expect(() => pen.move(burn)).toThrow(RangeError);
    pen.arm();
    pen.move({ kind: "line", to: { x: 1, y: 2, z: 0 }, feed: 600, power: 0 });
    pen.move(burn);
    expect(() => pen.rapidZ(5)).toThrow(RangeError);
    expect(() => pen.rapidXY(0, 0)).toThrow(RangeError);
    pen.off();
    pen.rapidZ(5);
    expect(lines).toEqual([
      "M5 S0",
      "G0 X1.0 Y2.0",
      "G0 Z5.0",
      "M4 S0",
      "G1 Z0.0 F600.0",
      "G1 X3.0 S500",
      "M5 S0",
      "G0 Z5.0",
    ]);
  });
});

describe("an outline walk with a visible pilot", () => {
  it("shows it in feed moves round the drawn marks only, never above what the shop says", () => {
    const i = input("millimetre", { pilot: 0.01 });
    const walk = written(i, true);
    const program = read(i, walk);
    expect(program.findings.filter((f) => f.grade === "refuse")).toEqual([]);
    const on = onMoves(program.events);
    expect(on).toHaveLength(4 * 4);
    for (const m of on) expect(m.beam!.power).toBeLessThanOrEqual(0.01);
    expect(walk).toContain("OUTLINE WALK");
    expect(walk).toContain("Eyewear on");
  });
});

describe("a post that does not fit", () => {
  it("says nothing of beams, knows another start, or has a table the head is not in", () => {
    const { beam, ...mute } = post("millimetre");
    expect(beam).toEqual({ starts: ["M3", "M4"], powerDecimals: 0 });
    const refusals = (i: BeamWriteInput) => writeBeamProgram(i).findings.map((f) => f.what);
    const i = input("millimetre");
    expect(refusals({ ...i, post: mute })).toEqual([expect.stringContaining("says nothing of a beam")]);
    expect(refusals({ ...i, post: { ...mute, beam: { starts: ["M3"], powerDecimals: 0 } } })).toEqual([
      expect.stringContaining("never writes M4"),
    ]);
    const { slot, ...headless } = LASER;
    expect(slot).toBe(20);
    expect(refusals({ ...i, setUp: { ...i.setUp, laser: headless } })).toEqual([expect.stringContaining("tool table")]);
    expect(writeBeamProgram({ ...i, paths: [] }).findings.map((f) => f.code)).toEqual(["nothing-to-write"]);
  });

  it("is refused when its beam key is wrong", () => {
    const wrong = (from: string, to: string) => {
      const text = postText("millimetre");
      expect(text).toContain(from);
      const result = readPost(text.replace(from, to), "millimetre.yaml");
      return result.ok ? [] : result.findings.map((f) => f.code);
    };
    expect(wrong("starts: [M3, M4]", "starts: [M5]")).toEqual(["post-wrong-value"]);
    expect(wrong("power decimals: 0", "power decimals: 9")).toEqual(["post-wrong-value"]);
    expect(wrong("power decimals: 0", "power decimal: 0").length).toBeGreaterThan(0);
  });
});

describe("passes", () => {
  it("repeat in the text what the setting asks for", () => {
    expect(BURNS[3]!.passes).toBe(2);
    expect(written(input("millimetre"))).toMatch(/cut through with the beam: S1000, F300\.0, 2 passes/);
  });
});
