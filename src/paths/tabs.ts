import type { ContourOperation } from "../plan/operation.ts";
import { crossings } from "../shapes/crossings.ts";
import { nearestOn } from "../shapes/nearest.ts";
import { offsetRegion } from "../shapes/offset.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import { lengthOf } from "../shapes/segment.ts";
import { TOLERANCE } from "../tolerance.ts";
import { begunAt, type Chain, chainLength, spotAlong, stretch } from "./chain.ts";
import { GUARD } from "./guard.ts";

/** Shortest stretch between tabs that the cutter goes down into, mm. */
const SHORTEST = 0.5;

/** A tab with the cutter's radius around it: while the centre is in here, the tip may not go below the tab's top. */
export interface Guarded {
  readonly around: Polygons;
  readonly zTop: number;
}

/** The operation's tabs, grown by the cutter. */
export function guardedTabs(operation: ContourOperation): Guarded[] {
  const radius = operation.cutter.diameter / 2;
  return operation.tabs.map((tab) => ({
    around: offsetRegion(tab.area, radius + GUARD, TOLERANCE.offset),
    zTop: tab.zTop,
  }));
}

/** A stretch of a ring with the least height the tip must keep along it; undefined where none is asked for. */
export interface Reach {
  readonly chain: Chain;
  readonly keep: number | undefined;
}

/**
 * A ring begun in the middle of its longest stretch free of tabs; as it is where it meets none. Deeper levels meet more
 * tabs, so asked with all of them the beginning is free at every level.
 */
export function begunBetween(ring: Chain, tabs: readonly Guarded[]): Chain {
  const cuts = cutsAlong(ring, tabs);
  const total = chainLength(ring);
  let best = { along: 0, length: 0 };
  for (const [i, from] of cuts.entries()) {
    const length = (cuts[i + 1] ?? cuts[0]! + total) - from;
    const free = keepAt(ring, (from + length / 2) % total, tabs) === undefined;
    if (free && length > best.length + 1e-9) best = { along: (from + length / 2) % total, length };
  }
  return best.length === 0 ? ring : begunAt(ring, best.along);
}

/** A ring cut into stretches over tabs and between them, from its beginning to its end. */
export function reachesAlong(ring: Chain, tabs: readonly Guarded[]): Reach[] {
  const total = chainLength(ring);
  const cuts = [0, ...cutsAlong(ring, tabs).filter((c) => c > LEAST && c < total - LEAST)];
  const spans = cuts.map((from, i) => {
    const to = cuts[i + 1] ?? total;
    return { from, to, keep: keepAt(ring, (from + to) / 2, tabs) };
  });
  const reaches: Reach[] = [];
  for (const s of spans) {
    const last = reaches[reaches.length - 1];
    const length = s.to - s.from;
    // Too short to ramp down in: passed over at the height of the tab before. What stays there comes off with the tabs.
    const keep = s.keep ?? (last !== undefined && length < SHORTEST ? last.keep : undefined);
    const chain = stretch(ring, s.from, s.to);
    if (chain.length > 0) reaches.push({ chain, keep });
  }
  return reaches;
}

function keepAt(ring: Chain, along: number, tabs: readonly Guarded[]): number | undefined {
  const { point } = spotAlong(ring, along);
  const over = tabs.filter((t) => pointInPolygons(t.around, point)).map((t) => t.zTop);
  return over.length === 0 ? undefined : Math.max(...over);
}

/** Stretches shorter than this are none, mm. */
const LEAST = 1e-4;

/** Where a ring passes the borders of the guarded tabs, mm along it, in order. */
function cutsAlong(ring: Chain, tabs: readonly Guarded[]): number[] {
  const cuts: number[] = [];
  let before = 0;
  for (const s of ring) {
    const length = lengthOf(s);
    for (const border of tabs.flatMap((t) => t.around)) {
      border.forEach((from, i) => {
        const to = border[(i + 1) % border.length]!;
        for (const p of crossings(s, { kind: "line", from, to })) cuts.push(before + nearestOn(s, p).t * length);
      });
    }
    before += length;
  }
  cuts.sort((a, b) => a - b);
  // A border met at a corner is met twice.
  return cuts.filter((c, i) => i === 0 || c - cuts[i - 1]! > LEAST);
}
