import { distance, type Point } from "../shapes/point.ts";

/**
 * Points in an order that goes to the nearest one left each time, begun at the one lowest and then furthest left.
 * The same points give the same order: of equally near ones the one first in the list. Cost: O(n²).
 */
export function nearestFirst(points: readonly Point[]): Point[] {
  const left = [...points];
  const order: Point[] = [];
  let from: Point | undefined;
  while (left.length > 0) {
    let best = 0;
    for (let i = 1; i < left.length; i++) if (comesBefore(left[i]!, left[best]!, from)) best = i;
    from = left.splice(best, 1)[0]!;
    order.push(from);
  }
  return order;
}

function comesBefore(a: Point, b: Point, from: Point | undefined): boolean {
  if (from === undefined) return a.y < b.y - 1e-9 || (Math.abs(a.y - b.y) <= 1e-9 && a.x < b.x - 1e-9);
  return distance(a, from) < distance(b, from) - 1e-9;
}
