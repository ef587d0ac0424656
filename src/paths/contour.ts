import type { Outcome } from "../finding.ts";
import type { ContourOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { flattenLoop } from "../shapes/flatten.ts";
import { offsetRegion } from "../shapes/offset.ts";
import type { Point } from "../shapes/point.ts";
import { areaOfRing, type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import { areaOfLoop, type Region } from "../shapes/region.ts";
import { type Arc, pointAt } from "../shapes/segment.ts";
import { TOLERANCE } from "../tolerance.ts";
import { begunAt, type Chain, chainLength, nearestSpot, reversedChain, spotAlong, stretch } from "./chain.ts";
import { chainTour } from "./chain-tour.ts";
import { rampDown, spiralDown } from "./descend.ts";
import { GUARD, WALL_WITHIN } from "./guard.ts";
import { beside, leadInto, leadOut } from "./lead.ts";
import type { Move } from "./move.ts";
import { loopsOf } from "./passes.ts";
import { fitsNowhere, noWayIn } from "./problems.ts";
import { begunBetween, type Guarded, guardedTabs, type Reach, reachesAlong } from "./tabs.ts";
import { comeDown, endTrail, feedTo, follow, here, lift, startTrail, type Trail } from "./trail.ts";

/** Share of the cutter's radius by which the finish pass runs over its own beginning. */
const OVERLAP = 0.25;
/** A ring shorter than this has no room to ramp along. mm */
const SHORTEST = 0.2;

/**
 * Round a finished outline, level by level. The way down is a ramp along the outline itself, taken away by the level
 * round that follows, so that the cutter never lifts between levels. Over a tab it rises to the tab's top and comes
 * down after it by a ramp. Where wood was left for finishing, once more round at full depth. A ring without tabs begins
 * where it lies nearest to where one comes from.
 */
export function contour(operation: ContourOperation, setUp: SetUp, from?: Point): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  const tabs = guardedTabs(operation);
  const tip = (): Point | undefined => trail.tip ?? from;
  const left = ringsAround(operation, operation.allowance, operation.roughing);
  if (left.length === 0) trail.findings.push(fitsNowhere(operation, setUp, somewhere(operation.profile)));
  for (const found of chainTour(left, from)) {
    const ring = tabs.length > 0 ? found : begunNear(found, tip(), 0);
    if (chainLength(ring) < SHORTEST) trail.findings.push(noWayIn(operation, setUp, ring[0]!.from));
    else roughRing(trail, operation, ring, tabs);
    lift(trail);
  }
  if (operation.allowance > 0) {
    const deepest = operation.levels[operation.levels.length - 1];
    for (const found of chainTour(ringsAround(operation, 0, operation.finishing), tip())) {
      // The finish comes onto the wall about half way along the ring.
      const ring = tabs.length > 0 ? found : begunNear(found, tip(), 0.5);
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
    ? offsetRegion(outer, away, WALL_WITHIN)
    : offsetRegion(operation.profile, -away, WALL_WITHIN);
  const woodOnLeft = loopsOf(grown, WALL_WITHIN).map((loop) => (outside ? loop : reversedChain(loop)));
  return habit === "climb" ? woodOnLeft.map(reversedChain) : woodOnLeft;
}

/** A ring begun so that the given share of its length lies between its beginning and the place nearest to a point. */
function begunNear(ring: Chain, to: Point | undefined, share: number): Chain {
  if (to === undefined) return ring;
  const length = chainLength(ring);
  return begunAt(ring, (nearestSpot(ring, to).along + (1 - share) * length) % length);
}

function somewhere(region: Region): Point {
  return region.loops[0]?.[0]?.from ?? { x: 0, y: 0 };
}

function roughRing(trail: Trail, operation: ContourOperation, ring: Chain, tabs: readonly Guarded[]): void {
  const deepest = operation.levels[operation.levels.length - 1] ?? operation.topZ;
  const begun = begunBetween(
    ring,
    tabs.filter((t) => t.zTop > deepest),
  );
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
  const height = Math.max(z, reach.keep ?? z);
  if (height >= here(trail).z) {
    feedTo(trail, { ...start, z: height }, plunge, "lift");
    follow(trail, onto(trail, reach.chain), height, slot, "rough");
    return;
  }
  // Down through what the level before has cut, then by a ramp, to and fro where the stretch is short.
  feedTo(trail, { ...start, z: Math.min(here(trail).z, Math.max(ground, height) + 0.05) }, plunge, "entry");
  const path = onto(trail, reach.chain);
  const { along } = rampDown(trail, path, height, operation.rampAngle);
  if (along > 0) follow(trail, reversedChain(stretch(path, 0, along)), height, slot, "rough");
  follow(trail, onto(trail, path), height, slot, "rough");
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
  const high = tabs.filter((t) => t.zTop > z);
  const reaches = reachesAlong(begunBetween(ring, high), high);
  const first = reaches[0]!;
  const clear = sideOf(ring, side);
  const roughed = (p: Point): boolean => clear(p) && !high.some((t) => pointInPolygons(t.around, p));
  const { begin, into } = entryOnto(first.chain, ring, side, operation, first.keep === undefined ? roughed : clear);
  if (into === undefined) {
    comeDown(trail, first.chain[0]!.from, operation.topZ);
    rampAndBack(trail, operation, first.chain, first.keep ?? z);
  } else {
    comeDown(trail, into.from, first.keep === undefined ? z : operation.topZ);
    feedTo(trail, { ...here(trail), z: first.keep ?? z }, plunge, "entry");
    follow(trail, [into], here(trail).z, feed, "lead");
  }
  const whole = chainLength(first.chain);
  const tail: Reach = { chain: stretch(first.chain, begin, whole), keep: first.keep };
  const over = Math.min(begin + OVERLAP * radius, whole);
  const head: Reach = { chain: stretch(first.chain, 0, reaches.length === 1 ? begin : over), keep: first.keep };
  for (const reach of [tail, ...reaches.slice(1), head]) {
    const at = reach.chain[0];
    if (at === undefined) continue;
    const height = reach.keep ?? z;
    if (height > here(trail).z) feedTo(trail, { ...at.from, z: height }, plunge, "lift");
    else if (height < here(trail).z) downAfterTab(trail, operation, reach.chain, side, height, high, clear);
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
  const outBy = (sweep: number): Arc => leadOut({ x: last.x, y: last.y }, end.heading, side, radius, sweep);
  const out = outBy(sweepTo(ring, operation.allowance, (sweep) => outBy(sweep).to));
  if (SHARES.every((t) => roughed(pointAt(out, 1 - t)))) follow(trail, [out], last.z, feed, "lead");
}

/** Shares of a lead at which it is checked to keep off the wall. */
const SHARES = [0, 0.3, 0.6, 0.8, 0.9];

/**
 * Where on its first stretch the finish round begins, and the arc onto it: as near the middle as one fits. In a
 * stretch of nothing but tight corners there may be none.
 */
function entryOnto(
  chain: Chain,
  ring: Chain,
  side: 1 | -1,
  operation: ContourOperation,
  clear: (p: Point) => boolean,
): { readonly begin: number; readonly into: Arc | undefined } {
  const length = chainLength(chain);
  const radius = operation.cutter.diameter / 2;
  for (const share of [0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8]) {
    const start = spotAlong(chain, share * length);
    const intoBy = (sweep: number): Arc => leadInto(start.point, start.heading, side, radius, sweep);
    const into = intoBy(sweepTo(ring, operation.allowance, (sweep) => intoBy(sweep).from));
    if (SHARES.every((t) => clear(pointAt(into, t)))) return { begin: share * length, into };
  }
  return { begin: 0, into: undefined };
}

/** Tells whether a place lies on the given side of a closed ring: +1 the left of travel, −1 the right. */
function sideOf(ring: Chain, side: 1 | -1): (p: Point) => boolean {
  const points = flattenLoop(ring, TOLERANCE.flattening);
  const inside = areaOfRing(points) > 0 === side > 0;
  return (p) => pointInPolygons([points], p) === inside;
}

/**
 * Sideways into the way of the rough round, down there through air, and back onto the wall. Where the tab lies at a
 * slant to the wall, the place to come down is a little further on.
 */
function downAfterTab(
  trail: Trail,
  operation: ContourOperation,
  chain: Chain,
  side: 1 | -1,
  z: number,
  tabs: readonly Guarded[],
  clear: (p: Point) => boolean,
): void {
  const { feed, plunge } = operation.speeds;
  const radius = operation.cutter.diameter / 2;
  const start = chain[0]!.from;
  const low = tabs.filter((t) => t.zTop > z);
  const free = (p: Point): boolean => clear(p) && !low.some((t) => pointInPolygons(t.around, p));
  const grain = radius / 16;
  const furthest = Math.floor(Math.min(2 * radius, chainLength(chain)) / grain);
  for (let n = 0; n <= furthest; n++) {
    // Back to the start close by the wall, coming nearer to it evenly: a straight way might cut a round part.
    const back = Array.from({ length: n + 1 }, (_, i) => {
      const place = spotAlong(chain, (n - i) * grain);
      return beside(place.point, place.heading, side * operation.allowance * (n === 0 ? 1 : (n - i) / n));
    });
    if (!back.slice(0, Math.max(1, n)).every(free)) continue;
    const [out, ...rest] = back;
    const height = here(trail).z;
    for (const p of [...back].reverse().slice(1)) feedTo(trail, { ...p, z: height }, feed, "rough");
    feedTo(trail, { ...out!, z: height }, feed, "rough");
    feedTo(trail, { ...out!, z }, plunge, "entry");
    for (const p of rest.slice(0, -1)) feedTo(trail, { ...p, z }, feed, "lead");
    feedTo(trail, { ...start, z }, feed, "lead");
    return;
  }
  // No room beside the wall, as in a tight corner: down along the wall itself.
  rampAndBack(trail, operation, chain, z);
}

/** Down along a stretch by a ramp, to and fro where it is short, and level back to its beginning. */
function rampAndBack(trail: Trail, operation: ContourOperation, chain: Chain, z: number): void {
  const path = onto(trail, chain);
  const { along } = rampDown(trail, path, z, operation.rampAngle);
  if (along > 0) follow(trail, reversedChain(stretch(path, 0, along)), z, operation.speeds.feed, "finish");
}

/**
 * The sweep of a lead that begins, or ends, just where the rough round went: the further it turns, the further it is
 * from the finished way.
 */
function sweepTo(ring: Chain, allowance: number, endOf: (sweep: number) => Point): number {
  let low = 0;
  let high = Math.PI / 2;
  for (let i = 0; i < 40; i++) {
    const mid = (low + high) / 2;
    if (nearestSpot(ring, endOf(mid)).away < allowance) low = mid;
    else high = mid;
  }
  return low;
}
