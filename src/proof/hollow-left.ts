import type { TargetCavity } from "../parts/target.ts";
import { HOLLOW_RIDGE } from "../plan/levels.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { endsOfHollow, type Hollow } from "../shapes/hollow.ts";
import { largestInscribed } from "../shapes/inscribed.ts";
import { nearestOn } from "../shapes/nearest-on.ts";
import { offsetPolygons } from "../shapes/offset.ts";
import type { Point, Point3 } from "../shapes/point.ts";
import { line, pointAt, radiusOf, type Segment, sweepRad, tangentAt } from "../shapes/segment.ts";
import { indexSegments, nearestDistance, nearestDistanceTo, type SegmentIndex } from "../shapes/segment-index.ts";
import { valleysOf } from "../shapes/valleys.ts";
import { ACCURACY } from "../tolerance.ts";
import type { Stroke } from "./left.ts";
import { FINE } from "./reach.ts";
import { widestAgainst } from "./against-hollow.ts";
import { type Silhouette, widest } from "./silhouette.ts";

/** What is left in a hollow. mm. */
export interface HollowLeft {
  /** The highest that the surface stands square to itself where a pass touches it, and where one should. */
  readonly touch: number;
  /** The highest ridge between passes, square to the surface. */
  readonly ridge: number;
  /** Both hold within ± this. */
  readonly bound: number;
  /** Distance inside the mouth, and height in set-up coordinates, of the worst of the two. */
  readonly at: Point3 | undefined;
  /** No pass counts at all. */
  readonly nothing: boolean;
  /** A bit rounder than the corners accepted, or a form that leaves more, made the passes. */
  readonly passes: number;
}

/** A ring that was cut all the way round one level line of the mouth, its tip level. */
interface Ring {
  readonly inset: number;
  readonly z: number;
  readonly cutter: Silhouette;
  readonly top: number;
  /** Every point of the level line lies within this of the way the axis went. */
  readonly within: number;
}

/** Strokes whose distance to the mouth changes by more than this belong to no ring, mm. */
const RING_WITHIN = 0.012;
/** A level line that is farther than this from what was cut was not gone round, mm. */
const ROUND_WITHIN = 0.006;
/** The surface is looked at this close along its cross-section, mm; the worst places more closely. */
const SPACING = 0.03;
/** How exactly a height of wood is found, mm. */
const FOUND_WITHIN = 1e-4;
/** The middle of the mouth is found within this, mm. */
const MIDDLE_WITHIN = 0.004;
/** What is asked for in the middle of a shape is asked for up to this share of it: at the very middle all have a valley. */
const NEARLY = 0.98;
/** Bits whose radius is this little above the accepted corner radius still count, mm: the accuracy hides it. */
const CORNER_WITHIN = 0.012;
/** Wood higher than this is not measured closer, mm. */
const MUCH = 6;

/**
 * Wood left in a hollow by the level strokes of a set-up. What they cut is gathered into rings: a height of the tip and a
 * level line of the mouth that the axis went all the way round, each point of it looked for. A point p at distance d
 * inside the mouth lies d − δ from a ring at δ when it is further in, exactly; and δ − d when further out, where the level
 * lines have no corner. So what stays is decided in the cross-section: for each place on the wall and floor, the least
 * height square to it at which some ring's cutter has passed. Between passes that is a ridge; where it is least, a pass
 * should touch. In the valleys that run from a rectangle's corners the rings lie √2 as far out: they are judged again
 * along the valley, against where the bit's own nose could stand at best.
 */
export function hollowLeft(cavity: TargetCavity, hollow: Hollow, strokes: readonly Stroke[]): HollowLeft {
  const mouth = flattenRegion(cavity.section, FINE);
  const index = indexSegments(mouth.flatMap((r) => r.map((p, i) => line(p, r[(i + 1) % r.length]!))));
  const rings = ringsOf(cavity, index, strokes);
  if (rings.length === 0) {
    return { touch: MUCH, ridge: MUCH, bound: 0, at: undefined, nothing: true, passes: 0 };
  }
  const middle = largestInscribed(mouth, MIDDLE_WITHIN).radius;
  const { floor } = endsOfHollow(hollow);
  const dished = isDish(hollow, floor, middle);
  const end = dished ? floor.x : Math.max(middle, floor.x);
  const section: readonly Segment[] =
    end > floor.x + 1e-6 ? [...hollow.segments, line(floor, { x: end, y: floor.y })] : hollow.segments;
  // On a level floor with corners or narrow places, a place may have a ring on one side only.
  const smoothTo = valleysOf(cavity.section, NEARLY * middle) === "none" ? end : dished ? end : floor.x;
  const found = alongSection(cavity, rings, section, smoothTo);
  const valley = inValleys(cavity, hollow, rings, middle, dished);
  const worst = valley !== undefined && valley.ridge > found.ridge ? valley : found;
  return {
    touch: found.touch,
    ridge: Math.max(found.ridge, valley?.ridge ?? 0),
    bound: FOUND_WITHIN,
    at: worst.at,
    nothing: false,
    passes: rings.length,
  };
}

