import { describe, expect, it } from "vitest";
import type { BeamSetUp } from "../../../src/plan/beam-setup.ts";
import { circle, rectangle } from "../../../src/shapes/outlines.ts";
import { areaOf, areaOfLoop, type Region } from "../../../src/shapes/region.ts";
import { line, reversed } from "../../../src/shapes/segment.ts";
import { mark } from "../../plan/beam-fixtures.ts";
import { burnText, proved, refusals, type Stroke, setUpFor, writingFor } from "./programs.ts";

const at = (x: number, y: number) => ({ x, y });
const HALF = 0.07;
const SPACING = 0.1;
/** A frame 12 × 4 mm with a round island bare. */
const ISLAND = circle(at(26, 22), 1.2);
const REGION: Region = {
  loops: [
    ...rectangle(at(20, 20), at(32, 24)).loops,
    ...ISLAND.loops.map((l) => (areaOfLoop(l) > 0 ? [...l].reverse().map(reversed) : l)),
  ],
};
const AREA = mark(
  "seal",
  { kind: "area", region: REGION },
  { by: "burned area", angleDeg: 0, ways: "two", contour: true },
);
const SET_UP = setUpFor([AREA]);
const W = writingFor(SET_UP);

interface Row {
  readonly y: number;
  readonly spans: readonly (readonly [number, number])[];
}

/** Rows half a spot inside the border, islands left out, to and fro. */
function rows(): Row[] {
  const count = Math.floor((4 - 2 * HALF) / SPACING + 1e-9) + 1;
  const first = 22 - ((count - 1) * SPACING) / 2;
  return Array.from({ length: count }, (_, k) => {
    const y = first + k * SPACING;
    const out = 1.2 + HALF;
    const half = Math.abs(y - 22) < out ? Math.sqrt(out * out - (y - 22) ** 2) : 0;
    const spans: (readonly [number, number])[] =
      half > 0
        ? [
            [20 + HALF, 26 - half],
            [26 + half, 32 - HALF],
          ]
        : [[20 + HALF, 32 - HALF]];
    return { y, spans };
  });
}

/** As strokes: each stretch with the run-up of v²/2a, early by `early` mm for a late beam. */
function strokesOf(all: readonly Row[], runUp = 3, early = 0): Stroke[] {
  return all.flatMap((r, k) => {
    const back = k % 2 === 1;
    const sense = back ? -1 : 1;
    const spans = back ? [...r.spans].reverse().map(([a, b]) => [b, a] as const) : r.spans;
    return spans.map(([a, b]) => ({
      along: [line(at(a - sense * early, r.y), at(b - sense * early, r.y))],
      runUp,
    }));
  });
}

const CONTOUR: readonly Stroke[] = [
  { along: rectangle(at(20 + HALF, 20 + HALF), at(32 - HALF, 24 - HALF)).loops[0]! },
  { along: circle(at(26, 22), 1.2 + HALF).loops[0]! },
];
const RIGHT = [...strokesOf(rows()), ...CONTOUR];

function refusedFor(strokes: readonly Stroke[], setUp: BeamSetUp = SET_UP): readonly string[] {
  return refusals(proved(setUp, burnText(writingFor(setUp), strokes)));
}

function without(n: number): Row[] {
  return rows().filter((_, k) => k !== n);
}

