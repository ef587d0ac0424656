import type { Finding } from "../finding.ts";
import { FINDING_CODES } from "../finding-codes.ts";
import { closest } from "../units/closest.ts";
import type { Job } from "./job.ts";
import { jobFinding } from "./job-finding.ts";
import type { SourceText } from "./source-text.ts";
import { placeOfKey, type Tree } from "./tree.ts";

/** What the job lets through, each with its reason. Unknown codes and those that no job may let through are refused. */
export function readOverrides(
  source: SourceText,
  node: Tree | undefined,
): { readonly overrides: Job["overrides"]; readonly findings: readonly Finding[] } {
  const entries = node?.kind === "map" ? node.entries : [];
  const found: Finding[] = [];
  const overrides = entries.flatMap((e) => {
    const code = e.key
      .trim()
      .toLowerCase()
      .replace(/[\s_]+/g, "-");
    const place = placeOfKey(source, e);
    const known = Object.entries(FINDING_CODES).find(([c]) => c === code);
    if (!known) {
      const like = closest(code, Object.keys(FINDING_CODES));
      found.push(
        jobFinding("override-unknown", place, `there is no finding with the code "${e.key.slice(0, 60)}"`, {
          mend:
            like === undefined
              ? "copy the code from the finding itself: it is the second word of its first line"
              : `do you mean "${like}"?`,
        }),
      );
      return [];
    }
    if (!known[1].override) {
      found.push(
        jobFinding("override-not-possible", place, `"${code}" cannot be overridden`, {
          why: "it would wreck wood, machine or person whatever the reason, or it says that the file cannot be read",
          mend: "mend what it says, and take this line out",
        }),
      );
      return [];
    }
    return e.value.kind === "text" ? [{ code, because: e.value.text.trim(), source: place }] : [];
  });
  return { overrides, findings: found };
}
