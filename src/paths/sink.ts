import type { Outcome } from "../finding.ts";
import type { SinkOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Point } from "../shapes/point.ts";
import type { Move } from "./move.ts";
import { inShortOrder } from "./order.ts";
import { endTrail, feedTo, hover, lift, rapidDown, startTrail } from "./trail.ts";

/** Heads sunk straight down; the dwell lets the cutter clean its cone before it lifts. */
export function sink(operation: SinkOperation, setUp: SetUp, from?: Point): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  for (const centre of inShortOrder(operation.centres, from)) {
    hover(trail, centre);
    rapidDown(trail, Math.min(trail.safeZ, operation.topZ + trail.approach));
    feedTo(trail, { ...centre, z: operation.tipZ }, operation.speeds.plunge, "entry");
    if (operation.dwellSeconds > 0) trail.moves.push({ kind: "dwell", seconds: operation.dwellSeconds });
    lift(trail);
  }
  return endTrail(trail);
}
