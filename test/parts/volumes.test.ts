import Module from "manifold-3d";
import { beforeAll, describe, expect, it } from "vitest";
import type { FaceName } from "../../src/job/board.ts";
import type { Feature } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { faceExtent, faceFrame } from "../../src/parts/faces.ts";
import { volumeOfTarget } from "../../src/parts/section.ts";
import type { Target } from "../../src/parts/target.ts";
import { targetFor } from "../../src/parts/target-for.ts";
import type { Workpiece } from "../../src/parts/workpiece.ts";
import { feature, from, groove, job, part, SIZE, spot } from "./describing.ts";

const BLANK = SIZE.length * SIZE.width * SIZE.thickness;

function workpiece(features: readonly Feature[]): Workpiece {
  const found = describeWorkpieces(job([part(features)]));
  if (!found.ok) throw new Error(JSON.stringify(found.findings));
  return found.value[0]!;
}

function targetOn(w: Workpiece, face: FaceName): Target {
  const { u, v, deep } = faceExtent(w.size, face);
  const blank = { min: { x: 0, y: 0, z: -deep }, max: { x: u, y: v, z: 0 } };
  return targetFor(
    w,
    w.cavities.filter((c) => c.face === face),
    faceFrame(w.size, face),
    blank,
  );
}

function taken(features: readonly Feature[], face: FaceName = "face"): number {
  return BLANK - volumeOfTarget(targetOn(workpiece(features), face));
}

const to = (depth: number) => ({ kind: "to", depth }) as const;

describe("volumes taken, against closed forms", () => {
  const near = (found: number, exact: number) => expect(Math.abs(found - exact)).toBeLessThan(1e-3 * exact);

  it("through groove: length × width × depth of the part", () => {
    near(taken([groove("g", 1, { width: 6.4, depth: 4 })]), 200 * 6.4 * 4);
  });

  it("groove stopped round at one end and at both: the stop is its farthest point", () => {
    const r = 3;
    near(taken([groove("g", 1, { first: 12 })]), ((200 - 12 - r) * 6 + (Math.PI * r * r) / 2) * 4);
    near(taken([groove("g", 1, { first: 12, second: 20 })]), ((200 - 32 - 2 * r) * 6 + Math.PI * r * r) * 4);
  });

  it("groove stopped square", () => {
    near(taken([groove("g", 1, { first: 12, second: 20, ends: "square" })]), (200 - 32) * 6 * 4);
  });

  it("slanting groove out of two borders: a parallelogram", () => {
    const g = feature("g", 1, {
      kind: "groove",
      run: { kind: "between", start: spot(60, 0), end: spot(90, 60) },
      width: 6,
      depth: to(4),
      ends: "round",
    });
    near(taken([g]), 6 * Math.hypot(30, 60) * 4);
  });

  it("rabbets, through and stopped", () => {
    const rabbet = (stops: { first?: number }) =>
      feature("r", 1, { kind: "rabbet", along: "upper edge", width: 7, depth: to(5), stops });
    near(taken([rabbet({})]), 200 * 7 * 5);
    near(taken([rabbet({ first: 30 })]), 170 * 7 * 5);
  });

  it("slot, circle and rounded rectangle, turned", () => {
    const recess = (shape: Extract<Feature, { kind: "recess" }>["shape"], turnedDeg = 0, wallLeanDeg = 0) =>
      feature("f", 1, { kind: "recess", shape, at: spot(100, 30), turnedDeg, depth: to(5), wallLeanDeg });
    near(taken([recess({ kind: "slot", length: 40, width: 12 }, 30)]), (28 * 12 + Math.PI * 36) * 5);
    near(taken([recess({ kind: "circle", diameter: 25 })]), Math.PI * 12.5 ** 2 * 5);
    near(
      taken([recess({ kind: "rounded rectangle", length: 40, width: 20, radius: 4 }, 90)]),
      (40 * 20 - (4 - Math.PI) * 16) * 5,
    );
    near(taken([recess({ kind: "oval", length: 40, width: 20 })]), Math.PI * 20 * 10 * 5);
  });

  it("sloped walls: a frustum, and a round inset of a rectangle with sharp corners", () => {
    const tan = Math.tan(Math.PI / 6);
    const cone = feature("f", 1, {
      kind: "recess",
      shape: { kind: "circle", diameter: 30 },
      at: spot(100, 30),
      turnedDeg: 0,
      depth: to(6),
      wallLeanDeg: 30,
    });
    const r2 = 15 - 6 * tan;
    near(taken([cone]), (Math.PI * 6 * (15 * 15 + 15 * r2 + r2 * r2)) / 3);
    const tray = feature("f", 1, {
      kind: "recess",
      shape: { kind: "rounded rectangle", length: 60, width: 30, radius: 0 },
      at: spot(100, 30),
      turnedDeg: 0,
      depth: to(6),
      wallLeanDeg: 30,
    });
    const d = 6 * tan;
    // ∫ (60 − 2h·tan)(30 − 2h·tan) dh: insets of a rectangle keep sharp corners.
    near(taken([tray]), 6 * (60 * 30 - 90 * d + (4 * d * d) / 3));
  });

  it("holes: plain, countersunk, counterbored", () => {
    const hole = (head: Extract<Feature, { kind: "hole" }>["head"]) =>
      feature("h", 1, { kind: "hole", diameter: 4, depth: to(9), centres: [spot(50, 30), spot(80, 30)], head });
    near(taken([hole({ kind: "plain" })]), 2 * Math.PI * 4 * 9);
    near(taken([hole({ kind: "counterbored", diameter: 9, depth: 3 })]), 2 * Math.PI * (20.25 * 3 + 4 * 6));
    const cone = (Math.PI * 2 * (16 + 8 + 4)) / 3;
    near(taken([hole({ kind: "countersunk", headDiameter: 8, includedAngle: 90 })]), 2 * (cone + Math.PI * 4 * 7));
  });

  it("mortise in an edge", () => {
    const m = feature(
      "m",
      1,
      {
        kind: "mortise",
        length: 30,
        width: 5,
        depth: to(20),
        at: [from(60, "first end"), from(6, "back")],
        turnedDeg: 0,
      },
      { on: "lower edge" },
    );
    near(taken([m], "lower edge"), (25 * 5 + Math.PI * 6.25) * 20);
  });
});

