import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { refuses } from "../../../src/finding.ts";
import type { TurnedPiece } from "../../../src/parts/turned-piece.ts";
import { thinnestRib } from "../../../src/parts/walls/rib.ts";
import { wallsOf } from "../../../src/parts/walls/walls-of.ts";
import { arc, line } from "../../../src/shapes/segment.ts";
import { bySaw, hollowOf, lengths, meridianOf, pieceOf, roomOf } from "./fixtures.ts";

const barrel = (r: number) => meridianOf({ length: 120, end: r, middle: r, long: 60 });
/** A blank that is never split: judged as one body. */
function unsplit(piece: TurnedPiece): TurnedPiece {
  const { split: _, ...rest } = piece;
  return rest;
}

const codes = (findings: readonly { readonly code: string }[]): string[] => findings.map((f) => f.code);

describe("a finger room in a cylinder, against its closed form", () => {
  it("finds the wall at the foot: radius less the foot's distance from the axis", () => {
    // Deep and narrow, so that the foot is the thin place.
    const room = roomOf({ at: 60, length: 60, width: 12, depth: 36 });
    const { pulls, findings } = wallsOf(unsplit(pieceOf(barrel(20), room)), 0.4);
    const thin = pulls[0]!.map.bodies[0]!.thinnest!;
    expect(thin.value).toBeCloseTo(20 - Math.hypot(6, 16), 3);
    expect(codes(findings)).toContain("wall-thin");
    expect(refuses(findings)).toBe(true);
    expect(findings[0]!.mend).toMatch(/it may be .* deep/);
  });

  it("finds the lip's angle at its edge: the surface's slope there", () => {
    const room = roomOf({ at: 60, length: 60, width: 30, depth: 14 }, { leastWall: 0.4 });
    const lip = wallsOf(pieceOf(barrel(20), room), 0.4).pulls[0]!.map.bodies[0]!.lip!;
    expect(Math.abs(lip.value - (90 - (Math.asin(15 / 20) * 180) / Math.PI))).toBeLessThan(1.2);
  });

  it("says how wide and how deep it may be, and such a room holds", () => {
    const room = { at: 60, length: 60, width: 30, depth: 14 };
    const { pulls, findings } = wallsOf(unsplit(pieceOf(barrel(20), roomOf(room))), 0.4);
    expect(refuses(findings)).toBe(true);
    const by = pulls[0]!.advice!.narrower!;
    const smaller = roomOf({ ...room, width: 30 - 2 * by, length: 60 - 2 * by });
    expect(wallsOf(unsplit(pieceOf(barrel(20), smaller)), 0.4).pulls[0]!.map.holds).toBe(true);
    const larger = roomOf({ ...room, width: 30.4 - 2 * by, length: 60.4 - 2 * by });
    expect(wallsOf(unsplit(pieceOf(barrel(20), larger)), 0.4).pulls[0]!.map.holds).toBe(false);
  });

  it("only cautions below a limit that is practice and not the user's", () => {
    const room = roomOf({ at: 60, length: 60, width: 30, depth: 14 }, { sources: {} });
    const { findings } = wallsOf(pieceOf(barrel(20), room), 0.4);
    expect(findings.length).toBeGreaterThan(0);
    expect(refuses(findings)).toBe(false);
  });

  it("counts the radius as small as hand turning may leave it", () => {
    const piece = {
      ...pieceOf(barrel(20), roomOf({ at: 60, length: 60, width: 12, depth: 36 })),
      radiusError: { value: 0.5, from: "by hand" },
    };
    // The crown from which depth is measured is the plan's; the far side comes nearer.
    expect(wallsOf(piece, 0.4).pulls[0]!.map.bodies[0]!.thinnest!.value).toBeCloseTo(19.5 - Math.hypot(6, 16), 3);
  });

  it("doesn't take the wood above a shallow room for a wall", () => {
    const room = roomOf({ at: 60, length: 60, width: 14, depth: 2 }, { leastWall: 4 });
    const { pulls, findings } = wallsOf(pieceOf(barrel(20), room), 0.4);
    expect(findings).toEqual([]);
    expect(pulls[0]!.map.holds).toBe(true);
  });

  it("counts an eased lip from the end of its ease", () => {
    const room = roomOf(
      { at: 60, length: 50, width: 14, depth: 16 },
      { hollow: hollowOf({ depth: 16, middle: 7, ease: 1.5 }), ease: 1.5 },
    );
    const { pulls, findings } = wallsOf(pieceOf(barrel(20), room), 0.4);
    expect(findings).toEqual([]);
    expect(pulls[0]!.map.bodies.length).toBe(3);
  });
});

