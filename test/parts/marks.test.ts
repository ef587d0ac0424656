import { describe, expect, it } from "vitest";
import type { Feature } from "../../src/job/job.ts";
import type { MarkContent, MarkFeature, MarkMade } from "../../src/job/mark.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { boundsOfInk } from "../../src/parts/marks/ink.ts";
import type { Mark } from "../../src/parts/marks/mark.ts";
import type { Workpiece } from "../../src/parts/workpiece.ts";
import { circle } from "../../src/shapes/outlines.ts";
import { greyPicture } from "../../src/shapes/picture/grey-picture.ts";
import { areaOf } from "../../src/shapes/region.ts";
import { line } from "../../src/shapes/segment.ts";
import { at, feature, from, job, part } from "./describing.ts";

const BURNED: MarkMade = { by: "burned line" };
const AREA: MarkMade = { by: "burned area", angleDeg: 0, ways: "one", contour: true };
const drawing = { kind: "drawing", file: "x.svg" } as const;

/** A flag about its own middle: 20 by 10 mm, its staff at the left, so that no turn or mirror image of it is like it. */
const FLAG: MarkContent = {
  kind: "lines",
  chains: [
    [line({ x: -10, y: -5 }, { x: -10, y: 5 }), line({ x: -10, y: 5 }, { x: 10, y: 2 })],
    [line({ x: 10, y: 2 }, { x: -10, y: 0 })],
  ],
  from: drawing,
};
const DISC: MarkContent = { kind: "area", region: circle({ x: 0, y: 0 }, 4), from: drawing };

function mark(more: Partial<MarkFeature> = {}, on: Feature["on"] = "face", name = "sign"): Feature {
  const body: MarkFeature = {
    kind: "mark",
    content: FLAG,
    made: BURNED,
    at: [from(50, "first end"), from(20, "lower edge")],
    turnedDeg: 0,
    ...more,
  };
  return feature(name, 9, body, { on, lines: { "centre at": 10 } });
}

function made(features: readonly Feature[], more: Parameters<typeof part>[1] = {}) {
  return describeWorkpieces(job([part(features, more)]));
}

function all(features: readonly Feature[], more: Parameters<typeof part>[1] = {}): readonly Workpiece[] {
  const r = made(features, more);
  if (!r.ok) throw new Error(r.findings.map((f) => `${f.code}: ${f.what}; ${f.why}`).join("\n"));
  return r.value;
}

function box(m: Mark | undefined) {
  const b = m && boundsOfInk(m.ink);
  return b && [b.min.x, b.min.y, b.max.x, b.max.y].map((v) => Math.round(v * 1e6) / 1e6);
}

