import { distance, type Point } from "./point.ts";

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
