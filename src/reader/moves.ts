import { beamOf, burns, checkBurningMove, checkTurn } from "./beam.ts";
import { checkSide, rapidOnLathe, reachesStock } from "./lathe.ts";
import { complain } from "./log.ts";
import { isKnown, lengthOfMove, moveBounds } from "./motion.ts";
import type { Position, ReadMove, ReadPath } from "./read-move.ts";
import { inWood, isStated, type Run, turns } from "./state.ts";

/** Two heights closer than this are one, mm: half of the last decimal that programs are written with. */
const SAME = 0.00013;

/** Longest wait of a turning bit in wood that is not remarked on, seconds. Common practice, no source. */
const LONGEST_DWELL = 1;

const STRAIGHT: ReadPath = { kind: "line" };

/** What goes with a move beside its path. */
export interface Extras {
  /** F under G93: moves a minute, in place of the feed in force. */
  readonly perMinute?: number;
  /** Machine coordinates of a G53 move. */
  readonly machineTarget?: Position;
  readonly turn?: { readonly from: number | undefined; readonly to: number };
}

/** A straight rapid to `to`, with the house's rules for rapids (L3, L8, L12). */
export function rapidTo(run: Run, to: Position, extras?: Extras): void {
  const { state, log, options } = run;
  if (options.lathe !== undefined) {
    state.lifted = rapidOnLathe(run, options.lathe, to, extras?.machineTarget);
    push(run, true, to, STRAIGHT, extras);
    state.afterFeed = false;
    return;
  }
  const at = state.at;
  const target = extras?.machineTarget;
  if (burns(run)) complain(log, "rs-beam-rapid");
  if (options.beam !== undefined && turnsA(extras)) checkTurn(run, options.beam, true);
  const sideways = to.x !== at.x || to.y !== at.y || target?.x !== undefined || target?.y !== undefined;
  const upright = to.z !== at.z || target?.z !== undefined;
  if (sideways && upright && !state.lost) complain(log, "rs-l12-rapid-slanting", "Z moves together with X or Y");
  if (sideways && !state.lost) {
    if (at.z === undefined && !state.lifted) {
      complain(log, "rs-l08-position-unknown", "X or Y moves while the height is unknown");
    } else if (!upright && at.z !== undefined && options.safeZ !== undefined && at.z < options.safeZ - SAME) {
      complain(log, "rs-l12-rapid-slanting", undefined, heights(at.z, options.safeZ));
    }
  }
  if (upright && to.z !== undefined && options.safeZ !== undefined) {
    if (to.z < options.safeZ - SAME && (at.z === undefined || to.z < at.z)) {
      complain(log, "rs-l03-rapid-low", undefined, heights(to.z, options.safeZ));
    }
  }
  push(run, true, to, STRAIGHT, extras);
  if (upright && !sideways) state.lifted = true;
  state.afterFeed = false;
}

/** A move at feed along `path` to `to`, with the house's rules for cutting (L1, L2, L8). */
export function feedTo(run: Run, to: Position, path: ReadPath, extras?: Extras): void {
  const { state, log } = run;
  const at = state.at;
  if (!isKnown(at) || !isKnown(to)) checkKnown(run, to);
  if (!isStated(state, 5)) complainOnce(run, 5, "the feed mode, G94");
  const { beam } = run.options;
  if (beam !== undefined) {
    const turning = turnsA(extras);
    if (turning) checkTurn(run, beam, false);
    if (burns(run)) checkBurningMove(run, beam, to, turning);
  }
  const move = push(run, false, to, path, extras);
  if (run.options.beam === undefined && !turns(run) && nearWood(run, move)) complain(log, "rs-l02-spindle-stopped");
  state.afterFeed = true;
  // On a lathe, standing clear ends with the first cut.
  if (run.options.lathe !== undefined) state.lifted = false;
}

function turnsA(extras: Extras | undefined): boolean {
  return extras?.turn !== undefined && extras.turn.from !== extras.turn.to;
}

/** Complains that a modal group is used before it is stated; only the first use is worth telling. */
export function complainOnce(run: Run, group: number, what: string): void {
  run.state.stated |= 1 << group;
  complain(run.log, "rs-l01-not-stated", what);
}

/** A wait, with the bit turning or not (L9). */
export function dwell(run: Run, seconds: number): void {
  if (burns(run)) complain(run.log, "rs-beam-dwell");
  else if (run.options.beam === undefined && seconds > LONGEST_DWELL && turns(run) && inWood(run) !== false) {
    complain(run.log, "rs-l09-bit-dwelling", undefined, {
      measured: { value: seconds, bound: 0, unit: "s" },
      limit: { value: LONGEST_DWELL, unit: "s", from: "common practice, no source" },
    });
  }
  run.events.push({ kind: "dwell", line: run.log.line, seconds });
}

/**
 * Writes a move down and goes there. Machine moves end at an unknown work position in the axes they name.
 */
