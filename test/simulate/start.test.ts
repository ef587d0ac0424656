import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FaceName, Size } from "../../src/job/board.ts";
import { faceExtent, faceFrame } from "../../src/parts/faces.ts";
import { compose, type Frame, inverse, toSetup, turnedAboutZ } from "../../src/shapes/frame.ts";
import { circle, rectangle, slotBetween } from "../../src/shapes/outlines.ts";
import type { Point3 } from "../../src/shapes/point.ts";
import { containsPoint, distanceToBoundary, type Region } from "../../src/shapes/region.ts";
import { cellFor } from "../../src/simulate/grid.ts";
import { startWood, type Taken } from "../../src/simulate/start.ts";
import { type Columns, columnAt, volumeOf, type Wood } from "../../src/simulate/wood.ts";
import { at, board, mm } from "./help.ts";

const SIZE: Size = { length: 60, width: 40, thickness: 18 };

/** Face up, zero at the lower left corner of the top. */
const FACE_UP: Frame = turnedAboutZ(0, at(0, 0, -SIZE.thickness));
const BLANK = board(60, 40, 18);

function taken(face: FaceName, section: Region, to: number, more: Partial<Taken> = {}, setUp = FACE_UP): Taken {
  const toFace = compose(inverse(setUp), faceFrame(SIZE, face));
  return { toFace, section, from: 0, to, slopeTan: 0, keeps: [], ...more };
}

function holds(columns: Columns, c: number, z: number): boolean {
  return columns.high.some((high, k) => z < high[c]! && z > columns.low[k]![c]!);
}

/** True where the cavity is open at a point of the set-up, from its definition. */
function open(t: Taken, p: Point3): boolean {
  const q = toSetup(t.toFace, p);
  const depth = -q.z;
  if (depth > t.to) return false;
  if (t.keeps.some((k) => depth > k.from && containsPoint(k.area, q))) return false;
  const inset = Math.max(0, depth - t.from) * t.slopeTan;
  return containsPoint(t.section, q) && distanceToBoundary(t.section, q) >= inset;
}

const faces: readonly FaceName[] = ["back", "lower edge", "upper edge", "first end", "second end"];

