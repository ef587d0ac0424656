import { fitCurve } from "./biarc.ts";
import { afterwards, mapRegion, shiftBy, turnBy } from "./plan-map.ts";
import { distance, type Point } from "./point.ts";
import type { Region } from "./region.ts";
import { arc, line, reversed, type Segment } from "./segment.ts";

/** Farthest that an oval's arcs stray from the true ellipse, mm. */
export const OVAL_WITHIN = 0.001;

/** An upright rectangle from its lower left to its upper right corner. mm. */
export function rectangle(min: Point, max: Point): Region {
  need(max.x - min.x, "a rectangle's length");
  need(max.y - min.y, "a rectangle's width");
  return polygon([min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }]);
}

/** A region bounded by straight lines through the points, which must run counter-clockwise. */
export function polygon(points: readonly Point[]): Region {
  return { loops: [points.map((p, i) => line(p, points[(i + 1) % points.length]!))] };
}

/** A whole circle, as two half arcs from its rightmost point. mm. */
export function circle(centre: Point, radius: number): Region {
  need(radius, "a circle's radius");
  const right = { x: centre.x + radius, y: centre.y };
  const left = { x: centre.x - radius, y: centre.y };
  return { loops: [[arc(right, left, centre, true), arc(left, right, centre, true)]] };
}

/**
 * A rectangle with rounded corners about its centre, turned counter-clockwise. mm, degrees.
 * @param radius 0 for sharp corners, at most half the lesser side (then a slot or a circle)
 */
export function roundedRectangle(
  centre: Point,
  length: number,
  width: number,
  radius: number,
  turnedDeg: number,
): Region {
  need(length, "a rectangle's length");
  need(width, "a rectangle's width");
  if (!(radius >= 0 && radius <= Math.min(length, width) / 2)) {
    throw new RangeError(`a corner radius of ${radius} doesn't fit ${length} × ${width}`);
  }
  const x = length / 2;
  const y = width / 2;
  const r = radius;
  const loop: Segment[] = [];
  const straight = (from: Point, to: Point): void => {
    if (from.x !== to.x || from.y !== to.y) loop.push(line(from, to));
  };
  const corner = (from: Point, to: Point, at: Point): void => {
    if (r > 0) loop.push(arc(from, to, at, true));
  };
  straight({ x: r - x, y: -y }, { x: x - r, y: -y });
  corner({ x: x - r, y: -y }, { x, y: r - y }, { x: x - r, y: r - y });
  straight({ x, y: r - y }, { x, y: y - r });
  corner({ x, y: y - r }, { x: x - r, y }, { x: x - r, y: y - r });
  straight({ x: x - r, y }, { x: r - x, y });
  corner({ x: r - x, y }, { x: -x, y: y - r }, { x: r - x, y: y - r });
  straight({ x: -x, y: y - r }, { x: -x, y: r - y });
  corner({ x: -x, y: r - y }, { x: r - x, y: -y }, { x: r - x, y: r - y });
  return placed({ loops: [loop] }, centre, turnedDeg);
}

/** A slot with fully round ends about its centre; `length` is over all, ≥ `width`. mm, degrees. */
export function slot(centre: Point, length: number, width: number, turnedDeg: number): Region {
  if (!(length >= width)) throw new RangeError(`a slot ${length} long cannot be ${width} wide`);
  return roundedRectangle(centre, length, width, width / 2, turnedDeg);
}

/** What a cutter of diameter `width` clears from a to b: straight sides, round ends about a and b. mm. */
export function slotBetween(a: Point, b: Point, width: number): Region {
  need(width, "a slot's width");
  const length = distance(a, b);
  if (length === 0) return circle(a, width / 2);
  const nx = ((a.y - b.y) / length) * (width / 2);
  const ny = ((b.x - a.x) / length) * (width / 2);
  const right = (p: Point): Point => ({ x: p.x - nx, y: p.y - ny });
  const left = (p: Point): Point => ({ x: p.x + nx, y: p.y + ny });
  return {
    loops: [
      [
        line(right(a), right(b)),
        arc(right(b), left(b), b, true),
        line(left(b), left(a)),
        arc(left(a), right(a), a, true),
      ],
    ],
  };
}

/** An ellipse about its centre, as arcs within 1 µm of it, alike in all four quarters. mm, degrees. */
export function oval(centre: Point, length: number, width: number, turnedDeg: number): Region {
  need(length, "an oval's length");
  need(width, "an oval's width");
  if (length === width) return circle(centre, length / 2);
  const a = length / 2;
  const b = width / 2;
  const quarter = fitCurve(
    {
      pointAt: (t) => (t <= 0 ? { x: a, y: 0 } : t >= 1 ? { x: 0, y: b } : along(a, b, t)),
      directionAt: (t) => ({ x: -a * Math.sin((t * Math.PI) / 2), y: b * Math.cos((t * Math.PI) / 2) }),
    },
    OVAL_WITHIN,
  );
  const upper = [...quarter, ...mirrored(quarter, -1, 1)];
  return placed({ loops: [[...upper, ...mirrored(upper, 1, -1)]] }, centre, turnedDeg);
}

function along(a: number, b: number, t: number): Point {
  return { x: a * Math.cos((t * Math.PI) / 2), y: b * Math.sin((t * Math.PI) / 2) };
}

/** The same arcs through a mirror, walked so that they continue counter-clockwise. */
function mirrored(segments: readonly Segment[], sx: number, sy: number): Segment[] {
  const flip = (p: Point): Point => ({ x: sx * p.x + 0, y: sy * p.y + 0 });
  return segments
    .map((s) =>
      reversed(
        s.kind === "line" ? line(flip(s.from), flip(s.to)) : arc(flip(s.from), flip(s.to), flip(s.centre), !s.ccw),
      ),
    )
    .reverse();
}

function placed(region: Region, centre: Point, turnedDeg: number): Region {
  return mapRegion(afterwards(turnBy(turnedDeg), shiftBy(centre.x, centre.y)), region);
}

function need(size: number, what: string): void {
  if (!(size > 0 && Number.isFinite(size))) throw new RangeError(`${what} must be above zero, not ${size}`);
}
