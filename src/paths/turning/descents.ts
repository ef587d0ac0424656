import { chainOf, type Envelope, type Interval } from "../../plan/turning-envelope.ts";
import type { TurningSetUp } from "../../plan/turning-setup.ts";
import { extentOfMeridian, shareAtX } from "../../shapes/meridian.ts";
import { lengthOf, pieceOf, radiusOf, reversed, type Segment, shareTowards, tangentAt } from "../../shapes/segment.ts";
import type { TurningShape } from "../../shop/turning-profile.ts";

/**
 * Where the reference point is of use at all. At an end of the blank the nose goes as far as it touches the profile there;
 * beyond, it would only round the corner into the air, towards the centre.
 */
export function usefulRoom(setUp: TurningSetUp, shape: TurningShape): Interval {
  const wood = extentOfMeridian(setUp.start);
  const target = extentOfMeridian(setUp.target);
  const { segments } = setUp.target;
  const fall = (s: Segment, t: number, outwards: 1 | -1): number => {
    const slope = -outwards * tangentAt(s, t).y;
    return slope > 1e-9 ? shape.flat + shape.noseRadius * slope : 0;
  };
  return {
    from: target.from > wood.from + 1e-9 ? Number.NEGATIVE_INFINITY : target.from - fall(segments[0]!, 0, -1),
    to: target.to < wood.to - 1e-9 ? Number.POSITIVE_INFINITY : target.to + fall(segments[segments.length - 1]!, 1, 1),
  };
}

/** Needed stretches nearer to each other than this become one, mm. */
const JOIN = 2;
/** How far a stretch reaches beyond where it is needed, mm. */
const OVERLAP = 0.3;

/**
 * The way of a tool over a profile as a turner cuts it: from each crest down the slope to either side, never uphill.
 * Level stretches go with the slope before them. Each descent is a chain of segments in the order of cutting.
 */
export function descentsOver(stands: Envelope): readonly (readonly Segment[])[] {
  const runs: { falls: boolean; way: Segment[] }[] = [];
  for (const s of chainOf(stands).flatMap(monotone)) {
    const last = runs[runs.length - 1];
    const rises = s.to.y > s.from.y + 1e-9;
    const falls = s.to.y < s.from.y - 1e-9;
    const fits = last !== undefined && (last.falls ? !rises : rises);
    if (fits) last.way.push(s);
    else runs.push({ falls: falls || !rises, way: [s] });
  }
  return runs.map(({ falls, way }) => (falls ? way : way.map(reversed).reverse()));
}

/** An arc cut at its highest or lowest point, so that each piece only rises or only falls. */
function monotone(s: Segment): readonly Segment[] {
  if (s.kind === "line") return [s];
  const up = s.ccw ? -1 : 1;
  const t = shareTowards(s, 0, up);
  if (t === undefined || t * lengthOf(s) < 1e-9 || (1 - t) * lengthOf(s) < 1e-9) return [s];
  const pole = { x: s.centre.x, y: s.centre.y + up * radiusOf(s) };
  return [
    { ...s, to: pole },
    { ...s, from: pole },
  ];
}

/**
 * Those stretches of a descent where the tool is needed, a little longer at both ends. An upright run belongs to what
 * lies at its foot: beside the end of the blank it leads into the air, and stays out.
 * @param needed in order
 */
export function neededStretches(way: readonly Segment[], needed: readonly Interval[]): readonly (readonly Segment[])[] {
  const first = way[0]!;
  const last = way[way.length - 1]!;
  const onwards = last.to.x >= first.from.x ? 1 : -1;
  const ends: { from: number; to: number }[] = [];
  let along = 0;
  for (const s of way) {
    const length = lengthOf(s);
    for (const [a, b] of sharesIn(s, needed, onwards)) {
      const open = ends[ends.length - 1];
      if (open !== undefined && along + a * length - open.to <= JOIN) open.to = along + b * length;
      else ends.push({ from: along + a * length, to: along + b * length });
    }
    along += length;
  }
  return ends
    .map(({ from, to }) => between(way, Math.max(0, from - OVERLAP), Math.min(along, to + OVERLAP)))
    .filter((part) => part.length > 0);
}

/**
 * All needed stretches of all descents, those that begin highest first: a wall is cleared from above before the floor is
 * cut up to it, so that no tool runs sideways into wood that stands taller than its bite.
 */
export function stretchesOver(stands: Envelope, needed: readonly Interval[]): readonly (readonly Segment[])[] {
  return descentsOver(stands)
    .flatMap((way) => neededStretches(way, needed))
    .sort((a, b) => b[0]!.from.y - a[0]!.from.y || a[0]!.from.x - b[0]!.from.x);
}

/** Shares of a segment that lie in intervals of x, in the order of the segment. */
function sharesIn(s: Segment, needed: readonly Interval[], onwards: 1 | -1): readonly (readonly [number, number])[] {
  if (s.from.x === s.to.x) {
    const foot = s.from.x + onwards * 1e-6;
    return needed.some((i) => i.from <= foot && i.to >= foot) ? [[0, 1]] : [];
  }
  const low = Math.min(s.from.x, s.to.x);
  const high = Math.max(s.from.x, s.to.x);
  return needed
    .filter((i) => Math.min(high, i.to) - Math.max(low, i.from) > 1e-9)
    .map((i) => {
      const a = Math.max(i.from, low);
      const b = Math.min(i.to, high);
      const share = (x: number): number => (x === s.from.x ? 0 : x === s.to.x ? 1 : (shareAtX(s, x) ?? 0));
      const [p, q] = [share(a), share(b)];
      return [Math.min(p, q), Math.max(p, q)] as const;
    })
    .sort((a, b) => a[0] - b[0]);
}

/** A chain between two lengths along it. */
function between(way: readonly Segment[], from: number, to: number): readonly Segment[] {
  const out: Segment[] = [];
  let along = 0;
  for (const s of way) {
    const length = lengthOf(s);
    const a = Math.max(0, from - along);
    const b = Math.min(length, to - along);
    if (b - a > 1e-6) out.push(pieceOf(s, a <= 1e-6 ? 0 : a / length, b >= length - 1e-6 ? 1 : b / length));
    along += length;
  }
  return out;
}
