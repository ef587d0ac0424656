/** A point or vector in a plane. mm. Y points up (away from the person at the machine), X to the right. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A point or vector in space. mm. Z points up, out of the face that is being worked. */
export interface Point3 extends Point {
  readonly z: number;
}

/** An axis-aligned box in a plane, mm; `min` ≤ `max` in each axis. */
export interface Box {
  readonly min: Point;
  readonly max: Point;
}

/** An axis-aligned box in space, mm; `min` ≤ `max` in each axis. */
export interface Box3 {
  readonly min: Point3;
  readonly max: Point3;
}

/** Straight distance between two points, mm. */
export function distance(a: Point, b: Point): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}
