import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { MarkContent, MarkMade, TurnedMark } from "../../src/job/mark.ts";
import { boundsOfInk } from "../../src/parts/marks/ink.ts";
import type { Ink, Mark } from "../../src/parts/marks/mark.ts";
import { type LaidInk, layInk, type RoundWood, sideFor } from "../../src/parts/marks/round/lay-ink.ts";
import { roundMarks } from "../../src/parts/marks/round/round-marks.ts";
import { unrollingsAt } from "../../src/parts/marks/round/unroll.ts";
import type { TurnedPiece } from "../../src/parts/turned-piece.ts";
import { turnedWorkpieces } from "../../src/parts/turning/workpieces.ts";
import { flattenSegment } from "../../src/shapes/flatten.ts";
import { circle, rectangle } from "../../src/shapes/outlines.ts";
import { greyPicture } from "../../src/shapes/picture/grey-picture.ts";
import { areaOf } from "../../src/shapes/region.ts";
import { arc, line, type Segment } from "../../src/shapes/segment.ts";
import { at } from "./describing.ts";
import { PAPERED, room, SAWN } from "./turned-sample.ts";

const um = (min: number, max: number) =>
  fc.integer({ min: Math.round(min * 1000), max: Math.round(max * 1000) }).map((n) => n / 1000);

const CYLINDER = [line({ x: 20, y: 15 }, { x: 60, y: 15 }), line({ x: 60, y: 15 }, { x: 100, y: 15 })];
/** A cove, 60 mm wide and 3 deep: 18 at its rims, 15 at its waist. */
const COVE = [arc({ x: 20, y: 18 }, { x: 100, y: 18 }, { x: 60, y: 283.1666666666667 }, true)];
const coveRadius = Math.hypot(40, 283.1666666666667 - 18);

function wood(segments: readonly Segment[], more: Partial<RoundWood> = {}): RoundWood {
  return {
    meridian: { segments },
    squares: [
      { from: 0, to: 20, side: 40 },
      { from: 100, to: 120, side: 40 },
    ],
    length: 120,
    across: 40,
    ...more,
  };
}

function cross(v: number, u = 0): Ink {
  return { kind: "lines", chains: [[line({ x: u, y: 0 }, { x: u, y: v })]] };
}

function laid(ink: Ink, w: RoundWood, along = 60, around = 0): LaidInk {
  const l = layInk(ink, w, along, sideFor(around));
  if ("trouble" in l) throw new Error(l.trouble);
  return l;
}

