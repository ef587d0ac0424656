import type { AsTurned } from "../../job/turned.ts";
import { type Meridian, radiiAt, shareAtX } from "../../shapes/meridian.ts";
import type { Point } from "../../shapes/point.ts";
import { arc, boundsOf, line, pieceOf, pointAt, type Segment, sweepRad } from "../../shapes/segment.ts";

/** How far a reading's diameter may be off, on the radius, mm. Common practice, no source. */
const READING_ERROR = { calipers: 0.05, gauge: 0.05, rule: 0.5, unsaid: 0.25 } as const;

/** The meridian as read off the wood. */
export interface ReadOff {
  readonly meridian: Meridian;
  /** How far the real radius may lie from it at the stations, and how far bending the plan strayed, mm. */
  readonly error: number;
  /** Per reading: how far the radius read lies from the plan's, mm. */
  readonly offsets: readonly number[];
}

/**
 * The plan's meridian moved to the diameters that were read: at each station by what the reading differs from the plan,
 * between two stations by what lies between, beyond the outer ones by the outer ones' difference. So shapes that no
 * caliper reads stay those of the plan. Lines stay lines and arcs stay arcs: each piece between two stations is put
 * through its moved ends and middle; how far that strays from the bent plan is measured and added to the error.
 *
 * At a shoulder a reading counts for the side it is nearer to.
 */
export function readOff(plan: Meridian, asTurned: AsTurned): ReadOff {
  const stations = [...asTurned.readings].sort((a, b) => a.at - b.at);
  const offsets = stations.map((s) => s.diameter / 2 - nearerRadius(plan, s.at, s.diameter / 2));
  const offset = (x: number): number => {
    const next = stations.findIndex((s) => s.at >= x);
    if (next <= 0) return (next === 0 ? offsets[0] : offsets[offsets.length - 1]) ?? 0;
    const [a, b] = [stations[next - 1]!, stations[next]!];
    const t = b.at === a.at ? 1 : (x - a.at) / (b.at - a.at);
    return offsets[next - 1]! * (1 - t) + offsets[next]! * t;
  };
  const pieces = plan.segments.flatMap((s) =>
    cutAt(
      s,
      stations.map((st) => st.at),
    ),
  );
  let strayed = 0;
  let last: Point | undefined;
  const segments = pieces.map((s): Segment => {
    const from = last ?? movedUp(s.from, offset);
    const to = movedUp(s.to, offset);
    last = to;
    const bent = s.kind === "line" ? line(from, to) : throughMiddle(s, from, to, movedUp(pointAt(s, 0.5), offset));
    if (s.kind === "arc") strayed = Math.max(strayed, strayOf(s, bent, offset));
    return bent;
  });
  const error = (asTurned.error ?? READING_ERROR[asTurned.with]) + strayed;
  return { meridian: { segments }, error, offsets };
}

function movedUp(p: Point, offset: (x: number) => number): Point {
  return { x: p.x, y: Math.max(0, p.y + offset(p.x)) };
}

/** The plan's radius at a station; of a shoulder's two the one nearer to what was read. 0 beyond the ends. */
function nearerRadius(plan: Meridian, x: number, read: number): number {
  const r = radiiAt(plan, x);
  if (r === undefined) return 0;
  return Math.abs(read - r.least) <= Math.abs(read - r.most) ? r.least : r.most;
}

/** Arcs are cut to pieces that turn no further than this, radians: bent as one, a whole half round would stray. */
const LONGEST_TURN = Math.PI / 6;

/** A segment cut at stations within it, an arc into short ones. */
function cutAt(s: Segment, stations: readonly number[]): readonly Segment[] {
  const inside = stations.filter((x) => x > s.from.x + 1e-9 && x < s.to.x - 1e-9);
  const turns = s.kind === "arc" ? Math.ceil(Math.abs(sweepRad(s)) / LONGEST_TURN - 1e-9) : 1;
  const even = Array.from({ length: Math.max(1, turns) }, (_, i) => i / turns);
  const inner = [...even, ...inside.flatMap((x) => shareAtX(s, x) ?? [])]
    .filter((t) => t > 1e-9 && t < 1 - 1e-9)
    .sort((a, b) => a - b)
    .filter((t, i, all) => i === 0 || t - all[i - 1]! > 1e-9);
  const apart = [0, ...inner, 1];
  return apart.slice(1).map((t, i) => pieceOf(s, apart[i]!, t));
}

/** The arc through three points, from the first to the last; the line where they lie in one, or where x would go back. */
function throughMiddle(was: Extract<Segment, { kind: "arc" }>, from: Point, to: Point, middle: Point): Segment {
  const [ax, ay] = [middle.x - from.x, middle.y - from.y];
  const [bx, by] = [to.x - from.x, to.y - from.y];
  const cross = 2 * (ax * by - ay * bx);
  if (Math.abs(cross) < 1e-9) return line(from, to);
  const [a2, b2] = [ax * ax + ay * ay, bx * bx + by * by];
  const centre = { x: from.x + (by * a2 - ay * b2) / cross, y: from.y + (ax * b2 - bx * a2) / cross };
  const made = arc(from, to, centre, was.ccw);
  const box = boundsOf(made);
  if (box.min.x < from.x - 1e-6 || box.max.x > to.x + 1e-6) return line(from, to);
  return made;
}

/** Farthest that the new piece lies from the plan's own curve moved point by point, seen upright; taken at 32 places. */
function strayOf(plan: Segment, bent: Segment, offset: (x: number) => number): number {
  let most = 0;
  for (let i = 1; i < 32; i++) {
    const p = movedUp(pointAt(plan, i / 32), offset);
    const r = radiiAt({ segments: [bent] }, p.x);
    if (r !== undefined) most = Math.max(most, Math.min(Math.abs(p.y - r.least), Math.abs(p.y - r.most)));
  }
  return most;
}
