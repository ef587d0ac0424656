import type { FindingCode } from "./finding-codes.ts";
import type { Point3 } from "./shapes/point.ts";

/** `refuse`: nothing is written. `caution`: written, and printed on every page. `note`: said once. */
export type Grade = "refuse" | "caution" | "note";

/** A stretch of a text file. Lines and columns count from 1; `length` is in characters, at least 1. */
export interface Source {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly length: number;
  /** The line as it stands in the file, for showing with a marker beneath. */
  readonly text: string;
}

/** Where a finding points: any of the part, its feature, the job's line, the program's line, a place in the wood. */
export interface Place {
  readonly part?: string;
  readonly feature?: string;
  readonly source?: Source;
  /** A line of a program, from 1. */
  readonly program?: { readonly file: string; readonly line: number; readonly text?: string };
  /** In set-up coordinates unless `what` says otherwise, mm. */
  readonly at?: Point3;
}

/** A number that was found, with the bound it holds within. */
export interface Measured {
  readonly value: number;
  /** The true value lies within ± this. 0 for exact numbers. */
  readonly bound: number;
  readonly unit: string;
}

/** A number that was allowed. */
export interface Limit {
  readonly value: number;
  readonly unit: string;
  /** Where the limit comes from: "the bit's flute length", "a cutter maker's chart", "common practice, no source". */
  readonly from: string;
}

/**
 * One thing worth telling, from any stage. The sentences are for the person at the bench; the code is for programs and
 * for overriding a finding by name.
 */
export interface Finding {
  readonly grade: Grade;
  readonly code: FindingCode;
  readonly place: Place;
  /** What is wrong, in one short sentence without a full stop. */
  readonly what: string;
  /** Why it matters, or the numbers behind it. */
  readonly why?: string;
  /** What to do about it. */
  readonly mend?: string;
  readonly measured?: Measured;
  readonly limit?: Limit;
}

/** A result that carries what was found on the way. `value` is absent exactly when a finding refuses. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** True when any finding refuses. */
export function refuses(findings: readonly Finding[]): boolean {
  return findings.some((f) => f.grade === "refuse");
}

/**
 * Prints a finding as a person reads it: what, where (with the line and a marker beneath), why, how to mend it.
 * Control characters in quoted text are shown as spaces, so no input can drive the terminal.
 */
export function printFinding(f: Finding): string {
  const lines = [`${f.grade} ${f.code}: ${clean(f.what)}`];
  const s = f.place.source;
  if (s) {
    const start = s.column > 100 ? s.column - 61 : 0;
    const shown = clean(s.text).slice(start, start + 120);
    lines.push(`  ${s.file}:${s.line}:${s.column}   ${shown}`);
    const lead = `  ${s.file}:${s.line}:${s.column}   `.length + Math.max(0, s.column - 1 - start);
    if (lead < 200)
      lines.push(`${" ".repeat(lead)}${"^".repeat(Math.max(1, Math.min(s.length, 120 - (s.column - 1 - start))))}`);
  }
  if (f.place.program) {
    const p = f.place.program;
    lines.push(`  ${p.file}:${p.line}${p.text === undefined ? "" : `   ${clean(p.text)}`}`);
  }
  const where = [
    f.place.part === undefined ? "" : `part "${clean(f.place.part)}"`,
    f.place.feature === undefined ? "" : `"${clean(f.place.feature)}"`,
    f.place.at ? `at X ${tidy(f.place.at.x)} Y ${tidy(f.place.at.y)} Z ${tidy(f.place.at.z)}` : "",
  ].filter((w) => w !== "");
  const why = [where.join(", "), f.why === undefined ? "" : clean(f.why), numbers(f)].filter((w) => w !== "");
  if (why.length > 0) lines.push(`  why:  ${why.join("; ")}`);
  if (f.mend !== undefined) lines.push(`  mend: ${clean(f.mend)}`);
  return lines.join("\n");
}

function numbers(f: Finding): string {
  const found = f.measured
    ? `${tidy(f.measured.value)}${f.measured.bound > 0 ? ` ± ${tidy(f.measured.bound)}` : ""} ${f.measured.unit}`
    : "";
  const allowed = f.limit ? `limit ${tidy(f.limit.value)} ${f.limit.unit} (${clean(f.limit.from)})` : "";
  return [found, allowed].filter((w) => w !== "").join(", ");
}

/** A number for reading: at most four decimals, no trailing zeros, no minus zero. */
export function tidy(value: number): string {
  const text = value.toFixed(4).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

function clean(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g, " ");
}
