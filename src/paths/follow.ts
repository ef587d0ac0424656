import type { Outcome } from "../finding.ts";
import type { FollowOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { distance, type Point } from "../shapes/point.ts";
import { comeDownBeside, offTheBlank } from "./air.ts";
import { straight } from "./chain.ts";
import { rampDown } from "./descend.ts";
import type { Move } from "./move.ts";
import { noWayIn } from "./problems.ts";
import { comeDown, endTrail, feedTo, here, startTrail, type Trail } from "./trail.ts";

/** A shorter way is too short to ramp along. mm */
const SHORTEST = 0.2;

/**
 * A groove exactly as wide as the cutter. Open ends are entered and left through the air, so each level is cut from
 * air; between two closed ends the cutter ramps down to and fro, and a level pass takes the ramp's wedge.
 */
export function followLine(operation: FollowOperation, setUp: SetUp): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  if (distance(operation.start, operation.end) < SHORTEST) {
    trail.findings.push(noWayIn(operation, setUp, operation.start));
    return endTrail(trail);
  }
  const ends = runOut(operation, setUp);
  if (ends.start.inAir && ends.end.inAir) throughBoth(trail, setUp, operation, ends.start.at, ends.end.at);
  else if (ends.start.inAir) fromAir(trail, setUp, operation, ends.start.at, ends.end.at);
  else if (ends.end.inAir) fromAir(trail, setUp, operation, ends.end.at, ends.start.at);
  else stopped(trail, operation);
  return endTrail(trail);
}

interface End {
  readonly at: Point;
  readonly inAir: boolean;
}

/** Where the tip's way begins and ends: beyond the wood at open ends, unless a clamp stands there. */
function runOut(operation: FollowOperation, setUp: SetUp): { readonly start: End; readonly end: End } {
  const { start, end } = operation;
  const length = distance(start, end);
  const radius = operation.cutter.diameter / 2;
  const heading = { x: (end.x - start.x) / length, y: (end.y - start.y) / length };
  const before = operation.openStart ? offTheBlank(setUp, start, { x: -heading.x, y: -heading.y }, radius) : undefined;
  const beyond = operation.openEnd ? offTheBlank(setUp, end, heading, radius) : undefined;
  return {
    start: { at: before ?? start, inAir: before !== undefined },
    end: { at: beyond ?? end, inAir: beyond !== undefined },
  };
}

function throughBoth(trail: Trail, setUp: SetUp, operation: FollowOperation, a: Point, b: Point): void {
  let [near, far] = [a, b];
  for (const [i, z] of operation.levels.entries()) {
    if (i === 0) comeDownBeside(trail, setUp, near, z);
    // Already outside the wood: straight down is through air.
    else feedTo(trail, { ...near, z }, operation.speeds.plunge, "entry");
    feedTo(trail, { ...far, z }, operation.speeds.slot, "rough");
    [near, far] = [far, near];
  }
}

function fromAir(trail: Trail, setUp: SetUp, operation: FollowOperation, air: Point, stop: Point): void {
  for (const [i, z] of operation.levels.entries()) {
    if (i === 0) comeDownBeside(trail, setUp, air, z);
    else {
      feedTo(trail, { ...air, z: here(trail).z }, operation.speeds.feed, "link");
      feedTo(trail, { ...air, z }, operation.speeds.plunge, "entry");
    }
    feedTo(trail, { ...stop, z }, operation.speeds.slot, "rough");
  }
}

function stopped(trail: Trail, operation: FollowOperation): void {
  const { start, end, levels, rampAngle, speeds } = operation;
  const length = distance(start, end);
  let [near, far] = [start, end];
  comeDown(trail, near, operation.topZ);
  for (const z of levels) {
    const { along } = rampDown(trail, straight(near, far), z, rampAngle);
    const [first, last] = along > length / 2 ? [far, near] : [near, far];
    feedTo(trail, { ...first, z }, speeds.slot, "rough");
    feedTo(trail, { ...last, z }, speeds.slot, "rough");
    [near, far] = [last, first];
  }
}
