import { distance, type Point } from "../shapes/point.ts";
import { lengthOf, pointAt, type Segment } from "../shapes/segment.ts";
import { tourOf, USUAL_TRIES } from "../shapes/tour.ts";
import { begunAt, type Chain, isClosed, nearestSpot, reversedChain } from "./chain.ts";

/** Most tries of chance in all: what more of them gain on a large drawing is not worth the wait. */
const MOST_TRIES = 2000;
/** Rounds in which closed chains are begun elsewhere and the tour is sought anew. */
const ROUNDS = 3;
/** Places on an arc at which the search for its best one begins. */
const ARC_PLACES = 8;

/**
 * Chains in an order, and each in a sense, that keeps the way between them short; closed chains are begun wherever that
 * is shortest. The same chains give the same order.
 * @param from where one comes from; absent: anywhere
 */
export function chainTour(chains: readonly Chain[], from?: Point): Chain[] {
  let best = chains.filter((c) => c.length > 0);
  let given = best;
  for (let round = 0; round < ROUNDS; round++) {
    const next = begunOnTheWay(inShortOrder(given, from), from);
    if (round > 0 && wayBetween(next, from) >= wayBetween(best, from) - 1e-6) break;
    best = next;
    given = next;
  }
  return best;
}

/** Length of the ways between chains taken in this order, mm. */
export function wayBetween(chains: readonly Chain[], from?: Point): number {
  const first = chains[0];
  const to = from === undefined || first === undefined ? 0 : distance(from, startOf(first));
  return chains.reduce((sum, c, i) => (i === 0 ? sum : sum + distance(endOf(chains[i - 1]!), startOf(c))), to);
}

/** A closed chain begun at its place nearest to a point. */
export function begunNear(chain: Chain, p: Point): Chain {
  return begunAt(chain, nearestSpot(chain, p).along);
}

function inShortOrder(chains: readonly Chain[], from: Point | undefined): Chain[] {
  const stops = chains.map((c) => ({ from: startOf(c), to: endOf(c) }));
  const tries = Math.min(USUAL_TRIES, MOST_TRIES / chains.length);
  const { turns } = tourOf(stops, { ...(from === undefined ? {} : { start: from }), tries });
  return turns.map(({ index, reversed }) => {
    const chain = chains[index]!;
    // A closed chain keeps its sense: it ends where it begins either way.
    return reversed && !isClosed(chain) ? reversedChain(chain) : chain;
  });
}

/** Each closed chain begun where the way from the chain before it to the chain after it is shortest. */
function begunOnTheWay(chains: readonly Chain[], from: Point | undefined): Chain[] {
  const order = [...chains];
  for (const [i, chain] of order.entries()) {
    if (!isClosed(chain)) continue;
    const before = i === 0 ? from : endOf(order[i - 1]!);
    const after = i + 1 < order.length ? startOf(order[i + 1]!) : undefined;
    order[i] = begunBetween(chain, before, after);
  }
  return order;
}

function begunBetween(chain: Chain, a: Point | undefined, b: Point | undefined): Chain {
  if (a === undefined && b === undefined) return chain;
  if (a === undefined || b === undefined) return begunNear(chain, (a ?? b)!);
  let best = { way: distance(a, startOf(chain)) + distance(startOf(chain), b), along: 0 };
  let before = 0;
  for (const s of chain) {
    const length = lengthOf(s);
    for (const t of placesBetween(s, a, b)) {
      const p = pointAt(s, t);
      const way = distance(a, p) + distance(p, b);
      if (way < best.way - 1e-9) best = { way, along: before + t * length };
    }
    before += length;
  }
  return best.along === 0 ? chain : begunAt(chain, best.along);
}

/** Where along a segment (0 to 1) the way from a to b over it may be shortest. */
function placesBetween(s: Segment, a: Point, b: Point): readonly number[] {
  switch (s.kind) {
    case "line": {
      const dx = s.to.x - s.from.x;
      const dy = s.to.y - s.from.y;
      const square = dx * dx + dy * dy;
      if (square === 0) return [0];
      const share = (p: Point): number => ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / square;
      const off = (p: Point): number => Math.abs((p.x - s.from.x) * dy - (p.y - s.from.y) * dx);
      const [ta, tb, oa, ob] = [share(a), share(b), off(a), off(b)];
      // As a ray of light: the two angles are alike (Heron), on whichever sides the two points lie.
      const t = oa + ob === 0 ? Math.min(Math.max(0, ta), 1) : (ta * ob + tb * oa) / (oa + ob);
      return [Math.min(1, Math.max(0, t))];
    }
    case "arc": {
      const way = (t: number): number => distance(a, pointAt(s, t)) + distance(pointAt(s, t), b);
      let nearest = 0;
      for (let k = 1; k <= ARC_PLACES; k++) if (way(k / ARC_PLACES) < way(nearest)) nearest = k / ARC_PLACES;
      let low = Math.max(0, nearest - 1 / ARC_PLACES);
      let high = Math.min(1, nearest + 1 / ARC_PLACES);
      for (let k = 0; k < 30; k++) {
        const third = (high - low) / 3;
        if (way(low + third) < way(high - third)) high -= third;
        else low += third;
      }
      return [(low + high) / 2];
    }
  }
}

function startOf(chain: Chain): Point {
  return chain[0]!.from;
}

function endOf(chain: Chain): Point {
  return chain[chain.length - 1]!.to;
}