describe("a mark on a face", () => {
  it("stands with its middle at its place, its arcs kept", () => {
    const [w] = all([
      mark(),
      mark({ content: DISC, made: AREA, at: [from(150, "first end"), from(30, "lower edge")] }, "face", "disc"),
    ]);
    expect(box(w!.marks![0])).toEqual([40, 15, 60, 25]);
    const disc = w!.marks![1]!;
    if (disc.ink.kind !== "area") throw new Error(disc.ink.kind);
    expect(disc.ink.region.loops[0]!.every((s) => s.kind === "arc")).toBe(true);
    expect(areaOf(disc.ink.region)).toBeCloseTo(Math.PI * 16, 9);
    expect(w!.cavities).toEqual([]);
  });

  it("turns about its middle, and reaches to near and far edges as turned", () => {
    const at90 = [from(8, "first end", "near edge"), from(30, "lower edge", "far edge")] as const;
    const [w] = all([mark({ turnedDeg: 90, at: at90 })]);
    expect(box(w!.marks![0])).toEqual([8, 10, 18, 30]);
    const first = w!.marks![0]!.ink;
    // The staff, drawn upwards at the left, lies along the foot of it, drawn to the left.
    if (first.kind !== "lines") throw new Error(first.kind);
    const staff = first.chains[0]![0]!;
    expect([staff.from.x, staff.from.y, staff.to.x, staff.to.y].map((v) => Math.round(v))).toEqual([18, 10, 8, 10]);
  });

  it("reads the same on the part's mirror image, at the mirrored place", () => {
    const [own, twin] = all([mark()], { mirroredAs: "right side" });
    expect(box(own!.marks![0])).toEqual([40, 15, 60, 25]);
    expect(box(twin!.marks![0])).toEqual([140, 15, 160, 25]);
    const staff = (w: Workpiece) => {
      const { ink } = w.marks![0]!;
      return ink.kind === "lines" ? ink.chains[0]![0]!.from.x : Number.NaN;
    };
    expect(staff(own!)).toBeCloseTo(40, 9);
    expect(staff(twin!)).toBeCloseTo(140, 9);
  });

  it("stands midway where that is said, on the twin too", () => {
    const at = [from(0, "first end"), from(20, "lower edge")] as const;
    const [own, twin] = all([mark({ at, midway: ["first end"] })], { mirroredAs: "right side" });
    expect(box(own!.marks![0])).toEqual([90, 15, 110, 25]);
    expect(box(twin!.marks![0])).toEqual([90, 15, 110, 25]);
  });

  it("runs as a straight line between two places, on any face", () => {
    const ends = {
      at: [from(30, "first end"), from(3, "face")],
      to: [from(20, "second end"), from(2, "back")],
    } as const;
    const [w] = all([mark({ ...ends, content: { kind: "lines", chains: [], from: { kind: "line" } } }, "lower edge")]);
    const { ink, face } = w!.marks![0]!;
    expect(face).toBe("lower edge");
    if (ink.kind !== "lines") throw new Error(ink.kind);
    expect(ink.chains).toEqual([[line({ x: 30, y: 9 }, { x: 180, y: 2 })]]);
  });

  it("keeps a picture's corner and turn", () => {
    const content = {
      kind: "picture",
      grey: greyPicture(4, 2, new Float32Array(8)),
      width: 20,
      height: 10,
      from: drawing,
    } as const;
    const [w] = all([mark({ content, turnedDeg: 90, made: { by: "burned picture", tones: "ordered" } })]);
    const { ink } = w!.marks![0]!;
    if (ink.kind !== "picture") throw new Error(ink.kind);
    expect(ink).toMatchObject({ width: 20, height: 10, turnedDeg: 90 });
    expect([ink.corner.x, ink.corner.y]).toEqual([expect.closeTo(55, 9), expect.closeTo(10, 9)]);
    expect(box(w!.marks![0])).toEqual([45, 10, 55, 30]);
  });
});

describe("marks that cannot stand where they are", () => {
  const codes = (features: readonly Feature[], more: Parameters<typeof part>[1] = {}) =>
    made(features, more).findings.map((f) => `${f.grade} ${f.code} ${f.place.source?.line}`);
  const recess = feature("pit", 5, {
    kind: "recess",
    shape: { kind: "circle", diameter: 8 },
    at: [from(50, "first end"), from(20, "lower edge")],
    turnedDeg: 0,
    depth: { kind: "to", depth: 3 },
    wallLeanDeg: 0,
  });
  const hole = feature(
    "peg",
    6,
    {
      kind: "hole",
      diameter: 5,
      depth: { kind: "through" },
      centres: [[from(150, "first end"), from(30, "lower edge")]],
      head: { kind: "plain" },
    },
    { on: "back" },
  );

  it("run over the border by how much, and whether they fit at all", () => {
    const r = made([mark({ at: [from(196, "first end"), from(20, "lower edge")] })]);
    expect(r.findings[0]).toMatchObject({
      grade: "refuse",
      code: "mark-off-the-face",
      measured: { value: expect.closeTo(6, 9) },
      mend: expect.stringContaining("move it inwards"),
    });
    expect(made([mark({}, "first end")], { size: { length: 200, width: 15, thickness: 12 } }).findings[0]!.code).toBe(
      "part-place-unclear",
    );
    const small = made([mark({ at: [from(6, "lower edge"), from(6, "face")] }, "first end")], {
      size: { length: 200, width: 15, thickness: 12 },
    });
    expect(small.findings[0]).toMatchObject({
      code: "mark-off-the-face",
      mend: expect.stringContaining("larger than the face"),
    });
  });

  it("lie over a recess of their face, or a hole that comes through to it", () => {
    expect(codes([recess, mark()])).toEqual(["refuse mark-in-hollow 10"]);
    expect(codes([recess, mark({}, "back")])).toEqual([]);
    const disc = { content: DISC, made: AREA, at: [from(150, "first end"), from(30, "lower edge")] } as const;
    // The hole is bored from the back, and comes out beneath the disc.
    expect(codes([hole, mark(disc)])).toEqual(["refuse mark-in-hollow 10"]);
    expect(codes([hole, mark({ ...disc, at: [from(150, "first end"), from(40, "lower edge")] })])).toEqual([]);
  });

  it("lie over the part's own outline", () => {
    const outline = feature("shape", 7, {
      kind: "outline",
      side: "outside",
      shape: { kind: "slot", length: 180, width: 40 },
      at: [from(100, "first end"), from(30, "lower edge")],
      turnedDeg: 0,
      hold: { kind: "skin", thickness: 0.5 },
    });
    expect(codes([outline, mark()])).toEqual([]);
    expect(codes([outline, mark({ at: [from(20, "first end"), from(18, "lower edge")] })])).toEqual([
      "refuse mark-in-hollow 10",
    ]);
  });
});

