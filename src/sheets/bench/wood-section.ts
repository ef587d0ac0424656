import { cutListTable, cuttingPlanTables, type PlainTable, woodTable } from "../../fit/cut-list-table.ts";
import type { Block } from "./block.ts";
import { hundredth, type LengthWords } from "./length-words.ts";
import type { BenchWork } from "./work.ts";

/** What wood the job takes: the cut list, how boards are cut up, how much of each wood, and boards that fronts share. */
export function woodSection(work: BenchWork, say: LengthWords): readonly Block[] {
  const { cutList, job } = work;
  if (cutList.rows.length === 0) return [];
  return [
    { kind: "heading", level: 1, text: "Wood" },
    ...tableBlocks(cutListTable(cutList, job.unit), [24, 14, 8, 26, 22, 16, 18]),
    ...runBlocks(work, say),
    ...planBlocks(cuttingPlanTables(cutList, job.unit)),
    ...tableBlocks(woodTable(cutList), [24, 30, 16, 16, 16]),
  ];
}

/** How boards are cut up; what holds of every table is said once, below the last. */
function planBlocks(tables: readonly PlainTable[]): readonly Block[] {
  const common = (tables[0]?.notes ?? []).filter((n) => tables.every((t) => t.notes.includes(n)));
  return [
    ...tables.flatMap((t) =>
      tableBlocks({ ...t, notes: t.notes.filter((n) => !common.includes(n)) }, [26, 12, 52, 12]),
    ),
    ...(common.length === 0 ? [] : [{ kind: "list", items: common } as const]),
  ];
}

function tableBlocks(table: PlainTable, shares: readonly number[]): readonly Block[] {
  if (table.rows.length === 0) return [];
  return [
    {
      kind: "table",
      caption: table.title,
      columns: table.columns.map((head, i) => ({ head, share: shares[i] ?? 16 })),
      rows: table.rows,
    },
    ...(table.notes.length === 0 ? [] : [{ kind: "list", items: table.notes } as const]),
  ];
}

/** Boards that several fronts are sawn from, in order, grain running through. */
function runBlocks({ fit }: BenchWork, say: LengthWords): readonly Block[] {
  const runs = fit?.runs ?? [];
  if (runs.length === 0) return [];
  return [
    {
      kind: "table",
      caption: "Boards that fronts are sawn from, grain running through",
      columns: [
        { head: "board", share: 20 },
        { head: "size", share: 26 },
        { head: "sawn off it, in order, from its first end", share: 54 },
      ],
      rows: runs.map((r) => [
        `${r.name}, ${r.wood}`,
        say.size(r.size.length, r.size.width, r.size.thickness),
        `${r.parts.map((p) => `${p.part}: ${hundredth(p.from)} to ${hundredth(p.to)} mm`).join("; ")}; ${hundredth(r.between)} mm between two`,
      ]),
    },
  ];
}
