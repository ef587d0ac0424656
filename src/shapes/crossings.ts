import { nearestOn } from "./nearest-on.ts";
import { distance, type Point } from "./point.ts";
import { type Arc, type Line, radiusOf, type Segment } from "./segment.ts";

/** Two segments that pass each other within this, mm, are taken to touch. */
export const TOUCH = 1e-8;

/**
 * Points where two segments meet: crossings, touches, and where they run along each other the two ends of the shared
 * run. An end of either that takes part is returned bit for bit. At a touch between a circle and a line or circle the
 * one point is returned; what passes within 1e-8 mm counts as touching. Closed form, in no particular order.
 */
export function crossings(a: Segment, b: Segment): Point[] {
  const found: Point[] = [];
  const add = (p: Point): void => {
    if (found.every((q) => distance(p, q) > TOUCH)) found.push(p);
  };
  // Ends first, so that a crossing computed beside an end gives way to the end itself.
  for (const p of [a.from, a.to]) if (nearestOn(b, p).distance <= TOUCH) add(p);
  for (const p of [b.from, b.to]) if (nearestOn(a, p).distance <= TOUCH) add(p);
  for (const p of carriersMeet(a, b)) {
    if (nearestOn(a, p).distance <= 2 * TOUCH && nearestOn(b, p).distance <= 2 * TOUCH) add(p);
  }
  return found;
}

/** Where the endless lines or whole circles that carry the segments meet; none where they are one and the same. */
function carriersMeet(a: Segment, b: Segment): Point[] {
  switch (a.kind) {
    case "line":
      return b.kind === "line" ? lineLine(a, b) : lineCircle(a, b);
    case "arc":
      return b.kind === "line" ? lineCircle(b, a) : circleCircle(a, b);
  }
}

function lineLine(a: Line, b: Line): Point[] {
  const ax = a.to.x - a.from.x;
  const ay = a.to.y - a.from.y;
  const bx = b.to.x - b.from.x;
  const by = b.to.y - b.from.y;
  const turn = ax * by - ay * bx;
  // Parallel within the last digits: either no meeting, or a shared run whose ends are found as ends.
  if (Math.abs(turn) <= 1e-14 * Math.hypot(ax, ay) * Math.hypot(bx, by)) return [];
  const t = ((b.from.x - a.from.x) * by - (b.from.y - a.from.y) * bx) / turn;
  return [{ x: a.from.x + t * ax, y: a.from.y + t * ay }];
}

function lineCircle(l: Line, a: Arc): Point[] {
  const length = distance(l.from, l.to);
  if (length === 0) return [];
  const ux = (l.to.x - l.from.x) / length;
  const uy = (l.to.y - l.from.y) / length;
  const r = radiusOf(a);
  const wx = a.centre.x - l.from.x;
  const wy = a.centre.y - l.from.y;
  const off = ux * wy - uy * wx;
  const along = ux * wx + uy * wy;
  const at = (t: number): Point => ({ x: l.from.x + t * ux, y: l.from.y + t * uy });
  const inside = r - Math.abs(off);
  if (inside < -TOUCH) return [];
  if (inside <= TOUCH) return [at(along)];
  const half = Math.sqrt(inside * (r + Math.abs(off)));
  return [at(along - half), at(along + half)];
}

function circleCircle(a: Arc, b: Arc): Point[] {
  const dx = b.centre.x - a.centre.x;
  const dy = b.centre.y - a.centre.y;
  const apart = Math.hypot(dx, dy);
  const ra = radiusOf(a);
  const rb = radiusOf(b);
  // One circle inside the other's centre: equal radii make one circle, whose shared run has ends.
  if (apart <= TOUCH) return [];
  if (apart > ra + rb + TOUCH || apart < Math.abs(ra - rb) - TOUCH) return [];
  const ux = dx / apart;
  const uy = dy / apart;
  const at = (along: number, off: number): Point => ({
    x: a.centre.x + along * ux - off * uy,
    y: a.centre.y + along * uy + off * ux,
  });
  if (apart >= ra + rb - TOUCH) return [at(ra, 0)];
  if (apart <= Math.abs(ra - rb) + TOUCH) return [at(ra > rb ? ra : -ra, 0)];
  const along = (apart * apart + (ra - rb) * (ra + rb)) / (2 * apart);
  const off = Math.sqrt(Math.max(0, (ra - along) * (ra + along)));
  return [at(along, off), at(along, -off)];
}
