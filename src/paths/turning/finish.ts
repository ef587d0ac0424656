import { standsOver } from "../../plan/turning-contact.ts";
import { type Envelope, envelopeAt, exceeds, shared } from "../../plan/turning-envelope.ts";
import type { FinishTurning, TurningSetUp } from "../../plan/turning-setup.ts";
import { turningShape } from "../../shop/turning-profile.ts";
import { stretchesOver, usefulRoom } from "./descents.ts";
import type { Cut } from "./rough.ts";
import { trailFor } from "./trail.ts";
import { clearOf, woodAfter } from "./wood.ts";

/** Wood thinner than this counts as cut, mm: well within the accuracy of the programs. */
const CUT = 0.002;

/** Follows the profile down every slope, wherever wood is still left on it. */
export function finishTurning(op: FinishTurning, setUp: TurningSetUp, wood: Envelope, obstacles: Envelope): Cut {
  const shape = turningShape(op.tool);
  const stands = standsOver(obstacles, op.tool);
  const clear = clearOf(wood, shape);
  const needed = shared(exceeds(clear, stands, CUT), [usefulRoom(setUp, shape)]);
  const trail = trailFor(op, setUp, stands);
  for (const way of stretchesOver(stands, needed)) {
    trail.cut(way, envelopeAt(clear, way[0]!.from.x), op.feed, "finish");
  }
  return { moves: trail.moves, wood: woodAfter(wood, stands, shape) };
}
