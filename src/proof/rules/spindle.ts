import type { Finding } from "../../finding.ts";
import type { ReadMove } from "../../reader/read-move.ts";
import { MAX_RPM_SOURCE, maxRpmFor } from "../../shop/spindle-speed.ts";
import type { Case } from "../proof.ts";
import { lineOf } from "../say.ts";

/** Waits this much shorter than asked for are rounding, s. */
const ROUNDING = 0.01;

/** The spindle turns the right way, at a speed that bit and machine stand, and has time to start and to stop. */
export function spindleFindings(c: Case): readonly Finding[] {
  return [...startAndStop(c), ...speeds(c)];
}

function startAndStop(c: Case): readonly Finding[] {
  const { machine, blank } = c.setUp;
  const findings: Finding[] = [];
  let turning = false;
  /** Line where the spindle was started and not yet waited for; likewise where it was stopped. */
  let starting: number | undefined;
  let stopping: number | undefined;
  let waited = 0;
  for (const e of c.read.events) {
    if (e.kind === "spindle") {
      const turns = e.spindle.turning !== "off" && (e.spindle.rpm > 0 || machine.spindle.kind === "dial");
      if (e.spindle.turning === "counter-clockwise") {
        findings.push({
          grade: "refuse",
          code: "proof-spindle-backwards",
          place: lineOf(c, e.line),
          what: "the spindle is started backwards",
          why: "router bits cut clockwise, seen from above",
          mend: "write M3 in place of M4",
        });
      }
      if (turns !== turning) {
        waited = 0;
        starting = turns ? e.line : undefined;
        stopping = turns ? undefined : e.line;
      }
      turning = turns;
    } else if (e.kind === "dwell") waited += e.seconds;
    else if (e.kind === "move" && starting !== undefined && reachesWood(e, blank.max.z)) {
      if (waited < machine.spinUpSeconds - ROUNDING) findings.push(tooShort(c, starting, waited, "up"));
      starting = undefined;
    } else if ((e.kind === "stop" && !e.optional) || e.kind === "tool change") {
      if (stopping !== undefined && waited < machine.spinDownSeconds - ROUNDING) {
        findings.push(tooShort(c, stopping, waited, "down"));
      }
      stopping = undefined;
      // A change stops the spindle by itself (NISTIR 6556 §3.6.3).
      if (e.kind === "tool change") turning = false;
    }
  }
  return findings;
}

function reachesWood(m: ReadMove, top: number): boolean {
  return Math.min(m.from.z ?? Number.POSITIVE_INFINITY, m.to.z ?? Number.POSITIVE_INFINITY) < top;
}

function tooShort(c: Case, line: number, waited: number, way: "up" | "down"): Finding {
  const needed = way === "up" ? c.setUp.machine.spinUpSeconds : c.setUp.machine.spinDownSeconds;
  return {
    grade: "refuse",
    code: way === "up" ? "proof-no-spin-up" : "proof-no-spin-down",
    place: lineOf(c, line),
    what:
      way === "up"
        ? "the bit goes into the wood before the spindle is up to speed"
        : "the program stops for a hand while the spindle still runs down",
    mend: "write a wait, G4 P, behind the spindle word",
    measured: { value: waited, bound: 0, unit: "s" },
    limit: { value: needed, unit: "s", from: `the shop file's ${way === "up" ? "spin-up" : "spin-down"} time` },
  };
}

function speeds(c: Case): readonly Finding[] {
  const findings: Finding[] = [];
  const told = new Set<string>();
  for (const m of c.read.events) {
    if (m.kind !== "move" || m.rapid || m.spindle.turning === "off") continue;
    const cutter = c.cutterFor(m);
    const { rpm } = m.spindle;
    const key = `${cutter?.name} ${rpm}`;
    if (cutter === undefined || told.has(key)) continue;
    told.add(key);
    const measured = { value: rpm, bound: 0, unit: "rpm" };
    const place = lineOf(c, m.line);
    if (cutter.maxRpm !== undefined && rpm > cutter.maxRpm) {
      findings.push({
        grade: "refuse",
        code: "proof-spindle-too-fast",
        place,
        what: `the ${cutter.name} turns faster than it may`,
        mend: "lower the speed",
        measured,
        limit: { value: cutter.maxRpm, unit: "rpm", from: "the number printed on the bit" },
      });
    } else if (rpm > maxRpmFor(cutter.diameter)) {
      findings.push({
        grade: "caution",
        code: "proof-spindle-fast-for-diameter",
        place,
        what: `the ${cutter.name} turns faster than charts give for its diameter`,
        mend: "read the limit printed on the bit and put it into the shop file",
        measured,
        limit: { value: maxRpmFor(cutter.diameter), unit: "rpm", from: MAX_RPM_SOURCE },
      });
    }
    findings.push(...outOfRange(c, m, rpm));
  }
  return findings;
}

function outOfRange(c: Case, m: ReadMove, rpm: number): readonly Finding[] {
  const { spindle } = c.setUp.machine;
  const place = lineOf(c, m.line);
  switch (spindle.kind) {
    case "program": {
      if (rpm >= spindle.min && rpm <= spindle.max) return [];
      const limit = rpm < spindle.min ? spindle.min : spindle.max;
      return [
        {
          grade: "refuse",
          code: "proof-spindle-out-of-range",
          place,
          what: "the spindle cannot turn at this speed",
          mend: `use ${spindle.min} to ${spindle.max} rpm`,
          measured: { value: rpm, bound: 0, unit: "rpm" },
          limit: { value: limit, unit: "rpm", from: "the machine's spindle" },
        },
      ];
    }
    case "dial": {
      if (rpm === 0 || spindle.positions.some((p) => Math.abs(p.rpm - rpm) < 0.5)) return [];
      return [
        {
          grade: "refuse",
          code: "proof-spindle-out-of-range",
          place,
          what: "the spindle's dial has no such position",
          mend: `use one of ${spindle.positions.map((p) => p.rpm).join(", ")} rpm`,
          measured: { value: rpm, bound: 0, unit: "rpm" },
        },
      ];
    }
  }
}
