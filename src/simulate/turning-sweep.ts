import { distanceBetween } from "../shapes/nearest.ts";
import type { Point } from "../shapes/point.ts";
import { type Arc, line, pointAt, type Segment, shareTowards } from "../shapes/segment.ts";
import { chordsOf, shifted } from "./turning-path.ts";
import type { TurningBody } from "./turning-tool.ts";

/** All that a body covers on one stretch of its reference point's way: what lies within `radius` of the swept core. */
export interface TurningSweep {
  readonly body: TurningBody;
  readonly path: Segment;
  /** Curves among which the swept core's boundary lies; each of them lies in the swept core. */
  readonly curves: readonly Segment[];
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
  return { body, path, curves };
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
  return chordsOf(sweep.path, 0.001).some((s) => passes(sweep.body.core, s, p));
}

/** Whether a point comes to lie in a convex core that goes straight: the point's way past the core, clipped by its edges. */
function passes(core: readonly Point[], s: Segment, p: Point): boolean {
  let low = 0;
  let high = 1;
  const dx = s.to.x - s.from.x;
  const dy = s.to.y - s.from.y;
  for (const [i, a] of core.entries()) {
    const b = core[(i + 1) % core.length]!;
    // Inside is to the left of every edge: cross ≥ 0, and cross runs evenly with the share of the way.
    const ex = b.x - a.x;
    const ey = b.y - a.y;
    const at = ex * (p.y - s.from.y - a.y) - ey * (p.x - s.from.x - a.x);
    const change = -(ex * dy - ey * dx);
    if (change === 0) {
      if (at < 0) return false;
    } else if (change > 0) low = Math.max(low, -at / change);
    else high = Math.min(high, at / -change);
    if (low > high) return false;
  }
  return true;
}

/** A core standing still, as closed curves. */
export function standing(body: TurningBody, at: Point): TurningSweep {
  return sweepOf(body, line(at, at));
}
