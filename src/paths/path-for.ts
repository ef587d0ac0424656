import type { Outcome } from "../finding.ts";
import type { Operation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { bore } from "./bore.ts";
import { clear } from "./clear.ts";
import { contour } from "./contour.ts";
import { easeLip } from "./ease.ts";
import { followLine } from "./follow.ts";
import type { Move, Toolpath } from "./move.ts";
import { peck } from "./peck.ts";
import { sink } from "./sink.ts";

/**
 * The moves of one operation, in set-up coordinates. The same operation and set-up give the same moves.
 * @returns refused, with the reason, where the cutter fits nowhere or cannot get down
 * @throws RangeError for an operation that breaks its own type's promises: a bug in planning
 */
export function pathFor(operation: Operation, setUp: SetUp): Outcome<Toolpath> {
  const made = movesFor(operation, setUp);
  return made.ok ? { ok: true, value: { operation, moves: made.value }, findings: made.findings } : made;
}

function movesFor(operation: Operation, setUp: SetUp): Outcome<readonly Move[]> {
  switch (operation.kind) {
    case "clear":
      return clear(operation, setUp);
    case "follow":
      return followLine(operation, setUp);
    case "bore":
      return bore(operation, setUp);
    case "peck":
      return peck(operation, setUp);
    case "sink":
      return sink(operation, setUp);
    case "contour":
      return contour(operation, setUp);
    case "ease":
      return easeLip(operation, setUp);
  }
}
