import { boxGap, distanceBetween, distanceToPoint } from "./nearest.ts";
import type { Box, Point } from "./point.ts";
import { boundsOf, type Segment } from "./segment.ts";

/**
 * Segments packed into a tree of boxes, for asking what lies nearest. Built once, then only read.
 * Source: sort-tile-recursive packing, Leutenegger, Edgington & Lopez, ICDE 1997; from memory.
 */
export interface SegmentIndex {
  readonly size: number;
  readonly root: Node | undefined;
}

type Node =
  | { readonly box: Box; readonly segments: readonly Segment[] }
  | { readonly box: Box; readonly children: readonly Node[] };

const FANOUT = 8;

/** Packs segments. Cost: O(n log n). */
export function indexSegments(segments: readonly Segment[]): SegmentIndex {
  const boxed = segments.map((segment) => ({ segment, box: boundsOf(segment) }));
  let level: Node[] = tiles(boxed).map((group) => ({
    box: boxAround(group.map((g) => g.box)),
    segments: group.map((g) => g.segment),
  }));
  while (level.length > 1) {
    level = tiles(level).map((children) => ({ box: boxAround(children.map((c) => c.box)), children }));
  }
  return { size: segments.length, root: level[0] };
}

/** Groups of at most eight neighbours: upright strips, each cut across. */
function tiles<T extends { readonly box: Box }>(items: readonly T[]): T[][] {
  const strips = Math.ceil(Math.sqrt(Math.ceil(items.length / FANOUT)));
  const perStrip = Math.ceil(items.length / Math.max(1, strips));
  const byX = [...items].sort((a, b) => a.box.min.x + a.box.max.x - b.box.min.x - b.box.max.x);
  const groups: T[][] = [];
  for (let i = 0; i < byX.length; i += perStrip) {
    const strip = byX.slice(i, i + perStrip).sort((a, b) => a.box.min.y + a.box.max.y - b.box.min.y - b.box.max.y);
    for (let k = 0; k < strip.length; k += FANOUT) groups.push(strip.slice(k, k + FANOUT));
  }
  return groups;
}

function boxAround(boxes: readonly Box[]): Box {
  return {
    min: { x: Math.min(...boxes.map((b) => b.min.x)), y: Math.min(...boxes.map((b) => b.min.y)) },
    max: { x: Math.max(...boxes.map((b) => b.max.x)), y: Math.max(...boxes.map((b) => b.max.y)) },
  };
}

/** Distance from p to the nearest segment, mm, exactly as a search of all would give; Infinity for no segments. */
export function nearestDistance(index: SegmentIndex, p: Point): number {
  return least(
    index,
    (box) => Math.hypot(Math.max(0, box.min.x - p.x, p.x - box.max.x), Math.max(0, box.min.y - p.y, p.y - box.max.y)),
    (s) => distanceToPoint(s, p),
    Number.POSITIVE_INFINITY,
  );
}

/**
 * Least distance between `segment` and any in the index, mm, when that is below `cutoff`; otherwise Infinity. Exactly
 * what comparing with each would give, at the cost of those near by.
 */
export function nearestDistanceTo(index: SegmentIndex, segment: Segment, cutoff: number): number {
  const around = boundsOf(segment);
  return least(
    index,
    (box) => boxGap(box, around),
    (s) => distanceBetween(s, segment),
    cutoff,
  );
}

/** The segments whose boxes come within `reach` mm of a box. */
export function segmentsNear(index: SegmentIndex, box: Box, reach: number): Segment[] {
  const found: Segment[] = [];
  const visit = (node: Node): void => {
    if (boxGap(node.box, box) > reach) return;
    if ("children" in node) node.children.forEach(visit);
    else for (const s of node.segments) if (boxGap(boundsOf(s), box) <= reach) found.push(s);
  };
  if (index.root !== undefined) visit(index.root);
  return found;
}

function least(
  index: SegmentIndex,
  gapTo: (box: Box) => number,
  distanceTo: (s: Segment) => number,
  cutoff: number,
): number {
  let best = Number.POSITIVE_INFINITY;
  let bound = cutoff;
  const visit = (node: Node): void => {
    if ("children" in node) {
      const near = node.children.map((child) => ({ child, gap: gapTo(child.box) }));
      near.sort((a, b) => a.gap - b.gap);
      // A gap may round to a hair above the distance it bounds: equal is still looked at.
      for (const { child, gap } of near) if (gap <= bound) visit(child);
      return;
    }
    for (const s of node.segments) {
      const d = distanceTo(s);
      if (d < bound) {
        bound = d;
        best = d;
      }
    }
  };
  if (index.root !== undefined) visit(index.root);
  return best;
}
