import { nearestOn } from "../shapes/nearest-on.ts";
import type { Point } from "../shapes/point.ts";
import { pointAt, type Segment } from "../shapes/segment.ts";
import type { TurningTool } from "../shop/lathe.ts";
import { turningShape } from "../shop/turning-profile.ts";
import { leftUnder, standsOver } from "./turning-contact.ts";
import { chainOf, type Envelope, envelopeAt, exceeds, type Interval, lower, shared } from "./turning-envelope.ts";
import type { TurningSetUp } from "./turning-setup.ts";

/** What one tool leaves once it has been everywhere it may, as an outline over the axis. */
export interface Reach {
  readonly tool: TurningTool;
  readonly left: Envelope;
}

/** A stretch where wood must stay because no tool gets at it, set-up coordinates, mm. */
export interface Unreached extends Interval {
  /** Greatest distance from the profile to what is reached, and at which point of it. */
  readonly most: number;
  readonly at: Point;
}

/** As much counts as reached, mm: the accuracy of the programs. */
const REACHED = 0.01;
/** Tools that leave this little more than the best could, square to the profile, do as well: within the accuracy. */
const AS_WELL = 0.007;
/** More tools than this are not tried in every combination. */
const MOST_TRIED = 8;
/** Stretches nearer to each other than this are told as one, mm. */
const JOIN = 0.1;
/** Looks taken along a stretch, at even steps. */
const LOOKS = 24;

/** What a tool leaves. @param wood obstacles with the target in them */
export function reachOf(tool: TurningTool, wood: Envelope): Reach {
  return { tool, left: leftUnder(standsOver(wood, tool), turningShape(tool)) };
}

/** What all tools together leave. */
export function leastOf(reaches: readonly Reach[]): Envelope {
  return reaches.map((r) => r.left).reduce(lower);
}

/**
 * The fewest tools that together reach all that can be reached; among as many, those with the largest noses.
 * Largest nose first, parting tools last. One tool at least.
 */
export function fewestTools(reaches: readonly Reach[], setUp: TurningSetUp): readonly Reach[] {
  const tried = [...reaches].sort(byNose).slice(0, MOST_TRIED);
  const best = leastOf(tried);
  const room = roomOf(setUp);
  const sets: (readonly Reach[])[] = [[]];
  for (const r of tried) sets.push(...sets.map((s) => [...s, r]));
  // A parting tool cuts no profile of its own: it helps in corners.
  const useful = sets
    .filter((s) => s.some((r) => r.tool.kind !== "parting"))
    .sort((a, b) => a.length - b.length || noses(b) - noses(a));
  return useful.find((s) => s.length === tried.length || reachesAsFar(leastOf(s), best, room, setUp)) ?? tried;
}

function byNose(a: Reach, b: Reach): number {
  const last = (r: Reach): number => (r.tool.kind === "parting" ? 1 : 0);
  return last(a) - last(b) || b.tool.noseRadius - a.tool.noseRadius || a.tool.slot - b.tool.slot;
}

function noses(s: readonly Reach[]): number {
  return s.reduce((sum, r) => sum + r.tool.noseRadius, 0);
}

/** Whether one outline lies nowhere noticeably above another, measured square to the other and to the target. */
function reachesAsFar(left: Envelope, best: Envelope, room: readonly Interval[], setUp: TurningSetUp): boolean {
  const worse = shared(exceeds(left, best, AS_WELL / 2), room);
  if (worse.length === 0) return true;
  const aim = [...chainOf(best), ...setUp.target.segments];
  return worse.every((i) => looksInto(i).every((z) => offAt(left, z, aim) <= AS_WELL));
}

/** Where wood stays that belongs to the part: stretches with the distance from the profile to what is reached. */
export function unreachedBy(reaches: readonly Reach[], setUp: TurningSetUp, wood: Envelope): readonly Unreached[] {
  const left = leastOf(reaches);
  const surface = chainOf(left);
  const found: Unreached[] = [];
  for (const i of joined(shared(exceeds(left, wood, REACHED), roomOf(setUp)))) {
    const near = surface.filter((s) => s.to.x >= i.from - NEAR && s.from.x <= i.to + NEAR);
    let most = 0;
    let at: Point = { x: i.from, y: 0 };
    const looks = looksInto(i).map((z) => ({ x: z, y: envelopeAt(wood, z) }));
    for (const p of [...targetIn(setUp, i), ...looks]) {
      const off = near.reduce((least, s) => Math.min(least, nearestOn(s, p).distance), Number.POSITIVE_INFINITY);
      if (off > most) {
        most = off;
        at = p;
      }
    }
    if (most > REACHED) found.push({ ...i, most, at });
  }
  return found;
}

/** What is reached lies within this of the place that is not, along the axis, mm: no tool is wider. */
const NEAR = 60;

function joined(all: readonly Interval[]): readonly Interval[] {
  const out: { from: number; to: number }[] = [];
  for (const i of all) {
    const last = out[out.length - 1];
    if (last !== undefined && i.from - last.to <= JOIN) last.to = i.to;
    else out.push({ ...i });
  }
  return out;
}

/** Points of the target over an interval, shoulders at its ends included. */
function targetIn(setUp: TurningSetUp, i: Interval): readonly Point[] {
  return setUp.target.segments.flatMap((s) => {
    if (s.to.x < i.from - 1e-9 || s.from.x > i.to + 1e-9) return [];
    return Array.from({ length: 4 * LOOKS + 1 }, (_, k) => pointAt(s, k / (4 * LOOKS))).filter(
      (p) => p.x >= i.from - 1e-9 && p.x <= i.to + 1e-9,
    );
  });
}

function looksInto(i: Interval): readonly number[] {
  return Array.from({ length: LOOKS + 1 }, (_, k) => i.from + ((i.to - i.from) * k) / LOOKS);
}

/** Distance from an outline to the nearest of some curves, mm. */
function offAt(left: Envelope, z: number, curves: readonly Segment[]): number {
  const p = { x: z, y: envelopeAt(left, z) };
  return curves.reduce((least, s) => Math.min(least, nearestOn(s, p).distance), Number.POSITIVE_INFINITY);
}

/** The part's own end faces stand this far inside the waste, mm: what stays on them counts. */
const FACE = 0.05;

/** The stretches of the axis that become the part: the target less its waste, up to the faces beside it. */
export function roomOf(setUp: TurningSetUp): readonly Interval[] {
  const segments = setUp.target.segments;
  let room: readonly Interval[] = [{ from: segments[0]!.from.x, to: segments[segments.length - 1]!.to.x }];
  for (const w of setUp.piece.waste) {
    const from = w.from + setUp.zShift + FACE;
    const to = w.to + setUp.zShift - FACE;
    room = room.flatMap((r) =>
      [
        { from: r.from, to: Math.min(r.to, from) },
        { from: Math.max(r.from, to), to: r.to },
      ].filter((i) => i.to > i.from),
    );
  }
  return room;
}
