import type { TurningSetUp } from "../../plan/turning-setup.ts";
import { type Meridian, radiiAt, shareAtX } from "../../shapes/meridian.ts";
import { nearestOn } from "../../shapes/nearest.ts";
import type { Point } from "../../shapes/point.ts";
import { boundsOf, line, pieceOf, type Segment } from "../../shapes/segment.ts";
import { LEAST_NUB } from "../../simulate/turning.ts";

/** What must stand after turning, in the half plane of the set-up, for measuring against. mm. */
export interface TurnedTarget {
  /** The outline of the solid as it may least stand: the meridian, waste taken down to a nub, square waste at its diagonal. */
  readonly curves: readonly Segment[];
  /** What of the meridian must be reached: all but the waste. */
  readonly judged: readonly Segment[];
  readonly setUp: TurningSetUp;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** The solid that no tool may enter. Square waste is protected as the cylinder that its corners sweep. */
export function turnedTarget(setUp: TurningSetUp): TurnedTarget {
  const { piece, zShift, target } = setUp;
  const waste = piece.waste.map((w) => ({ from: w.from + zShift, to: w.to + zShift })).sort((a, b) => a.from - b.from);
  const judged = outside(target, waste);
  const curves: Segment[] = [];
  let at: Point | undefined;
  const join = (next: Segment): void => {
    if (at === undefined) curves.push(line({ x: next.from.x, y: 0 }, next.from));
    else if (at.x !== next.from.x) {
      // Waste between two pieces: down to the nub, along it, up again.
      const low = { x: at.x, y: Math.min(at.y, LEAST_NUB) };
      const high = { x: next.from.x, y: Math.min(next.from.y, LEAST_NUB) };
      curves.push(line(at, low), line(low, high), line(high, next.from));
    } else if (at.y !== next.from.y) curves.push(line(at, next.from));
    curves.push(next);
    at = next.to;
  };
  for (const s of judged) join(s);
  if (at !== undefined) curves.push(line(at, { x: at.x, y: 0 }));
  for (const q of piece.squares) {
    const r = (q.side / 2) * Math.SQRT2;
    const a = q.from + zShift;
    const b = q.to + zShift;
    curves.push(
      line({ x: a, y: 0 }, { x: a, y: r }),
      line({ x: a, y: r }, { x: b, y: r }),
      line({ x: b, y: r }, { x: b, y: 0 }),
    );
  }
  return { curves: curves.filter((c) => c.from.x !== c.to.x || c.from.y !== c.to.y), judged, setUp };
}

/** The pieces of a meridian that lie outside some stretches of the axis; shoulders at their very ends are kept. */
function outside(m: Meridian, waste: readonly Stretch[]): readonly Segment[] {
  return m.segments.flatMap((s) => {
    let pieces: Segment[] = [s];
    for (const w of waste) {
      pieces = pieces.flatMap((p) => {
        if (p.to.x <= w.from || p.from.x >= w.to) return [p];
        const kept: Segment[] = [];
        if (p.from.x < w.from) kept.push(pieceOf(p, 0, shareAtX(p, w.from) ?? 0));
        if (p.to.x > w.to) kept.push(pieceOf(p, shareAtX(p, w.to) ?? 1, 1));
        return kept;
      });
    }
    return pieces;
  });
}

/** Radius of the solid at a place along the axis, the larger at a shoulder; 0 beyond it. */
export function radiusThere(t: TurnedTarget, z: number): number {
  const { piece, zShift, target } = t.setUp;
  const x = z - zShift;
  let radius = 0;
  for (const q of piece.squares) if (x >= q.from && x <= q.to) radius = (q.side / 2) * Math.SQRT2;
  const m = radiiAt(target, z);
  if (m === undefined) return radius;
  const wasted = piece.waste.some((w) => x > w.from && x < w.to);
  return Math.max(radius, wasted ? Math.min(m.most, LEAST_NUB) : m.most);
}

/** How deep a point lies in the solid, mm; outside it, the distance from it as a negative number. */
export function depthIn(t: TurnedTarget, p: Point): number {
  const inside = p.y < radiusThere(t, p.x);
  let least = Number.POSITIVE_INFINITY;
  for (const c of t.curves) {
    const b = boundsOf(c);
    const away = Math.hypot(Math.max(0, b.min.x - p.x, p.x - b.max.x), Math.max(0, b.min.y - p.y, p.y - b.max.y));
    if (away < least) least = Math.min(least, nearestOn(c, p).distance);
  }
  return inside ? least : -least;
}
