import { type Finding, refuses } from "../finding.ts";
import type { SetUp } from "../plan/setup.ts";
import type { ReadOptions } from "../reader/options.ts";
import { readProgram } from "../reader/read.ts";
import type { Controller } from "../shop/machine.ts";
import type { Shop } from "../shop/shop.ts";
import type { WoodKind } from "../shop/wood.ts";
import { cellFor } from "../simulate/grid.ts";
import { type Simulation, simulate } from "../simulate/run.ts";
import { startWood, takenBefore } from "../simulate/start.ts";
import { timeOf } from "../simulate/time.ts";
import { halfDiagonal, type Wood } from "../simulate/wood.ts";
import { boxes } from "./boxes.ts";
import { contactFindings } from "./contacts.ts";
import { cuttersOf } from "./cutters.ts";
import { provedGouge, provedLeft } from "./exact.ts";
import { holdMeasures, looseFindings, webMeasures } from "./hold-down.ts";
import type { Case, Figure, ProgramToProve, Proof } from "./proof.ts";
import { roundWalls } from "./round-walls.ts";
import { feedFindings } from "./rules/feeds.ts";
import { orderFindings } from "./rules/order.ts";
import { spindleFindings } from "./rules/spindle.ts";
import { toolFindings } from "./rules/tool.ts";
import { shortened } from "./say.ts";

export { proveDryRun } from "./dry-run.ts";
export type { Figure, ProgramToProve, Proof } from "./proof.ts";

/** What is to be proved: all programs of one set-up, in the order in which they are run. */
export interface SetUpToProve {
  readonly setUp: SetUp;
  readonly programs: readonly ProgramToProve[];
  readonly shop: Shop;
  /** What the controller understands, where it is not the machine's own. */
  readonly controller?: Controller;
}

/** What is to be proved: a set-up with one program. */
export interface ToProve {
  readonly setUp: SetUp;
  readonly text: string;
  readonly file: string;
  readonly shop: Shop;
  readonly controller?: Controller;
}

/** Proves the one program of a set-up against its part. */
export function prove({ text, file, ...rest }: ToProve): Proof {
  return proveSetUp({ ...rest, programs: [{ file, text }] });
}

/**
 * Proves the programs of a set-up against its part, from their text alone. Wood is carried on from program to program;
 * what is left over is judged after the last. Every refusal stands on the safe side of its bound.
 */
export function proveSetUp({ setUp, programs, shop, controller = setUp.machine.controller }: SetUpToProve): Proof {
  const findings: Finding[] = [];
  const cases: Case[] = [];
  const figures: Record<string, Figure> = {};
  let wood: Wood | undefined;
  for (const [nth, { file, text }] of programs.entries()) {
    const read = readProgram(text, file, controller, readOptions(setUp));
    // How low a rapid goes is judged here by the wood itself.
    findings.push(...read.findings.filter((f) => f.grade !== "note" || !aboutLowRapids(f)));
    // A program that was not read to its end cannot be followed, and the wood cannot be carried on.
    if (read.events.at(-1)?.kind !== "end") {
      findings.push(notReached(setUp, file));
      return proofOf(findings, figures, false);
    }
    const spindled = cuttersOf(setUp, read, nth, programs.length);
    wood ??= startWood(setUp.blank, cellFor(setUp.blank, smallestDiameter(setUp)), takenBefore(setUp), setUp.round);
    const simulation: Simulation = simulate({
      wood,
      events: read.events,
      assemblyFor: spindled.assemblyFor,
      around: { keepOuts: setUp.keepOuts, lowestTip: setUp.blank.min.z - setUp.intoWasteBoard },
    });
    wood = simulation.after;
    cases.push({
      setUp,
      shop,
      file,
      lines: text.split(/\r\n|\n|\r/),
      read,
      wood: woodKind(shop, setUp.workpiece.wood),
      ...spindled,
      simulation,
    });
  }
  for (const c of cases) {
    const gouge = provedGouge(c);
    findings.push(...gouge.findings, ...contactFindings(c), ...looseFindings(c));
    findings.push(...toolFindings(c), ...spindleFindings(c), ...feedFindings(c), ...orderFindings(c));
    merge(figures, gouge.figures);
    merge(figures, motionFigures(c));
  }
  const last = cases[cases.length - 1];
  if (last !== undefined) {
    const webs = setUp.round === undefined ? webMeasures(last) : roundWalls(cases[0]!.simulation.before, last);
    for (const m of [provedLeft(cases), holdMeasures(last), webs]) {
      findings.push(...m.findings);
      merge(figures, m.figures);
    }
    const { grid } = last.simulation.after;
    figures["grid cell"] = { value: grid.cell, bound: halfDiagonal(grid), unit: "mm" };
    figures.contacts = { value: sum(cases, (c) => c.simulation.contacts.length), bound: 0, unit: "times" };
  }
  return proofOf(findings, figures, true);
}