function isDish(h: Hollow, floor: Point, middle: number): boolean {
  const last = h.segments[h.segments.length - 1]!;
  return last.kind === "arc" && last.ccw && floor.x >= middle - MIDDLE_WITHIN - 0.002;
}

/** The rings that level strokes of fitting bits make, each looked for all the way round. */
function ringsOf(cavity: TargetCavity, mouth: SegmentIndex, strokes: readonly Stroke[]): readonly Ring[] {
  const groups: { readonly z: number; readonly stroke: Stroke; readonly items: { curve: Segment; inset: number }[] }[] =
    [];
  for (const stroke of strokes) {
    const { curve, zFrom, zTo, slack } = stroke.motion;
    if (zFrom !== zTo || slack > FINE) continue;
    if (widest(stroke.cutter, 0, stroke.top) > cavity.cavity.insideRadius + CORNER_WITHIN) continue;
    const insets = [0, 0.25, 0.5, 0.75, 1].map((t) => nearestDistance(mouth, pointAt(curve, t)));
    const least = Math.min(...insets);
    if (Math.max(...insets) - least > RING_WITHIN) continue;
    const group = groups.find((g) => g.z === zFrom && g.stroke.cutter === stroke.cutter);
    const item = { curve, inset: least };
    if (group === undefined) groups.push({ z: zFrom, stroke, items: [item] });
    else group.items.push(item);
  }
  const section = flattenRegion(cavity.section, FINE);
  return groups.flatMap(({ z, stroke, items }) =>
    clustered(items).flatMap((cluster): readonly Ring[] => {
      const insets = cluster.map((i) => i.inset).sort((a, b) => a - b);
      const inset = insets[insets.length >> 1]!;
      const level = inset > 1e-6 ? offsetPolygons(section, -inset, FINE) : section;
      if (level.length === 0) return [];
      const way = indexSegments(cluster.map((c) => c.curve));
      let within = 0;
      for (const ring of level) {
        for (const [i, p] of ring.entries()) {
          within = Math.max(within, farthestFrom(way, p, ring[(i + 1) % ring.length]!));
          if (within > ROUND_WITHIN) return [];
        }
      }
      return [{ inset, z, cutter: stroke.cutter, top: stroke.top, within: within + FINE }];
    }),
  );
}

/** Strokes at one height, sorted into those that keep the same distance from the mouth. */
function clustered<T extends { readonly inset: number }>(items: readonly T[]): readonly (readonly T[])[] {
  const clusters: T[][] = [];
  for (const item of [...items].sort((a, b) => a.inset - b.inset)) {
    const last = clusters[clusters.length - 1];
    if (last !== undefined && item.inset - last[0]!.inset <= RING_WITHIN) last.push(item);
    else clusters.push([item]);
  }
  return clusters;
}

/** Pieces of a level line shorter than this are not halved again, mm. */
const SHORT = 0.01;

/** The farthest that a straight piece of a level line lies from a way: never told too small. */
function farthestFrom(way: SegmentIndex, p: Point, q: Point): number {
  const a = nearestDistance(way, p, ROUND_WITHIN * 2);
  const b = nearestDistance(way, q, ROUND_WITHIN * 2);
  const length = Math.hypot(q.x - p.x, q.y - p.y);
  const ends = Math.max(a, b);
  // No point of the piece lies farther from the way than from the nearer end more than its own end does.
  const most = ends + length / 2;
  if (most <= ROUND_WITHIN || ends > ROUND_WITHIN || length <= SHORT) return length <= SHORT ? most : ends > ROUND_WITHIN ? ends : most;
  const mid = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
  return Math.max(farthestFrom(way, p, mid), farthestFrom(way, mid, q));
}
