import { flattenSegment } from "../shapes/flatten.ts";
import type { Point } from "../shapes/point.ts";
import { lengthOf } from "../shapes/segment.ts";
import type { Laser } from "../shop/laser.ts";
import { type Burn, energyOver, type StillBurn } from "./beam.ts";

/**
 * Energy that falls on each square millimetre seen from above, J/mm², were the rated power what arrives: good for comparing
 * places, not for saying how dark they become. The spot is taken as a Gaussian whose 1/e² widths along X and Y are the
 * measured widths of a burned line (Siegman, Lasers, 1986, from memory, for the profile; that a burned line's width is
 * the 1/e² width is our own assumption).
 */
export interface DoseMap {
  /** Side of a cell, mm; `doseOf` is exact at its middle, within the error of the pieces. */
  readonly cell: number;
  /** Squares of cells that anything fell on, by `tileKey`. */
  readonly tiles: ReadonlyMap<number, Float32Array>;
  /** Standard deviations of the spot, mm: a quarter of its widths. */
  readonly sigma: { readonly x: number; readonly y: number };
  readonly pieces: readonly DosePiece[];
}

/** A straight stretch burned with even energy, J. */
export interface DosePiece {
  readonly from: Point;
  readonly to: Point;
  readonly energy: number;
}

/** The hottest place. */
export interface Hottest {
  readonly at: Point;
  /** Dose there, J/mm²; nowhere is there more than `most`, unless that is absent: the cells are then too coarse to tell. */
  readonly dose: number;
  readonly most?: number;
}

/** Cells along a tile's side. */
const TILE = 64;
/** Beyond so many standard deviations nothing falls: 1 / 3000 of the middle. */
const REACH = 4;
const REACH_SQUARE = REACH * REACH;
/** Most cells that are looked at. */
const MOST_CELLS = 4e6;
/** Places that are looked at more closely. */
const CLOSER = 24;

/** The dose of all burns of a program, or of several. */
export function doseOf(burns: readonly Burn[], still: readonly StillBurn[], laser: Laser): DoseMap {
  const { spot } = laser;
  const sigma = { x: spot.x / 4, y: spot.y / 4 };
  const fine = Math.min(sigma.x, sigma.y);
  const pieces = [
    ...burns.flatMap((b) => piecesOf(b, laser, fine)),
    ...still.map((s) => ({ from: s.at, to: s.at, energy: s.energy })),
  ];
  const covered = pieces.reduce(
    (sum, p) => sum + (Math.hypot(p.to.x - p.from.x, p.to.y - p.from.y) + REACH * fine) * 2 * REACH * fine,
    0,
  );
  const cell = Math.max(fine / 2, Math.sqrt(covered / MOST_CELLS));
  const tiles = new Map<number, Float32Array>();
  for (const p of pieces) paint(tiles, cell, sigma, p);
  return { cell, tiles, sigma, pieces };
}

/** Dose at a place, J/mm², exactly as the pieces give it. Looks at all of them. */
export function doseAt(map: Pick<DoseMap, "pieces" | "sigma">, at: Point): number {
  return map.pieces.reduce((sum, p) => sum + doseFrom(p, map.sigma, at), 0);
}

/**
 * The hottest place. A dose is a sum of Gaussians with positive weights, so its second derivative in any direction, with
 * lengths in standard deviations, is nowhere below minus the dose itself: at h from its peak it still is at least
 * 1 − h²/2 of it. So no peak between cell middles can be hotter than the hottest middle over that share.
 */
