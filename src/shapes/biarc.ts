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
  const [first, second] = pieces.map(gaugeFor);
  if (first === undefined) return undefined;
  for (const check of CHECKS) {
    const p = curve.pointAt(t0 + (check / 24) * (end - t0));
    if (strays(first, p, within) && (second === undefined || strays(second, p, within))) return undefined;
  }
  return pieces;
}

/** One piece made ready for distances: this is asked some hundred times a piece, so nothing is worked out twice. */
interface Gauge {
  readonly from: Point;
  readonly to: Point;
  /** Of a line its start and direction; of an arc its centre and the way from there to its start. */
  readonly ox: number;
  readonly oy: number;
  readonly ax: number;
  readonly ay: number;
  /** Of an arc the way from its centre to its end. */
  readonly bx: number;
  readonly by: number;
  /** Length of a line, radius of an arc. */
  readonly size: number;
  /** 0 for a line, else the arc's sense: 1 counter-clockwise. */
  readonly sense: number;
  /** More than half a turn never fits. */
  readonly hopeless: boolean;
}

function gaugeFor(s: Segment): Gauge {
  const { from, to } = s;
  switch (s.kind) {
    case "line": {
      const size = distance(from, to);
      const ax = (to.x - from.x) / size;
      const ay = (to.y - from.y) / size;
      return { from, to, ox: from.x, oy: from.y, ax, ay, bx: 0, by: 0, size, sense: 0, hopeless: false };
    }
    case "arc": {
      const { x: ox, y: oy } = s.centre;
      const sense = s.ccw ? 1 : -1;
      const ax = from.x - ox;
      const ay = from.y - oy;
      const bx = to.x - ox;
      const by = to.y - oy;
      const hopeless = sense * (ax * by - ay * bx) < 0;
      return { from, to, ox, oy, ax, ay, bx, by, size: Math.sqrt(ax * ax + ay * ay), sense, hopeless };
    }
  }
}

/** True when p lies farther than `within` from the piece. Angles are not needed. */
function strays({ from, to, ox, oy, ax, ay, bx, by, size, sense, hopeless }: Gauge, p: Point, within: number): boolean {
  if (hopeless) return true;
  const x = p.x - ox;
  const y = p.y - oy;
  if (sense === 0) {
    const along = x * ax + y * ay;
    if (along >= 0 && along <= size) return Math.abs(ax * y - ay * x) > within;
  } else if (sense * (ax * y - ay * x) >= 0 && sense * (x * by - y * bx) >= 0) {
    return Math.abs(Math.sqrt(x * x + y * y) - size) > within;
  }
  const square = within * within;
  return (p.x - from.x) ** 2 + (p.y - from.y) ** 2 > square && (p.x - to.x) ** 2 + (p.y - to.y) ** 2 > square;
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
  const length = Math.sqrt(p.x * p.x + p.y * p.y);
  return length > 0 && Number.isFinite(length) ? { x: p.x / length, y: p.y / length } : undefined;
}
