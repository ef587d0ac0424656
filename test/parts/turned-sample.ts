import type { FingerRoom, Split, TurnedElement, TurnedPiece, TurningBlank } from "../../src/parts/turned-piece.ts";
import type { Meridian } from "../../src/shapes/meridian.ts";
import { slot } from "../../src/shapes/outlines.ts";
import type { Point } from "../../src/shapes/point.ts";
import { arc, line, type Segment } from "../../src/shapes/segment.ts";
import { at } from "./describing.ts";

/** A piece of a profile: to a place along the axis and a diameter, straight or by an arc about a centre. */
export interface Step {
  readonly kind: TurnedElement["kind"];
  readonly name?: string;
  readonly to: number;
  readonly diameter: number;
  /** Middle of the arc, x and radius; ccw as walked with x rising. */
  readonly about?: Point;
  readonly ccw?: boolean;
  /** Diameter it begins with, where that makes a shoulder. */
  readonly startDiameter?: number;
}

/** A meridian and its elements from steps: shoulders where a diameter jumps. */
export function profile(
  from: number,
  startDiameter: number,
  steps: readonly Step[],
): { readonly meridian: Meridian; readonly elements: readonly TurnedElement[] } {
  const segments: Segment[] = [];
  const elements: TurnedElement[] = [];
  let p: Point = { x: from, y: startDiameter / 2 };
  for (const s of steps) {
    if (s.startDiameter !== undefined && s.startDiameter / 2 !== p.y) {
      const q = { x: p.x, y: s.startDiameter / 2 };
      segments.push(line(p, q));
      p = q;
    }
    const q = { x: s.to, y: s.diameter / 2 };
    segments.push(s.about === undefined ? line(p, q) : arc(p, q, s.about, s.ccw ?? false));
    elements.push({
      kind: s.kind,
      name: s.name ?? s.kind,
      from: p.x,
      to: q.x,
      fromDiameter: 2 * p.y,
      toDiameter: 2 * q.y,
      source: at(4 + elements.length),
    });
    p = q;
  }
  return { meridian: { segments }, elements };
}

/** A hollow with upright walls and a flat floor. */
const upright = (depth: number): FingerRoom["hollow"] => ({
  segments: [line({ x: 0, y: 0 }, { x: 0, y: -depth })],
});

/** Finger room, a slot along the axis about a place. */
export function room(about: number, more: Partial<FingerRoom> = {}): FingerRoom {
  const depth = more.depth ?? 9;
  return {
    name: "finger room",
    cut: "crown",
    section: slot({ x: about, y: 0 }, 44, 22, 0),
    depth,
    hollow: upright(depth),
    ease: 1.5,
    leastWall: 4,
    leastLipAngleDeg: 40,
    gives: { width: 44, roomBehind: 9.7, hook: 9 },
    insideRadius: 3,
    source: at(12),
    sources: {},
    ...more,
  };
}

export const SAWN: Split = { by: "saw", kerf: 1, wander: 0.3, truing: 0.5, source: at(20) };
export const PAPERED: Split = { by: "paper joint", kerf: 0, wander: 0, truing: 0.2, source: at(20) };

const blank = (length: number, across: number): TurningBlank => ({ length, across, shape: "square" });

/**
 * The first sample: bead, fillet, wide cove, fillet, bead between square ends 20 mm long, alike end for end. Each bead
 * bulges 2 mm above its 38 mm ends; the cove, 48 mm long, sinks 6 mm to 26 mm across. Sizes invented.
 */
export function waistPull(more: Partial<TurnedPiece> = {}): TurnedPiece {
  const sag = 6;
  const radius = (24 ** 2 + sag ** 2) / (2 * sag);
  const bulge = (6 ** 2 + 2 ** 2) / (2 * 2);
  const made = profile(20, 38, [
    { kind: "bead", name: "left bead", to: 32, diameter: 38, about: { x: 26, y: 19 + 2 - bulge } },
    { kind: "fillet", to: 36, diameter: 38 },
    { kind: "cove", name: "grip", to: 84, diameter: 38, about: { x: 60, y: 19 - sag + radius }, ccw: true },
    { kind: "fillet", to: 88, diameter: 38 },
    { kind: "bead", name: "right bead", to: 100, diameter: 38, about: { x: 94, y: 19 + 2 - bulge } },
  ]);
  return {
    name: "long pull",
    wood: "ash",
    copies: 1,
    blank: blank(120, 45),
    ...made,
    squares: [
      { from: 0, to: 20, side: 45 },
      { from: 100, to: 120, side: 45 },
    ],
    waste: [
      { from: 0, to: 20 },
      { from: 100, to: 120 },
    ],
    turnedBy: "machine",
    radiusError: { value: 0.05, from: "turned by machine" },
    fingerRoom: room(60),
    split: SAWN,
    wishes: {},
    source: at(3),
    sources: {},
    ...more,
  };
}

/** The second sample: a tenon, a shoulder, a taper and a round end, turned by hand to ± 0.5 mm, its ends already round. */
export function tenonPull(more: Partial<TurnedPiece> = {}): TurnedPiece {
  const made = profile(0, 10, [
    { kind: "tenon", name: "tenon", to: 12, diameter: 10 },
    { kind: "fillet", to: 15, diameter: 24, startDiameter: 24 },
    { kind: "taper", to: 45, diameter: 18 },
    { kind: "cylinder", to: 60, diameter: 18 },
    { kind: "taper", to: 76, diameter: 30 },
    { kind: "cylinder", to: 86, diameter: 30 },
    { kind: "round-over", to: 90, diameter: 22, about: { x: 86, y: 11 }, ccw: false },
  ]);
  return {
    name: "knob",
    wood: "ash",
    copies: 1,
    blank: { length: 90, across: 32, shape: "round" },
    ...made,
    squares: [],
    waste: [],
    turnedBy: "hand",
    radiusError: { value: 0.5, from: "turned by hand, not measured" },
    fingerRoom: room(52, { section: slot({ x: 52, y: 0 }, 26, 8, 0), cut: "back", depth: 5 }),
    split: SAWN,
    wishes: {},
    source: at(3),
    sources: {},
    ...more,
  };
}