export function hottestOf(map: DoseMap): Hottest | undefined {
  const { cell, sigma, tiles } = map;
  const best: { dose: number; at: Point }[] = [];
  for (const [key, tile] of tiles) {
    for (let i = 0; i < tile.length; i++) {
      const dose = tile[i]!;
      if (best.length === CLOSER && dose <= best[CLOSER - 1]!.dose) continue;
      const at = middle(key, i, cell);
      const place = best.findIndex((b) => b.dose < dose);
      best.splice(place < 0 ? best.length : place, 0, { dose, at });
      if (best.length > CLOSER) best.pop();
    }
  }
  const first = best[0];
  if (first === undefined) return undefined;
  let top = first;
  const near = map.pieces.filter((p) => best.some((b) => withinReach(p, b.at, sigma, cell)));
  for (const b of best) {
    for (const dx of [-0.25, 0, 0.25]) {
      for (const dy of [-0.25, 0, 0.25]) {
        const at = { x: b.at.x + dx * cell, y: b.at.y + dy * cell };
        const dose = doseAt({ pieces: near, sigma }, at);
        if (dose > top.dose) top = { dose, at };
      }
    }
  }
  const h = Math.hypot(cell / 2 / sigma.x, cell / 2 / sigma.y);
  const share = 1 - (h * h) / 2;
  return { ...top, ...(share > 0 ? { most: Math.max(top.dose, first.dose / share) } : {}) };
}

/** A piece whose quarters differ by more than this share is cut further. */
const UNEVEN = 0.01;

/** A burn as straight pieces with even energy, short where its speed changes. */
function piecesOf(burn: Burn, laser: Laser, sigma: number): readonly DosePiece[] {
  const points = flattenSegment(burn.curve, sigma / 50);
  const total = lengthOf(burn.curve);
  if (points.length < 2 || total === 0) return [{ from: burn.curve.from, to: burn.curve.to, energy: burn.energy }];
  // Chords of an arc are equally long.
  const chords = points.length - 1;
  const pieces: DosePiece[] = [];
  const split = (chord: number, p: number, q: number): void => {
    const energy = energyOver(burn, laser, (chord + p) / chords, (chord + q) / chords);
    const m = (p + q) / 2;
    if (((q - p) * total) / chords > 2 * sigma) {
      // Quarters, since a stretch that speeds up and slows down again has equal halves.
      const quarter = (k: number): number =>
        energyOver(
          burn,
          laser,
          (chord + p + ((q - p) * k) / 4) / chords,
          (chord + p + ((q - p) * (k + 1)) / 4) / chords,
        );
      if ([0, 1, 2, 3].some((k) => Math.abs(4 * quarter(k) - energy) > UNEVEN * energy)) {
        split(chord, p, m);
        split(chord, m, q);
        return;
      }
    }
    const a = points[chord]!;
    const b = points[chord + 1]!;
    const at = (t: number): Point => ({ x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) });
    pieces.push({ from: at(p), to: at(q), energy });
  };
  for (let i = 0; i < chords; i++) split(i, 0, 1);
  return pieces;
}

/**
 * Dose from one piece. Along the piece the Gaussian integrates to a difference of error functions; across it stays as it is.
 * Lengths in standard deviations, so an oval spot is round.
 */
function doseFrom({ from, to, energy }: DosePiece, sigma: DoseMap["sigma"], at: Point): number {
  const ax = (at.x - from.x) / sigma.x;
  const ay = (at.y - from.y) / sigma.y;
  const dx = (to.x - from.x) / sigma.x;
  const dy = (to.y - from.y) / sigma.y;
  const peak = energy / (2 * Math.PI * sigma.x * sigma.y);
  const length = Math.hypot(dx, dy);
  if (length < 1e-6) return peak * Math.exp(-(ax * ax + ay * ay) / 2);
  const along = (ax * dx + ay * dy) / length;
  const across = (ax * dy - ay * dx) / length;
  if (Math.abs(across) > REACH + 1 || along < -REACH - 1 || along > length + REACH + 1) return 0;
  const share = (normal(along) - normal(along - length)) / length;
  return peak * Math.sqrt(2 * Math.PI) * Math.exp((-across * across) / 2) * share;
}

