import { rectangle } from "../shapes/outlines.ts";
import { boundsOfRegion, type Region } from "../shapes/region.ts";
import { line, type Segment } from "../shapes/segment.ts";
import type { DrawerCell, FrontView } from "./front-view.ts";

/** How far the filled drawer stays within its lines, as a share of a cell: lines burned twice turn darker. Ours, no source. */
const GAP = 0.12;

/** A pictogram as geometry about its own middle, Y up. mm. */
export interface Pictogram {
  /** Every line between and around the drawers, each stretch once. */
  readonly chains: readonly (readonly Segment[])[];
  /** The filled drawer, a little in from its lines. */
  readonly region: Region;
}

/**
 * The grid of a cabinet's drawers with one filled. Lines that two drawers share are drawn once, since a beam that goes
 * over a line twice burns it darker; a place without a drawer has none of its own.
 * @param width of the whole grid, mm, > 0
 * @param height of the whole grid, mm, > 0
 */
export function drawPictogram(view: FrontView, filled: DrawerCell, width: number, height: number): Pictogram {
  const x = (column: number): number => (width * (column - 1)) / view.columns - width / 2;
  const y = (row: number): number => height / 2 - (height * (row - 1)) / view.rows;
  // Unit stretches of lines, by the row or column boundary they lie on.
  const level = new Map<number, Set<number>>();
  const upright = new Map<number, Set<number>>();
  const add = (to: Map<number, Set<number>>, at: number, unit: number): void => {
    to.set(at, (to.get(at) ?? new Set()).add(unit));
  };
  for (const c of view.cells) {
    for (let k = c.column; k < c.column + c.columns; k++) {
      add(level, c.row, k);
      add(level, c.row + c.rows, k);
    }
    for (let r = c.row; r < c.row + c.rows; r++) {
      add(upright, c.column, r);
      add(upright, c.column + c.columns, r);
    }
  }
  const chains = [
    ...runs(level).map(({ at, from, to }) => [line({ x: x(from), y: y(at) }, { x: x(to), y: y(at) })]),
    ...runs(upright).map(({ at, from, to }) => [line({ x: x(at), y: y(from) }, { x: x(at), y: y(to) })]),
  ];
  const gap = GAP * Math.min(width / view.columns, height / view.rows);
  const region = rectangle(
    { x: x(filled.column) + gap, y: y(filled.row + filled.rows) + gap },
    { x: x(filled.column + filled.columns) - gap, y: y(filled.row) - gap },
  );
  return { chains, region };
}

/** Stretches that follow each other, as one. */
function runs(units: ReadonlyMap<number, ReadonlySet<number>>): { at: number; from: number; to: number }[] {
  const out: { at: number; from: number; to: number }[] = [];
  for (const [at, set] of [...units].sort(([a], [b]) => a - b)) {
    let last: { at: number; from: number; to: number } | undefined;
    for (const u of [...set].sort((a, b) => a - b)) {
      if (last !== undefined && last.to === u) last.to = u + 1;
      else {
        last = { at, from: u, to: u + 1 };
        out.push(last);
      }
    }
  }
  return out;
}

/** Lines across a filled drawer: enough that it reads as filled from a step away. Ours, no source. */
const HATCHES = 5;

/** A filled drawer as slanting lines, for ways of making that follow lines alone; to and fro, so the way is short. */
export function hatched(region: Region): readonly (readonly Segment[])[] {
  const box = boundsOfRegion(region);
  if (box === undefined) return [];
  const [w, h] = [box.max.x - box.min.x, box.max.y - box.min.y];
  // Lines x + y = c at 45 degrees, evenly between two opposite corners.
  return Array.from({ length: HATCHES }, (_, i) => {
    const c = ((i + 1) * (w + h)) / (HATCHES + 1);
    const a = { x: box.min.x + Math.max(0, c - h), y: box.min.y + Math.min(h, c) };
    const b = { x: box.min.x + Math.min(w, c), y: box.min.y + Math.max(0, c - w) };
    return [i % 2 === 0 ? line(a, b) : line(b, a)];
  });
}
