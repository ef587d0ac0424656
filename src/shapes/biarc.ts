import { distance, type Point } from "./point.ts";
import { arc, line, type Segment } from "./segment.ts";

/** A smooth curve over t from 0 to 1: where it is, and which way it goes there (any length but zero). */
export interface SmoothCurve {
  readonly pointAt: (t: number) => Point;
  readonly directionAt: (t: number) => Point;
}

/**
 * Where a candidate is compared with its curve, in 24ths of it. Its deviation has two humps, one an arc: they come
 * first, since most candidates fail there.
 */
const CHECKS = [6, 18, 12, 3, 9, 15, 21, 4, 5, 7, 8, 10, 11, 13, 14, 16, 17, 19, 20, 1, 2, 22, 23];
/** Halvings before a stretch that still doesn't fit is taken as it is: it is then 2⁻⁴⁰ of the curve. */
const DEEPEST = 40;

/**
 * The curve as lines and arcs within `tolerance` mm of it, tangent to each other, few. Ends are the curve's own. Each
 * piece is the longest that fits, so the number grows with tolerance^(−1/3).
 * Source: equal-arm biarcs, Bolton, CAD 7 (1975) 89–92; error κ'h³/324, Meek & Walton, JCAM 59 (1995) 221–231.
 */
export function fitCurve(curve: SmoothCurve, tolerance: number): Segment[] {
  const found: Segment[] = [];
  // A twentieth is kept back for what lies between the points of comparison.
  const within = 0.95 * tolerance;
  let start = 0;
  let guess = 1;
  while (start < 1) {
    let step = Math.min(guess, 1 - start);
    let good = pieceWithin(curve, start, start + step, within);
    for (let halvings = 0; good === undefined && halvings < DEEPEST; halvings++) {
      step /= 2;
      good = pieceWithin(curve, start, start + step, within);
    }
    let longest = step;
    let best = good ?? biarc(curve, start, start + step);
    if (good !== undefined && step < Math.min(guess, 1 - start)) {
      let tooLong = 2 * step;
      for (let i = 0; i < 6; i++) {
        const middle = (longest + tooLong) / 2;
        const piece = pieceWithin(curve, start, start + middle, within);
        if (piece === undefined) tooLong = middle;
        else {
          longest = middle;
          best = piece;
        }
      }
    }
    found.push(...best);
    start = start + longest >= 1 - 1e-12 ? 1 : start + longest;
    guess = 2 * longest;
  }
  return found;
}

function pieceWithin(curve: SmoothCurve, t0: number, t1: number, within: number): Segment[] | undefined {
  const end = t1 >= 1 - 1e-12 ? 1 : t1;
  const pieces = biarc(curve, t0, end);
  const gauges = pieces.map(gaugeFor);
  for (const check of CHECKS) {
    const p = curve.pointAt(t0 + (check / 24) * (end - t0));
    if (!gauges.some((distanceTo) => distanceTo(p) <= within)) return undefined;
  }
  return pieces;
}

/** Distance from one piece, without angles: this is asked some hundred times a piece. More than half a turn never fits. */
function gaugeFor(s: Segment): (p: Point) => number {
  const { from, to } = s;
  const ends = (p: Point): number => Math.min(distance(from, p), distance(to, p));
  switch (s.kind) {
    case "line": {
      const length = distance(from, to);
      const ux = (to.x - from.x) / length;
      const uy = (to.y - from.y) / length;
      return (p) => {
        const along = (p.x - from.x) * ux + (p.y - from.y) * uy;
        return along >= 0 && along <= length ? Math.abs(ux * (p.y - from.y) - uy * (p.x - from.x)) : ends(p);
      };
    }
    case "arc": {
      const { x: cx, y: cy } = s.centre;
      const sense = s.ccw ? 1 : -1;
      const ax = from.x - cx;
      const ay = from.y - cy;
      const bx = to.x - cx;
      const by = to.y - cy;
      const r = Math.hypot(ax, ay);
      if (sense * (ax * by - ay * bx) < 0) return () => Number.POSITIVE_INFINITY;
      return (p) => {
        const x = p.x - cx;
        const y = p.y - cy;
        const inSector = sense * (ax * y - ay * x) >= 0 && sense * (x * by - y * bx) >= 0;
        return inSector ? Math.abs(Math.sqrt(x * x + y * y) - r) : ends(p);
      };
    }
  }
}

/** Two arcs (lines where the curve is straight) that meet the curve and its direction at both ends. */
function biarc(curve: SmoothCurve, t0: number, t1: number): Segment[] {
  const a = curve.pointAt(t0);
  const b = curve.pointAt(t1);
  const u = unit(curve.directionAt(t0));
  const v = unit(curve.directionAt(t1));
  const wx = b.x - a.x;
  const wy = b.y - a.y;
  const square = wx * wx + wy * wy;
  if (square === 0) return [];
  if (u === undefined || v === undefined) return [line(a, b)];
  // Equal arms d: |b − d·v − (a + d·u)| = 2d.
  const along = wx * (u.x + v.x) + wy * (u.y + v.y);
  const bend = 2 * (1 - (u.x * v.x + u.y * v.y));
  const root = Math.sqrt(along * along + bend * square);
  // Of the two forms of the positive root, the one that doesn't subtract near-equal numbers.
  const d = along > 0 ? square / (along + root) : (root - along) / bend;
  if (!Number.isFinite(d)) return [line(a, b)];
  const joint = { x: (a.x + d * u.x + b.x - d * v.x) / 2, y: (a.y + d * u.y + b.y - d * v.y) / 2 };
  const first = tangentArc(a, u, joint);
  const second = tangentArc(b, { x: -v.x, y: -v.y }, joint);
  return [first, second.kind === "line" ? line(joint, b) : arc(joint, b, second.centre, !second.ccw)];
}

/** The arc from a, leaving in direction u, to b; a line when b lies straight ahead. */
function tangentArc(a: Point, u: Point, b: Point): Segment {
  const wx = b.x - a.x;
  const wy = b.y - a.y;
  const side = u.x * wy - u.y * wx;
  const square = wx * wx + wy * wy;
  const signedRadius = square / (2 * side);
  // Flatter than a nanometre over its length: a line, since such a centre would be far off and badly known.
  if (!(Math.abs(signedRadius) < square / 8e-6) || !Number.isFinite(signedRadius)) return line(a, b);
  return arc(a, b, { x: a.x - u.y * signedRadius, y: a.y + u.x * signedRadius }, side > 0);
}

function unit(p: Point): Point | undefined {
  const length = Math.hypot(p.x, p.y);
  return length > 0 && Number.isFinite(length) ? { x: p.x / length, y: p.y / length } : undefined;
}
