import { arcTo } from "./arcs.ts";
import { checkBeamWords, hearComment } from "./beam.ts";
import { A, AXES, type Block, F, H, has, hasG, hasM, LINEAR, P, S, T, X, Y, Z } from "./block.ts";
import { STILL } from "./check.ts";
import { isCycle, nameOfG } from "./codes.ts";
import { cycle } from "./cycles.ts";
import { complain } from "./log.ts";
import { complainOnce, dwell, type Extras, feedTo, rapidTo } from "./moves.ts";
import type { Position, ReadPath, Spindle } from "./read-move.ts";
import { inWood, isStated, type Run, turns, UNKNOWN } from "./state.ts";

const STRAIGHT: ReadPath = { kind: "line" };

/**
 * Does what a checked line says, in the order of NISTIR 6556 §3.8, table 8, whatever the order of its words.
 * @param motion the motion code the line carries out, from `checkBlock`
 * @returns true when the program ends here
 */
export function execute(run: Run, b: Block, motion: number): boolean {
  const { state, log, events } = run;
  if (b.n >= 0) events.push({ kind: "line number", line: log.line, n: b.n });
  if (b.comment) comment(run, b);
  if (hasG(b, 5)) setFeedMode(run, b.g[5] === 930);
  const perMinute = state.inverseTime && has(b, F) ? b.values[F]! : undefined;
  if (has(b, F) && !state.inverseTime) setFeed(run, b);
  if ((b.letters & TOOL_LETTERS) !== 0 || b.mGroups !== 0) {
    if (run.options.beam !== undefined) checkBeamWords(run, run.options.beam, b, motion);
    tools(run, b);
  }
  if (b.gGroups !== 0) {
    if (hasG(b, 0) && b.g[0] === 40) dwell(run, b.values[P]!);
    if ((b.gGroups & ~MOTION_GROUP) !== 0) modes(run, b);
    if (hasG(b, 0)) ownLine(run, b, b.g[0]!);
    if (hasG(b, 1)) state.motion = b.g[1]!;
  }
  if (motion !== STILL) move(run, b, motion, perMinute);
  else if (hasG(b, 1)) state.cycle.code = 0;
  return hasM(b, 4) ? stop(run, b.m[4]!) : false;
}

const TOOL_LETTERS = (1 << S) | (1 << T);
const MOTION_GROUP = 1 << 1;

function comment(run: Run, b: Block): void {
  const text = run.log.text.slice(b.commentFrom, b.commentTo);
  const message = /^[ \t]*m[ \t]*s[ \t]*g[ \t]*,/i.exec(text);
  run.events.push({
    kind: "comment",
    line: run.log.line,
    text: message === null ? text : text.slice(message[0].length),
    message: message !== null,
  });
  if (run.options.beam !== undefined) hearComment(run, text);
}

/** A change of feed mode forgets the old F, which meant something else. */
function setFeedMode(run: Run, inverse: boolean): void {
  const { state } = run;
  if (inverse !== state.inverseTime) state.feed = 0;
  state.inverseTime = inverse;
  state.stated |= 1 << 5;
}

function setFeed(run: Run, b: Block): void {
  if (!isStated(run.state, 6) && !hasG(b, 6)) unitMissing(run, "F");
  run.state.feed = b.values[F]!;
}

function unitMissing(run: Run, what: string): void {
  run.state.stated |= 1 << 6;
  complain(run.log, "rs-l01-unit-not-stated", `${what} comes first`);
}

/** Steps 4 to 9 of table 8: S, T, tool change, spindle, coolant, overrides. */
function tools(run: Run, b: Block): void {
  const { state, log, events } = run;
  const rpm = has(b, S) ? b.values[S]! : state.spindle.rpm;
  if (has(b, T)) state.selected = b.values[T]!;
  const before = state.spindle;
  let turning: Spindle["turning"] = before.turning;
  if (hasM(b, 6)) {
    changeTool(run);
    turning = "off";
  }
  if (hasM(b, 7)) turning = b.m[7] === 3 ? "clockwise" : b.m[7] === 4 ? "counter-clockwise" : "off";
  if (turning !== before.turning || rpm !== before.rpm) state.spindle = { turning, rpm };
  if (state.spindle !== before || hasM(b, 7)) {
    events.push({ kind: "spindle", line: log.line, spindle: state.spindle });
  }
  if (hasM(b, 8)) state.coolant = b.m[8] !== 9;
}

