import { type Block, has, hasM, S, T } from "./block.ts";
import { STILL } from "./check.ts";
import { complain } from "./log.ts";
import type { BeamReading } from "./options.ts";
import type { BeamState, Position } from "./read-move.ts";
import type { Run } from "./state.ts";

/**
 * The beam's rules. The language knows nothing of beams (NISTIR 6556): by its text S is a spindle's speed, M3 and M4 a sense of
 * turning, M5 a stop. That S is the power, M3 or M4 the start and M5 the end of a beam is common practice, from memory,
 * without a published source; what follows from it is our reasoning on table 8 (S and M words act before the motion of
 * their own line, and stay until changed).
 */

/** Most characters of comments that are kept to look for the declaration in. */
const KEPT = 8000;

/** The beam as commanded now; undefined when no beam is read. */
export function beamOf(run: Run): BeamState | undefined {
  const { beam } = run.options;
  if (beam === undefined) return undefined;
  const { turning, rpm } = run.state.spindle;
  return { on: turning !== "off" && rpm > 0, power: turning === "off" ? 0 : rpm / beam.fullScale };
}

/** Whether the beam burns as commanded now. */
export function burns(run: Run): boolean {
  return run.options.beam !== undefined && run.state.spindle.turning !== "off" && run.state.spindle.rpm > 0;
}

/** A line's own beam words, before they are obeyed. @param motion the motion code that the line carries out */
export function checkBeamWords(run: Run, beam: BeamReading, b: Block, motion: number): void {
  const { log, state } = run;
  if (has(b, T) || hasM(b, 6)) complain(log, "rs-beam-tool");
  const switches = hasM(b, 7);
  if (!has(b, S) && !switches) return;
  const code = switches ? b.m[7]! : undefined;
  const power = has(b, S) ? b.values[S]! : state.spindle.rpm;
  if (!state.beam.said && !(code === 5 && has(b, S) && power === 0)) complain(log, "rs-beam-first");
  state.beam.said = true;
  if (power > beam.fullScale) {
    complain(log, "rs-beam-scale", undefined, {
      measured: { value: power, bound: 0, unit: "in S" },
      limit: { value: beam.fullScale, unit: "in S", from: "full power, as the shop file says" },
    });
  }
  if (code === 3 || code === 4) {
    if (`M${code}` !== beam.start) complain(log, "rs-beam-start-code", `M${code} instead of ${beam.start}`);
    if (!has(b, S)) complain(log, "rs-beam-power-unsaid");
  }
  const on = (code === undefined ? state.spindle.turning !== "off" : code !== 5) && power > 0;
  if (on && motion === STILL && beam.mode === "constant") complain(log, "rs-beam-still");
}

/** Before a move with the beam on: the program has said what S means and what the controller does with it. */
export function checkBurningMove(run: Run, beam: BeamReading, to: Position, turning: boolean): void {
  const { state, log } = run;
  const { at } = state;
  const { beam: memory } = state;
  if (!memory.looked) {
    memory.looked = true;
    if (!declares(memory.comments, beam)) {
      complain(log, "rs-beam-undeclared", `no comment says S${beam.fullScale} and "${MODE_WORDS[beam.mode]}"`);
    }
  }
  if (state.inverseTime && !(turning && beam.turns === true)) complain(log, "rs-beam-feed-mode");
  if (!turning && at.x === to.x && at.y === to.y && at.z !== to.z) complain(log, "rs-beam-upright");
}

/**
 * What a turn of A asks of a move: that the set-up has a rotary axis, and at feed inverse time. Under G94 the feed of a
 * move that turns is no speed on the wood: it counts the way of X, Y and Z alone, or degrees where nothing else moves
 * (NISTIR 6556 §2.1.2.5).
 */
export function checkTurn(run: Run, beam: BeamReading, rapid: boolean): void {
  if (beam.turns !== true) complain(run.log, "rs-beam-turn");
  else if (!rapid && !run.state.inverseTime) complain(run.log, "rs-beam-turn-feed");
}

/** Keeps comments for `declares`. */
export function hearComment(run: Run, text: string): void {
  const { beam } = run.state;
  if (!beam.looked && beam.comments.length < KEPT) beam.comments += ` ${text}`;
}

const MODE_WORDS = { "follows speed": "follows speed", constant: "constant" } as const;

/** Whether comments name the S word of full power, and what the power does: "S1000", and "follows speed" or "constant". */
function declares(comments: string, beam: BeamReading): boolean {
  const words = comments.toLowerCase().replace(/[^a-z0-9.]+/g, " ");
  const scale = String(beam.fullScale).replace(".", "\\.");
  const mode = beam.mode === "constant" ? /\bconstant\b/ : /\bfollows (the )?speed\b/;
  return new RegExp(`\\bs ?${scale}(?![0-9])(?!\\.[0-9])`).test(words) && mode.test(words);
}
