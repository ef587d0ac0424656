import {
  A,
  AXES,
  B,
  type Block,
  C,
  CENTRE,
  D,
  F,
  H,
  has,
  hasG,
  I,
  J,
  K,
  L,
  LINEAR,
  P,
  Q,
  R,
  ROTARY,
  T,
  X,
  Y,
  Z,
} from "./block.ts";
import { claimsAxes, isCycle, NO_MOTION, nameOfG } from "./codes.ts";
import { checkOnLathe } from "./lathe.ts";
import { complain } from "./log.ts";
import type { Run } from "./state.ts";

/** No motion is made on the line. */
export const STILL = -1;

/** How near to a whole number P of G10 must lie (NISTIR 6556 §3.3.2.1). */
const WHOLE_WITHIN = 0.0001;

/**
 * Checks a line as a whole against the language, with the modes in force before it: who uses each word, and what may
 * not stand together. Complains of all that is wrong.
 * @returns ten times the motion code that the line carries out, stated or still in force; `STILL` for none
 */
export function checkBlock(run: Run, b: Block): number {
  const { state } = run;
  const own = hasG(b, 0) ? b.g[0]! : STILL;
  const claimed = claimsAxes(own);
  const axes = b.letters & AXES;
  if ((axes & ~LINEAR) !== 0 || run.controller.axes.length < 3) checkAxes(run, b);
  let motion = STILL;
  if (hasG(b, 1)) {
    motion = b.g[1]!;
    if (motion === NO_MOTION) {
      if (axes !== 0 && !claimed) complain(run.log, "rs-e28-no-motion-mode");
    } else if (claimed) {
      complain(run.log, "rs-e29-two-claims", `${nameOfG(own)} and ${nameOfG(motion)}`);
    } else if (axes === 0) {
      complain(run.log, "rs-e27-no-axis-word", nameOfG(motion));
    }
  } else if (axes !== 0 && !claimed) {
    motion = state.motion;
    if (motion === NO_MOTION) complain(run.log, "rs-e28-no-motion-mode");
  }
  if ((b.letters & ~(AXES | (1 << F))) !== 0) checkUsers(run, b, own, motion);
  if (own !== STILL) checkOwnLine(run, b, own, motion, axes);
  if (hasG(b, 8) && b.g[8] === 430) {
    if (!has(b, H)) complain(run.log, "rs-e45-length-offset");
    if (!run.controller.toolTable) complain(run.log, "rs-no-tool-table", "G43");
  }
  if (state.compensation || hasG(b, 7)) checkCompensation(run, b, own, motion);
  if (run.options.lathe !== undefined) checkOnLathe(run, b, motion);
  if (motion !== STILL && motion !== NO_MOTION) checkMotion(run, b, motion);
  return motion === NO_MOTION ? STILL : motion;
}

function checkAxes(run: Run, b: Block): void {
  for (const [letter, name] of [
    [X, "X"],
    [Y, "Y"],
    [Z, "Z"],
    [A, "A"],
    [B, "B"],
    [C, "C"],
  ] as const) {
    if (has(b, letter) && !run.controller.axes.some((axis) => axis === name)) {
      complain(run.log, "rs-e32-no-such-axis", `the machine's axes are ${run.controller.axes.join(", ")}, not ${name}`);
    }
  }
}

/** E20 to E26: every word needs a code on the line, or in force, that uses it. Also slots (E46). */
function checkUsers(run: Run, b: Block, own: number, motion: number): void {
  const { log, options } = run;
  const isArc = motion === 20 || motion === 30;
  if (has(b, D) && !(hasG(b, 7) && b.g[7] !== 400)) complain(log, "rs-e20-stray-d");
  if (has(b, H) && !(hasG(b, 8) && b.g[8] === 430)) complain(log, "rs-e21-stray-h");
  if ((b.letters & CENTRE) !== 0 && !isArc && motion !== 870) complain(log, "rs-e22-stray-centre");
  if (has(b, L) && !isCycle(motion) && own !== 100) complain(log, "rs-e23-stray-l");
  if (has(b, P) && own !== 40 && own !== 100 && !cycleWaits(motion)) complain(log, "rs-e24-stray-p");
  if (has(b, Q) && motion !== 830) complain(log, "rs-e25-stray-q");
  if (has(b, R) && !isArc && !isCycle(motion)) complain(log, "rs-e26-stray-r");
  const highest = options.highestSlot;
  if (highest !== undefined) {
    for (const [letter, name] of [
      [T, "T"],
      [H, "H"],
      [D, "D"],
    ] as const) {
      if (!has(b, letter) || b.values[letter]! <= highest) continue;
      complain(log, "rs-e46-slot", undefined, {
        measured: { value: b.values[letter]!, bound: 0, unit: `in ${name}` },
        limit: { value: highest, unit: "slots", from: "the machine's tool table" },
      });
    }
  }
}

/** Cycles that take P: they wait at the bottom. */
export function cycleWaits(motion: number): boolean {
  return motion === 820 || motion === 860 || motion === 880 || motion === 890;
}

