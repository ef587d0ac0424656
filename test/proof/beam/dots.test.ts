import { describe, expect, it } from "vitest";
import type { BeamSetUp, PlacedMark } from "../../../src/plan/beam-setup.ts";
import type { DotAim } from "../../../src/proof/beam/dot-frame.ts";
import type { Point } from "../../../src/shapes/point.ts";
import { line } from "../../../src/shapes/segment.ts";
import { mark } from "../../plan/beam-fixtures.ts";
import { burnText, proved, refusals, type Stroke, setUpFor, writingFor } from "./programs.ts";

const PITCH = 0.2;
const COLUMNS = 30;
const ROWS = 12;
/** A pattern without any symmetry, at least one dot a row. */
const BITS = Uint8Array.from({ length: COLUMNS * ROWS }, (_, i) => ((i * i * 7 + 3 * i + (i >> 3)) % 5 < 2 ? 1 : 0));

function pictureAt(
  alongDeg: number,
  laser: Parameters<typeof setUpFor>[1] = {},
  passes = 1,
): { setUp: BeamSetUp; aim: DotAim } {
  const base = setUpFor(
    [mark("face", { kind: "lines", chains: [[line({ x: 1, y: 1 }, { x: 2, y: 1 })]] }, { by: "burned line" })],
    laser,
  );
  const aim: DotAim = {
    kind: "dots",
    columns: COLUMNS,
    rows: ROWS,
    bits: BITS,
    pitch: PITCH,
    corner: { x: 40, y: 40 },
    alongDeg,
  };
  const placed: PlacedMark = {
    ...base.marks[0]!,
    aim,
    setting: { effect: "picture", wood: "hard maple", power: 0.4, speed: 3000, passes, from: "shop file" },
  };
  return { setUp: { ...base, marks: [placed] }, aim };
}

interface Span {
  readonly row: number;
  readonly from: number;
  readonly to: number;
}

function spansOf(bits: Uint8Array): Span[] {
  const spans: Span[] = [];
  for (let row = 0; row < ROWS; row++) {
    for (let c = 0; c < COLUMNS; ) {
      let end = c;
      while (end < COLUMNS && bits[row * COLUMNS + end] === 1) end++;
      if (end > c) spans.push({ row, from: c, to: end });
      c = Math.max(end, c + 1);
    }
  }
  return spans;
}

interface Drawing {
  readonly early?: number;
  readonly inset?: number;
  readonly runUp?: number;
  readonly ways?: "one" | "two";
  readonly shift?: (s: Span) => number;
  readonly rowFor?: (row: number) => number;
}

function strokesOf(aim: DotAim, spans: readonly Span[], d: Drawing = {}): Stroke[] {
  const rad = (aim.alongDeg * Math.PI) / 180;
  const place = (u: number, row: number): Point => {
    const v = (row + 0.5) * PITCH;
    return {
      x: aim.corner.x + u * Math.cos(rad) + v * Math.sin(rad),
      y: aim.corner.y + u * Math.sin(rad) - v * Math.cos(rad),
    };
  };
  const strokes: Stroke[] = [];
  for (let row = 0; row < ROWS; row++) {
    const back = d.ways !== "one" && row % 2 === 1;
    const own = spans.filter((s) => s.row === row);
    for (const s of back ? [...own].reverse() : own) {
      const shift = (d.shift?.(s) ?? 0) - (d.early ?? 0) * (back ? -1 : 1);
      const a = s.from * PITCH + (d.inset ?? 0) + shift;
      const b = s.to * PITCH - (d.inset ?? 0) + shift;
      const r = d.rowFor?.(row) ?? row;
      strokes.push({
        along: [back ? line(place(b, r), place(a, r)) : line(place(a, r), place(b, r))],
        runUp: d.runUp ?? 3,
      });
    }
  }
  return strokes;
}

function refused(p: { setUp: BeamSetUp }, strokes: readonly Stroke[]): readonly string[] {
  return refusals(proved(p.setUp, burnText(writingFor(p.setUp), strokes)));
}