describe("a mark around a cylinder", () => {
  it("keeps lengths around it: y = R sin(s / R)", () => {
    // R 15: 10 mm around comes to 9.275547 mm from the crown; 5.097554 to 5, where the wood has fallen by 0.857864 and
    // slopes 19.4712 degrees (closed forms of the circle).
    const far = laid(cross(10), wood(CYLINDER));
    expect(boundsOfInk(far.ink)!.max.y - 20).toBeCloseTo(9.275547, 6);
    const near = laid(cross(5.097554), wood(CYLINDER));
    expect(boundsOfInk(near.ink)!.max.y - 20).toBeCloseTo(5, 6);
    expect(near.drop).toBeCloseTo(0.857864, 6);
    expect(near.slopeDeg).toBeCloseTo(19.4712, 4);
    expect(near.stretch).toBe(1);
    // Along the axis, over the seam of a mirrored profile, nothing changes.
    const long = laid({ kind: "lines", chains: [[line({ x: -35, y: 0 }, { x: 38, y: 0 })]] }, wood(CYLINDER));
    expect(long.ink).toEqual({ kind: "lines", chains: [[line({ x: 25, y: 20 }, { x: 98, y: 20 })]] });
  });

  it("shrinks an area as it is seen from above by no more than its slope, and keeps its holes", () => {
    const region = {
      loops: [
        ...circle({ x: 0, y: 0 }, 6).loops,
        ...circle({ x: 0, y: 0 }, 3).loops.map((l) =>
          l.map((s) => (s.kind === "arc" ? arc(s.to, s.from, s.centre, !s.ccw) : s)).reverse(),
        ),
      ],
    };
    const l = laid({ kind: "area", region }, wood(CYLINDER));
    if (l.ink.kind !== "area") throw new Error(l.ink.kind);
    expect(l.ink.region.loops.length).toBe(2);
    // ∫∫ cos(v / R) over the ring, by polar sums.
    let area = 0;
    const [n, m] = [300, 300];
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < m; k++) {
        const r = 3 + (3 * (i + 0.5)) / n;
        area += Math.cos((r * Math.sin((2 * Math.PI * (k + 0.5)) / m)) / 15) * r * (3 / n) * ((2 * Math.PI) / m);
      }
    }
    expect(Math.abs(areaOf(l.ink.region) - area)).toBeLessThan(0.06);
    // The hole keeps the crown out of it, but the ring still touches the crown.
    expect(l.drop).toBeCloseTo(15 * (1 - Math.cos(6 / 15)), 2);
  });

  it("is not mirrored on any of the four sides", () => {
    // An L: first to the right, then up.
    const ell: Ink = {
      kind: "lines",
      chains: [[line({ x: 0, y: 0 }, { x: 8, y: 0 }), line({ x: 8, y: 0 }, { x: 8, y: 3 })]],
    };
    for (const around of [0, 90, 180, 270]) {
      const l = laid(ell, wood(CYLINDER), 50, around);
      if (l.ink.kind !== "lines") throw new Error(l.ink.kind);
      const points = l.ink.chains[0]!.flatMap((s) => flattenSegment(s, 0.01));
      const [a, b, c] = [
        points[0]!,
        points.reduce((p, q) => (Math.abs(q.y - points[0]!.y) < 1e-6 ? q : p)),
        points.at(-1)!,
      ];
      expect((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)).toBeGreaterThan(8 * 2.9);
      // Seen from 90 and 180 degrees the face is drawn with the second end at its left.
      expect(a.x).toBeCloseTo(around === 90 || around === 180 ? 70 : 50, 9);
    }
    expect([0, 45, 46, 90, 134, 136, 180, 270, 316, -90].map((a) => sideFor(a).index)).toEqual([
      0, 0, 90, 90, 90, 180, 180, 270, 0, 270,
    ]);
  });

  it("stands aside of a side by its angle", () => {
    const l = laid({ kind: "lines", chains: [[line({ x: -2, y: 0 }, { x: 2, y: 0 })]] }, wood(CYLINDER), 60, 100);
    expect(boundsOfInk(l.ink)!.min.y).toBeCloseTo(20 - 15 * Math.sin(Math.PI / 18), 6);
    expect(l.drop).toBeCloseTo(0, 9);
  });

  it("lays a picture so that it is true on the wood", () => {
    // A dark row 8 mm from the middle of a picture 40 by 20 mm with pixels of 0.1 mm.
    const [w, h] = [400, 200];
    const grey = greyPicture(
      w,
      h,
      Float32Array.from({ length: w * h }, (_, i) => (Math.abs(100 - 80 - Math.floor(i / w) - 0.5) < 1 ? 0 : 1)),
    );
    const ink: Ink = { kind: "picture", grey, corner: { x: -20, y: -10 }, width: 40, height: 20, turnedDeg: 0 };
    for (const around of [0, 90]) {
      const l = laid(ink, wood(CYLINDER), 60, around);
      if (l.ink.kind !== "picture") throw new Error(l.ink.kind);
      const pitch = l.ink.height / l.ink.grey.height;
      expect(pitch).toBeCloseTo(0.1, 9);
      expect(l.ink.height).toBeCloseTo(2 * 15 * Math.sin(10 / 15), 0);
      const rows = Array.from({ length: l.ink.grey.height }, (_, r) => r).filter(
        (r) => l.ink.kind === "picture" && l.ink.grey.grey[r * l.ink.grey.width + 200] === 0,
      );
      const across = rows.map((r) =>
        l.ink.kind === "picture" ? l.ink.corner.y + l.ink.height - (r + 0.5) * pitch - 20 : 0,
      );
      for (const y of across) expect(Math.abs(Math.abs(y) - 15 * Math.sin(8 / 15))).toBeLessThan(0.16);
      expect(Math.sign(across[0]!)).toBe(around === 0 ? 1 : -1);
    }
  });
});

