import type { Outcome } from "../finding.ts";
import type { Operation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Point } from "../shapes/point.ts";
import { bore } from "./bore.ts";
import { clear } from "./clear.ts";
import { contour } from "./contour.ts";
import { easeLip } from "./ease.ts";
import { followLine } from "./follow.ts";
import type { Move, Toolpath } from "./move.ts";
import { peck } from "./peck.ts";
import { sink } from "./sink.ts";
import { traceLines } from "./trace.ts";
import { vGroove } from "./v-groove.ts";

/**
 * The moves of all operations, in their order: each begins, where it is free to, near where the one before ended. One for
 * each operation, so that all refusals come together.
 */
export function pathsFor(operations: readonly Operation[], setUp: SetUp): readonly Outcome<Toolpath>[] {
  let from: Point | undefined;
  return operations.map((operation) => {
    const path = pathFor(operation, setUp, from);
    if (path.ok) from = endOf(path.value.moves) ?? from;
    return path;
  });
}

function endOf(moves: readonly Move[]): Point | undefined {
  const last = moves.findLast((m) => m.kind !== "rapid z" && m.kind !== "dwell");
  return last === undefined ? undefined : { x: last.to.x, y: last.to.y };
}

/**
 * The moves of one operation, in set-up coordinates. The same operation and set-up give the same moves.
 * @param from where one comes from; absent: anywhere
 * @returns refused, with the reason, where the cutter fits nowhere or cannot get down
 * @throws RangeError for an operation that breaks its own type's promises: a bug in planning
 */
export function pathFor(operation: Operation, setUp: SetUp, from?: Point): Outcome<Toolpath> {
  const made = movesFor(operation, setUp, from);
  return made.ok ? { ok: true, value: { operation, moves: made.value }, findings: made.findings } : made;
}

function movesFor(operation: Operation, setUp: SetUp, from: Point | undefined): Outcome<readonly Move[]> {
  switch (operation.kind) {
    case "clear":
      return clear(operation, setUp);
    case "follow":
      return followLine(operation, setUp);
    case "bore":
      return bore(operation, setUp, from);
    case "peck":
      return peck(operation, setUp, from);
    case "sink":
      return sink(operation, setUp, from);
    case "contour":
      return contour(operation, setUp, from);
    case "ease":
      return easeLip(operation, setUp);
    case "v-groove":
      return vGroove(operation, setUp, from);
    case "trace":
      return traceLines(operation, setUp, from);
  }
}
