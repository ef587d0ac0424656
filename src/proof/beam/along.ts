import { distanceToPoint } from "../../shapes/nearest.ts";
import { distance, type Point } from "../../shapes/point.ts";
import { lengthOf, pieceOf, pointAt, radiusOf, type Segment, shareTowards, sweepRad } from "../../shapes/segment.ts";
import { nearestDistance, type SegmentIndex, segmentsNear } from "../../shapes/segment-index.ts";

/** How far a segment strays from others. mm. */
export interface Straying {
  /** No point of it is farther away than this, except on the stretch that is told as beyond. */
  readonly within: number;
  /** Length of it that is farther away than allowed; 0 when it keeps to them. */
  readonly beyond: number;
  /** The farthest place found beyond, and how far it is. */
  readonly at?: Point;
  readonly worst: number;
}

/** Shorter stretches are judged by their middle, mm: half of it is the error of what is told. */
const SHORTEST = 0.002;

/**
 * Whether all of a segment lies within `allowed` of the segments of an index. Pieces that keep to one of them all along are
 * told in closed form: the distance to a straight line is convex, so the ends tell; between arcs the centres and radii
 * tell. Else a piece is halved. A distance changes no faster than its place, so a piece whose middle is nearer than
 * allowed by half its length is within, and one whose middle is farther by as much is beyond.
 * @param skip pieces that need not be near: given the middle and half the length, true when all of the piece is excused, false
 *   when none of it is; undefined when it is too long to tell
 */
export function strayingOf(
  s: Segment,
  index: SegmentIndex,
  allowed: number,
  skip: (middle: Point, half: number) => boolean | undefined = () => false,
): Straying {
  let within = 0;
  let beyond = 0;
  let worst = 0;
  let at: Point | undefined;
  const total = lengthOf(s);
  const open: [number, number][] = [[0, 1]];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const [a, b] = next;
    const middle = pointAt(s, (a + b) / 2);
    const half = (total * (b - a)) / 2;
    const d = nearestDistance(index, middle);
    if (d + half <= allowed) {
      within = Math.max(within, d + half);
      continue;
    }
    if (d <= allowed) {
      const sure = keepsTo(pieceOf(s, a, b), index, middle, d);
      if (sure <= allowed) {
        within = Math.max(within, sure);
        continue;
      }
    }
    const excused = skip(middle, half);
    if (excused === true) continue;
    if (excused === undefined && 2 * half > SHORTEST) {
      open.push([a, (a + b) / 2], [(a + b) / 2, b]);
      continue;
    }
    if (d - half > allowed || (2 * half <= SHORTEST && d > allowed)) {
      beyond += 2 * half;
      for (const p of [middle, pointAt(s, a), pointAt(s, b)]) {
        const far = nearestDistance(index, p);
        if (far <= worst) continue;
        worst = far;
        at = p;
      }
      continue;
    }
    if (2 * half <= SHORTEST) {
      within = Math.max(within, allowed);
      continue;
    }
    open.push([a, (a + b) / 2], [(a + b) / 2, b]);
  }
  return { within, beyond, worst: Math.max(worst, Math.min(within, allowed)), ...(at === undefined ? {} : { at }) };
}

/** Least bound on how far a piece strays from any one of the segments nearest to its middle. */
function keepsTo(piece: Segment, index: SegmentIndex, middle: Point, d: number): number {
  return segmentsNear(index, { min: middle, max: middle }, d + 1e-9).reduce(
    (least, other) => Math.min(least, farthestFrom(piece, other)),
    Number.POSITIVE_INFINITY,
  );
}

/** A bound on the largest distance from a point of `piece` to `other`, mm; Infinity where no closed form is sure. */
export function farthestFrom(piece: Segment, other: Segment): number {
  const ends = Math.max(distanceToPoint(other, piece.from), distanceToPoint(other, piece.to));
  if (other.kind === "line") {
    if (piece.kind === "line") return ends;
    // An arc of less than half a turn lies in the triangle of its ends and the crossing of its end tangents.
    const sweep = Math.abs(sweepRad(piece));
    if (sweep > 3) return Number.POSITIVE_INFINITY;
    const m = pointAt(piece, 0.5);
    const out = 1 / Math.cos(sweep / 2);
    const r = radiusOf(piece);
    const apex = {
      x: piece.centre.x + ((m.x - piece.centre.x) / r) * r * out,
      y: piece.centre.y + ((m.y - piece.centre.y) / r) * r * out,
    };
    return Math.max(ends, distanceToPoint(other, apex));
  }
  // Seen from the other arc's centre, all of the piece must lie within its sweep, passed one way.
  const { centre } = other;
  const shares = [0, 0.5, 1].map((t) => {
    const p = pointAt(piece, t);
    return shareTowards(other, p.x - centre.x, p.y - centre.y);
  });
  const [t0, t1, t2] = shares;
  if (t0 === undefined || t1 === undefined || t2 === undefined || (t1 - t0) * (t2 - t1) < 0) {
    return Number.POSITIVE_INFINITY;
  }
  const r = radiusOf(other);
  if (piece.kind === "arc") {
    if (Math.abs(sweepRad(piece)) > 3 || distance(piece.centre, centre) > r / 2) return Number.POSITIVE_INFINITY;
    return distance(piece.centre, centre) + Math.abs(radiusOf(piece) - r);
  }
  // Along a chord the distance from the centre is least at the foot of the centre, and largest at an end.
  return Math.max(ends, Math.abs(r - distanceToPoint(piece, centre)));
}
