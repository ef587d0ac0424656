import type { Finding } from "../../src/finding.ts";
import type { SetUp } from "../../src/plan/setup.ts";
import { cuttersOf } from "../../src/proof/cutters.ts";
import { proveSetUp } from "../../src/proof/prove.ts";
import { readProgram } from "../../src/reader/read.ts";
import type { ReadEvent, ReadMove, ReadProgram } from "../../src/reader/read-move.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { cellFor } from "../../src/simulate/grid.ts";
import { type Simulation, simulate } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { type Columns, topOf } from "../../src/simulate/wood.ts";
import { ACCURACY } from "../../src/tolerance.ts";

/** One mistake planted in a right program's text. */
export interface Fault {
  readonly kind: FaultKind;
  /** Line that was changed, from 1, before and after. */
  readonly line: number;
  readonly was: string;
  readonly is: string;
  readonly text: string;
}

export type FaultKind =
  | "number changed"
  | "sign flipped"
  | "line deleted"
  | "line twice"
  | "arc reversed"
  | "unit changed"
  | "words swapped"
  | "state changed";

/** What became of a set of planted faults. */
export interface Verdicts {
  readonly planted: number;
  readonly harmful: number;
  readonly caught: number;
  /** Harmful ones that the proof did not tell, each with the reason. */
  readonly letThrough: readonly { readonly fault: Fault; readonly why: string }[];
}

