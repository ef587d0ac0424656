import type { Finding } from "../../finding.ts";
import type { Report } from "../report.ts";
import type { Block } from "./block.ts";
import { sentence } from "./length-words.ts";

/**
 * What was found that must be seen at the machine, framed, each once; nothing where there is nothing.
 * @param named with the part's name, where the box doesn't stand with its part
 */
export function foundBox(
  found: readonly Report["findings"][number][],
  notes: readonly Finding[],
  named = false,
): readonly Block[] {
  const seen = found.filter((f) => f.grade !== "note");
  const told = named ? byPart(seen) : seen.map((f) => say(f.what, f.why, f.mend));
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

/** With the parts' names before it; what is said of several parts is said once. */
function byPart(found: readonly Report["findings"][number][]): readonly string[] {
  const groups = new Map<string, { one: (typeof found)[number]; parts: string[] }>();
  for (const f of found) {
    const key = JSON.stringify([f.what, f.why, f.mend]);
    const there = groups.get(key);
    const part = f.part ?? "";
    if (there === undefined) groups.set(key, { one: f, parts: part === "" ? [] : [part] });
    else if (part !== "" && !there.parts.includes(part)) there.parts.push(part);
  }
  return [...groups.values()].map(({ one, parts }) =>
    say(parts.length === 0 ? one.what : `${parts.map((p) => `"${p}"`).join(", ")}: ${one.what}`, one.why, one.mend),
  );
}
