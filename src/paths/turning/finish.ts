import { standsOver } from "../../plan/turning-contact.ts";
import type { Envelope } from "../../plan/turning-envelope.ts";
import type { FinishTurning, TurningSetUp } from "../../plan/turning-setup.ts";
import { turningShape } from "../../shop/turning-profile.ts";
import { descentsOver, neededStretches } from "./descents.ts";
import type { Cut } from "./rough.ts";
import { trailFor } from "./trail.ts";
import { clearOf, type KnownWood, woodAfter } from "./wood.ts";

/** Wood thinner than this counts as cut, mm: well within the accuracy of the programs. */
const CUT = 0.002;

/** Follows the profile down every slope, wherever wood is still left on it. */
export function finishTurning(op: FinishTurning, setUp: TurningSetUp, wood: KnownWood, obstacles: Envelope): Cut {
  const shape = turningShape(op.tool);
  const stands = standsOver(obstacles, op.tool);
  const trail = trailFor(op, setUp, stands);
  const ways = descentsOver(stands).flatMap((way) => neededStretches(way, wood, shape, CUT));
  for (const way of ways) trail.cut(way, clearOf(wood, shape, way[0]!.from.x), op.feed, "finish");
  return { moves: trail.moves, wood: woodAfter(wood, shape, ways) };
}
