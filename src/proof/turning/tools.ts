import type { TurningSetUp } from "../../plan/turning-setup.ts";
import type { ReadMove, ReadProgram } from "../../reader/read-move.ts";
import type { TurningTool } from "../../shop/lathe.ts";

/**
 * Which tool makes which move. Where the text calls slots, the set-up's tool of that slot, and none when it has none
 * there. On a lathe without a changer: the set-up's only tool, else the one that the last comment before the move names.
 */
export function toolsOf(setUp: TurningSetUp, read: ReadProgram): (move: ReadMove) => TurningTool | undefined {
  const [only, ...others] = setUp.tools;
  const byLine: { readonly line: number; readonly tool: TurningTool }[] = [];
  for (const e of read.events) {
    if (e.kind !== "comment") continue;
    const tool = named(setUp.tools, e.text);
    if (tool !== undefined) byLine.push({ line: e.line, tool });
  }
  const last = (line: number): TurningTool | undefined => {
    let found: TurningTool | undefined;
    for (const n of byLine) if (n.line <= line) found = n.tool;
    return found;
  };
  return (move) => {
    if (move.tool !== undefined) return setUp.tools.find((t) => t.slot === move.tool);
    return others.length === 0 ? only : last(move.line);
  };
}

/** The tool that a comment names; of names within names the longest. */
function named(tools: readonly TurningTool[], comment: string): TurningTool | undefined {
  const said = plain(comment);
  return tools.filter((t) => said.includes(plain(t.name))).sort((a, b) => b.name.length - a.name.length)[0];
}

function plain(text: string): string {
  return ` ${text
    .toLowerCase()
    .replace(/[^a-z0-9.]+/g, " ")
    .trim()} `;
}
