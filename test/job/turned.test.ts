import { describe, expect, it } from "vitest";
import { readJob } from "../../src/job/read-job.ts";
import type { ElementDescription, TurnedDescription } from "../../src/job/turned.ts";
import { radiiAt } from "../../src/shapes/meridian.ts";
import { PULLS, pieces, readPulls } from "../parts/turning/sample.ts";

const HEAD = "title: x\nunits: mm\nmeasured:\n  tail size: 12\nparts:\n  pull:\n";

function pull(lines: string, files: Readonly<Record<string, string>> = {}): TurnedDescription {
  return readPulls(`${HEAD}${lines}`, files).turned![0]!;
}

function element(text: string, files: Readonly<Record<string, string>> = {}): ElementDescription {
  const item = text
    .split("\n")
    .map((l, i) => (i === 0 ? `          - ${l}` : `            ${l}`))
    .join("\n");
  const one = pull(
    `    blank: {wood: ash, length: 150, square: 40}\n    features:\n      - turning: profile\n        elements:\n${item}\n`,
    files,
  );
  return one.profile.elements[0]!;
}

const MM = (mm: number) => ({ kind: "mm", mm });

describe("the sample of two pulls", () => {
  const [barrel, waisted] = readPulls().turned!;

  it("is read whole, with its defaults", () => {
    expect(barrel).toMatchObject({
      name: "barrel pull",
      wood: "cherry",
      copies: 1,
      blank: { length: 190, across: 60, shape: "square" },
      squareEnds: { first: 22, second: 22 },
      turnedBy: "machine",
      profile: { name: "profile", half: true, pulls: 1, endWaste: MM(5), parting: MM(6) },
      fingerRoom: {
        name: "finger room",
        cut: "crown",
        width: 58,
        roomBehind: 16,
        hook: 11,
        shape: { kind: "slot" },
        wallLeanDeg: 6,
        dished: 0,
        insideRadius: 3,
        ease: 1.5,
        leastWall: 3,
        leastLipAngleDeg: 40,
        cutter: "6 mm round-nose",
      },
      split: { by: "saw", kerf: 1.2, wander: 0.5, truing: 0.5 },
    });
    expect(barrel!.profile.elements[1]).toMatchObject({ kind: "bead", length: MM(8), diameter: 46, from: 38, to: 38 });
    expect(waisted).toMatchObject({
      blank: { length: 170, across: 60, shape: "round" },
      squareEnds: { first: 0, second: 0 },
      turnedBy: "hand",
      fingerRoom: {
        cut: "back",
        fingers: 2,
        hand: "small",
        roomBehind: 12,
        centreAt: 71,
        shape: { kind: "rounded rectangle", radius: 6 },
        opensOver: "crown side",
        dished: 1.5,
        insideRadius: 3,
      },
      split: { by: "paper joint", kerf: 0, wander: 0, truing: 0.2 },
    });
    expect(waisted!.fingerRoom!.width).toBeUndefined();
  });

  it("keeps the place of every value", () => {
    const bead = barrel!.profile.elements[1]!;
    expect(bead.source).toMatchObject({ text: expect.stringContaining("- bead:"), column: 13, length: 4 });
    expect(bead.sources.diameter).toMatchObject({ length: 2, column: expect.any(Number) });
    expect(barrel!.fingerRoom!.sources.hook!.text).toContain("hook: 11");
    expect(barrel!.sources["square ends"]!.text).toContain("square ends: 22");
  });

  it("leaves flat parts and their jobs alone", () => {
    const flat = readJob(
      "title: x\nunits: mm\nparts:\n  a:\n    blank: {wood: ash, length: 9, width: 9, thickness: 9}\n",
      "a.yaml",
      () => undefined,
    );
    if (!flat.ok) throw new Error("it is right");
    expect("turned" in flat.value).toBe(false);
    expect(readPulls().parts).toEqual([]);
  });
});

