import { boxGap } from "../../shapes/nearest.ts";
import type { Box, Point } from "../../shapes/point.ts";
import { lengthOf, pieceOf, pointAt, radiusOf, type Segment } from "../../shapes/segment.ts";
import type { TurningCutRecord } from "../../simulate/turning.ts";
import { coreToCurve, type TurningSweep } from "../../simulate/turning-sweep.ts";
import { depthIn, radiusThere, type TurnedTarget } from "./solid.ts";

/** How deep a tool goes into what must stand, on one move. mm. */
export interface TurnedGouge {
  readonly depth: number;
  /** The true depth lies within ± this. */
  readonly bound: number;
  readonly at: Point;
}

/** Depths of points are told apart to this, mm. */
const STEP = 0.002;

/** Stretches of one curve that are halved at most. */
const MOST_STRETCHES = 40_000;

/**
 * Deepest that the tool of one move goes into the target.
 *
 * A tool is a convex core with a round of radius n about it. Where the core keeps clear of the solid by d, the tool is
 * in by n − d: distances between lines and arcs, in closed form. Where the core itself goes in, the depth of its points
 * below the surface is added, found by halving with the bound that a point's depth changes no faster than it moves.
 */
export function turnedGouge(t: TurnedTarget, cut: TurningCutRecord): TurnedGouge {
  let worst: TurnedGouge = { depth: 0, bound: 0, at: cut.path.to };
  for (const sweep of cut.sweeps) {
    if (sweep.body.part === "holder") continue;
    const g = bodyGouge(t, sweep);
    if (g.depth + g.bound > worst.depth + worst.bound) worst = g;
  }
  const slack = cut.path.kind === "arc" ? radiiDiffer(cut.path) : 0;
  return { ...worst, bound: worst.bound + slack };
}

/** How far an arc's two ends differ in their distance from its centre: its way is unknown by as much. */
function radiiDiffer(s: Segment): number {
  return s.kind === "arc" ? Math.abs(radiusOf(s) - Math.hypot(s.to.x - s.centre.x, s.to.y - s.centre.y)) : 0;
}

function bodyGouge(t: TurnedTarget, sweep: TurningSweep): TurnedGouge {
  const { radius } = sweep.body;
  const box = grown(sweep.box, radius);
  const near = t.curves.filter((_, i) => boxGap(box, t.boxes[i]!) === 0);
  let least = Number.POSITIVE_INFINITY;
  let nearest: Segment | undefined;
  for (const c of near) {
    const d = coreToCurve(sweep, c);
    if (d < least) {
      least = d;
      nearest = c;
    }
  }
  const start = sweep.curves[0]?.from ?? sweep.path.from;
  const inside = start.y < radiusThere(t, start.x) - 1e-9;
  if (!inside && least >= radius && least > 0) return { depth: 0, bound: 0, at: start };
  // Grazing the surface is what finishing does; only more than rounding is worth looking for its place.
  if (!inside && least > 0) {
    const depth = radius - least;
    return { depth, bound: 1e-6, at: depth < STEP ? start : placeNear(sweep, nearest) };
  }
  return deepPoint(t, sweep);
}

/** Deepest point of the swept core's boundary below the surface; the round about it goes as much deeper. */
function deepPoint(t: TurnedTarget, sweep: TurningSweep): TurnedGouge {
  const { radius } = sweep.body;
  let depth = 0;
  let at = sweep.path.to;
  let left = MOST_STRETCHES;
  let unsettled = 0;
  const walk = (s: Segment): void => {
    const half = lengthOf(s) / 2;
    const p = pointAt(s, 0.5);
    const d = depthIn(t, p);
    if (d > depth) {
      depth = d;
      at = p;
    }
    const upper = d + half;
    if (upper <= Math.max(depth, STEP) + STEP || half < STEP / 2) return;
    if (left-- <= 0) {
      unsettled = Math.max(unsettled, upper - depth);
      return;
    }
    walk(pieceOf(s, 0, 0.5));
    walk(pieceOf(s, 0.5, 1));
  };
  for (const c of sweep.curves) if (lengthOf(c) > 0) walk(c);
  return { depth: depth + radius, bound: Math.max(unsettled, 2 * STEP), at };
}

function grown({ min, max }: Box, by: number): Box {
  return { min: { x: min.x - by, y: min.y - by }, max: { x: max.x + by, y: max.y + by } };
}

/** A point of the target near where the sweep is nearest to it: its own middle or end nearest to the way. */
function placeNear(sweep: TurningSweep, c: Segment | undefined): Point {
  if (c === undefined) return sweep.path.to;
  let best = c.from;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= 24; k++) {
    const p = pointAt(c, k / 24);
    const piece = pieceOf(c, Math.max(0, (k - 0.5) / 24), Math.min(1, (k + 0.5) / 24));
    const d = coreToCurve(sweep, piece);
    if (d < least) {
      least = d;
      best = p;
    }
  }
  return best;
}
