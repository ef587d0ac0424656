import type { Finding } from "../finding.ts";
import type { SetUp } from "../plan/setup.ts";
import { readProgram } from "../reader/read.ts";
import type { ReadMove } from "../reader/read-move.ts";
import { contactsBefore } from "../simulate/contact.ts";
import { startWood } from "../simulate/start.ts";
import { cuttersOf } from "./cutters.ts";
import type { ProgramToProve } from "./proof.ts";
import { lineOf, mm, shortened } from "./say.ts";

/** Side of a column in the proof of a dry run, mm. */
const DRY_CELL = 2;

/** What the proof of a dry run gives. */
export interface DryRunProof {
  readonly findings: readonly Finding[];
}

/**
 * Proves that a dry run turns no spindle and touches nothing: the wood still stands whole, and every move, rapid or
 * feed, keeps the whole assembly out of it and out of clamps and bed.
 * @param nth which of `count` programs of the set-up it goes with, from 0
 */
export function proveDryRun(setUp: SetUp, { file, text }: ProgramToProve, nth = 0, count = 1): DryRunProof {
  const read = readProgram(text, file, setUp.machine.controller, {
    manner: "ours",
    safeZ: setUp.safeZ,
    stock: setUp.blank,
    machineTravel: setUp.machine.travel,
  });
  const lines = text.split(/\r\n|\n|\r/);
  const findings: Finding[] = [...read.findings];
  const spindled = cuttersOf(setUp, read, nth, count);
  // All is lifted clear by whole millimetres, so the blank may stand for the wood, uncut, in large columns.
  const wood = startWood(setUp.blank, DRY_CELL);
  const around = { keepOuts: setUp.keepOuts, lowestTip: setUp.blank.max.z };
  for (const e of read.events) {
    if (e.kind === "spindle" && e.spindle.turning !== "off") {
      findings.push({
        grade: "refuse",
        code: "dry-run-spindle",
        place: lineOf({ file, lines }, e.line),
        what: "the dry run starts the spindle",
        mend: "make it again",
      });
    }
    if (e.kind !== "move") continue;
    // Any of the set-up's bits may stand in the spindle while the text has not said which.
    const one = spindled.assemblyFor(e);
    const assemblies = one === undefined ? setUp.cutters.flatMap((c) => assemblyIn(spindled, e, c.slot)) : [one];
    for (const assembly of assemblies) {
      const hit = contactsBefore(wood, e, assembly, around).find((k) => k.kind !== "unplaced" || !e.rapid);
      if (hit === undefined) continue;
      findings.push({
        grade: "refuse",
        code: "dry-run-touches",
        place: { ...lineOf({ file, lines }, e.line), ...(hit.at === undefined ? {} : { at: hit.at }) },
        what:
          hit.kind === "unplaced"
            ? "nothing says where this move of the dry run goes"
            : `the dry run touches ${hit.keepOut === undefined ? "the wood" : `the ${hit.keepOut}`}`,
        why: hit.kind === "unplaced" ? "so it cannot be checked" : `by ${mm(hit.depth)}`,
        mend: "make it again with more lift",
      });
      break;
    }
  }
  return { findings: shortened(findings) };
}

function assemblyIn(spindled: ReturnType<typeof cuttersOf>, move: ReadMove, slot: number) {
  const assembly = spindled.assemblyFor({ ...move, tool: slot });
  return assembly === undefined ? [] : [assembly];
}