describe("a mark on other profiles", () => {
  /** Length on the wood of a short drawn line from (u, v) in a direction, for each mm drawn. */
  function grown(segments: readonly Segment[], u: number, v: number, deg: number, kind: string): number {
    const way = unrollingsAt({ segments }, [], 60).find((w) => w.kind === kind)!;
    const h = 1e-4;
    const on = [-h, h].map((t) => {
      const p = way.onto(u + t * Math.cos((deg * Math.PI) / 180), v + t * Math.sin((deg * Math.PI) / 180))!;
      return { x: p.x, y: p.radius * Math.sin(p.angle), z: p.radius * Math.cos(p.angle) };
    });
    return Math.hypot(on[0]!.x - on[1]!.x, on[0]!.y - on[1]!.y, on[0]!.z - on[1]!.z) / (2 * h);
  }

  it("lies true on cones: every length and angle as drawn", () => {
    fc.assert(
      fc.property(um(6, 20), um(6, 20), um(-15, 15), um(-12, 12), um(0, 180), (r0, r1, u, v, deg) => {
        fc.pre(Math.abs(r0 - r1) > 0.01 && Math.abs(v) < Math.min(r0, r1));
        const cone = [line({ x: 20, y: r0 }, { x: 100, y: r1 })];
        const way = unrollingsAt({ segments: cone }, [], 60).find((w) => w.kind === "true to size")!;
        const on = way.onto(u, v);
        if (on === undefined) return;
        expect(grown(cone, u, v, deg, "true to size")).toBeCloseTo(1, 6);
        const back = way.from(on.x, on.angle)!;
        expect([back.x, back.y]).toEqual([expect.closeTo(u, 7), expect.closeTo(v, 7)]);
      }),
      { numRuns: 60 },
    );
  });

  it("tells on doubly curved wood how much lengths grow at worst", () => {
    fc.assert(
      fc.property(um(-30, 30), um(-14, 14), (u, v) => {
        const way = unrollingsAt({ segments: COVE }, [], 60)[0]!;
        const on = way.onto(u, v);
        if (on === undefined) return;
        const worst = Math.max(...Array.from({ length: 90 }, (_, i) => grown(COVE, u, v, 2 * i, "nearly")));
        expect(worst).toBeLessThanOrEqual(on.stretch + 1e-6);
        expect(worst).toBeGreaterThan(on.stretch - 2e-4);
        const back = way.from(on.x, on.angle)!;
        expect([back.x, back.y]).toEqual([expect.closeTo(u, 6), expect.closeTo(v, 6)]);
      }),
      { numRuns: 40 },
    );
  });

  it("measures u along the meridian, not along the axis", () => {
    const l = laid({ kind: "lines", chains: [[line({ x: 0, y: 0 }, { x: 35, y: 0 })]] }, wood(COVE));
    const turn = 35 / coveRadius;
    expect(boundsOfInk(l.ink)!.max.x).toBeCloseTo(60 + coveRadius * Math.sin(turn), 6);
    expect(l.drop).toBeCloseTo(coveRadius * (1 - Math.cos(turn)), 6);
  });

  it("lies flat and true on a square end", () => {
    const l = laid({ kind: "lines", chains: [[line({ x: -5, y: -15 }, { x: 5, y: 15 })]] }, wood(CYLINDER), 10, 90);
    expect(l).toMatchObject({ stretch: 1, drop: 0, slopeDeg: 0 });
    expect(boundsOfInk(l.ink)).toEqual({ min: { x: 105, y: 5 }, max: { x: 115, y: 35 } });
  });
});

const FLAG: MarkContent = {
  kind: "area",
  region: rectangle({ x: -6, y: -3 }, { x: 6, y: 3 }),
  from: { kind: "drawing", file: "x.svg" },
};
const AREA: MarkMade = { by: "burned area", angleDeg: 0, ways: "one", contour: true };

function mark(more: Partial<TurnedMark> = {}): TurnedMark {
  const keys = ["centre at", "around", "width", "along", "made by", "start at"];
  const sources = Object.fromEntries(keys.map((k, i) => [k, at(30 + i)]));
  return {
    name: "sign",
    source: at(29),
    sources,
    content: FLAG,
    made: AREA,
    around: 90,
    along: 40,
    turnedDeg: 0,
    ...more,
  };
}

