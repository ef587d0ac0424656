import type { Point, Point3 } from "../shapes/point.ts";
import { arc, sweepRad } from "../shapes/segment.ts";
import { countsOf, type Raster } from "./number.ts";

/** An arc as planned, mm; helical where the heights of its ends differ. */
export interface PlannedArc {
  readonly from: Point3;
  readonly to: Point3;
  readonly centre: Point;
  readonly ccw: boolean;
}

/** A move ready to be written, in raster counts. */
export type WrittenPiece =
  | { readonly kind: "line"; readonly x: number; readonly y: number; readonly z: number }
  | {
      readonly kind: "arc";
      readonly x: number;
      readonly y: number;
      readonly z: number;
      /** From the rounded start to the centre. */
      readonly i: number;
      readonly j: number;
      readonly ccw: boolean;
    };

/** What the reader of a program allows between start radius and end radius. Source: NISTIR 6556 §3.5.3.2. */
const MISMATCH_MM = 0.002;
/** Turns beyond this are written in two halves, so that no end comes to lie on its start after rounding. */
const LONGEST_SWEEP = 1.5 * Math.PI;
/**
 * Below this radius, mm, the rounded centre no longer says which way the arc turns: five steps of the coarsest raster.
 * The same in every unit, so that all posts write the same motion.
 */
const LEAST_RADIUS = 0.00127;
/** An arc that stands less than this off its chord, mm, is as well a line: one step of the coarsest raster. */
const LEAST_RISE = 0.000254;

/**
 * An arc in centre format, worked out from the rounded numbers and checked on them.
 *
 * A whole circle, and all but one, becomes two halves. An arc that stands less than 0.00026 mm off its chord, or whose
 * radius is below 0.0013 mm, becomes a straight line; one whose ends round to the same point keeps only its change of
 * height, or nothing.
 * @param x0 counts of the rounded start, where the move before ended; @param y0 the same
 * @throws RangeError when start and end lie on circles of different radius: a bug of ours
 */
export function writtenArc(x0: number, y0: number, planned: PlannedArc, raster: Raster): readonly WrittenPiece[] {
  const sweep = sweepOf(planned);
  if (Math.abs(sweep) <= LONGEST_SWEEP) return [writtenPart(x0, y0, planned, sweep, raster)];
  const middle = pointAlong(planned, sweep, 0.5);
  const first = writtenPart(x0, y0, { ...planned, to: middle }, sweep / 2, raster);
  return [first, writtenPart(first.x, first.y, { ...planned, from: middle }, sweep / 2, raster)];
}

/** One piece of less than a whole turn. @param sweep radians, signed, as planned */
function writtenPart(x0: number, y0: number, planned: PlannedArc, sweep: number, raster: Raster): WrittenPiece {
  const x = countsOf(planned.to.x, raster);
  const y = countsOf(planned.to.y, raster);
  const z = countsOf(planned.to.z, raster);
  const radius = Math.hypot(planned.from.x - planned.centre.x, planned.from.y - planned.centre.y);
  const rise = radius * (1 - Math.cos(Math.abs(sweep) / 2));
  if (radius < LEAST_RADIUS || rise < LEAST_RISE || (x === x0 && y === y0)) return { kind: "line", x, y, z };
  const i = countsOf(planned.centre.x, raster) - x0;
  const j = countsOf(planned.centre.y, raster) - y0;
  const written: WrittenPiece = { kind: "arc", x, y, z, i, j, ccw: planned.ccw };
  check(x0, y0, written, sweep, radius, raster);
  return written;
}

/**
 * The same arc as chords, none farther from it than `error` mm; the last ends where the arc does.
 * Source: sagitta s = r (1 − cos θ/2), so θ = 2 acos(1 − s / r).
 */
export function writtenChords(planned: PlannedArc, error: number, raster: Raster): readonly WrittenPiece[] {
  const sweep = sweepOf(planned);
  const radius = Math.hypot(planned.from.x - planned.centre.x, planned.from.y - planned.centre.y);
  const step = radius > error ? Math.min(Math.PI / 2, 2 * Math.acos(1 - error / radius)) : Math.PI / 2;
  const n = Math.max(1, Math.ceil(Math.abs(sweep) / step - 1e-9));
  const pieces: WrittenPiece[] = [];
  for (let k = 1; k <= n; k++) {
    const p = k === n ? planned.to : pointAlong(planned, sweep, k / n);
    pieces.push({ kind: "line", x: countsOf(p.x, raster), y: countsOf(p.y, raster), z: countsOf(p.z, raster) });
  }
  return pieces;
}

function sweepOf(planned: PlannedArc): number {
  return sweepRad(arc(planned.from, planned.to, planned.centre, planned.ccw));
}

/** A point a share t along: angle, height and (for ends that differ within tolerance) radius change evenly. */
function pointAlong(planned: PlannedArc, sweep: number, t: number): Point3 {
  const { from, to, centre } = planned;
  const angle = Math.atan2(from.y - centre.y, from.x - centre.x) + t * sweep;
  const r0 = Math.hypot(from.x - centre.x, from.y - centre.y);
  const r1 = Math.hypot(to.x - centre.x, to.y - centre.y);
  const r = r0 + t * (r1 - r0);
  return {
    x: centre.x + r * Math.cos(angle),
    y: centre.y + r * Math.sin(angle),
    z: from.z + t * (to.z - from.z),
  };
}

/** Reads the rounded numbers back as a controller will: radius at both ends, and how far it turns. */
function check(
  x0: number,
  y0: number,
  a: Extract<WrittenPiece, { kind: "arc" }>,
  sweep: number,
  radius: number,
  raster: Raster,
): void {
  const start = { x: x0, y: y0 };
  const end = { x: a.x, y: a.y };
  const centre = { x: x0 + a.i, y: y0 + a.j };
  const mismatch = Math.abs(Math.hypot(a.i, a.j) - Math.hypot(end.x - centre.x, end.y - centre.y)) * raster.step;
  if (!(mismatch <= MISMATCH_MM)) throw new RangeError(`an arc's ends lie on radii ${mismatch} mm apart`);
  const turned = sweepRad(arc(start, end, centre, a.ccw));
  if (!(Math.abs(turned - sweep) * radius <= 10 * raster.step)) {
    throw new RangeError(`an arc turns ${turned} rad once rounded, ${sweep} rad as planned`);
  }
}
