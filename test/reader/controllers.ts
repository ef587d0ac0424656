import type { Finding } from "../../src/finding.ts";
import type { ReadOptions } from "../../src/reader/options.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadMove, ReadProgram } from "../../src/reader/read-move.ts";
import type { Controller } from "../../src/shop/machine.ts";

/** A controller that understands everything. */
export const FULL: Controller = {
  arcs: true,
  toolTable: true,
  toolChanger: true,
  homes: true,
  exactPath: true,
  cornerError: 0,
  axes: ["X", "Y", "Z"],
};

/** A controller without a tool table, for short texts. */
export const PLAIN: Controller = { ...FULL, toolTable: false };

/** A whole program of ours about the given lines; the first of them is line 6. */
export function about(...lines: readonly string[]): string {
  return [
    "G17 G21 G40 G54 G61 G80 G90 G94",
    "G43 H1",
    "G0 Z20.",
    "G0 X10. Y10.",
    "S18000 M3",
    ...lines,
    "M5",
    "M2",
    "",
  ].join("\n");
}

/** Reads somebody's file on the language's own rules. */
export function readAny(text: string, options: ReadOptions = {}, controller: Controller = PLAIN): ReadProgram {
  return readProgram(text, "any.ngc", controller, { manner: "any", ...options });
}

/** Reads a program of ours. */
export function readOurs(text: string, options: ReadOptions = {}, controller: Controller = FULL): ReadProgram {
  return readProgram(text, "ours.ngc", controller, options);
}

/** The moves of a program, which must not refuse. */
export function movesIn(read: ReadProgram): readonly ReadMove[] {
  const refusal = read.findings.find((f) => f.grade === "refuse");
  if (refusal !== undefined) throw new Error(`${refusal.code} on line ${lineOf(refusal)}: ${refusal.why}`);
  return read.events.filter((e) => e.kind === "move");
}

/** Line of a program that a finding points at. */
export function lineOf(f: Finding): number | undefined {
  return f.place.program?.line;
}

/** Codes with lines, as text, for comparing. */
export function told(read: ReadProgram): readonly string[] {
  return read.findings.map((f) => `${f.code}:${lineOf(f)}`);
}
