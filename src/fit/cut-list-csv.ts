import type { LengthUnit } from "../units/unit-table.ts";
import type { CutList } from "./cut-list-job.ts";
import type { CutRow } from "./cut-list-rows.ts";

/**
 * A cut list for a spreadsheet: comma-separated, CRLF, quoted where RFC 4180 asks. Sizes are plain decimals in the job's
 * unit. No cell begins as a formula would: names come from the job, and a spreadsheet runs what it is given.
 */
export function cutListCsv({ rows }: CutList, unit: LengthUnit): string {
  const size = (mm: number): string => (unit === "mm" ? trimmed(mm, 2) : trimmed(mm / 25.4, 4));
  const head = [
    "part",
    "what",
    "wood",
    "count",
    ...["finished", "rough"].flatMap((s) => ["length", "width", "thickness"].map((d) => `${s} ${d} (${unit})`)),
    "grain",
    "from",
    "sawn out of",
  ];
  const line = (r: CutRow): readonly string[] => [
    r.twin === undefined ? r.part : `${r.part}, ${r.twin}`,
    r.what,
    r.wood,
    String(r.count),
    ...[r.finished, r.rough].flatMap((s) => [s.length, s.width, s.thickness].map(size)),
    r.grain,
    r.from,
    r.outOf ?? "",
  ];
  return [head, ...rows.map(line)].map((cells) => `${cells.map(csvCell).join(",")}\r\n`).join("");
}

/**
 * One cell. A text that a spreadsheet would take for a formula (it begins with = + - @, their full-width forms, a tab or a
 * line's end, whatever spaces stand before) gets an apostrophe in front.
 */
export function csvCell(text: string): string {
  const safe =
    /^[\s\u0000-\u001f]*[=+\-@\uff1d\uff0b\uff0d\uff20]/.test(text) || /^[\t\r\n]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
}

function trimmed(value: number, places: number): string {
  return String(Number(value.toFixed(places)));
}
