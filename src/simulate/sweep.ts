import { arcDistance } from "./arc-distance.ts";
import { lowestOnHelix } from "./lowest-helix.ts";
import { lowestOnRamp, noLower, type Ramp, rampOf } from "./lowest-ramp.ts";
import { type ArcPath, chordsOf, type LinePath, type Path } from "./path.ts";
import { bandRows, type Skip, stripRows } from "./rows.ts";
import { type CuttingEnd, heightOn, type Underside } from "./underside.ts";
import type { Grid } from "./wood.ts";

/** Told what a sweep takes: everything from `from` to `to` in the columns first ≤ c ≤ last. mm. */
export interface Taker {
  /** False when column c holds nothing above a height, so that taking what is above it would change nothing. */
  stands(c: number, above: number): boolean;
  take(first: number, last: number, from: number, to: number): void;
}

/**
 * Which bound a sweep is for. The cutter is shrunk (`most`) or grown (`least`) sideways by `by`, mm:
 * a ring that spans distances up to R then spans up to R ∓ by, and stands at distance q as high as it did at q ± by.
 *
 * Why half a cell's diagonal is enough. Let m be a cell's centre, p any point of the cell, c the axis at some moment:
 * | |p − c| − |m − c| | ≤ |p − m| ≤ by. Heights H never fall outwards. If the shrunk cutter covers m at height
 * H(|m−c| + by), then |p−c| ≤ |m−c| + by ≤ R and H(|p−c|) ≤ H(|m−c| + by): the true cutter takes p at least as deep.
 * If the true cutter covers p at H(|p−c|), then |m−c| ≤ R + by and H(|m−c| − by) ≤ H(|p−c|): the grown cutter takes
 * the column at least as deep. Both hold moment by moment, so they hold for the lowest height over the move.
 */
export interface Bound {
  readonly which: "most" | "least";
  readonly by: number;
}

/** Guard against rounding of doubles, on the safe side of each bound, mm. */
const ROUNDING = 1e-9;

/** Chords that stand in for curves which have no closed form stay within this share of a cell. */
const CHORD_SHARE = 1 / 32;

/**
 * Takes what a cutting end sweeps along a path, each column once or more. The height a column is taken down to is the
 * exact lowest over the whole move for lines (level, sloping, upright), level arcs, and helices of flat rings; helices
 * of other rings and upright arcs are cut as chords, with the chords' error added to the bound.
 * @param skip a disc that the same end, at this height or lower, has already swept; used only where all rows are level
 */
export function sweep(grid: Grid, path: Path, end: CuttingEnd, bound: Bound, skip: Skip | undefined, to: Taker): void {
  for (const ring of end.rings) sweepRing(grid, path, ring, end.fluteTop, bound, skip, to);
}

/** One ring of a body swept along a path; see `sweep`. */
export function sweepRing(
  grid: Grid,
  path: Path,
  ring: Underside,
  top: number,
  bound: Bound,
  skip: Skip | undefined,
  taker: Taker,
): void {
  const sign = bound.which === "most" ? 1 : -1;
  switch (path.kind) {
    case "line":
      sweepLine(grid, path, ring, top, bound, 0, skip, taker);
      break;
    case "arc": {
      const shift = sign * (bound.by + path.slack + ROUNDING);
      if (path.from.z === path.to.z) levelBand(grid, path, ring, top, shift, skip, taker);
      else if (ring.kind === "flat") helix(grid, path, ring, top, shift, sign > 0, taker);
      else sweepChords(grid, path, ring, top, bound, taker);
      break;
    }
    case "upright arc":
      sweepChords(grid, path, ring, top, bound, taker);
      break;
  }
}

/** @param error how far the line may be from the true way, mm: added to the bound sideways and in height */
function sweepLine(
  grid: Grid,
  line: LinePath,
  ring: Underside,
  top: number,
  bound: Bound,
  error: number,
  skip: Skip | undefined,
  taker: Taker,
): void {
  const sign = bound.which === "most" ? 1 : -1;
  const shift = sign * (bound.by + error + ROUNDING);
  const pad = sign * error;
  if (line.from.z === line.to.z) levelStrip(grid, line, ring, top, shift, pad, skip, taker);
  else if (line.from.x === line.to.x && line.from.y === line.to.y) plunge(grid, line, ring, top, shift, pad, taker);
  else ramp(grid, line, ring, top, shift, pad, sign > 0, taker);
}

function sweepChords(
  grid: Grid,
  arc: Exclude<Path, LinePath>,
  ring: Underside,
  top: number,
  bound: Bound,
  taker: Taker,
): void {
  const { lines, error } = chordsOf(arc, grid.cell * CHORD_SHARE);
  for (const line of lines) sweepLine(grid, line, ring, top, bound, error, undefined, taker);
}

function levelStrip(
  grid: Grid,
  { from, to }: LinePath,
  ring: Underside,
  top: number,
  shift: number,
  pad: number,
  skip: Skip | undefined,
  taker: Taker,
): void {
  const r = ring.outer - shift;
  const z = from.z;
  if (ring.kind === "flat") {
    const bottom = z + ring.height + pad;
    const seen = skip && { ...skip, radius: r };
    stripRows(grid, from, to, r, pad === 0 ? seen : undefined, (j, first, last) =>
      taker.take(j * grid.nx + first, j * grid.nx + last, bottom, z + top - pad),
    );
    return;
  }
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const ux = length > 0 ? (to.x - from.x) / length : 1;
  const uy = length > 0 ? (to.y - from.y) / length : 0;
  const spare = Math.sign(shift) * ROUNDING;
  stripRows(grid, from, to, r, undefined, (j, first, last) => {
    const dy = grid.origin.y + (j + 0.5) * grid.cell - from.y;
    for (let i = first; i <= last; i++) {
      const dx = grid.origin.x + (i + 0.5) * grid.cell - from.x;
      const s = dx * ux + dy * uy;
      const beyond = s < 0 ? s : s > length ? s - length : 0;
      const across = dx * uy - dy * ux;
      const q = Math.sqrt(across * across + beyond * beyond);
      const c = j * grid.nx + i;
      const h = z + heightOn(ring, Math.min(q + shift, ring.outer)) + pad + spare;
      if (taker.stands(c, h)) taker.take(c, c, h, z + top - pad);
    }
  });
}

