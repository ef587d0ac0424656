import type { Finding } from "../../finding.ts";
import type { WitnessMark } from "../../plan/setup.ts";
import type { Position } from "../../reader/read-move.ts";
import type { Case } from "../proof.ts";
import { lineOf, mm } from "../say.ts";

/** A tip this near a mark stands over it, and this near the block's height touches it, mm. */
const OVER_MARK = 0.01;

/** How a program starts, halts at its marks, keeps its corners, and ends. */
export function orderFindings(c: Case): readonly Finding[] {
  return [...startFindings(c), ...markFindings(c), ...exactPathFindings(c), ...endFindings(c)];
}

/** Where the machine doesn't know where it is, the first motion waits for the user to have lifted the bit clear. */
function startFindings(c: Case): readonly Finding[] {
  const first = c.read.events.findIndex((e) => e.kind === "move");
  const move = c.read.events[first];
  if (move?.kind !== "move") return [];
  const asked = c.read.events.slice(0, first).some((e) => e.kind === "stop" && !e.optional);
  if (move.machine || asked) return [];
  return [
    {
      grade: "refuse",
      code: "proof-start-unasked",
      place: lineOf(c, move.line),
      what: "the program moves off before anyone has made sure that the bit is clear",
      why: "it starts from wherever the bit happens to be",
      mend: "begin with a lift in machine coordinates, or with a stop that asks for the bit to be clear",
    },
  ];
}

/** Before the spindle first starts, the still bit halts a gauge block above each mark. */
function markFindings(c: Case): readonly Finding[] {
  const { marks, habits } = c.setUp;
  const visited = new Set<string>();
  const low: Finding[] = [];
  let tip: Position = { x: undefined, y: undefined, z: undefined };
  for (const e of c.read.events) {
    if (e.kind === "move") {
      if (e.spindle.turning !== "off") break;
      tip = e.to;
      low.push(...marks.filter((m) => under(e.to, m, habits.gaugeBlock)).map((m) => tooLow(c, e.line, m)));
    } else if (e.kind === "spindle") {
      if (e.spindle.turning !== "off") break;
    } else if (e.kind === "stop" && !e.optional) {
      for (const m of marks) {
        const { x, y, z } = tip;
        if (x === undefined || y === undefined || z === undefined) continue;
        const beside = Math.hypot(x - m.at.x, y - m.at.y);
        if (beside <= OVER_MARK && Math.abs(z - m.at.z - habits.gaugeBlock) <= OVER_MARK) visited.add(m.name);
      }
    }
  }
  const missed = marks
    .filter((m) => !visited.has(m.name))
    .map(
      (m): Finding => ({
        grade: "refuse",
        code: "proof-witness-missed",
        place: { ...lineOf(c, 1), at: m.at },
        what: `the bit never halts over mark ${m.name} before the spindle starts`,
        why: `that halt, ${mm(habits.gaugeBlock)} above the wood, shows a wrong zero, unit or bit length`,
        mend: "make the program again",
      }),
    );
  return [...missed, ...low];
}

/** Whether a tip over a mark stands lower than the gauge block that a hand may already hold there. */
function under(tip: Position, m: WitnessMark, block: number): boolean {
  if (tip.x === undefined || tip.y === undefined || tip.z === undefined) return false;
  return Math.hypot(tip.x - m.at.x, tip.y - m.at.y) <= OVER_MARK && tip.z < m.at.z + block - OVER_MARK;
}

function tooLow(c: Case, line: number, m: WitnessMark): Finding {
  return {
    grade: "refuse",
    code: "proof-witness-low",
    place: lineOf(c, line),
    what: `the bit goes lower than the gauge block over mark ${m.name}`,
    why: "a hand may hold the block there",
    mend: "come down to the block's height from above, never from below",
  };
}

function exactPathFindings(c: Case): readonly Finding[] {
  const { controller } = c.setUp.machine;
  if (!controller.exactPath) {
    if (controller.cornerError === 0) return [];
    return [
      {
        grade: "note",
        code: "proof-corners-rounded",
        place: { program: { file: c.file, line: 1 } },
        what: `the controller rounds corners by up to ${mm(controller.cornerError)}, which is added to what the proof allows`,
      },
    ];
  }
  const loose = c.read.events.find((e) => e.kind === "move" && !e.rapid && !e.exactPath);
  if (loose === undefined) return [];
  return [
    {
      grade: "refuse",
      code: "proof-exact-path-unstated",
      place: lineOf(c, loose.line),
      what: "the program does not say that the path must be kept exactly",
      why: "the controller may cut corners by an unknown amount",
      mend: "write G61 before the first cut, and again behind each change of bit",
    },
  ];
}

/** At the end the bit is up, where wood can be taken off. */
function endFindings(c: Case): readonly Finding[] {
  let low: { readonly line: number; readonly z: number } | undefined;
  for (const e of c.read.events) {
    if (e.kind !== "move") continue;
    low =
      e.machine || e.to.z === undefined || e.to.z >= c.setUp.safeZ - 0.001 ? undefined : { line: e.line, z: e.to.z };
  }
  if (low === undefined) return [];
  return [
    {
      grade: "refuse",
      code: "proof-ends-low",
      place: lineOf(c, low.line),
      what: "the program ends with the bit below the safe height",
      mend: "lift before the end",
      measured: { value: low.z, bound: 0, unit: "mm" },
      limit: { value: c.setUp.safeZ, unit: "mm", from: "the set-up's safe height" },
    },
  ];
}
