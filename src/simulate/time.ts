import type { ReadEvent, ReadMove } from "../reader/read-move.ts";
import type { Point3 } from "../shapes/point.ts";
import type { Machine } from "../shop/machine.ts";
import { directionAt, type Path, pathLength, pathOf } from "./path.ts";
import { cornerSpeed, type Stretch, secondsOf } from "./trapezoid.ts";

/** Seconds that a program takes, stops and hand work not counted. */
export interface ProgramTime {
  readonly seconds: number;
  /** Of that: feed moves, rapids, dwells. */
  readonly feedSeconds: number;
  readonly rapidSeconds: number;
  readonly dwellSeconds: number;
  /** From each line number word to the next; `n` undefined for what comes before the first. */
  readonly operations: readonly OperationTime[];
  /** Moves whose length is not known from the text (machine coordinates, unknown start): not in the sums. */
  readonly uncounted: number;
  /** Stops and tool changes, which wait for a person. */
  readonly waits: number;
}

/** The share of one operation. */
export interface OperationTime {
  readonly n: number | undefined;
  readonly line: number;
  readonly seconds: number;
}

/** What the clock needs of a machine. */
export type Pace = Pick<Machine, "topFeed" | "acceleration" | "cornerDeviation">;

/** In exact-path mode only corners flatter than this are driven through, degrees: tangent joints with rounding. */
const TANGENT_DEG = 1;
const TANGENT_COS = Math.cos((TANGENT_DEG * Math.PI) / 180);

/**
 * Time of a program on a machine: each move a trapezoid of speed within the top feeds and accelerations of its axes,
 * slowed in arcs to v ≤ √(a·r), joined at corners at the speed that keeps within the machine's allowed deviation, and
 * looked at backwards and forwards so that every stop ahead can be met. Anything but a move stops the motion.
 * Sources: Altintas, Manufacturing Automation, 2nd ed. 2012 (trapezoids, look-ahead); the corner as an arc tangent to
 * both legs.
 */
export function timeOf(events: readonly ReadEvent[], machine: Pace): ProgramTime {
  let feedSeconds = 0;
  let rapidSeconds = 0;
  let dwellSeconds = 0;
  let uncounted = 0;
  let waits = 0;
  let chain: ReadMove[] = [];
  const operations: { n: number | undefined; line: number; seconds: number }[] = [];
  let open: { n: number | undefined; line: number; seconds: number } = { n: undefined, line: 1, seconds: 0 };
  operations.push(open);
  const spend = (seconds: number) => {
    open.seconds += seconds;
    return seconds;
  };
  // Moves of one chain may belong to two operations: each carries its own.
  let owners: (typeof open)[] = [];
  const flush = () => {
    const counted = chain.map((move, i) => ({ move, owner: owners[i]!, path: pathOf(move) }));
    for (const run of unbroken(counted, machine)) {
      const seconds = secondsOf(run.map((r, i) => stretchOf(r, run[i + 1])));
      for (const [i, r] of run.entries()) {
        r.owner.seconds += seconds[i]!;
        if (r.move.rapid) rapidSeconds += seconds[i]!;
        else feedSeconds += seconds[i]!;
      }
    }
    uncounted += counted.filter((c) => c.path === undefined).length;
    chain = [];
    owners = [];
  };
  for (const event of events) {
    switch (event.kind) {
      case "move":
        chain.push(event);
        owners.push(open);
        break;
      case "dwell":
        flush();
        dwellSeconds += spend(event.seconds);
        break;
      case "stop":
      case "tool change":
        flush();
        waits++;
        break;
      case "spindle":
      case "length offset":
      case "end":
        flush();
        break;
      case "line number":
        open = { n: event.n, line: event.line, seconds: 0 };
        operations.push(open);
        break;
      case "comment":
        break;
    }
  }
  flush();
  const first = operations[0]!;
  return {
    seconds: feedSeconds + rapidSeconds + dwellSeconds,
    feedSeconds,
    rapidSeconds,
    dwellSeconds,
    operations: first.seconds > 0 ? operations : operations.slice(1),
    uncounted,
    waits,
  };
}

interface Counted {
  readonly move: ReadMove;
  readonly owner: { seconds: number };
  readonly path: Path | undefined;
}

interface Timed {
  readonly path: Path;
  readonly length: number;
  readonly limits: Limits;
  readonly deviation: number;
}

/** Runs of moves with a known path and a length, in order. */
function unbroken(moves: readonly Counted[], machine: Pace): (Counted & Timed)[][] {
  const runs: (Counted & Timed)[][] = [[]];
  for (const { move, owner, path } of moves) {
    if (path === undefined) {
      runs.push([]);
      continue;
    }
    const length = pathLength(path);
    if (!(length > 0)) continue;
    const deviation = machine.cornerDeviation;
    runs[runs.length - 1]!.push({ move, owner, path, length, limits: limitsOf(path, length, machine), deviation });
  }
  return runs.filter((r) => r.length > 0);
}

function stretchOf(m: Counted & Timed, next: (Counted & Timed) | undefined): Stretch {
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
