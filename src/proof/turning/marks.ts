import type { Finding } from "../../finding.ts";
import type { TurningMark } from "../../plan/turning-setup.ts";
import type { Position } from "../../reader/read-move.ts";
import { mm } from "../say.ts";
import { onLine, type TurningCase } from "./case.ts";

/** A tip this near a mark halts at it, mm. */
const AT_MARK = 0.01;

/** The mark of a set-up that a tool's programmed point halts at. */
export function markAt(c: TurningCase, tip: Position): TurningMark | undefined {
  const { x, z } = tip;
  if (x === undefined || z === undefined) return undefined;
  return (c.setUp.marks ?? []).find((m) => Math.hypot(z - m.at.x, Math.abs(x) - m.at.y) <= AT_MARK);
}

/** Before the wood first turns in a program, the tool halts at every mark that still holds. @param fresh the blank is whole */
export function turningMarkFindings(c: TurningCase, fresh: boolean): readonly Finding[] {
  const asked = (c.setUp.marks ?? []).filter((m) => fresh || m.untouched);
  const visited = new Set<TurningMark>();
  let tip: Position = { x: undefined, y: undefined, z: undefined };
  let starts = false;
  for (const e of c.read.events) {
    if (e.kind === "spindle" && e.spindle.turning !== "off") {
      starts = true;
      break;
    }
    if (e.kind === "move") tip = e.machine ? { x: undefined, y: undefined, z: undefined } : e.to;
    else if (e.kind === "stop" && !e.optional) {
      const mark = markAt(c, tip);
      if (mark !== undefined) visited.add(mark);
    }
  }
  if (!starts) return [];
  return asked
    .filter((m) => !visited.has(m))
    .map((m) =>
      onLine(
        c,
        1,
        {
          grade: "refuse",
          code: "proof-witness-missed",
          what: `the tool never halts ${m.name} before the wood turns`,
          why: `that halt, ${mm(c.setUp.habits.gaugeBlock)} off the wood, shows a wrong zero, unit or side`,
          mend: "make the program again",
        },
        m.at,
      ),
    );
}
