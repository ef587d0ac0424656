import type { Finding } from "../finding.ts";
import type { DividerDescription } from "./dividers.ts";
import type { Given } from "./drawers.ts";
import { findingsOf, type Whose } from "./issues.ts";
import { jobFinding } from "./job-finding.ts";
import { length, line, map, type Reading, word } from "./leaves.ts";
import { sourceAtPath } from "./places.ts";
import type { SourceText } from "./source-text.ts";
import { placeOfKey, type Tree, toData } from "./tree.ts";

/** One divider. */
export function dividerSchema(r: Reading) {
  return map(
    {
      wood: line("The divider's wood.", "wood: cherry"),
      length: length(r, "Between the two boards of the case.", "length: 302"),
      depth: length(r, "From its front edge to its back edge.", "depth: 190"),
      thickness: length(r, "Its thickness.", "thickness: 15"),
      at: length(r, "From the case board's first end to the middle of the divider's thickness.", "at: 72"),
      into: line(
        "The board of the case that it meets, a part of this job; its mirror image gets the same.",
        "into: case side",
      ),
      "set back": length(
        r,
        "From the case board's front edge, its lower edge, to the divider's front edge.",
        "set back: 2",
        "zero or more",
      ).optional(),
      "mortise width": length(r, "Width of the mortises; planned without it.", "mortise width: 6").optional(),
      ends: word(
        { "by hand": ["hand"], "by machine": ["machine"] },
        "How the mortises in the divider's own ends are made; by hand without it.",
        "ends: by hand",
      ).optional(),
    },
    'write "wood:", "length:", "depth:", "thickness:", "at:" and "into:" below the divider\'s name',
  );
}

/** Reads `dividers:`, each on its own. A divider that holds a mistake is missing, and its findings are there. */
export function readDividers(
  source: SourceText,
  node: Tree | undefined,
  r: Reading,
  parts: readonly string[],
): { readonly dividers: readonly DividerDescription[]; readonly findings: readonly Finding[] } {
  const found: Finding[] = [];
  const entries = node?.kind === "map" ? node.entries : [];
  const schema = dividerSchema(r);
  const dividers = entries.flatMap((entry): readonly DividerDescription[] => {
    const name = entry.key.trim().replace(/\s+/g, " ");
    const on: Whose = { source, node: entry.value, entry, part: name };
    const read = schema.safeParse(toData(entry.value));
    if (!read.success) {
      found.push(...findingsOf(read.error.issues, on));
      return [];
    }
    const d = read.data;
    const said = <T>(key: string, value: T): Given<T> => ({ value, source: sourceAtPath(on, [key]) });
    const board = parts.find((p) => p.toLowerCase() === d.into.toLowerCase().replace(/\s+/g, " "));
    if (board === undefined) {
      const mend =
        parts.length === 0 ? 'describe it under "parts"' : `parts are ${parts.map((p) => `"${p}"`).join(", ")}`;
      found.push(
        jobFinding("part-unknown", sourceAtPath(on, ["into"]), `no part is called "${d.into.slice(0, 60)}"`, {
          mend,
          part: name,
        }),
      );
      return [];
    }
    const width = d["mortise width"];
    const back = d["set back"];
    return [
      {
        name,
        wood: said("wood", d.wood),
        length: said("length", d.length),
        depth: said("depth", d.depth),
        thickness: said("thickness", d.thickness),
        at: said("at", d.at),
        into: said("into", board),
        setBack: back === undefined ? { ...said("set back", 0), assumed: "flush in front" } : said("set back", back),
        ...(width !== undefined && { mortiseWidth: said("mortise width", width) }),
        ends:
          d.ends === undefined
            ? { ...said("ends", "by hand" as const), assumed: "a divider on its end stands high" }
            : said("ends", d.ends),
        source: placeOfKey(source, entry),
      },
    ];
  });
  return { dividers, findings: found };
}
