import type { TurningSetUp } from "../../plan/turning-setup.ts";
import { extentOfMeridian, type Meridian, radiiAt, shareAtX } from "../../shapes/meridian.ts";
import { nearestOn } from "../../shapes/nearest.ts";
import type { Box, Point } from "../../shapes/point.ts";
import { boundsOf, line, pieceOf, type Segment } from "../../shapes/segment.ts";
import { LEAST_NUB } from "../../simulate/turning.ts";

/** What must stand after turning, in the half plane of the set-up, for measuring against. mm. */
export interface TurnedTarget {
  /** The outline of the solid as it may least stand: the meridian, waste taken down to a nub, wood beside it as it is. */
  readonly curves: readonly Segment[];
  /** The smallest box about each of them. */
  readonly boxes: readonly Box[];
  /** Waste stands as the meridian has it, as it does while the profile is cut; else it may be parted down to a nub. */
  readonly wasteStands: boolean;
  /** What of the meridian must be reached: all but the waste. */
  readonly judged: readonly Segment[];
  readonly setUp: TurningSetUp;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** The solid that no tool may enter. @param wasteStands false where parting may go into the waste */
export function turnedTarget(setUp: TurningSetUp, wasteStands = false): TurnedTarget {
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
  for (const s of wasteStands ? target.segments : judged) join(s);
  if (at !== undefined) curves.push(line(at, { x: at.x, y: 0 }));
  for (const a of aside(setUp)) {
    const first = a[0]!.from;
    const last = a[a.length - 1]!.to;
    curves.push(line({ x: first.x, y: 0 }, first), ...a, line(last, { x: last.x, y: 0 }));
  }
  const outline = curves.filter((c) => c.from.x !== c.to.x || c.from.y !== c.to.y);
  return { curves: outline, boxes: outline.map(boundsOf), judged, setUp, wasteStands };
}

/** The wood beside what is turned here, which stays as it is: square ends sweep their diagonal. */
function aside(setUp: TurningSetUp): readonly (readonly Segment[])[] {
  const { from, to } = extentOfMeridian(setUp.target);
  return [
    outside(setUp.start, [{ from, to: Number.POSITIVE_INFINITY }]),
    outside(setUp.start, [{ from: Number.NEGATIVE_INFINITY, to }]),
  ].filter((run) => run.some((s) => s.to.x - s.from.x > 1e-9));
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
  const { piece, zShift, target, start } = t.setUp;
  const m = radiiAt(target, z);
  if (m === undefined) return radiiAt(start, z)?.most ?? 0;
  const x = z - zShift;
  const wasted = !t.wasteStands && piece.waste.some((w) => x > w.from && x < w.to);
  return wasted ? Math.min(m.most, LEAST_NUB) : m.most;
}

/** How deep a point lies in the solid, mm; outside it, the distance from it as a negative number. */
export function depthIn(t: TurnedTarget, p: Point): number {
  const inside = p.y < radiusThere(t, p.x);
  let least = Number.POSITIVE_INFINITY;
  for (const [i, c] of t.curves.entries()) {
    const b = t.boxes[i]!;
    const away = Math.hypot(Math.max(0, b.min.x - p.x, p.x - b.max.x), Math.max(0, b.min.y - p.y, p.y - b.max.y));
    if (away < least) least = Math.min(least, nearestOn(c, p).distance);
  }
  return inside ? least : -least;
}