/** Adds a piece to all cells within its reach. */
function paint(tiles: Map<number, Float32Array>, cell: number, sigma: DoseMap["sigma"], piece: DosePiece): void {
  const { from, to } = piece;
  // Along and across the piece in standard deviations, as a cell's middle moves by one cell in X.
  const ux = (to.x - from.x) / sigma.x;
  const uy = (to.y - from.y) / sigma.y;
  const length = Math.hypot(ux, uy);
  const point = length < 1e-6;
  const [cx, cy] = point ? [1, 0] : [ux / length, uy / length];
  const peak = piece.energy / (2 * Math.PI * sigma.x * sigma.y);
  const whole = point ? peak : (peak * Math.sqrt(2 * Math.PI)) / length;
  const stepAlong = (cx * cell) / sigma.x;
  const stepAcross = (-cy * cell) / sigma.x;
  const rx = REACH * sigma.x;
  const ry = REACH * sigma.y;
  const low = Math.ceil((Math.min(from.y, to.y) - ry) / cell - 0.5);
  const high = Math.floor((Math.max(from.y, to.y) + ry) / cell - 0.5);
  const dy = to.y - from.y;
  for (let j = low; j <= high; j++) {
    const y = (j + 0.5) * cell;
    // Only the stretch that comes within reach of this row matters to it.
    const t0 = dy === 0 ? 0 : clamp((y - Math.sign(dy) * ry - from.y) / dy);
    const t1 = dy === 0 ? 1 : clamp((y + Math.sign(dy) * ry - from.y) / dy);
    const x0 = from.x + t0 * (to.x - from.x);
    const x1 = from.x + t1 * (to.x - from.x);
    const first = Math.ceil((Math.min(x0, x1) - rx) / cell - 0.5);
    const last = Math.floor((Math.max(x0, x1) + rx) / cell - 0.5);
    const ax = ((first + 0.5) * cell - from.x) / sigma.x;
    const ay = (y - from.y) / sigma.y;
    let along = ax * cx + ay * cy;
    let across = ay * cx - ax * cy;
    // Most lines are burned along X: the distance beside them is the same all along a row.
    const level = stepAcross === 0 ? whole * Math.exp((-across * across) / 2) : undefined;
    for (let i = first; i <= last; ) {
      const tileX = Math.floor(i / TILE);
      const tile = tileOf(tiles, tileX, Math.floor(j / TILE));
      const row = (j - Math.floor(j / TILE) * TILE) * TILE - tileX * TILE;
      const end = Math.min(last, tileX * TILE + TILE - 1);
      for (; i <= end; i++) {
        const beside = across * across;
        if (beside <= REACH_SQUARE) {
          const share = point
            ? Math.exp((-along * along) / 2)
            : (along > 6 ? 1 : normal(along)) - (along - length < -6 ? 0 : normal(along - length));
          tile[row + i]! += (level ?? whole * Math.exp(-beside / 2)) * share;
        }
        along += stepAlong;
        across += stepAcross;
      }
    }
  }
}

/** Tiles lie within ± this many of zero in each direction. */
const FAR = 1 << 20;

function tileOf(tiles: Map<number, Float32Array>, tx: number, ty: number): Float32Array {
  const key = (ty + FAR) * 2 * FAR + (tx + FAR);
  let tile = tiles.get(key);
  if (tile === undefined) {
    tile = new Float32Array(TILE * TILE);
    tiles.set(key, tile);
  }
  return tile;
}

/** Middle of cell i of a tile. */
function middle(key: number, i: number, cell: number): Point {
  const tx = (key % (2 * FAR)) - FAR;
  const ty = Math.floor(key / (2 * FAR)) - FAR;
  return { x: (tx * TILE + (i % TILE) + 0.5) * cell, y: (ty * TILE + Math.floor(i / TILE) + 0.5) * cell };
}

function withinReach(p: DosePiece, at: Point, sigma: DoseMap["sigma"], cell: number): boolean {
  const rx = (REACH + 1) * sigma.x + cell;
  const ry = (REACH + 1) * sigma.y + cell;
  return (
    at.x > Math.min(p.from.x, p.to.x) - rx &&
    at.x < Math.max(p.from.x, p.to.x) + rx &&
    at.y > Math.min(p.from.y, p.to.y) - ry &&
    at.y < Math.max(p.from.y, p.to.y) + ry
  );
}

function clamp(t: number): number {
  return Math.max(0, Math.min(1, t));
}

/** The normal distribution's share below z, within 1e-7. Abramowitz & Stegun, Handbook of Mathematical Functions, 26.2.17. */
function normal(z: number): number {
  if (z > 6) return 1;
  if (z < -6) return 0;
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return z >= 0 ? 1 - tail : tail;
}
