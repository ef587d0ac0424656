import type { Finding, Limit, Measured } from "../finding.ts";
import type { Manner } from "./options.ts";
import type { ReaderCode, Rule } from "./rule.ts";
import { RULES } from "./rules.ts";

/**
 * Collects what one reading finds. Each code counts once a line; of each code the first is kept, and up to 20
 * while there are fewer than 200 in all, so a hostile file costs no memory; the rest are counted.
 */
export interface Log {
  readonly file: string;
  readonly text: string;
  readonly manner: Manner;
  readonly rules: Readonly<Record<ReaderCode, Rule>>;
  readonly findings: Finding[];
  readonly tallies: Map<ReaderCode, Tally>;
  /** Line being read, from 1, and where it begins in the text. */
  line: number;
  start: number;
  /** The line breaks a rule after which nothing can be trusted, so nothing on it is done. */
  broken: boolean;
}

interface Tally {
  count: number;
  lastLine: number;
}

const KEPT_OF_A_CODE = 20;
const KEPT = 200;
const SHOWN_OF_A_LINE = 200;

/** An empty log over a text. */
export function openLog(
  file: string,
  text: string,
  manner: Manner,
  rules: Readonly<Record<ReaderCode, Rule>> = RULES,
): Log {
  return { file, text, manner, rules, findings: [], tallies: new Map(), line: 0, start: 0, broken: false };
}

/**
 * Writes a finding about the line being read.
 * @param detail what this very line has to say, put before the rule's own reason
 */
export function complain(
  log: Log,
  code: ReaderCode,
  detail?: string,
  numbers?: { readonly measured: Measured; readonly limit?: Limit },
): void {
  const rule = log.rules[code];
  if (rule.breaks) log.broken = true;
  let tally = log.tallies.get(code);
  if (tally === undefined) {
    tally = { count: 0, lastLine: 0 };
    log.tallies.set(code, tally);
  }
  if (tally.lastLine === log.line) return;
  tally.lastLine = log.line;
  tally.count++;
  // The first of each code is always kept, so no crowd of cautions can hide a refusal.
  if (tally.count > 1 && (tally.count > KEPT_OF_A_CODE || log.findings.length >= KEPT)) return;
  log.findings.push({
    grade: rule[log.manner],
    code,
    place: { program: { file: log.file, line: log.line, text: lineText(log) } },
    what: rule.what,
    why: detail === undefined ? rule.why : `${detail}; ${rule.why}`,
    mend: rule.mend,
    ...numbers,
  });
}

/** All findings, and a closing note when some were only counted. */
export function closeLog(log: Log): readonly Finding[] {
  let counted = 0;
  const kept = new Map<string, number>();
  for (const f of log.findings) kept.set(f.code, (kept.get(f.code) ?? 0) + 1);
  const rests: string[] = [];
  for (const [code, tally] of log.tallies) {
    const rest = tally.count - (kept.get(code) ?? 0);
    if (rest === 0) continue;
    counted += rest;
    rests.push(`${rest} × ${code}`);
  }
  if (counted === 0) return log.findings;
  const rule = log.rules["rs-more-findings"];
  const note: Finding = {
    grade: rule[log.manner],
    code: "rs-more-findings",
    place: { program: { file: log.file, line: log.line } },
    what: rule.what,
    why: `not listed: ${rests.join(", ")}; ${rule.why}`,
    mend: rule.mend,
  };
  return [...log.findings, note];
}

function lineText(log: Log): string {
  let end = log.start;
  const limit = Math.min(log.text.length, log.start + SHOWN_OF_A_LINE);
  while (end < limit && log.text.charCodeAt(end) !== 10 && log.text.charCodeAt(end) !== 13) end++;
  return log.text.slice(log.start, end);
}
