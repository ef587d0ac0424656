import { type Box, distance, type Point } from "./point.ts";

/** A straight piece of an outline. */
export interface Line {
  readonly kind: "line";
  readonly from: Point;
  readonly to: Point;
}

/**
 * A piece of a circle. Ends are kept bit for bit, so that neighbours meet exactly.
 * `from` equal to `to` in both coordinates means the whole circle, as in RS-274.
 */
export interface Arc {
  readonly kind: "arc";
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  /** true: counter-clockwise seen from above (+Z). */
  readonly ccw: boolean;
}

/** The one kind of curve that every stage shares. */
export type Segment = Line | Arc;

/** A straight segment. */
export function line(from: Point, to: Point): Line {
  return { kind: "line", from, to };
}

/** An arc from its ends, centre and sense. */
export function arc(from: Point, to: Point, centre: Point, ccw: boolean): Arc {
  return { kind: "arc", from, to, centre, ccw };
}

/** Radius of an arc, mm: the distance of its start from its centre. */
export function radiusOf(a: Arc): number {
  return distance(a.centre, a.from);
}

/**
 * Signed angle an arc turns through, in radians: positive counter-clockwise, 0 < |sweep| ≤ 2π.
 * Source: the centre format's sweep rule, NISTIR 6556 §3.5.3.2 (end = start is a full circle).
 */
export function sweepRad(a: Arc): number {
  const whole = 2 * Math.PI;
  if (a.from.x === a.to.x && a.from.y === a.to.y) return a.ccw ? whole : -whole;
  const start = Math.atan2(a.from.y - a.centre.y, a.from.x - a.centre.x);
  const end = Math.atan2(a.to.y - a.centre.y, a.to.x - a.centre.x);
  const turn = a.ccw ? end - start : start - end;
  const positive = turn <= 0 ? turn + whole : turn;
  return a.ccw ? positive : -positive;
}

/** Length along a segment, mm. */
export function lengthOf(s: Segment): number {
  switch (s.kind) {
    case "line":
      return distance(s.from, s.to);
    case "arc":
      return radiusOf(s) * Math.abs(sweepRad(s));
  }
}

/** The point a share t (0 to 1) of the way along a segment. The ends are returned bit for bit. */
export function pointAt(s: Segment, t: number): Point {
  if (t <= 0) return s.from;
  if (t >= 1) return s.to;
  switch (s.kind) {
    case "line":
      return { x: s.from.x + t * (s.to.x - s.from.x), y: s.from.y + t * (s.to.y - s.from.y) };
    case "arc": {
      const angle = t * sweepRad(s);
      const dx = s.from.x - s.centre.x;
      const dy = s.from.y - s.centre.y;
      const cos = Math.cos(angle);
      const sin = Math.sin(angle);
      return { x: s.centre.x + dx * cos - dy * sin, y: s.centre.y + dx * sin + dy * cos };
    }
  }
}

/** The same segment walked the other way. */
export function reversed(s: Segment): Segment {
  switch (s.kind) {
    case "line":
      return line(s.to, s.from);
    case "arc":
      return arc(s.to, s.from, s.centre, !s.ccw);
  }
}

/**
 * How far along an arc (0 to 1) the point lies that is seen from the centre in direction (dx, dy); undefined where the
 * arc doesn't go, or for a direction of no length. Nearness to an end is not forgiven here: compare with the ends.
 */
export function shareTowards(a: Arc, dx: number, dy: number): number | undefined {
  const ux = a.from.x - a.centre.x;
  const uy = a.from.y - a.centre.y;
  const turn = Math.atan2(ux * dy - uy * dx, ux * dx + uy * dy);
  if (dx === 0 && dy === 0) return undefined;
  const along = a.ccw ? turn : -turn;
  const t = (along < 0 ? along + 2 * Math.PI : along) / Math.abs(sweepRad(a));
  return t <= 1 ? t : undefined;
}

/** The smallest box around a segment, mm. Exact: an arc's box reaches its quarter points when the arc passes them. */
export function boundsOf(s: Segment): Box {
  let minX = Math.min(s.from.x, s.to.x);
  let maxX = Math.max(s.from.x, s.to.x);
  let minY = Math.min(s.from.y, s.to.y);
  let maxY = Math.max(s.from.y, s.to.y);
  switch (s.kind) {
    case "line":
      break;
    case "arc": {
      const r = radiusOf(s);
      if (shareTowards(s, 1, 0) !== undefined) maxX = Math.max(maxX, s.centre.x + r);
      if (shareTowards(s, -1, 0) !== undefined) minX = Math.min(minX, s.centre.x - r);
      if (shareTowards(s, 0, 1) !== undefined) maxY = Math.max(maxY, s.centre.y + r);
      if (shareTowards(s, 0, -1) !== undefined) minY = Math.min(minY, s.centre.y - r);
      break;
    }
  }
  return { min: { x: minX, y: minY }, max: { x: maxX, y: maxY } };
}

/** Direction of travel at a share t (0 to 1) of the way along, as a vector of length 1. (1, 0) for a segment of no length. */
export function tangentAt(s: Segment, t: number): Point {
  switch (s.kind) {
    case "line":
      return unit(s.to.x - s.from.x, s.to.y - s.from.y);
    case "arc": {
      const p = pointAt(s, t);
      const dx = p.x - s.centre.x;
      const dy = p.y - s.centre.y;
      return s.ccw ? unit(-dy, dx) : unit(dy, -dx);
    }
  }
}

function unit(x: number, y: number): Point {
  const length = Math.hypot(x, y);
  return length === 0 ? { x: 1, y: 0 } : { x: x / length, y: y / length };
}

/**
 * The piece of a segment between shares t0 < t1 of its length. A piece that begins or ends where the whole does keeps
 * that end bit for bit.
 */
export function pieceOf(s: Segment, t0: number, t1: number): Segment {
  if (t0 <= 0 && t1 >= 1) return s;
  const from = pointAt(s, t0);
  const to = pointAt(s, t1);
  switch (s.kind) {
    case "line":
      return line(from, to);
    case "arc":
      return arc(from, to, s.centre, s.ccw);
  }
}
