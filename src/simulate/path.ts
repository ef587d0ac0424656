import type { ReadMove } from "../reader/read-move.ts";
import type { Point, Point3 } from "../shapes/point.ts";

/**
 * The way the tip goes in one move, mm. Filled from a read move by `pathOf`; read by every check of this stage. Along
 * each, all three coordinates are functions of one share t from 0 to 1.
 */
export type Path = LinePath | ArcPath | UprightArcPath;

/** Straight, in any direction. */
export interface LinePath {
  readonly kind: "line";
  readonly from: Point3;
  readonly to: Point3;
}

/** An arc in plan, Z moving evenly with the angle. */
export interface ArcPath {
  readonly kind: "arc";
  readonly from: Point3;
  readonly to: Point3;
  readonly centre: Point;
  readonly radius: number;
  /** Angle of the start about the centre, and the signed turn, radians; positive is counter-clockwise from above. */
  readonly startRad: number;
  readonly sweepRad: number;
  /** How far the radii of start and end differ, mm: the true way is unknown by as much. */
  readonly slack: number;
}

/** An arc standing upright over X or over Y, the third coordinate moving evenly with the angle. */
export interface UprightArcPath {
  readonly kind: "upright arc";
  readonly over: "x" | "y";
  readonly from: Point3;
  readonly to: Point3;
  /** Centre as (x or y, z). */
  readonly centre: Point;
  readonly radius: number;
  /** Radians from +x (or +y) towards +z. */
  readonly startRad: number;
  readonly sweepRad: number;
  readonly slack: number;
}

/** The path of a move, or nothing while a coordinate of either end is unknown. */
export function pathOf(move: ReadMove): Path | undefined {
  const from = known(move.from);
  const to = known(move.to);
  if (from === undefined || to === undefined) return undefined;
  const p = move.path;
  if (p.kind === "line") return { kind: "line", from, to };
  switch (p.plane) {
    case "XY":
      return { kind: "arc", from, to, centre: p.centre, ...turn(from, to, p.centre, p.ccw) };
    case "XZ":
    case "YZ": {
      const over = p.plane === "XZ" ? "x" : "y";
      const flat = (q: Point3): Point => ({ x: q[over], y: q.z });
      return { kind: "upright arc", over, from, to, centre: p.centre, ...turn(flat(from), flat(to), p.centre, p.ccw) };
    }
  }
}

/** A position with all three coordinates fixed, or nothing. */
export function known(p: ReadMove["from"]): Point3 | undefined {
  return p.x === undefined || p.y === undefined || p.z === undefined ? undefined : { x: p.x, y: p.y, z: p.z };
}

/** The point a share t (0 to 1) of the way along. */
export function pointOn(path: Path, t: number): Point3 {
  const { from, to } = path;
  const even = (a: number, b: number) => a + t * (b - a);
  switch (path.kind) {
    case "line":
      return { x: even(from.x, to.x), y: even(from.y, to.y), z: even(from.z, to.z) };
    case "arc": {
      const angle = path.startRad + t * path.sweepRad;
      return {
        x: path.centre.x + path.radius * Math.cos(angle),
        y: path.centre.y + path.radius * Math.sin(angle),
        z: even(from.z, to.z),
      };
    }
    case "upright arc": {
      const angle = path.startRad + t * path.sweepRad;
      const along = path.centre.x + path.radius * Math.cos(angle);
      const z = path.centre.y + path.radius * Math.sin(angle);
      return path.over === "x" ? { x: along, y: even(from.y, to.y), z } : { x: even(from.x, to.x), y: along, z };
    }
  }
}

/** Length of the way the tip goes, mm. */
export function pathLength(path: Path): number {
  const { from, to } = path;
  switch (path.kind) {
    case "line":
      return Math.hypot(to.x - from.x, to.y - from.y, to.z - from.z);
    case "arc":
      return Math.hypot(path.radius * path.sweepRad, to.z - from.z);
    case "upright arc":
      return Math.hypot(path.radius * path.sweepRad, path.over === "x" ? to.y - from.y : to.x - from.x);
  }
}