describe("planted faults are always refused", () => {
  it("thin walls", () => {
    fc.assert(
      fc.property(lengths(0.3, 3.8), lengths(8, 16), (wall, width) => {
        const floor = Math.sqrt((20 - wall) ** 2 - width ** 2 / 4);
        const room = roomOf({ at: 60, length: 60, width, depth: 20 + floor });
        const { findings } = wallsOf(unsplit(pieceOf(barrel(20), room)), 0.7);
        expect(findings.some((f) => f.code === "wall-thin" && f.grade === "refuse")).toBe(true);
      }),
      { numRuns: 3 },
    );
  });

  it("through the far side, sideways, and past the ends", () => {
    const out = (room: Parameters<typeof roomOf>[0]): string[] =>
      wallsOf(unsplit(pieceOf(barrel(20), roomOf(room))), 0.7).findings.map((f) => `${f.grade} ${f.code}: ${f.what}`);
    fc.assert(
      fc.property(lengths(0.05, 6), (by) => {
        expect(out({ at: 60, length: 60, width: 12, depth: 40 + by })[0]).toMatch(/refuse wall-breaks-out/);
        expect(out({ at: 60, length: 80, width: 40 + 2 * by, depth: 14 })[0]).toMatch(
          /refuse wall-breaks-out.*sideways/,
        );
        // Below the axis the sides turn under.
        const width = 2 * Math.sqrt(20 ** 2 - (8 - by / 2) ** 2);
        // By a hair it may be told as no wall at all.
        expect(out({ at: 60, length: 80, width, depth: 28.2 })[0]).toMatch(/refuse wall-(breaks-out|thin)/);
        expect(out({ at: 91 + by, length: 60, width: 12, depth: 14 })[0]).toMatch(/refuse wall-breaks-out.*end/);
      }),
      { numRuns: 3 },
    );
  });

  it("at tenons, with the place", () => {
    const meridian = {
      segments: [
        line({ x: 0, y: 8 }, { x: 30, y: 8 }),
        line({ x: 30, y: 8 }, { x: 30, y: 20 }),
        line({ x: 30, y: 20 }, { x: 120, y: 20 }),
      ],
    };
    const piece = {
      ...pieceOf(meridian, roomOf({ at: 50, length: 50, width: 14, depth: 14 })),
      elements: [
        {
          kind: "tenon" as const,
          name: "tenon",
          from: 0,
          to: 30,
          fromDiameter: 16,
          toDiameter: 16,
          source: bySaw.source,
        },
      ],
    };
    const { findings } = wallsOf(piece, 0.5);
    expect(findings[0]!.code).toBe("wall-breaks-out");
    expect(findings[0]!.what).toMatch(/breaks out/);
    expect(findings[0]!.place.at!.x).toBeGreaterThan(24.9);
    expect(findings[0]!.place.at!.x).toBeLessThan(33);
  });

  it("an undercut, naming the side that works", () => {
    const dovetail = { segments: [line({ x: 3, y: 0 }, { x: 0, y: -14 })] };
    const { findings } = wallsOf(
      pieceOf(barrel(20), roomOf({ at: 60, length: 60, width: 20, depth: 14 }, { hollow: dovetail })),
      0.5,
    );
    expect(codes(findings)).toEqual(["wall-undercut"]);
    expect(findings[0]!.mend).toContain("flat back");
  });

  it("a room that misses the wood", () => {
    const { findings } = wallsOf(
      pieceOf(barrel(20), roomOf({ at: 60, length: 40, width: 10, depth: 14, off: 60 })),
      0.7,
    );
    expect(refuses(findings)).toBe(true);
  });
});

