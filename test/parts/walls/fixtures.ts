import fc from "fast-check";
import type { FingerRoom, Split, TurnedPiece } from "../../../src/parts/turned-piece.ts";
import { buildHollow, type Hollow, type HollowWords } from "../../../src/shapes/hollow.ts";
import type { Meridian } from "../../../src/shapes/meridian.ts";
import { slot } from "../../../src/shapes/outlines.ts";
import { arc, line } from "../../../src/shapes/segment.ts";
import type { TurnedSolid } from "../../../src/shapes/turned-solid.ts";

/** Lengths of the pulls in these tests are invented. */
export const source = { file: "pulls.yaml", line: 3, column: 5, length: 4, text: "    recess: finger room" };

export const bySaw: Split = { by: "saw", kerf: 1.6, wander: 0.5, truing: 0.5, source };

/** Ends of radius `end`; between them a waist or belly of radius `middle`, an arc over `long` mm. */
export interface Shape {
  readonly length: number;
  readonly end: number;
  readonly middle: number;
  readonly long: number;
}

export function meridianOf(s: Shape): Meridian {
  const deep = s.middle - s.end;
  const a = { x: (s.length - s.long) / 2, y: s.end };
  const b = { x: (s.length + s.long) / 2, y: s.end };
  if (Math.abs(deep) < 1e-3) return { segments: [line({ x: 0, y: s.end }, { x: s.length, y: s.end })] };
  const radius = (s.long ** 2 / 4 + deep ** 2) / (2 * Math.abs(deep));
  const centre = { x: s.length / 2, y: deep > 0 ? s.middle - radius : s.middle + radius };
  return {
    segments: [line({ x: 0, y: s.end }, a), arc(a, b, centre, deep < 0), line(b, { x: s.length, y: s.end })],
  };
}

export function solidFrom(m: Meridian, across = 100): TurnedSolid {
  return { meridian: m, axis: { y: across / 2, z: across / 2 }, squares: [] };
}

export function hollowOf(words: Partial<HollowWords> & { readonly depth: number; readonly middle: number }): Hollow {
  const h = buildHollow({ leanDeg: 0, footRadius: 0, dish: 0, ease: 0, ...words });
  if (typeof h === "string") throw new Error(h);
  return h;
}

/** A slot along the axis with upright walls and a flat floor. */
export interface SlotRoom {
  readonly at: number;
  readonly length: number;
  readonly width: number;
  readonly depth: number;
  readonly off?: number;
}

export function roomOf(r: SlotRoom, more: Partial<FingerRoom> = {}): FingerRoom {
  return {
    name: "finger room",
    cut: "crown",
    section: slot({ x: r.at, y: r.off ?? 0 }, r.length, r.width, 0),
    depth: r.depth,
    hollow: hollowOf({ depth: r.depth, middle: r.width / 2 }),
    ease: 0,
    leastWall: 4,
    leastLipAngleDeg: 40,
    gives: { width: r.length, roomBehind: r.width / 2, hook: r.depth },
    insideRadius: r.width / 2,
    source,
    sources: { "least wall": source, "least lip angle": source, wall: source },
    ...more,
  };
}

export function pieceOf(m: Meridian, room: FingerRoom, split: Split | undefined = bySaw, across = 100): TurnedPiece {
  const last = m.segments[m.segments.length - 1]!.to.x;
  return {
    name: "pull",
    wood: "ash",
    copies: 1,
    blank: { length: last, across, shape: "square" },
    elements: [{ kind: "cylinder", name: "barrel", from: 0, to: last, fromDiameter: 40, toDiameter: 40, source }],
    meridian: m,
    squares: [],
    waste: [],
    turnedBy: "machine",
    radiusError: { value: 0, from: "turned by machine" },
    fingerRoom: room,
    ...(split ? { split } : {}),
    wishes: {} as TurnedPiece["wishes"],
    source,
    sources: {},
  };
}

/** Whole micrometres between two lengths in mm. */
export const lengths = (from: number, to: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.round(from * 1000), max: Math.round(to * 1000) }).map((um) => um / 1000);

export const shapes: fc.Arbitrary<Shape> = fc.record({
  length: fc.constant(120),
  end: lengths(17, 22),
  middle: lengths(15, 23),
  long: lengths(60, 100),
});