describe("copies marked each in its own way", () => {
  const each = [FLAG, DISC, FLAG];
  const names = { copies: 3, each: [{ name: "cinnamon" }, { name: "cloves" }, { name: "cumin" }] };
  const bore = feature("peg", 6, {
    kind: "hole",
    diameter: 5,
    depth: { kind: "through" },
    centres: [[from(150, "first end"), from(30, "lower edge")]],
    head: { kind: "plain" },
  });

  it("share what is cut, and become a workpiece each for what is burned", () => {
    const ws = all(
      [bore, mark({ each }), mark({ at: [from(100, "first end"), from(30, "lower edge")] }, "face", "shared")],
      names,
    );
    expect(ws.map((w) => [w.name, w.copies ?? 1, w.cavities.length, (w.marks ?? []).map((m) => m.feature)])).toEqual([
      ["left side", 3, 1, []],
      ["left side, cinnamon", 1, 0, ["shared", "sign"]],
      ["left side, cloves", 1, 0, ["shared", "sign"]],
      ["left side, cumin", 1, 0, ["shared", "sign"]],
    ]);
    expect(ws.slice(1).map((w) => w.pieces[0]!.copy)).toEqual([1, 2, 3]);
    expect(box(ws[2]!.marks![1])).toEqual([46, 16, 54, 24]);
  });

  it("are the only workpieces where nothing is cut, and stay one where all are marked alike", () => {
    expect(all([mark({ each })], { copies: 3 }).map((w) => w.name)).toEqual([
      "left side, copy 1",
      "left side, copy 2",
      "left side, copy 3",
    ]);
    expect(all([mark()], { copies: 3 }).map((w) => [w.name, w.copies])).toEqual([["left side", 3]]);
  });

  it("are refused once, whichever copy it is", () => {
    const far = { at: [from(195, "first end"), from(30, "lower edge")] } as const;
    expect(made([mark({ each, ...far })], names).findings.map((f) => [f.code, f.what])).toEqual([
      ["mark-off-the-face", expect.stringContaining("of copy 1")],
    ]);
    expect(made([mark({ each: [DISC, FLAG, DISC], ...far })], names).findings.map((f) => f.what)).toEqual([
      expect.stringContaining("of copy 2"),
    ]);
  });

  it("are told once of what they have in common", () => {
    const over = { at: [from(150, "first end"), from(30, "lower edge")] } as const;
    const r = made([bore, mark({ each, ...over }), mark(over, "face", "shared")], names);
    expect(r.findings.map((f) => [f.code, f.place.feature])).toEqual([
      ["mark-in-hollow", "shared"],
      ["mark-in-hollow", "sign"],
    ]);
  });

  it("lie each at its own place on a board", () => {
    const outline = feature("shape", 7, {
      kind: "outline",
      side: "outside",
      shape: { kind: "blank", radius: 0 },
      turnedDeg: 0,
      hold: { kind: "skin", thickness: 0.5 },
    });
    const place = (x: number, y: number, turned: number) => ({
      part: "left side",
      at: { x, y },
      turned,
      source: at(30),
    });
    const board = {
      name: "sheet",
      wood: "ash",
      size: { length: 600, width: 300, thickness: 12 },
      grain: "along length",
      places: [place(20, 20, 0), place(400, 20, 90)],
      wishes: {},
      source: at(29),
    } as const;
    const r = describeWorkpieces(job([part([outline, mark({ each: [FLAG, DISC] })], { copies: 2 })], [board]));
    if (!r.ok) throw new Error(r.findings.map((f) => f.what).join());
    const [w] = r.value;
    expect(w!.marks!.map((m) => m.id)).toEqual(["left side/sign", "left side 2/sign"]);
    expect(box(w!.marks![0])).toEqual([60, 35, 80, 45]);
    // Turned about its corner at (400, 20): (50, 20) comes to (380, 70).
    expect(box(w!.marks![1])).toEqual([376, 66, 384, 74]);
  });
});