/** Codes of group 0, which act on their own line only. */
function checkOwnLine(run: Run, b: Block, own: number, motion: number, axes: number): void {
  const { log, state } = run;
  switch (own) {
    case 40:
      if (!has(b, P)) complain(log, "rs-e41-dwell");
      break;
    case 100: {
      const system = has(b, P) ? b.values[P]! : 0;
      const whole = Math.round(system);
      if (Math.abs(system - whole) > WHOLE_WITHIN) complain(log, "rs-e12-not-whole", `P${system}`);
      else if (!has(b, L) || b.values[L] !== 2 || whole < 1 || whole > 9) complain(log, "rs-e42-origin");
      break;
    }
    case 530: {
      const incremental = hasG(b, 3) ? b.g[3] === 910 : state.incremental;
      const compensated = hasG(b, 7) ? b.g[7] !== 400 : state.compensation;
      if ((motion !== 0 && motion !== 10) || axes === 0) complain(log, "rs-e43-machine-coordinates");
      else if (incremental) complain(log, "rs-e43-machine-coordinates", "G91 is in force");
      else if (compensated) complain(log, "rs-e43-machine-coordinates", "cutter compensation is on");
      if (!run.controller.homes) complain(log, "rs-not-homed", "G53");
      break;
    }
    case 280:
    case 300:
      if (!run.controller.homes) complain(log, "rs-not-homed", nameOfG(own));
      break;
    case 920:
      if (axes === 0) complain(log, "rs-e44-offset-no-axis");
      break;
  }
  if (own !== 40 && own !== 530) complain(log, "rs-unsafe-word", nameOfG(own));
}

/** E47: what may not be done while cutter compensation is on (NISTIR 6556 §3.5.10, appendix B). */
function checkCompensation(run: Run, b: Block, own: number, motion: number): void {
  const { log, state } = run;
  const plane = hasG(b, 2) ? b.g[2]! : state.plane;
  const switchesOn = hasG(b, 7) && b.g[7] !== 400;
  const on = switchesOn || (state.compensation && !hasG(b, 7));
  if (switchesOn && state.compensation) complain(log, "rs-e47-compensation", "it is on already");
  if (on && plane !== 170 && (switchesOn || hasG(b, 2)))
    complain(log, "rs-e47-compensation", `the plane is ${nameOfG(plane)}`);
  if (state.compensation) {
    if (hasG(b, 6)) complain(log, "rs-e47-compensation", "the unit changes while it is on");
    if (hasG(b, 12)) complain(log, "rs-e47-compensation", "the zero changes while it is on");
  }
  if (on) {
    if (own === 280 || own === 300 || own >= 920)
      complain(log, "rs-e47-compensation", `${nameOfG(own)} while it is on`);
    if (motion === 382) complain(log, "rs-e47-compensation", "probing while it is on");
    if (isCycle(motion)) complain(log, "rs-e55-cycle-mode", "cutter compensation is on");
  }
  if (switchesOn) complain(log, "rs-compensation-used");
}

/** Feed and arc words of a motion (E30, E31, E33 to E36), and axes that a cycle may not turn (E55). */
function checkMotion(run: Run, b: Block, motion: number): void {
  const { log, state } = run;
  if (motion === 0) return;
  const inverseTime = hasG(b, 5) ? b.g[5] === 930 : state.inverseTime;
  const feed = feedAfter(run, b);
  if (isCycle(motion)) {
    if (inverseTime) complain(log, "rs-e55-cycle-mode", "G93 is in force");
    else if (!(feed > 0)) complain(log, "rs-e55-cycle-mode", "no feed is set");
    if ((b.letters & ROTARY) !== 0) complain(log, "rs-e55-cycle-mode", "a rotary axis is named");
    return;
  }
  if (inverseTime) {
    if (motion === 382) complain(log, "rs-e31-no-inverse-time", "probing needs G94");
    else if (!has(b, F) || b.values[F] === 0) complain(log, "rs-e31-no-inverse-time");
  } else if (!(feed > 0)) {
    complain(log, "rs-e30-no-feed");
  }
  if (motion === 382) complain(log, "rs-probe-used");
  if (motion === 20 || motion === 30) checkArcWords(run, b);
}

/** F as it stands after the line's own feed mode and F word; a change of feed mode forgets the old F. */
function feedAfter(run: Run, b: Block): number {
  if (has(b, F)) return b.values[F]!;
  const changes = hasG(b, 5) && (b.g[5] === 930) !== run.state.inverseTime;
  return changes ? 0 : run.state.feed;
}

function checkArcWords(run: Run, b: Block): void {
  const { log, state } = run;
  const plane = hasG(b, 2) ? b.g[2]! : state.plane;
  const wrong = plane === 170 ? K : plane === 180 ? J : I;
  const normal = plane === 170 ? Z : plane === 180 ? Y : X;
  const centre = b.letters & CENTRE;
  if ((b.letters & LINEAR & ~(1 << normal)) === 0) complain(log, "rs-e33-arc-no-plane-word", nameOfG(plane));
  if (has(b, R)) {
    if (centre !== 0) complain(log, "rs-e35-arc-radius-and-centre");
  } else if (centre === 0) {
    complain(log, "rs-e34-arc-no-centre");
  } else if (has(b, wrong)) {
    complain(log, "rs-e36-arc-wrong-centre-word", `${"IJK"[wrong - I]} in ${nameOfG(plane)}`);
  }
  if (!run.controller.arcs) complain(log, "rs-no-arcs");
}
