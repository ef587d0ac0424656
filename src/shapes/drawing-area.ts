import { meetBesideJoints } from "./drawing-loops.ts";
import { fitRegion } from "./fit-arcs.ts";
import { flattenLoop } from "./flatten.ts";
import { connected, fill, fromGrid, type GridPaths, toGrid } from "./kernel.ts";
import { distanceBetween } from "./nearest.ts";
import type { Box, Point } from "./point.ts";
import { areaOfLoop, containsPoint, type Loop, type Region } from "./region.ts";
import type { Polygons, Ring } from "./rings.ts";
import { boundsOf, lengthOf, line, pointAt, reversed, tangentAt } from "./segment.ts";
import { indexSegments, type SegmentIndex, segmentsNear } from "./segment-index.ts";

/** One filled shape: closed loops, crossing or not, and the rule by which they fill. */
export interface FilledShape {
  readonly loops: readonly Loop[];
  readonly rule: "nonzero" | "even-odd";
  /** True: it takes away what was filled before it. */
  readonly bare: boolean;
}

/** Boxes compared before shapes are given to the polygon kernel as they are. */
const MOST_LOOKS = 10_000_000;
/** Pairs of chords whose boxes meet, beyond which a tangle takes the kernel too long. */
const MOST_MEETINGS = 300_000;
/** How far beside a loop the area is looked for, mm. */
const PROBE = 1e-5;

/**
 * All that shapes fill, one after another, as one area. Shapes that stand clear of each other and don't cross themselves keep their lines
 * and arcs bit for bit; those that meet go through the polygon kernel and come back within `tolerance` mm, on its grid.
 * Undefined for a tangle that would take too long.
 * Cost: O(n log n) and what crosses.
 */
export function unitedArea(shapes: readonly FilledShape[], tolerance: number): Region | undefined {
  const clear: BoxedShape[] = [];
  // What is fitted anew may move by the tolerance, on both sides.
  for (const cluster of clustersOf(shapes.map(boxed), 2 * tolerance)) {
    const [only, more] = cluster;
    if (only === undefined) continue;
    if (more === undefined && (only.bare || !crossesItself(only))) {
      if (!only.bare) clear.push(only);
      continue;
    }
    const united = throughKernel(cluster, tolerance);
    if (united === undefined) return undefined;
    if (united.loops.length > 0) clear.push(boxed({ loops: united.loops, rule: "nonzero", bare: false }));
  }
  return { loops: bounding(clear) };
}

/** A shape with the boxes around it, its loops and their pieces. */
interface BoxedShape extends FilledShape {
  readonly box: Box;
  readonly loopBoxes: readonly Box[];
  readonly pieceBoxes: readonly (readonly Box[])[];
}

function boxed({ loops, rule, bare }: FilledShape): BoxedShape {
  const pieceBoxes = loops.map((loop) => loop.map(boundsOf));
  const loopBoxes = pieceBoxes.map(around);
  return { loops, rule, bare, box: around(loopBoxes), loopBoxes, pieceBoxes };
}

function around(boxes: readonly Box[]): Box {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { min, max } of boxes) {
    if (min.x < x0) x0 = min.x;
    if (min.y < y0) y0 = min.y;
    if (max.x > x1) x1 = max.x;
    if (max.y > y1) y1 = max.y;
  }
  return { min: { x: x0, y: y0 }, max: { x: x1, y: y1 } };
}

