import type { ReadMove } from "../reader/read-move.ts";
import type { Point3 } from "../shapes/point.ts";
import type { Machine } from "../shop/machine.ts";
import { directionAt, type Path, pathLength } from "./path.ts";
import { cornerSpeed, type Stretch } from "./trapezoid.ts";

/** What the clock needs of a machine. */
export type Pace = Pick<Machine, "topFeed" | "acceleration" | "cornerDeviation">;

/** In exact-path mode only corners flatter than this are driven through, degrees: tangent joints with rounding. */
const TANGENT_DEG = 1;
const TANGENT_COS = Math.cos((TANGENT_DEG * Math.PI) / 180);

/** A move with what bounds its speed. mm. */
export interface Timed {
  readonly move: ReadMove;
  readonly path: Path;
  readonly length: number;
  readonly limits: Limits;
  readonly deviation: number;
}

/** A move with its bounds; undefined for one without length. */
export function timed(move: ReadMove, path: Path, machine: Pace): Timed | undefined {
  const length = pathLength(path);
  if (!(length > 0)) return undefined;
  return { move, path, length, limits: limitsOf(path, length, machine), deviation: machine.cornerDeviation };
}

/** How fast a move may go, and how fast it may meet the one that follows. */
export function stretchOf(m: Timed, next: Timed | undefined): Stretch {
  const { move, limits } = m;
  const wanted = move.rapid || move.feed <= 0 ? Number.POSITIVE_INFINITY : move.feed / 60;
  const stretch = { length: m.length, speed: Math.min(wanted, limits.speed), acceleration: limits.acceleration };
  if (next === undefined) return { ...stretch, exit: 0 };
  const acceleration = Math.min(limits.acceleration, next.limits.acceleration);
  const exit = joint(directionAt(m.path, 1), directionAt(next.path, 0), acceleration, move.exactPath ? 0 : m.deviation);
  return { ...stretch, exit };
}

function joint(a: Point3, b: Point3, acceleration: number, deviation: number): number {
  const cos = a.x * b.x + a.y * b.y + a.z * b.z;
  if (cos >= TANGENT_COS) return Number.POSITIVE_INFINITY;
  const angle = Math.PI - Math.acos(Math.max(-1, Math.min(1, cos)));
  return cornerSpeed(acceleration, deviation, (angle * 180) / Math.PI);
}

/** Top speed (mm/s) and acceleration (mm/s²) along a path. */
interface Limits {
  readonly speed: number;
  readonly acceleration: number;
}

/** The limits of a path from those of the axes. */
function limitsOf(path: Path, length: number, { topFeed, acceleration }: Pace): Limits {
  const share = shares(path);
  const a = leastOver(acceleration, share);
  const v = leastOver(topFeed, share) / 60;
  if (path.kind === "line") return { speed: v, acceleration: a };
  // Centripetal: v² times the share of it in the arc's plane ≤ a·r.
  const plane =
    path.kind === "arc" ? Math.min(acceleration.x, acceleration.y) : Math.min(acceleration[path.over], acceleration.z);
  const inPlane = (path.radius * Math.abs(path.sweepRad)) / length;
  return { speed: Math.min(v, Math.sqrt(plane * path.radius) / inPlane), acceleration: a };
}

/** Least of the axes' limits, each over the share of the motion that the axis has. */
function leastOver(of: Point3, share: Point3): number {
  const one = (limit: number, part: number) => (part > 1e-12 ? limit / part : Number.POSITIVE_INFINITY);
  return Math.min(one(of.x, share.x), one(of.y, share.y), one(of.z, share.z));
}

/** Largest share of the speed that each axis may have along a path. */
function shares(path: Path): Point3 {
  const d = directionAt(path, 0);
  switch (path.kind) {
    case "line":
      return { x: Math.abs(d.x), y: Math.abs(d.y), z: Math.abs(d.z) };
    case "arc": {
      const plane = Math.hypot(d.x, d.y);
      return { x: plane, y: plane, z: Math.abs(d.z) };
    }
    case "upright arc": {
      const plane = path.over === "x" ? Math.hypot(d.x, d.z) : Math.hypot(d.y, d.z);
      return path.over === "x" ? { x: plane, y: Math.abs(d.y), z: plane } : { x: Math.abs(d.x), y: plane, z: plane };
    }
  }
}
