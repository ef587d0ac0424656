import type { Point } from "./point.ts";
import { boundsOf, pieceOf, pointAt, radiusOf, type Segment, shareTowards } from "./segment.ts";

/**
 * A turned shape as its half section: a chain of lines and arcs in the plane (x along the axis, y the radius ≥ 0), from
 * the first end to the second. x never goes back; an upright line is a shoulder. mm.
 */
export interface Meridian {
  readonly segments: readonly Segment[];
}

/** Least and most of a radius, mm. */
export interface Radii {
  readonly least: number;
  readonly most: number;
}

/** Where a meridian begins and ends along the axis, mm. @throws RangeError for an empty one */
export function extentOfMeridian(m: Meridian): { readonly from: number; readonly to: number } {
  const first = m.segments[0];
  const last = m.segments[m.segments.length - 1];
  if (first === undefined || last === undefined) throw new RangeError("an empty meridian has no extent");
  return { from: first.from.x, to: last.to.x };
}

/** Radius at x: two values at a shoulder, else one twice; undefined beyond the ends. */
export function radiiAt(m: Meridian, x: number): Radii | undefined {
  return radiiOver(m, x, x);
}

/** Least and most radius over a stretch of the axis, exact; undefined where the turned shape has no share in it. */
export function radiiOver(m: Meridian, from: number, to: number): Radii | undefined {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const s of m.segments) {
    if (s.to.x < from || s.from.x > to) continue;
    const piece = withinX(s, from, to);
    const ends = piece === undefined ? [] : [piece.min.y, piece.max.y];
    for (const r of ends) {
      least = Math.min(least, r);
      most = Math.max(most, r);
    }
  }
  return most === Number.NEGATIVE_INFINITY ? undefined : { least, most };
}

/** The box around the share of a segment between two places along the axis. */
function withinX(s: Segment, from: number, to: number): { readonly min: Point; readonly max: Point } | undefined {
  if (s.from.x >= from && s.to.x <= to) return boundsOf(s);
  const a = s.from.x >= from ? 0 : shareAtX(s, from);
  const b = s.to.x <= to ? 1 : shareAtX(s, to);
  if (a === undefined || b === undefined) return undefined;
  // A piece as short as rounding would have one point at both ends, and count as a whole circle.
  if (b - a < 1e-9) {
    const p = pointAt(s, Math.min(a, b));
    return { min: p, max: p };
  }
  return boundsOf(pieceOf(s, a, b));
}

/** How far along a segment (0 to 1) it crosses x; the first time where it runs upright. */
export function shareAtX(s: Segment, x: number): number | undefined {
  switch (s.kind) {
    case "line": {
      const dx = s.to.x - s.from.x;
      if (dx === 0) return s.from.x === x ? 0 : undefined;
      const t = (x - s.from.x) / dx;
      return t < 0 || t > 1 ? undefined : t;
    }
    case "arc": {
      const r = radiusOf(s);
      const dx = x - s.centre.x;
      const h = Math.sqrt(Math.max(0, r * r - dx * dx));
      const hit = [h, -h]
        .map((dy) => ({ t: shareTowards(s, dx, dy), miss: Math.abs(Math.hypot(dx, dy) - r) }))
        .filter((c): c is { t: number; miss: number } => c.t !== undefined && c.miss < 1e-6)
        .sort((p, q) => p.t - q.t)[0];
      if (hit !== undefined) return hit.t;
      // Rounding at either end.
      return Math.abs(x - s.from.x) <= Math.abs(x - s.to.x) ? 0 : 1;
    }
  }
}
