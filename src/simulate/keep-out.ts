import type { Box3, Point3 } from "../shapes/point.ts";
import { type Path, pathLength, pointOn } from "./path.ts";
import type { DullPart } from "./underside.ts";

/** How near a swept part comes to a box: least distance (negative: how far inside), mm, and where the tip is then. */
export interface Nearness {
  readonly distance: number;
  /** The true least distance lies within `distance` − bound and `distance`. */
  readonly bound: number;
  readonly tip: Point3;
}

/** Distances are found this exactly, mm. */
const PRECISION = 1e-4;
/** Once the two overlap, how deep is found this exactly only, mm: a path along a clamp would cost millions of looks. */
const ROUGH = 0.05;

/**
 * Least distance between an upright cylinder of the assembly and a box while the tip goes along a path. Between two
 * solids whose sides are upright or level the distance used is the larger of sideways gap and height gap: its sign is
 * exact, and it never exceeds the straight distance. It changes no faster than the tip moves, so halving stretches
 * that cannot beat the best found gives the least within `bound`, for every kind of path alike.
 * @param enough stretches that surely stay this far away are not looked at more closely, mm
 */
export function nearestToBox(path: Path, part: DullPart, box: Box3, enough: number): Nearness {
  const length = pathLength(path);
  const gapAt = (t: number): Nearness => {
    const tip = pointOn(path, t);
    return { distance: gap(tip, part, box), bound: 0, tip };
  };
  let best = gapAt(0);
  const end = gapAt(1);
  if (end.distance < best.distance) best = end;
  const open: [number, number][] = [[0, 1]];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const [a, b] = next;
    const mid = (a + b) / 2;
    const at = gapAt(mid);
    if (at.distance < best.distance) best = at;
    const floor = at.distance - (length * (b - a)) / 2;
    if (floor >= best.distance - precision(best.distance) || floor >= enough) continue;
    open.push([a, mid], [mid, b]);
  }
  return { ...best, bound: precision(best.distance) };
}

function precision(distance: number): number {
  return distance < 0 ? ROUGH : PRECISION;
}

/** The same for a rapid that may go anywhere within a box of tip places. */
export function nearestFromArea(area: Box3, part: DullPart, box: Box3): Nearness {
  const between = (a0: number, a1: number, b0: number, b1: number) => Math.max(b0 - a1, a0 - b1);
  const dx = between(area.min.x + part.offset.x, area.max.x + part.offset.x, box.min.x, box.max.x);
  const dy = between(area.min.y + part.offset.y, area.max.y + part.offset.y, box.min.y, box.max.y);
  const dz = between(area.min.z + part.height, area.max.z + part.top, box.min.z, box.max.z);
  return { distance: Math.max(outside(dx, dy) - part.radius, dz), bound: 0, tip: area.min };
}

function gap(tip: Point3, part: DullPart, box: Box3): number {
  const x = tip.x + part.offset.x;
  const y = tip.y + part.offset.y;
  const dx = Math.max(box.min.x - x, x - box.max.x);
  const dy = Math.max(box.min.y - y, y - box.max.y);
  const dz = Math.max(box.min.z - (tip.z + part.top), tip.z + part.height - box.max.z);
  return Math.max(outside(dx, dy) - part.radius, dz);
}

/** Distance to a rectangle from signed gaps along its two axes; negative inside. */
function outside(dx: number, dy: number): number {
  if (dx <= 0 || dy <= 0) return Math.max(dx, dy);
  return Math.hypot(dx, dy);
}