function pull(marks: readonly TurnedMark[], more: Partial<TurnedPiece> = {}): TurnedPiece {
  const { meridian, squares } = wood(CYLINDER);
  return {
    name: "pull",
    wood: "cherry",
    copies: 1,
    blank: { length: 120, across: 40, shape: "square" },
    elements: [],
    meridian,
    squares,
    waste: [],
    turnedBy: "machine",
    radiusError: { value: 0.01, from: "the lathe" },
    split: SAWN,
    marks,
    wishes: {},
    source: at(1),
    sources: {},
    ...more,
  };
}

const codes = (p: TurnedPiece) => roundMarks(p).findings.map((f) => `${f.grade} ${f.code} ${f.place.source?.line}`);
const facesOf = (marks: readonly Mark[] | undefined) => (marks ?? []).map((m) => m.face);

describe("what is said of marks on a turned part", () => {
  it("is nothing where they stand on the show faces", () => {
    const r = roundMarks(pull([mark(), mark({ around: 270 })]));
    expect(r.findings).toEqual([]);
    expect(r.marks.map((m) => [m.id, m.face])).toEqual([
      ["pull/sign/1", "upper edge"],
      ["pull/sign/2", "lower edge"],
    ]);
  });

  it("is a refusal with what works, where they cannot be drawn", () => {
    const wide: MarkContent = { kind: "area", region: rectangle({ x: -5, y: -24 }, { x: 5, y: 24 }), from: FLAG.from };
    const r = roundMarks(pull([mark({ content: wide })]));
    expect(r.findings.map((f) => f.code)).toEqual(["mark-too-wide"]);
    // Half the way round, less a degree on each side.
    expect(r.findings[0]!.why).toContain(`${Number((2 * 15 * ((89 * Math.PI) / 180)).toFixed(3))} mm`);
    expect(codes(pull([mark({ along: 24 })]))).toEqual(["refuse mark-over-step 32"]);
    expect(roundMarks(pull([mark({ along: 24 })])).findings[0]!.what).toContain("2 mm over a step");
    expect(codes(pull([mark({ along: 10, around: 95 })]))).toEqual(["refuse mark-between-index 31"]);
    expect(codes(pull([mark({ along: 130 })]))).toEqual(["refuse mark-off-the-face 30"]);
    expect(codes(pull([mark({ made: { by: "cut line", depth: 1 } })]))).toEqual(["refuse mark-kind-unfit 34"]);
  });

  it("is a refusal over a finger room, whichever way that is cut", () => {
    const crown = { fingerRoom: room(60) };
    expect(codes(pull([mark({ along: 60, around: 0 })], crown))).toContain("refuse mark-in-hollow 30");
    expect(codes(pull([mark({ along: 60 })], crown))).toEqual([]);
    // Into the flats: the room lies 1 to 12 mm beside the split plane, at the height of the crown.
    const back = { fingerRoom: room(60, { cut: "back", opensOver: "crown side", depth: 11 }) };
    expect(codes(pull([mark({ along: 60, around: 45 })], back))).toContain("refuse mark-in-hollow 30");
    expect(codes(pull([mark({ along: 60, around: 100 })], back))).toEqual([]);
  });

  it("is a caution in the way of the saw, on steep wood, on stretched wood, and without an index", () => {
    expect(codes(pull([mark({ around: 0 })]))).toEqual(["caution mark-in-saw-cut 31"]);
    expect(codes(pull([mark({ around: 180 })]))).toEqual(["caution mark-in-saw-cut 31"]);
    const tall: MarkContent = { kind: "area", region: rectangle({ x: -2, y: -12 }, { x: 2, y: 12 }), from: FLAG.from };
    expect(codes(pull([mark({ content: tall })]))).toEqual(["caution mark-slopes 32"]);
    const round = { squares: [], meridian: { segments: [line({ x: 0, y: 15 }, { x: 120, y: 15 })] } };
    expect(codes(pull([mark()], round))).toEqual(["caution mark-no-index 31"]);
    expect(codes(pull([mark(), mark({ around: 270 })], { ...round, split: PAPERED }))).toEqual([
      "note mark-no-index 31",
    ]);
    const bead = { meridian: { segments: [arc({ x: 20, y: 10 }, { x: 100, y: 10 }, { x: 60, y: -65 }, false)] } };
    const far: MarkContent = { kind: "area", region: rectangle({ x: -4, y: -8 }, { x: 4, y: 8 }), from: FLAG.from };
    expect(codes(pull([mark({ content: far, along: 80 })], bead))).toContain("caution mark-stretched 30");
  });
});

