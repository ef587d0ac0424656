import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sensitivity } from "../../../src/parts/walls/sensitivity.ts";
import type { SetUpErrors } from "../../../src/parts/walls/set-up-errors.ts";
import { wallMap } from "../../../src/parts/walls/wall-map.ts";
import { walledPiece } from "../../../src/parts/walls/walls-of.ts";
import { lengths, meridianOf, pieceOf, roomOf } from "./fixtures.ts";

describe("how far a set-up may be off", () => {
  // Judged as one body: a turn about the axis costs nothing then.
  const { split: _, ...piece } = pieceOf(
    meridianOf({ length: 120, end: 20, middle: 20, long: 60 }),
    roomOf({ at: 60, length: 60, width: 22, depth: 14 }),
  );
  const w = walledPiece(piece)!;
  const found = sensitivity(w);

  it("never fails with errors inside the stated box", () => {
    const box = found.together!;
    expect(box.zeroY).toBeGreaterThan(0.1);
    const share = lengths(-1, 1);
    fc.assert(
      fc.property(share, share, share, share, share, share, (a, b, c, d, e, f) => {
        const errors: SetUpErrors = {
          zeroY: a * box.zeroY,
          zeroZ: b * box.zeroZ,
          angleDeg: c * box.angleDeg,
          tiltDeg: d * box.tiltDeg,
          radius: e * box.radius,
          bit: f * box.bit,
        };
        expect(wallMap(w.solid, w.room, w.law, { step: 0.6, want: "verdict", errors }).holds).toBe(true);
      }),
      { numRuns: 12 },
    );
  });

  it("finds the room alike both ways across a symmetric blank, and a turn without effect on an unsplit one", () => {
    const y = found.single.find((a) => a.fault === "zeroY")!;
    const angle = found.single.find((a) => a.fault === "angleDeg")!;
    expect(y.minus).toBeCloseTo(y.plus, 1);
    expect(angle.minusOpen && angle.plusOpen).toBe(true);
    expect(found.sentence).toMatch(/^holds to Y ± [\d.]+ mm; .* matters most/);
  });
});