describe("burned areas", () => {
  it("the right program is proved, with or without the border followed last", () => {
    const p = proved(SET_UP, burnText(W, RIGHT));
    expect(p.findings).toEqual([]);
    const f = p.figures;
    expect(f['drawn: area "seal"']!.value).toBeCloseTo(areaOf(REGION), 9);
    expect(f['left bare: area "seal"']!.value).toBe(0);
    const covered = f['burned over: area "seal"']!;
    expect(Math.abs(covered.value - areaOf(REGION))).toBeLessThanOrEqual(covered.bound);
    expect(f['largest gap: area "seal"']!.value).toBeLessThan(HALF + 0.03);
    expect(f['line spacing: area "seal"']).toEqual({
      value: expect.closeTo(0.1, 6),
      bound: expect.closeTo(0, 6),
      unit: "mm",
    });
    expect(f["hottest against even"]!.value).toBeLessThan(2.6);
    expect(refusedFor(strokesOf(rows()))).toEqual([]);
  });

  it.each([0, 7, 19, 38])("line %i missing is found", (k) => {
    expect(refusedFor([...strokesOf(without(k)), ...(k === 0 || k === 38 ? [] : CONTOUR)])).toContain(
      "proof-beam-bare",
    );
  });

  it("a stretch beside the island missing is found", () => {
    const cut = rows().map((r, k) => (k === 20 ? { ...r, spans: r.spans.slice(1) } : r));
    expect(refusedFor([...strokesOf(cut), ...CONTOUR])).toContain("proof-beam-bare");
  });

  it("two lines of one place, and two too near to each other", () => {
    expect(refusedFor([...strokesOf(rows()), strokesOf(rows())[5]!])).toContain("proof-beam-passes");
    const near = rows().map((r, k) => (k === 5 ? { ...r, y: r.y + 0.03 } : r));
    expect(refusedFor(strokesOf(near))).toContain("proof-beam-spacing");
  });

  it("lines over the island, and lines shifted along themselves", () => {
    const over = rows().map((r) => ({ ...r, spans: [[20 + HALF, 32 - HALF] as const] }));
    expect(refusedFor(strokesOf(over))).toContain("proof-beam-outside-marks");
    const shifted = rows().map((r, k) =>
      k % 2 === 1 ? { ...r, spans: r.spans.map(([a, b]) => [a + 0.1, b + 0.1] as const) } : r,
    );
    expect(refusedFor(strokesOf(shifted))).toContain("proof-beam-outside-marks");
  });

  it("half of it missing altogether", () => {
    const half = rows().map((r) => ({ ...r, spans: r.spans.slice(0, 1) }));
    expect(refusedFor(strokesOf(half))).toContain("proof-beam-bare");
  });

  it("a late beam told early is right; told as usual, or early the wrong way, it is not", () => {
    const lag = 0.002;
    const late = setUpFor([AREA], { lag });
    const way = (3000 / 60) * lag;
    expect(refusedFor(strokesOf(rows(), 3, way), late)).toEqual([]);
    expect(refusedFor(strokesOf(rows()), late)).toContain("proof-beam-outside-marks");
    expect(refusedFor(strokesOf(rows(), 3, -way), late)).toContain("proof-beam-outside-marks");
  });

  it("with constant power the run-up must be long enough", () => {
    const constant = setUpFor([AREA], { mode: "constant", start: "M3" });
    expect(refusedFor(RIGHT, constant)).toEqual([]);
    expect(refusedFor([...strokesOf(rows(), 0.5), ...CONTOUR], constant)).toContain("proof-beam-slow");
    // With power that follows the speed it need not be.
    expect(refusedFor([...strokesOf(rows(), 0.5), ...CONTOUR])).toEqual([]);
  });

  it("what is narrower than the spot is told, not refused", () => {
    const taper: Region = {
      loops: [[line(at(20, 20), at(40, 20.04)), line(at(40, 20.04), at(20, 23)), line(at(20, 23), at(20, 20))]],
    };
    const own = setUpFor([
      mark("wedge", { kind: "area", region: taper }, { by: "burned area", angleDeg: 0, ways: "two", contour: false }),
    ]);
    const lines: Row[] = [];
    for (let y = 20.12; y < 22.9; y += SPACING) {
      const right = 40 - ((y - 20.04) / 2.96) * 20;
      const end = right - HALF * 7;
      const begin = 20 + HALF;
      if (end > begin && y > 20.12) lines.push({ y, spans: [[begin, end]] });
    }
    const p = proved(own, burnText(writingFor(own), strokesOf(lines)));
    expect(p.findings.filter((f) => f.code === "proof-beam-fine-bare").map((f) => f.grade)).toEqual(["caution"]);
  });
});