describe("guide lines for the saw", () => {
  const guide = mark({ guide: { kind: "split line", from: 0, to: 120, ends: true }, made: { by: "burned line" } });

  it("run along the crown beside the finger room, along 180 degrees, and across the ends", () => {
    const r = roundMarks(pull([guide], { fingerRoom: room(60) }));
    expect(r.findings).toEqual([]);
    const spans = r.marks.map((m) => {
      const b = boundsOfInk(m.ink)!;
      return [m.face, ...[b.min.x, b.max.x, b.min.y, b.max.y].map((v) => Math.round(v * 1000) / 1000)];
    });
    // The room is 44 mm long about 60, its lip eased by 1.5.
    expect(spans).toEqual([
      ["face", 0, 20, 20, 20],
      ["face", 20, 36.5, 20, 20],
      ["face", 83.5, 100, 20, 20],
      ["face", 100, 120, 20, 20],
      ["back", 100, 120, 20, 20],
      ["back", 20, 100, 20, 20],
      ["back", 0, 20, 20, 20],
      ["first end", 20, 20, 0, 40],
      ["second end", 20, 20, 0, 40],
    ]);
    for (const m of r.marks) expect(m.drop).toBeLessThanOrEqual(0.8);
  });

  it("leave out what is too steep, and are refused where nothing is left", () => {
    const steep = pull([guide], {
      squares: [],
      meridian: { segments: [line({ x: 0, y: 10 }, { x: 40, y: 20 }), line({ x: 40, y: 20 }, { x: 60, y: 20 })] },
      blank: { length: 60, across: 40, shape: "square" },
    });
    const own = roundMarks({
      ...steep,
      marks: [{ ...guide, guide: { kind: "split line", from: 0, to: 60, ends: false } }],
    });
    expect(facesOf(own.marks)).toEqual(["face", "back"]);
    const none = mark({ guide: { kind: "along", from: 5, to: 35 }, around: 90, made: { by: "burned line" } });
    expect(codes({ ...steep, marks: [none] })).toEqual(["refuse mark-over-step 33"]);
    const { split: _, ...unsplit } = pull([guide]);
    expect(codes(unsplit)).toEqual(["refuse mark-unclear 33"]);
    expect(codes(pull([mark({ guide: { kind: "along", from: 5, to: 135 } })]))).toEqual([
      "refuse mark-off-the-face 35",
    ]);
    expect(codes(pull([mark({ guide: { kind: "along", from: 25, to: 35 }, around: 20 })]))).toEqual([
      "refuse mark-between-index 31",
    ]);
  });
});

describe("the workpieces of a marked turned part", () => {
  it("are the whole blank, before the halves where those are hollowed", () => {
    const whole = turnedWorkpieces(pull([mark(), mark({ around: 270 })])).workpieces;
    expect(whole.map((w) => [w.name, w.cavities.length, facesOf(w.marks)])).toEqual([
      ["pull", 0, ["upper edge", "lower edge"]],
    ]);
    expect(whole[0]!.labels).toMatchObject({ face: "crown", "upper edge": "90 degrees" });
    const crown = turnedWorkpieces(pull([mark()], { fingerRoom: room(60) })).workpieces;
    expect(crown.map((w) => [w.name, w.cavities.length, facesOf(w.marks)])).toEqual([["pull", 1, ["upper edge"]]]);
    const back = turnedWorkpieces(pull([mark({ around: 100 })], { fingerRoom: room(60, { cut: "back" }) })).workpieces;
    expect(back[0]).toMatchObject({ name: "pull", cavities: [] });
    expect(back.slice(1).every((w) => w.marks === undefined && w.cavities.length === 1)).toBe(true);
    expect(turnedWorkpieces(pull([])).workpieces).toEqual([]);
  });

  it("are one for each copy where copies are marked apart", () => {
    const each = [FLAG, { ...FLAG, from: { kind: "card" } } as MarkContent];
    const p = pull([mark({ each })], { copies: 2, each: [{ name: "left" }, { name: "right" }] });
    expect(turnedWorkpieces(p).workpieces.map((w) => [w.name, w.marks!.length, w.marks![0]!.from.kind])).toEqual([
      ["pull, left", 1, "drawing"],
      ["pull, right", 1, "card"],
    ]);
  });
});
