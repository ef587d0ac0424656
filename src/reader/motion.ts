import type { Box3, Point, Point3 } from "../shapes/point.ts";
import { arc, lengthOf, line, pointAt, radiusOf, type Segment, sweepRad } from "../shapes/segment.ts";
import type { Position, ReadEvent, ReadMove } from "./read-move.ts";

/** The moves among the events, in order. */
export function* movesOf(events: readonly ReadEvent[]): Generator<ReadMove> {
  for (const event of events) if (event.kind === "move") yield event;
}

/** True when all three coordinates are fixed. */
export function isKnown(p: Position): p is Point3 {
  return p.x !== undefined && p.y !== undefined && p.z !== undefined;
}

/**
 * A move as seen from above: a line, or an arc in XY. Undefined when an end's X or Y is unknown, and for arcs in the
 * other planes, which seen from above are neither (use `pointOnMove`). A move of Z alone is a line without length.
 */
export function moveSegment(move: ReadMove): Segment | undefined {
  const { from, to, path } = move;
  if (from.x === undefined || from.y === undefined || to.x === undefined || to.y === undefined) return undefined;
  const a = { x: from.x, y: from.y };
  const b = { x: to.x, y: to.y };
  switch (path.kind) {
    case "line":
      return line(a, b);
    case "arc":
      return path.plane === "XY" ? arc(a, b, path.centre, path.ccw) : undefined;
  }
}

/** Height a share t (0 to 1) of the way along a move, mm; undefined when an end's Z is unknown. */
export function zAt(move: ReadMove, t: number): number | undefined {
  const { from, to, path } = move;
  if (from.z === undefined || to.z === undefined) return undefined;
  if (t <= 0) return from.z;
  if (t >= 1) return to.z;
  if (path.kind === "line" || path.plane === "XY") return from.z + t * (to.z - from.z);
  const flat = flatArc(move);
  return flat === undefined ? undefined : pointAt(flat, t).y;
}

/** The point a share t (0 to 1) of the way along a move; undefined when an end is not fully known. */
export function pointOnMove(move: ReadMove, t: number): Point3 | undefined {
  const { from, to, path } = move;
  if (!isKnown(from) || !isKnown(to)) return undefined;
  if (t <= 0) return from;
  if (t >= 1) return to;
  if (path.kind === "line") {
    return {
      x: from.x + t * (to.x - from.x),
      y: from.y + t * (to.y - from.y),
      z: from.z + t * (to.z - from.z),
    };
  }
  const flat = flatArc(move);
  if (flat === undefined) return undefined;
  const p = pointAt(flat, t);
  switch (path.plane) {
    case "XY":
      return { x: p.x, y: p.y, z: from.z + t * (to.z - from.z) };
    case "XZ":
      return { x: p.x, y: from.y + t * (to.y - from.y), z: p.y };
    case "YZ":
      return { x: from.x + t * (to.x - from.x), y: p.x, z: p.y };
  }
}

/**
 * Length of a move's path, mm; undefined when an end is not fully known, except that an axis unknown at both ends
 * counts as standing still. Helix: √((r·sweep)² + d²) (NISTIR 6556 §2.1.2.6: the third axis moves evenly).
 */
export function lengthOfMove(move: ReadMove): number | undefined {
  const dx = travelled(move.from.x, move.to.x);
  const dy = travelled(move.from.y, move.to.y);
  const dz = travelled(move.from.z, move.to.z);
  if (dx === undefined || dy === undefined || dz === undefined) return undefined;
  if (move.path.kind === "line") return Math.sqrt(dx * dx + dy * dy + dz * dz);
  const flat = flatArc(move);
  if (flat === undefined) return undefined;
  const along = lengthOf(flat);
  switch (move.path.plane) {
    case "XY":
      return Math.hypot(along, dz);
    case "XZ":
      return Math.hypot(along, dy);
    case "YZ":
      return Math.hypot(along, dx);
  }
}

