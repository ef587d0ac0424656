import { type Block, has, I, J, K, L, P, Q, R, X, Y, Z } from "./block.ts";
import { cycleWaits } from "./check.ts";
import { nameOfG } from "./codes.ts";
import { complain } from "./log.ts";
import { complainOnce, dwell, feedTo, rapidTo } from "./moves.ts";
import type { Position, ReadPath } from "./read-move.ts";
import { isStated, type Run, turns } from "./state.ts";

/** How far above the last depth G83 comes back at full speed: 0.010 inch (the reference program's value). mm. */
const PECK_GAP = 0.254;

/** More bites or repeats than this on one line are a mistake. */
const MOST = 10_000;

const STRAIGHT: ReadPath = { kind: "line" };

/** The axis a cycle drills along, and the two it goes sideways in, by plane. */
interface Drilling {
  readonly depth: "x" | "y" | "z";
  readonly first: "x" | "y";
  readonly second: "y" | "z";
  readonly depthWord: number;
  readonly firstWord: number;
  readonly secondWord: number;
}

const ALONG_Z: Drilling = { depth: "z", first: "x", second: "y", depthWord: Z, firstWord: X, secondWord: Y };
const ALONG_Y: Drilling = { depth: "y", first: "x", second: "z", depthWord: Y, firstWord: X, secondWord: Z };
const ALONG_X: Drilling = { depth: "x", first: "y", second: "z", depthWord: X, firstWord: Y, secondWord: Z };

/** Carries out a drilling cycle G81 to G89 (NISTIR 6556 §3.5.16) as the moves it consists of. */
export function cycle(run: Run, b: Block, code: number): void {
  const { state, log } = run;
  if (!isStated(state, 2)) complainOnce(run, 2, "the plane, G17");
  if (!isStated(state, 10)) complainOnce(run, 10, "how far cycles go back, G98 or G99");
  const axes = state.plane === 170 ? ALONG_Z : state.plane === 180 ? ALONG_Y : ALONG_X;
  const sticky = keepNumbers(run, b, code, axes);
  if (!checkCycle(run, b, code)) return;
  if (code === 840 || code === 870 || code === 880) {
    complain(log, "rs-cycle-not-for-wood", nameOfG(code));
    return;
  }
  const start = state.at[axes.depth];
  if (start === undefined) {
    if (!state.lost) complain(log, "rs-l08-position-unknown", "a drilling cycle starts at an unknown height");
    state.at = run.nowhere;
    state.lost = true;
    return;
  }
  const scale = state.scale;
  const top = sticky.r! * scale + (state.incremental ? start : 0);
  const bottom = sticky.depth! * scale + (state.incremental ? top : 0);
  if (top < bottom) {
    complain(log, "rs-e49-cycle-upside-down", undefined, {
      measured: { value: top, bound: 0, unit: "mm" },
      limit: { value: bottom, unit: "mm", from: "the cycle's depth" },
    });
    return;
  }
  const clear = state.backToR ? top : Math.max(start, top);
  if (start < top) rapidTo(run, moved(state.at, axes.depth, top));
  const repeats = has(b, L) ? b.values[L]! : 1;
  const bites = code === 830 ? Math.max(1, Math.ceil((top - bottom) / (sticky.q! * scale))) : 1;
  if (repeats * bites > MOST) {
    complain(log, "rs-too-many-moves", `${repeats * bites} bites`);
    return;
  }
  for (let k = 0; k < repeats; k++) {
    goSideways(run, b, axes);
    if (state.at[axes.depth] !== top) rapidTo(run, moved(state.at, axes.depth, top));
    drill(run, code, axes, { top, bottom, clear, wait: sticky.p ?? 0, bite: (sticky.q ?? 0) * scale });
  }
}

/** Takes the line's numbers over those still in force; another code begins anew. */
function keepNumbers(run: Run, b: Block, code: number, axes: Drilling): Run["state"]["cycle"] {
  const sticky = run.state.cycle;
  if (sticky.code !== code) {
    sticky.code = code;
    sticky.r = undefined;
    sticky.depth = undefined;
    sticky.p = undefined;
    sticky.q = undefined;
  }
  if (has(b, R)) sticky.r = b.values[R]!;
  if (has(b, axes.depthWord)) sticky.depth = b.values[axes.depthWord]!;
  if (has(b, P)) sticky.p = b.values[P]!;
  if (has(b, Q)) sticky.q = b.values[Q]!;
  return sticky;
}

