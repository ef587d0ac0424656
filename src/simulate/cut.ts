import type { ReadMove } from "../reader/read-move.ts";
import type { Assembly } from "../shop/cutter.ts";
import { downwards, type OpenColumns, openColumns, takeFrom, upwards } from "./columns.ts";
import { type Path, pathLength, pathOf } from "./path.ts";
import { type Bound, sweep, type Taker } from "./sweep.ts";
import { type CuttingEnd, cuttingEnd } from "./underside.ts";
import { halfDiagonal, isEmpty, topOf, type Wood } from "./wood.ts";

/** Ordinal in `History` for a column that was never cut through. */
export const NEVER = 0x7fffffff;
/** Ordinal for a column that held no wood at the start. */
export const BEFORE = -1;

/** When each column of `least` was cut through. */
export interface History {
  /** For each column the ordinal of the move that emptied it, `NEVER` or `BEFORE`. */
  readonly emptiedBy: Int32Array;
  /** Program line of each ordinal. */
  readonly lines: readonly number[];
}

/** What one move took. */
export interface CutRecord {
  readonly ordinal: number;
  readonly line: number;
  /** Length of the tip's way, mm; 0 for a move with an unknown end, which cuts nothing here. */
  readonly length: number;
  readonly known: boolean;
  /** Wood taken from `most` and from `least`, mm³. The true amount over a whole program lies between; see `volumeOf`. */
  readonly fromMost: number;
  readonly fromLeast: number;
}

/**
 * Wood being cut, move by move. A class because the columns are large and written in place: one of these owns its
 * arrays, and nothing else may write them. `wood` is the live state for looking at between cuts; `snapshot` is a copy
 * that stays.
 */
export class WoodCutter {
  readonly wood: Wood;
  private readonly most: OpenColumns;
  private readonly least: OpenColumns;
  private readonly emptiedBy: Int32Array;
  private readonly lines: number[] = [];
  private readonly ends = new Map<Assembly, CuttingEnd>();
  private readonly bounds: readonly [Bound, Bound];
  private last: { readonly assembly: Assembly; readonly x: number; readonly y: number; readonly z: number } | undefined;

  constructor(start: Wood) {
    this.most = openColumns(start.most);
    this.least = openColumns(start.least);
    this.wood = { ...start, most: this.most, least: this.least };
    this.emptiedBy = new Int32Array(start.grid.nx * start.grid.ny);
    this.emptiedBy.fill(NEVER);
    for (let c = 0; c < this.emptiedBy.length; c++) if (isEmpty(start.least, c)) this.emptiedBy[c] = BEFORE;
    const by = halfDiagonal(start.grid);
    this.bounds = [
      { which: "most", by },
      { which: "least", by },
    ];
  }

  /** Takes what the cutting part of the assembly sweeps in one move. Rapids cut nothing: they are for the contacts. */
  cut(move: ReadMove, assembly: Assembly): CutRecord {
    const ordinal = this.lines.push(move.line) - 1;
    const path = pathOf(move);
    if (path === undefined || move.rapid) {
      this.last = undefined;
      const length = path === undefined ? 0 : pathLength(path);
      return { ordinal, line: move.line, length, known: path !== undefined, fromMost: 0, fromLeast: 0 };
    }
    const end = this.endOf(assembly);
    const skip = this.swept(path, assembly, end);
    const most = new MostTaker(this.most);
    const least = new LeastTaker(this.least, this.emptiedBy, ordinal);
    sweep(this.wood.grid, path, end, this.bounds[0], skip, most);
    sweep(this.wood.grid, path, end, this.bounds[1], skip, least);
    const to = path.to;
    // An arc whose ends differ in radius may end up to that far from where it says.
    const exact = path.kind === "line" || path.slack === 0;
    this.last = exact ? { assembly, x: to.x, y: to.y, z: to.z } : undefined;
    const area = this.wood.grid.cell ** 2;
    return {
      ordinal,
      line: move.line,
      length: pathLength(path),
      known: true,
      fromMost: most.taken * area,
      fromLeast: least.taken * area,
    };
  }

  /** The cutting end of an assembly, worked out once. */
  endOf(assembly: Assembly): CuttingEnd {
    const had = this.ends.get(assembly);
    if (had !== undefined) return had;
    const made = cuttingEnd(assembly);
    this.ends.set(assembly, made);
    return made;
  }

