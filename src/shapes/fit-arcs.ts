import { distance, type Point } from "./point.ts";
import type { Region } from "./region.ts";
import type { Polygons } from "./rings.ts";
import { type Arc, arc, line, type Segment, sweepRad } from "./segment.ts";

/** Widest arc made, radians: five eighths of a turn. Beyond that an arc's centre hangs too loosely on its ends. */
const WIDEST = 1.25 * Math.PI;
/** Flatter arcs than this radius, mm, become lines: their centre would be known too badly. */
const LARGEST_RADIUS = 10_000;

/**
 * A polyline as few lines and arcs. Every piece begins and ends on one of the points (the first and last included), no
 * point and no part of a chord lies farther than `tolerance` mm from its piece, and no part of a piece farther than
 * that from its chords. Arcs are therefore found only where the chords themselves keep within tolerance: flatten with
 * half of it. Pieces reach as far as they can, which from a given start makes them fewest.
 * @param closed the last point joins the first; the ring may then be begun at another of its points
 * Cost: O(n log n). Sources: the band of arcs through two ends that pass near the points between, after Held & Eibl,
 * CAD 37 (2005) 357–371, and Drysdale, Rote & Sturm, Comput. Geom. 41 (2008) 31–47.
 */
export function fitArcs(points: readonly Point[], tolerance: number, closed: boolean): Segment[] {
  if (!(tolerance > 0)) throw new RangeError(`a tolerance must be above zero, not ${tolerance}`);
  const own = points.filter((p, i) => i === 0 || p.x !== points[i - 1]!.x || p.y !== points[i - 1]!.y);
  if (!closed) return own.length < 2 ? [] : piecesAlong(own, tolerance).map((p) => p.segment);
  if (own.length > 1 && distance(own[0]!, own[own.length - 1]!) === 0) own.pop();
  if (own.length < 3) return [];
  const first = piecesAlong(begunAt(own, sharpest(own)), tolerance);
  // Begun inside a smooth run, the first piece is cut in two; begun at its end, the ring may need one piece less.
  const again = piecesAlong(begunAt(own, (sharpest(own) + first[0]!.end) % own.length), tolerance);
  return (again.length < first.length ? again : first).map((p) => p.segment);
}

/** Polygons as a region with arcs, each ring through `fitArcs`. */
export function fitRegion(polygons: Polygons, tolerance: number): Region {
  return { loops: polygons.map((ring) => fitArcs(ring, tolerance, true)).filter((loop) => loop.length > 1) };
}

function begunAt(ring: readonly Point[], start: number): Point[] {
  return [...ring.slice(start), ...ring.slice(0, start + 1)];
}

/** The vertex where the ring turns most: a piece surely ends there. */
function sharpest(ring: readonly Point[]): number {
  let most = -1;
  let at = 0;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[(i + ring.length - 1) % ring.length]!;
    const b = ring[i]!;
    const c = ring[(i + 1) % ring.length]!;
    const cross = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
    const dot = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y);
    const turn = Math.abs(Math.atan2(cross, dot));
    if (turn > most + 1e-9) {
      most = turn;
      at = i;
    }
  }
  return at;
}

interface Piece {
  readonly segment: Segment;
  /** Index of the point it ends on. */
  readonly end: number;
}

function piecesAlong(points: readonly Point[], tolerance: number): Piece[] {
  const pieces: Piece[] = [];
  const last = points.length - 1;
  let start = 0;
  while (start < last) {
    const piece = longestFrom(points, start, last, tolerance);
    pieces.push(piece);
    start = piece.end;
  }
  return pieces;
}

/** Doubles the reach while a piece fits, then halves the doubt. */
function longestFrom(points: readonly Point[], start: number, last: number, tolerance: number): Piece {
  let best: Piece = { segment: line(points[start]!, points[start + 1]!), end: start + 1 };
  let failed = last + 1;
  for (let reach = 2; best.end < last; reach *= 2) {
    const end = Math.min(last, start + reach);
    const segment = pieceFor(points, start, end, tolerance);
    if (segment === undefined) {
      failed = end;
      break;
    }
    best = { segment, end };
  }
  while (failed - best.end > 1) {
    const end = (best.end + failed) >> 1;
    const segment = pieceFor(points, start, end, tolerance);
    if (segment === undefined) failed = end;
    else best = { segment, end };
  }
  return best;
}

function pieceFor(points: readonly Point[], start: number, end: number, tolerance: number): Segment | undefined {
  return lineFor(points, start, end, tolerance) ?? arcFor(points, start, end, tolerance);
}