/** E48, E50 to E54. */
function checkCycle(run: Run, b: Block, code: number): boolean {
  const { log } = run;
  const { cycle: sticky, spindle } = run.state;
  let good = true;
  const refuse = (rule: Parameters<typeof complain>[1], detail: string): void => {
    complain(log, rule, detail);
    good = false;
  };
  const name = nameOfG(code);
  if (sticky.r === undefined || sticky.depth === undefined) {
    refuse("rs-e48-cycle-level", sticky.r === undefined ? `${name} without R` : `${name} without a depth`);
  }
  if (cycleWaits(code) && sticky.p === undefined) refuse("rs-e50-cycle-dwell", name);
  if (code === 830 && !(sticky.q !== undefined && sticky.q > 0))
    refuse("rs-e51-cycle-peck", `Q is ${sticky.q ?? "missing"}`);
  if (code === 870 && !(has(b, I) && has(b, J) && has(b, K))) refuse("rs-e52-cycle-offsets", name);
  if (has(b, L) && b.values[L] === 0) refuse("rs-e53-cycle-repeats", "L0");
  const wanted = code === 840 ? "clockwise" : code === 860 || code === 870 || code === 880 ? "turning" : undefined;
  if (wanted !== undefined && (wanted === "clockwise" ? spindle.turning !== "clockwise" : !turns(run))) {
    refuse("rs-e54-cycle-spindle", `${name} needs it ${wanted}`);
  }
  return good;
}

/** To the hole, at full speed. */
function goSideways(run: Run, b: Block, axes: Drilling): void {
  const { state } = run;
  const at = state.at;
  const first = sidewaysTo(run, b, axes.firstWord, at[axes.first]);
  const second = sidewaysTo(run, b, axes.secondWord, at[axes.second]);
  if (first === at[axes.first] && second === at[axes.second]) return;
  rapidTo(run, moved(moved(at, axes.first, first), axes.second, second));
}

function sidewaysTo(run: Run, b: Block, letter: number, from: number | undefined): number | undefined {
  if (!has(b, letter)) return from;
  const value = b.values[letter]! * run.state.scale;
  if (!run.state.incremental) return value;
  if (from === undefined && !run.state.lost) complain(run.log, "rs-l08-position-unknown", "G91 is in force");
  return from === undefined ? undefined : from + value;
}

interface Hole {
  readonly top: number;
  readonly bottom: number;
  /** Height to go back to. */
  readonly clear: number;
  /** Seconds at the bottom. */
  readonly wait: number;
  readonly bite: number;
}

/** What happens at one hole, beginning at its top. */
function drill(run: Run, code: number, axes: Drilling, hole: Hole): void {
  const { state } = run;
  const feed = (level: number): void => feedTo(run, moved(state.at, axes.depth, level), STRAIGHT);
  const rapid = (level: number): void => {
    if (state.at[axes.depth] !== level) rapidTo(run, moved(state.at, axes.depth, level));
  };
  if (code === 830) {
    for (let k = 1; hole.top - k * hole.bite > hole.bottom; k++) {
      const level = hole.top - k * hole.bite;
      feed(level);
      rapid(hole.clear);
      rapid(Math.min(level + PECK_GAP, hole.clear));
    }
  }
  feed(hole.bottom);
  if (cycleWaits(code)) dwell(run, hole.wait);
  if (code === 860) {
    const before = state.spindle;
    state.spindle = { turning: "off", rpm: before.rpm };
    run.events.push({ kind: "spindle", line: run.log.line, spindle: state.spindle });
    rapid(hole.clear);
    state.spindle = before;
    run.events.push({ kind: "spindle", line: run.log.line, spindle: before });
    return;
  }
  if (code === 850 || code === 890) feed(hole.clear);
  else rapid(hole.clear);
}

function moved(p: Position, axis: "x" | "y" | "z", value: number | undefined): Position {
  switch (axis) {
    case "x":
      return { x: value, y: p.y, z: p.z };
    case "y":
      return { x: p.x, y: value, z: p.z };
    case "z":
      return { x: p.x, y: p.y, z: value };
  }
}
