import type { Outcome } from "../finding.ts";
import type { TraceOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { distance, type Point } from "../shapes/point.ts";
import { type Chain, isClosed, reversedChain } from "./chain.ts";
import { chainTour } from "./chain-tour.ts";
import type { Move } from "./move.ts";
import { comeDown, endTrail, feedTo, follow, here, startTrail } from "./trail.ts";

/** Lines that begin this near where one ended go on from there, mm. */
const SAME_PLACE = 1e-9;

/**
 * Lines at one depth, the bit's middle on them: straight down where each begins, along it, and where it takes more than
 * one level, back along it a level deeper. Order and sense are a short round; closed lines begin wherever that is shortest.
 */
export function traceLines(operation: TraceOperation, setUp: SetUp, from?: Point): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  const { levels, speeds, topZ } = operation;
  const bottom = levels[levels.length - 1] ?? topZ;
  for (const chain of chainTour(operation.chains, from)) {
    const begin = chain[0]!.from;
    const onwards =
      trail.tip !== undefined &&
      trail.tip.z === bottom &&
      distance(trail.tip, begin) <= SAME_PLACE &&
      levels.length === 1;
    if (!onwards) comeDown(trail, begin, topZ);
    let way: Chain = chain;
    for (const z of levels) {
      const start = way[0]!.from;
      feedTo(trail, { ...start, z }, speeds.plunge, "entry");
      follow(trail, onto(way, here(trail)), z, speeds.slot, "finish");
      if (!isClosed(chain)) way = reversedChain(way);
    }
  }
  return endTrail(trail);
}

/** The chain begun, bit for bit, where the tip stands. */
function onto(chain: Chain, { x, y }: Point): Chain {
  const [first, ...rest] = chain;
  return first === undefined ? [] : [{ ...first, from: { x, y } }, ...rest];
}
