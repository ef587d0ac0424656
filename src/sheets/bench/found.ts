import type { Finding } from "../../finding.ts";
import type { Report } from "../report.ts";
import type { Block } from "./block.ts";
import { sentence } from "./length-words.ts";

/** What was found that must be seen at the machine, framed, each once; nothing where there is nothing. */
export function foundBox(found: readonly Report["findings"][number][], notes: readonly Finding[]): readonly Block[] {
  const told = found.filter((f) => f.grade !== "note").map((f) => say(f.what, f.why, f.mend));
  const noted = notes.map((f) => say(f.what, f.why, f.mend));
  const items = [...new Set([...told, ...noted])];
  return items.length === 0 ? [] : [{ kind: "caution", title: "Look out", items }];
}

/** A finding as one line: what, why, what to do. */
export function say(what: string, why?: string | null, mend?: string | null): string {
  const reason = why == null ? "" : ` (${why})`;
  const help = mend == null ? "" : ` \u2014 ${mend}`;
  return sentence(`${what}${reason}${help}`);
}
