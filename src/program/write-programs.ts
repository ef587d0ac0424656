import type { Finding, Outcome } from "../finding.ts";
import { refuses, tidy } from "../finding.ts";
import type { Move, Toolpath } from "../paths/move.ts";
import type { Cutter } from "../shop/cutter.ts";
import { comment, operatorWords } from "./comment.ts";
import { fileName } from "./file-name.ts";
import { cutterWords, headerLines } from "./header.ts";
import { type Pen, penFor } from "./pen.ts";
import { postFits } from "./post-fits.ts";
import type { ProgramText, WriteInput } from "./program-text.ts";
import { sealLine, sealOf } from "./seal.ts";

/** Feed of the slow approach to a witness mark, mm/min, within the machine's own. */
const WITNESS_FEED = 300;

/**
 * Writes the programs of one set-up: one file where the machine changes bits by itself, else one for each run of a bit.
 *
 * Every program starts from unknown X, Y and Z. Every operation begins behind a line number of its own, with all modes
 * restated, Z lifted alone, the length offset where there is a tool table, X and Y, safe height, spindle and spin-up wait;
 * so a run can be taken up again there. Same input, same bytes.
 * @returns findings when the post does not fit the machine, or when there is nothing to write
 * @throws RangeError when a toolpath breaks the rules of `Toolpath`: a bug of ours
 */
export function writePrograms(input: WriteInput): Outcome<readonly ProgramText[]> {
  return write(input, false);
}

/**
 * The same programs as a rehearsal: the same motions, all lifted by the same amount so that the lowest passes above wood
 * and clamps by the shop's clearance; no spindle words, no witness stops, no dwells for the spindle. Feeds stay.
 */
export function dryRunOf(input: WriteInput): Outcome<readonly ProgramText[]> {
  return write(lifted(input), true);
}

/** How far a dry run is lifted, mm: from the lowest tip height to the clearance above the highest wood or clamp. */
export function dryRunLift(input: WriteInput): number {
  const { setUp, toolpaths } = input;
  let lowest = setUp.safeZ;
  for (const path of toolpaths) for (const m of path.moves) lowest = Math.min(lowest, heightOf(m) ?? lowest);
  let highest = setUp.blank.max.z;
  for (const k of setUp.keepOuts) highest = Math.max(highest, k.box.max.z);
  // Whole millimetres, so that heights in the dry run are easily compared with the real ones.
  return Math.ceil(highest + setUp.habits.clearance - lowest);
}

function heightOf(m: Move): number | undefined {
  switch (m.kind) {
    case "rapid z":
      return m.z;
    case "line":
    case "arc":
      return m.to.z;
    case "rapid xy":
    case "dwell":
      return undefined;
  }
}

function lifted(input: WriteInput): WriteInput {
  const lift = dryRunLift(input);
  const toolpaths = input.toolpaths.map((path) => ({
    operation: path.operation,
    moves: path.moves.map((m) => liftedMove(m, lift)),
  }));
  return { ...input, toolpaths, setUp: { ...input.setUp, safeZ: input.setUp.safeZ + lift } };
}

function liftedMove(m: Move, lift: number): Move {
  switch (m.kind) {
    case "rapid z":
      return { ...m, z: m.z + lift };
    case "line":
    case "arc":
      return { ...m, to: { ...m.to, z: m.to.z + lift } };
    case "rapid xy":
    case "dwell":
      return m;
  }
}

/** Operations that follow each other with the same cutter. */
interface Run {
  readonly cutter: Cutter;
  readonly paths: readonly Toolpath[];
}

function write(input: WriteInput, dryRun: boolean): Outcome<readonly ProgramText[]> {
  const { post, setUp, toolpaths } = input;
  const runs = runsOf(toolpaths);
  const findings: Finding[] = [
    ...postFits(
      post,
      setUp.machine,
      runs.map((r) => r.cutter),
    ),
  ];
  if (toolpaths.length === 0) {
    findings.push({
      grade: "refuse",
      code: "nothing-to-write",
      place: { part: setUp.workpiece.name },
      what: `set-up "${setUp.name}" has nothing to cut`,
    });
  }
  if (refuses(findings)) return { ok: false, findings };
  const files = post.toolChange.length > 0 ? [runs] : runs.map((r) => [r]);
  const sequence = input.sequence ?? 1;
  const value = files.map((file, k) => {
    const place = { nth: k + 1, of: files.length };
    const bit = files.length > 1 ? [`bit ${file[0]!.cutter.name}`] : [];
    const words = [setUp.name, ...bit, ...(dryRun ? ["dry run"] : [])];
    return writeFile(input, file, dryRun, place, fileName(sequence + k, words, post.fileEnding));
  });
  return { ok: true, value, findings };
}

