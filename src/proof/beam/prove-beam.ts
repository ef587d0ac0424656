import { type Finding, refuses } from "../../finding.ts";
import type { BeamSetUp } from "../../plan/beam-setup.ts";
import { readProgram } from "../../reader/read.ts";
import type { Shop } from "../../shop/shop.ts";
import type { ProgramToProve, Proof } from "../proof.ts";
import { shortened } from "../say.ts";

/** What is to be proved: all programs of one clamping under the laser head, in the order in which they are run. */
export interface BeamToProve {
  readonly setUp: BeamSetUp;
  readonly programs: readonly ProgramToProve[];
  readonly shop: Shop;
}

/**
 * Proves beam programs against the marks they are to burn, from their text alone. Until the marks are measured, every
 * program is refused.
 */
export function proveBeam({ setUp, programs }: BeamToProve): Proof {
  const findings: Finding[] = programs.flatMap(({ file, text }) => [
    ...readProgram(text, file, setUp.machine.controller).findings,
    {
      grade: "refuse" as const,
      code: "proof-not-reached" as const,
      place: { part: setUp.workpiece.name, program: { file, line: 1 } },
      what: "the program was not checked against its marks",
      mend: "don't run it",
    },
  ]);
  const box = refuses(findings) ? "every line's language, see the findings" : "every line's language";
  return { findings: shortened(findings), figures: {}, checked: [box], notChecked: ["the marks"] };
}
