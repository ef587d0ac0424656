import { styleText } from "node:util";
import { type Finding, type Grade, printFinding } from "../finding.ts";
import { reportFinding } from "../sheets/report.ts";

/** Parts that are named where the same is said of several. */
const NAMED = 5;

/**
 * Prints findings for people on stderr, worst first within the order found. What is said of several parts in the same words is
 * said once, with the other parts' names.
 */
export function sayFindings(findings: readonly Finding[]): void {
  const order: readonly Grade[] = ["refuse", "caution", "note"];
  for (const grade of order) {
    for (const [first, ...others] of alike(findings.filter((g) => g.grade === grade))) {
      if (first === undefined) continue;
      const parts = [...new Set(others.flatMap((f) => f.place.part ?? []))].filter((p) => p !== first.place.part);
      const named = parts.slice(0, NAMED).map((p) => `"${p}"`);
      const more = parts.length > NAMED ? [`${parts.length - NAMED} more`] : [];
      const also = parts.length === 0 ? [] : [`  also: ${[...named, ...more].join(", ")}`];
      sayError([coloured(printFinding(first), grade), ...also].join("\n"));
    }
  }
}

/** Findings that differ in nothing but the part and its numbers, together. */
function alike(findings: readonly Finding[]): readonly (readonly Finding[])[] {
  const groups = new Map<string, Finding[]>();
  for (const f of findings) {
    // What is wrong with a file is said at each of its places.
    const single = f.place.part === undefined || f.place.program !== undefined || f.grade === "refuse";
    const key = single ? `one ${groups.size}` : JSON.stringify([f.code, f.what, f.mend]);
    groups.set(key, [...(groups.get(key) ?? []), f]);
  }
  return [...groups.values()];
}

/** One line of ordinary output. */
export function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

/** One line for the person, not for the pipe. */
export function sayError(line: string): void {
  process.stderr.write(`${line}\n`);
}

/** One JSON document on stdout. */
export function sayJson(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}

/** Findings as `--json` prints them when there is nothing else to print. */
export function jsonFindings(findings: readonly Finding[]): object {
  return { findings: findings.map(reportFinding) };
}

/** A line that shows how far the work has come: on a terminal only, rewritten in place. */
export function progress(): { readonly at: (what: string) => void; readonly done: () => void } {
  if (process.stderr.isTTY !== true) return { at: () => {}, done: () => {} };
  const width = Math.max(20, (process.stderr.columns ?? 80) - 1);
  return {
    at: (what) =>
      process.stderr.write(`\r\u001b[2K${what.replace(/[\u0000-\u001f\u007f-\u009f]/g, " ").slice(0, width)}`),
    done: () => process.stderr.write("\r\u001b[2K"),
  };
}

/** A mistake of ours: said as such, with what a report needs, never as a bare stack. */
export function sayOurBug(error: unknown): void {
  const message = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  const where =
    error instanceof Error
      ? (error.stack ?? "")
          .split("\n")
          .slice(1, 4)
          .map((l) => l.trim())
      : [];
  sayError("This is a mistake of Tillwright's, not yours. Nothing more was written.");
  sayError(`  ${message}`);
  for (const line of where) sayError(`  ${line.replace(/\(?file:.*\/(src|dist)\//, "($1/")}`);
  sayError("Please report it with the job file, if you may.");
}

function coloured(printed: string, grade: Grade): string {
  const [first = "", ...rest] = printed.split("\n");
  const colour = grade === "refuse" ? "red" : grade === "caution" ? "yellow" : "blue";
  return [styleText(colour, first, { stream: process.stderr }), ...rest].join("\n");
}