/** What the reader is told of a set-up. */
export function readOptions(setUp: SetUp): ReadOptions {
  return {
    manner: "ours",
    safeZ: setUp.safeZ,
    stock: setUp.blank,
    machineTravel: setUp.machine.travel,
    speedByDial: setUp.machine.spindle.kind === "dial",
  };
}

function aboutLowRapids(f: Finding): boolean {
  return (
    f.code === "rs-l03-rapid-low" ||
    (f.code === "rs-more-findings" && /^not listed: \d+ × rs-l03-rapid-low;/.test(f.why ?? ""))
  );
}

function proofOf(findings: readonly Finding[], figures: Proof["figures"], complete: boolean): Proof {
  return { findings: shortened(findings), figures, ...boxes(complete && !refuses(findings), complete) };
}

function notReached(setUp: SetUp, file: string): Finding {
  return {
    grade: "refuse",
    code: "proof-not-reached",
    place: { part: setUp.workpiece.name, program: { file, line: 1 } },
    what: "the program breaks the language's rules, so it was not checked against the part",
    mend: "mend what is said above, then check again",
  };
}

function smallestDiameter(setUp: SetUp): number {
  return Math.min(...setUp.cutters.map((c) => c.diameter), 12);
}

/** A wood by its name or another name it goes by; undefined when the shop does not know it. */
function woodKind(shop: Shop, name: string): WoodKind | undefined {
  const wanted = name.toLowerCase();
  return shop.woods.find((w) => [w.name, ...w.alsoCalled].some((n) => n.toLowerCase() === wanted));
}

/** Time, feeds and clearances of one program. */
function motionFigures(c: Case): Readonly<Record<string, Figure>> {
  const { setUp } = c;
  const time = timeOf(c.read.events, setUp.machine);
  const figures: Record<string, Figure> = { time: { value: time.seconds, bound: 0, unit: "s" } };
  const top = Math.max(setUp.blank.max.z, ...setUp.keepOuts.map((k) => k.box.max.z));
  for (const e of c.read.events) {
    if (e.kind !== "move") continue;
    if (e.rapid) {
      const sideways = e.from.x !== e.to.x || e.from.y !== e.to.y;
      if (sideways && e.to.z !== undefined && e.from.z !== undefined) {
        least(figures, "rapid clearance", Math.min(e.from.z, e.to.z) - top, "mm");
      }
    } else {
      least(figures, "lowest feed", e.feed, "mm/min");
      if (e.feed > (figures["highest feed"]?.value ?? 0)) {
        figures["highest feed"] = { value: e.feed, bound: 0, unit: "mm/min" };
      }
    }
  }
  return figures;
}

function least(figures: Record<string, Figure>, name: string, value: number, unit: string): void {
  if (value < (figures[name]?.value ?? Number.POSITIVE_INFINITY)) figures[name] = { value, bound: 0, unit };
}

/** Joins the figures of several programs: times add up, leasts stay least, the rest stay largest. */
function merge(into: Record<string, Figure>, more: Readonly<Record<string, Figure>>): void {
  for (const [name, figure] of Object.entries(more)) {
    const had = into[name];
    if (had === undefined) into[name] = figure;
    else if (name === "time") into[name] = { ...had, value: had.value + figure.value };
    else if (name === "lowest feed" || name === "rapid clearance" || name.startsWith("least")) {
      if (figure.value < had.value) into[name] = figure;
    } else if (figure.value > had.value) into[name] = figure;
  }
}

function sum<T>(items: readonly T[], of: (item: T) => number): number {
  return items.reduce((total, item) => total + of(item), 0);
}
