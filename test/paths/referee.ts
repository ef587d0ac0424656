import type { Move, Toolpath } from "../../src/paths/move.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import { differenceOf, unionOf } from "../../src/shapes/boolean.ts";
import { offsetPolygons, sweepPolyline } from "../../src/shapes/offset.ts";
import type { Point, Point3 } from "../../src/shapes/point.ts";
import { type Polygons, pointInPolygons } from "../../src/shapes/polygons.ts";
import { lengthOf, line, pointAt, type Segment } from "../../src/shapes/segment.ts";
import { indexSegments, nearestDistance } from "../../src/shapes/segment-index.ts";

/** Slow and plain judges of a toolpath. They know moves and wood, nothing of how paths are made. */

/** A move with where it begins, and its way seen from above. */
export interface Leg {
  readonly move: Move;
  readonly from: Point3;
  readonly to: Point3;
  readonly way: Segment | undefined;
}

/** The moves with their beginnings; the tip starts at safe height above the first point. */
export function legsOf(path: Toolpath, setUp: SetUp): Leg[] {
  const first = path.moves[0];
  if (first?.kind !== "rapid xy") throw new Error("a toolpath begins with a rapid in X and Y");
  let tip: Point3 = { ...first.to, z: setUp.safeZ };
  return path.moves.map((move) => {
    const from = tip;
    let way: Segment | undefined;
    switch (move.kind) {
      case "rapid z":
        tip = { ...tip, z: move.z };
        break;
      case "rapid xy":
        tip = { ...move.to, z: tip.z };
        way = line(from, move.to);
        break;
      case "line":
        tip = move.to;
        if (from.x !== tip.x || from.y !== tip.y) way = line(from, tip);
        break;
      case "arc":
        tip = move.to;
        way = {
          kind: "arc",
          from: { x: from.x, y: from.y },
          to: { x: tip.x, y: tip.y },
          centre: move.centre,
          ccw: move.ccw,
        };
        break;
      case "dwell":
        break;
    }
    return { move, from, to: tip, way };
  });
}

/** Places along a leg, no further apart than `spacing`. */
export function placesOn(leg: Leg, spacing: number): Point3[] {
  const length = leg.way === undefined ? Math.abs(leg.to.z - leg.from.z) : lengthOf(leg.way);
  const n = Math.max(1, Math.ceil(length / spacing));
  return Array.from({ length: n + 1 }, (_, i) => {
    const t = i / n;
    const p = leg.way === undefined ? leg.to : pointAt(leg.way, t);
    return { x: p.x, y: p.y, z: leg.from.z + (leg.to.z - leg.from.z) * t };
  });
}

/** The deepest that any place below `topZ` comes nearer than the radius to the outside of what may be cut there. mm */
export function worstGouge(
  path: Toolpath,
  setUp: SetUp,
  allowedAt: (z: number) => Polygons,
  topZ: number,
  spacing = 0.25,
): number {
  const radius = path.operation.cutter.diameter / 2;
  const known = new Map<Polygons, ReturnType<typeof indexSegments>>();
  let worst = Number.NEGATIVE_INFINITY;
  for (const leg of legsOf(path, setUp)) {
    if (leg.move.kind === "rapid xy" || leg.move.kind === "dwell") continue;
    for (const p of placesOn(leg, spacing)) {
      if (p.z >= topZ) continue;
      const allowed = allowedAt(p.z);
      const index =
        known.get(allowed) ?? indexSegments(allowed.flatMap((r) => r.map((q, i) => line(q, r[(i + 1) % r.length]!))));
      known.set(allowed, index);
      const away = nearestDistance(index, p);
      worst = Math.max(worst, radius - (pointInPolygons(allowed, p) ? away : -away));
    }
  }
  return worst;
}

/** What is swept at `z` or lower, as polygons. */
export function sweptAt(path: Toolpath, setUp: SetUp, z: number): Polygons {
  const radius = path.operation.cutter.diameter / 2;
  const sweeps: Polygons[] = [];
  let run: Point[] = [];
  const close = (): void => {
    if (run.length > 0) sweeps.push(sweepPolyline(run, radius, 0.002));
    run = [];
  };
  for (const leg of legsOf(path, setUp)) {
    const low = Math.max(leg.from.z, leg.to.z) <= z + 1e-9;
    if (!low || leg.way === undefined) {
      close();
      continue;
    }
    if (run.length === 0) run.push(leg.way.from);
    const n = leg.way.kind === "line" ? 1 : Math.max(2, Math.ceil(lengthOf(leg.way) / 0.1));
    for (let i = 1; i <= n; i++) run.push(pointAt(leg.way, i / n));
    if (run.length > 200) close();
  }
  close();
  return unionOf(...sweeps);
}

