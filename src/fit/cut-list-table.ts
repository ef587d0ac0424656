import type { Size } from "../job/board.ts";
import type { LengthUnit } from "../units/unit-table.ts";
import type { BoardsPlan, Reach, StripCut } from "./cut-list-boards.ts";
import { type CutList, sheetText } from "./cut-list-job.ts";
import { onRule } from "./nearest-64th.ts";

/** A table for a page: plain text in rows. */
export interface PlainTable {
  readonly title: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Sentences below it. */
  readonly notes: readonly string[];
}

/** The cut list for the bench: what is sawn, how large, which way the grain runs, out of what. */
export function cutListTable({ rows, allowances: a }: CutList, unit: LengthUnit): PlainTable {
  const size = (mm: number): string => sizeText(mm, unit);
  return {
    title: "Cut list",
    columns: ["part", "wood", "count", "rough: length × width × thickness", "finished", "grain", "from"],
    rows: rows.map((r) => [
      r.twin === undefined ? r.part : `${r.part}, ${r.twin}`,
      r.wood,
      String(r.count),
      r.outOf === undefined ? sizesText(r.rough, unit) : "",
      r.only === undefined ? sizesText(r.finished, unit) : "",
      r.grain === "none" ? "either way" : r.grain === "along length" ? "along the length" : "along the width",
      r.outOf ?? (r.only === undefined ? r.from : `${r.from}, for several parts`),
    ]),
    notes: [
      `Rough sizes are ${size(a.length)} longer at each end, ${size(a.width)} wider at each edge and ${size(a.thickness)} thicker than finished ones; the saw takes ${size(a.kerf)}${a.assumed ? " (common practice, no source; the job says nothing else)" : ""}.`,
      "A part that comes out of a board for several parts is counted with that board.",
    ],
  };
}

/** How much of each wood. */
export function woodTable({ totals }: CutList): PlainTable {
  return {
    title: "How much wood",
    columns: ["wood", "boards cut into", "board feet", "m³", "ends in parts"],
    rows: totals.map((t) => [
      t.wood,
      t.sheet > 0 && t.boards - t.rough < 1e-6 ? sheetText(t.sheet) : `${(t.boards / 1e6).toFixed(2)} dm³`,
      t.boardFeet.toFixed(2),
      t.cubicMetres.toFixed(4),
      `${Math.round((1 - t.waste) * 100)} %`,
    ]),
    notes: ["A board foot is 144 cubic inches. Sellers may count boards thinner than an inch as an inch thick."],
  };
}

/** How boards are cut up, a table for each wood and thickness: a row a strip, in the order in which it comes off the board. */
export function cuttingPlanTables({ plans }: CutList, unit: LengthUnit): readonly PlainTable[] {
  return plans.map((plan) => ({
    title: `${plan.inStock ? "Cutting" : "Buying"} ${plan.wood}, ${sizeText(plan.thickness, unit)} thick`,
    columns: ["board", "strip", "pieces, from one end", "left over"],
    rows: [
      ...plan.boards.flatMap((b, i) =>
        stripRows(`${i + 1}: ${sizeText(b.length, unit)} × ${sizeText(b.width, unit)}`, b.strips, unit),
      ),
      ...plan.buy.flatMap((b) =>
        stripRows(`${sizeText(b.length, unit)} long, ${sizeText(b.width, unit)} wide in all`, b.strips, unit),
      ),
      ...plan.missing.map((m) => [
        "no board",
        "",
        `${m.count} × ${m.name}: ${sizeText(m.along, unit)} × ${sizeText(m.across, unit)} × ${sizeText(m.thick, unit)}`,
        "",
      ]),
    ],
    notes: notesOf(plan, unit),
  }));
}

function stripRows(board: string, strips: readonly StripCut[], unit: LengthUnit): readonly (readonly string[])[] {
  return strips.map((s, i) => [
    i === 0 ? board : "",
    sizeText(s.width, unit),
    grouped(s, unit).join(", "),
    sizeText(s.bar.offcut, unit),
  ]);
}

/** Pieces in a row; the same one several times is said once. */
function grouped({ bar }: StripCut, unit: LengthUnit): readonly string[] {
  const out: { name: string; length: number; count: number }[] = [];
  for (const p of bar.pieces) {
    const last = out.at(-1);
    if (last?.name === p.name) last.count += 1;
    else out.push({ name: p.name, length: p.to - p.from, count: 1 });
  }
  return out.map((o) => `${o.count > 1 ? `${o.count} × ` : ""}${o.name} ${sizeText(o.length, unit)}`);
}

function notesOf(plan: BoardsPlan, unit: LengthUnit): readonly string[] {
  const said = (what: string, r: Reach): string => {
    if (r.used === 0) return "";
    const used = `${what}: ${sizeText(r.used, unit)} cut into`;
    if (r.least === undefined) return `${used}; whether less would do is not known.`;
    if (r.used <= r.least + 1e-6) return `${used}; no way of cutting takes less.`;
    return `${used}; no way of cutting takes less than ${sizeText(r.least, unit)}.`;
  };
  return [
    said("Strips of these widths", plan.lengths),
    ...(plan.inStock ? [said("Boards across", plan.widths)] : []),
    ...(plan.inStock ? [] : ["Lengths that boards are often sold in: common practice, no source."]),
    "A piece narrower than its strip is ripped to width afterwards.",
  ].filter((n) => n !== "");
}

function sizesText(s: Size, unit: LengthUnit): string {
  return [s.length, s.width, s.thickness].map((v) => sizeText(v, unit)).join(" × ");
}

/** A size for saw and rule: to the tenth of a millimetre, or the nearest 64th. */
function sizeText(mm: number, unit: LengthUnit): string {
  return unit === "mm" ? String(Number(mm.toFixed(1))) : onRule(Math.max(0, mm)).inch;
}