describe("what earlier set-ups took is carried over between both bounds", () => {
  it("least ≤ true ≤ most at every point, for cavities on all the other faces", () => {
    const cavity = fc.constantFrom(...faces).chain((face) => {
      const { u, v } = faceExtent(SIZE, face);
      const shape: fc.Arbitrary<Region> = fc.oneof(
        fc.tuple(mm(2, u - 2), mm(2, v - 2), mm(1, Math.min(u, v) / 2.2)).map(([x, y, r]) => circle({ x, y }, r)),
        fc
          .tuple(mm(1, u - 1), mm(1, v - 1), mm(1, u - 1), mm(1, v - 1))
          .map(([a, b, c, d]) => slotBetween({ x: a, y: b }, { x: c + 0.0001, y: d }, 5)),
        fc.tuple(mm(-2, u / 2), mm(-2, v / 2)).map(([x, y]) => rectangle({ x, y }, { x: x + u / 3, y: y + v / 3 })),
      );
      return fc
        .tuple(shape, mm(1, 15), fc.constantFrom(0, 0, 0.3))
        .map(([section, to, slopeTan]) => taken(face, section, to, { slopeTan }));
    });
    const spots = fc.array(fc.tuple(mm(0.05, 59.9), mm(0.05, 39.9), mm(-17.9, -0.05)), {
      minLength: 120,
      maxLength: 120,
    });
    fc.assert(
      fc.property(fc.array(cavity, { minLength: 1, maxLength: 3 }), spots, (cavities, where) => {
        const wood = startWood(BLANK, 0.5, cavities);
        for (const [x, y, z] of where) {
          const solid = !cavities.some((t) => open(t, at(x, y, z)));
          const c = columnAt(wood.grid, x, y);
          if (solid) expect(holds(wood.most, c, z)).toBe(true);
          else expect(holds(wood.least, c, z)).toBe(false);
        }
      }),
      { numRuns: 60 },
    );
  });

  const volumes = (wood: Wood) => [volumeOf(wood.grid, wood.least), volumeOf(wood.grid, wood.most)] as const;
  const near = (wood: Wood, exact: number) => {
    const [least, most] = volumes(wood);
    expect(least).toBeLessThanOrEqual(exact + 1e-6);
    expect(most).toBeGreaterThanOrEqual(exact - 1e-6);
    expect(Math.abs((60 * 40 * 18 - (least + most) / 2) / (60 * 40 * 18 - exact) - 1)).toBeLessThan(0.03);
  };

  it("a recess in the back", () => {
    near(
      startWood(BLANK, 0.2, [taken("back", rectangle({ x: 10, y: 10 }, { x: 40, y: 30 }), 7)]),
      60 * 40 * 18 - 600 * 7,
    );
  });

  it("a mortise in an end, as a second layer of wood above the first", () => {
    const wood = startWood(BLANK, 0.2, [taken("second end", slotBetween({ x: 12, y: 9 }, { x: 28, y: 9 }, 6), 20)]);
    near(wood, 60 * 40 * 18 - (16 * 6 + 9 * Math.PI) * 20);
    expect(wood.most.high.length).toBe(2);
  });

  it("a hole through an edge, and wood kept inside a through cut", () => {
    near(
      startWood(BLANK, 0.2, [taken("lower edge", circle({ x: 30, y: 9 }, 4), Number.POSITIVE_INFINITY)]),
      60 * 40 * 18 - 16 * Math.PI * 40,
    );
    const section = rectangle({ x: 10, y: 5 }, { x: 50, y: 35 });
    const tab = { area: rectangle({ x: 28, y: 0 }, { x: 34, y: 40 }), from: 15 };
    near(
      startWood(BLANK, 0.2, [taken("back", section, Number.POSITIVE_INFINITY, { keeps: [tab] })]),
      60 * 40 * 18 - 40 * 30 * 18 + 6 * 30 * 3,
    );
  });

  it("two cuts that meet at one depth leave no film of wood between", () => {
    const wood = startWood(BLANK, 0.5, [
      taken("back", circle({ x: 30, y: 20 }, 9), 4.1),
      taken("back", circle({ x: 30, y: 20 }, 4), 11.3, { from: 4.1 }),
    ]);
    expect(wood.most.high.length).toBe(1);
    expect(wood.least.high.length).toBe(1);
  });

  it("refuses a face that lies aslant", () => {
    const tilt = compose(FACE_UP, {
      rotation: [
        [1, 0, 0],
        [0, 0.6, -0.8],
        [0, 0.8, 0.6],
      ],
      shift: at(0, 0, 0),
    });
    const t = { ...taken("back", circle({ x: 30, y: 20 }, 4), 5), toFace: tilt };
    expect(() => startWood(BLANK, 0.5, [t])).toThrow(RangeError);
  });
});

describe("the size of a cell", () => {
  it("is a tenth of the smallest cutter, within bounds", () => {
    expect(cellFor(board(100, 60, 10), 3)).toBe(0.3);
    expect(cellFor(board(100, 60, 10), 0.5)).toBe(0.1);
    expect(cellFor(board(100, 60, 10), 20)).toBe(0.4);
  });

  it("gives way to a large board, but leaves the smallest cutter three quarters of its width if memory allows", () => {
    expect(cellFor(board(400, 200, 10), 3)).toBe(0.37);
    expect(cellFor(board(1000, 500, 10), 3)).toBe(0.5);
    fc.assert(
      fc.property(mm(10, 2400), mm(10, 1200), mm(0.5, 20), (x, y, d) => {
        const cell = cellFor(board(x, y, 10), d);
        expect((x / cell) * (y / cell)).toBeLessThanOrEqual(3_000_000);
        if (cell > Math.max(0.1, d / 6) + 0.01) expect((x / cell) * (y / cell)).toBeGreaterThan(2_000_000);
      }),
    );
  });
});
