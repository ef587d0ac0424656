import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lossPerHalf } from "../../../src/parts/turned-piece.ts";
import { halvesOf } from "../../../src/parts/walls/halves.ts";
import { outerOf } from "../../../src/parts/walls/outer.ts";
import { lossOf, reachOf } from "../../../src/parts/walls/sensitivity.ts";
import { moveOf } from "../../../src/parts/walls/set-up-errors.ts";
import { walledPiece } from "../../../src/parts/walls/walls-of.ts";
import { line } from "../../../src/shapes/segment.ts";
import { bySaw, lengths, meridianOf, pieceOf, roomOf, shapes, solidFrom } from "./fixtures.ts";

const loss = lossPerHalf(bySaw).most;
const barrel = meridianOf({ length: 120, end: 20, middle: 20, long: 60 });

describe("the halves of a split pull", () => {
  it("keep a glue face of the chord's width, less the room's", () => {
    const depth = 14;
    const halves = halvesOf(pieceOf(barrel, roomOf({ at: 60, length: 60, width: 24, depth })))!;
    const chord = 2 * Math.sqrt(20 ** 2 - loss ** 2);
    const reach = 18 + Math.sqrt(12 ** 2 - loss ** 2);
    const left = 6 + chord / 2;
    expect(halves.upper.leastWidth).toBeCloseTo(left, 6);
    expect(halves.upper.area).toBeCloseTo(120 * chord - 2 * reach * (chord - left), -1);
    expect(halves.lower.area).toBeCloseTo(halves.upper.area, 6);
    expect(halves.mirrorPair).toBe(false);
    expect(halves.findings.map((f) => f.code)).toEqual(["wall-glue-across-grain"]);
  });

  it("are a mirror pair where the profile is not alike end for end", () => {
    const taper = { segments: [line({ x: 0, y: 20 }, { x: 120, y: 19 })] };
    const halves = halvesOf(pieceOf(taper, roomOf({ at: 60, length: 60, width: 24, depth: 14 })))!;
    expect(halves.mirrorPair).toBe(true);
    expect(halves.unlike).toBeCloseTo(1, 1);
    expect(halves.findings.map((f) => f.code)).toContain("wall-mirror-pair");
  });

  it("have a narrow glue face where the room leaves less than 8 mm", () => {
    const halves = halvesOf(pieceOf(barrel, roomOf({ at: 60, length: 60, width: 24, depth: 33 })))!;
    expect(halves.upper.leastWidth).toBeCloseTo(Math.sqrt(400 - loss ** 2) - 13, 6);
    expect(halves.findings.map((f) => f.code)).toContain("wall-glue-narrow");
  });

  it("differ where the room lies off the split line", () => {
    const halves = halvesOf(pieceOf(barrel, roomOf({ at: 60, length: 60, width: 24, depth: 14, off: 11 })))!;
    expect(halves.findings.map((f) => f.code)).toContain("wall-halves-differ");
  });
});

describe("what a set-up that is off may cost", () => {
  it("is never more than the bound, at any place, in any turned shape", () => {
    fc.assert(
      fc.property(
        shapes,
        fc.record({
          zeroY: lengths(-2, 2),
          zeroZ: lengths(-2, 2),
          angleDeg: lengths(-10, 10),
          tiltDeg: lengths(-2, 2),
          radius: lengths(-1, 1),
          bit: fc.constant(0),
        }),
        lengths(0, 1),
        lengths(-1, 1),
        lengths(0, 1),
        (shape, e, along, across, down) => {
          const w = walledPiece(pieceOf(meridianOf(shape), roomOf({ at: 60, length: 60, width: 24, depth: 14 })))!;
          const solid = solidFrom(meridianOf(shape));
          const kept = { side: 1 as const, loss };
          const meant = outerOf(solid, kept);
          const off = outerOf(solid, kept, e.radius);
          const p = [30 + 60 * along, 12 * across, shape.middle - 14 * down] as const;
          const q = new Float64Array(3);
          moveOf(e, 60).there(...p, q);
          const before = meant.depth(...p, Infinity);
          fc.pre(before > 0);
          const after = off.depth(q[0]!, q[1]!, q[2]!, Infinity);
          expect(after).toBeGreaterThanOrEqual(before - lossOf(e, reachOf(w)) - 1e-9);
          // There and back again is the same place.
          moveOf(e, 60).back(q[0]!, q[1]!, q[2]!, q);
          for (const k of [0, 1, 2] as const) expect(q[k]).toBeCloseTo(p[k], 9);
        },
      ),
      { numRuns: 100 },
    );
  });
});
