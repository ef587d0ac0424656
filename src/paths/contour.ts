import type { Outcome } from "../finding.ts";
import type { ContourOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { offsetRegion } from "../shapes/offset.ts";
import type { Point } from "../shapes/point.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import { areaOfLoop, type Region } from "../shapes/region.ts";
import { TOLERANCE } from "../tolerance.ts";
import { begunAt, type Chain, chainLength, nearestSpot, reversedChain, spotAlong, stretch } from "./chain.ts";
import { rampDown, spiralDown } from "./descend.ts";
import { GUARD } from "./grounds.ts";
import { beside, leadInto, leadOut } from "./lead.ts";
import type { Move } from "./move.ts";
import { loopsOf } from "./passes.ts";
import { fitsNowhere, noWayIn } from "./problems.ts";
import { type Guarded, guardedTabs, type Reach, reachesAlong } from "./tabs.ts";
import { comeDown, endTrail, feedTo, follow, here, lift, startTrail, type Trail } from "./trail.ts";

/** Share of the cutter's radius by which the finish pass runs over its own beginning. */
const OVERLAP = 0.25;
/** A ring shorter than this has no room to ramp along. mm */
const SHORTEST = 0.2;

/**
 * Round a finished outline, level by level. The way down is a ramp along the outline itself, taken away by the level
 * round that follows, so that the cutter never lifts between levels. Over a tab it rises to the tab's top and comes
 * down after it by a ramp. Where wood was left for finishing, once more round at full depth.
 */
export function contour(operation: ContourOperation, setUp: SetUp): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  const tabs = guardedTabs(operation);
  const left = ringsAround(operation, operation.allowance, operation.roughing);
  if (left.length === 0) trail.findings.push(fitsNowhere(operation, setUp, somewhere(operation.profile)));
  for (const ring of inOrder(left)) {
    if (chainLength(ring) < SHORTEST) trail.findings.push(noWayIn(operation, setUp, ring[0]!.from));
    else roughRing(trail, operation, ring, tabs);
    lift(trail);
  }
  if (operation.allowance > 0) {
    const deepest = operation.levels[operation.levels.length - 1];
    for (const ring of inOrder(ringsAround(operation, 0, operation.finishing))) {
      if (deepest !== undefined) finishRing(trail, operation, ring, deepest, tabs);
      lift(trail);
    }
  }
  return endTrail(trail);
}

/**
 * The ways of the cutter's centre around the outline. Climb keeps the wood that stays on the right of travel: clockwise
 * around the outside, counter-clockwise in an opening.
 */
function ringsAround(operation: ContourOperation, allowance: number, habit: "climb" | "conventional"): Chain[] {
  const away = operation.cutter.diameter / 2 + allowance + GUARD;
  const outer: Region = { loops: operation.profile.loops.filter((loop) => areaOfLoop(loop) > 0) };
  const outside = operation.side === "outside";
  const grown: Polygons = outside
    ? offsetRegion(outer, away, TOLERANCE.offset)
    : offsetRegion(operation.profile, -away, TOLERANCE.offset);
  const woodOnLeft = loopsOf(grown, TOLERANCE.arcFit).map((loop) => (outside ? loop : reversedChain(loop)));
  return habit === "climb" ? woodOnLeft.map(reversedChain) : woodOnLeft;
}

function inOrder(rings: readonly Chain[]): Chain[] {
  const left = [...rings];
  const order: Chain[] = [];
  let at: Point = { x: Number.NEGATIVE_INFINITY, y: Number.NEGATIVE_INFINITY };
  while (left.length > 0) {
    let best = 0;
    for (let i = 1; i < left.length; i++) {
      const gain = Number.isFinite(at.x) ? nearestSpot(left[best]!, at).away - nearestSpot(left[i]!, at).away : 0;
      if (gain > 1e-9) best = i;
    }
    const ring = left.splice(best, 1)[0]!;
    at = ring[0]!.from;
    order.push(ring);
  }
  return order;
}

function somewhere(region: Region): Point {
  return region.loops[0]?.[0]?.from ?? { x: 0, y: 0 };
}

function roughRing(trail: Trail, operation: ContourOperation, ring: Chain, tabs: readonly Guarded[]): void {
  const deepest = operation.levels[operation.levels.length - 1] ?? operation.topZ;
  const begun = reachesAlong(
    ring,
    tabs.filter((t) => t.zTop > deepest),
  ).flatMap((r) => r.chain);
  comeDown(trail, begun[0]!.from, operation.topZ);
  let ground = operation.topZ;
  let round: Chain = begun;
  for (const z of operation.levels) {
    const high = tabs.filter((t) => t.zTop > z);
    const reaches = reachesAlong(begun, high);
    if (reaches.every((r) => r.keep === undefined)) {
      const end = spiralDown(trail, round, z, operation.rampAngle);
      round = begunAt(round, end);
      follow(trail, round, z, operation.speeds.slot, "rough");
    } else {
      toStartOf(trail, operation, round, reaches[0]!);
      for (const reach of reaches) cutReach(trail, operation, reach, z, ground);
      round = reaches.flatMap((r) => r.chain);
    }
    ground = z;
  }
}

