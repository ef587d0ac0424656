import { unionOf } from "./boolean.ts";
import { firstCrossing } from "./drawing-loops.ts";
import { fitRegion } from "./fit-arcs.ts";
import { flattenLoop } from "./flatten.ts";
import { fill, fromGrid, toGrid } from "./kernel.ts";
import { distanceBetween } from "./nearest.ts";
import type { Box, Point } from "./point.ts";
import { areaOfLoop, containsPoint, type Loop, type Region } from "./region.ts";
import type { Polygons } from "./rings.ts";
import { boundsOf, lengthOf, line, pointAt, reversed, tangentAt } from "./segment.ts";
import { indexSegments, type SegmentIndex, segmentsNear } from "./segment-index.ts";

/** One filled shape: closed loops, crossing or not, and the rule by which they fill. */
export interface FilledShape {
  readonly loops: readonly Loop[];
  readonly rule: "nonzero" | "even-odd";
}

/** Pairs of pieces compared before shapes are given to the polygon kernel as they are. */
const MOST_PAIRS = 500_000;
/** Pairs of chords whose boxes meet, beyond which a tangle takes the kernel too long. */
const MOST_MEETINGS = 2_000_000;
/** How far beside a loop the area is looked for, mm. */
const PROBE = 1e-5;

/**
 * All that shapes fill, as one area. Shapes that stand clear of each other and don't cross themselves keep their lines
 * and arcs bit for bit; those that meet go through the polygon kernel and come back within `tolerance` mm, on its grid.
 * Undefined for a tangle that would take too long.
 * Cost: O(n log n) and what crosses.
 */
export function unitedArea(shapes: readonly FilledShape[], tolerance: number): Region | undefined {
  const clusters = meeting(shapes, tolerance);
  const clear: FilledShape[] = [];
  for (const cluster of clusters) {
    if (!cluster.tangled) {
      clear.push(...cluster.shapes);
      continue;
    }
    const united = throughKernel(cluster.shapes, tolerance);
    if (united === undefined) return undefined;
    if (united.loops.length > 0) clear.push({ loops: united.loops, rule: "nonzero" });
  }
  return { loops: bounding(clear) };
}

interface Cluster {
  readonly shapes: readonly FilledShape[];
  readonly tangled: boolean;
}

/** Shapes sorted into those that touch each other, within the tolerance, and those that stand clear. */
function meeting(shapes: readonly FilledShape[], tolerance: number): Cluster[] {
  const owner = new Map<Loop[number], number>();
  for (const [i, { loops }] of shapes.entries()) for (const loop of loops) for (const s of loop) owner.set(s, i);
  const index = indexSegments([...owner.keys()]);
  const leader = shapes.map((_, i) => i);
  const leaderOf = (i: number): number => {
    let top = i;
    while (leader[top] !== top) {
      leader[top] = leader[leader[top]!]!;
      top = leader[top]!;
    }
    return top;
  };
  const tangled = new Set<number>();
  let pairs = 0;
  // What is fitted anew may move by the tolerance, on both sides.
  const reach = 2 * tolerance;
  for (const [s, i] of owner) {
    if (pairs > MOST_PAIRS) break;
    for (const other of segmentsNear(index, boundsOf(s), reach)) {
      pairs++;
      const k = owner.get(other)!;
      if (k === i || leaderOf(k) === leaderOf(i) || distanceBetween(s, other) > reach) continue;
      leader[leaderOf(k)] = leaderOf(i);
    }
  }
  const groups = new Map<number, FilledShape[]>();
  for (const [i, shape] of shapes.entries()) {
    // Beyond the limit nothing is known of what meets what.
    const key = pairs > MOST_PAIRS ? 0 : leaderOf(i);
    const group = groups.get(key) ?? [];
    groups.set(key, group);
    group.push(shape);
    if (group.length > 1 || pairs > MOST_PAIRS) tangled.add(key);
  }
  return [...groups].map(([key, group]) => ({
    shapes: group,
    tangled: tangled.has(key) || firstCrossing(group[0]!.loops, MOST_PAIRS) !== undefined,
  }));
}

