import { distanceBetween, distanceToPoint } from "./nearest.ts";
import type { Box, Point } from "./point.ts";
import { boundsOf, type Segment } from "./segment.ts";

/**
 * Segments packed into a tree of boxes, for asking what lies nearest. Built once, then only read.
 * Source: packed R-tree along a Hilbert curve, Kamel & Faloutsos, CIKM 1993, 490–499; from memory.
 */
export interface SegmentIndex {
  readonly size: number;
  /** In the order of the curve. */
  readonly segments: readonly Segment[];
  /** From the segments' own boxes up to the one around all: least x, least y, greatest x, greatest y, each in turn. */
  readonly levels: readonly Float64Array[];
}

const FANOUT = 8;
/** Boxes are compared by squares, which round: what is this little farther than the best so far is still looked at. */
const SLACK = 1 + 1e-12;

/** Packs segments. Cost: O(n log n). */
export function indexSegments(segments: readonly Segment[]): SegmentIndex {
  const boxes = segments.map(boundsOf);
  const whole = boxes.reduce((a, b) => around(a, b), { min: { x: 0, y: 0 }, max: { x: 0, y: 0 } });
  const scale = 65535 / Math.max(whole.max.x - whole.min.x, whole.max.y - whole.min.y, 1e-9);
  const keys = boxes.map((b) =>
    alongCurve(
      Math.floor(((b.min.x + b.max.x) / 2 - whole.min.x) * scale),
      Math.floor(((b.min.y + b.max.y) / 2 - whole.min.y) * scale),
    ),
  );
  const order = segments.map((_, i) => i).sort((a, b) => keys[a]! - keys[b]!);
  let level = new Float64Array(4 * segments.length);
  for (const [k, i] of order.entries()) {
    const { min, max } = boxes[i]!;
    level.set([min.x, min.y, max.x, max.y], 4 * k);
  }
  const levels = [level];
  while (level.length > 4) {
    level = packed(level);
    levels.push(level);
  }
  return { size: segments.length, segments: order.map((i) => segments[i]!), levels };
}

function around(a: Box, b: Box): Box {
  return {
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
  };
}

/** Boxes around each eight that follow each other. */
function packed(level: Float64Array): Float64Array<ArrayBuffer> {
  const groups = Math.ceil(level.length / 4 / FANOUT);
  const up = new Float64Array(4 * groups);
  for (let g = 0; g < groups; g++) {
    up.set([Infinity, Infinity, -Infinity, -Infinity], 4 * g);
    for (let i = 4 * FANOUT * g; i < Math.min(level.length, 4 * FANOUT * (g + 1)); i += 4) {
      up[4 * g] = Math.min(up[4 * g]!, level[i]!);
      up[4 * g + 1] = Math.min(up[4 * g + 1]!, level[i + 1]!);
      up[4 * g + 2] = Math.max(up[4 * g + 2]!, level[i + 2]!);
      up[4 * g + 3] = Math.max(up[4 * g + 3]!, level[i + 3]!);
    }
  }
  return up;
}

/** How far along a Hilbert curve through 65,536² cells a cell lies: neighbours on it are neighbours in the plane. */
function alongCurve(cellX: number, cellY: number): number {
  let [x, y, along] = [cellX, cellY, 0];
  for (let side = 32768; side > 0; side >>= 1) {
    const right = (x & side) > 0;
    const upper = (y & side) > 0;
    along += side * side * (right ? (upper ? 2 : 3) : upper ? 1 : 0);
    if (!upper) {
      if (right) {
        x = 65535 - x;
        y = 65535 - y;
      }
      [x, y] = [y, x];
    }
  }
  return along;
}

/** Distance from p to the nearest segment, mm, exactly as a search of all would give; Infinity for no segments. */
export function nearestDistance(index: SegmentIndex, p: Point): number {
  return least(index, p, p, (s) => distanceToPoint(s, p), Number.POSITIVE_INFINITY);
}

/**
 * Least distance between `segment` and any in the index, mm, when that is below `cutoff`; otherwise Infinity. Exactly
 * what comparing with each would give, at the cost of those near by.
 */
export function nearestDistanceTo(index: SegmentIndex, segment: Segment, cutoff: number): number {
  const { min, max } = boundsOf(segment);
  return least(index, min, max, (s) => distanceBetween(s, segment), cutoff);
}

/** The segments whose boxes come within `reach` mm of a box. */
export function segmentsNear(index: SegmentIndex, box: Box, reach: number): Segment[] {
  const found: Segment[] = [];
  const visit = (depth: number, group: number): void => {
    const level = index.levels[depth]!;
    for (let i = FANOUT * group; i < Math.min(level.length / 4, FANOUT * (group + 1)); i++) {
      if (Math.sqrt(gapSquare(level, i, box.min, box.max)) > reach) continue;
      if (depth === 0) found.push(index.segments[i]!);
      else visit(depth - 1, i);
    }
  };
  if (index.size > 0) visit(index.levels.length - 1, 0);
  return found;
}

/** Square of the gap between box i of a level and the box from `min` to `max`. */
function gapSquare(level: Float64Array, i: number, min: Point, max: Point): number {
  const dx = Math.max(0, level[4 * i]! - max.x, min.x - level[4 * i + 2]!);
  const dy = Math.max(0, level[4 * i + 1]! - max.y, min.y - level[4 * i + 3]!);
  return dx * dx + dy * dy;
}

/** Looks into nearer boxes first, and into none that lies farther than the best so far. */
function least(
  index: SegmentIndex,
  min: Point,
  max: Point,
  distanceTo: (s: Segment) => number,
  cutoff: number,
): number {
  let best = Number.POSITIVE_INFINITY;
  let bound = cutoff;
  let reach = cutoff * cutoff * SLACK;
  const visit = (depth: number, group: number): void => {
    const level = index.levels[depth]!;
    const first = FANOUT * group;
    const end = Math.min(level.length / 4, first + FANOUT);
    // Eight at most, and few are looked into: finding the next nearest again each time is cheaper than putting all in order.
    let done = -1;
    let doneGap = -1;
    for (;;) {
      let next = -1;
      let nextGap = Number.POSITIVE_INFINITY;
      for (let i = first; i < end; i++) {
        const gap = gapSquare(level, i, min, max);
        if (gap <= reach && gap < nextGap && (gap > doneGap || (gap === doneGap && i > done))) {
          next = i;
          nextGap = gap;
        }
      }
      if (next < 0) return;
      done = next;
      doneGap = nextGap;
      if (depth > 0) {
        visit(depth - 1, next);
        continue;
      }
      const d = distanceTo(index.segments[next]!);
      if (d < bound) {
        best = d;
        bound = d;
        reach = d * d * SLACK;
      }
    }
  };
  if (index.size > 0) visit(index.levels.length - 1, 0);
  return best;
}
