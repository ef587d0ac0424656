import * as z from "zod";
import type { Finding } from "../finding.ts";
import { findingsOf } from "./issues.ts";
import { count, length, list, map, named, type Reading } from "./leaves.ts";
import { sourceAtPath } from "./places.ts";
import type { SourceText } from "./source-text.ts";
import type { StockDescription } from "./stock-boards.ts";
import { type Entry, placeOfKey, toData } from "./tree.ts";

function boards(r: Reading) {
  const board = map(
    {
      length: length(r, "How long the board is, along the grain.", "length: 1200"),
      width: length(r, "How wide it is.", "width: 140"),
      thickness: length(r, "How thick it is, as it lies there.", "thickness: 20"),
      count: count(r, "How many of them; 1 without it.", "count: 2", 200).optional(),
    },
    'write "- {length: 1200, width: 140, thickness: 20}"',
  );
  return list(board, 'write each board on a line of its own: "- {length: 1200, width: 140, thickness: 20}"');
}

/** The boards in the shop, for editors. */
export function stockForEditors(r: Reading) {
  return named(boards(r), "").meta({
    description: "Boards that lie in the shop, by wood: what the cutting plan cuts from.",
    examples: [{ cherry: [{ length: 1200, width: 140, thickness: 20, count: 2 }] }],
  });
}

/** Reads `stock:`. A mistake in one wood hides none in another. */
export function readStock(
  source: SourceText,
  entry: Entry | undefined,
  r: Reading,
): { readonly stock: readonly StockDescription[]; readonly findings: readonly Finding[] } {
  if (entry === undefined || entry.value.kind === "broken") return { stock: [], findings: [] };
  const whole = named(z.any(), "write each wood with a colon, and below it its boards");
  const whose = { source, node: entry.value, entry };
  const head = whole.safeParse(toData(entry.value));
  if (!head.success) return { stock: [], findings: findingsOf(head.error.issues, whose) };
  const found: Finding[] = [];
  const schema = boards(r);
  const stock = (entry.value.kind === "map" ? entry.value.entries : []).flatMap((e): readonly StockDescription[] => {
    const own = { source, node: e.value, entry: e };
    const said = schema.safeParse(toData(e.value));
    if (!said.success) {
      found.push(...findingsOf(said.error.issues, own));
      return [];
    }
    return [
      {
        wood: e.key.trim().replace(/\s+/g, " "),
        boards: said.data.map((b, i) => ({ ...b, count: b.count ?? 1, source: sourceAtPath(own, [i]) })),
        source: placeOfKey(source, e),
      },
    ];
  });
  return { stock, findings: found };
}
