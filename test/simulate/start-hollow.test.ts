import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FaceName, Size } from "../../src/job/board.ts";
import { faceExtent, faceFrame } from "../../src/parts/faces.ts";
import { compose, inverse, toSetup, turnedAboutZ } from "../../src/shapes/frame.ts";
import { buildHollow, endsOfHollow, insetAt, shiftedHollow } from "../../src/shapes/hollow.ts";
import { roundedRectangle, slot } from "../../src/shapes/outlines.ts";
import { mapRegion, shiftBy } from "../../src/shapes/plan-map.ts";
import type { Point3 } from "../../src/shapes/point.ts";
import { containsPoint, distanceToBoundary } from "../../src/shapes/region.ts";
import { startWood, type Taken } from "../../src/simulate/start.ts";
import { type Columns, columnAt } from "../../src/simulate/wood.ts";
import { at, board, mm } from "./help.ts";

const SIZE: Size = { length: 60, width: 40, thickness: 24 };
const BLANK = board(60, 40, 24);
const FACE_UP = turnedAboutZ(0, at(0, 0, -SIZE.thickness));

function holds(columns: Columns, c: number, z: number): boolean {
  return columns.high.some((high, k) => z < high[c]! && z > columns.low[k]![c]!);
}

/** True where a hollow is open at a point of the set-up, from its definition. */
function open(t: Taken, p: Point3): boolean {
  const q = toSetup(t.toFace, p);
  if (-q.z > t.to || q.z > 0) return false;
  return containsPoint(t.section, q) && distanceToBoundary(t.section, q) >= insetAt(t.hollow!, q.z);
}

describe("hollows that earlier set-ups cut", () => {
  it("lie between both bounds at every point, beneath level faces and upright ones", () => {
    const cut = fc
      .record({
        face: fc.constantFrom<FaceName>("back", "lower edge", "first end"),
        depth: mm(4, 9),
        leanDeg: fc.constantFrom(0, 12),
        footRadius: mm(1, 3),
        dish: fc.constantFrom(0, 1.5),
        ease: fc.constantFrom(0, 1),
        round: fc.boolean(),
      })
      .map(({ face, round, ...words }): Taken | undefined => {
        const { u, v } = faceExtent(SIZE, face);
        const width = Math.min(u, v) - 4;
        const length = Math.max(width, Math.min(Math.max(u, v) - 4, 1.4 * width));
        const turned = u >= v ? 0 : 90;
        const made = buildHollow({ ...words, middle: width / 2 - words.ease });
        if (typeof made === "string") return undefined;
        const hollow = shiftedHollow(made, -endsOfHollow(made).mouth.x);
        const shape = round
          ? slot({ x: 0, y: 0 }, length, width, turned)
          : roundedRectangle({ x: 0, y: 0 }, length, width, 3, turned);
        return {
          toFace: compose(inverse(FACE_UP), faceFrame(SIZE, face)),
          section: mapRegion(shiftBy(u / 2, v / 2), shape),
          from: 0,
          to: -endsOfHollow(hollow).floor.y,
          slopeTan: 0,
          hollow,
          keeps: [],
        };
      });
    const spots = fc.array(fc.tuple(mm(0.05, 59.9), mm(0.05, 39.9), mm(-23.9, -0.05)), {
      minLength: 150,
      maxLength: 150,
    });
    let inside = 0;
    fc.assert(
      fc.property(cut, spots, (taken, where) => {
        if (taken === undefined) return;
        const wood = startWood(BLANK, 0.5, [taken]);
        for (const [x, y, z] of where) {
          const c = columnAt(wood.grid, x, y);
          if (open(taken, at(x, y, z))) {
            inside++;
            expect(holds(wood.least, c, z)).toBe(false);
          } else expect(holds(wood.most, c, z)).toBe(true);
        }
      }),
      { numRuns: 40 },
    );
    expect(inside).toBeGreaterThan(50);
  });
});
