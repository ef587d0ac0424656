import type { Box3 } from "../shapes/point.ts";
import { type Block, has, hasG, J, X, Y } from "./block.ts";
import { isCycle, nameOfG } from "./codes.ts";
import { complain } from "./log.ts";
import type { LatheReading } from "./options.ts";
import type { Position } from "./read-move.ts";
import type { Run } from "./state.ts";

/** Two radii closer than this are one, mm: half of the last decimal that programs are written with. */
const SAME = 0.00013;

/** Turns a diameter into a radius before anything looks at it. */
export function halveDiameter(lathe: LatheReading | undefined, b: Block): void {
  if (lathe?.xWords === "diameter" && has(b, X)) b.values[X]! /= 2;
}

/** What no line of a turning program may say: Y, a drilling cycle, arcs outside G18, another feed mode than G94. */
export function checkOnLathe(run: Run, b: Block, motion: number): void {
  const { log, state } = run;
  if (has(b, Y)) complain(log, "rs-e32-no-such-axis", "a lathe has X and Z, not Y");
  if (has(b, J)) complain(log, "rs-e36-arc-wrong-centre-word", "J belongs to Y, which a lathe has not");
  if (isCycle(motion)) complain(log, "rs-lathe-cycle", nameOfG(motion));
  const plane = hasG(b, 2) ? b.g[2]! : state.plane;
  if ((motion === 20 || motion === 30) && plane !== 180) {
    complain(log, "rs-lathe-plane", `${nameOfG(plane)} is in force`);
  }
  const inverse = hasG(b, 5) ? b.g[5] === 930 : state.inverseTime;
  if (inverse && (hasG(b, 5) || motion === 10 || motion === 20 || motion === 30)) complain(log, "rs-lathe-feed-mode");
}

/**
 * The house's rules for a rapid on a lathe (L8, L12): X alone or Z alone; from an unknown place first X, outwards; along
 * the axis only at or beyond the safe radius. Whether X alone goes inwards through wood is judged by the wood itself.
 * @returns whether the tool is known to stand clear, wherever X is
 */
export function rapidOnLathe(run: Run, lathe: LatheReading, to: Position, machine: Position | undefined): boolean {
  const { state, log } = run;
  const { at } = state;
  const across = to.x !== at.x || machine?.x !== undefined;
  const along = to.z !== at.z || machine?.z !== undefined;
  if (across && along && !state.lost) {
    complain(log, "rs-l12-rapid-slanting", "X moves together with Z");
    return false;
  }
  if (along) {
    if (at.x === undefined) {
      if (!state.lifted && !state.lost) complain(log, "rs-l08-position-unknown", "Z moves while nobody knows X");
    } else checkSafe(run, lathe, lathe.side * at.x);
    return state.lifted;
  }
  // Home, in machine coordinates, is as far out as X goes.
  if (machine?.x !== undefined) return true;
  const radius = to.x === undefined ? undefined : lathe.side * to.x;
  const clear = radius !== undefined && lathe.safeRadius !== undefined && radius >= lathe.safeRadius - SAME;
  if (across && !clear && !state.lost && (at.z === undefined || (at.x === undefined && !state.lifted))) {
    complain(log, "rs-l08-position-unknown", "X goes in while nobody knows where the tool stands");
  }
  return clear;
}

function checkSafe(run: Run, lathe: LatheReading, radius: number): void {
  const safe = lathe.safeRadius;
  if (safe !== undefined && radius >= safe - SAME) return;
  complain(run.log, "rs-l12-rapid-slanting", "a rapid runs along the axis inside the safe radius", {
    measured: { value: radius, bound: 0, unit: "mm" },
    ...(safe === undefined ? {} : { limit: { value: safe, unit: "mm", from: "the safe radius" } }),
  });
}

/** The tool never crosses the axis: beyond it the wood comes at it from the other side. */
export function checkSide(run: Run, lathe: LatheReading, to: Position): void {
  if (to.x === undefined || to.x === run.state.at.x || lathe.side * to.x >= -SAME) return;
  complain(run.log, "rs-lathe-past-axis", undefined, {
    measured: { value: lathe.side * to.x, bound: 0, unit: "mm" },
    limit: { value: 0, unit: "mm", from: "the side that the shop file says the tool works on" },
  });
}

/** Whether a move comes within the wood's largest radius; true while either is unknown. */
export function reachesStock(lathe: LatheReading, bounds: Box3 | undefined): boolean {
  if (bounds === undefined || lathe.stockRadius === undefined) return true;
  const least = Math.min(lathe.side * bounds.min.x, lathe.side * bounds.max.x);
  return least < lathe.stockRadius - SAME;
}
