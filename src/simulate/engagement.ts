import type { Point } from "../shapes/point.ts";
import { directionAt, type Path, planLength, pointOn } from "./path.ts";
import { type Columns, columnAt, halfDiagonal, topOf, type Wood } from "./wood.ts";

/** How much of the cutter's circumference is in wood over a stretch of its way. */
export interface Engagement {
  /** Stretch of path, mm. */
  readonly length: number;
  /** Angle in wood, degrees, 0 to 180 for a cutter moving sideways. */
  readonly deg: number;
  /** Half the difference between what `most` and `least` say, degrees. */
  readonly boundDeg: number;
}

/** Directions looked at over the leading half turn. */
const DIRECTIONS = 90;
/** Wood lower than this above the tip is a floor already cut, mm. */
const SKIN = 0.002;

/**
 * Angles in wood along a path, from the wood before the move is cut. A point of the circumference bites only while it
 * moves outwards over fresh wood, so the leading half turn is all there is. Each direction u asks the columns at
 * centre + R·u + 2δ·v, v the way of travel: shifted ahead by the cell's diagonal, so that what the cutter itself has
 * just cut in `least` is not asked, while walls along the way keep their distance. Wood in both states counts whole,
 * in `most` alone half.
 * @param radius mm, of the flat part of the circumference
 * @returns nothing for a path that does not move sideways
 */
export function engagementAlong(wood: Wood, path: Path, radius: number): readonly Engagement[] {
  const plan = planLength(path);
  if (plan <= 0) return [];
  const n = Math.max(1, Math.ceil(plan / Math.max(wood.grid.cell, radius / 4)));
  const ahead = 2 * halfDiagonal(wood.grid);
  const out: Engagement[] = [];
  for (let k = 0; k < n; k++) {
    const t = (k + 0.5) / n;
    const at = pointOn(path, t);
    const d = directionAt(path, t);
    const flat = Math.hypot(d.x, d.y);
    if (flat === 0) continue;
    const way = { x: d.x / flat, y: d.y / flat };
    const most = share(wood, wood.most, at, at.z + SKIN, way, radius, ahead);
    const least = share(wood, wood.least, at, at.z + SKIN, way, radius, ahead);
    out.push({ length: plan / n, deg: 90 * (most + least), boundDeg: 90 * (most - least) });
  }
  return out;
}

/** Share of the leading half turn that is in wood. */
function share(wood: Wood, columns: Columns, at: Point, z: number, way: Point, r: number, ahead: number): number {
  let hits = 0;
  for (let k = 0; k < DIRECTIONS; k++) {
    const angle = ((k + 0.5) / DIRECTIONS - 0.5) * Math.PI;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    const x = at.x + r * (way.x * cos - way.y * sin) + ahead * way.x;
    const y = at.y + r * (way.y * cos + way.x * sin) + ahead * way.y;
    const c = columnAt(wood.grid, x, y);
    if (c >= 0 && topOf(columns, c) > z) hits++;
  }
  return hits / DIRECTIONS;
}

/** A program's engagements, summed up. */
export interface EngagementSummary {
  /** Largest angle over any stretch, degrees. */
  readonly largestDeg: number;
  /** Angle not passed over 99 % of the length that cuts, degrees. */
  readonly deg99: number;
  /** Length-weighted mean over the length that cuts, degrees. */
  readonly meanDeg: number;
  /** Sideways feed path looked at, and how much of it met no wood sideways, mm. */
  readonly length: number;
  readonly idleLength: number;
  /** Largest `boundDeg` met. */
  readonly boundDeg: number;
}

/**
 * Sums up stretches: the distribution is weighted by length. A stretch where only `most` has wood is idle: beside a wall
 * that was cut before, `most` always has a little too much.
 */
export function summarise(stretches: readonly Engagement[]): EngagementSummary {
  const bites = (s: Engagement) => s.deg > s.boundDeg;
  const cutting = stretches.filter(bites).sort((a, b) => a.deg - b.deg);
  const total = sum(cutting, (s) => s.length);
  let run = 0;
  let deg99 = 0;
  for (const s of cutting) {
    run += s.length;
    deg99 = s.deg;
    if (run >= 0.99 * total) break;
  }
  return {
    largestDeg: cutting[cutting.length - 1]?.deg ?? 0,
    deg99,
    meanDeg: total > 0 ? sum(cutting, (s) => s.length * s.deg) / total : 0,
    length: sum(stretches, (s) => s.length),
    idleLength: sum(stretches, (s) => (bites(s) ? 0 : s.length)),
    boundDeg: cutting.reduce((m, s) => Math.max(m, s.boundDeg), 0),
  };
}

function sum<T>(items: readonly T[], of: (item: T) => number): number {
  return items.reduce((total, item) => total + of(item), 0);
}
