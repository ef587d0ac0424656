import type { Point } from "../shapes/point.ts";
import type { History } from "./cut.ts";
import { type HeldBy, holdMask, isHeld } from "./held.ts";
import { type Columns, centreOf, isEmpty, type Wood } from "./wood.ts";

/** A piece of wood by itself: no column of it stands beside one of another piece. */
export interface LonePiece {
  /** Seen from above, mm². */
  readonly area: number;
  /** A place well inside it, or in any of its columns where it is a sliver. */
  readonly at: Point;
  readonly held: boolean;
  /** No full block of three by three cells in it: a hair or a splinter. */
  readonly sliver: boolean;
}

/** A piece that was, at some moment, joined to nothing that is held. */
export interface LoosePiece {
  /** Program line of the move that cut it free; undefined when it lay loose from the start. */
  readonly line: number | undefined;
  /** Its size at that moment, seen from above, mm². */
  readonly area: number;
  readonly at: Point;
}

/** The pieces that the wood is in now, from `least`; the largest first. */
export function lonePieces(wood: Wood, held: HeldBy): readonly LonePiece[] {
  const f = new Forest(wood, held);
  return f
    .roots()
    .map((r) => {
      const block = f.blockAt[r]!;
      return {
        area: f.size[r]! * wood.grid.cell ** 2,
        at: centreOf(wood.grid, block >= 0 ? block : f.anyAt[r]!),
        held: isHeld(wood, held, f.hold[r]!),
        sliver: block < 0,
      };
    })
    .sort((a, b) => b.area - a.area);
}

/**
 * The pieces that came loose on the way, slivers left out: also slugs that were cut free and then milled away.
 *
 * It goes backwards: from the wood at the end, the columns that each move cut through are put back, last move first,
 * and joined to their neighbours in a union-find forest. A piece that was by itself and not held before a move's
 * columns come back, and is part of a held one after, was cut free by that move. `least` was cut with the grown
 * cutter, so pieces count as loose rather early than late. O(n α(n)) for n columns.
 *
 * Columns that are cut through later count as joined to every neighbour while they stand, since only their last height
 * is kept; columns that stand at the end count as joined where their heights overlap at the end. A column is in one
 * piece, also where an edge cut has parted its upper from its lower wood.
 */
export function loosePieces(wood: Wood, history: History, held: HeldBy): readonly LoosePiece[] {
  const cell2 = wood.grid.cell ** 2;
  const back = cutThrough(history);
  if (back.length === 0 && isOneBoard(wood)) {
    const c = centreColumn(wood);
    const mask = holdMask(wood, held);
    let holds = 0;
    let columns = 0;
    for (let k = 0; k < mask.length; k++) {
      if (isEmpty(wood.least, k)) continue;
      columns++;
      holds += mask[k]!;
    }
    return isHeld(wood, held, holds) ? [] : [{ line: undefined, area: columns * cell2, at: centreOf(wood.grid, c) }];
  }
  const f = new Forest(wood, held);
  const loose: LoosePiece[] = [];
  const seen = new Set<number>();
  for (let k = back.length - 1; k >= 0; ) {
    const ordinal = history.emptiedBy[back[k]!]!;
    let first = k;
    while (first > 0 && history.emptiedBy[back[first - 1]!] === ordinal) first--;
    const group = back.subarray(first, k + 1);
    seen.clear();
    for (const c of group) f.eachBeside(c, (d) => seen.add(f.find(f.label[d]!)));
    const before = [...seen]
      .filter((r) => f.blockAt[r]! >= 0 && !isHeld(wood, held, f.hold[r]!))
      .map((r) => ({ r, area: f.size[r]! * cell2, at: centreOf(wood.grid, f.blockAt[r]!) }));
    f.putBack(group);
    for (const { r, area, at } of before) {
      if (isHeld(wood, held, f.hold[f.find(r)]!)) loose.push({ line: history.lines[ordinal], area, at });
    }
    k = first - 1;
  }
  for (const r of f.roots()) {
    if (f.blockAt[r]! < 0 || isHeld(wood, held, f.hold[r]!)) continue;
    loose.push({ line: undefined, area: f.size[r]! * cell2, at: centreOf(wood.grid, f.blockAt[r]!) });
  }
  return loose.reverse();
}

