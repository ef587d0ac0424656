import type { TargetCavity } from "../parts/target.ts";
import { HOLLOW_RIDGE } from "../plan/levels.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { endsOfHollow, type Hollow } from "../shapes/hollow.ts";
import { largestInscribed } from "../shapes/inscribed.ts";
import { nearestOn } from "../shapes/nearest-on.ts";
import { offsetPolygons } from "../shapes/offset.ts";
import type { Point, Point3 } from "../shapes/point.ts";
import { line, pointAt, radiusOf, type Segment } from "../shapes/segment.ts";
import { indexSegments, nearestDistance, type SegmentIndex, segmentsNear } from "../shapes/segment-index.ts";
import { valleysOf } from "../shapes/valleys.ts";
import { ACCURACY } from "../tolerance.ts";
import { widestAgainst } from "./against-hollow.ts";
import type { Stroke } from "./left.ts";
import { FINE } from "./reach.ts";
import { lowestWider, type Silhouette, widest } from "./silhouette.ts";

/** What is left in a hollow. mm. */
export interface HollowLeft {
  /** The highest that the surface stands square to itself where a pass touches it, and where one should. */
  readonly touch: number;
  /** The highest ridge between passes, square to the surface. */
  readonly ridge: number;
  /** Both hold within ± this. */
  readonly bound: number;
  /** A place of the worst of the two. */
  readonly at: Point3 | undefined;
  /** No pass counts at all. */
  readonly nothing: boolean;
  /** Passes that count: level, all the way round, by bits that the corners accept. */
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
/** How exactly a height of wood is found, mm. */
const FOUND_WITHIN = 1e-4;
/** A chain that ends this near the mouth's middle ends there, mm. */
const AT_MIDDLE = 0.006;
/** The middle of a flat floor is found within this, mm, and taken as that much farther in. */
const MIDDLE_WITHIN = 0.02;
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
  const { floor } = endsOfHollow(hollow);
  const last = hollow.segments[hollow.segments.length - 1]!;
  const whole = offsetPolygons(mouth, -(floor.x + AT_MIDDLE), FINE).length === 0;
  const middle = whole ? floor.x : largestInscribed(mouth, MIDDLE_WITHIN).radius + MIDDLE_WITHIN;
  const dished = whole && last.kind === "arc" && last.ccw;
  const end = Math.max(middle, floor.x);
  const section: readonly Segment[] =
    end > floor.x + 1e-6 ? [...hollow.segments, line(floor, { x: end, y: floor.y })] : hollow.segments;
  // On a level floor with corners or narrow places, a place may have a ring on one side only. The ring at the edge of the
  // floor stands there within its own accuracy.
  const plain = dished || valleysOf(cavity.section, NEARLY * middle) === "none";
  const found = alongSection(cavity, rings, section, plain ? end : floor.x + RING_WITHIN);
  const valley = inValleys(cavity, hollow, rings, dished ? NEARLY * middle : floor.x);
  const { d, y } = valley !== undefined && valley.ridge > found.ridge ? valley.spot : found.spot;
  const place = offsetPolygons(mouth, -d, FINE)[0]?.[0];
  return {
    touch: found.touch,
    ridge: Math.max(found.ridge, valley?.ridge ?? 0),
    bound: FOUND_WITHIN,
    at: place && { ...place, z: cavity.zFrom + y },
    nothing: false,
    passes: rings.length,
  };
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
const SHORT = 0.002;

/**
 * The farthest that a straight piece of a level line lies from a way: never told too small. Beside a straight stroke the
 * ends decide; beside an arc of radius ρ a chord of length L strays by L²/8ρ more.
 */
function farthestFrom(way: SegmentIndex, p: Point, q: Point): number {
  const box = {
    min: { x: Math.min(p.x, q.x), y: Math.min(p.y, q.y) },
    max: { x: Math.max(p.x, q.x), y: Math.max(p.y, q.y) },
  };
  const length = Math.hypot(q.x - p.x, q.y - p.y);
  let least = Number.POSITIVE_INFINITY;
  for (const s of segmentsNear(way, box, ROUND_WITHIN)) {
    const ends = Math.max(nearestOn(s, p).distance, nearestOn(s, q).distance);
    least = Math.min(least, ends + (s.kind === "arc" ? (length * length) / (8 * radiusOf(s)) : 0));
  }
  if (least <= ROUND_WITHIN || length <= SHORT) return least;
  const mid = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
  const first = farthestFrom(way, p, mid);
  return first > ROUND_WITHIN ? first : Math.max(first, farthestFrom(way, mid, q));
}

/** A place on what the rings leave: distance inside the mouth, height, and how far it lies off the surface. */
interface Spot {
  readonly d: number;
  readonly y: number;
  readonly off: number;
}

/** How far a ring's tip stands below what it leaves at a distance beside it; ∞ beyond its cutter. */
function rise(r: Ring, beside: number): number {
  const q = beside + r.within;
  return q > widest(r.cutter, 0, r.top) ? Number.POSITIVE_INFINITY : lowestWider(r.cutter, 0, r.top, q - 1e-12);
}

/** What the rings leave over a distance inside the mouth, as height over the mouth's plane: 0 where nothing is cut. */
function leftAt(cavity: TargetCavity, rings: readonly Ring[], d: number, outwards: number): number {
  let least = 0;
  for (const r of rings) {
    const beside = d >= r.inset ? d - r.inset : (r.inset - d) * outwards;
    if (r.z - cavity.zFrom < least) least = Math.min(least, r.z - cavity.zFrom + rise(r, beside));
  }
  return least;
}

/** Steps between places looked at: this far along the mouth's plane, and this far up or down, mm. */
const STEP = { along: 0.05, up: 0.01 };

/** Ridges and touches along the cross-section. */
function alongSection(
  cavity: TargetCavity,
  rings: readonly Ring[],
  section: readonly Segment[],
  smoothTo: number,
): { readonly touch: number; readonly ridge: number; readonly spot: Spot } {
  const end = section[section.length - 1]!.to.x;
  const spotAt = (d: number): Spot => {
    const y = leftAt(cavity, rings, d, d > smoothTo ? Number.POSITIVE_INFINITY : 1);
    return { d, y, off: Math.min(...section.map((s) => nearestOn(s, { x: d, y }).distance)) };
  };
  const spots: Spot[] = [];
  const fill = (a: Spot, b: Spot): void => {
    if (b.d - a.d > FOUND_WITHIN / 4 && (b.d - a.d > STEP.along || Math.abs(b.y - a.y) > STEP.up)) {
      const mid = spotAt((a.d + b.d) / 2);
      fill(a, mid);
      fill(mid, b);
    } else spots.push(b);
  };
  const first = spotAt(0);
  spots.push(first);
  fill(first, spotAt(end));
  return extremes(spots, spotAt);
}

/** The highest of all spots, and the highest of those lower than both neighbours; each looked at closely. */
function extremes(
  spots: readonly Spot[],
  spotAt: (d: number) => Spot,
): { readonly touch: number; readonly ridge: number; readonly spot: Spot } {
  let ridge = spots[0]!;
  let touch: Spot | undefined;
  const closer = (i: number, sign: 1 | -1): Spot => {
    let low = spots[Math.max(0, i - 1)]!.d;
    let high = spots[Math.min(spots.length - 1, i + 1)]!.d;
    let best = spots[i]!;
    for (let k = 0; k < 24; k++) {
      for (const d of [low + (high - low) / 3, high - (high - low) / 3]) {
        const s = spotAt(d);
        if (sign * s.off > sign * best.off) best = s;
      }
      const width = (high - low) / 3;
      low = Math.max(low, best.d - width);
      high = Math.min(high, best.d + width);
    }
    return best;
  };
  for (const [i, s] of spots.entries()) {
    const before = spots[i - 1]?.off ?? Number.POSITIVE_INFINITY;
    const after = spots[i + 1]?.off ?? Number.POSITIVE_INFINITY;
    if (s.off > ridge.off - STEP.up && s.off >= (spots[i - 1]?.off ?? 0) && s.off >= (spots[i + 1]?.off ?? 0)) {
      const top = closer(i, 1);
      if (top.off > ridge.off) ridge = top;
    }
    if (s.off <= before && s.off <= after && s.off > (touch?.off ?? 0)) {
      const foot = closer(i, -1);
      if (foot.off > (touch?.off ?? 0)) touch = foot;
    }
  }
  const allowed = HOLLOW_RIDGE + ACCURACY;
  const spot = ridge.off > allowed || touch === undefined ? ridge : touch;
  return { touch: touch?.off ?? 0, ridge: ridge.off, spot };
}

/** Places looked at along a valley, mm. */
const ALONG_VALLEY = 0.02;

/** The highest ridge along a valley over where a nose could stand at best; undefined where there are no valleys. */
function inValleys(
  cavity: TargetCavity,
  hollow: Hollow,
  rings: readonly Ring[],
  to: number,
): { readonly ridge: number; readonly spot: Spot } | undefined {
  const valleys = valleysOf(cavity.section, to);
  switch (valleys) {
    case "none":
      return undefined;
    case "sharp":
      // Nothing is known of how far apart the rings lie there.
      return { ridge: MUCH, spot: { d: 0, y: 0, off: MUCH } };
    case "right angles":
      break;
  }
  const { cutter, top } = rings.reduce((a, b) => (b.z < a.z ? b : a));
  const depth = endsOfHollow(hollow).floor.y;
  const best = (d: number): number => {
    let low = depth;
    let high = 0;
    for (let k = 0; k < 30; k++) {
      const y = (low + high) / 2;
      if (widestAgainst(cutter, 0, top, hollow, y) > d) low = y;
      else high = y;
    }
    return high;
  };
  const from = Math.min(...rings.map((r) => r.inset));
  let worst: Spot = { d: from, y: 0, off: 0 };
  let before = best(from);
  for (let d = from + ALONG_VALLEY; d <= to; d += ALONG_VALLEY) {
    const ideal = best(d);
    // The valley falls √2 less steeply than the sides do.
    const steep = (before - ideal) / (ALONG_VALLEY * Math.SQRT2);
    before = ideal;
    const y = leftAt(cavity, rings, d, Math.SQRT2);
    const off = (y - ideal) / Math.hypot(1, steep);
    if (off > worst.off) worst = { d, y, off };
  }
  return { ridge: worst.off, spot: worst };
}
