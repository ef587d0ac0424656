import type { Controller } from "../shop/machine.ts";
import { type Block, newBlock } from "./block.ts";
import { checkBlock, STILL } from "./check.ts";
import { adopt, execute, finish } from "./interpret.ts";
import { halveDiameter } from "./lathe.ts";
import { endOfLine, readLine } from "./lex.ts";
import { closeLog, complain, openLog } from "./log.ts";
import { type Scan, skipBlanks } from "./numbers.ts";
import type { ReadOptions } from "./options.ts";
import type { ReadProgram } from "./read-move.ts";
import { BEAM_RULES, LATHE_RULES, RULES } from "./rules.ts";
import { type Run, startState, UNKNOWN, UNKNOWN_ON_LATHE } from "./state.ts";

/**
 * Reads a program text as a controller would, strictly by the language's rules (NISTIR 6556) and, unless options say
 * otherwise, by the habits of the house. Any text is read to its end without exception; what is wrong with it is in the
 * findings. Time and memory grow evenly with the text.
 * @param text the whole program
 * @param file its name, for the findings
 * @param controller what the machine's controller understands
 */
export function readProgram(
  text: string,
  file: string,
  controller: Controller,
  options: ReadOptions = {},
): ReadProgram {
  const ended = text.endsWith("\n") ? text : `${text}\n`;
  const manner = options.manner ?? "ours";
  const onLathe = options.lathe !== undefined;
  const log = openLog(file, ended, manner, onLathe ? LATHE_RULES : options.beam !== undefined ? BEAM_RULES : RULES);
  const nowhere = onLathe ? UNKNOWN_ON_LATHE : UNKNOWN;
  const state = startState(nowhere);
  const run: Run = {
    controller,
    options,
    ours: manner === "ours",
    log,
    state,
    nowhere,
    events: [],
    extent: {
      low: [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY],
      high: [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY],
    },
  };
  const scan: Scan = { text: ended, log, ours: run.ours, parameters: new Map(), pos: 0 };
  const readTo = readLines(scan, run);
  const lineCount = text === "" ? 0 : log.line + countLines(ended, readTo);
  return { file, events: run.events, findings: closeLog(log), unit: state.unit, lineCount };
}

/** Line by line up to the end of the program. Returns where the first line begins that is not read. */
function readLines(scan: Scan, run: Run): number {
  const { text } = scan;
  const { log, events } = run;
  const block = newBlock();
  let trustedEvents = -1;
  let opened = false;
  let any = false;
  let pos = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  if (pos === 1) {
    log.line = 1;
    complain(log, "rs-e05-illegal-byte", "a byte-order mark");
    log.line = 0;
    trustedEvents = 0;
  }
  while (pos < text.length) {
    log.line++;
    log.start = pos;
    log.broken = false;
    const before = events.length;
    const end = readLine(scan, block, pos);
    pos = nextLine(text, end);
    if (!block.started && !log.broken) continue;
    if (block.percent) {
      if (!any && !log.broken) opened = true;
      else if (opened && !log.broken) {
        finish(run);
        if (trustedEvents >= 0) events.length = trustedEvents;
        return pos;
      } else if (!log.broken) complain(log, "rs-e02-percent-unmatched");
      any = true;
      if (log.broken && trustedEvents < 0) trustedEvents = before;
      continue;
    }
    any = true;
    const ends = obey(scan, run, block);
    if (log.broken && trustedEvents < 0) trustedEvents = before;
    if (trustedEvents >= 0) events.length = trustedEvents;
    if (ends) {
      if (opened && !closes(text, pos)) {
        complain(log, "rs-e02-percent-unmatched", "the program is opened by one");
        events.length = Math.min(events.length, before);
      }
      return pos;
    }
  }
  log.line = Math.max(1, log.line);
  if (!any) complain(log, "rs-e04-empty");
  else if (opened) complain(log, "rs-e02-percent-unmatched", "the program is opened by one");
  else complain(log, "rs-e01-no-end");
  return text.length;
}

/** Checks one line and does what it says. True when the program ends with it. */
function obey(scan: Scan, run: Run, block: Block): boolean {
  const { log } = run;
  const ends = (block.mGroups & (1 << 4)) !== 0 && (block.m[4] === 2 || block.m[4] === 30);
  if (block.deleted) {
    complain(log, "rs-block-delete");
    if (run.options.blockDelete === true) {
      if (!log.broken) checkBlock(run, block);
      return false;
    }
  }
  halveDiameter(run.options.lathe, block);
  const motion = block.cut ? STILL : checkBlock(run, block);
  if (!log.broken) execute(run, block, motion);
  if (log.broken) adopt(run, block);
  for (let k = 0; k < block.settings.length; k += 2) {
    const index = block.settings[k]!;
    if (index >= 5161) complain(log, "rs-unsafe-word", `#${index} moves a zero`);
    scan.parameters.set(index, block.settings[k + 1]!);
  }
  return ends;
}

/** Index behind a line end: CR, LF or both. */
function nextLine(text: string, end: number): number {
  return text.charCodeAt(end) === 13 && text.charCodeAt(end + 1) === 10 ? end + 2 : end + 1;
}

/** Whether a percent line follows; nothing else is read behind the end. */
function closes(text: string, from: number): boolean {
  let pos = from;
  while (pos < text.length) {
    const at = skipBlanks(text, pos);
    const end = endOfLine(text, at);
    if (text.charCodeAt(at) === 37 && skipBlanks(text, at + 1) === end) return true;
    pos = nextLine(text, end);
  }
  return false;
}

/** Lines from `from` on, in a text that ends with a line end. */
function countLines(text: string, from: number): number {
  let count = 0;
  for (let pos = from; pos < text.length; pos = nextLine(text, endOfLine(text, pos))) count++;
  return count;
}
