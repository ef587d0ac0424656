import type { Finding } from "../finding.ts";
import type { LengthUnit } from "../units/unit-table.ts";
import { readTree } from "./read-tree.ts";
import { unitWord } from "./schema.ts";
import { sourceText } from "./source-text.ts";
import { entryOf } from "./tree.ts";

/** A case to be measured: its openings as they stand, seen from the front. Read by the measuring sheet. */
export interface FormGrid {
  readonly title: string;
  readonly unit: LengthUnit;
  /** Both ≥ 1. */
  readonly rows: number;
  readonly columns: number;
  /** In rows from the top, each from the left; as many as rows × columns. */
  readonly names: readonly string[];
}

/** Most openings of a case. */
const MOST = 60;

/** A grid with names as given, the rest numbered. */
export function formGrid(
  title: string,
  unit: LengthUnit,
  rows: number,
  columns: number,
  names: readonly string[],
): FormGrid {
  const all = Array.from({ length: rows * columns }, (_, i) => names[i] ?? `drawer ${i + 1}`);
  return { title, unit, rows, columns, names: all };
}

/**
 * The case of a job that may not be measured yet: title, unit, columns and the openings' names, however little stands beneath
 * them. Undefined with a sentence where there is none.
 */
export function formGridOf(
  text: string,
  file: string,
): FormGrid | { readonly lacks: string; readonly findings: readonly Finding[] } {
  const tree = readTree(sourceText(file, text.startsWith("\ufeff") ? text.slice(1) : text));
  if (!tree.root || tree.shaky) return { lacks: `${file} cannot be read`, findings: tree.findings };
  const lacks = (what: string) => ({ lacks: what, findings: [] });
  const scalar = (key: string, of = tree.root): string | undefined => {
    const value = entryOf(of, key)?.value;
    return value?.kind === "text" ? value.text.trim() : undefined;
  };
  const own = entryOf(tree.root, "case")?.value;
  const openings = entryOf(own, "openings")?.value;
  if (openings?.kind !== "map" || openings.entries.length === 0)
    return lacks(`${file} names no openings below "case:"`);
  const names = openings.entries.map((e) => e.key.trim().replace(/\s+/g, " "));
  const columns = Number(scalar("columns", own) ?? "1");
  if (!Number.isInteger(columns) || columns < 1 || names.length % columns !== 0 || names.length > MOST) {
    return lacks(`the openings of ${file} do not fill rows of "columns"`);
  }
  const unit = unitWord().safeParse(scalar("units") ?? "");
  return {
    title: scalar("title") ?? file,
    unit: unit.success ? unit.data : "mm",
    rows: names.length / columns,
    columns,
    names,
  };
}
