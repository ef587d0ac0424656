import type { Columns } from "./wood.ts";

/** Columns being cut: the same as `Columns`, but ours to write on. */
export interface OpenColumns {
  readonly low: Float32Array[];
  readonly high: Float32Array[];
  /** The undersides still belong to another state: cuts from above hardly ever change them. */
  lowIsShared: boolean;
}

/** A copy to cut. The undersides are copied only when the first of them is written. */
export function openColumns(columns: Columns): OpenColumns {
  return { low: [...columns.low], high: columns.high.map((a) => a.slice()), lowIsShared: true };
}

/** The undersides, ours to write on. */
function ownLow(columns: OpenColumns): Float32Array[] {
  if (columns.lowIsShared) {
    for (const [k, a] of columns.low.entries()) columns.low[k] = a.slice();
    columns.lowIsShared = false;
  }
  return columns.low;
}

/** The nearest single-precision number not below x. */
export function upwards(x: number): number {
  const f = Math.fround(x);
  return f >= x ? f : Math.fround(f + Math.max(Math.abs(f) * 1.2e-7, 1.5e-45));
}

/** The nearest single-precision number not above x. */
export function downwards(x: number): number {
  return -upwards(-x);
}

/**
 * Takes [from, to] out of one column, a new layer being opened where the cut leaves wood on both sides of it.
 * `most` rounds so that more wood stays, `least` so that less does. mm.
 */
export function takeFrom(columns: OpenColumns, c: number, from: number, to: number, which: "most" | "least"): void {
  const more = which === "most";
  const floor = more ? upwards(from) : downwards(from);
  const roof = more ? downwards(to) : upwards(to);
  if (!(roof > floor)) return;
  for (let k = columns.high.length - 1; k >= 0; k--) {
    const low = columns.low[k]![c]!;
    const high = columns.high[k]![c]!;
    if (high <= floor || low >= roof) continue;
    // An empty column too is marked down, so that it tells how far the cut went: see `Columns`.
    if (high <= roof) columns.high[k]![c] = floor;
    else if (low >= floor) ownLow(columns)[k]![c] = roof;
    else if (high > low) {
      lift(columns, c, k);
      columns.low[k + 1]![c] = roof;
      columns.high[k + 1]![c] = high;
      columns.high[k]![c] = floor;
    }
  }
}

/** Makes room above layer k of a column: the layers above it move up by one. */
function lift(columns: OpenColumns, c: number, k: number): void {
  ownLow(columns);
  let top = columns.high.length - 1;
  if (top === k || columns.high[top]![c] !== Number.NEGATIVE_INFINITY) {
    const n = columns.high[0]!.length;
    columns.low.push(new Float32Array(n).fill(Number.POSITIVE_INFINITY));
    columns.high.push(new Float32Array(n).fill(Number.NEGATIVE_INFINITY));
    top++;
  }
  for (let m = top; m > k + 1; m--) {
    columns.low[m]![c] = columns.low[m - 1]![c]!;
    columns.high[m]![c] = columns.high[m - 1]![c]!;
  }
}
