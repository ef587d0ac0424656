import type { Meridian } from "./meridian.ts";
import { distance } from "./point.ts";
import { type Arc, lengthOf, radiusOf, type Segment, sweepRad } from "./segment.ts";

/**
 * Area between a meridian and its axis, mm²: half the section along the axis. Exact: the trapezium under each chord, and
 * for an arc the circle's segment above or below it, r²/2 · (φ − sin φ).
 */
export function areaOfMeridian(m: Meridian): number {
  return sum(m, (s) => {
    const under = ((s.from.y + s.to.y) / 2) * (s.to.x - s.from.x);
    return s.kind === "line" ? under : under + segmentOf(s).area;
  });
}

/**
 * Volume of the turned solid, mm³. Exact: the frustum under each chord, and for an arc its circle's segment carried once
 * round, by Pappus its area times the path of its centroid. A segment's centroid lies c³ / 12A from the circle's centre, c
 * the chord.
 */
export function volumeOfMeridian(m: Meridian): number {
  return sum(m, (s) => {
    const [a, b] = [s.from.y, s.to.y];
    const frustum = (Math.PI * (s.to.x - s.from.x) * (a * a + a * b + b * b)) / 3;
    if (s.kind === "line") return frustum;
    const { area, centroidY } = segmentOf(s);
    return frustum + 2 * Math.PI * centroidY * area;
  });
}

/**
 * Area of the turned surface, mm², shoulders included, the two end faces not. Exact, by Pappus: the length of each piece
 * times the path of its centroid, which for an arc lies r · sin(φ/2) / (φ/2) from its centre.
 */
export function surfaceOfMeridian(m: Meridian): number {
  return sum(m, (s) => {
    if (s.kind === "line") return Math.PI * (s.from.y + s.to.y) * lengthOf(s);
    const half = sweepRad(s) / 2;
    return 2 * Math.PI * lengthOf(s) * (s.centre.y + radiusOf(s) * (Math.sin(half) / half) * towardsMiddle(s));
  });
}

function sum(m: Meridian, of: (s: Segment) => number): number {
  return m.segments.reduce((total, s) => total + of(s), 0);
}

/** The circle's segment between an arc and its chord: its area, positive where the arc bulges away from the axis, and its centroid. */
function segmentOf(s: Arc): { readonly area: number; readonly centroidY: number } {
  const r = radiusOf(s);
  const sweep = sweepRad(s);
  // Walked towards larger x, an arc that turns clockwise lies above its chord.
  const area = (-r * r * lessSine(sweep)) / 2;
  if (area === 0) return { area, centroidY: s.from.y };
  const chord = distance(s.from, s.to);
  return { area, centroidY: s.centre.y + (chord ** 3 / (12 * Math.abs(area))) * towardsMiddle(s) };
}

/** Height part of the direction from an arc's centre to its middle. */
function towardsMiddle(s: Arc): number {
  return Math.sin(Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + sweepRad(s) / 2);
}

/** φ − sin φ. Its series where the difference would lose its digits: a flat arc has a large radius and a small angle. */
function lessSine(angle: number): number {
  if (Math.abs(angle) > 0.2) return angle - Math.sin(angle);
  const q = angle * angle;
  return ((angle * q) / 6) * (1 - (q / 20) * (1 - (q / 42) * (1 - (q / 72) * (1 - q / 110))));
}
