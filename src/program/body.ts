import { tidy } from "../finding.ts";
import type { Toolpath } from "../paths/move.ts";
import type { Cutter } from "../shop/cutter.ts";
import { comment, comments, commentText, operatorWords } from "./comment.ts";
import { cutterWords, lengthWords } from "./header.ts";
import { type Pen, penFor } from "./pen.ts";
import type { ProgramText, WriteInput } from "./program-text.ts";

/** Feed of the slow approach to a witness mark, mm/min, within the machine's own. */
const WITNESS_FEED = 300;
/** Height above the gauge block at which the slow approach begins, mm. */
const ABOVE_BLOCK = 5;

/** Operations that follow each other with the same cutter. */
export interface Run {
  readonly cutter: Cutter;
  readonly paths: readonly Toolpath[];
}

/**
 * The lines of a program between header and end: for each operation, all that brings the bit to safe height over its first
 * point from wherever it was, then its moves; at the end, a lift and the post's closing codes.
 * @throws RangeError when a toolpath breaks the rules of `Toolpath`: a bug of ours
 */
export function writeBody(
  input: WriteInput,
  runs: readonly Run[],
  operations: ProgramText["operations"],
  dryRun: boolean,
  lines: string[],
): void {
  const { post, setUp } = input;
  const pen = penFor(post, setUp.safeZ, lines);
  let k = 0;
  let rpm: number | undefined;
  for (const [r, run] of runs.entries()) {
    for (const [p, path] of run.paths.entries()) {
      const { operation } = path;
      const label = operations[k]!.label;
      pen.say(comment(`Operation ${k + 1} of ${operations.length}: ${operation.title}`));
      if (p > 0) {
        const speed = dryRun ? "" : `${tidy(operation.speeds.rpm)} rpm, `;
        for (const c of comments(`Goes on with the bit in the spindle: ${speed}${cutterWords(run.cutter, post)}`))
          pen.say(c);
      }
      pen.forget();
      pen.say(`N${label} ${post.opening.join(" ")}`);
      if (k === 0) firstLift(pen, input, run.cutter);
      else liftUp(pen, input);
      if (p === 0) {
        takeUp(pen, input, run.cutter, k > 0 && !dryRun);
        if (!dryRun) witness(pen, input, r === 0 ? setUp.marks.length : 1);
      } else lengthOffset(pen, input, run.cutter);
      if (!dryRun && operation.speeds.rpm !== rpm)
        dialStop(pen, input, run.cutter, operation.speeds.rpm, rpm !== undefined);
      rpm = operation.speeds.rpm;
      cut(pen, input, path, dryRun);
      k += 1;
    }
  }
  liftUp(pen, input);
  for (const word of post.ending) pen.say(word);
}

/** Z alone, up, before anything is known of the position. */
function firstLift(pen: Pen, input: WriteInput, cutter: Cutter): void {
  const { post, setUp } = input;
  pen.say("M5");
  if (post.lift.kind === "ask") {
    const height = lengthWords(setUp.safeZ, post);
    const words = `Set zero with this bit. Lift it clear of wood and clamps. Start: Z goes to ${height}. ${short(cutter.name)}`;
    pen.say(operatorWords(post.messages, words));
    pen.say("M0");
    pen.say(post.opening.join(" "));
  }
  liftUp(pen, input);
}

/** Z alone, as high as the machine goes where it homes, else to safe height. */
function liftUp(pen: Pen, input: WriteInput): void {
  const { post, setUp } = input;
  pen.forget();
  switch (post.lift.kind) {
    case "machine height": {
      const unit = post.unit === "mm" ? 1 : 25.4;
      const height = (post.lift.z / unit).toFixed(post.decimals).replace(/(\.\d+?)0+$/, "$1");
      pen.say(`G53 G0 Z${height === "-0.0" ? "0.0" : height}`);
      return;
    }
    case "ask":
      pen.rapidZ(setUp.safeZ);
      return;
  }
}

/** A name short enough to leave room for the words that matter. */
function short(name: string): string {
  return commentText(name, 24);
}

