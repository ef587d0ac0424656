import type { Outcome } from "../finding.ts";
import type { PeckOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Point } from "../shapes/point.ts";
import type { Move } from "./move.ts";
import { inShortOrder } from "./order.ts";
import { endTrail, feedTo, hover, lift, rapidDown, rapidUp, startTrail } from "./trail.ts";

/** Way above full depth within which a last bite is joined to the one before, so that none is a sliver. mm */
const SLIVER = 0.05;

/**
 * Holes drilled in even bites. Between two bites the drill comes right out to approach height, to clear its flutes, and
 * goes back at plunge feed: no rapid ever enters a hole.
 */
export function peck(operation: PeckOperation, setUp: SetUp, from?: Point): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  const { plunge } = operation.speeds;
  const above = Math.min(trail.safeZ, operation.topZ + trail.approach);
  const depth = operation.topZ - operation.tipZ;
  const bites = Math.max(1, Math.ceil((depth - SLIVER) / operation.bite));
  for (const centre of inShortOrder(operation.centres, from)) {
    hover(trail, centre);
    rapidDown(trail, above);
    for (let i = 1; i <= bites; i++) {
      feedTo(trail, { ...centre, z: operation.topZ - (depth * i) / bites }, plunge, "entry");
      if (i < bites) rapidUp(trail, above);
    }
    lift(trail);
  }
  return endTrail(trail);
}
