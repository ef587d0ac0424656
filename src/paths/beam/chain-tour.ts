import { distance, type Point } from "../../shapes/point.ts";
import { tourOf, USUAL_TRIES } from "../../shapes/tour.ts";
import { begunAt, type Chain, isClosed, nearestSpot, reversedChain } from "../chain.ts";

/**
 * Chains in an order, and each in a sense, that keeps the way between them short. Closed chains are begun where one comes
 * upon them. The same chains give the same order.
 */
export function chainTour(chains: readonly Chain[]): Chain[] {
  const own = chains.filter((c) => c.length > 0);
  const { turns } = tourOf(
    own.map((c) => ({ from: startOf(c), to: endOf(c) })),
    { tries: USUAL_TRIES },
  );
  const order: Chain[] = [];
  for (const { index, reversed } of turns) {
    const chain = own[index]!;
    const before = order[order.length - 1];
    if (isClosed(chain)) order.push(before === undefined ? chain : begunNear(chain, endOf(before)));
    else order.push(reversed ? reversedChain(chain) : chain);
  }
  return order;
}

/** A closed chain begun at its place nearest to a point. */
export function begunNear(chain: Chain, p: Point): Chain {
  return begunAt(chain, nearestSpot(chain, p).along);
}

/** Length of the ways between chains taken in this order, mm. */
export function wayBetween(chains: readonly Chain[]): number {
  return chains.reduce((sum, c, i) => (i === 0 ? 0 : sum + distance(endOf(chains[i - 1]!), startOf(c))), 0);
}

function startOf(chain: Chain): Point {
  return chain[0]!.from;
}

function endOf(chain: Chain): Point {
  return chain[chain.length - 1]!.to;
}
