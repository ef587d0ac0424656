import { tidy } from "../finding.ts";
import type { TurningPath } from "../paths/turning/move.ts";
import type { TurningMark } from "../plan/turning-setup.ts";
import type { TurningTool } from "../shop/lathe.ts";
import { comment, comments, commentText, operatorWords } from "./comment.ts";
import { lengthWords } from "./header.ts";
import { toolWords } from "./turning-header.ts";
import { type TurningPen, turningPenFor } from "./turning-pen.ts";
import type { TurningProgramText, TurningWriteInput } from "./turning-text.ts";

/** Feed of the slow approach to a witness mark, mm/min, within the lathe's own. */
const WITNESS_FEED = 300;
/** Distance out from the gauge block at which the slow approach begins, mm of radius. */
const OFF_BLOCK = 5;

/** Operations that follow each other with the same tool. */
export interface TurningRun {
  readonly tool: TurningTool;
  readonly paths: readonly TurningPath[];
}

/**
 * The lines of a turning program between header and end. Each operation begins behind a line number of its own with all
 * modes restated, X out alone, Z to its start, X in to the safe radius, spindle and spin-up wait; so a run can be taken up
 * again there. Before a tool's first cut the still tool halts at the witness marks. At the end X goes out, then the post's
 * closing codes.
 * @param fresh nothing has been turned yet when the file begins: marks over wood that will be turned still hold
 * @throws RangeError when a path breaks the rules of `TurningPath`: a bug of ours
 */
export function writeTurningBody(
  input: TurningWriteInput,
  runs: readonly TurningRun[],
  operations: TurningProgramText["operations"],
  dryRun: boolean,
  fresh: boolean,
  lines: string[],
): void {
  const { post, setUp } = input;
  const pen = turningPenFor(post, setUp.lathe, setUp.safeRadius, lines);
  let k = 0;
  let rpm: number | undefined;
  for (const [n, run] of runs.entries()) {
    if (n > 0) changeTool(pen, input, run.tool, dryRun);
    for (const [p, path] of run.paths.entries()) {
      const { operation } = path;
      pen.say(comment(`Operation ${k + 1} of ${operations.length}: ${operation.title}`));
      for (const c of comments(`Tool: ${toolWords(run.tool, post)}`)) pen.say(c);
      pen.forget();
      pen.say(`N${operations[k]!.label} ${post.opening.join(" ")}`);
      if (k === 0) firstRetract(pen, input, run.tool);
      else retract(pen, input);
      if (k === 0 && post.toolChange.length > 0) callTool(pen, input, run.tool);
      if (p === 0 && !dryRun) witness(pen, input, fresh && n === 0);
      if (!dryRun && operation.rpm !== rpm) dialStop(pen, input, operation.rpm, rpm !== undefined);
      rpm = operation.rpm;
      cut(pen, input, path, dryRun);
      k += 1;
    }
  }
  retract(pen, input);
  for (const word of post.ending) pen.say(word);
}

/** X alone, out, before anything is known of the position. */
function firstRetract(pen: TurningPen, input: TurningWriteInput, tool: TurningTool): void {
  const { post, setUp } = input;
  pen.say("M5");
  if (post.lift.kind === "ask") {
    const out = lengthWords(setUp.safeRadius, post);
    const words = `Set zero with ${short(tool.name)}. Take it clear of wood and centres. Start: X goes out to radius ${out}`;
    pen.say(operatorWords(post.messages, words));
    pen.say("M0");
    pen.say(post.opening.join(" "));
  }
  retract(pen, input);
}

/** X alone, as far out as the machine goes where it homes, else to the safe radius. */
function retract(pen: TurningPen, input: TurningWriteInput): void {
  const { post, setUp } = input;
  pen.forget();
  switch (post.lift.kind) {
    case "machine height": {
      const out = (post.lift.z / (post.unit === "mm" ? 1 : 25.4)).toFixed(post.decimals).replace(/(\.\d+?)0+$/, "$1");
      pen.say(`G53 G0 X${out === "-0.0" ? "0.0" : out}`);
      return;
    }
    case "ask":
      pen.rapidX(setUp.safeRadius);
      return;
  }
}

/** X out, then Z to the tailstock end, spindle off and still, a stop, then the next tool. */
function changeTool(pen: TurningPen, input: TurningWriteInput, tool: TurningTool, dryRun: boolean): void {
  const { setUp, post } = input;
  retract(pen, input);
  pen.rapidZ(0);
  if (!dryRun) {
    pen.say("M5");
    pen.dwell(setUp.lathe.spinDownSeconds);
  }
  // A person looks before the next tool comes: its zero must be its own.
  const words = `Next tool: ${short(tool.name)}, slot ${tool.slot}, zero as set for it. Then start`;
  pen.say(operatorWords(post.messages, words));
  pen.say("M0");
  pen.say(post.opening.join(" "));
  retract(pen, input);
  callTool(pen, input, tool);
}