/** True where the columns that hold wood fill a rectangle and all stand on one level: then they are one piece. */
function isOneBoard({ grid, least }: Wood): boolean {
  if (least.high.length > 1) return false;
  const low = least.low[0]!;
  const high = least.high[0]!;
  const { nx, ny } = grid;
  let level = Number.NaN;
  let count = 0;
  let left = nx;
  let right = -1;
  let bottom = ny;
  let top = -1;
  for (let j = 0; j < ny; j++) {
    for (let i = 0, c = j * nx; i < nx; i++, c++) {
      if (!(high[c]! > low[c]!)) continue;
      if (count === 0) level = low[c]!;
      else if (low[c] !== level) return false;
      count++;
      if (i < left) left = i;
      if (i > right) right = i;
      if (j < bottom) bottom = j;
      if (j > top) top = j;
    }
  }
  return count > 0 && count === (right - left + 1) * (top - bottom + 1);
}

function centreColumn({ grid }: Wood): number {
  return Math.floor(grid.ny / 2) * grid.nx + Math.floor(grid.nx / 2);
}

/** Columns that a move cut through, in the order of the moves. */
function cutThrough(history: History): Int32Array {
  const { emptiedBy, lines } = history;
  // Counting sort: one bucket a move.
  const starts = new Int32Array(lines.length + 1);
  for (let c = 0; c < emptiedBy.length; c++) {
    const o = emptiedBy[c]!;
    if (o >= 0 && o < lines.length) starts[o + 1]!++;
  }
  for (let o = 0; o < lines.length; o++) starts[o + 1]! += starts[o]!;
  const out = new Int32Array(starts[lines.length]!);
  if (out.length === 0) return out;
  for (let c = 0; c < emptiedBy.length; c++) {
    const o = emptiedBy[c]!;
    if (o >= 0 && o < lines.length) out[starts[o]!++] = c;
  }
  return out;
}

/** Pieces as trees: runs of joined columns in a row, joined across rows. A class because it owns large arrays. */
class Forest {
  /** For each column the run it belongs to, or −1 where it holds no wood. */
  readonly label: Int32Array;
  /** For each root: columns, holding columns, a column amid a full block (−1 for none), any column. */
  readonly size: number[] = [];
  readonly hold: number[] = [];
  readonly blockAt: number[] = [];
  readonly anyAt: number[] = [];
  private readonly parent: number[] = [];
  private readonly wood: Wood;
  /** 1 where a column adds to the hold of its piece. */
  private readonly holding: Uint8Array;

  constructor(wood: Wood, held: HeldBy) {
    this.wood = wood;
    this.holding = holdMask(wood, held);
    const n = wood.grid.nx * wood.grid.ny;
    this.label = new Int32Array(n).fill(-1);
    this.labelRuns();
    this.findBlocks();
  }

  find(run: number): number {
    const { parent } = this;
    let r = run;
    while (parent[r] !== r) {
      parent[r] = parent[parent[r]!]!;
      r = parent[r]!;
    }
    return r;
  }

  roots(): number[] {
    const out: number[] = [];
    for (let r = 0; r < this.parent.length; r++) if (this.parent[r] === r) out.push(r);
    return out;
  }

  /** Calls with each of the four neighbours that holds wood. */
  eachBeside(c: number, visit: (d: number) => void): void {
    const { nx, ny } = this.wood.grid;
    const i = c % nx;
    if (i > 0 && this.label[c - 1]! >= 0) visit(c - 1);
    if (i < nx - 1 && this.label[c + 1]! >= 0) visit(c + 1);
    if (c >= nx && this.label[c - nx]! >= 0) visit(c - nx);
    if (c < nx * (ny - 1) && this.label[c + nx]! >= 0) visit(c + nx);
  }