/** Brings the run's cutter into the spindle, with its length. */
function takeUp(pen: Pen, input: WriteInput, cutter: Cutter, wasTurning: boolean): void {
  const { post, setUp } = input;
  for (const c of comments(`Bit: ${cutterWords(cutter, post)}`)) pen.say(c);
  if (post.toolChange.length > 0) {
    if (wasTurning) {
      pen.say("M5");
      pen.dwell(setUp.machine.spinDownSeconds);
    }
    for (const line of post.toolChange) pen.say(line.replace("T", `T${cutter.slot}`));
    // Where the change left the spindle, and which modes it left behind, is the machine's business.
    pen.say(post.opening.join(" "));
    liftUp(pen, input);
  }
  lengthOffset(pen, input, cutter);
}

function lengthOffset(pen: Pen, input: WriteInput, cutter: Cutter): void {
  if (input.post.lengthOffset === "G43") pen.say(`G43 H${cutter.slot}`);
}

/** Halts the still bit a gauge block above the first marks: the block just fits, or zero, unit or length is wrong. */
function witness(pen: Pen, input: WriteInput, count: number): void {
  const { post, setUp } = input;
  const block = setUp.habits.gaugeBlock;
  for (const mark of setUp.marks.slice(0, count)) {
    pen.say(comment(`Witness stop: ${mark.name}`));
    // From above only: lower than the block and up again would crush whatever the person already holds there.
    pen.rapidZ(Math.max(setUp.safeZ, mark.at.z + block + ABOVE_BLOCK));
    pen.rapidXY(mark.at.x, mark.at.y);
    pen.feedZ(mark.at.z + block, Math.min(WITNESS_FEED, setUp.machine.topFeed.z));
    const inches = post.unit === "mm" ? "" : ` [${lengthWords(block, post)}]`;
    const words = `Over mark ${short(mark.name.split(":")[0] ?? "")}: the ${tidy(block)} mm block${inches} must just fit under the bit. If not, stop here`;
    pen.say(operatorWords(post.messages, words));
    pen.say("M0");
    pen.forget();
    pen.say(post.opening.join(" "));
    liftUp(pen, input);
  }
}

/** Where the speed is a dial: stop and ask for it to be set, the spindle standing. */
function dialStop(pen: Pen, input: WriteInput, cutter: Cutter, rpm: number, wasTurning: boolean): void {
  const { post, setUp } = input;
  const { spindle } = setUp.machine;
  if (spindle.kind !== "dial") return;
  if (wasTurning) {
    pen.say("M5");
    pen.dwell(setUp.machine.spinDownSeconds);
  }
  const mark = spindle.positions.find((d) => d.rpm === rpm)?.mark;
  const dial = mark === undefined ? `set ${tidy(rpm)} rpm` : `set the dial to ${mark}, ${tidy(rpm)} rpm`;
  const words = `For ${short(cutter.name)} ${dial}, switch it on if it has a switch of its own, hands off, start`;
  pen.say(operatorWords(post.messages, words));
  pen.say("M0");
  pen.say(post.opening.join(" "));
  liftUp(pen, input);
  lengthOffset(pen, input, cutter);
}

/** One operation from safe height over its first point to safe height over its last. */
function cut(pen: Pen, input: WriteInput, path: Toolpath, dryRun: boolean): void {
  const { setUp, post } = input;
  const [first, ...rest] = path.moves;
  const last = path.moves[path.moves.length - 1];
  if (first?.kind !== "rapid xy") throw new RangeError(`${path.operation.id}: a toolpath begins with a sideways rapid`);
  if (last?.kind !== "rapid z" || last.z < setUp.safeZ - 1e-9) {
    throw new RangeError(`${path.operation.id}: a toolpath ends with a lift to safe height`);
  }
  pen.rapidXY(first.to.x, first.to.y);
  pen.rapidZ(setUp.safeZ);
  if (!dryRun) {
    pen.say(`S${Math.round(path.operation.speeds.rpm)} ${post.spindleStart}`);
    pen.dwell(setUp.machine.spinUpSeconds);
  }
  for (const move of rest) pen.move(move);
}