function throughKernel(shapes: readonly FilledShape[], tolerance: number): Region | undefined {
  // Chords and arcs share the tolerance, since arcs are found only where chords keep within theirs.
  const rings = shapes.map(({ loops, rule }) => ({ rings: loops.map((l) => flattenLoop(l, tolerance / 4)), rule }));
  if (meetings(rings.flatMap((r) => r.rings)) > MOST_MEETINGS) return undefined;
  const areas = rings.map(({ rings: r, rule }): Polygons => fill(toGrid(r), rule).flatMap(fromGrid));
  return fitRegion(unionOf(...areas), tolerance / 4);
}

/** How many pairs of edges might cross, counted up to the limit: boxes that meet, from left to right. */
function meetings(rings: Polygons): number {
  const boxes = rings
    .flatMap((ring) =>
      ring.map((p, i): Box => {
        const q = ring[(i + 1) % ring.length]!;
        return {
          min: { x: Math.min(p.x, q.x), y: Math.min(p.y, q.y) },
          max: { x: Math.max(p.x, q.x), y: Math.max(p.y, q.y) },
        };
      }),
    )
    .sort((a, b) => a.min.x - b.min.x);
  let count = 0;
  let looked = 0;
  for (let i = 0; i < boxes.length; i++) {
    const a = boxes[i]!;
    for (let k = i + 1; k < boxes.length && boxes[k]!.min.x <= a.max.x; k++) {
      looked++;
      if (boxes[k]!.min.y <= a.max.y && boxes[k]!.max.y >= a.min.y) count++;
    }
    if (count > MOST_MEETINGS || looked > 50 * MOST_MEETINGS) return Number.POSITIVE_INFINITY;
  }
  return count;
}

/**
 * The loops that part inside from outside, area on their left: outer loops counter-clockwise, holes clockwise. Loops that
 * bound nothing (a shape within another, a hole drawn the same way round) fall away. No two loops cross.
 */
function bounding(shapes: readonly FilledShape[]): Loop[] {
  const homes = new Map<Loop[number], { readonly loop: Loop; readonly shape: number }>();
  for (const [shape, { loops }] of shapes.entries()) {
    for (const loop of loops) {
      const { min, max } = boxOf(loop);
      homes.set(line(min, max), { loop, shape });
    }
  }
  const index: SegmentIndex = indexSegments([...homes.keys()]);
  const turns = new Map<Loop, number>();
  for (const { loop } of homes.values()) turns.set(loop, areaOfLoop(loop) > 0 ? 1 : -1);
  const inside = (p: Point): boolean => {
    const winding = new Map<number, number>();
    for (const found of segmentsNear(index, { min: p, max: p }, 0)) {
      const { loop, shape } = homes.get(found)!;
      if (!containsPoint({ loops: [loop] }, p)) continue;
      winding.set(shape, (winding.get(shape) ?? 0) + (shapes[shape]!.rule === "even-odd" ? 1 : turns.get(loop)!));
    }
    for (const [shape, turn] of winding)
      if (shapes[shape]!.rule === "even-odd" ? turn % 2 === 1 : turn !== 0) return true;
    return false;
  };
  const kept: Loop[] = [];
  for (const { loop } of homes.values()) {
    const longest = loop.reduce((a, b) => (lengthOf(b) > lengthOf(a) ? b : a));
    const p = pointAt(longest, 0.5);
    const along = tangentAt(longest, 0.5);
    const step = Math.min(PROBE, lengthOf(longest) / 100);
    const left = inside({ x: p.x - step * along.y, y: p.y + step * along.x });
    const right = inside({ x: p.x + step * along.y, y: p.y - step * along.x });
    if (left !== right) kept.push(left ? loop : [...loop].reverse().map(reversed));
  }
  return kept;
}

function boxOf(loop: Loop): Box {
  return loop.map(boundsOf).reduce((a, b) => ({
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
  }));
}