function runsOf(toolpaths: readonly Toolpath[]): readonly Run[] {
  const runs: { cutter: Cutter; paths: Toolpath[] }[] = [];
  for (const path of toolpaths) {
    const last = runs[runs.length - 1];
    const cutter = path.operation.cutter;
    if (last && last.cutter.slot === cutter.slot && last.cutter.name === cutter.name) last.paths.push(path);
    else runs.push({ cutter, paths: [path] });
  }
  return runs;
}

function writeFile(
  input: WriteInput,
  runs: readonly Run[],
  dryRun: boolean,
  place: { readonly nth: number; readonly of: number },
  name: string,
): ProgramText {
  const { post, setUp } = input;
  const operations = runs
    .flatMap((run) => run.paths)
    .map((path, k) => ({
      id: path.operation.id,
      title: path.operation.title,
      label: post.labels.first + k * post.labels.step,
      cutter: path.operation.cutter.name,
    }));
  if (operations[operations.length - 1]!.label > 99_999) throw new RangeError("more operations than line numbers");
  const cutters = runs.map((r) => r.cutter).filter((c, k, all) => all.findIndex((d) => d.name === c.name) === k);

  const lines: string[] = [];
  if (post.percentLines) lines.push("%");
  lines.push(...headerLines(input, cutters, operations, dryRun, place));
  const sealAt = lines.length;
  lines.push("");
  writeBody(input, runs, operations, dryRun, lines);
  if (post.percentLines) lines.push("%");
  lines.push("");
  lines[sealAt] = sealLine(lines, sealAt, input.version, input.sealed && sealOf(input.sealed));
  return {
    name,
    text: lines.join("\n"),
    setUp: setUp.name,
    post: post.name,
    unit: post.unit,
    dryRun,
    operations,
    cutters,
  };
}

function writeBody(
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
      if (p > 0) pen.say(comment(`Goes on with the bit in the spindle: ${cutterWords(run.cutter)}`));
      pen.forget();
      pen.say(`N${label} ${post.opening.join(" ")}`);
      if (k === 0) firstLift(pen, input, run.cutter);
      else lift(pen, input);
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
  lift(pen, input);
  for (const word of post.ending) pen.say(word);
}

/** Z alone, up, before anything is known of the position. */
function firstLift(pen: Pen, input: WriteInput, cutter: Cutter): void {
  const { post, setUp } = input;
  pen.say("M5");
  if (post.lift.kind === "ask") {
    const words = `Zero set with ${cutter.name}? Bit clear of wood and clamps? Then start: Z goes to ${tidy(setUp.safeZ)} mm`;
    pen.say(operatorWords(post.messages, words));
    pen.say("M0");
    pen.say(post.opening.join(" "));
  }
  lift(pen, input);
}

/** Z alone, as high as the machine goes where it homes, else to safe height. */
function lift(pen: Pen, input: WriteInput): void {
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

/** Brings the run's cutter into the spindle, with its length. */
function takeUp(pen: Pen, input: WriteInput, cutter: Cutter, wasTurning: boolean): void {
  const { post, setUp } = input;
  pen.say(comment(`Bit: ${cutterWords(cutter)}`));
  if (post.toolChange.length > 0) {
    if (wasTurning) {
      pen.say("M5");
      pen.dwell(setUp.machine.spinDownSeconds);
    }
    for (const line of post.toolChange) pen.say(line.replace("T", `T${cutter.slot}`));
    // Where the change left the spindle, and which modes it left behind, is the machine's business.
    pen.say(post.opening.join(" "));
    lift(pen, input);
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
    pen.rapidXY(mark.at.x, mark.at.y);
    pen.rapidZ(setUp.safeZ);
    pen.feedZ(mark.at.z + block, Math.min(WITNESS_FEED, setUp.machine.topFeed.z));
    const words = `Over ${mark.name}: does the ${tidy(block)} mm block just fit under the bit? If not: stop, find out why`;
    pen.say(operatorWords(post.messages, words));
    pen.say("M0");
    pen.forget();
    pen.say(post.opening.join(" "));
    lift(pen, input);
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
  pen.say(operatorWords(post.messages, `For ${cutter.name}: ${dial}; then hands off and start`));
  pen.say("M0");
  pen.say(post.opening.join(" "));
  lift(pen, input);
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