/** The smallest box that holds a move's path, mm; undefined when an end is not fully known. */
export function moveBounds(move: ReadMove): Box3 | undefined {
  const { from, to, path } = move;
  if (!isKnown(from) || !isKnown(to)) return undefined;
  const min = { x: Math.min(from.x, to.x), y: Math.min(from.y, to.y), z: Math.min(from.z, to.z) };
  const max = { x: Math.max(from.x, to.x), y: Math.max(from.y, to.y), z: Math.max(from.z, to.z) };
  if (path.kind === "line") return { min, max };
  const flat = flatArc(move);
  if (flat === undefined) return undefined;
  const [low, high] = arcExtent(flat);
  const [first, second] = axesOf(path.plane);
  min[first] = low.x;
  min[second] = low.y;
  max[first] = high.x;
  max[second] = high.y;
  return { min, max };
}

/**
 * Points along a move with no chord further than `tolerance` (mm, > 0) from the path, first and last its own ends;
 * undefined when an end is not fully known. Sagitta s = r(1 − cos θ/2).
 */
export function pointsAlongMove(move: ReadMove, tolerance: number): readonly Point3[] | undefined {
  if (!(tolerance > 0)) throw new RangeError("tolerance must be positive");
  if (!isKnown(move.from) || !isKnown(move.to)) return undefined;
  const flat = flatArc(move);
  if (flat === undefined) return [move.from, move.to];
  const step = 2 * Math.acos(Math.max(0, 1 - tolerance / radiusOf(flat)));
  const pieces = Math.max(1, Math.ceil(Math.abs(sweepRad(flat)) / step));
  const points: Point3[] = [];
  for (let i = 0; i <= pieces; i++) points.push(pointOnMove(move, i / pieces)!);
  return points;
}

function travelled(from: number | undefined, to: number | undefined): number | undefined {
  if (from === undefined && to === undefined) return 0;
  return from === undefined || to === undefined ? undefined : to - from;
}

function axesOf(plane: "XY" | "XZ" | "YZ"): readonly ["x" | "y", "y" | "z"] {
  switch (plane) {
    case "XY":
      return ["x", "y"];
    case "XZ":
      return ["x", "z"];
    case "YZ":
      return ["y", "z"];
  }
}

/** The arc in its own plane's drawing, or undefined for lines and unknown ends. */
function flatArc(move: ReadMove): (Segment & { readonly kind: "arc" }) | undefined {
  if (move.path.kind === "line") return undefined;
  const [first, second] = axesOf(move.path.plane);
  const a: Point | undefined = pairOf(move.from[first], move.from[second]);
  const b: Point | undefined = pairOf(move.to[first], move.to[second]);
  return a === undefined || b === undefined ? undefined : arc(a, b, move.path.centre, move.path.ccw);
}

function pairOf(x: number | undefined, y: number | undefined): Point | undefined {
  return x === undefined || y === undefined ? undefined : { x, y };
}

/** Lowest and highest coordinates of an arc: its ends, and the quarter points it passes. */
function arcExtent(a: Segment & { readonly kind: "arc" }): readonly [Point, Point] {
  const low = { x: Math.min(a.from.x, a.to.x), y: Math.min(a.from.y, a.to.y) };
  const high = { x: Math.max(a.from.x, a.to.x), y: Math.max(a.from.y, a.to.y) };
  const r = radiusOf(a);
  const whole = 2 * Math.PI;
  const sweep = sweepRad(a);
  const start = Math.atan2(a.from.y - a.centre.y, a.from.x - a.centre.x);
  for (let quarter = 0; quarter < 4; quarter++) {
    const turn = a.ccw ? (quarter * Math.PI) / 2 - start : start - (quarter * Math.PI) / 2;
    const ahead = ((turn % whole) + whole) % whole;
    if (ahead > Math.abs(sweep)) continue;
    if (quarter === 0) high.x = Math.max(high.x, a.centre.x + r);
    if (quarter === 1) high.y = Math.max(high.y, a.centre.y + r);
    if (quarter === 2) low.x = Math.min(low.x, a.centre.x - r);
    if (quarter === 3) low.y = Math.min(low.y, a.centre.y - r);
  }
  return [low, high];
}