/** The machine's own change, and X out again: where the change left it is the machine's business. */
function callTool(pen: TurningPen, input: TurningWriteInput, tool: TurningTool): void {
  const { post } = input;
  for (const line of post.toolChange) pen.say(line.replace("T", `T${tool.slot}`));
  pen.say(post.opening.join(" "));
  retract(pen, input);
}

/** Halts the still tool a gauge block off the wood at each mark that holds: it just fits, or a zero or unit is wrong. */
function witness(pen: TurningPen, input: TurningWriteInput, fresh: boolean): void {
  const { post, setUp } = input;
  for (const mark of setUp.marks ?? []) {
    if (!fresh && !mark.untouched) {
      pen.say(comment(`No witness stop ${mark.name}: the wood there is turned by now`));
      continue;
    }
    const { x: z, y: r } = mark.at;
    const out = Math.max(setUp.safeRadius, r + OFF_BLOCK);
    pen.say(comment(`Witness stop ${mark.name}`));
    pen.rapidX(out);
    pen.rapidZ(z);
    const feed = Math.min(WITNESS_FEED, setUp.lathe.topFeed.x);
    pen.move({ kind: "line", to: { x: z, y: r }, feed, why: "entry" });
    pen.say(operatorWords(post.messages, blockWords(input, mark)));
    pen.say("M0");
    pen.forget();
    pen.say(post.opening.join(" "));
    // Outwards first: a block may still be held there.
    if (post.lift.kind === "ask") pen.rapidX(out);
    retract(pen, input);
  }
}

function blockWords({ post, setUp }: TurningWriteInput, mark: TurningMark): string {
  const block = setUp.habits.gaugeBlock;
  const named = `${tidy(block)} mm block${post.unit === "mm" ? "" : ` [${lengthWords(block, post)}]`}`;
  switch (mark.against) {
    case "flat":
      return `Turn a flat to the tool: the ${named} must just fit between it and the tip. If not, stop here`;
    case "corner":
      return `Turn a corner to the tool: the ${named} must just fit between it and the tip. If not, stop here`;
    case "round":
      return `The ${named} must just fit between the wood and the tip. If not, stop here`;
    case "end":
      return `Hold the ${named} flat to the end of the wood: its face must line up with the tip. If not, stop here`;
  }
}

/** Where the speed is a dial or a belt: stop and ask for it to be set, the spindle standing. */
function dialStop(pen: TurningPen, input: TurningWriteInput, rpm: number, wasTurning: boolean): void {
  const { post, setUp } = input;
  const { spindle } = setUp.lathe;
  if (spindle.kind !== "dial") return;
  if (wasTurning) {
    pen.say("M5");
    pen.dwell(setUp.lathe.spinDownSeconds);
  }
  const mark = spindle.positions.find((d) => d.rpm === rpm)?.mark;
  const set = mark === undefined ? `Speed: set ${tidy(rpm)} rpm` : `Speed: set it to ${short(mark)}, ${tidy(rpm)} rpm`;
  pen.say(operatorWords(post.messages, `${set}. Stand clear of the line of the work. Start`));
  pen.say("M0");
  pen.say(post.opening.join(" "));
  retract(pen, input);
}

function short(name: string): string {
  return commentText(name, 24);
}

/** One operation from the safe radius over its first point to the safe radius over its last. */
function cut(pen: TurningPen, input: TurningWriteInput, path: TurningPath, dryRun: boolean): void {
  const { setUp } = input;
  const [first, ...rest] = path.moves;
  const last = path.moves[path.moves.length - 1];
  if (first?.kind !== "rapid z") throw new RangeError(`${path.operation.id}: a turning path begins along the axis`);
  if (last?.kind !== "rapid x" || last.r < setUp.safeRadius - 1e-9) {
    throw new RangeError(`${path.operation.id}: a turning path ends with X out at the safe radius`);
  }
  pen.rapidZ(first.z);
  pen.rapidX(setUp.safeRadius);
  if (!dryRun) {
    pen.say(`S${Math.round(path.operation.rpm)} ${setUp.lathe.spindleWord}`);
    pen.dwell(setUp.lathe.spinUpSeconds);
  }
  let out = true;
  for (const move of rest) {
    // The shape of the moves says X alone or Z alone; that Z goes at the safe radius only is checked here.
    if (move.kind === "rapid z" && !out) throw new RangeError(`${path.operation.id}: Z moves before X is out`);
    out = (move.kind === "rapid z" && out) || (move.kind === "rapid x" && move.r >= setUp.safeRadius - 1e-9);
    pen.move(move);
  }
}
