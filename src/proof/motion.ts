import { pointsAlongMove, isKnown as positionKnown } from "../reader/motion.ts";
import type { ReadMove, ReadProgram } from "../reader/read-move.ts";
import type { Point3 } from "../shapes/point.ts";
import { arc, line, pointAt, radiusOf, type Segment } from "../shapes/segment.ts";

/**
 * A read move as geometry: the axis's way seen from above, with the tip's height changing evenly along it. Moves in
 * standing planes are broken into such pieces. mm.
 */
export interface Motion {
  readonly move: ReadMove;
  /** A line of length 0 for a move straight up or down. */
  readonly curve: Segment;
  readonly zFrom: number;
  readonly zTo: number;
  /** The true way lies within this of the piece: end mismatch of an arc, or chord error in a standing plane. */
  readonly slack: number;
}

/** Largest chord error when an arc in a standing plane becomes straight pieces, mm. */
const STANDING_CHORD = 0.0002;

/** True when both ends are known in all three axes. */
export function isKnown(move: ReadMove): boolean {
  return positionKnown(move.from) && positionKnown(move.to);
}

/** The motions of a program, in order. Moves with an unknown end have none: `start` judges those. */
export function motionsOf(read: ReadProgram): readonly Motion[] {
  return read.events.flatMap((e) => (e.kind === "move" ? motionOf(e) : []));
}

/** The motion of one move: one piece, or several for an arc in a standing plane; none when an end is unknown. */
export function motionOf(move: ReadMove): readonly Motion[] {
  if (!isKnown(move)) return [];
  const from = move.from as Point3;
  const to = move.to as Point3;
  const path = move.path;
  if (path.kind === "line") return [straight(move, from, to, 0)];
  switch (path.plane) {
    case "XY": {
      const curve = arc({ x: from.x, y: from.y }, { x: to.x, y: to.y }, path.centre, path.ccw);
      const mismatch = Math.abs(radiusOf(curve) - Math.hypot(to.x - path.centre.x, to.y - path.centre.y));
      return [{ move, curve, zFrom: from.z, zTo: to.z, slack: mismatch }];
    }
    case "XZ":
    case "YZ": {
      const points = pointsAlongMove(move, STANDING_CHORD) ?? [];
      return points.slice(1).map((p, i) => straight(move, points[i]!, p, STANDING_CHORD));
    }
  }
}

/** Height of the tip a share t of the way along. */
export function heightAt(m: Motion, t: number): number {
  return m.zFrom + t * (m.zTo - m.zFrom);
}

/** Place of the tip a share t of the way along. */
export function placeAt(m: Motion, t: number): Point3 {
  const p = pointAt(m.curve, t);
  return { x: p.x, y: p.y, z: heightAt(m, t) };
}

/** The stretch of a segment between two shares, 0 ≤ a ≤ b ≤ 1. */
export function stretch(s: Segment, a: number, b: number): Segment {
  if (a <= 0 && b >= 1) return s;
  const from = pointAt(s, a);
  const to = pointAt(s, b);
  if (s.kind === "line") return line(from, to);
  // An arc of no length would read as a whole circle.
  if (b - a < 1e-12 || (from.x === to.x && from.y === to.y)) return line(from, to);
  return arc(from, to, s.centre, s.ccw);
}

function straight(move: ReadMove, from: Point3, to: Point3, slack: number): Motion {
  return { move, curve: line({ x: from.x, y: from.y }, { x: to.x, y: to.y }), zFrom: from.z, zTo: to.z, slack };
}
