import { crossings } from "./crossings.ts";
import { nearestOn } from "./nearest-on.ts";
import { distance, type Point } from "./point.ts";
import { type Arc, type Line, radiusOf, type Segment, shareTowards } from "./segment.ts";

export { type Nearest, nearestOn } from "./nearest-on.ts";

/** Distance from a point to the nearest point of a segment, mm. Closed form. */
export function distanceToPoint(s: Segment, p: Point): number {
  return nearestOn(s, p).distance;
}

/**
 * Least distance between two segments, mm; 0 when they meet (touching within 1e-8 mm counts). Closed form: the least
 * distance is reached at an end of one of them, or where both are square to the joining line.
 */
export function distanceBetween(a: Segment, b: Segment): number {
  if (crossings(a, b).length > 0) return 0;
  return Math.min(
    distanceToPoint(a, b.from),
    distanceToPoint(a, b.to),
    distanceToPoint(b, a.from),
    distanceToPoint(b, a.to),
    squareDistance(a, b),
  );
}

function squareDistance(a: Segment, b: Segment): number {
  switch (a.kind) {
    case "line":
      return b.kind === "line" ? Number.POSITIVE_INFINITY : lineToArc(a, b);
    case "arc":
      return b.kind === "line" ? lineToArc(b, a) : arcToArc(a, b);
  }
}

/** Only a line that passes outside the circle has its least distance at the foot of the centre. */
function lineToArc(l: Line, a: Arc): number {
  const foot = nearestOn(l, a.centre);
  if (shareTowards(a, foot.point.x - a.centre.x, foot.point.y - a.centre.y) === undefined)
    return Number.POSITIVE_INFINITY;
  const beyond = foot.distance - radiusOf(a);
  return beyond >= 0 ? beyond : Number.POSITIVE_INFINITY;
}

/** The four pairs of points that both circles have on the line of their centres; those on both arcs count. */
function arcToArc(a: Arc, b: Arc): number {
  const dx = b.centre.x - a.centre.x;
  const dy = b.centre.y - a.centre.y;
  const apart = Math.hypot(dx, dy);
  // Concentric arcs reach their least distance at an end of one, which the caller has measured.
  if (apart === 0) return Number.POSITIVE_INFINITY;
  let least = Number.POSITIVE_INFINITY;
  for (const sa of [1, -1]) {
    if (shareTowards(a, sa * dx, sa * dy) === undefined) continue;
    for (const sb of [1, -1]) {
      if (shareTowards(b, sb * dx, sb * dy) === undefined) continue;
      least = Math.min(least, Math.abs(apart + sb * radiusOf(b) - sa * radiusOf(a)));
    }
  }
  return least;
}

/** Distance between the nearest points of two boxes, mm; 0 when they overlap. */
export function boxGap(
  a: { readonly min: Point; readonly max: Point },
  b: { readonly min: Point; readonly max: Point },
): number {
  return distance(
    { x: 0, y: 0 },
    {
      x: Math.max(0, a.min.x - b.max.x, b.min.x - a.max.x),
      y: Math.max(0, a.min.y - b.max.y, b.min.y - a.max.y),
    },
  );
}