describe("a room in the flat back of a half", () => {
  const waist = {
    segments: [
      line({ x: 0, y: 22 }, { x: 30, y: 22 }),
      arc({ x: 30, y: 22 }, { x: 90, y: 22 }, { x: 60, y: 97 - 0.48 }, true),
      line({ x: 90, y: 22 }, { x: 120, y: 22 }),
    ],
  };

  it("may run out over the side it opens to, and over no other", () => {
    const open = roomOf(
      { at: 60, length: 50, width: 30, depth: 9, off: 12 },
      { cut: "back", opensOver: "crown side", leastWall: 3 },
    );
    const { findings, pulls } = wallsOf(pieceOf(barrel(20), open), 0.4);
    expect(codes(findings)).not.toContain("wall-breaks-out");
    expect(pulls[0]!.map.bodies[0]!.body).toBe("half");
    const shut = wallsOf(pieceOf(barrel(20), { ...open, opensOver: "far side" }), 0.4);
    expect(codes(shut.findings)).toEqual(["wall-breaks-out"]);
  });

  it("has its wall beneath the floor: radius less loss and depth", () => {
    const room = roomOf({ at: 60, length: 50, width: 12, depth: 14 }, { cut: "back", leastWall: 4 });
    const thin = wallsOf(pieceOf(barrel(20), room), 0.4).pulls[0]!.map.bodies[0]!.thinnest!;
    // Kerf 1.6, wander 0.5, truing 0.5: 1.8 lost at most.
    expect(thin.value).toBeCloseTo(20 - Math.hypot(6, 15.8), 3);
  });

  it("is judged in a waist as well", () => {
    const room = roomOf({ at: 60, length: 40, width: 12, depth: 8 }, { cut: "back", leastWall: 4 });
    expect(wallsOf(pieceOf(waist, room), 0.4).pulls[0]!.map.holds).toBe(true);
  });
});

describe("neighbouring pulls in one turning", () => {
  const long = meridianOf({ length: 260, end: 20, middle: 20, long: 60 });
  const withGap = (gap: number, sources?: Record<string, never>) =>
    pieceOf(
      long,
      roomOf(
        { at: 70, length: 60, width: 14, depth: 14 },
        { leastWall: 4, alsoAt: [60 + gap], ...(sources === undefined ? {} : { sources }) },
      ),
    );

  it("keep a rib of at least the least wall between their rooms", () => {
    expect(wallsOf(unsplit(withGap(4.1)), 1).findings).toEqual([]);
    const thin = wallsOf(unsplit(withGap(3.9)), 1).findings;
    expect(codes(thin)).toEqual(["wall-thin"]);
    expect(thin[0]!.what).toMatch(/between the finger rooms of neighbouring pulls is too thin/);
    expect(thin[0]!.measured!.value).toBeCloseTo(3.9, 9);
    expect(refuses(thin)).toBe(true);
    // A limit that nobody asked for only cautions; rooms that run into each other refuse all the same.
    expect(refuses(wallsOf(unsplit(withGap(3.9, {})), 1).findings)).toBe(false);
    expect(refuses(wallsOf(unsplit(withGap(-1, {})), 1).findings)).toBe(true);
  });

  it("sloped walls lean away from each other: thicker below, thinner at the top", () => {
    const tan = Math.tan((6 * Math.PI) / 180);
    const solid = { meridian: long, axis: { y: 50, z: 50 }, squares: [] };
    const room = roomOf(
      { at: 70, length: 60, width: 20, depth: 14 },
      { hollow: hollowOf({ depth: 14, middle: 10, leanDeg: 6 }) },
    );
    const rib = thinnestRib(solid, room, [0, 65], { leastWall: 3, lipAngleDeg: 30 })!;
    expect(rib.atTop).toBeCloseTo(5, 9);
    // 3 / sin 30° = 6 mm below the crown.
    expect(rib.thickness).toBeCloseTo(5 + 2 * 6 * tan, 9);
    expect(rib.x).toBeCloseTo(102.5, 9);
  });
});
