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
 * the lip it follows, seen along the spindle. From one closed pass to the next, higher and farther out, it first rises and
 * then goes out level, so that it never cuts across the round between them.
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
  const { feed } = trail.operation.speeds;
  feedTo(trail, { ...from, z: to.z }, trail.operation.speeds.plunge, "link");
  feedTo(trail, to, feed, "link");
  return true;
}
