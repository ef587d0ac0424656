import type { Outcome } from "../finding.ts";
import type { VGrooveOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { differenceOf } from "../shapes/boolean.ts";
import { offsetPasses, offsetPolygons } from "../shapes/offset.ts";
import type { Point } from "../shapes/point.ts";
import type { Polygons } from "../shapes/polygons.ts";
import { lengthOf, line } from "../shapes/segment.ts";
import { indexSegments, nearestDistance, type SegmentIndex } from "../shapes/segment-index.ts";
import { tourOf, USUAL_TRIES } from "../shapes/tour.ts";
import { begunAt, type Chain, nearestSpot } from "./chain.ts";
import { GUARD, WALL_WITHIN } from "./guard.ts";
import type { Move } from "./move.ts";
import { loopsOf } from "./passes.ts";
import { fitsNowhere } from "./problems.ts";
import { comeDown, endTrail, feedTo, follow, here, startTrail, type Trail } from "./trail.ts";
import { type Tip, waysAlongAxis } from "./v-ways.ts";

/** Passes over a floor lie this share of what leaves no ridge apart. */
const FLOOR_SHARE = 0.95;
/** How exactly passes over a floor are offset, mm: far within its ridges. */
const FLOOR_WITHIN = 0.003;
/** The V goes this far onto what another bit has cleared, mm. */
const BESIDE_CLEARED = 0.05;
/** A hop from ring to ring is looked at in this many places. */
const HOP_PLACES = 8;

/** What the tip follows: places at their own depths, or a level ring at the cap. */
type Way = { readonly kind: "axis"; readonly tips: readonly Tip[] } | { readonly kind: "ring"; readonly chain: Chain };

/**
 * A V-groove: along the medial axis as deep as the groove is wide, at the cap along the level line that the walls come
 * down to, and over the floor within it. A deep one goes down in steps, each as far as its level; the last goes all the
 * way at full depth, so that every wall is finished by one cut.
 */
export function vGroove(operation: VGrooveOperation, setUp: SetUp, from?: Point): Outcome<readonly Move[]> {
  const trail = startTrail(operation, setUp);
  const axis = waysAlongAxis(operation);
  const rings = ringsOfFloor(operation);
  if (axis.length === 0 && rings.length === 0) {
    trail.findings.push(fitsNowhere(operation, setUp, operation.edges[0]?.[0] ?? { x: 0, y: 0 }));
  }
  const ways: Way[] = [
    ...axis.map((tips): Way => ({ kind: "axis", tips })),
    ...rings.map((chain): Way => ({ kind: "ring", chain })),
  ];
  const edges = indexSegments(operation.edges.flatMap((r) => r.map((p, i) => line(p, r[(i + 1) % r.length]!))));
  for (const [i, z] of operation.levels.entries()) {
    const last = i === operation.levels.length - 1;
    const deepest = last ? Number.POSITIVE_INFINITY : operation.topZ - z;
    const now = last ? ways : ways.flatMap((w) => below(w, deepest));
    for (const way of inShortOrder(now, trail.tip ?? from)) cutWay(trail, operation, way, deepest, edges);
  }
  return endTrail(trail);
}

/** Where the walls come down to the cap, and passes over the floor within it, each wherever no ridge stays. */
function ringsOfFloor({ edges, bit, cap, floorRidge, cleared }: VGrooveOperation): readonly Chain[] {
  if (!Number.isFinite(cap)) return [];
  const inset = bit.tipFlat / 2 + cap * bit.tan;
  const whole = offsetPolygons(edges, -(inset + GUARD), WALL_WITHIN);
  const floor =
    cleared === undefined ? whole : differenceOf(whole, offsetPolygons(cleared, -BESIDE_CLEARED, FLOOR_WITHIN));
  const step = FLOOR_SHARE * (bit.tipFlat / 2 + floorRidge * bit.tan);
  const inner = floor.length === 0 ? [] : offsetPasses(floor, step, step, Math.min(FLOOR_WITHIN, step / 10));
  return [
    ...ringChains(floor, WALL_WITHIN),
    ...inner.flatMap((pass) => pass.components.flatMap((c) => ringChains(c, Math.min(FLOOR_WITHIN, step / 10)))),
  ];
}

function ringChains(area: Polygons, within: number): readonly Chain[] {
  return loopsOf(area, within).filter((chain) => chain.some((s) => lengthOf(s) > 0));
}

/** The stretches of a way that go deeper than a level. */
function below(way: Way, depth: number): Way[] {
  if (way.kind === "ring") return [way];
  const found: Way[] = [];
  let tips: Tip[] = [];
  const close = (): void => {
    if (tips.length > 1) found.push({ kind: "axis", tips });
    tips = [];
  };
  for (const [i, b] of way.tips.entries()) {
    const a = way.tips[i - 1];
    if (a !== undefined && (a.depth - depth) * (b.depth - depth) < 0) {
      const t = (depth - a.depth) / (b.depth - a.depth);
      tips.push({ x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y), depth });
    }
    if (b.depth >= depth) tips.push(b);
    else close();
  }
  close();
  return found;
}