/** A small deterministic source of numbers in [0, 1): the same seed plants the same faults (Park and Miller 1988). */
export function numbersFrom(seed: number): () => number {
  let state = (seed % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** Plants `count` faults, one a text, of all kinds in turn. */
export function plantFaults(text: string, count: number, seed: number): readonly Fault[] {
  const next = numbersFrom(seed);
  const lines = text.split("\n");
  const faults: Fault[] = [];
  for (let tries = 0; faults.length < count && tries < 200 * count; tries++) {
    const kind = KINDS[tries % KINDS.length]!;
    const k = Math.floor(next() * lines.length);
    const was = lines[k]!;
    const is = changed(kind, was, next);
    if (is === undefined || is === was) continue;
    const all = [...lines];
    if (kind === "line deleted") all.splice(k, 1);
    else if (kind === "line twice") all.splice(k, 0, was);
    else all[k] = is;
    faults.push({ kind, line: k + 1, was, is, text: all.join("\n") });
  }
  return faults;
}

const KINDS: readonly FaultKind[] = [
  "number changed",
  "line deleted",
  "sign flipped",
  "arc reversed",
  "number changed",
  "state changed",
  "words swapped",
  "unit changed",
  "line twice",
];

function changed(kind: FaultKind, line: string, next: () => number): string | undefined {
  if (line === "" || line.startsWith("(") || line.startsWith("%")) return undefined;
  switch (kind) {
    case "number changed":
      return withWord(line, /([XYZIJ])(-?\d+\.?\d*)/g, next, (letter, value) => {
        const by = 0.02 * 500 ** next() * (next() < 0.5 ? -1 : 1);
        return `${letter}${(value + by).toFixed(4)}`;
      });
    case "sign flipped":
      return withWord(line, /([XYZIJ])(-?\d+\.?\d*)/g, next, (letter, value) => `${letter}${(-value).toFixed(4)}`);
    case "state changed":
      return withWord(line, /([SFP])(\d+\.?\d*)/g, next, (letter, value) => {
        const by = [0, 0.1, 0.5, 2, 10][Math.floor(next() * 5)]!;
        return `${letter}${Number((value * by).toFixed(3))}`;
      });
    case "arc reversed":
      if (/\bG2\b/.test(line)) return line.replace(/\bG2\b/, "G3");
      return /\bG3\b/.test(line) ? line.replace(/\bG3\b/, "G2") : undefined;
    case "unit changed":
      if (/\bG21\b/.test(line)) return line.replace(/\bG21\b/, "G20");
      return /\bG20\b/.test(line) ? line.replace(/\bG20\b/, "G21") : undefined;
    case "words swapped": {
      const x = /X(-?\d+\.?\d*)/.exec(line);
      const y = /Y(-?\d+\.?\d*)/.exec(line);
      return x && y ? line.replace(x[0], `X${y[1]}`).replace(y[0], `Y${x[1]}`) : undefined;
    }
    case "line deleted":
    case "line twice":
      return `${line} `;
  }
}

function withWord(
  line: string,
  words: RegExp,
  next: () => number,
  of: (letter: string, value: number) => string,
): string | undefined {
  const found = [...line.matchAll(words)];
  const one = found[Math.floor(next() * found.length)];
  if (one === undefined) return undefined;
  return line.slice(0, one.index) + of(one[1]!, Number(one[2])) + line.slice(one.index + one[0].length);
}

/**
 * Plants faults and proves each. Harmful: motion that differs by more than the accuracy while in wood, or another
 * spindle, feed, unit, bit or wait. Caught: the proof says something that it does not say of the right program.
 */
export function tryFaults(setUp: SetUp, file: string, text: string, shop: Shop, faults: readonly Fault[]): Verdicts {
  const proofOf = (t: string): readonly Finding[] =>
    proveSetUp({ setUp, programs: [{ file, text: t }], shop }).findings;
  const read = (t: string): ReadProgram => readProgram(t, file, setUp.machine.controller, { stock: setUp.blank });
  const right = read(text);
  const usual = told(proofOf(text));
  const letThrough: { fault: Fault; why: string }[] = [];
  let harmful = 0;
  let caught = 0;
  for (const fault of faults) {
    const wrong = read(fault.text);
    if (!isHarmful(setUp, right, wrong)) continue;
    harmful++;
    const now = proofOf(fault.text);
    if ([...told(now)].some((f) => !usual.has(f))) caught++;
    else letThrough.push({ fault, why: reasonFor(setUp, fault, right, wrong) });
  }
  return { planted: faults.length, harmful, caught, letThrough };
}

function told(findings: readonly Finding[]): ReadonlySet<string> {
  return new Set(
    findings.filter((f) => f.grade !== "note").map((f) => `${f.grade} ${f.code} ${f.place.feature ?? ""}`),
  );
}

/** Whether the wrong program does something else that matters: see `tryFaults`. */
export function isHarmful(setUp: SetUp, right: ReadProgram, wrong: ReadProgram): boolean {
  if (right.unit !== wrong.unit) return true;
  if (states(right) !== states(wrong)) return true;
  const a = inWood(setUp, right);
  const b = inWood(setUp, wrong);
  return a.length !== b.length || a.some((m, i) => differ(m, b[i]!));
}

/** The moves that touch wood, each cut off where it comes out of the top of the blank. */
function inWood(setUp: SetUp, read: ReadProgram): readonly ReadMove[] {
  const { cuts, contacts } = cutFor(setUp, read, cellFor(setUp.blank, 6));
  const { assemblyFor } = cuttersOf(setUp, read, 0, 1);
  const touching = new Set(contacts.map((k) => k.line));
  const moves = read.events.filter((e): e is ReadMove => e.kind === "move" && assemblyFor(e) !== undefined);
  return moves
    .filter((m, i) => touching.has(m.line) || (cuts[i]?.fromMost ?? 0) > 0.01)
    .map((m) => below(m, setUp.blank.max.z));
}

function cutFor(setUp: SetUp, read: ReadProgram, cell: number): Simulation {
  return simulate({
    wood: startWood(setUp.blank, cell),
    events: read.events,
    assemblyFor: cuttersOf(setUp, read, 0, 1).assemblyFor,
    around: { keepOuts: setUp.keepOuts, lowestTip: setUp.blank.min.z - setUp.intoWasteBoard },
  });
}

/** Cells fine enough that what two passes share is not lost between them, mm. */
const FINE_CELL = 0.15;

/** Whether two programs leave the same wood, as the grid sees it: no column's top differs by more than the accuracy. */
function leaveTheSame(setUp: SetUp, right: ReadProgram, wrong: ReadProgram): boolean {
  const a = cutFor(setUp, right, FINE_CELL).after;
  const b = cutFor(setUp, wrong, FINE_CELL).after;
  const same = (p: Columns, q: Columns): boolean =>
    p.high[0]!.every((_, c) => topOf(p, c) === topOf(q, c) || Math.abs(topOf(p, c) - topOf(q, c)) <= ACCURACY);
  return same(a.most, b.most) && same(a.least, b.least);
}

function below(m: ReadMove, top: number): ReadMove {
  if (m.path.kind === "arc" || m.from.z === undefined || m.to.z === undefined) return m;
  if (m.from.z <= top || m.to.z >= top) return m;
  const t = (m.from.z - top) / (m.from.z - m.to.z);
  const at = (k: "x" | "y"): number => m.from[k]! + t * (m.to[k]! - m.from[k]!);
  return { ...m, from: { x: at("x"), y: at("y"), z: top } };
}

/** All that happens beside moves; what is said twice, or switches off what is off, changes nothing. */
function states(p: ReadProgram): string {
  const said = p.events
    .filter((e) => e.kind !== "move" && e.kind !== "comment" && e.kind !== "line number")
    .map((e: ReadEvent) => JSON.stringify({ ...e, line: 0 }));
  const off = JSON.stringify({ kind: "spindle", line: 0, spindle: { turning: "off", rpm: 0 } });
  return said.filter((e, i) => e !== said[i - 1] && !(i === 0 && e === off)).join();
}

function differ(a: ReadMove, b: ReadMove): boolean {
  if (far(a.from, b.from) || far(a.to, b.to) || a.rapid !== b.rapid || a.tool !== b.tool) return true;
  if (Math.abs(a.feed - b.feed) > 0.001 * a.feed || JSON.stringify(a.spindle) !== JSON.stringify(b.spindle))
    return true;
  if (a.path.kind === "line" || b.path.kind === "line") return a.path.kind !== b.path.kind;
  const { centre: p } = a.path;
  const { centre: q } = b.path;
  return a.path.ccw !== b.path.ccw || Math.hypot(p.x - q.x, p.y - q.y) > ACCURACY;
}

function far(p: ReadMove["from"], q: ReadMove["from"]): boolean {
  return (["x", "y", "z"] as const).some((k) => {
    const a = p[k];
    const b = q[k];
    return a === undefined || b === undefined ? a !== b : Math.abs(a - b) > ACCURACY;
  });
}

/** Why a harmful fault can pass. */
function reasonFor(setUp: SetUp, fault: Fault, right: ReadProgram, wrong: ReadProgram): string {
  const number = (letter: string, t: string): string | undefined => new RegExp(`${letter}(\\d+\\.?\\d*)`).exec(t)?.[1];
  if (fault.kind === "state changed") {
    if (number("F", fault.was) !== number("F", fault.is))
      return "another feed, within what bit, wood and machine stand";
    if (number("S", fault.was) !== number("S", fault.is)) return "another speed, within what bit and machine stand";
    if (number("P", fault.was) !== number("P", fault.is)) return "a longer wait than needed";
  }
  return leaveTheSame(setUp, right, wrong)
    ? "another way through waste: the wood comes out the same"
    : "the wood comes out different";
}
