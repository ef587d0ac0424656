import type { Outcome } from "../finding.ts";
import type { EaseOperation, LipPass } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Point3 } from "../shapes/point.ts";
import type { Move } from "./move.ts";
import { comeDown, endTrail, feedTo, here, startTrail, type Trail } from "./trail.ts";

/** Two ends of passes nearer than this follow each other without a lift, mm. */
const BESIDE = 4;

/**
 * A nose along a lip, pass by pass. The tip gets at each pass from straight above: nowhere is wood that stays higher than
 * the lip it follows, seen along the spindle. From one closed pass to the next, higher and farther out, it rises above the
 * round between them, goes out level and comes down, so that it never cuts across that round.
 */
export function easeLip(operation: EaseOperation, setUp: SetUp): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  for (const pass of operation.passes) {
    const points = operation.finishing === "climb" ? pass.points : [...pass.points].reverse();
    const first = points[0];
    if (first === undefined) continue;
    const { speeds } = operation;
    if (!stepUp(trail, pass, first)) {
      comeDown(trail, first, operation.topZ);
      feedTo(trail, first, speeds.plunge, "entry");
    }
    const feed = Math.min(speeds.feed, climbingFeed(points, setUp.machine.topFeed));
    for (const p of points.slice(1)) feedTo(trail, p, feed, "finish");
  }
  return endTrail(trail);
}

/** Fastest along a way on which no axis passes its top feed. */
function climbingFeed(points: readonly Point3[], top: SetUp["machine"]["topFeed"]): number {
  let feed = Number.POSITIVE_INFINITY;
  for (const [i, b] of points.entries()) {
    const a = points[i - 1];
    if (a === undefined) continue;
    const [dx, dy, dz] = [Math.abs(b.x - a.x), Math.abs(b.y - a.y), Math.abs(b.z - a.z)];
    const long = Math.hypot(dx, dy, dz);
    // A hundredth less: ends are rounded to what the program prints.
    for (const [d, limit] of [
      [dx, top.x],
      [dy, top.y],
      [dz, top.z],
    ] as const)
      if (d * feed > 0.99 * limit * long) feed = (0.99 * limit * long) / d;
  }
  return Math.floor(feed);
}

function stepUp(trail: Trail, pass: LipPass, to: Point3): boolean {
  if (trail.tip === undefined || !pass.closed) return false;
  const from = here(trail);
  if (to.z < from.z || Math.hypot(to.x - from.x, to.y - from.y, to.z - from.z) > BESIDE) return false;
  const { feed, plunge } = trail.operation.speeds;
  const z = to.z + bulge(Math.hypot(to.x - from.x, to.y - from.y, to.z - from.z), trail.operation.cutter.diameter / 2);
  feedTo(trail, { ...from, z }, plunge, "link");
  feedTo(trail, { ...to, z }, feed, "link");
  feedTo(trail, to, plunge, "link");
  return true;
}

/**
 * How far a round may stand above the chord between two of its places, at most, mm. The nose's middle goes about the lip's
 * edge at more than its own radius, so a round of that radius bulges more.
 */
function bulge(chord: number, radius: number): number {
  return chord >= 2 * radius ? radius : radius - Math.sqrt(radius * radius - (chord * chord) / 4);
}