  /** Puts columns back that a move had cut through. */
  putBack(columns: Int32Array): void {
    for (const c of columns) this.label[c] = this.plant(c);
    for (const c of columns) this.eachBeside(c, (d) => this.join(this.label[c]!, this.label[d]!));
    const { nx } = this.wood.grid;
    for (const c of columns) {
      for (let dj = -1; dj <= 1; dj++) for (let di = -1; di <= 1; di++) this.noteBlock(c + dj * nx + di);
    }
  }

  private plant(c: number): number {
    const run = this.parent.length;
    this.parent.push(run);
    this.size.push(1);
    this.hold.push(this.holding[c]!);
    this.blockAt.push(-1);
    this.anyAt.push(c);
    return run;
  }

  private join(a: number, b: number): void {
    let r = this.find(a);
    let s = this.find(b);
    if (r === s) return;
    if (this.size[r]! < this.size[s]!) [r, s] = [s, r];
    this.parent[s] = r;
    this.size[r]! += this.size[s]!;
    this.hold[r]! += this.hold[s]!;
    if (this.blockAt[r]! < 0) this.blockAt[r] = this.blockAt[s]!;
  }

  private labelRuns(): void {
    const { grid, least } = this.wood;
    const { nx, ny } = grid;
    const { label, holding } = this;
    for (let j = 0; j < ny; j++) {
      // The run being walked, with its columns not yet counted in its tree.
      let run = -1;
      let columns = 0;
      let holds = 0;
      let under = -1;
      const close = () => {
        if (run < 0) return;
        const r = this.find(run);
        this.size[r]! += columns;
        this.hold[r]! += holds;
      };
      for (let i = 0; i < nx; i++) {
        const c = j * nx + i;
        if (isEmpty(least, c)) {
          close();
          run = -1;
          continue;
        }
        if (run >= 0 && overlap(least, c, c - 1) > 0) {
          columns++;
          holds += holding[c]!;
        } else {
          close();
          run = this.plant(c);
          columns = 0;
          holds = 0;
          under = -1;
        }
        label[c] = run;
        const below = j > 0 ? label[c - nx]! : -1;
        // Once a run below: its next columns are the same tree.
        if (below >= 0 && below !== under && overlap(least, c, c - nx) > 0) {
          this.join(run, below);
          under = below;
        }
      }
      close();
    }
  }

  private findBlocks(): void {
    const { nx, ny } = this.wood.grid;
    const { label } = this;
    for (let j = 1; j < ny - 1; j++) {
      let run = 0;
      for (let i = 0; i < nx; i++) {
        const c = j * nx + i;
        run = label[c - nx]! >= 0 && label[c]! >= 0 && label[c + nx]! >= 0 ? run + 1 : 0;
        if (run < 3) continue;
        const r = this.find(label[c - 1]!);
        if (this.blockAt[r]! < 0) this.blockAt[r] = c - 1;
      }
    }
  }

  private noteBlock(c: number): void {
    const { nx, ny } = this.wood.grid;
    const i = c % nx;
    if (i < 1 || i >= nx - 1 || c < nx || c >= nx * (ny - 1)) return;
    for (let d = c - nx; d <= c + nx; d += nx) {
      if (this.label[d - 1]! < 0 || this.label[d]! < 0 || this.label[d + 1]! < 0) return;
    }
    const r = this.find(this.label[c]!);
    if (this.blockAt[r]! < 0) this.blockAt[r] = c;
  }
}

/** Height over which two neighbouring columns both hold wood, mm. */
export function overlap(columns: Columns, c: number, d: number): number {
  const { low, high } = columns;
  const n = high.length;
  if (n === 1) {
    const shared = Math.min(high[0]![c]!, high[0]![d]!) - Math.max(low[0]![c]!, low[0]![d]!);
    return Math.max(shared, 0);
  }
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const lowC = low[k]![c]!;
    const highC = high[k]![c]!;
    if (!(highC > lowC)) continue;
    for (let m = 0; m < n; m++) {
      const shared = Math.min(highC, high[m]![d]!) - Math.max(lowC, low[m]![d]!);
      if (shared > 0) sum += shared;
    }
  }
  return sum;
}
