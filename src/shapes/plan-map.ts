import type { Frame } from "./frame.ts";
import type { Point } from "./point.ts";
import type { Region } from "./region.ts";
import { arc, line, reversed, type Segment } from "./segment.ts";

declare const made: unique symbol;

/**
 * A move of the plane that keeps distances: x' = xx·x + xy·y + dx, y' = yx·x + yy·y + dy. It may mirror: a face that
 * is turned over, or a part described as another's mirror image. Only the functions of this file make one.
 */
export interface PlanMap {
  readonly xx: number;
  readonly xy: number;
  readonly yx: number;
  readonly yy: number;
  readonly dx: number;
  readonly dy: number;
  readonly [made]?: true;
}

const LEVEL_WITHIN = 1e-9;

/**
 * What a frame does to plans, seen from above before and after. A frame that lays the wood's other face up mirrors
 * them.
 * @throws RangeError when the frame tips the plane: z must stay ±z within 1e-9
 */
export function planOf(frame: Frame): PlanMap {
  const [a, b, c] = frame.rotation;
  if (!(Math.abs(Math.abs(c[2]) - 1) <= LEVEL_WITHIN && Math.hypot(a[2], b[2], c[0], c[1]) <= LEVEL_WITHIN)) {
    throw new RangeError("a plan can only be taken through a frame that keeps it level");
  }
  return { xx: a[0], xy: a[1], yx: b[0], yy: b[1], dx: frame.shift.x, dy: frame.shift.y };
}

/** The mirror image of a part's description along its length: x → length − x. mm. */
export function mirrorAlongX(length: number): PlanMap {
  return { xx: -1, xy: 0, yx: 0, yy: 1, dx: length, dy: 0 };
}

/** A shift, mm. */
export function shiftBy(dx: number, dy: number): PlanMap {
  return { xx: 1, xy: 0, yx: 0, yy: 1, dx, dy };
}

/** A turn about the origin, degrees, counter-clockwise seen from above. Quarter turns are exact. */
export function turnBy(deg: number): PlanMap {
  const [cos, sin] = cosSin(deg);
  return { xx: cos, xy: 0 - sin, yx: sin, yy: cos, dx: 0, dy: 0 };
}

function cosSin(deg: number): readonly [number, number] {
  const quarter = (((deg / 90) % 4) + 4) % 4;
  if (quarter === 0) return [1, 0];
  if (quarter === 1) return [0, 1];
  if (quarter === 2) return [-1, 0];
  if (quarter === 3) return [0, -1];
  const rad = (deg * Math.PI) / 180;
  return [Math.cos(rad), Math.sin(rad)];
}

/** `second` after `first`, as one map. */
export function afterwards(first: PlanMap, second: PlanMap): PlanMap {
  const shift = mapPoint(second, { x: first.dx, y: first.dy });
  return {
    xx: second.xx * first.xx + second.xy * first.yx,
    xy: second.xx * first.xy + second.xy * first.yy,
    yx: second.yx * first.xx + second.yy * first.yx,
    yy: second.yx * first.xy + second.yy * first.yy,
    dx: shift.x,
    dy: shift.y,
  };
}

/** True when the map turns a plan into its mirror image. */
export function mirrors(map: PlanMap): boolean {
  return map.xx * map.yy - map.xy * map.yx < 0;
}

/** Where a point goes. */
export function mapPoint(map: PlanMap, p: Point): Point {
  return { x: map.xx * p.x + map.xy * p.y + map.dx, y: map.yx * p.x + map.yy * p.y + map.dy };
}

/** Where a segment goes: its start stays its start, and a mirror turns the sense of an arc. */
export function mapSegment(map: PlanMap, s: Segment): Segment {
  switch (s.kind) {
    case "line":
      return line(mapPoint(map, s.from), mapPoint(map, s.to));
    case "arc":
      return arc(mapPoint(map, s.from), mapPoint(map, s.to), mapPoint(map, s.centre), s.ccw !== mirrors(map));
  }
}

/** Where a region goes. Outer loops stay counter-clockwise: through a mirror each loop is walked the other way. */
export function mapRegion(map: PlanMap, region: Region): Region {
  const backwards = mirrors(map);
  return {
    loops: region.loops.map((loop) => {
      const there = loop.map((s) => mapSegment(map, s));
      return backwards ? there.reverse().map(reversed) : there;
    }),
  };
}
