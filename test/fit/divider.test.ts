import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEEPER, type DividerAsk, dividerJoints } from "../../src/fit/divider.ts";
import { strip } from "../../src/fit/strip.ts";
import type { PartDescription } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { faceFrame } from "../../src/parts/faces.ts";
import { toPart } from "../../src/shapes/frame.ts";
import type { Point3 } from "../../src/shapes/point.ts";
import { boundsOfRegion } from "../../src/shapes/region.ts";
import { said } from "./said.ts";

const ASK: DividerAsk = {
  said: said("divider"),
  wood: "cherry",
  length: 100,
  depth: 190,
  thickness: 15,
  caseThickness: 15,
  setBack: 3,
  at: 72,
  bits: [3, 4, 6, 8],
  endsMade: "by machine",
};

const codes = (ask: Partial<DividerAsk>) =>
  dividerJoints({ ...ASK, ...ask }).findings.map((f) => `${f.grade} ${f.code}`);

interface Box3 {
  readonly min: readonly number[];
  readonly max: readonly number[];
}

/** The hollows of a part as boxes in the case: x to the right, y into the case, z up. */
function hollows(part: PartDescription, into: (p: Point3) => readonly number[]): readonly Box3[] {
  const made = describeWorkpieces({
    file: "",
    title: "",
    unit: "mm",
    measured: [],
    parts: [part],
    boards: [],
    overrides: [],
  });
  expect(made.findings.filter((f) => f.grade === "refuse")).toEqual([]);
  if (!made.ok) throw new Error("workpieces were expected");
  const piece = made.value.find((w) => w.name === part.name)!;
  return piece.cavities.map((c) => {
    const box = boundsOfRegion(c.section)!;
    const back = faceFrame(piece.size, c.face);
    const corners = [box.min, box.max].flatMap((p) =>
      [-c.from, -c.to].map((z) => into(toPart(back, { x: p.x, y: p.y, z }))),
    );
    return {
      min: [0, 1, 2].map((i) => Math.min(...corners.map((k) => k[i]!))),
      max: [0, 1, 2].map((i) => Math.max(...corners.map((k) => k[i]!))),
    };
  });
}

describe("a divider and its loose tenons", () => {
  it("its mortises meet those of both case boards in place and size, the boards mirror images of each other", () => {
    const joints = dividerJoints(ASK);
    const right: PartDescription = {
      ...strip(said("right board"), "cherry", { length: 400, width: 210, thickness: 15 }, {}, joints.boardFeatures, 1),
      mirroredAs: "left board",
    };
    const left = { ...right };
    const t = ASK.caseThickness;
    const inDivider = hollows(joints.divider, (p) => [p.x, p.y + ASK.setBack, p.z + ASK.at - ASK.thickness / 2]);
    // Its inside up and its bottom end first, the right board looks left; its twin, described by itself, looks right.
    const inRight = hollows(right, (p) => [ASK.length + t - p.z, p.y, p.x]);
    const made = describeWorkpieces({
      file: "",
      title: "",
      unit: "mm",
      measured: [],
      parts: [left],
      boards: [],
      overrides: [],
    });
    if (!made.ok) throw new Error("workpieces were expected");
    const twin = made.value.find((w) => w.name === "left board")!;
    const inLeft = twin.cavities.map((c) => {
      const box = boundsOfRegion(c.section)!;
      return { min: [-c.to, box.min.y, 400 - box.max.x], max: [0, box.max.y, 400 - box.min.x] };
    });
    expect(inDivider.length).toBe(2 * inRight.length);
    expect(inLeft.length).toBe(inRight.length);
    const across = (b: Box3) => [b.min[1], b.max[1], b.min[2], b.max[2]].map((x) => Number(x!.toFixed(6))).join(" ");
    const ends = (at: number) =>
      inDivider.filter((b) => Math.abs(b.min[0]! - at) < 1e-6 || Math.abs(b.max[0]! - at) < 1e-6).map(across);
    expect(ends(0).sort()).toEqual(inLeft.map(across).sort());
    expect(ends(ASK.length).sort()).toEqual(inRight.map(across).sort());
    // They begin at the joint and go away from it.
    for (const b of inRight) expect(b.min[0]).toBeCloseTo(ASK.length, 9);
  });

  it("each mortise is deeper than its tenon by 1.6 to 3.2 mm (Popular Woodworking, Make more room in the mortise)", () => {
    const { depth, tenon } = dividerJoints(ASK);
    const each = (depth.board + depth.divider - tenon.length) / 2;
    expect(each).toBeGreaterThanOrEqual(DEEPER.least);
    expect(each).toBeLessThanOrEqual(DEEPER.most);
    expect(DEEPER.least).toBeCloseTo(25.4 / 16, 1);
    expect(DEEPER.most).toBeCloseTo(25.4 / 8, 1);
    const given = dividerJoints({ ...ASK, into: { divider: 15, board: 8 } });
    expect(given.tenon.length).toBeCloseTo(23, 9);
    expect(given.depth).toEqual({ divider: 17.4, board: 10.4 });
  });

  it("is as wide as the bit nearest to a third of the thickness (general joinery rule, from memory)", () => {
    expect(dividerJoints({ ...ASK, thickness: 18 }).width).toBe(6);
    expect(dividerJoints({ ...ASK, thickness: 13 }).width).toBe(4);
    expect(dividerJoints({ ...ASK, bits: [] }).width).toBe(5);
    expect(dividerJoints({ ...ASK, mortiseWidth: 5.5 }).width).toBe(5.5);
  });

  it("places keep apart, off the edges, and are mirror images from front to back", () => {
    fc.assert(
      fc.property(fc.integer({ min: 45, max: 600 }), (depth) => {
        const { places, wood } = dividerJoints({ ...ASK, depth });
        expect(places.length).toBeGreaterThan(0);
        expect(wood.edges).toBeGreaterThanOrEqual(9.5);
        places.forEach((p, i) => {
          const twin = places[places.length - 1 - i]!;
          expect(p.centre + twin.centre).toBeCloseTo(depth, 9);
          expect(p.length).toBe(twin.length);
          const next = places[i + 1];
          if (next) expect(next.centre - next.length / 2 - (p.centre + p.length / 2)).toBeGreaterThanOrEqual(15 - 1e-9);
        });
      }),
      { numRuns: 40 },
    );
  });

  it("ends too long for a machine are left to the hand, and its mortises still told", () => {
    const joints = dividerJoints({ ...ASK, length: 300, endsMade: "by hand" });
    expect(joints.divider.features).toEqual([]);
    expect(joints.endMortises.length).toBe(4);
  });

  it.each([
    ["wide mortises", { mortiseWidth: 10 }, "caution fit-divider-thin"],
    ["mortises as wide as the wood", { mortiseWidth: 15 }, "refuse fit-divider-outside"],
    ["tenons near the outside", { into: { divider: 15, board: 10 } }, "caution fit-divider-mortise-deep"],
    ["tenons through the board", { into: { divider: 15, board: 13 } }, "refuse fit-divider-mortise-through"],
    ["no room from front to back", { depth: 22 }, "refuse fit-divider-narrow"],
    ["case boards too thin for a tenon", { caseThickness: 6 }, "refuse fit-divider-tenon-short"],
    ["case boards thin for a tenon", { caseThickness: 8 }, "caution fit-divider-tenon-short"],
  ] as const)("%s", (_, ask, wanted) => {
    expect(codes(ask)).toContain(wanted);
  });

  it("a sound one has no finding", () => {
    expect(codes({})).toEqual([]);
  });
});
