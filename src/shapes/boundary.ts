import { crossings } from "./crossings.ts";
import { nearestOn } from "./nearest-on.ts";
import type { Point } from "./point.ts";
import { boundsOf, lengthOf, pieceOf, pointAt, type Segment, tangentAt } from "./segment.ts";

/** How far to either side of a piece the solid is looked for, mm. */
const PROBE = 1e-5;
/** Pieces shorter than this, mm, are left out: no tolerance of ours sees them. */
const SHORTEST = 1e-7;

/**
 * The boundary of a solid that is bounded by parts of the given curves: all curves are split where they meet, and
 * the pieces kept that have solid on exactly one side. Curves may overlap, cross, and come twice (the boundary then
 * comes twice). Each piece keeps the direction of its curve.
 * @param isSolid whether a point belongs to the solid; asked 1e-5 mm beside the pieces, never on purpose on them
 * Cost: O(n log n + pairs whose boxes meet + pieces × isSolid).
 */
export function solidBoundary(curves: readonly Segment[], isSolid: (p: Point) => boolean): Segment[] {
  const kept: Segment[] = [];
  for (const piece of splitAtCrossings(curves)) if (dividesSolid(piece, isSolid)) kept.push(piece);
  return kept;
}

/** All curves cut wherever two of them meet. */
export function splitAtCrossings(curves: readonly Segment[]): Segment[] {
  const items = curves
    .map((curve) => ({ curve, box: boundsOf(curve), cuts: [] as number[] }))
    .sort((a, b) => a.box.min.x - b.box.min.x);
  const slack = SHORTEST;
  for (let i = 0; i < items.length; i++) {
    const a = items[i]!;
    for (let k = i + 1; k < items.length; k++) {
      const b = items[k]!;
      if (b.box.min.x > a.box.max.x + slack) break;
      if (b.box.min.y > a.box.max.y + slack || b.box.max.y < a.box.min.y - slack) continue;
      for (const p of crossings(a.curve, b.curve)) {
        a.cuts.push(nearestOn(a.curve, p).t);
        b.cuts.push(nearestOn(b.curve, p).t);
      }
    }
  }
  return items.flatMap(({ curve, cuts }) => pieces(curve, cuts));
}

function pieces(curve: Segment, cuts: readonly number[]): Segment[] {
  const length = lengthOf(curve);
  if (!(length > SHORTEST)) return [];
  const least = SHORTEST / length;
  const found: Segment[] = [];
  let from = 0;
  for (const t of [...cuts].sort((a, b) => a - b)) {
    if (t - from <= least || 1 - t <= least) continue;
    found.push(pieceOf(curve, from, t));
    from = t;
  }
  found.push(pieceOf(curve, from, 1));
  return found;
}

/**
 * Looks beside the middle; where both sides agree there, at two more places: the middle may lie within a probe's reach
 * of another curve.
 */
function dividesSolid(piece: Segment, isSolid: (p: Point) => boolean): boolean {
  const step = Math.min(PROBE, lengthOf(piece) / 4);
  return [0.5, 0.23, 0.81].some((t) => {
    const p = pointAt(piece, t);
    const along = tangentAt(piece, t);
    const left = isSolid({ x: p.x - step * along.y, y: p.y + step * along.x });
    const right = isSolid({ x: p.x + step * along.y, y: p.y - step * along.x });
    return left !== right;
  });
}
