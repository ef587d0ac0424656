import { tidy } from "../finding.ts";
import type { BeamMove, BeamPath } from "../paths/beam/beam-move.ts";
import type { Point } from "../shapes/point.ts";
import { type BeamPen, beamPenFor } from "./beam-pen.ts";
import type { BeamProgramText, BeamWriteInput } from "./beam-text.ts";
import { beamTurnPen } from "./beam-turn-pen.ts";
import { comment, comments, operatorWords } from "./comment.ts";
import { lengthWords } from "./header.ts";

/** Feed at which the head comes down to the focus block, mm/min, within the machine's own. */
const FOCUS_FEED = 300;
/** Feed of an outline walk, mm/min, within the machine's own: slow enough for the eye. */
const WALK_FEED = 1500;

/**
 * The lines of a beam program between header and end. The beam is off first of all; then a stop: bit out, head on, laser
 * mode; the head halts with its focus block; each operation restates all modes at safe height behind a line number; at the
 * end a stop: beam disconnected, before any bit turns again.
 * @throws RangeError when a path breaks the rules of `BeamPath`: a bug of ours
 */
export function writeBeamBody(input: BeamWriteInput, operations: BeamProgramText["operations"], lines: string[]): void {
  const pen = openPen(input, lines);
  for (const [k, path] of input.paths.entries()) {
    beginOperation(pen, input, operations, k);
    if (k === 0) focusStop(pen, input, path);
    burn(pen, input, path);
  }
  close(pen, input, "Disconnect the beam and leave laser mode before any bit is put in or turns");
}

/** One mark's ways round in an outline walk: with all its run-ups, then the drawn mark alone. mm */
export interface WalkRound {
  readonly wide: readonly Point[];
  readonly drawn: readonly Point[];
}

/** The lines of an outline walk: round after round at safe height, the pilot on in feed moves round the drawn marks only. */
export function writeWalkBody(
  input: BeamWriteInput,
  operations: BeamProgramText["operations"],
  rounds: readonly WalkRound[],
  lines: string[],
): void {
  const { setUp } = input;
  const { topFeed } = setUp.machine;
  const feed = Math.min(WALK_FEED, topFeed.x, topFeed.y);
  const pen = openPen(input, lines);
  for (const [k, round] of rounds.entries()) {
    beginOperation(pen, input, operations, k);
    for (const [points, power] of [
      [round.wide, 0],
      [round.drawn, setUp.laser.pilot ?? 0],
    ] as const) {
      const first = points[0];
      if (first === undefined) continue;
      pen.rapidXY(first.x, first.y);
      pen.rapidZ(setUp.safeZ);
      if (power > 0) pen.arm();
      for (const p of [...points.slice(1), first]) {
        pen.move({ kind: "line", to: { ...p, z: setUp.safeZ }, feed, power });
      }
      pen.off();
    }
  }
  close(pen, input, "End of the walk. Before a bit is put in: disconnect the beam, leave laser mode");
}

function openPen(input: BeamWriteInput, lines: string[]): BeamPen {
  const { post, setUp } = input;
  const { laser, safeZ, turning } = setUp;
  const pen =
    turning === undefined ? beamPenFor(post, laser, safeZ, lines) : beamTurnPen(post, laser, safeZ, turning, lines);
  // Whatever ran before, the beam is off before anything else is said.
  pen.off();
  return pen;
}

/** All that brings the head to safe height from wherever it was, behind the operation's line number. */
function beginOperation(
  pen: BeamPen,
  input: BeamWriteInput,
  operations: BeamProgramText["operations"],
  k: number,
): void {
  const { post } = input;
  const o = operations[k]!;
  pen.say(comment(`Operation ${k + 1} of ${operations.length}: ${o.title}`));
  pen.forget();
  pen.say(`N${o.label} ${post.opening.join(" ")}`);
  pen.off();
  if (k === 0) bitOutStop(pen, input);
  liftUp(pen, input);
  if (post.lengthOffset === "G43") pen.say(`G43 H${input.setUp.laser.slot ?? 0}`);
}