describe("burned pictures", () => {
  it.each([0, 30, 90, 180, 217])("the right program is proved, rows at %i°", (deg) => {
    const p = pictureAt(deg);
    const proof = proved(p.setUp, burnText(writingFor(p.setUp), strokesOf(p.aim, spansOf(BITS))));
    expect(refusals(proof)).toEqual([]);
    expect(proof.figures['wrong dots: picture "face"']!.value).toBe(0);
    expect(proof.figures['dots: picture "face"']!.value).toBe(BITS.reduce((a, b) => a + b, 0));
    expect(proof.figures['dots off their places: picture "face"']!.value).toBeLessThan(0.001);
  });

  it("stretches may all be drawn in alike, as for a spot that reaches beyond them", () => {
    const p = pictureAt(0);
    expect(refused(p, strokesOf(p.aim, spansOf(BITS), { inset: 0.07 }))).toEqual([]);
  });

  it("a dot too many, a dot too few, a row too few", () => {
    const p = pictureAt(0);
    for (const at of [0, 77, COLUMNS * ROWS - 1]) {
      const bits = Uint8Array.from(BITS);
      bits[at] = 1 - bits[at]!;
      expect(refused(p, strokesOf(p.aim, spansOf(bits)))).toContain("proof-beam-dot-wrong");
    }
    expect(
      refused(
        p,
        strokesOf(
          p.aim,
          spansOf(BITS).filter((s) => s.row !== 4),
        ),
      ),
    ).toContain("proof-beam-dot-wrong");
  });

  it("two rows swapped, the picture upside down, mirrored, negative", () => {
    const p = pictureAt(0);
    const wrong = (bits: (r: number, c: number) => number) =>
      refused(p, strokesOf(p.aim, spansOf(BITS.map((_, i) => bits(Math.floor(i / COLUMNS), i % COLUMNS)))));
    const bit = (r: number, c: number): number => BITS[r * COLUMNS + c]!;
    expect(wrong((r, c) => bit(r === 3 ? 4 : r === 4 ? 3 : r, c))).toContain("proof-beam-dot-wrong");
    expect(wrong((r, c) => bit(ROWS - 1 - r, c))).toContain("proof-beam-dot-wrong");
    expect(wrong((r, c) => bit(r, COLUMNS - 1 - c))).toContain("proof-beam-dot-wrong");
    expect(wrong((r, c) => 1 - bit(r, c))).toContain("proof-beam-dot-wrong");
  });

  it("rows beside their lines", () => {
    const p = pictureAt(0);
    expect(refused(p, strokesOf(p.aim, spansOf(BITS), { rowFor: (r) => r + 0.3 }))).toContain(
      "proof-beam-outside-marks",
    );
  });

  it("every other row shifted, one dot shifted", () => {
    const p = pictureAt(0);
    expect(refused(p, strokesOf(p.aim, spansOf(BITS), { shift: (s) => (s.row % 2) * 0.05 }))).toContain(
      "proof-beam-dot-place",
    );
    expect(refused(p, strokesOf(p.aim, spansOf(BITS), { shift: (s) => (s.row === 6 ? 0.05 : 0) }))).toContain(
      "proof-beam-dot-place",
    );
  });

  it("a late beam told early is right; told as usual, or early the wrong way, it is not", () => {
    const lag = 0.001;
    const way = 50 * lag;
    const late = pictureAt(0, { lag });
    expect(refused(late, strokesOf(late.aim, spansOf(BITS), { early: way }))).toEqual([]);
    expect(refused(late, strokesOf(late.aim, spansOf(BITS)))).toContain("proof-beam-dot-place");
    expect(refused(late, strokesOf(late.aim, spansOf(BITS), { early: -way }))).toContain("proof-beam-dot-wrong");
    expect(refused(late, strokesOf(late.aim, spansOf(BITS), { ways: "one" }))).toContain("proof-beam-dot-place");
  });

  it("as often as the setting says", () => {
    const twice = pictureAt(0, {}, 2);
    const once = strokesOf(twice.aim, spansOf(BITS));
    expect(refused(twice, once)).toContain("proof-beam-dot-wrong");
    expect(refused(twice, [...once, ...once])).toEqual([]);
  });
});