function lineFor(points: readonly Point[], start: number, end: number, tolerance: number): Segment | undefined {
  const a = points[start]!;
  const b = points[end]!;
  const length = distance(a, b);
  if (length === 0) return undefined;
  const ux = (b.x - a.x) / length;
  const uy = (b.y - a.y) / length;
  let before = 0;
  for (let k = start + 1; k <= end; k++) {
    const dx = points[k]!.x - a.x;
    const dy = points[k]!.y - a.y;
    const along = dx * ux + dy * uy;
    // A run that turns back is longer than the line it would become.
    if (along < before || Math.abs(ux * dy - uy * dx) > tolerance) return undefined;
    before = along;
  }
  return line(a, b);
}

/**
 * In the frame of the chord (ends at ∓h on the X axis) the arcs through both ends have their centre at (0, c). A point
 * with q = x² + y² − h² lies (q − 2yc) / (its distance from the centre + radius) off the circle. Where the arc is flat,
 * 1/c is the better measure of its bend; each point leaves an interval, and the middle of what all leave is tried.
 */
function arcFor(points: readonly Point[], start: number, end: number, tolerance: number): Arc | undefined {
  const a = points[start]!;
  const b = points[end]!;
  const length = distance(a, b);
  if (length <= tolerance) return undefined;
  const h = length / 2;
  const mx = (a.x + b.x) / 2;
  const my = (a.y + b.y) / 2;
  const ux = (b.x - a.x) / length;
  const uy = (b.y - a.y) / length;
  let topX = 0;
  let topY = 0;
  for (let k = start + 1; k < end; k++) {
    const dx = points[k]!.x - mx;
    const dy = points[k]!.y - my;
    const y = ux * dy - uy * dx;
    if (Math.abs(y) > Math.abs(topY)) {
      topY = y;
      topX = ux * dx + uy * dy;
    }
  }
  if (topY === 0) return undefined;
  const guess = (topX * topX + topY * topY - h * h) / (2 * topY);
  const flat = Math.abs(guess) > h / 2;
  // How far q − 2yc (or q/c − 2y) may stray from zero.
  const slack = 2 * tolerance * (flat ? Math.hypot(1, h / guess) : Math.hypot(guess, h));
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  const narrow = (x: number, y: number): void => {
    const q = x * x + y * y - h * h;
    const factor = flat ? q : 2 * y;
    const aim = flat ? 2 * y : q;
    if (factor === 0) {
      if (Math.abs(aim) > slack) high = Number.NEGATIVE_INFINITY;
      return;
    }
    const one = (aim - slack) / factor;
    const two = (aim + slack) / factor;
    low = Math.max(low, Math.min(one, two));
    high = Math.min(high, Math.max(one, two));
  };
  let px = -h;
  let py = 0;
  for (let k = start + 1; k <= end && low <= high; k++) {
    const dx = points[k]!.x - mx;
    const dy = points[k]!.y - my;
    const x = ux * dx + uy * dy;
    const y = ux * dy - uy * dx;
    if (k < end) narrow(x, y);
    narrow((x + px) / 2, (y + py) / 2);
    px = x;
    py = y;
  }
  if (!(low <= high)) return undefined;
  const middle = (low + high) / 2;
  const c = flat ? 1 / middle : middle;
  if (!(Math.abs(c) <= LARGEST_RADIUS)) return undefined;
  const found = arc(a, b, { x: mx - uy * c, y: my + ux * c }, topY < 0);
  return follows(found, points, start, end, tolerance) ? found : undefined;
}

/** Exactly: points and chords within tolerance of the arc, and going round it without turning back. */
function follows(a: Arc, points: readonly Point[], start: number, end: number, tolerance: number): boolean {
  const sweep = Math.abs(sweepRad(a));
  if (sweep > WIDEST) return false;
  const r = distance(a.centre, a.from);
  const sense = a.ccw ? 1 : -1;
  let turned = 0;
  let px = a.from.x - a.centre.x;
  let py = a.from.y - a.centre.y;
  for (let k = start + 1; k <= end; k++) {
    const x = points[k]!.x - a.centre.x;
    const y = points[k]!.y - a.centre.y;
    if (Math.abs(Math.sqrt(x * x + y * y) - r) > tolerance) return false;
    const cross = sense * (px * y - py * x);
    const dot = px * x + py * y;
    if (!(cross > 0)) return false;
    // A chord comes nearest to the centre at its foot, when that lies between its ends.
    const dx = x - px;
    const dy = y - py;
    if (px * dx + py * dy < 0 && x * dx + y * dy > 0 && r - cross / Math.sqrt(dx * dx + dy * dy) > tolerance) {
      return false;
    }
    turned += Math.atan2(cross, dot);
    px = x;
    py = y;
  }
  return Math.abs(turned - sweep) < 1e-6;
}