function changeTool(run: Run): void {
  const { state, log, events } = run;
  if (!run.controller.toolChanger) complain(log, "rs-no-tool-changer");
  if (state.selected === undefined) complain(log, "rs-change-without-tool");
  if (run.options.beam === undefined && turns(run)) bitStands(run, "a tool change");
  state.tool = state.selected;
  events.push({ kind: "tool change", line: log.line, slot: state.selected ?? 0 });
  state.lengthStated = false;
  if (run.ours) {
    state.stated &= ~(1 << 13);
    loseTrack(run);
  }
}

/** After a stop or change a person or a changer may have moved the machine: programs of ours lift Z anew. */
function loseTrack(run: Run): void {
  run.state.at = run.nowhere;
  run.state.turned = undefined;
  run.state.lifted = false;
}

/** L9: in a program of ours never; elsewhere only told when the bit may be in wood or hands may come near. */
function bitStands(run: Run, where: string): void {
  const wood = inWood(run);
  const place = wood === true ? "in the wood" : wood === false ? "clear of the wood" : "perhaps in the wood";
  complain(run.log, "rs-l09-bit-standing", `${where}, ${place}`);
}

/** Steps 11 to 18 of table 8: plane, unit, compensation, length, system, path mode, distance mode, return level. */
function modes(run: Run, b: Block): void {
  const { state, log } = run;
  if (hasG(b, 2)) state.plane = b.g[2] as 170 | 180 | 190;
  if (hasG(b, 6)) setUnit(run, b.g[6] === 200 ? "inch" : "mm");
  if (hasG(b, 7)) state.compensation = b.g[7] !== 400;
  if (hasG(b, 8)) setLength(run, b.g[8] === 430 ? b.values[H]! : undefined);
  if (hasG(b, 12)) setSystem(run, b.g[12]!);
  if (hasG(b, 13)) {
    state.exactPath = b.g[13] !== 640;
    if (state.exactPath && !run.controller.exactPath) complain(log, "rs-no-exact-path", nameOfG(b.g[13]!));
  }
  if (hasG(b, 3)) state.incremental = b.g[3] === 910;
  if (hasG(b, 10)) state.backToR = b.g[10] === 990;
  state.stated |= b.gGroups;
}

function setUnit(run: Run, unit: "mm" | "inch"): void {
  const { state } = run;
  if (state.unit !== undefined && (state.scale === 1) !== (unit === "mm")) complain(run.log, "rs-l04-second-unit");
  state.unit = state.unit ?? unit;
  state.scale = unit === "mm" ? 1 : 25.4;
}

/** G43 and G49 move nothing, but heights mean something else afterwards. */
function setLength(run: Run, slot: number | undefined): void {
  const { state, events, log } = run;
  if (slot !== state.lengthSlot || !state.lengthStated) {
    // A turning tool's table holds how far its point stands in both directions.
    state.at = run.options.lathe === undefined ? { x: state.at.x, y: state.at.y, z: undefined } : run.nowhere;
  }
  state.lengthSlot = slot;
  state.lengthStated = true;
  events.push({ kind: "length offset", line: log.line, slot });
}

function setSystem(run: Run, system: number): void {
  const { state } = run;
  if (system !== state.system && isStated(state, 12)) {
    complain(run.log, "rs-system-changed", `${nameOfG(state.system)} to ${nameOfG(system)}`);
  }
  if (system !== state.system) state.at = run.nowhere;
  state.system = system;
}

/** Step 19 of table 8: codes of group 0 that move zero or go home. */
function ownLine(run: Run, b: Block, own: number): void {
  const { state, log } = run;
  switch (own) {
    case 100:
      if (b.values[P] === 1 + systemIndex(state.system)) state.at = run.nowhere;
      return;
    case 280:
    case 300:
      if ((b.letters & AXES) !== 0) {
        checkModes(run, b);
        rapidTo(run, target(run, b));
      }
      rapidTo(run, run.nowhere, { machineTarget: UNKNOWN });
      state.lifted = true;
      return;
    case 920:
      checkModes(run, b);
      state.shifted = true;
      state.at = {
        x: has(b, X) ? b.values[X]! * state.scale : state.at.x,
        y: has(b, Y) ? b.values[Y]! * state.scale : state.at.y,
        z: has(b, Z) ? b.values[Z]! * state.scale : state.at.z,
      };
      return;
    case 921:
    case 922:
      if (state.shifted) state.at = run.nowhere;
      if (own === 921) state.shifted = false;
      return;
    case 923:
      state.at = run.nowhere;
      complain(log, "rs-l11-left-over-offset", "G92.3 brings back whatever was stored");
  }
}