/** Shapes sorted into those that come within `reach` mm of each other, each cluster in the order of painting. */
function clustersOf(shapes: readonly BoxedShape[], reach: number): BoxedShape[][] {
  const leader = shapes.map((_, i) => i);
  const leaderOf = (i: number): number => {
    let top = i;
    while (leader[top] !== top) {
      leader[top] = leader[leader[top]!]!;
      top = leader[top]!;
    }
    return top;
  };
  const budget = { left: MOST_LOOKS };
  const order = shapes.map((_, i) => i).sort((a, b) => shapes[a]!.box.min.x - shapes[b]!.box.min.x);
  for (const [at, i] of order.entries()) {
    const a = shapes[i]!;
    for (let next = at + 1; next < order.length; next++) {
      const k = order[next]!;
      const b = shapes[k]!;
      if (b.box.min.x > a.box.max.x + reach) break;
      if (!boxesMeet(a.box, b.box, reach) || leaderOf(i) === leaderOf(k)) continue;
      // What takes away meets all that its box meets, whether or not outlines do.
      if (!(a.bare || b.bare || comeNear(a, b, reach, budget))) continue;
      const [first, second] = [leaderOf(i), leaderOf(k)];
      leader[Math.max(first, second)] = Math.min(first, second);
    }
  }
  const clusters = new Map<number, BoxedShape[]>();
  for (const [i, shape] of shapes.entries()) {
    const cluster = clusters.get(leaderOf(i)) ?? [];
    clusters.set(leaderOf(i), cluster);
    cluster.push(shape);
  }
  return [...clusters.values()];
}

function boxesMeet(a: Box, b: Box, reach: number): boolean {
  return (
    a.min.x <= b.max.x + reach && b.min.x <= a.max.x + reach && a.min.y <= b.max.y + reach && b.min.y <= a.max.y + reach
  );
}

/** Whether outlines come within reach; once the budget is spent, shapes whose boxes meet count as meeting. */
function comeNear(a: BoxedShape, b: BoxedShape, reach: number, budget: { left: number }): boolean {
  for (let i = 0; i < a.loops.length; i++) {
    if (!boxesMeet(a.loopBoxes[i]!, b.box, reach)) continue;
    for (let k = 0; k < b.loops.length; k++) {
      const around = b.loopBoxes[k]!;
      if (boxesMeet(a.loopBoxes[i]!, around, reach) && loopsComeNear(a, i, b, k, reach, budget)) return true;
    }
    budget.left -= b.loops.length;
    if (budget.left < 0) return true;
  }
  return false;
}

function loopsComeNear(
  a: BoxedShape,
  i: number,
  b: BoxedShape,
  k: number,
  reach: number,
  budget: { left: number },
): boolean {
  const [boxesA, boxesB] = [a.pieceBoxes[i]!, b.pieceBoxes[k]!];
  budget.left -= boxesA.length;
  for (let m = 0; m < boxesA.length; m++) {
    if (!boxesMeet(boxesA[m]!, b.loopBoxes[k]!, reach)) continue;
    for (let n = 0; n < boxesB.length; n++) {
      if (!boxesMeet(boxesA[m]!, boxesB[n]!, reach)) continue;
      if (distanceBetween(a.loops[i]![m]!, b.loops[k]![n]!) <= reach) return true;
    }
    budget.left -= boxesB.length;
    if (budget.left < 0) return true;
  }
  return false;
}

/** Whether loops of one shape cross or touch, each itself or another, apart from the joints of neighbours. */
function crossesItself({ loops, pieceBoxes }: BoxedShape): boolean {
  const pieces = loops
    .flatMap((loop, k) => loop.map((s, i) => ({ s, box: pieceBoxes[k]![i]!, loop, i })))
    .sort((a, b) => a.box.min.x - b.box.min.x);
  let looks = 0;
  for (const [at, a] of pieces.entries()) {
    for (let next = at + 1; next < pieces.length; next++) {
      const b = pieces[next]!;
      if (b.box.min.x > a.box.max.x) break;
      // Beyond the limit it is left to the kernel.
      if (++looks > MOST_LOOKS) return true;
      if (b.box.min.y > a.box.max.y || b.box.max.y < a.box.min.y) continue;
      const { length } = a.loop;
      const step = a.loop === b.loop ? (b.i - a.i + length) % length : -1;
      // Neighbours whose boxes share but a corner meet in their joint alone.
      if ((step === 1 || step === length - 1) && shareCorner(a.box, b.box)) continue;
      if (meetBesideJoints(a.s, b.s, step === 1, step === length - 1)) return true;
    }
  }
  return false;
}

