import type { ReadEvent, ReadMove } from "../reader/read-move.ts";
import { type Pace, stretchOf, type Timed, timed } from "./pace.ts";
import { type Path, pathOf } from "./path.ts";
import { secondsOf } from "./trapezoid.ts";

export type { Pace } from "./pace.ts";

/** Seconds that a program takes, stops and hand work not counted. */
export interface ProgramTime {
  readonly seconds: number;
  /** Of that: feed moves, rapids, dwells. */
  readonly feedSeconds: number;
  readonly rapidSeconds: number;
  readonly dwellSeconds: number;
  /** From each line number word to the next; `n` undefined for what comes before the first. */
  readonly operations: readonly OperationTime[];
  /** Moves whose length is not known from the text (machine coordinates, unknown start): not in the sums. */
  readonly uncounted: number;
  /** Stops and tool changes, which wait for a person. */
  readonly waits: number;
}

/** The share of one operation. */
export interface OperationTime {
  readonly n: number | undefined;
  readonly line: number;
  readonly seconds: number;
}

/**
 * Time of a program on a machine: each move a trapezoid of speed within the top feeds and accelerations of its axes,
 * slowed in arcs to v ≤ √(a·r), joined at corners at the speed that keeps within the machine's allowed deviation, and
 * looked at backwards and forwards so that every stop ahead can be met. Anything but a move stops the motion.
 * Sources: Altintas, Manufacturing Automation, 2nd ed. 2012 (trapezoids, look-ahead); the corner as an arc tangent to
 * both legs.
 */
export function timeOf(events: readonly ReadEvent[], machine: Pace): ProgramTime {
  let feedSeconds = 0;
  let rapidSeconds = 0;
  let dwellSeconds = 0;
  let uncounted = 0;
  let waits = 0;
  let chain: ReadMove[] = [];
  const operations: { n: number | undefined; line: number; seconds: number }[] = [];
  let open: { n: number | undefined; line: number; seconds: number } = { n: undefined, line: 1, seconds: 0 };
  operations.push(open);
  const spend = (seconds: number) => {
    open.seconds += seconds;
    return seconds;
  };
  // Moves of one chain may belong to two operations: each carries its own.
  let owners: (typeof open)[] = [];
  const flush = () => {
    const counted = chain.map((move, i) => ({ move, owner: owners[i]!, path: pathOf(move) }));
    for (const run of unbroken(counted, machine)) {
      const seconds = secondsOf(run.map((r, i) => stretchOf(r, run[i + 1])));
      for (const [i, r] of run.entries()) {
        r.owner.seconds += seconds[i]!;
        if (r.move.rapid) rapidSeconds += seconds[i]!;
        else feedSeconds += seconds[i]!;
      }
    }
    uncounted += counted.filter((c) => c.path === undefined).length;
    chain = [];
    owners = [];
  };
  for (const event of events) {
    switch (event.kind) {
      case "move":
        chain.push(event);
        owners.push(open);
        break;
      case "dwell":
        flush();
        dwellSeconds += spend(event.seconds);
        break;
      case "stop":
      case "tool change":
        flush();
        waits++;
        break;
      case "spindle":
      case "length offset":
      case "end":
        flush();
        break;
      case "line number":
        open = { n: event.n, line: event.line, seconds: 0 };
        operations.push(open);
        break;
      case "comment":
        break;
    }
  }
  flush();
  const first = operations[0]!;
  return {
    seconds: feedSeconds + rapidSeconds + dwellSeconds,
    feedSeconds,
    rapidSeconds,
    dwellSeconds,
    operations: first.seconds > 0 ? operations : operations.slice(1),
    uncounted,
    waits,
  };
}

interface Owned {
  readonly owner: { seconds: number };
}

interface Counted extends Owned {
  readonly move: ReadMove;
  readonly path: Path | undefined;
}

/** Runs of moves with a known path and a length, in order. */
function unbroken(moves: readonly Counted[], machine: Pace): (Owned & Timed)[][] {
  const runs: (Owned & Timed)[][] = [[]];
  for (const { move, owner, path } of moves) {
    if (path === undefined) {
      runs.push([]);
      continue;
    }
    const one = timed(move, path, machine);
    if (one !== undefined) runs[runs.length - 1]!.push({ ...one, owner });
  }
  return runs.filter((r) => r.length > 0);
}