/** 0 for G54 to 8 for G59.3. */
function systemIndex(system: number): number {
  return system <= 590 ? (system - 540) / 10 : 5 + (system - 590);
}

/** L1, L10: what a line with axis words depends on must have been stated. */
function checkModes(run: Run, b: Block): void {
  const { state } = run;
  if (!isStated(state, 6)) unitMissing(run, "an axis word");
  if (!isStated(state, 3)) complainOnce(run, 3, "the distance mode, G90");
  if (run.ours) {
    if (!isStated(state, 7)) complainOnce(run, 7, "that cutter compensation is off, G40");
    if (!isStated(state, 12)) complainOnce(run, 12, "which zero is meant, G54");
    if (!isStated(state, 13) && run.controller.exactPath) complainOnce(run, 13, "exact path or not, G61 or G64");
  }
  if (run.controller.toolTable && has(b, Z) && !lengthIsRight(run)) {
    if (!(hasG(b, 0) && b.g[0] === 530)) {
      complain(run.log, run.options.beam === undefined ? "rs-l10-length-unstated" : "rs-beam-length");
    }
  }
}

/** A bit's own length is taken into account, or the laser head's. */
function lengthIsRight(run: Run): boolean {
  const { lengthStated, lengthSlot } = run.state;
  const slot = lengthSlot ?? 0;
  return lengthStated && (run.options.beam === undefined ? slot > 0 : slot === (run.options.beam.slot ?? 0));
}

/** Everything that must have been stated is: one test for the many lines where nothing is left to say. */
const ALWAYS = (1 << 3) | (1 << 6) | (1 << 7) | (1 << 12) | (1 << 13);

/** Step 20 of table 8. */
function move(run: Run, b: Block, motion: number, perMinute: number | undefined): void {
  const { state } = run;
  if ((state.stated & ALWAYS) !== ALWAYS || run.controller.toolTable) checkModes(run, b);
  if (isCycle(motion)) {
    if (run.options.beam !== undefined) complain(run.log, "rs-beam-cycle", nameOfG(motion));
    cycle(run, b, motion);
    return;
  }
  state.cycle.code = 0;
  const machine = hasG(b, 0) && b.g[0] === 530;
  const extras =
    machine || (perMinute !== undefined && motion !== 0) || (b.letters & ~LINEAR & AXES) !== 0
      ? extrasOf(run, b, machine, motion === 0 ? undefined : perMinute)
      : undefined;
  const to = machine ? withoutNamed(state.at, b) : target(run, b);
  switch (motion) {
    case 0:
      rapidTo(run, to, extras);
      break;
    case 10:
      feedTo(run, to, STRAIGHT, extras);
      break;
    case 20:
      arcTo(run, b, true, to, extras);
      break;
    case 30:
      arcTo(run, b, false, to, extras);
      break;
  }
  if (state.lost && state.at.x !== undefined && state.at.y !== undefined && state.at.z !== undefined)
    state.lost = false;
}

/** Where the line's axis words lead, mm. */
function target(run: Run, b: Block): Position {
  const { at, scale, incremental } = run.state;
  if (incremental) return incrementalTarget(run, b);
  return {
    x: has(b, X) ? b.values[X]! * scale : at.x,
    y: has(b, Y) ? b.values[Y]! * scale : at.y,
    z: has(b, Z) ? b.values[Z]! * scale : at.z,
  };
}

function incrementalTarget(run: Run, b: Block): Position {
  const { at, scale, lost } = run.state;
  const step = (letter: number, from: number | undefined): number | undefined => {
    if (!has(b, letter)) return from;
    if (from !== undefined) return from + b.values[letter]! * scale;
    if (!lost) complain(run.log, "rs-l08-position-unknown", "G91 is in force");
    return undefined;
  };
  return { x: step(X, at.x), y: step(Y, at.y), z: step(Z, at.z) };
}