/** Along ground cut at the level before, to where the first stretch between tabs begins. */
function toStartOf(trail: Trail, operation: ContourOperation, round: Chain, first: Reach): void {
  const to = first.chain[0]!.from;
  const tip = here(trail);
  if (tip.x === to.x && tip.y === to.y) return;
  const spot = nearestSpot(round, to);
  follow(trail, [...stretch(round, 0, spot.along)], tip.z, operation.speeds.feed, "link");
  feedTo(trail, { ...to, z: here(trail).z }, operation.speeds.feed, "link");
}

function cutReach(trail: Trail, operation: ContourOperation, reach: Reach, z: number, ground: number): void {
  const { slot, plunge } = operation.speeds;
  const start = reach.chain[0]!.from;
  if (reach.keep !== undefined && reach.keep > z) {
    feedTo(trail, { ...start, z: reach.keep }, plunge, "lift");
    follow(trail, onto(trail, reach.chain), reach.keep, slot, "rough");
    return;
  }
  // Down through what the level before has cut, then by a ramp, to and fro where the stretch is short.
  feedTo(trail, { ...start, z: Math.min(here(trail).z, Math.max(ground, z) + 0.05) }, plunge, "entry");
  const path = onto(trail, reach.chain);
  const { along } = rampDown(trail, path, z, operation.rampAngle);
  if (along > 0) follow(trail, reversedChain(stretch(path, 0, along)), z, slot, "rough");
  follow(trail, onto(trail, path), z, slot, "rough");
}

/** The chain begun, bit for bit, where the tip stands: cut pieces may differ from it in the last digit. */
function onto(trail: Trail, chain: Chain): Chain {
  const tip = here(trail);
  const [first, ...rest] = chain;
  return first === undefined ? [] : [{ ...first, from: { x: tip.x, y: tip.y } }, ...rest];
}

/**
 * The finish round at full depth. It is entered and left by flat arcs from the way the rough round has cleared, and
 * comes down after a tab in that same way.
 */
function finishRing(trail: Trail, operation: ContourOperation, ring: Chain, z: number, tabs: readonly Guarded[]): void {
  const { feed, plunge } = operation.speeds;
  const radius = operation.cutter.diameter / 2;
  const side = operation.finishing === "climb" ? 1 : -1;
  const sweep = Math.acos(Math.max(0, 1 - operation.allowance / radius));
  const high = tabs.filter((t) => t.zTop > z);
  const reaches = reachesAlong(ring, high);
  const first = reaches[0]!;
  const begin = chainLength(first.chain) / 2;
  const start = spotAlong(first.chain, begin);
  const into = leadInto(start.point, start.heading, side, radius, sweep);
  comeDown(trail, into.from, reaches.every((r) => r.keep !== undefined) ? operation.topZ : z);
  feedTo(trail, { ...into.from, z: first.keep ?? z }, plunge, "entry");
  follow(trail, [into], here(trail).z, feed, "lead");
  const whole = chainLength(first.chain);
  const tail: Reach = { chain: stretch(first.chain, begin, whole), keep: first.keep };
  const over = Math.min(begin + OVERLAP * radius, whole);
  const head: Reach = { chain: stretch(first.chain, 0, reaches.length === 1 ? begin : over), keep: first.keep };
  for (const reach of [tail, ...reaches.slice(1), head]) {
    const at = reach.chain[0];
    if (at === undefined) continue;
    const height = reach.keep ?? z;
    if (height > here(trail).z) feedTo(trail, { ...at.from, z: height }, plunge, "lift");
    else if (height < here(trail).z) downAfterTab(trail, operation, reach.chain, side, height, high);
    follow(trail, onto(trail, reach.chain), height, feed, "finish");
  }
  if (reaches.length === 1) {
    follow(
      trail,
      onto(trail, stretch(begunAt(first.chain, begin), 0, OVERLAP * radius)),
      here(trail).z,
      feed,
      "finish",
    );
  }
  const last = here(trail);
  const end = spotAlong(first.chain, nearestSpot(first.chain, last).along);
  const out = leadOut({ x: last.x, y: last.y }, end.heading, side, radius, sweep);
  follow(trail, [out], last.z, feed, "lead");
}

/** Sideways into the way of the rough round, down there through air, and back onto the wall. */
function downAfterTab(
  trail: Trail,
  operation: ContourOperation,
  chain: Chain,
  side: 1 | -1,
  z: number,
  tabs: readonly Guarded[],
): void {
  const { feed, plunge } = operation.speeds;
  const start = spotAlong(chain, 0);
  const out = beside(start.point, start.heading, side * operation.allowance);
  if (!tabs.some((t) => t.zTop > z && pointInPolygons(t.around, out))) {
    feedTo(trail, { ...out, z: here(trail).z }, feed, "link");
    feedTo(trail, { ...out, z }, plunge, "entry");
  }
  feedTo(trail, { ...start.point, z }, feed, "lead");
}