function plunge(
  grid: Grid,
  { from, to }: LinePath,
  ring: Underside,
  top: number,
  shift: number,
  pad: number,
  taker: Taker,
): void {
  const low = Math.min(from.z, to.z);
  const high = Math.max(from.z, to.z) + top - pad;
  const spare = Math.sign(shift) * ROUNDING;
  stripRows(grid, from, from, ring.outer - shift, undefined, (j, first, last) => {
    const dy = grid.origin.y + (j + 0.5) * grid.cell - from.y;
    if (ring.kind === "flat") {
      taker.take(j * grid.nx + first, j * grid.nx + last, low + ring.height + pad, high);
      return;
    }
    for (let i = first; i <= last; i++) {
      const dx = grid.origin.x + (i + 0.5) * grid.cell - from.x;
      const q = Math.sqrt(dx * dx + dy * dy);
      const c = j * grid.nx + i;
      taker.take(c, c, low + heightOn(ring, Math.min(q + shift, ring.outer)) + pad + spare, high);
    }
  });
}

function ramp(
  grid: Grid,
  path: LinePath,
  ring: Underside,
  top: number,
  shift: number,
  pad: number,
  most: boolean,
  taker: Taker,
): void {
  const way: Ramp = rampOf(path);
  const highest = Math.max(path.from.z, path.to.z) + top;
  const spare = (most ? ROUNDING : -ROUNDING) + pad;
  stripRows(grid, path.from, path.to, ring.outer - shift, undefined, (j, first, last) => {
    const dy = grid.origin.y + (j + 0.5) * grid.cell - path.from.y;
    for (let i = first; i <= last; i++) {
      const dx = grid.origin.x + (i + 0.5) * grid.cell - path.from.x;
      const s = dx * way.ux + dy * way.uy;
      const across = Math.abs(dx * way.uy - dy * way.ux);
      const c = j * grid.nx + i;
      // Most columns under a short move were cut by the moves before it: a rough bound tells them apart cheaply.
      if (!taker.stands(c, noLower(way, ring, shift, s, across) + spare)) continue;
      const z = lowestOnRamp(way, ring, shift, s, across, most);
      if (z === Number.POSITIVE_INFINITY) continue;
      // Everything between the underside and the flutes' top, from the moment the cutter reaches the point until it
      // leaves it: one interval, as both ends move without a jump. Its top is the flutes' at the higher of the two.
      const upper = most ? highestOverhead(way, ring.outer - shift, s, across) + top : highest;
      taker.take(c, c, z + spare, upper - spare);
    }
  });
}

/** Highest tip while the disc of radius r covers the point (s along, `across` beside the way). */
function highestOverhead(way: Ramp, r: number, s: number, across: number): number {
  const half = Math.sqrt(Math.max(0, r * r - across * across));
  const t = way.slope < 0 ? Math.max(0, s - half) : Math.min(way.length, s + half);
  return way.z + way.slope * t;
}

function levelBand(
  grid: Grid,
  path: ArcPath,
  ring: Underside,
  top: number,
  shift: number,
  skip: Skip | undefined,
  taker: Taker,
): void {
  const z = path.from.z;
  const r = ring.outer - shift;
  if (ring.kind === "flat") {
    bandRows(grid, path, r, skip && { ...skip, radius: r }, (j, first, last) =>
      taker.take(j * grid.nx + first, j * grid.nx + last, z + ring.height, z + top),
    );
    return;
  }
  const spare = Math.sign(shift) * ROUNDING;
  const distance = arcDistance(path);
  bandRows(grid, path, r, undefined, (j, first, last) => {
    const y = grid.origin.y + (j + 0.5) * grid.cell;
    for (let i = first; i <= last; i++) {
      const q = distance(grid.origin.x + (i + 0.5) * grid.cell, y);
      const c = j * grid.nx + i;
      const h = z + heightOn(ring, Math.min(q + shift, ring.outer)) + spare;
      if (taker.stands(c, h)) taker.take(c, c, h, z + top);
    }
  });
}

function helix(
  grid: Grid,
  path: ArcPath,
  ring: Underside,
  top: number,
  shift: number,
  most: boolean,
  taker: Taker,
): void {
  const highest = Math.max(path.from.z, path.to.z) + top;
  const spare = most ? ROUNDING : -ROUNDING;
  bandRows(grid, path, ring.outer - shift, undefined, (j, first, last) => {
    const y = grid.origin.y + (j + 0.5) * grid.cell;
    for (let i = first; i <= last; i++) {
      const tip = lowestOnHelix(path, ring.outer - shift, grid.origin.x + (i + 0.5) * grid.cell, y);
      if (tip === Number.POSITIVE_INFINITY) continue;
      const c = j * grid.nx + i;
      // A turn may cover a point twice, with a gap between; `most` loses only what surely went with the lower visit.
      taker.take(c, c, tip + ring.height + spare, most ? tip + top : highest);
    }
  });
}
