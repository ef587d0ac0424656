import type { TargetCavity } from "../parts/target.ts";
import { flattenSegment } from "../shapes/flatten.ts";
import { nearestOn } from "../shapes/nearest.ts";
import type { Point, Point3 } from "../shapes/point.ts";
import { containsPoint } from "../shapes/region.ts";
import { pointAt, radiusOf, type Segment } from "../shapes/segment.ts";
import { indexSegments, type SegmentIndex, segmentsNear } from "../shapes/segment-index.ts";
import { ACCURACY } from "../tolerance.ts";
import { type Motion, placeAt } from "./motion.ts";

/** What a program makes of lines that are cut at one depth. mm. */
export interface CutLineLeft {
  /** Farthest that the bit's middle goes beside the lines while it is in the wood there. */
  readonly strayed: number;
  readonly strayedAt: Point3 | undefined;
  /** Farthest that a place on the lines lies from where the bit went at full depth. */
  readonly left: number;
  readonly leftAt: Point | undefined;
  /** Both hold within this. */
  readonly bound: number;
}

/** How exactly arcs become chords, mm. */
const CHORD = 0.0005;
/** Lines are looked for this far off; what is farther counts as this far, mm. */
const LOOKED_FOR = 2;
/** Pieces shorter than this are not halved again, mm. */
const SHORT = 0.002;

/**
 * Lines against the way of the bit's middle, both ways: a bit that keeps to the lines and to the depth cuts their sweep and
 * nothing else, whatever its form. Of each straight piece, the farthest place from a straight stroke is an end, for the
 * distance to it is convex; pieces are halved until one stroke serves both ends.
 * @param chains set-up coordinates
 * @param others other cavities: what goes within them is none of these lines' concern
 */
export function cutLineLeft(
  cavity: TargetCavity,
  chains: readonly (readonly Segment[])[],
  motions: readonly Motion[],
  others: readonly TargetCavity[],
  allowed: number,
): CutLineLeft {
  const lines = indexSegments(chains.flat());
  const deep = motions.filter((m) => Math.max(m.zFrom, m.zTo) <= cavity.zTo + ACCURACY);
  const ways = indexSegments(deep.map((m) => m.curve));
  let left = 0;
  let leftAt: Point | undefined;
  for (const s of chains.flat()) {
    for (const [p, q] of chordsOf(s)) {
      const off = farthestOff(ways, p, q, allowed);
      if (off > left) {
        left = off;
        leftAt = p;
      }
    }
  }
  let strayed = 0;
  let strayedAt: Point3 | undefined;
  for (const m of motions) {
    if (Math.min(m.zFrom, m.zTo) >= cavity.zFrom || !isOf(m, cavity, others)) continue;
    for (const [p, q] of chordsOf(m.curve)) {
      const off = farthestOff(lines, p, q, allowed);
      if (off > strayed) {
        strayed = off;
        strayedAt = placeAt(m, 0.5);
      }
    }
  }
  return { strayed, strayedAt, left, leftAt, bound: CHORD };
}

/** Whether a motion goes within the lines' sweep, and not within another cavity. */
function isOf({ curve }: Motion, cavity: TargetCavity, others: readonly TargetCavity[]): boolean {
  const places = [0, 0.5, 1].map((t) => pointAt(curve, t));
  if (!places.some((p) => containsPoint(cavity.section, p))) return false;
  return !others.some((o) => o !== cavity && places.every((p) => containsPoint(o.section, p)));
}

function chordsOf(s: Segment): readonly (readonly [Point, Point])[] {
  const points = s.kind === "line" ? [s.from, s.to] : flattenSegment(s, CHORD);
  return points.slice(1).map((q, i) => [points[i]!, q] as const);
}

/** The farthest that a straight piece lies from what is in an index: never told too small. */
function farthestOff(index: SegmentIndex, p: Point, q: Point, enough: number): number {
  const box = {
    min: { x: Math.min(p.x, q.x), y: Math.min(p.y, q.y) },
    max: { x: Math.max(p.x, q.x), y: Math.max(p.y, q.y) },
  };
  const length = Math.hypot(q.x - p.x, q.y - p.y);
  let least = LOOKED_FOR;
  let nearestP = LOOKED_FOR;
  for (const s of segmentsNear(index, box, LOOKED_FOR)) {
    const atP = nearestOn(s, p).distance;
    const ends = Math.max(atP, nearestOn(s, q).distance);
    nearestP = Math.min(nearestP, atP);
    // Beside an arc of radius ρ a chord of length L strays by L²/8ρ more.
    least = Math.min(least, ends + (s.kind === "arc" ? (length * length) / (8 * radiusOf(s)) : 0));
  }
  if (least <= enough || length <= SHORT || nearestP > 2 * enough)
    return least <= enough ? least : Math.max(nearestP, Math.min(least, nearestP + length));
  const mid = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
  const first = farthestOff(index, p, mid, enough);
  return first > enough ? first : Math.max(first, farthestOff(index, mid, q, enough));
}
