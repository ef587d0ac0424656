import type { ClearOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { distance, type Point } from "../shapes/point.ts";
import type { Polygons } from "../shapes/polygons.ts";
import { tangentAt } from "../shapes/segment.ts";
import { comeDownBeside, offTheBlank } from "./air.ts";
import { begunAt, type Chain, isClosed, nearestSpot, reversedChain, samplesAlong, straight, stretch } from "./chain.ts";
import { rampDown, spiralDown } from "./descend.ts";
import type { Grounds } from "./grounds.ts";
import { standsIn, wayInside } from "./inside.ts";
import { leadsOnto } from "./lead.ts";
import { comeDown, feedTo, follow, here, lift, type Trail } from "./trail.ts";
import { exitsAcross, waysAlongWalls } from "./walls.ts";

const SLACK = 0.06;

/** Ground already cut: where the cutter's centre may go, and how high it lies. */
export interface Cleared {
  readonly ground: Polygons;
  readonly z: number;
}

interface Finishing {
  readonly trail: Trail;
  readonly operation: ClearOperation;
  readonly setUp: SetUp;
  readonly grounds: Grounds;
  readonly z: number;
  readonly cleared: Cleared | undefined;
  readonly radius: number;
}

/**
 * Once along every wall of one level, at the finished size. Closed rings are entered and left by quarter circles over
 * cleared ground and run over their own beginning; walls that end in the air are cut from air to air. Ways that leave
 * the wood across the grain come last.
 */
export function finishLevel(
  trail: Trail,
  grounds: Grounds,
  z: number,
  cleared: Cleared | undefined,
  operation: ClearOperation,
  setUp: SetUp,
): void {
  const f: Finishing = { trail, operation, setUp, grounds, z, cleared, radius: operation.cutter.diameter / 2 };
  const climb = operation.finishing === "climb";
  const left = waysAlongWalls(grounds, operation, setUp).map((way) => (climb ? way : reversedChain(way)));
  while (left.length > 0) {
    const way = takeNext(left, trail, operation.grainDeg);
    if (isClosed(way)) finishRing(f, way, climb ? 1 : -1);
    else finishOpen(f, way);
  }
}

function takeNext(left: Chain[], trail: Trail, grainDeg: number | undefined): Chain {
  const cost = left.map(
    (way) => (exitsAcross(way, grainDeg) ? 1e6 : 0) + (trail.tip === undefined ? 0 : nearestSpot(way, trail.tip).away),
  );
  let best = 0;
  for (let i = 1; i < left.length; i++) if (cost[i]! < cost[best]! - 1e-9) best = i;
  return left.splice(best, 1)[0]!;
}

function finishRing(f: Finishing, ring: Chain, side: 1 | -1): void {
  const { trail, z, cleared, operation } = f;
  const { feed } = operation.speeds;
  const leads = cleared === undefined ? undefined : leadsOnto(ring, side, f.radius, f.grounds.finish, cleared.ground);
  if (leads !== undefined) {
    goTo(f, leads.into.from);
    const round = begunAt(ring, leads.along);
    follow(trail, [leads.into], z, feed, "lead");
    follow(trail, round, z, feed, "finish");
    const over = stretch(round, 0, leads.overlap);
    follow(trail, over, z, feed, "finish");
    follow(trail, [{ ...leads.out, from: flat(here(trail)) }], z, feed, "lead");
    return;
  }
  const tip = trail.tip;
  if (tip !== undefined && tip.z > z && tip.z < trail.safeZ) {
    const spot = nearestSpot(ring, tip);
    // From the ring just above on a sloped wall: a step sideways, then down along this one.
    if (spot.away <= f.radius && wayInside(f.grounds.finish, tip, spot.point, SLACK)) {
      feedTo(trail, { ...spot.point, z: tip.z }, feed, "finish");
      ramped(f, begunAt(ring, spot.along));
      return;
    }
  }
  const place =
    cleared === undefined
      ? undefined
      : samplesAlong(ring, f.radius / 2).find((p) => standsIn(cleared.ground, p, SLACK / 10));
  if (place !== undefined) {
    const spot = nearestSpot(ring, place);
    goTo(f, spot.point);
    follow(trail, begunAt(ring, spot.along), z, feed, "finish");
    return;
  }
  comeDown(trail, ring[0]!.from, operation.topZ);
  ramped(f, ring);
}

function ramped(f: Finishing, ring: Chain): void {
  const end = spiralDown(f.trail, ring, f.z, f.operation.rampAngle);
  follow(f.trail, begunAt(ring, end), f.z, f.operation.speeds.feed, "finish");
}

/** To a place over cleared ground, at the level's height: along that ground where the way is clear, else over the top. */
function goTo(f: Finishing, to: Point): void {
  const { trail, z, cleared, operation } = f;
  const { feed, plunge } = operation.speeds;
  const tip = trail.tip;
  if (cleared !== undefined && tip !== undefined && tip.z < trail.safeZ) {
    const height = Math.max(tip.z, z);
    if (standsIn(cleared.ground, tip, SLACK) && wayInside(cleared.ground, tip, to, SLACK)) {
      feedTo(trail, { x: tip.x, y: tip.y, z: height }, plunge, "lift");
      feedTo(trail, { ...to, z: height }, feed, "link");
      feedTo(trail, { ...to, z }, plunge, "entry");
      return;
    }
  }
  const known = cleared !== undefined && standsIn(cleared.ground, to, SLACK);
  comeDown(trail, to, known ? Math.max(cleared.z, z) : operation.topZ);
  feedTo(trail, { ...to, z }, plunge, "entry");
}

/** A wall from air to air; an end that cannot run out (a clamp is near) starts or stops on the wall itself. */
function finishOpen(f: Finishing, way: Chain): void {
  const { trail, z, operation, setUp } = f;
  const { feed } = operation.speeds;
  const first = way[0]!;
  const last = way[way.length - 1]!;
  const ahead = tangentAt(last, 1);
  const back = tangentAt(first, 0);
  const begin = runOut(f, first.from, { x: -back.x, y: -back.y });
  const end = runOut(f, last.to, ahead);
  const whole = [
    ...(begin === undefined ? [] : straight(begin, first.from)),
    ...way,
    ...(end === undefined ? [] : straight(last.to, end)),
  ];
  if (begin !== undefined && z >= setUp.blank.min.z) {
    comeDownBeside(trail, setUp, begin, z);
    follow(trail, whole, z, feed, "finish");
  } else if (f.cleared !== undefined && standsIn(f.cleared.ground, whole[0]!.from, SLACK)) {
    goTo(f, whole[0]!.from);
    follow(trail, whole, z, feed, "finish");
  } else {
    comeDown(trail, whole[0]!.from, operation.topZ);
    const { along } = rampDown(trail, whole, z, operation.rampAngle);
    const total = whole.reduce((sum, s) => sum + distance(s.from, s.to), 0);
    follow(trail, reversedChain(stretch(whole, 0, along)), z, feed, "finish");
    if (total > 0) follow(trail, whole, z, feed, "finish");
  }
  lift(trail);
}

function runOut(f: Finishing, from: Point, heading: Point): Point | undefined {
  const out = offTheBlank(f.setUp, from, heading, f.radius);
  return out !== undefined && wayInside(f.grounds.free, from, out, SLACK + f.operation.allowance.wall)
    ? out
    : undefined;
}

function flat(p: Point): Point {
  return { x: p.x, y: p.y };
}
