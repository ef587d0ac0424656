import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type PlannedArc, type WrittenPiece, writtenArc, writtenChords } from "../../src/program/arcs.ts";
import { countsOf, type Raster, rasterOf } from "../../src/program/number.ts";
import { arc, pointAt, sweepRad } from "../../src/shapes/segment.ts";
import { post } from "./fixtures.ts";

const mm = rasterOf(post("millimetre"));
const inch = rasterOf(post("inch"));

/** An arc with its start at an angle on a circle; lengths drawn as whole micrometres. */
const anyArc: fc.Arbitrary<PlannedArc> = fc
  .record({
    cx: fc.integer({ min: -300_000, max: 300_000 }),
    cy: fc.integer({ min: -300_000, max: 300_000 }),
    r: fc.oneof(fc.integer({ min: 1, max: 50 }), fc.integer({ min: 50, max: 400_000 })),
    start: fc.integer({ min: 0, max: 359_999 }),
    sweep: fc.oneof(
      fc.integer({ min: 1, max: 500 }),
      fc.integer({ min: 1, max: 360_000 }),
      fc.integer({ min: 359_000, max: 360_000 }),
    ),
    ccw: fc.boolean(),
    rise: fc.integer({ min: -3000, max: 3000 }),
  })
  .map(({ cx, cy, r, start, sweep, ccw, rise }) => {
    const centre = { x: cx / 1000, y: cy / 1000 };
    const at = (deg: number, z: number) => {
      const rad = (deg / 1000) * (Math.PI / 180);
      return { x: centre.x + (r / 1000) * Math.cos(rad), y: centre.y + (r / 1000) * Math.sin(rad), z };
    };
    const from = at(start, 0);
    const end = at(start + (ccw ? sweep : -sweep), rise / 1000);
    return { from, to: sweep === 360_000 ? { ...from, z: rise / 1000 } : end, centre, ccw };
  });

interface Walked {
  readonly from: { x: number; y: number };
  readonly piece: WrittenPiece;
}

function walk(p: PlannedArc, pieces: readonly WrittenPiece[], raster: Raster): readonly Walked[] {
  let from = { x: countsOf(p.from.x, raster), y: countsOf(p.from.y, raster) };
  return pieces.map((piece) => {
    const here = { from, piece };
    from = { x: piece.x, y: piece.y };
    return here;
  });
}

/** The written piece as a curve, mm, and points along it. */
function pointsOf({ from, piece }: Walked, raster: Raster): readonly { x: number; y: number }[] {
  const s = raster.step;
  const a = { x: from.x * s, y: from.y * s };
  const b = { x: piece.x * s, y: piece.y * s };
  const share = [0, 0.2, 0.4, 0.6, 0.8, 1];
  if (piece.kind === "line") return share.map((t) => ({ x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) }));
  const curve = arc(a, b, { x: (from.x + piece.i) * s, y: (from.y + piece.j) * s }, piece.ccw);
  return share.map((t) => pointAt(curve, t));
}