/** The ways in an order, and each in a sense, that keeps the ways between them short. */
function inShortOrder(ways: readonly Way[], from: Point | undefined): Way[] {
  const stops = ways.map((w) => ({ from: startOf(w), to: endOf(w) }));
  const tries = Math.min(USUAL_TRIES, 2000 / Math.max(1, stops.length));
  const { turns } = tourOf(stops, { ...(from === undefined ? {} : { start: from }), tries });
  return turns.map(({ index, reversed }) => {
    const way = ways[index]!;
    return reversed && way.kind === "axis" ? { ...way, tips: [...way.tips].reverse() } : way;
  });
}

function startOf(way: Way): Point {
  return way.kind === "axis" ? way.tips[0]! : way.chain[0]!.from;
}

function endOf(way: Way): Point {
  return way.kind === "axis" ? way.tips[way.tips.length - 1]! : way.chain[way.chain.length - 1]!.to;
}

function cutWay(trail: Trail, operation: VGrooveOperation, way: Way, deepest: number, edges: SegmentIndex): void {
  const { topZ, cap, speeds } = operation;
  const zOf = (depth: number): number => topZ - Math.min(depth, deepest);
  switch (way.kind) {
    case "axis": {
      const [first, ...rest] = way.tips;
      if (first === undefined) return;
      const { tip } = trail;
      // From where the last one ended on, if that is here.
      if (tip === undefined || Math.hypot(tip.x - first.x, tip.y - first.y) > 1e-9 || tip.z > topZ) {
        comeDown(trail, first, topZ);
      }
      feedTo(trail, { x: first.x, y: first.y, z: zOf(first.depth) }, speeds.plunge, "entry");
      for (const t of rest) {
        const to = { x: t.x, y: t.y, z: zOf(t.depth) };
        feedTo(trail, to, feedTowards(trail, to, speeds), "finish");
      }
      return;
    }
    case "ring": {
      const z = zOf(cap);
      const tip = trail.tip;
      const near = tip === undefined ? 0 : nearestSpot(way.chain, tip).along;
      const ring = begunAt(way.chain, near);
      const begin = ring[0]!.from;
      if (tip !== undefined && tip.z === z && isFree(operation, edges, tip, begin)) {
        feedTo(trail, { ...begin, z }, speeds.slot, "link");
      } else {
        comeDown(trail, begin, topZ);
        feedTo(trail, { ...begin, z }, speeds.plunge, "entry");
      }
      follow(trail, ring, z, speeds.slot, "finish");
      return;
    }
  }
}

/** Whether a straight hop at the cap's depth keeps off the walls: looked at closely, for it is shorter than the tip is wide. */
function isFree({ bit, cap, floorRidge }: VGrooveOperation, edges: SegmentIndex, a: Point, b: Point): boolean {
  const inset = bit.tipFlat / 2 + cap * bit.tan;
  if (Math.hypot(b.x - a.x, b.y - a.y) > 3 * (bit.tipFlat / 2 + floorRidge * bit.tan)) return false;
  for (let k = 0; k <= HOP_PLACES; k++) {
    const t = k / HOP_PLACES;
    const p = { x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) };
    if (nearestDistance(edges, p) < inset) return false;
  }
  return true;
}

/** Buried full width all along; where it goes down steeply, no faster downwards than it may plunge. */
function feedTowards(
  trail: Trail,
  to: { readonly x: number; readonly y: number; readonly z: number },
  { slot, plunge }: VGrooveOperation["speeds"],
): number {
  const tip = here(trail);
  const length = Math.hypot(to.x - tip.x, to.y - tip.y, to.z - tip.z);
  const rise = Math.abs(to.z - tip.z);
  return rise * slot > plunge * length ? (plunge * length) / rise : slot;
}