function push(run: Run, rapid: boolean, to: Position, path: ReadPath, extras: Extras | undefined): ReadMove {
  const { state, options, log } = run;
  const feed = rapid || extras?.perMinute !== undefined ? 0 : state.feed * state.scale;
  if (options.lathe !== undefined) checkSide(run, options.lathe, to);
  let move: ReadMove = {
    kind: "move",
    line: log.line,
    rapid,
    from: state.at,
    to,
    path,
    machine: false,
    feed,
    spindle: state.spindle,
    tool: state.tool,
    exactPath: state.exactPath,
  };
  const beam = beamOf(run);
  if (beam !== undefined) move = { ...move, beam };
  if (extras !== undefined) move = dress(move, extras);
  run.events.push(move);
  if (options.box !== undefined) checkBox(run, move);
  if (options.machineTravel !== undefined) checkTravel(run, move);
  state.at = to;
  return move;
}

function dress(move: ReadMove, extras: Extras): ReadMove {
  const perMinute = extras.perMinute;
  return {
    ...move,
    machine: extras.machineTarget !== undefined,
    ...(perMinute === undefined || move.rapid ? {} : { feed: (lengthOfMove(move) ?? 0) * perMinute, perMinute }),
    ...(extras.machineTarget === undefined ? {} : { machineTarget: extras.machineTarget }),
    ...(extras.turn === undefined ? {} : { turn: extras.turn }),
  };
}

/** L8 for cutting: the whole path must be known. Z alone may come down to a first known height. */
function checkKnown(run: Run, to: Position): void {
  const { state, log } = run;
  if (state.lost) return;
  const at = state.at;
  if (run.options.lathe !== undefined) {
    complain(log, "rs-l08-position-unknown", "a cutting move starts or ends where nobody knows");
    return;
  }
  const sideways = to.x !== at.x || to.y !== at.y;
  if (to.x === undefined || to.y === undefined || (sideways && !isKnown(at))) {
    complain(log, "rs-l08-position-unknown", "a cutting move starts where nobody knows");
  }
}

function nearWood(run: Run, move: ReadMove): boolean {
  const { lathe } = run.options;
  if (lathe !== undefined) return reachesStock(lathe, moveBounds(move));
  const top = run.options.stock?.max.z;
  if (top === undefined || move.from.z === undefined || move.to.z === undefined) return true;
  const lowest =
    move.path.kind === "arc" && move.path.plane !== "XY"
      ? (moveBounds(move)?.min.z ?? Number.NEGATIVE_INFINITY)
      : Math.min(move.from.z, move.to.z);
  return lowest < top - SAME;
}

const AXES = ["x", "y", "z"] as const;

/** L7: no move may leave the box. An end that is unknown is not checked. */
function checkBox(run: Run, move: ReadMove): void {
  const box = run.options.box;
  if (box === undefined) return;
  const bounds = moveBounds(move);
  const low = bounds?.min ?? move.to;
  const high = bounds?.max ?? move.to;
  for (const axis of AXES) {
    const least = low[axis];
    const most = high[axis];
    const name = axis.toUpperCase();
    if (least !== undefined && least < box.min[axis] - SAME) {
      complain(run.log, "rs-l07-outside", `${name} goes too low`, outside(least, box.min[axis], "the box given"));
    } else if (most !== undefined && most > box.max[axis] + SAME) {
      complain(run.log, "rs-l07-outside", `${name} goes too high`, outside(most, box.max[axis], "the box given"));
    }
  }
}

/** L7: from its lowest to its highest place, no axis may need more than the machine has. Said once an axis. */
function checkTravel(run: Run, move: ReadMove): void {
  const travel = run.options.machineTravel;
  if (travel === undefined) return;
  const bounds = moveBounds(move);
  const { low, high } = run.extent;
  AXES.forEach((axis, k) => {
    const before = high[k]! - low[k]!;
    low[k] = Math.min(low[k]!, bounds?.min[axis] ?? move.to[axis] ?? Number.POSITIVE_INFINITY);
    high[k] = Math.max(high[k]!, bounds?.max[axis] ?? move.to[axis] ?? Number.NEGATIVE_INFINITY);
    const needed = high[k]! - low[k]!;
    if (needed > travel[axis] + SAME && !(before > travel[axis] + SAME)) {
      const name = axis.toUpperCase();
      complain(
        run.log,
        "rs-l07-outside",
        `${name} needs more travel`,
        outside(needed, travel[axis], "the machine's travel"),
      );
    }
  });
}

function heights(value: number, limit: number): Numbers {
  return { measured: { value, bound: 0, unit: "mm" }, limit: { value: limit, unit: "mm", from: "the safe height" } };
}

function outside(value: number, limit: number, from: string): Numbers {
  return { measured: { value, bound: 0, unit: "mm" }, limit: { value: limit, unit: "mm", from } };
}

type Numbers = NonNullable<Parameters<typeof complain>[3]>;
