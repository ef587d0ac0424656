import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { TurnedPiece } from "../../../src/parts/turned-piece.ts";
import { sensitivity } from "../../../src/parts/walls/sensitivity.ts";
import { AS_MEANT, type SetUpErrors } from "../../../src/parts/walls/set-up-errors.ts";
import { wallMap } from "../../../src/parts/walls/wall-map.ts";
import { walledPiece } from "../../../src/parts/walls/walls-of.ts";
import { roundedRectangle } from "../../../src/shapes/outlines.ts";
import { line } from "../../../src/shapes/segment.ts";
import { bySaw, hollowOf, lengths, meridianOf, pieceOf, roomOf } from "./fixtures.ts";

const barrel = meridianOf({ length: 120, end: 20, middle: 20, long: 60 });
/** Judged as one body: a turn about the axis costs nothing then. */
const { split: _, ...whole } = pieceOf(
  barrel,
  roomOf({ at: 60, length: 60, width: 22, depth: 14 }, { leastLipAngleDeg: 50 }),
);
/** Down the crown, split afterwards: waisted, so that the wall governs. */
const split = pieceOf(
  meridianOf({ length: 120, end: 22, middle: 19, long: 90 }),
  roomOf({ at: 60, length: 56, width: 20, depth: 24 }, { leastWall: 3, leastLipAngleDeg: 52 }),
  bySaw,
);
/** Into the flat back, running out over the crown side. */
const back = pieceOf(
  { segments: [line({ x: 0, y: 23 }, { x: 120, y: 22 })] },
  roomOf(
    { at: 60, length: 50, width: 30, depth: 9 },
    {
      cut: "back",
      opensOver: "crown side",
      leastWall: 3,
      leastLipAngleDeg: 50,
      section: roundedRectangle({ x: 60, y: 22 }, 50, 24, 5, 0),
      hollow: hollowOf({ depth: 9, middle: 12 }),
    },
  ),
);

const drawn = (box: SetUpErrors): fc.Arbitrary<SetUpErrors> => {
  // The ends of the box are drawn often: there it is likeliest to fail.
  const share = fc.oneof(lengths(-1, 1), fc.constantFrom(-1, 1));
  return fc.tuple(share, share, share, share, share, share).map(([a, b, c, d, e, f]) => ({
    zeroY: a * box.zeroY,
    zeroZ: b * box.zeroZ,
    angleDeg: c * box.angleDeg,
    tiltDeg: d * box.tiltDeg,
    radius: e * box.radius,
    bit: f * box.bit,
  }));
};

const holds = (piece: TurnedPiece, errors: SetUpErrors, step = 0.8): boolean => {
  const w = walledPiece(piece)!;
  return wallMap(w.solid, w.room, w.law, { step, want: "verdict", errors, ...w.split }).holds;
};

describe("how far a set-up may be off", () => {
  // Found once: every test asks the same three.
  const off = new Map([whole, split, back].map((piece) => [piece, sensitivity(walledPiece(piece)!)]));
  const found = off.get(whole)!;

  it.each([
    ["one body", whole, 6, 0.8],
    ["down the crown and split", split, 16, 0.8],
    ["into the flat back", back, 14, 0.4],
  ] as const)("never fails with errors inside the stated box: %s", (_name, piece, numRuns, step) => {
    const box = off.get(piece)!.together!;
    expect(Math.min(...Object.values(box))).toBeGreaterThan(0.05);
    fc.assert(
      fc.property(drawn(box), (errors) => {
        expect(holds(piece, errors, step)).toBe(true);
      }),
      { numRuns },
    );
  });

  it("tells each error alone: it holds a little within the allowance, and fails a little beyond", () => {
    let closed = 0;
    for (const piece of [whole, split, back]) {
      // Where the room runs out over a side, a coarse lattice leaves the answer open.
      const step = piece === back ? 0.4 : 0.8;
      for (const a of off.get(piece)!.single) {
        for (const [by, open, sign] of [
          [a.minus, a.minusOpen, -1],
          [a.plus, a.plusOpen, 1],
        ] as const) {
          // A tenth of a millimetre, or as much at the recess's reach from the axis.
          const hair = a.fault === "angleDeg" || a.fault === "tiltDeg" ? 0.4 : 0.1;
          const at = (much: number): SetUpErrors => ({ ...AS_MEANT, [a.fault]: sign * Math.max(0, much) });
          expect(holds(piece, at(by - hair), step), `${a.fault} ${sign * by}`).toBe(true);
          if (open) continue;
          closed++;
          expect(holds(piece, at(by + hair), step), `${a.fault} ${sign * by}`).toBe(false);
        }
      }
    }
    expect(closed).toBeGreaterThan(8);
  });

  it("finds the room alike both ways across a symmetric blank, and a turn without effect on an unsplit one", () => {
    const y = found.single.find((a) => a.fault === "zeroY")!;
    const angle = found.single.find((a) => a.fault === "angleDeg")!;
    expect(y.minus).toBeCloseTo(y.plus, 1);
    expect(angle.minusOpen && angle.plusOpen).toBe(true);
    expect(found.sentence).toMatch(/^holds to Y ± [\d.]+ mm; .* matters most/);
  });
});
