import type { Box, Point } from "../shapes/point.ts";
import { boundsOfDrawing, type Drawing } from "./template-drawing.ts";

/** Papers that templates are tiled on. */
export type PaperName = "A4" | "Letter";

/** A sheet of paper, mm. */
export interface Paper {
  readonly width: number;
  readonly height: number;
  readonly said: string;
}

/** ISO 216 A4; ANSI/ASME Y14.1 A (US Letter), 8 1/2 × 11 in. */
export const PAPERS: Readonly<Record<PaperName, Paper>> = {
  A4: { width: 210, height: 297, said: "A4" },
  Letter: { width: 215.9, height: 279.4, said: "US Letter" },
};

/** Border that no printer need reach, mm. */
const BORDER = 10;
/** Room below the window for the tile's name and check line, and at its right for the upright one, mm. */
const FOOT = 17;
const SIDE = 8;
/** Room around a drawing within its tiles, mm. */
const AROUND = 3;
/** What neighbouring tiles have in common, mm. */
export const OVERLAP = 12;

/** One page's share of a drawing. */
export interface Tile {
  readonly number: number;
  readonly count: number;
  /** From the upper left, counted from 1. */
  readonly row: number;
  readonly column: number;
  /** What of the drawing it shows, in the drawing's own coordinates. */
  readonly window: Box;
  /** Where its window's upper left corner lies on the page. */
  readonly left: number;
  readonly top: number;
  /** Middles of the crosses it shares with its neighbours, in the drawing's coordinates. */
  readonly crosses: readonly Point[];
}

/**
 * The tiles of a drawing on upright or lying paper, whichever needs fewer; on equal terms lying paper for a drawing that
 * is wider than high. Neighbours overlap by 12 mm, with two crosses in the middle of each overlap.
 */
export function tilesFor(drawing: Drawing, paper: Paper): { readonly paper: Paper; readonly tiles: readonly Tile[] } {
  const tight = boundsOfDrawing(drawing);
  const box = {
    min: { x: tight.min.x - AROUND, y: tight.min.y - AROUND },
    max: { x: tight.max.x + AROUND, y: tight.max.y + AROUND },
  };
  const lying: Paper = { ...paper, width: paper.height, height: paper.width };
  const upright = tileOn(box, paper);
  const flat = tileOn(box, lying);
  const wide = box.max.x - box.min.x > box.max.y - box.min.y;
  const lies = flat.length < upright.length || (flat.length === upright.length && wide);
  return lies ? { paper: lying, tiles: flat } : { paper, tiles: upright };
}

function tileOn(box: Box, paper: Paper): readonly Tile[] {
  const width = paper.width - 2 * BORDER - SIDE;
  const height = paper.height - 2 * BORDER - FOOT;
  const columns = countFor(box.max.x - box.min.x, width);
  const rows = countFor(box.max.y - box.min.y, height);
  const across = columns.map((shift) => box.min.x + shift);
  const down = rows.map((shift) => box.max.y - shift);
  const count = across.length * down.length;
  return down.flatMap((top, r) =>
    across.map((left, c) => {
      const window = { min: { x: left, y: top - height }, max: { x: left + width, y: top } };
      return {
        number: r * across.length + c + 1,
        count,
        row: r + 1,
        column: c + 1,
        window,
        left: BORDER,
        top: BORDER,
        crosses: crossesOf(window, {
          left: c > 0,
          right: c < across.length - 1,
          above: r > 0,
          below: r < down.length - 1,
        }),
      };
    }),
  );
}

/** How far each tile of a row begins from the first. */
function countFor(length: number, window: number): readonly number[] {
  const n = Math.max(1, Math.ceil((length - OVERLAP) / (window - OVERLAP) - 1e-9));
  return Array.from({ length: n }, (_, i) => i * (window - OVERLAP));
}

function crossesOf(
  window: Box,
  beside: { readonly left: boolean; readonly right: boolean; readonly above: boolean; readonly below: boolean },
): readonly Point[] {
  const { min, max } = window;
  const half = OVERLAP / 2;
  // Measured from borders that both neighbours have, so that both draw the same cross.
  const ys = [min.y + 2.5 * OVERLAP, max.y - 2.5 * OVERLAP];
  const xs = [min.x + 2.5 * OVERLAP, max.x - 2.5 * OVERLAP];
  return [
    ...(beside.left ? ys.map((y) => ({ x: min.x + half, y })) : []),
    ...(beside.right ? ys.map((y) => ({ x: max.x - half, y })) : []),
    ...(beside.above ? xs.map((x) => ({ x, y: max.y - half })) : []),
    ...(beside.below ? xs.map((x) => ({ x, y: min.y + half })) : []),
  ];
}
