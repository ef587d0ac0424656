import { boxGap, nearestOn } from "../../shapes/nearest.ts";
import type { Box, Point } from "../../shapes/point.ts";
import { lengthOf, pointAt, type Segment } from "../../shapes/segment.ts";
import type { TurningCutRecord } from "../../simulate/turning.ts";
import { coreHolds, type TurningSweep } from "../../simulate/turning-sweep.ts";
import { ACCURACY } from "../../tolerance.ts";
import { bestReach, type Reacher } from "./reach.ts";
import type { TurnedTarget } from "./solid.ts";

/** A stretch of the surface that is not cut within the accuracy. mm. */
export interface LeftStretch {
  /** `missed`: a tool of the shop gets closer. `beyond`: none does. */
  readonly kind: "missed" | "beyond";
  readonly from: Point;
  readonly to: Point;
  /** Most that is left on it, square to the surface, and where. */
  readonly left: number;
  readonly at: Point;
  /** The most by which the best of the shop's tools could have come closer there. */
  readonly missedBy: number;
  readonly bound: number;
}

/** What is left on the surface. mm. */
export interface TurnedLeft {
  /** No more than this is left on all that a tool can reach: found no closer where it is within the accuracy. */
  readonly worst: number;
  readonly bound: number;
  readonly stretches: readonly LeftStretch[];
}

/** Surface is looked at no closer than this, mm. */
const FINEST = 0.001;

/** Surface that is surely not cut is looked at no closer than this, mm. */
const COARSE = 0.02;

/** How far apart uncut places are judged, mm, and how far apart two of them are taken for one stretch. */
const JUDGED = 0.05;

/** Where no tool touches the very point, what the best one could leave is known from tools set down all about, mm. */
const SET_DOWN = 0.04;

/**
 * Wood left on the surface by all cutting moves together. A point counts as cut when it lies within the accuracy of what
 * some tool sweeps. Between the points looked at nothing is missed: the distance from a sweep changes no faster than the
 * place does. Where a point is not cut, the best that the shop's tools could do there decides whether it was missed or is
 * out of reach.
 * @param slack how far the controller may round off corners, mm: allowed beside the accuracy
 */
export function turnedLeft(
  t: TurnedTarget,
  cuts: readonly TurningCutRecord[],
  reacher: Reacher,
  slack = 0,
): TurnedLeft {
  const allowed = ACCURACY + slack;
  const stock = Math.max(...t.setUp.start.segments.flatMap((s) => [s.from.y, s.to.y]));
  const cover = coverOf(cuts, stock);
  let worst = 0;
  const stretches: LeftStretch[] = [];
  for (const s of t.judged) {
    const length = lengthOf(s);
    if (!(length > 1e-9)) continue;
    const uncut: Uncut[] = [];
    const walk = (a: number, b: number): void => {
      const m = (a + b) / 2;
      const half = ((b - a) / 2) * length;
      const d = cover.distance(pointAt(s, m), allowed - half);
      if (d + half <= allowed) {
        worst = Math.max(worst, d);
        return;
      }
      // What is surely uncut need not be looked at as closely as what may just be cut.
      if (half <= FINEST / 2 || (half <= COARSE / 2 && d - half > allowed)) {
        uncut.push({ share: m, left: d, half });
        return;
      }
      walk(a, m);
      walk(m, b);
    };
    walk(0, 1);
    const found = judged(s, length, uncut, allowed, reacher);
    for (const f of found) if (f.kind === "missed") worst = Math.max(worst, f.left);
    for (const f of found) append(stretches, f);
  }
  return { worst, bound: FINEST / 2, stretches };
}

/** A place that is not cut, and how far to either side of it nothing else was looked at. */
interface Uncut {
  readonly share: number;
  readonly left: number;
  readonly half: number;
}

/** What is left in a corner belongs to two pieces of the outline, but is one place to the person with the gouge. */
function append(stretches: LeftStretch[], next: LeftStretch): void {
  const last = stretches[stretches.length - 1];
  const near = last !== undefined && Math.hypot(next.from.x - last.to.x, next.from.y - last.to.y) <= JUDGED;
  if (last === undefined || !near || last.kind !== next.kind) {
    stretches.push(next);
    return;
  }
  const worse = next.left > last.left ? next : last;
  stretches[stretches.length - 1] = {
    ...worse,
    from: last.from,
    to: next.to,
    missedBy: Math.max(last.missedBy, next.missedBy),
    bound: Math.max(last.bound, next.bound),
  };
}

