import type { ContourOperation } from "../plan/operation.ts";
import { crossings } from "../shapes/crossings.ts";
import { nearestOn } from "../shapes/nearest.ts";
import { offsetRegion } from "../shapes/offset.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import { lengthOf } from "../shapes/segment.ts";
import { TOLERANCE } from "../tolerance.ts";
import { begunAt, type Chain, chainLength, spotAlong, stretch } from "./chain.ts";
import { GUARD } from "./grounds.ts";

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
 * A ring cut into stretches over tabs and between them, begun where its longest free stretch begins. A ring that meets
 * no tab comes back whole.
 */
export function reachesAlong(ring: Chain, tabs: readonly Guarded[]): Reach[] {
  const cuts = cutsAlong(ring, tabs);
  const keepAt = (chain: Chain, along: number): number | undefined => {
    const { point } = spotAlong(chain, along);
    const over = tabs.filter((t) => pointInPolygons(t.around, point)).map((t) => t.zTop);
    return over.length === 0 ? undefined : Math.max(...over);
  };
  const total = chainLength(ring);
  if (cuts.length === 0) return [{ chain: ring, keep: keepAt(ring, total / 2) }];
  const spans = cuts.map((from, i) => {
    const to = i + 1 < cuts.length ? cuts[i + 1]! : cuts[0]! + total;
    return { from, to, keep: keepAt(ring, ((from + to) / 2) % total) };
  });
  const free = spans.filter((s) => s.keep === undefined);
  const first = (free.length > 0 ? free : spans).reduce((a, b) => (b.to - b.from > a.to - a.from + 1e-9 ? b : a));
  const begun = begunAt(ring, first.from);
  const at = spans.indexOf(first);
  const reaches: Reach[] = [];
  for (let i = 0; i < spans.length; i++) {
    const s = spans[(at + i) % spans.length]!;
    const from = (((s.from - first.from) % total) + total) % total;
    const chain = stretch(begun, from, i === spans.length - 1 ? total : from + (s.to - s.from));
    if (chain.length > 0) reaches.push({ chain, keep: s.keep });
  }
  return reaches;
}

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
  return cuts.filter((c, i) => i === 0 || c - cuts[i - 1]! > 1e-4).filter((c) => c < before - 1e-4 || cuts[0]! > 1e-4);
}