/** Length of the way seen from above, mm; for an upright arc an upper bound. */
export function planLength(path: Path): number {
  switch (path.kind) {
    case "line":
      return Math.hypot(path.to.x - path.from.x, path.to.y - path.from.y);
    case "arc":
      return path.radius * Math.abs(path.sweepRad);
    case "upright arc":
      return pathLength(path);
  }
}

/** Unit direction of travel in space at a share t; (0, 0, 0) for a path without length. */
export function directionAt(path: Path, t: number): Point3 {
  const { from, to } = path;
  const length = pathLength(path);
  if (length === 0) return { x: 0, y: 0, z: 0 };
  const even = (a: number, b: number) => (b - a) / length;
  switch (path.kind) {
    case "line":
      return { x: even(from.x, to.x), y: even(from.y, to.y), z: even(from.z, to.z) };
    case "arc": {
      const angle = path.startRad + t * path.sweepRad;
      const k = (path.radius * path.sweepRad) / length;
      return { x: -k * Math.sin(angle), y: k * Math.cos(angle), z: even(from.z, to.z) };
    }
    case "upright arc": {
      const angle = path.startRad + t * path.sweepRad;
      const k = (path.radius * path.sweepRad) / length;
      const along = -k * Math.sin(angle);
      const z = k * Math.cos(angle);
      return path.over === "x" ? { x: along, y: even(from.y, to.y), z } : { x: even(from.x, to.x), y: along, z };
    }
  }
}

/** Lowest tip height on a path, mm. */
export function lowestTip(path: Path): number {
  const ends = Math.min(path.from.z, path.to.z);
  if (path.kind !== "upright arc") return ends;
  return passes(path, -Math.PI / 2) ? path.centre.y - path.radius : ends;
}

/**
 * Cuts an arc into straight lines with the same parameter, and says how far a line's point may be from the arc's point
 * at the same t: r·θ²/8 for chords of angle θ, the error of linear interpolation of a curve with second derivative r·θ².
 * @param within mm, > 0; the chords stay at most this far off
 */
export function chordsOf(path: ArcPath | UprightArcPath, within: number): { lines: LinePath[]; error: number } {
  const turn = Math.abs(path.sweepRad);
  const n = Math.max(1, Math.ceil(turn * Math.sqrt(path.radius / (8 * within))));
  const ends = Array.from({ length: n + 1 }, (_, i) => pointOn(path, i / n));
  const lines = ends.slice(1).map((to, i): LinePath => ({ kind: "line", from: ends[i]!, to }));
  return { lines, error: (path.radius * (turn / n) ** 2) / 8 + path.slack };
}

function passes(path: UprightArcPath, angle: number): boolean {
  const whole = 2 * Math.PI;
  const ahead = (path.sweepRad > 0 ? angle - path.startRad : path.startRad - angle) % whole;
  return (ahead < 0 ? ahead + whole : ahead) <= Math.abs(path.sweepRad);
}

function turn(
  from: Point,
  to: Point,
  centre: Point,
  ccw: boolean,
): { radius: number; startRad: number; sweepRad: number; slack: number } {
  const radius = Math.hypot(from.x - centre.x, from.y - centre.y);
  const startRad = Math.atan2(from.y - centre.y, from.x - centre.x);
  const slack = Math.abs(Math.hypot(to.x - centre.x, to.y - centre.y) - radius);
  const whole = 2 * Math.PI;
  // End equal to start is a whole turn: NISTIR 6556 §3.5.3.2.
  if (from.x === to.x && from.y === to.y) return { radius, startRad, sweepRad: ccw ? whole : -whole, slack: 0 };
  const end = Math.atan2(to.y - centre.y, to.x - centre.x);
  const ahead = (ccw ? end - startRad : startRad - end) % whole;
  const positive = ahead <= 0 ? ahead + whole : ahead;
  return { radius, startRad, sweepRad: ccw ? positive : -positive, slack };
}
