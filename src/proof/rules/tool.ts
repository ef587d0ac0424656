import type { Finding } from "../../finding.ts";
import type { Case } from "../proof.ts";
import { lineOf } from "../say.ts";

/** The bit that is called is one of the set-up's, and the length that is called is that bit's. */
export function toolFindings(c: Case): readonly Finding[] {
  const { setUp } = c;
  const findings: Finding[] = [];
  let slot: number | undefined;
  for (const e of c.read.events) {
    if (e.kind === "tool change") {
      slot = e.slot;
      if (!setUp.cutters.some((k) => k.slot === e.slot)) {
        findings.push({
          grade: "refuse",
          code: "proof-wrong-bit",
          place: lineOf(c, e.line),
          what: `the program calls slot ${e.slot}, which holds no bit of this set-up`,
          why: `the set-up uses ${setUp.cutters.map((k) => `slot ${k.slot} (${k.name})`).join(", ")}`,
          mend: "make the program again, or put the right slots into the shop file",
        });
      }
    }
    if (e.kind === "length offset" && e.slot !== slot && setUp.machine.controller.toolTable) {
      findings.push({
        grade: "refuse",
        code: "proof-length-of-other-bit",
        place: lineOf(c, e.line),
        what: "the length of another bit is used than the one in the spindle",
        why: `slot ${slot ?? "unknown"} is in the spindle, H says ${e.slot ?? "nothing"}`,
        mend: "call H with the same number as T",
      });
    }
  }
  return findings;
}
