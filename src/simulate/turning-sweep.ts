import { distanceBetween } from "../shapes/nearest.ts";
import type { Box, Point } from "../shapes/point.ts";
import { type Arc, boundsOf, line, pointAt, type Segment, shareTowards } from "../shapes/segment.ts";
import { chordsOf, shifted } from "./turning-path.ts";
import type { TurningBody } from "./turning-tool.ts";

/** All that a body covers on one stretch of its reference point's way: what lies within `radius` of the swept core. */
export interface TurningSweep {
  readonly body: TurningBody;
  readonly path: Segment;
  /** Curves among which the swept core's boundary lies; each of them lies in the swept core. */
  readonly curves: readonly Segment[];
  /** The smallest box around the swept core, and around the core itself. */
  readonly box: Box;
  readonly coreBox: Box;
  /** The way as straight pieces, an arc's 1 µm from it. */
  readonly stretches: readonly Segment[];
}

/**
 * Sweeps a convex core along a line or an arc without turning it. Every boundary point of what is swept comes from a
 * corner's way, from an edge at either end of the way, or from an edge where an arc runs along it; all of these are
 * given, with others that lie inside. Exact.
 */
export function sweepOf(body: TurningBody, path: Segment): TurningSweep {
  const curves: Segment[] = [];
  const stands = path.from.x === path.to.x && path.from.y === path.to.y && path.kind === "line";
  const { core } = body;
  for (const [i, p] of core.entries()) {
    const q = core[(i + 1) % core.length]!;
    if (!stands) curves.push(shifted(path, p));
    for (const at of stands ? [path.from] : placesOf(path, p, q)) {
      curves.push(line({ x: at.x + p.x, y: at.y + p.y }, { x: at.x + q.x, y: at.y + q.y }));
    }
  }
  const coreBox = boxOfPoints(core);
  const way = boundsOf(path);
  const box = {
    min: { x: way.min.x + coreBox.min.x, y: way.min.y + coreBox.min.y },
    max: { x: way.max.x + coreBox.max.x, y: way.max.y + coreBox.max.y },
  };
  return { body, path, curves, box, coreBox, stretches: chordsOf(path, 0.001) };
}

function boxOfPoints(points: readonly Point[]): Box {
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return {
    min: { x: Math.min(...xs), y: Math.min(...ys) },
    max: { x: Math.max(...xs), y: Math.max(...ys) },
  };
}

/** Both ends of the way, and where an arc runs along the edge from p to q. */
function placesOf(path: Segment, p: Point, q: Point): readonly Point[] {
  if (path.kind === "line") return [path.from, path.to];
  return [path.from, path.to, ...alongEdge(path, p, q)];
}

function alongEdge(a: Arc, p: Point, q: Point): readonly Point[] {
  const nx = q.y - p.y;
  const ny = p.x - q.x;
  return [1, -1].flatMap((sign) => {
    const t = shareTowards(a, sign * nx, sign * ny);
    return t === undefined ? [] : [pointAt(a, t)];
  });
}

/** Least distance from a swept core to a curve, mm; 0 when its boundary meets it. A curve wholly inside is not noticed. */
export function coreToCurve(sweep: TurningSweep, curve: Segment): number {
  let least = Number.POSITIVE_INFINITY;
  for (const c of sweep.curves) {
    least = Math.min(least, distanceBetween(c, curve));
    if (least === 0) return 0;
  }
  return least;
}

/** Whether a point lies in the swept core. Arcs are followed by chords 1 µm from them. */
export function coreHolds(sweep: TurningSweep, p: Point): boolean {
  const { min, max } = sweep.box;
  if (p.x < min.x || p.x > max.x || p.y < min.y || p.y > max.y) return false;
  for (const s of sweep.stretches) if (passes(sweep, s, p)) return true;
  return false;
}

/** Whether a point comes to lie in a convex core that goes straight: the point's way past the core, clipped by its sides. */
function passes({ body: { core }, coreBox: { min, max } }: TurningSweep, s: Segment, p: Point): boolean {
  const dx = s.to.x - s.from.x;
  const dy = s.to.y - s.from.y;
  const qx = p.x - s.from.x;
  const qy = p.y - s.from.y;
  // Shares of the way within the core's box first: a core may be a mere line, whose sides would not bound it.
  let low = Math.max(0, firstShare(qx - max.x, dx), firstShare(qy - max.y, dy), firstShare(min.x - qx, -dx));
  low = Math.max(low, firstShare(min.y - qy, -dy));
  let high = Math.min(1, lastShare(qx - max.x, dx), lastShare(qy - max.y, dy), lastShare(min.x - qx, -dx));
  high = Math.min(high, lastShare(min.y - qy, -dy));
  if (low > high) return false;
  for (let i = 0; i < core.length; i++) {
    const a = core[i]!;
    const b = core[i + 1 === core.length ? 0 : i + 1]!;
    // Inside is to the left of every side: cross ≥ 0, and cross runs evenly with the share of the way.
    const ex = b.x - a.x;
    const ey = b.y - a.y;
    const over = -(ex * (qy - a.y) - ey * (qx - a.x));
    const change = ey * dx - ex * dy;
    low = Math.max(low, firstShare(over, change));
    high = Math.min(high, lastShare(over, change));
    if (low > high) return false;
  }
  return true;
}

/** First share t of the way at which over − change·t ≤ 0, as far as this one side says. */
function firstShare(over: number, change: number): number {
  if (change > 0) return over / change;
  return change < 0 || over <= 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
}

/** Last share t of the way at which over − change·t ≤ 0. */
function lastShare(over: number, change: number): number {
  return change < 0 ? over / change : Number.POSITIVE_INFINITY;
}

/** A core standing still, as closed curves. */
export function standing(body: TurningBody, at: Point): TurningSweep {
  return sweepOf(body, line(at, at));
}
