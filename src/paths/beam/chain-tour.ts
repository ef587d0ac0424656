import { distance, type Point } from "../../shapes/point.ts";
import { begunAt, type Chain, chainLength, isClosed, nearestSpot, reversedChain } from "../chain.ts";

/** Beyond this many chains the search for shorter ways is left out: what it finds is small, and its cost grows as n². */
const MOST_SEARCHED = 1500;
/** Rounds of the search; each looks at all pairs. Few are needed. */
const ROUNDS = 12;
/** A way must become shorter by this to count, mm: no changes of mind on the last digits. */
const GAIN = 1e-6;

/**
 * Chains in an order, and each in a sense, that keeps the way between them short: the nearest one left each time, then
 * stretches of the order turned round while that shortens it (2-opt; Croes, Operations Research 6, 1958). Closed chains
 * are begun where one comes upon them. The same chains give the same order. Cost: O(n²).
 */
export function chainTour(chains: readonly Chain[]): Chain[] {
  const order = improved(nearestFirst(chains.filter((c) => c.length > 0)));
  return order.map((chain, i) => (isClosed(chain) && i > 0 ? begunNear(chain, endOf(order[i - 1]!)) : chain));
}

/** A closed chain begun at its place nearest to a point. */
export function begunNear(chain: Chain, p: Point): Chain {
  return begunAt(chain, nearestSpot(chain, p).along);
}

/** Length of the ways between chains taken in this order, mm. */
export function wayBetween(chains: readonly Chain[]): number {
  return chains.reduce((sum, c, i) => (i === 0 ? 0 : sum + distance(endOf(chains[i - 1]!), startOf(c))), 0);
}

function nearestFirst(chains: readonly Chain[]): Chain[] {
  const left = chains.map((chain) => ({ chain, from: startOf(chain), to: endOf(chain) }));
  const order: Chain[] = [];
  let at: Point | undefined;
  while (left.length > 0) {
    let best = 0;
    let turned = false;
    let least = Number.POSITIVE_INFINITY;
    for (const [i, c] of left.entries()) {
      // Begun at the lowest and then leftmost end.
      const ahead = at === undefined ? c.from.y * 1e4 + c.from.x : distance(at, c.from);
      const back = at === undefined ? c.to.y * 1e4 + c.to.x : distance(at, c.to);
      const near = Math.min(ahead, back);
      if (near >= least - 1e-9) continue;
      least = near;
      best = i;
      turned = back < ahead - 1e-9;
    }
    const { chain } = left.splice(best, 1)[0]!;
    const walked = turned ? reversedChain(chain) : chain;
    order.push(walked);
    at = endOf(walked);
  }
  return order;
}

/** Turns stretches of the order round while that makes the way shorter. */
function improved(chains: readonly Chain[]): Chain[] {
  const n = chains.length;
  if (n < 3 || n > MOST_SEARCHED) return [...chains];
  const order = chains.map((chain) => ({ chain, from: startOf(chain), to: endOf(chain), turned: false }));
  for (let round = 0; round < ROUNDS; round++) {
    let better = false;
    for (let i = 0; i < n - 1; i++) {
      for (let k = i + 1; k < n; k++) {
        const before = order[i - 1];
        const after = order[k + 1];
        const first = order[i]!;
        const last = order[k]!;
        const now = (before ? distance(before.to, first.from) : 0) + (after ? distance(last.to, after.from) : 0);
        const then = (before ? distance(before.to, last.to) : 0) + (after ? distance(first.from, after.from) : 0);
        if (then >= now - GAIN) continue;
        const stretch = order
          .slice(i, k + 1)
          .reverse()
          .map((c) => ({ chain: c.chain, from: c.to, to: c.from, turned: !c.turned }));
        order.splice(i, stretch.length, ...stretch);
        better = true;
      }
    }
    if (!better) break;
  }
  return order.map(({ chain, turned }) => (turned ? reversedChain(chain) : [...chain]));
}

function startOf(chain: Chain): Point {
  return chain[0]!.from;
}

function endOf(chain: Chain): Point {
  return chain[chain.length - 1]!.to;
}

/** Length burned, mm. */
export function burnedLength(chains: readonly Chain[]): number {
  return chains.reduce((sum, c) => sum + chainLength(c), 0);
}