describe("volumes against an independent solid library", () => {
  let wasm: Awaited<ReturnType<typeof Module>>;
  beforeAll(async () => {
    wasm = await Module();
    wasm.setup();
  });

  it("agrees within 0.5 % of what is taken, for a part with everything", () => {
    const w = workpiece([
      groove("bottom", 1, { from: from(5, "lower edge", "near edge"), width: 4.2, first: 14 }),
      feature("back", 2, { kind: "rabbet", along: "second end", width: 8, depth: to(6), stops: {} }),
      feature("tray", 3, {
        kind: "recess",
        shape: { kind: "slot", length: 50, width: 16 },
        at: spot(60, 40),
        turnedDeg: 12,
        depth: to(5),
        wallLeanDeg: 20,
      }),
      feature("screws", 4, {
        kind: "hole",
        diameter: 4,
        depth: { kind: "through" },
        centres: [spot(130, 30), spot(150, 30)],
        head: { kind: "countersunk", headDiameter: 8, includedAngle: 82 },
      }),
    ]);
    const { Manifold, CrossSection } = wasm;
    const box = (x0: number, y0: number, z0: number, x1: number, y1: number): InstanceType<typeof Manifold> =>
      Manifold.cube([x1 - x0, y1 - y0, 20], false).translate([x0, y0, z0]);
    const round = (x: number, y: number, z: number, low: number, high: number, tall = 20) =>
      Manifold.cylinder(tall, low, high, 512, false).translate([x, y, z]);
    const inset = 5 * Math.tan(Math.PI / 9);
    const slotAt = (r: number, z: number) => {
      const disc = (x: number) => CrossSection.circle(r, 512).translate([x, 0]);
      return CrossSection.hull([disc(-17), disc(17)])
        .extrude(0.001)
        .translate([0, 0, z]);
    };
    const tray = Manifold.hull([slotAt(8 - inset, -5), slotAt(8, -0.001)])
      .rotate([0, 0, 12])
      .translate([60, 40, 0]);
    const sunk = 2 / Math.tan((41 * Math.PI) / 180);
    const screws = [130, 150].flatMap((x) => [round(x, 30, -12, 2, 2), round(x, 30, -sunk, 2, 4, sunk)]);
    const air = Manifold.union([
      box(14 + 2.1, 5, -4, 300, 9.2),
      round(14 + 2.1, 7.1, -4, 2.1, 2.1),
      box(192, -10, -6, 300, 100),
      tray,
      ...screws,
    ]);
    const wood = Manifold.cube([200, 60, 12], false).translate([0, 0, -12]);
    const theirs = BLANK - wood.subtract(air).volume();
    const ours = BLANK - volumeOfTarget(targetOn(w, "face"));
    expect(Math.abs(ours - theirs) / theirs).toBeLessThan(0.005);
    expect(ours).toBeGreaterThan(5000);
  });
});
