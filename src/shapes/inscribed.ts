import { convexOf, shrunkConvex } from "./convex.ts";
import { distanceToPoint } from "./nearest.ts";
import type { Point } from "./point.ts";
import { type Polygons, pointInPolygons, type Ring } from "./rings.ts";
import { line } from "./segment.ts";
import { indexSegments, nearestDistance, type SegmentIndex } from "./segment-index.ts";

/** A circle. mm. */
export interface Circle {
  readonly centre: Point;
  readonly radius: number;
}

interface Cell {
  readonly centre: Point;
  readonly half: number;
  /** Distance to the boundary; negative outside. */
  readonly depth: number;
  /** No point of the cell lies deeper than this. */
  readonly most: number;
}

/**
 * A largest circle inside polygons: its radius is the exact distance of its centre from the boundary, and no other
 * circle is larger by more than `precision` mm. Best-first search of squares: a square whose centre lies at depth d
 * holds nothing deeper than d + half its diagonal.
 * @param enough a circle at least this large will do, however much larger others are, mm
 * @throws RangeError when there are no polygons, or the precision is not above zero
 */
export function largestInscribed(polygons: Polygons, precision: number, enough = Number.POSITIVE_INFINITY): Circle {
  const points = polygons.flat();
  if (points.length === 0) throw new RangeError("no circle lies in an empty area");
  if (!(precision > 0)) throw new RangeError(`a precision must be above zero, not ${precision}`);
  const index = indexSegments(polygons.flatMap((r) => r.map((p, i) => line(p, r[(i + 1) % r.length]!))));
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { x, y } of points) {
    minX = Math.min(minX, x);
    maxX = Math.max(maxX, x);
    minY = Math.min(minY, y);
    maxY = Math.max(maxY, y);
  }
  const width = maxX - minX;
  const height = maxY - minY;
  const convex = polygons.length === 1 ? convexOf(polygons[0]!, 0) : undefined;
  if (convex !== undefined) return inConvex(convex, precision, enough, Math.min(width, height) / 2);
  const start = points[0]!;
  let best: Circle = { centre: start, radius: 0 };
  const side = Math.max(Math.min(width, height), Math.max(width, height) / 64);
  if (side === 0) return best;
  const queue: Cell[] = [];
  const consider = (centre: Point, half: number): void => {
    const cell = cellAt(polygons, index, centre, half);
    if (cell.depth > best.radius) best = { centre, radius: cell.depth };
    if (cell.most > best.radius + precision) push(queue, cell);
  };
  for (let x = minX; x < maxX; x += side) {
    for (let y = minY; y < maxY; y += side) consider({ x: x + side / 2, y: y + side / 2 }, side / 2);
  }
  for (let cell = pop(queue); cell !== undefined && cell.most > best.radius + precision; cell = pop(queue)) {
    if (best.radius >= enough) break;
    const h = cell.half / 2;
    for (const [sx, sy] of QUARTERS) consider({ x: cell.centre.x + sx * h, y: cell.centre.y + sy * h }, h);
  }
  return best;
}

/** The same in a convex ring, by halving: what is left when it is shrunk tells whether a circle fits. */
function inConvex(ring: Ring, precision: number, enough: number, most: number): Circle {
  let [fits, tooLarge] = [0, most];
  let left: Ring = ring;
  const wanted = Math.min(enough, most);
  while (tooLarge - fits > precision && fits < wanted) {
    const middle = (fits + tooLarge) / 2;
    const shrunk = shrunkConvex(ring, middle);
    if (shrunk === undefined) tooLarge = middle;
    else [fits, left] = [middle, shrunk];
  }
  // The middle of what is left lies at least as deep as all of it.
  let [x, y] = [0, 0];
  for (const p of left) {
    x += p.x / left.length;
    y += p.y / left.length;
  }
  const depth = ring.reduce(
    (least, p, i) => Math.min(least, distanceToPoint(line(p, ring[(i + 1) % ring.length]!), { x, y })),
    most,
  );
  return { centre: { x, y }, radius: depth };
}

const QUARTERS = [
  [-1, -1],
  [1, -1],
  [-1, 1],
  [1, 1],
] as const;

function cellAt(polygons: Polygons, index: SegmentIndex, centre: Point, half: number): Cell {
  const away = nearestDistance(index, centre);
  const depth = pointInPolygons(polygons, centre) ? away : -away;
  return { centre, half, depth, most: depth + half * Math.SQRT2 };
}

/** A binary heap, deepest possible cell first. */
function push(heap: Cell[], cell: Cell): void {
  let i = heap.push(cell) - 1;
  while (i > 0) {
    const up = (i - 1) >> 1;
    if (heap[up]!.most >= cell.most) break;
    heap[i] = heap[up]!;
    i = up;
  }
  heap[i] = cell;
}

function pop(heap: Cell[]): Cell | undefined {
  const top = heap[0];
  const last = heap.pop();
  if (top === undefined || last === undefined || heap.length === 0) return top;
  let i = 0;
  for (;;) {
    let down = 2 * i + 1;
    if (down >= heap.length) break;
    if (down + 1 < heap.length && heap[down + 1]!.most > heap[down]!.most) down++;
    if (heap[down]!.most <= last.most) break;
    heap[i] = heap[down]!;
    i = down;
  }
  heap[i] = last;
  return top;
}
