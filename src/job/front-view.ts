import type { Finding, Source } from "../finding.ts";
import { jobFinding } from "./job-finding.ts";
import type { SourceText } from "./source-text.ts";
import { entryOf, placeOf, type Tree } from "./tree.ts";

/** The cabinet's drawers as they stand, seen from the front: a grid in which a drawer may span rows and columns. */
export interface FrontView {
  readonly rows: number;
  readonly columns: number;
  readonly cells: readonly DrawerCell[];
}

/** One drawer of it; row and column of its top left corner, counted from 1 at the top left. */
export interface DrawerCell {
  readonly name?: string;
  readonly row: number;
  readonly column: number;
  /** How many rows and columns it spans. */
  readonly rows: number;
  readonly columns: number;
}

/** Most rows or columns. */
const MOST = 100;
/** What stands where there is no drawer. */
const NOTHING = /^(?:-|–|—|\.|none|nothing)?$/i;

/** The cell of a drawer by its name, whatever its capitals. */
export function cellCalled(view: FrontView, name: string): DrawerCell | undefined {
  const wanted = name.trim().replace(/\s+/g, " ").toLowerCase();
  return view.cells.find((c) => c.name?.toLowerCase() === wanted);
}

/** The cell that covers a row and column. */
export function cellOver(view: FrontView, row: number, column: number): DrawerCell | undefined {
  return view.cells.find(
    (c) => row >= c.row && row < c.row + c.rows && column >= c.column && column < c.column + c.columns,
  );
}

/**
 * Reads a front view: a list with one line for each row from the top, each a list of names or names between commas. A
 * name that stands several times is one drawer as wide or high as that; "-" is a place without a drawer.
 */
export function readFrontView(
  source: SourceText,
  node: Tree | undefined,
): { readonly view?: FrontView; readonly findings: readonly Finding[] } {
  if (node === undefined || node.kind === "broken") return { findings: [] };
  const refuse = (at: Source, what: string, mend: string): { readonly findings: readonly Finding[] } => ({
    findings: [jobFinding("front-view-shape", at, what, { mend })],
  });
  const whole = placeOf(source, node);
  const example = 'write a line for each row from the top: "- [cinnamon, cloves]"';
  if (node.kind !== "list" || node.items.length === 0) return refuse(whole, "this is no front view", example);
  const lines: { readonly names: readonly string[]; readonly at: Source }[] = [];
  for (const item of node.items) {
    if (item.kind === "broken") return { findings: [] };
    const names = namesIn(item);
    if (names === undefined) return refuse(placeOf(source, item), "this is no row of drawers", example);
    lines.push({ names, at: placeOf(source, item) });
  }
  const columns = lines[0]!.names.length;
  if (columns > MOST || lines.length > MOST) {
    return refuse(whole, `a front view has at most ${MOST} rows and ${MOST} columns`, "divide it among several jobs");
  }
  const ragged = lines.find((l) => l.names.length !== columns);
  if (ragged !== undefined) {
    return refuse(
      ragged.at,
      `this row has ${ragged.names.length} places and the first has ${columns}`,
      'repeat the name of a drawer that is wider: "- [cumin, cumin]"; write - where there is none',
    );
  }
  return gathered(lines, refuse);
}

function namesIn(node: Tree): readonly string[] | undefined {
  if (node.kind === "text") return node.text.split(",").map(tidy);
  if (node.kind !== "list" || node.items.length === 0) return undefined;
  const texts = node.items.map((i) => (i.kind === "text" ? tidy(i.text) : i.kind === "empty" ? "-" : undefined));
  return texts.every((t): t is string => t !== undefined) ? texts : undefined;
}

function tidy(name: string): string {
  return name.trim().replace(/\s+/g, " ");
}

function gathered(
  lines: readonly { readonly names: readonly string[]; readonly at: Source }[],
  refuse: (at: Source, what: string, mend: string) => { readonly findings: readonly Finding[] },
): { readonly view?: FrontView; readonly findings: readonly Finding[] } {
  const places = new Map<
    string,
    { name: string; row: number; column: number; lastRow: number; lastColumn: number; n: number }
  >();
  for (const [i, { names }] of lines.entries()) {
    for (const [k, name] of names.entries()) {
      if (NOTHING.test(name)) continue;
      const key = name.toLowerCase();
      const p = places.get(key) ?? { name, row: i, column: k, lastRow: i, lastColumn: k, n: 0 };
      places.set(key, {
        ...p,
        column: Math.min(p.column, k),
        lastRow: i,
        lastColumn: Math.max(p.lastColumn, k),
        n: p.n + 1,
      });
    }
  }
  for (const p of places.values()) {
    const full = (p.lastRow - p.row + 1) * (p.lastColumn - p.column + 1);
    if (p.n !== full) {
      return refuse(
        lines[p.lastRow]!.at,
        `"${p.name}" does not stand in one rectangle`,
        "a drawer's name stands side by side as often as it is wide, and above each other as often as it is high; give two drawers two names",
      );
    }
  }
  const cells = [...places.values()].map((p) => ({
    name: p.name,
    row: p.row + 1,
    column: p.column + 1,
    rows: p.lastRow - p.row + 1,
    columns: p.lastColumn - p.column + 1,
  }));
  if (cells.length === 0) return refuse(lines[0]!.at, "this front view has no drawers", "name at least one drawer");
  return { view: { rows: lines.length, columns: lines[0]!.names.length, cells }, findings: [] };
}

/** The front view that a measured case gives: its openings, which fill rows from the top, each from the left. */
export function viewOfCase(node: Tree | undefined): FrontView | undefined {
  const openings = entryOf(node, "openings")?.value;
  if (openings?.kind !== "map" || openings.entries.length === 0) return undefined;
  const said = entryOf(node, "columns")?.value;
  const columns = said?.kind === "text" ? Number(said.text.trim()) : 1;
  if (!(Number.isInteger(columns) && columns >= 1 && columns <= MOST)) return undefined;
  const cells = openings.entries.map((e, i) => ({
    name: tidy(e.key),
    row: Math.floor(i / columns) + 1,
    column: (i % columns) + 1,
    rows: 1,
    columns: 1,
  }));
  return { rows: Math.ceil(cells.length / columns), columns, cells };
}

/** A grid of drawers without names, some of them joined from several cells; or which two would overlap. */
export function plainView(
  rows: number,
  columns: number,
  joined: readonly { readonly row: number; readonly column: number; readonly rows: number; readonly columns: number }[],
): FrontView | { readonly overlap: number } {
  const taken = new Set<string>();
  for (const [i, j] of joined.entries()) {
    for (let r = j.row; r < j.row + j.rows; r++) {
      for (let c = j.column; c < j.column + j.columns; c++) {
        const key = `${r} ${c}`;
        if (taken.has(key)) return { overlap: i };
        taken.add(key);
      }
    }
  }
  const cells: DrawerCell[] = [...joined];
  for (let row = 1; row <= rows; row++) {
    for (let column = 1; column <= columns; column++) {
      if (!taken.has(`${row} ${column}`)) cells.push({ row, column, rows: 1, columns: 1 });
    }
  }
  return { rows, columns, cells };
}