/** What the cutter can reach in an area: the area opened by its disc, less 5 µm all round. */
export function reachable(area: Polygons, radius: number): Polygons {
  return offsetPolygons(offsetPolygons(area, -(radius + 0.005), 0.001), radius, 0.001);
}

/** Pieces of `wanted` thicker than `thickness` that `got` leaves. */
export function leftOver(wanted: Polygons, got: Polygons, thickness: number): Polygons {
  return offsetPolygons(differenceOf(wanted, got), -thickness / 2, 0.001);
}

/** Wood as heights over a square grid, cut by discs a little smaller than the cutter so that doubt favours wood. */
export interface Heights {
  readonly origin: Point;
  readonly cell: number;
  readonly nx: number;
  readonly ny: number;
  readonly z: Float64Array;
}

/** What a path does wrong on its way, as sentences. */
export function misdeeds(path: Toolpath, setUp: SetUp, rampAngle: number, cell = 0.25): string[] {
  const wrong: string[] = [];
  const { min, max } = setUp.blank;
  const nx = Math.ceil((max.x - min.x) / cell);
  const ny = Math.ceil((max.y - min.y) / cell);
  const heights: Heights = { origin: min, cell, nx, ny, z: new Float64Array(nx * ny).fill(max.z) };
  const radius = path.operation.cutter.diameter / 2;
  const steepest = Math.tan((rampAngle * Math.PI) / 180) * 1.001;
  const legs = legsOf(path, setUp);
  for (const [i, leg] of legs.entries()) {
    const where = `move ${i} (${leg.move.kind}${"why" in leg.move ? ` ${leg.move.why}` : ""}) at ${leg.to.x.toFixed(3)} ${leg.to.y.toFixed(3)} ${leg.to.z.toFixed(3)}`;
    const places = placesOn(leg, cell / 2);
    // Cells whose centre is nearer than this are surely under the disc; a link may brush a wall it runs along.
    const sure = radius - 0.06;
    const wood = (at: (p: Point3) => number): boolean => places.some((p) => highest(heights, p, sure) > at(p) + 1e-6);
    switch (leg.move.kind) {
      case "rapid xy":
        if (leg.from.z < setUp.safeZ - 1e-9) wrong.push(`${where}: sideways rapid below safe height`);
        break;
      case "rapid z":
        if (leg.to.z < leg.from.z && wood((p) => p.z)) wrong.push(`${where}: rapid into wood`);
        break;
      case "line":
      case "arc": {
        const flatLength = leg.way === undefined ? 0 : lengthOf(leg.way);
        const drop = leg.from.z - leg.to.z;
        if ((leg.move.why === "link" || leg.move.why === "lift") && wood((p) => p.z))
          wrong.push(`${where}: link in wood`);
        if (drop > 1e-9 && drop > flatLength * steepest + 1e-9 && wood((p) => p.z)) wrong.push(`${where}: too steep`);
        for (const p of places) lower(heights, p, radius);
        break;
      }
      case "dwell":
        break;
    }
  }
  const last = path.moves[path.moves.length - 1];
  if (last?.kind !== "rapid z" || last.z !== setUp.safeZ) wrong.push("does not end at safe height");
  return wrong;
}

function each(h: Heights, p: Point3, radius: number, visit: (cell: number) => void): void {
  const { origin, cell, nx, ny } = h;
  const j0 = Math.max(0, Math.floor((p.y - radius - origin.y) / cell));
  const j1 = Math.min(ny - 1, Math.ceil((p.y + radius - origin.y) / cell));
  for (let j = j0; j <= j1; j++) {
    const dy = origin.y + (j + 0.5) * cell - p.y;
    const half = radius * radius - dy * dy;
    if (half < 0) continue;
    const dx = Math.sqrt(half);
    const i0 = Math.max(0, Math.ceil((p.x - dx - origin.x) / cell - 0.5));
    const i1 = Math.min(nx - 1, Math.floor((p.x + dx - origin.x) / cell - 0.5));
    for (let i = i0; i <= i1; i++) visit(j * nx + i);
  }
}

function highest(h: Heights, p: Point3, radius: number): number {
  let top = Number.NEGATIVE_INFINITY;
  each(h, p, radius, (c) => {
    top = Math.max(top, h.z[c]!);
  });
  return top;
}

function lower(h: Heights, p: Point3, radius: number): void {
  each(h, p, radius, (c) => {
    if (h.z[c]! > p.z) h.z[c] = p.z;
  });
}

/** Length of a path's feed moves of some purposes, mm. */
export function lengthBy(path: Toolpath, setUp: SetUp, whys: readonly string[]): number {
  return legsOf(path, setUp)
    .filter((l) => "why" in l.move && whys.includes(l.move.why))
    .reduce((sum, l) => sum + Math.hypot(l.way === undefined ? 0 : lengthOf(l.way), l.to.z - l.from.z), 0);
}