describe("elements may be written", () => {
  it("between braces or on lines of their own, with or without a name", () => {
    const bead = { kind: "bead", length: MM(8), diameter: 30 };
    expect(element("bead: {length: 8, diameter: 30}")).toMatchObject({ ...bead, name: "bead" });
    expect(element("bead: {name: foot bead, length: 8 mm, diameter: 3 cm}")).toMatchObject({
      ...bead,
      name: "foot bead",
    });
    expect(element("bead: foot bead\nlength: 8\ndiameter: 30")).toMatchObject({ ...bead, name: "foot bead" });
    expect(element("bead:\nlength: 8\ndiameter: 30")).toMatchObject({ ...bead, name: "bead" });
    expect(element("Bead:\n  length: 8\n  diameter: 30")).toMatchObject(bead);
  });

  it("with sizes fixed, shared or by formula", () => {
    expect(element("tenon: {length: = tail size + 2, diameter: = tail size - 2 mm}")).toMatchObject({
      length: MM(14),
      diameter: 10,
    });
    expect(element("cylinder: {length: 1.5 shares, diameter: 3/4 of blank}")).toMatchObject({
      length: { kind: "shares", shares: 1.5 },
      diameter: 30,
    });
    expect(element("cylinder: {length: 1 share, diameter: 80 % of the blank}")).toMatchObject({ diameter: 32 });
    expect(element('cylinder: {length: 1/2 in, diameter: 1 1/4"}')).toMatchObject({
      length: MM(12.7),
      diameter: 31.75,
    });
  });

  it("by the names that turners give them", () => {
    expect(element("cove: {length: 8, diameter: 14, from: 22, to: 20}")).toMatchObject({
      kind: "cove",
      from: 22,
      to: 20,
    });
    expect(element("scotia: {length: 8, diameter: 14}")).toMatchObject({ kind: "cove" });
    expect(element("round-over: {length: 5, from: 30, to: 24}")).toMatchObject({
      kind: "round-over",
      from: 30,
      to: 24,
    });
    expect(element("ovolo: {radius: 5, from: 30}")).toMatchObject({
      kind: "round-over",
      length: MM(5),
      from: 30,
      to: 20,
    });
    expect(element("round over: {radius: 5, to: 30}")).toMatchObject({ from: 20, to: 30 });
    expect(element("vee: {length: 4, diameter: 30, depth: 1.5}")).toMatchObject({ diameter: 30, bottom: 27 });
    expect(element("vee: {length: 4, diameter: 30}")).not.toHaveProperty("bottom");
    expect(element("ogee: {length: 12, from: 30, to: 20}")).toMatchObject({ ends: "level" });
    expect(element("taper: {length: 12, to: 20}")).not.toHaveProperty("from");
    expect(element("spigot: {length: 12, diameter: 10}")).toMatchObject({ kind: "tenon" });
  });
});

describe("a profile from a drawing", () => {
  const svg = (path: string): string =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50">${path}</svg>`;
  const drawn = (path: string, more = "") => element(`path: {drawing: pull.svg${more}}`, { "pull.svg": svg(path) });

  it("keeps its arcs, begins at 0 and runs above the page's lower edge, whichever way it was drawn", () => {
    const wanted = {
      kind: "path",
      segments: [
        { kind: "line", from: { x: 0, y: 10 }, to: { x: 20, y: 10 } },
        { kind: "arc", from: { x: 20, y: 10 }, to: { x: 40, y: 10 }, centre: { x: 30, y: 10 }, ccw: false },
        { kind: "line", from: { x: 40, y: 10 }, to: { x: 40, y: 15 } },
        { kind: "line", from: { x: 40, y: 15 }, to: { x: 60, y: 15 } },
      ],
    };
    const round = (e: ElementDescription) =>
      JSON.parse(JSON.stringify(e, (_, v) => (typeof v === "number" ? Math.round(v * 1e6) / 1e6 : v)));
    expect(round(drawn('<path d="M10 40 H30 A10 10 0 0 1 50 40 V35 H70"/>'))).toMatchObject(wanted);
    expect(round(drawn('<path d="M70 35 H50 V40 A10 10 0 0 0 30 40 H10"/>'))).toMatchObject(wanted);
    const two = '<path id="a" d="M10 40 H30"/><path id="b" class="profile" d="M10 40 H30 A10 10 0 0 1 50 40 V35 H70"/>';
    expect(round(drawn(two, ", id: b"))).toMatchObject(wanted);
    expect(round(drawn(two, ", class: profile"))).toMatchObject(wanted);
  });

  it("forgives what rounding leaves: radii about nothing, steps back of less than a thousandth", () => {
    const found = drawn('<path d="M10 50.0004 A10 10 0 0 1 30 50.0004 V40 H29.9996 V35 L60 30"/>');
    if (found.kind !== "path") throw new Error("a path was described");
    expect(found.segments[0]!.from).toEqual({ x: 0, y: 0 });
    for (const s of found.segments) expect(s.to.x).toBeGreaterThanOrEqual(s.from.x);
    expect(found.segments[found.segments.length - 1]!.to.y).toBeCloseTo(20, 9);
  });

  it("stands in half profiles, mirrored with its arcs", () => {
    const text = `${HEAD}    blank: {wood: ash, length: 120, square: 40}\n    features:\n      - turning: profile\n        half profile: yes\n        elements:\n          - path: {drawing: pull.svg}\n`;
    const [piece] = pieces(text, { "pull.svg": svg('<path d="M10 40 H30 A10 10 0 0 1 50 40 V35 H70"/>') });
    const { segments } = piece!.meridian;
    expect(segments.filter((s) => s.kind === "arc")).toHaveLength(2);
    for (const x of [5, 25, 31.7, 45, 59]) {
      expect(radiiAt(piece!.meridian, x)!.most).toBeCloseTo(radiiAt(piece!.meridian, 120 - x)!.most, 9);
    }
    expect(radiiAt(piece!.meridian, 30)!.most).toBeCloseTo(20, 9);
  });

  it("is refused where it is none, at the line that names it", () => {
    const codes = (path: string, more = ""): readonly string[] => {
      const text = `${HEAD}    blank: {wood: ash, length: 150, square: 40}\n    features:\n      - turning: profile\n        elements:\n          - path: {drawing: pull.svg${more}}\n`;
      const r = readJob(text, "pulls.yaml", (p) => (p === "pull.svg" ? svg(path) : undefined));
      return r.findings.map((f) => `${f.code} ${f.place.source?.file}:${f.place.source?.line}`);
    };
    expect(codes('<path d="M10 40 H30 A10 10 0 0 1 50 40 Z"/>', ", id: x")).toEqual([
      "drawing-no-such-outline pulls.yaml:11",
    ]);
    expect(codes('<path id="x" d="M10 40 H30 V20 Z"/>', ", id: x")).toEqual(["drawing-not-open pulls.yaml:11"]);
    expect(codes('<path d="M10 40 H30"/><path d="M10 30 H30"/>')).toEqual(["drawing-several-outlines pulls.yaml:11"]);
    expect(codes('<rect x="1" y="1" width="5" height="5"/>')).toEqual(["drawing-nothing-usable pulls.yaml:11"]);
    expect(codes('<path d="M10 40 H50 H30 H60"/>')).toEqual(["turned-path pulls.yaml:11"]);
    expect(codes('<path d="M10 40 A12 12 0 1 1 20 40 H40"/>')).toEqual(["turned-path pulls.yaml:11"]);
    expect(codes('<path d="M10 40 L50 52 H60"/>')).toEqual(["turned-path pulls.yaml:11"]);
    expect(codes("<path")).toEqual(["drawing-not-svg pulls.yaml:11"]);
  });
});

