import type { Bitmap } from "./grey-picture.ts";

/** A run of pixels between two knots, both included by number; a run that closes on itself has no knots. */
export interface Branch {
  /** Knots at its two ends; −1 at both ends of a closed run. */
  readonly knots: readonly [number, number];
  /** Pixels along it, by number; the first and last belong to the knots. */
  readonly pixels: readonly number[];
}

/** Centre lines as knots (ends and crossings) and the branches between them. */
export interface CentreGraph {
  /** Pixels of each knot: one for an end, one or several touching ones for a crossing. */
  readonly knots: readonly (readonly number[])[];
  readonly branches: readonly Branch[];
}

/**
 * Walks thinned pixels to branches. Pixels are neighbours over an edge, or over a corner where no third pixel joins them
 * by edges, so that a step of a staircase is no crossing. Each pixel lies on one branch or in a knot.
 */
export function centreGraph(thinned: Bitmap): CentreGraph {
  const near = neighboursIn(thinned);
  const knotOf = new Map<number, number>();
  const knots: number[][] = [];
  for (const [pixel, beside] of near) {
    if (beside.length === 2 || knotOf.has(pixel)) continue;
    // Crossing pixels that touch are one crossing.
    const members = [pixel];
    knotOf.set(pixel, knots.length);
    if (beside.length > 2) {
      for (let i = 0; i < members.length; i++) {
        for (const q of near.get(members[i]!)!) {
          if (knotOf.has(q) || near.get(q)!.length <= 2) continue;
          knotOf.set(q, knots.length);
          members.push(q);
        }
      }
    }
    knots.push(members);
  }
  const branches: Branch[] = [];
  const walked = new Set<number>();
  const joined = new Set<string>();
  for (const [k, members] of knots.entries()) {
    for (const start of members) {
      for (const first of near.get(start)!) {
        const other = knotOf.get(first);
        if (other !== undefined) {
          const pair = `${Math.min(start, first)} ${Math.max(start, first)}`;
          if (other === k || joined.has(pair)) continue;
          joined.add(pair);
          branches.push({ knots: [k, other], pixels: [start, first] });
        } else if (!walked.has(first)) branches.push(walk(near, knotOf, walked, k, start, first));
      }
    }
  }
  for (const [pixel] of near) {
    if (knotOf.has(pixel) || walked.has(pixel)) continue;
    const pixels = [pixel];
    walked.add(pixel);
    for (let at = near.get(pixel)![0]; at !== undefined; at = near.get(at)!.find((q) => !walked.has(q))) {
      pixels.push(at);
      walked.add(at);
    }
    branches.push({ knots: [-1, -1], pixels });
  }
  return { knots, branches };
}

function walk(
  near: ReadonlyMap<number, readonly number[]>,
  knotOf: ReadonlyMap<number, number>,
  walked: Set<number>,
  knot: number,
  start: number,
  first: number,
): Branch {
  const pixels = [start];
  let before = start;
  let at = first;
  for (;;) {
    pixels.push(at);
    const end = knotOf.get(at);
    if (end !== undefined) return { knots: [knot, end], pixels };
    walked.add(at);
    const [p, q] = near.get(at)!;
    const next = p === before ? q! : p!;
    before = at;
    at = next;
  }
}

/** Neighbours of each pixel that is on, in the order of rows. */
function neighboursIn({ width, height, bits }: Bitmap): Map<number, number[]> {
  const on = (x: number, y: number): boolean =>
    x >= 0 && y >= 0 && x < width && y < height && bits[y * width + x] === 1;
  const near = new Map<number, number[]>();
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (bits[i] !== 1) continue;
      const list: number[] = [];
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          if ((dx === 0 && dy === 0) || !on(x + dx, y + dy)) continue;
          if (dx !== 0 && dy !== 0 && (on(x + dx, y) || on(x, y + dy))) continue;
          list.push((y + dy) * width + x + dx);
        }
      }
      near.set(i, list);
    }
  }
  return near;
}
