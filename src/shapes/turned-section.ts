import { extentOfMeridian } from "./meridian.ts";
import { rectangle } from "./outlines.ts";
import type { Box, Point } from "./point.ts";
import { boundsOfRegion, type Region } from "./region.ts";
import { arc, line, reversed, type Segment } from "./segment.ts";
import { extentOfSolid, mostHalf, sliceOf, standing, type TurnedSolid } from "./turned-solid.ts";

/** Step along the axis between corners of an outline, mm. */
const STEP = 0.25;

/**
 * Outline, seen from above, of all wood that stands between two heights (zLow < zHigh, either may be infinite): it holds
 * every point of it, and reaches beyond by no more than the profile changes over a quarter millimetre. A round of radius
 * r is y² ≤ r² − z² wide at height z above its axis, so the widest height between the two decides, exactly. Empty where
 * no wood stands there.
 */
export function outlineBetween(solid: TurnedSolid, zLow: number, zHigh: number): Region {
  if (solid.flatTop !== undefined && zLow >= solid.flatTop) return { loops: [] };
  const high = Math.min(zHigh, solid.flatTop ?? Number.POSITIVE_INFINITY);
  const off = Math.abs(Math.min(Math.max(solid.axis.z, zLow), high) - solid.axis.z);
  const { from, to } = extentOfSolid(solid);
  const count = Math.max(1, Math.ceil((to - from) / STEP));
  const at = (i: number): number => (i === count ? to : from + ((to - from) * i) / count);
  // Seen from the side the solid is as it is seen from above, so its half width at a height is its half height there.
  const halves = Array.from({ length: count }, (_, i) => mostHalf(sliceOf(solid, at(i), at(i + 1)), off));
  const loops: Region["loops"][number][] = [];
  let first = 0;
  for (let i = 0; i <= count; i++) {
    if ((halves[i] ?? 0) > 0) continue;
    if (i > first) loops.push(band(solid.axis.y, halves.slice(first, i), (k) => at(first + k)));
    first = i + 1;
  }
  return { loops };
}

/** A band about the axis through the larger of both neighbours' half widths at each corner: never narrower than either. */
function band(y: number, halves: readonly number[], at: (k: number) => number): Region["loops"][number] {
  const n = halves.length;
  const width = (k: number): number => Math.max(halves[k - 1] ?? 0, halves[k] ?? 0);
  const corners: Point[] = [];
  const add = (x: number, w: number): void => {
    // Straight runs need no corners between.
    const a = corners[corners.length - 2];
    const b = corners[corners.length - 1];
    if (a !== undefined && b !== undefined && a.y === b.y && b.y === y + w) corners.pop();
    corners.push({ x, y: y + w });
  };
  for (let k = 0; k <= n; k++) add(at(k), width(k));
  const back = corners.map((p) => ({ x: p.x, y: 2 * y - p.y }));
  // Counter-clockwise: along the front to the right, back along the far side.
  const ring = [...back, ...corners.reverse()];
  return ring.map((p, i) => line(p, ring[(i + 1) % ring.length]!));
}

/** Largest distance of the wood from its axis, squares by their half sides and the turned part by its radius, mm. */
export function reachOver(solid: TurnedSolid, x0: number, x1: number): number {
  return mostHalf(sliceOf(solid, x0, x1), 0);
}

/**
 * Highest wood over a rectangle of plan, exact; undefined where none stands.
 * @param grow mm by which the rectangle is widened all round
 */
export function topOver(solid: TurnedSolid, box: Box, grow = 0): number | undefined {
  const slice = sliceOf(solid, box.min.x - grow, box.max.x + grow);
  const d = Math.max(0, box.min.y - grow - solid.axis.y, solid.axis.y - box.max.y - grow);
  return standing(solid, mostHalf(slice, d))?.high;
}

/** Highest wood over a section, mm; `otherwise` where none stands. */
export function topOverSection(solid: TurnedSolid, section: Region, otherwise: number, grow = 0): number {
  const box = boundsOfRegion(section);
  return (box === undefined ? undefined : topOver(solid, box, grow)) ?? otherwise;
}

/** The solid seen from above: its half section on both sides of the axis, arcs as arcs, and its squares. */
export function silhouetteOf({ meridian, axis, squares }: TurnedSolid): Region {
  const { from, to } = extentOfMeridian(meridian);
  const side = (s: Segment, sign: 1 | -1): Segment => {
    const put = (p: Point): Point => ({ x: p.x, y: axis.y + sign * p.y });
    if (s.kind === "line") return line(put(s.from), put(s.to));
    return arc(put(s.from), put(s.to), put(s.centre), sign === 1 ? s.ccw : !s.ccw);
  };
  const first = meridian.segments[0]!.from.y;
  const last = meridian.segments[meridian.segments.length - 1]!.to.y;
  const near = meridian.segments.map((s) => side(s, -1));
  const far = meridian.segments.map((s) => reversed(side(s, 1))).reverse();
  const end = (x: number, a: number, b: number): Segment[] =>
    a === b ? [] : [line({ x, y: axis.y + a }, { x, y: axis.y + b })];
  const turned = [...near, ...end(to, -last, last), ...far, ...end(from, first, -first)];
  const blocks = squares.map((s) =>
    rectangle({ x: s.from, y: axis.y - s.side / 2 }, { x: s.to, y: axis.y + s.side / 2 }),
  );
  return { loops: [turned, ...blocks.flatMap((b) => b.loops)] };
}