function withoutNamed(at: Position, b: Block): Position {
  return {
    x: has(b, X) ? undefined : at.x,
    y: has(b, Y) ? undefined : at.y,
    z: has(b, Z) ? undefined : at.z,
  };
}

function extrasOf(run: Run, b: Block, machine: boolean, perMinute: number | undefined): Extras {
  const { state } = run;
  const scale = state.scale;
  const named = (letter: number): number | undefined => (has(b, letter) ? b.values[letter]! * scale : undefined);
  const from = state.turned;
  let to: number | undefined;
  if (has(b, A)) {
    to = state.incremental ? (from === undefined ? undefined : from + b.values[A]!) : b.values[A]!;
    if (to === undefined && !state.lost) complain(run.log, "rs-l08-position-unknown", "G91 is in force");
    state.turned = to;
  }
  return {
    ...(perMinute === undefined ? {} : { perMinute }),
    ...(machine ? { machineTarget: { x: named(X), y: named(Y), z: named(Z) } } : {}),
    ...(to === undefined ? {} : { turn: { from, to } }),
  };
}

/** Step 21 of table 8: stops and ends. */
function stop(run: Run, code: number): boolean {
  const { log, events, state } = run;
  if (code === 2 || code === 30) {
    finish(run);
    return true;
  }
  if (run.options.beam !== undefined) {
    if (state.spindle.turning !== "off") complain(log, "rs-beam-standing");
  } else if (turns(run)) bitStands(run, "a stop");
  events.push({ kind: "stop", line: log.line, optional: code === 1 });
  if (run.ours) loseTrack(run);
  return false;
}

/** The program ends: what is still on or shifted is told (L6, L11). */
export function finish(run: Run): void {
  const { state, log, events } = run;
  const { turning, rpm } = state.spindle;
  if (run.options.beam !== undefined && (turning !== "off" || rpm !== 0)) complain(log, "rs-beam-left-on");
  else if (turning !== "off") complain(log, "rs-l06-left-running", "the spindle");
  else if (state.coolant) complain(log, "rs-l06-left-running", "the coolant");
  if (state.shifted) complain(log, "rs-l11-left-over-offset", "G92 was used and not undone");
  events.push({ kind: "end", line: log.line });
}

/**
 * Takes the modes of a line that could not be understood, so that one mistake isn't told again on every line after it;
 * nothing is done, and where the machine stands is unknown unless the line says so plainly.
 */
export function adopt(run: Run, b: Block): void {
  const { state } = run;
  if (has(b, F)) state.feed = b.values[F]!;
  if (has(b, T)) state.selected = b.values[T]!;
  if (hasG(b, 1)) state.motion = b.g[1]!;
  if (hasG(b, 2)) state.plane = b.g[2] as 170 | 180 | 190;
  if (hasG(b, 3)) state.incremental = b.g[3] === 910;
  if (hasG(b, 5)) state.inverseTime = b.g[5] === 930;
  if (hasG(b, 6)) {
    state.scale = b.g[6] === 210 ? 1 : 25.4;
    state.unit = state.unit ?? (b.g[6] === 210 ? "mm" : "inch");
  }
  if (hasG(b, 7)) state.compensation = b.g[7] !== 400;
  if (hasG(b, 8)) {
    state.lengthStated = true;
    state.lengthSlot = b.g[8] === 430 ? (has(b, H) ? b.values[H]! : 0) : undefined;
  }
  if (hasG(b, 10)) state.backToR = b.g[10] === 990;
  if (hasG(b, 12)) state.system = b.g[12]!;
  if (hasG(b, 13)) state.exactPath = b.g[13] !== 640;
  if (has(b, S) || hasM(b, 7)) {
    const rpm = has(b, S) ? b.values[S]! : state.spindle.rpm;
    const code = b.m[7];
    const turning = !hasM(b, 7)
      ? state.spindle.turning
      : code === 3
        ? "clockwise"
        : code === 4
          ? "counter-clockwise"
          : "off";
    state.spindle = { turning, rpm };
  }
  if (hasM(b, 8)) state.coolant = b.m[8] !== 9;
  state.stated |= b.gGroups;
  const plain = !b.cut && !state.incremental && !hasG(b, 0);
  state.at = plain ? target(run, b) : run.nowhere;
  state.lost = true;
}