/** Uncut places joined to stretches, missed ones apart from those out of reach. */
function judged(
  s: Segment,
  length: number,
  uncut: readonly Uncut[],
  allowed: number,
  reacher: Reacher,
): readonly LeftStretch[] {
  const stretches: LeftStretch[] = [];
  let lastAsked = Number.NEGATIVE_INFINITY;
  let open:
    | { kind: LeftStretch["kind"]; from: number; to: number; left: number; at: number; missedBy: number }
    | undefined;
  const bound = uncut.reduce((most, u) => Math.max(most, u.half), 0);
  const close = (): void => {
    if (open === undefined) return;
    const { kind, left, missedBy } = open;
    const [from, to, at] = [open.from, open.to, open.at].map((share) => pointAt(s, share)) as [Point, Point, Point];
    stretches.push({ kind, from, to, left, at, missedBy, bound });
    open = undefined;
  };
  for (const u of uncut) {
    if (open !== undefined && (u.share - open.to) * length > JUDGED) close();
    if ((u.share - lastAsked) * length < JUDGED && open !== undefined) {
      open.to = u.share;
      if (u.left > open.left) {
        open.left = u.left;
        open.at = u.share;
      }
      continue;
    }
    lastAsked = u.share;
    const best = bestReach(reacher, s, u.share, u.left);
    const missedBy = u.left - best;
    const missed = missedBy > allowed - FINEST / 2 + (best > 0 ? SET_DOWN : 0);
    const kind = missed ? "missed" : "beyond";
    if (open !== undefined && open.kind !== kind) close();
    if (open === undefined) open = { kind, from: u.share, to: u.share, left: u.left, at: u.share, missedBy };
    else {
      open.to = u.share;
      open.missedBy = Math.max(open.missedBy, missedBy);
      if (u.left > open.left) {
        open.left = u.left;
        open.at = u.share;
      }
    }
  }
  close();
  return stretches;
}

interface Cover {
  /** Distance of a point from all that is swept; the search ends early at one that is at most `enough`. */
  readonly distance: (p: Point, enough: number) => number;
}

/** Width of a column of the index along the axis, mm. */
const COLUMN = 1;

/**
 * Sweeps of all cutting moves, by place along the axis; the last ones first, as they leave the surface.
 * @param stock the wood's largest radius: no more than that can be left
 */
function coverOf(cuts: readonly TurningCutRecord[], stock: number): Cover {
  const columns = new Map<number, { readonly sweep: TurningSweep; readonly box: Box }[]>();
  const reach = 0.5;
  for (const cut of [...cuts].reverse()) {
    for (const sweep of cut.sweeps) {
      if (sweep.body.part !== "edge") continue;
      const box = grownBox(sweep);
      const first = Math.floor((box.min.x - reach) / COLUMN);
      const last = Math.floor((box.max.x + reach) / COLUMN);
      for (let i = first; i <= last; i++) {
        const column = columns.get(i);
        if (column === undefined) columns.set(i, [{ sweep, box }]);
        else column.push({ sweep, box });
      }
    }
  }
  let latest: { readonly sweep: TurningSweep; readonly box: Box } | undefined;
  const distance = (p: Point, enough: number): number => {
    const again = latest === undefined ? Number.POSITIVE_INFINITY : distanceTo(latest.sweep, p, enough);
    if (again <= enough) return again;
    // Where nothing is swept anywhere near, all of the stock may be left.
    let least = stock;
    const here = Math.floor(p.x / COLUMN);
    // Columns farther off hold nothing nearer than the way to them.
    for (let k = 0; (k - 1) * COLUMN < least; k++) {
      for (const i of k === 0 ? [here] : [here - k, here + k]) {
        for (const item of columns.get(i) ?? []) {
          if (boxGap(item.box, { min: p, max: p }) >= least) continue;
          const d = distanceTo(item.sweep, p, enough);
          if (d >= least) continue;
          least = d;
          if (d > enough) continue;
          latest = item;
          return least;
        }
      }
      // One column reaches half a millimetre to both sides: what is that near is in it.
      if (k === 0 && least <= reach) return least;
    }
    return least;
  };
  return { distance };
}

/** Distance of a point from what a body sweeps, mm; 0 inside. */
function distanceTo(sweep: TurningSweep, p: Point, enough: number): number {
  const { radius } = sweep.body;
  let least = Number.POSITIVE_INFINITY;
  for (const c of sweep.curves) {
    const d = nearestOn(c, p).distance - radius;
    // Near enough is all that is asked; how much nearer another curve lies does not matter.
    if (d <= enough) return Math.max(0, d);
    if (d < least) least = d;
  }
  return coreHolds(sweep, p) ? 0 : least;
}

function grownBox({ body, box }: TurningSweep): Box {
  const r = body.radius;
  return {
    min: { x: box.min.x - r, y: box.min.y - r },
    max: { x: box.max.x + r, y: box.max.y + r },
  };
}