describe("arcs in centre format", () => {
  for (const [unit, raster, limit] of [
    ["mm", mm, 0.002],
    ["inch", inch, 0.0002 * 25.4],
  ] as const) {
    it(`in ${unit} agree at both ends far within what a reader allows, and end where planned`, () => {
      fc.assert(
        fc.property(anyArc, (p) => {
          const pieces = writtenArc(countsOf(p.from.x, raster), countsOf(p.from.y, raster), p, raster);
          expect(pieces.length).toBeGreaterThanOrEqual(1);
          const last = pieces[pieces.length - 1]!;
          expect([last.x, last.y, last.z]).toEqual([p.to.x, p.to.y, p.to.z].map((v) => countsOf(v, raster)));
          for (const { from, piece } of walk(p, pieces, raster)) {
            if (piece.kind !== "arc") continue;
            const start = Math.hypot(piece.i, piece.j);
            const end = Math.hypot(piece.x - from.x - piece.i, piece.y - from.y - piece.j);
            // Worst case for this many decimals, worked out from half a step at each of three points: 0.00028 mm, 0.000028 in.
            expect(Math.abs(start - end) * raster.step).toBeLessThan(limit / 7);
            expect(start).toBeGreaterThan(0);
            expect(piece.x === from.x && piece.y === from.y).toBe(false);
          }
        }),
        { numRuns: 600 },
      );
    });

    it(`in ${unit} never stray from the planned arc by more than rounding`, () => {
      fc.assert(
        fc.property(anyArc, (p) => {
          const pieces = writtenArc(countsOf(p.from.x, raster), countsOf(p.from.y, raster), p, raster);
          const r = Math.hypot(p.from.x - p.centre.x, p.from.y - p.centre.y);
          let turned = 0;
          for (const w of walk(p, pieces, raster)) {
            for (const q of pointsOf(w, raster)) {
              expect(Math.abs(Math.hypot(q.x - p.centre.x, q.y - p.centre.y) - r)).toBeLessThan(
                Math.max(5 * raster.step, 0.0014),
              );
            }
            if (w.piece.kind === "arc") {
              const centre = { x: w.from.x + w.piece.i, y: w.from.y + w.piece.j };
              turned += sweepRad(arc(w.from, { x: w.piece.x, y: w.piece.y }, centre, w.piece.ccw));
            }
          }
          const planned = sweepRad(arc(p.from, p.to, p.centre, p.ccw));
          // Where all of it is written as arcs, the whole turn is there: neither lost nor one too many.
          if (pieces.every((q) => q.kind === "arc")) {
            expect(Math.abs(turned - planned) * r).toBeLessThan(12 * raster.step * pieces.length);
          }
        }),
        { numRuns: 600 },
      );
    });
  }

  it("writes a whole circle as two halves, with half the rise in each", () => {
    const from = { x: 5, y: 0, z: 0 };
    const pieces = writtenArc(50_000, 0, { from, to: { ...from, z: -1 }, centre: { x: 0, y: 0 }, ccw: true }, mm);
    expect(pieces).toEqual([
      { kind: "arc", x: -50_000, y: 0, z: -5000, i: -50_000, j: 0, ccw: true },
      { kind: "arc", x: 50_000, y: 0, z: -10_000, i: 50_000, j: 0, ccw: true },
    ]);
  });

  it("lets an arc too short to be seen become a line or nothing, never a circle", () => {
    const from = { x: 5, y: 0, z: 0 };
    const to = { x: 5 * Math.cos(1e-6), y: 5 * Math.sin(1e-6), z: 0 };
    const pieces = writtenArc(50_000, 0, { from, to, centre: { x: 0, y: 0 }, ccw: true }, mm);
    expect(pieces).toEqual([{ kind: "line", x: 50_000, y: 0, z: 0 }]);
  });

  it("keeps all but one turn of a nearly whole circle", () => {
    const from = { x: 5, y: 0, z: 0 };
    const to = { x: 5 * Math.cos(1e-6), y: -5 * Math.sin(1e-6), z: 0 };
    const pieces = writtenArc(50_000, 0, { from, to, centre: { x: 0, y: 0 }, ccw: true }, mm);
    expect(pieces.map((p) => p.kind)).toEqual(["arc", "arc"]);
  });

  it("of no radius at all is a line", () => {
    const at = { x: 0, y: 0, z: 0 };
    const pieces = writtenArc(0, 0, { from: at, to: { ...at, z: -1 }, centre: at, ccw: true }, mm);
    expect(pieces.map((p) => [p.kind, p.x, p.y, p.z])).toEqual([
      ["line", 0, 0, -5000],
      ["line", 0, 0, -10_000],
    ]);
  });

  it("throws on ends that lie on two circles", () => {
    const bad = { from: { x: 5, y: 0, z: 0 }, to: { x: 0, y: 5.01, z: 0 }, centre: { x: 0, y: 0 }, ccw: true };
    expect(() => writtenArc(50_000, 0, bad, mm)).toThrow(RangeError);
  });
});

describe("chords for an arc", () => {
  it("stay within the stated error, end where planned, and are as few as that allows", () => {
    fc.assert(
      fc.property(anyArc, (p) => {
        const error = 0.002;
        const pieces = writtenChords(p, error, mm);
        const r = Math.hypot(p.from.x - p.centre.x, p.from.y - p.centre.y);
        for (const w of walk(p, pieces, mm)) {
          for (const q of pointsOf(w, mm)) {
            expect(Math.abs(Math.hypot(q.x - p.centre.x, q.y - p.centre.y) - r)).toBeLessThan(error + 3 * mm.step);
          }
        }
        const last = pieces[pieces.length - 1]!;
        expect([last.x, last.y, last.z]).toEqual([p.to.x, p.to.y, p.to.z].map((v) => countsOf(v, mm)));
        const sweep = Math.abs(sweepRad(arc(p.from, p.to, p.centre, p.ccw)));
        if (r > 0.1) expect(pieces.length).toBeLessThanOrEqual(Math.ceil(sweep / (2 * Math.acos(1 - error / r))) + 1);
      }),
      { numRuns: 300 },
    );
  });
});
