import type { Finding, Outcome } from "../../finding.ts";
import type { Envelope } from "../../plan/turning-envelope.ts";
import { obstaclesOf } from "../../plan/turning-obstacles.ts";
import type { TurningOperation, TurningSetUp } from "../../plan/turning-setup.ts";
import { finishTurning } from "./finish.ts";
import type { TurningPath } from "./move.ts";
import { partTurning } from "./part.ts";
import { type Cut, roughTurning } from "./rough.ts";
import { woodBefore } from "./wood.ts";

/**
 * The moves of all operations of one mounting, in order, each knowing what wood the ones before it left. The same input
 * gives the same moves. An operation that finds nothing to cut is left out.
 * @returns refused when none of them cuts anything
 */
export function turningPaths(
  operations: readonly TurningOperation[],
  setUp: TurningSetUp,
): Outcome<readonly TurningPath[]> {
  const paths: TurningPath[] = [];
  let wood = woodBefore(setUp.start);
  for (const operation of operations) {
    const cut = turningPath(operation, setUp, wood);
    wood = cut.wood;
    if (cut.moves.length > 0) paths.push({ operation, moves: cut.moves });
  }
  if (paths.length > 0) return { ok: true, value: paths, findings: [] };
  const nothing: Finding = {
    grade: "refuse",
    code: "nothing-to-write",
    place: { part: setUp.piece.name, source: setUp.piece.source },
    what: "there is nothing to turn: the blank already has the profile",
  };
  return { ok: false, findings: [nothing] };
}

/** The moves of one operation, and the wood it leaves. @param wood as the operations before left it */
export function turningPath(operation: TurningOperation, setUp: TurningSetUp, wood: Envelope): Cut {
  switch (operation.kind) {
    case "rough":
      return roughTurning(operation, setUp, wood, obstaclesOf(setUp, setUp.target));
    case "finish":
      return finishTurning(operation, setUp, wood, obstaclesOf(setUp, setUp.target));
    case "part":
      return partTurning(operation, setUp, wood);
  }
}
