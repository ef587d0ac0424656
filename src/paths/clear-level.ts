import type { ClearOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { distance, type Point } from "../shapes/point.ts";
import type { Polygons } from "../shapes/polygons.ts";
import { topOver } from "../shapes/turned-section.ts";
import { BESIDE } from "./air.ts";
import { begunAt, type Chain, nearestSpot, type Spot, samplesAlong, straight } from "./chain.ts";
import { spiralDown } from "./descend.ts";
import { doorOf, type Entry, entryInto, goDown } from "./enter.ts";
import type { Grounds } from "./grounds.ts";
import { nearestOnRing, standsIn, wayInside } from "./inside.ts";
import type { Purpose } from "./move.ts";
import { type Pass, walkedFor } from "./passes.ts";
import { comeDown, feedTo, follow, here, type Trail } from "./trail.ts";
import { loadsAlong, note, nothingWorked, type Worked } from "./worked.ts";

/** Ways begin and end on fitted rings, which may lie this far outside their polygons. mm */
const SLACK = 0.06;

/** One level to be cleared. */
export interface LevelWork {
  readonly z: number;
  /** Ground that is already cut, just above: where the cutter's centre may go there, and how high it lies. */
  readonly above: { readonly ground: Polygons; readonly z: number } | undefined;
  readonly climb: boolean;
  readonly why: Purpose & ("rough" | "finish");
}

/** What the functions below share while one level is being cleared. */
interface Clearing {
  readonly trail: Trail;
  readonly operation: ClearOperation;
  readonly setUp: SetUp;
  readonly grounds: Grounds;
  readonly work: LevelWork;
  readonly worked: Worked;
  readonly radius: number;
}

/**
 * Clears one level, each connected piece from the inside out. The innermost pieces are entered; a piece's own rings are
 * cut when all that lies inside it is clear, so that only the first ring of each branch meets full wood.
 */
export function clearLevel(
  trail: Trail,
  passes: readonly Pass[],
  grounds: Grounds,
  work: LevelWork,
  operation: ClearOperation,
  setUp: SetUp,
): void {
  const radius = operation.cutter.diameter / 2;
  const worked = nothingWorked(1.1 * radius);
  const clearing: Clearing = { trail, operation, setUp, grounds, work, worked, radius };
  const left = [...passes];
  while (left.length > 0) clearPass(clearing, takeNearest(left, trail));
}

function takeNearest(left: Pass[], trail: Trail): Pass {
  const tip = trail.tip;
  if (tip === undefined) return left.shift()!;
  const away = left.map((pass) => nearestSpot(pass.loops[0]!, tip).away);
  let best = 0;
  for (let i = 1; i < left.length; i++) if (away[i]! < away[best]! - 1e-9) best = i;
  return left.splice(best, 1)[0]!;
}

function clearPass(c: Clearing, pass: Pass): void {
  const inner = [...pass.children];
  while (inner.length > 0) clearPass(c, takeNearest(inner, c.trail));
  let rings = pass.loops.map(
    (loop, i): Ring => ({ of: loop, loop: walkedFor(loop, c.work.climb), corners: pass.shape[i]! }),
  );
  if (pass.children.length === 0) {
    const done = enter(c, pass);
    rings = rings.filter((ring) => !done(ring.of));
  }
  while (rings.length > 0) {
    const way = wayToNext(c, pass, rings);
    if (way === undefined) {
      cutByRamp(c, rings.shift()!.loop);
    } else {
      rings.splice(rings.indexOf(way.ring), 1);
      const spot = takeWay(c, way);
      cutLoop(c, begunAt(way.ring.loop, spot.along));
    }
  }
}

/** A ring still to be cut: as lines and arcs in the direction of travel, and as bare corners for quick questions. */
interface Ring {
  readonly of: Chain;
  readonly loop: Chain;
  readonly corners: readonly Point[];
}

/**
 * Down into an innermost piece, over ground that is already cut where the way there allows.
 * @returns tells which of the piece's rings the way down has made needless
 */
function enter(c: Clearing, pass: Pass): (loop: Chain) => boolean {
  const { trail, operation, work } = c;
  const top = work.above?.z ?? operation.topZ;
  const entry: Entry = entryInto(pass, c.grounds, operation, work.climb, top - work.z + 1);
  if (entry.kind !== "air") goOver(c, doorOf(entry));
  goDown(trail, entry, work.z, operation, c.setUp, work.climb, c.worked);
  switch (entry.kind) {
    case "helix":
      // A ring within the helix's own circle would sweep nothing new.
      return (loop) => samplesAlong(loop, c.radius / 8).every((p) => distance(p, entry.centre) <= entry.radius);
    case "ramp":
      return (loop) => loop === entry.of;
    case "air":
    case "plunge":
    case "none":
      return () => false;
  }
}

/** To a place above ground cut at the level before: along that ground where the way is clear, else over the top. */
function goOver(c: Clearing, to: Point): void {
  const { trail, work, operation } = c;
  const above = work.above;
  const tip = trail.tip;
  const ground = above !== undefined && standsIn(above.ground, to, SLACK) ? above.z : topUnder(c, to);
  if (above !== undefined && ground === above.z && tip !== undefined && tip.z < trail.safeZ) {
    const z = Math.min(trail.safeZ, Math.max(tip.z, above.z + LINK_LIFT));
    if (standsIn(above.ground, tip, SLACK) && wayInside(above.ground, tip, to, SLACK)) {
      feedTo(trail, { x: tip.x, y: tip.y, z }, operation.speeds.plunge, "lift");
      feedTo(trail, { ...to, z }, operation.speeds.feed, "link");
      return;
    }
  }
  comeDown(trail, to, ground);
}

/** Top of the wood beneath the cutter at a place: lower than the operation's own where round stock falls away. */
function topUnder({ setUp, operation, radius }: Clearing, at: Point): number {
  if (setUp.round === undefined) return operation.topZ;
  return Math.min(operation.topZ, topOver(setUp.round, { min: at, max: at }, radius + BESIDE) ?? operation.topZ);
}

/** A link over cut ground runs this much above it, so that the tip doesn't rub. mm */
const LINK_LIFT = 0.2;

/** How to get from where the tip stands onto a ring: straight, or by cleared ground between. */
interface Way {
  readonly ring: Ring;
  /** Near this place of the ring. */
  readonly to: Point;
  /** Places to pass, in order, over ground cleared at this level. Empty: straight onto the ring. */
  readonly via: readonly Point[];
  readonly length: number;
}

/**
 * The shortest sure way to any ring that is left. A short step sideways cuts at most what a ring would; anything longer
 * must keep to ground that is already clear at this level.
 */
function wayToNext(c: Clearing, pass: Pass, rings: readonly Ring[]): Way | undefined {
  const tip = here(c.trail);
  if (tip.z > c.work.z + 1e-9) return undefined;
  const most = (pass.children.length === 0 ? 2.2 : SHORT_STEP) * c.operation.step;
  const straightWays = rings.flatMap((ring): Way[] => {
    const { point, away } = nearestOnRing(ring.corners, tip);
    const sure = away <= most && wayInside(c.grounds.rough, tip, point, SLACK);
    return sure ? [{ ring, to: point, via: [], length: away }] : [];
  });
  const ways = straightWays.length > 0 ? straightWays : waysAcross(c, pass, rings, tip);
  return ways.reduce<Way | undefined>((a, b) => (a === undefined || b.length < a.length - 1e-9 ? b : a), undefined);
}

/** Longest step, in steps between passes, that is taken straight through what a ring is about to cut. */
const SHORT_STEP = 1.3;
/** Places of a ring that are tried when the nearest one cannot be reached. */
const TRIES = 8;

/** Ways by a piece that is already clear: onto it, straight across it, and off it onto the ring. */
function waysAcross(c: Clearing, pass: Pass, rings: readonly Ring[], tip: Point): Way[] {
  const step = SHORT_STEP * c.operation.step;
  return pass.children.flatMap((child): Way[] => {
    const onto = nearestOf(child.shape, tip);
    const start = standsIn(child.shape, tip, SLACK) ? tip : onto.point;
    if (start !== tip && (onto.away > step || !wayInside(pass.shape, tip, start, SLACK))) return [];
    return rings.flatMap((ring): Way[] => {
      const stride = Math.max(1, Math.ceil(ring.corners.length / TRIES));
      const targets = [nearestOnRing(ring.corners, start).point, ...ring.corners.filter((_, i) => i % stride === 0)];
      for (const target of targets) {
        const leave = nearestOf(child.shape, target);
        if (leave.away > step || !wayInside(child.shape, start, leave.point, SLACK)) continue;
        const { point, away } = nearestOnRing(ring.corners, leave.point);
        if (away > step || !wayInside(pass.shape, leave.point, point, SLACK)) continue;
        const via = start === tip ? [leave.point] : [start, leave.point];
        return [{ ring, to: point, via, length: distance(tip, start) + distance(start, leave.point) + away }];
      }
      return [];
    });
  });
}

function nearestOf(shape: Polygons, p: Point): { readonly point: Point; readonly away: number } {
  return shape.map((ring) => nearestOnRing(ring, p)).reduce((a, b) => (b.away < a.away - 1e-9 ? b : a));
}

function takeWay(c: Clearing, way: Way): Spot {
  const { trail, operation, work } = c;
  const { feed, slot } = operation.speeds;
  const [first, ...rest] = way.via;
  if (first !== undefined) {
    // With two places to pass, the first step goes back over the ring just cut.
    if (rest.length > 0) cutStraight(c, first, slot, work.why);
    feedTo(trail, { ...(rest[0] ?? first), z: work.z }, feed, "link");
  }
  const spot = nearestSpot(way.ring.loop, way.to);
  cutStraight(c, spot.point, slot, work.why);
  return spot;
}

function cutStraight(c: Clearing, to: Point, feed: number, why: Purpose): void {
  const tip = here(c.trail);
  note(c.worked, straight(tip, to));
  feedTo(c.trail, { ...to, z: c.work.z }, feed, why);
}

/** Once round a ring, slowed where the cutter is buried. */
function cutLoop(c: Clearing, loop: Chain): void {
  const { feed, slot } = c.operation.speeds;
  for (const load of loadsAlong(c.worked, loop)) {
    follow(c.trail, load.chain, c.work.z, load.buried ? slot : feed, c.work.why);
  }
  note(c.worked, loop);
}

/** A ring that no sure way leads to: entered on its own, by a ramp along itself. */
function cutByRamp(c: Clearing, loop: Chain): void {
  goOver(c, loop[0]!.from);
  const end = spiralDown(c.trail, loop, c.work.z, c.operation.rampAngle);
  cutLoop(c, begunAt(loop, end));
}