function shareCorner(a: Box, b: Box): boolean {
  return (
    Math.min(a.max.x, b.max.x) - Math.max(a.min.x, b.min.x) <= 1e-9 &&
    Math.min(a.max.y, b.max.y) - Math.max(a.min.y, b.min.y) <= 1e-9
  );
}

function throughKernel(shapes: readonly FilledShape[], tolerance: number): Region | undefined {
  // Chords and arcs share the tolerance, since arcs are found only where chords keep within theirs.
  const rings = shapes.map(({ loops }) => loops.map((l) => flattenLoop(l, tolerance / 3)));
  if (rings.some((r) => meetings(r) > MOST_MEETINGS)) return undefined;
  const areas = rings.map((r, i) => fill(toGrid(r), shapes[i]!.rule).flat());
  let united: GridPaths | undefined = [];
  for (let i = 0; i < areas.length && united !== undefined; ) {
    const { bare } = shapes[i]!;
    let next = i;
    while (next < areas.length && shapes[next]!.bare === bare) next++;
    const run: readonly GridPaths[] = areas.slice(i, next);
    united = bare ? lessAll(united, run) : mergedAll(united.length === 0 ? run : [united, ...run]);
    i = next;
  }
  return united === undefined ? undefined : fitRegion(fromGrid(united).flatMap(untouching), (2 / 3) * tolerance);
}

/** Proper areas as one: all at once, or where too many edges might cross, two by two. */
function mergedAll(areas: readonly GridPaths[]): GridPaths | undefined {
  // Proper areas wind around a point once or not at all: where their sum isn't zero, one of them is.
  const merged = (some: readonly GridPaths[]): GridPaths => fill(some.flat(), "nonzero").flat();
  const [only] = areas;
  if (only === undefined || areas.length === 1) return only;
  if (meetings(areas.flat().map(ringOf)) <= MOST_MEETINGS) return merged(areas);
  if (areas.length === 2) return undefined;
  const halves = [areas.slice(0, areas.length >> 1), areas.slice(areas.length >> 1)].map(mergedAll);
  const found = halves.filter((half) => half !== undefined);
  return found.length === 2 && meetings(found.flat().map(ringOf)) <= MOST_MEETINGS ? merged(found) : undefined;
}

function lessAll(area: GridPaths, away: readonly GridPaths[]): GridPaths | undefined {
  const gone = mergedAll(away);
  if (gone === undefined || meetings([...area, ...gone].map(ringOf)) > MOST_MEETINGS) return undefined;
  // Turned round, it winds the area beneath it down to zero.
  return connected([...area, ...gone.map((path) => [...path].reverse())]).flat();
}

function ringOf(path: GridPaths[number]): Ring {
  return path.map(({ X, Y }) => ({ x: X, y: Y }));
}

/**
 * A ring that comes back to one of its points as several that don't: such rings enclose the same. (The kernel can do this
 * itself, in a time that grows with the square of the points.)
 */
function untouching(ring: Ring): Ring[] {
  const found: Ring[] = [];
  const at = new Map<string, number>();
  const way: Point[] = [];
  for (const p of ring) {
    const key = `${p.x} ${p.y}`;
    const before = at.get(key);
    if (before === undefined) {
      at.set(key, way.length);
      way.push(p);
      continue;
    }
    const round = way.splice(before + 1);
    for (const q of round) at.delete(`${q.x} ${q.y}`);
    if (round.length > 1) found.push([p, ...round]);
  }
  if (way.length > 2) found.push(way);
  return found;
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
    if (count > MOST_MEETINGS || looked > MOST_LOOKS) return Number.POSITIVE_INFINITY;
  }
  return count;
}

/**
 * The loops that part inside from outside, area on their left: outer loops counter-clockwise, holes clockwise. Loops that
 * bound nothing (a shape within another, a hole drawn the same way round) fall away. No two loops cross.
 */
function bounding(shapes: readonly BoxedShape[]): Loop[] {
  const homes = new Map<Loop[number], { readonly loop: Loop; readonly shape: number }>();
  for (const [shape, { loops, loopBoxes }] of shapes.entries()) {
    for (const [i, loop] of loops.entries()) {
      const { min, max } = loopBoxes[i]!;
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