describe("what else a turned part says", () => {
  const TURNING =
    "    features:\n      - turning: profile\n        elements:\n          - cylinder: {length: 150, diameter: 40}\n";
  const beside = (lines: string, square = "square: 50") =>
    pull(`    blank: {wood: ash, length: 150, ${square}}\n${lines}${TURNING}`);

  it("readings off the lathe, in order along the axis", () => {
    const list = beside("    as turned: [40.2 at 100 from second end, 39.8 at 20, 1 5/8 in at 75 mm]\n").asTurned!;
    expect(list).toMatchObject({ with: "unsaid" });
    expect(list.readings.map((r) => [r.at, r.diameter])).toEqual([
      [20, 39.8],
      [50, 40.2],
      [75, 41.275],
    ]);
    expect(list.readings[0]!.source.text).toContain("39.8 at 20");
    const said = beside(
      "    as turned:\n      with: callipers\n      error: 0.03\n      readings:\n        - 40 at 20\n",
    ).asTurned!;
    expect(said).toMatchObject({ with: "calipers", error: 0.03, readings: [{ at: 20, diameter: 40 }] });
  });

  it("square ends alike, unlike, or round already", () => {
    expect(beside("    square ends: 18\n").squareEnds).toEqual({ first: 18, second: 18 });
    expect(beside("    square ends: {first end: 18, second end: 0}\n").squareEnds).toEqual({ first: 18, second: 0 });
    for (const text of ["ends already round", "already round", "none"]) {
      expect(beside(`    square ends: ${text}\n`, "diameter: 50").squareEnds).toEqual({ first: 0, second: 0 });
    }
  });

  it("how it is held, and where zero is", () => {
    const cradled = beside(
      "    zero spot: notch at the first end\n    zero: left front corner, top\n    cradles:\n      left: {at: 30 from first end, carries: 18, caul height: 25}\n      right: {at: 30 from second end, carries: 18, seat: 9, caul height: 25}\n",
    );
    expect(cradled.zeroSpot).toBe("notch at the first end");
    expect(cradled.wishes).toEqual({
      zeroCorner: "left front",
      zeroZ: "top",
      holding: {
        by: "cradles",
        cradles: [
          { name: "left", at: 30, along: 18, caulHeight: 25 },
          { name: "right", at: 120, along: 18, caulHeight: 25, seat: 9 },
        ],
      },
    });
    expect(beside("    held by: jaws\n").wishes).toEqual({ holding: { by: "jaws", jaws: [] } });
    const jaws = beside("    jaws: {left: {at: 11 from first end, grips: 20, thickness: 18, height: 15}}\n");
    expect(jaws.wishes.holding).toEqual({
      by: "jaws",
      jaws: [{ name: "left", at: 11, along: 20, thickness: 18, height: 15 }],
    });
  });

  it("near names are asked for", () => {
    const mends = (text: string): string =>
      readJob(text, "x.yaml", () => undefined)
        .findings.map((f) => f.mend)
        .join("\n");
    expect(mends(PULLS.replace("room behind: 16", "room behnd: 16"))).toContain('do you mean "room behind"?');
    expect(mends(PULLS.replace("square ends: 22", "squre ends: 22"))).toContain('do you mean "square ends"?');
    expect(mends(PULLS.replace("{length: 3, diameter: 34}", "{lenght: 3, diameter: 34}"))).toContain(
      'do you mean "length"?',
    );
    expect(mends(PULLS.replace("half profile", "half profil"))).toContain('do you mean "half profile"?');
  });
});