/** The shared carriage changes from bit to beam: Z goes up first where the machine knows how high it is. */
function bitOutStop(pen: BeamPen, input: BeamWriteInput): void {
  const { post, setUp } = input;
  const { laser } = setUp;
  const nm = tidy(laser.wavelength);
  if (post.lift.kind === "machine height") liftUp(pen, input);
  for (const c of comments(
    `Bit out and spindle locked out; chips vacuumed, smoke extraction on; head fitted and connected; controller in laser mode, S${tidy(laser.fullScale)} full power; eyewear for ${nm} nm on everyone in the room.`,
  )) {
    pen.say(c);
  }
  const clear =
    post.lift.kind === "ask" ? `Head clear of all. Start: Z to ${lengthWords(setUp.safeZ, post)}` : "Then start";
  pen.say(operatorWords(post.messages, `Bit out, laser mode, head connected, eyewear ${nm} nm on all. ${clear}`));
  pen.say("M0");
  pen.forget();
  pen.say(post.opening.join(" "));
  pen.off();
}

/** Z alone, as high as the machine goes where it homes, else to safe height. */
function liftUp(pen: BeamPen, input: BeamWriteInput): void {
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

/** The head halts, beam off, where the first line will burn: the focus block just fits, or Z zero or the head's height is wrong. */
function focusStop(pen: BeamPen, input: BeamWriteInput, path: BeamPath): void {
  const { post, setUp } = input;
  const { focusGap } = setUp.laser;
  const at = firstBurned(path.moves);
  if (at === undefined) return;
  pen.say(comment("Focus stop, beam off"));
  pen.rapidXY(at.x, at.y);
  pen.rapidZ(setUp.safeZ);
  const feed = Math.min(FOCUS_FEED, setUp.machine.topFeed.z);
  pen.move({ kind: "line", to: at, feed, power: 0 });
  const inches = post.unit === "mm" ? "" : ` [${lengthWords(focusGap, post)}]`;
  const words = `The ${tidy(focusGap)} mm focus block${inches} must just fit under the head, on the wood. If not, stop here`;
  pen.say(operatorWords(post.messages, words));
  pen.say("M0");
  pen.forget();
  pen.say(post.opening.join(" "));
  pen.off();
  liftUp(pen, input);
  if (post.lengthOffset === "G43") pen.say(`G43 H${setUp.laser.slot ?? 0}`);
}

/** Where the first burning move begins. */
function firstBurned(
  moves: readonly BeamMove[],
): { readonly x: number; readonly y: number; readonly z: number } | undefined {
  let at: { readonly x: number; readonly y: number; readonly z: number } | undefined;
  for (const m of moves) {
    if (m.kind !== "line" && m.kind !== "arc") continue;
    if (m.power > 0) return at;
    at = m.to;
  }
  return undefined;
}

/** One operation from safe height over its first point to safe height over its last. */
function burn(pen: BeamPen, input: BeamWriteInput, path: BeamPath): void {
  const { setUp } = input;
  const [first, ...rest] = path.moves;
  const last = path.moves[path.moves.length - 1];
  if (first?.kind !== "rapid xy")
    throw new RangeError(`${path.operation.id}: a beam's path begins with a sideways rapid`);
  if (last?.kind !== "rapid z" || last.z < setUp.safeZ - 1e-9) {
    throw new RangeError(`${path.operation.id}: a beam's path ends with a lift to safe height`);
  }
  pen.rapidXY(first.to.x, first.to.y);
  pen.rapidZ(setUp.safeZ);
  pen.arm();
  for (const move of rest.slice(0, -1)) pen.move(move);
  pen.off();
  pen.move(last);
}

/** Off, up, and the stop before the carriage changes back. */
function close(pen: BeamPen, input: BeamWriteInput, words: string): void {
  const { post } = input;
  pen.off();
  liftUp(pen, input);
  pen.say(operatorWords(post.messages, words));
  pen.say("M0");
  for (const word of post.ending) pen.say(word);
}
