import type { ReadMove } from "../reader/read-move.ts";
import type { Point } from "../shapes/point.ts";
import { arc, line, radiusOf, type Segment, sweepRad } from "../shapes/segment.ts";
import { type Lathe, xSignOf } from "../shop/lathe.ts";

/**
 * The way of a tool's programmed point in the half plane of the set-up (x is Z, y the radius), mm; undefined while X or
 * Z of either end is unknown, and for arcs outside XZ, which the reader refuses on a lathe.
 */
export function halfPlanePath(move: ReadMove, lathe: Lathe): Segment | undefined {
  const side = xSignOf(lathe);
  const from = inHalfPlane(move.from, side);
  const to = inHalfPlane(move.to, side);
  if (from === undefined || to === undefined) return undefined;
  const { path } = move;
  if (path.kind === "line") return line(from, to);
  if (path.plane !== "XZ") return undefined;
  // X to the right and Z up, seen as Z to the right and the radius up: a mirror, and one more for X below the axis.
  const ccw = side === 1 ? !path.ccw : path.ccw;
  return arc(from, to, { x: path.centre.y, y: side * path.centre.x }, ccw);
}

function inHalfPlane(p: ReadMove["from"], side: number): Point | undefined {
  return p.x === undefined || p.z === undefined ? undefined : { x: p.z, y: side * p.x };
}

/** A segment shifted. */
export function shifted(s: Segment, by: Point): Segment {
  const at = (p: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });
  return s.kind === "line" ? line(at(s.from), at(s.to)) : arc(at(s.from), at(s.to), at(s.centre), s.ccw);
}

/** Straight pieces of a path, none farther from it than `chord` mm (sagitta r(1 − cos θ/2)). Its ends are kept. */
export function chordsOf(s: Segment, chord: number): readonly Segment[] {
  if (s.kind === "line") return [s];
  const radius = radiusOf(s);
  const sweep = sweepRad(s);
  const step = 2 * Math.acos(Math.max(0, 1 - chord / radius));
  const n = Math.max(1, Math.ceil(Math.abs(sweep) / step));
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const chords: Segment[] = [];
  let at = s.from;
  for (let i = 1; i <= n; i++) {
    const angle = start + (sweep * i) / n;
    const to = i === n ? s.to : { x: s.centre.x + radius * Math.cos(angle), y: s.centre.y + radius * Math.sin(angle) };
    chords.push(line(at, to));
    at = to;
  }
  return chords;
}
