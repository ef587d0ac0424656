import { describe, expect, it } from "vitest";
import type { BeamSetUp } from "../../../src/plan/beam-setup.ts";
import { offsetRegion } from "../../../src/shapes/offset.ts";
import { circle, polygon, rectangle } from "../../../src/shapes/outlines.ts";
import { polygonsToRegion } from "../../../src/shapes/polygons.ts";
import type { Region } from "../../../src/shapes/region.ts";
import { lengthOf, line, reversed } from "../../../src/shapes/segment.ts";
import { mark } from "../../plan/beam-fixtures.ts";
import { burnText, proved, refusals, type Stroke, setUpFor, writingFor } from "./programs.ts";

const KERF = 0.2;
/** An L: five corners point out, one in. */
const L_SHAPE = polygon([
  { x: 20, y: 20 },
  { x: 50, y: 20 },
  { x: 50, y: 30 },
  { x: 35, y: 30 },
  { x: 35, y: 45 },
  { x: 20, y: 45 },
]);
const CARD = mark("card", { kind: "area", region: L_SHAPE }, { by: "burned through", keep: "inside" });
const SET_UP = setUpFor([CARD]);

function cut(outline: Region, by: number): Stroke[] {
  return polygonsToRegion(offsetRegion(outline, by, 0.001)).loops.map((along) => ({ along }));
}

function refusedFor(setUp: BeamSetUp, strokes: readonly Stroke[]): readonly string[] {
  return refusals(proved(setUp, burnText(writingFor(setUp), strokes)));
}

/** Each loop as often as the setting says: twice. */
const twice = (strokes: readonly Stroke[]): Stroke[] => strokes.flatMap((s) => [s, s]);

describe("cutting through", () => {
  it("half a kerf outside what is kept is proved, round corners or sharp; the rounding inside is allowed", () => {
    const p = proved(SET_UP, burnText(writingFor(SET_UP), twice(cut(L_SHAPE, KERF / 2))));
    expect(refusals(p)).toEqual([]);
    expect(p.findings.map((f) => f.code)).toEqual(["proof-beam-falls-free"]);
    expect(p.figures['off the kept side: cut-through "card"']!.value).toBeLessThan(0.01);
  });

  it("an opening is cut half a kerf inside it", () => {
    const hole = mark(
      "hole",
      { kind: "area", region: circle({ x: 60, y: 30 }, 8) },
      { by: "burned through", keep: "outside" },
    );
    const own = setUpFor([hole]);
    const smaller = circle({ x: 60, y: 30 }, 8 - KERF / 2).loops.map((along) => ({ along }));
    expect(refusedFor(own, twice(smaller))).toEqual([]);
    const larger = circle({ x: 60, y: 30 }, 8 + KERF / 2).loops.map((along) => ({ along }));
    expect(refusedFor(own, twice(larger))).toContain("proof-beam-outside-marks");
  });

  it("the wrong side, no kerf at all, twice the kerf, 0.03 mm off", () => {
    for (const by of [-KERF / 2, 0, KERF, KERF / 2 - 0.03, KERF / 2 + 0.03]) {
      expect(refusedFor(SET_UP, twice(cut(L_SHAPE, by)))).toContain("proof-beam-outside-marks");
    }
  });

  it("a side not cut, a pass too few", () => {
    const loop = cut(L_SHAPE, KERF / 2)[0]!.along;
    const longest = loop.reduce((a, b, i) => (lengthOf(b) > lengthOf(loop[a]!) ? i : a), 0);
    const rest = [...loop.slice(longest + 1), ...loop.slice(0, longest)];
    expect(refusedFor(SET_UP, twice([{ along: rest }]).slice(0, 1))).toContain("proof-beam-uncut");
    expect(refusedFor(SET_UP, cut(L_SHAPE, KERF / 2))).toContain("proof-beam-passes");
    expect(
      refusedFor(SET_UP, [
        ...twice(cut(L_SHAPE, KERF / 2)),
        { along: [reversed(line({ x: 30, y: 19.9 }, { x: 40, y: 19.9 }))] },
      ]),
    ).toContain("proof-beam-passes");
  });

  it("a plain frame's sharp corners may be cut sharp", () => {
    const own = setUpFor([
      mark(
        "plate",
        { kind: "area", region: rectangle({ x: 20, y: 20 }, { x: 40, y: 30 }) },
        { by: "burned through", keep: "inside" },
      ),
    ]);
    const sharp = rectangle({ x: 20 - KERF / 2, y: 20 - KERF / 2 }, { x: 40 + KERF / 2, y: 30 + KERF / 2 }).loops.map(
      (along) => ({ along }),
    );
    // Out in the corner the beam's middle is 0.141 mm from the outline: more than half a kerf and 0.02.
    expect(refusedFor(own, twice(sharp))).toEqual([]);
  });
});
