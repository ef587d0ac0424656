import type { ClearOperation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { intersectionOf } from "../shapes/boolean.ts";
import { fitArcs } from "../shapes/fit-arcs.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { type Box, distance, type Point } from "../shapes/point.ts";
import { type Polygons, pointInPolygons } from "../shapes/polygons.ts";
import { line, type Segment } from "../shapes/segment.ts";
import { indexSegments, nearestDistance } from "../shapes/segment-index.ts";
import { TOLERANCE } from "../tolerance.ts";
import { type Chain, isClosed } from "./chain.ts";
import type { Grounds } from "./grounds.ts";
import { GUARD, WALL_WITHIN } from "./guard.ts";
import { loopsOf } from "./passes.ts";

/** A border nearer than this to the blank's edge is the edge. mm */
const ON_EDGE = 0.002;

/**
 * The ways of the cutter's centre along the walls of an area that is partly open: closed where a wall goes all round,
 * open chains where it ends in the air. Ground on the left of travel. mm
 */
export function waysAlongWalls(grounds: Grounds, operation: ClearOperation, setUp: SetUp): Chain[] {
  if (!grounds.open) return loopsOf(grounds.finish, WALL_WITHIN);
  const walls = wallsOf(grounds.area, operation, setUp.blank);
  if (walls.length === 0) return [];
  const index = indexSegments(walls);
  const ends = freeEnds(walls);
  const reach = operation.cutter.diameter / 2 + GUARD + 2 * TOLERANCE.offset;
  const alongWall = (p: Point, q: Point): boolean => {
    const mid = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
    const away = nearestDistance(index, mid);
    // Round the free end of a wall there is nothing to cut.
    return away <= reach && !ends.some((e) => distance(e, mid) <= away + 1e-6);
  };
  return grounds.finish.flatMap((ring) => runsOf(ring, alongWall));
}

/** Edges of the area that are wood: not the blank's own edge, not in the open. */
function wallsOf(area: Polygons, operation: ClearOperation, blank: Box): Segment[] {
  const air = flattenRegion(operation.openAir, TOLERANCE.flattening);
  const box: Polygons = [
    [
      { x: blank.min.x, y: blank.min.y },
      { x: blank.max.x, y: blank.min.y },
      { x: blank.max.x, y: blank.max.y },
      { x: blank.min.x, y: blank.max.y },
    ],
  ];
  return intersectionOf(area, box).flatMap((ring) =>
    ring.flatMap((p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      const mid = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
      const inward = Math.min(mid.x - blank.min.x, blank.max.x - mid.x, mid.y - blank.min.y, blank.max.y - mid.y);
      return inward <= ON_EDGE || pointInPolygons(air, mid) ? [] : [line(p, q)];
    }),
  );
}

/** Ends of walls at which no other wall goes on. */
function freeEnds(walls: readonly Segment[]): Point[] {
  const seen = new Map<string, { readonly point: Point; times: number }>();
  for (const point of walls.flatMap((w) => [w.from, w.to])) {
    const key = `${point.x},${point.y}`;
    const there = seen.get(key);
    if (there === undefined) seen.set(key, { point, times: 1 });
    else there.times++;
  }
  return [...seen.values()].filter((e) => e.times === 1).map((e) => e.point);
}

function runsOf(ring: readonly Point[], belongs: (p: Point, q: Point) => boolean): Chain[] {
  const n = ring.length;
  const wall = ring.map((p, i) => belongs(p, ring[(i + 1) % n]!));
  if (wall.every((w) => w)) return loopsOf([ring], WALL_WITHIN);
  const runs: Chain[] = [];
  for (let i = 0; i < n; i++) {
    if (!wall[i] || wall[(i + n - 1) % n]) continue;
    const points = [ring[i]!];
    for (let k = i; wall[k % n]; k++) points.push(ring[(k + 1) % n]!);
    const run = fitArcs(points, WALL_WITHIN, false);
    if (run.length > 0) runs.push(run);
  }
  return runs;
}

/** True for a way that leaves the wood across the grain, where the edge may tear. */
export function exitsAcross(way: Chain, grainDeg: number | undefined): boolean {
  if (grainDeg === undefined || isClosed(way)) return false;
  const last = way[way.length - 1]!;
  const from = last.kind === "arc" ? last.centre : last.from;
  const dx = last.to.x - from.x;
  const dy = last.to.y - from.y;
  const [hx, hy] = last.kind === "arc" ? [-dy, dx] : [dx, dy];
  const grain = (grainDeg * Math.PI) / 180;
  return Math.abs(hx * Math.sin(grain) - hy * Math.cos(grain)) > Math.abs(hx * Math.cos(grain) + hy * Math.sin(grain));
}