  /** A copy of the wood as it stands. */
  snapshot(): Wood {
    const copy = (c: OpenColumns) => ({ low: c.low.map((a) => a.slice()), high: c.high.map((a) => a.slice()) });
    return { ...this.wood, most: copy(this.most), least: copy(this.least) };
  }

  /** The record of when columns were cut through; live, as `wood` is. */
  history(): History {
    return { emptiedBy: this.emptiedBy, lines: this.lines };
  }

  /** The disc that the move before has cut already, where this one goes on from its end at the same height. */
  private swept(path: Path, assembly: Assembly, end: CuttingEnd) {
    const l = this.last;
    const from = path.from;
    if (l === undefined || l.assembly !== assembly || path.kind === "upright arc") return undefined;
    if (path.kind === "arc" && path.slack > 0) return undefined;
    if (l.x !== from.x || l.y !== from.y || l.z !== from.z) return undefined;
    return { x: from.x, y: from.y, radius: end.radius };
  }
}

/**
 * Cuts one move and gives the wood afterwards as a new value. It copies every column: for a single cut, or for tests;
 * a program is cut with one `WoodCutter`.
 */
export function cutMove(wood: Wood, move: ReadMove, assembly: Assembly): Wood {
  const cutter = new WoodCutter(wood);
  cutter.cut(move, assembly);
  return cutter.wood;
}

class MostTaker implements Taker {
  taken = 0;
  private readonly columns: OpenColumns;
  constructor(columns: OpenColumns) {
    this.columns = columns;
  }

  stands(c: number, above: number): boolean {
    return topOf(this.columns, c) > above;
  }

  take(first: number, last: number, from: number, to: number): void {
    const floor = upwards(from);
    const roof = downwards(to);
    if (!(roof > floor)) return;
    const low = this.columns.low[0]!;
    const high = this.columns.high[0]!;
    let single = this.columns.high.length === 1;
    let taken = 0;
    for (let c = first; c <= last; c++) {
      const h = high[c]!;
      if (single && h <= floor) continue;
      if (single && h <= roof) {
        const l = low[c]!;
        if (h > l) taken += h - Math.max(floor, l);
        high[c] = floor;
      } else {
        const before = heightOf(this.columns, c);
        takeFrom(this.columns, c, from, to, "most");
        single = this.columns.high.length === 1;
        taken += before - heightOf(this.columns, c);
      }
    }
    this.taken += taken;
  }
}

class LeastTaker implements Taker {
  taken = 0;
  private readonly columns: OpenColumns;
  private readonly emptiedBy: Int32Array;
  private readonly ordinal: number;
  constructor(columns: OpenColumns, emptiedBy: Int32Array, ordinal: number) {
    this.columns = columns;
    this.emptiedBy = emptiedBy;
    this.ordinal = ordinal;
  }

  stands(c: number, above: number): boolean {
    return topOf(this.columns, c) > above;
  }

  take(first: number, last: number, from: number, to: number): void {
    const floor = downwards(from);
    const roof = upwards(to);
    if (!(roof > floor)) return;
    const low = this.columns.low[0]!;
    const high = this.columns.high[0]!;
    let single = this.columns.high.length === 1;
    let taken = 0;
    for (let c = first; c <= last; c++) {
      const h = high[c]!;
      if (single && h <= floor) continue;
      if (single && h <= roof) {
        const l = low[c]!;
        if (h > l) {
          if (floor > l) taken += h - floor;
          else {
            taken += h - l;
            this.emptiedBy[c] = this.ordinal;
          }
        }
        high[c] = floor;
      } else {
        const before = heightOf(this.columns, c);
        takeFrom(this.columns, c, from, to, "least");
        single = this.columns.high.length === 1;
        const after = heightOf(this.columns, c);
        taken += before - after;
        if (before > 0 && after === 0) this.emptiedBy[c] = this.ordinal;
      }
    }
    this.taken += taken;
  }
}

/** Wood in one column, mm. */
function heightOf(columns: OpenColumns, c: number): number {
  let sum = 0;
  for (let k = 0; k < columns.high.length; k++) {
    const t = columns.high[k]![c]! - columns.low[k]![c]!;
    if (t > 0) sum += t;
  }
  return sum;
}
