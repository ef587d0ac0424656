import type { ClearOperation, Level } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import { componentsOf, differenceOf, intersectionOf, unionOf } from "../shapes/boolean.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { offsetPolygons } from "../shapes/offset.ts";
import type { Box } from "../shapes/point.ts";
import { type Polygons, simplifyRing } from "../shapes/polygons.ts";
import { boundsOfRegion, type Region } from "../shapes/region.ts";
import { TOLERANCE } from "../tolerance.ts";
import { BESIDE } from "./air.ts";
import { GUARD, WALL_WITHIN } from "./guard.ts";
import { extentOf } from "./inside.ts";

/** Share of the cutter's radius by which clearing passes run over an open edge. */
const OVERRUN = 0.1;

/** Where the cutter's centre may go in one area, as polygons. mm */
export interface Grounds {
  /** The area itself. */
  readonly area: Polygons;
  /** Up to the finished wall. */
  readonly finish: Polygons;
  /** Up to the wood that is left on the wall for finishing. */
  readonly rough: Polygons;
  /** The share of `rough` that this level has to cut: all of it, or near the wood where that is not everywhere. */
  readonly cut: Polygons;
  /** As `rough`, and out into the air as far as it is open. The same as `rough` for an area with walls all round. */
  readonly free: Polygons;
  /** Places beside the wood where the cutter may go down through air: off the blank, or where a round one has no wood. */
  readonly beside: Polygons;
  /** How exactly `rough` keeps its distance from the wall, mm. */
  readonly roughWithin: number;
  /** True when a part of the boundary is open to the air. */
  readonly open: boolean;
}

/** Grounds of one level. */
export function groundsOf(level: Level, operation: ClearOperation, setUp: SetUp): Grounds {
  const all = wholeGrounds(level, operation, setUp);
  return level.wood === undefined
    ? all
    : nearWood(all, level.wood, operation.cutter.diameter / 2, level.sparing === true);
}

/**
 * Grounds where wood stands in a part of the area only: the cutter goes down beside it, and where that spares time passes
 * keep to it and run over its edge a little. What is left out is air already, so the rest of the ground is as clear as what is cut.
 */
function nearWood(all: Grounds, wood: Region, radius: number, sparing: boolean): Grounds {
  const stands = intersectionOf(flatten(wood), offsetPolygons(all.area, radius, TOLERANCE.offset));
  const off = offsetPolygons(stands, radius + BESIDE, TOLERANCE.offset);
  const beside = off.length === 0 ? all.free : differenceOf(all.free, off);
  return {
    ...all,
    cut: sparing ? runningOver(all.rough, intersectionOf(stands, all.area), radius) : all.rough,
    // A sliver of a place is no place to go down in.
    beside: [
      ...all.beside,
      ...componentsOf(beside)
        .filter((c) => extentOf(c) > radius)
        .flat(),
    ],
  };
}

/** The ground within reach of some wood: over its edge by a little, or right out where that would leave a corner. */
function runningOver(ground: Polygons, wood: Polygons, radius: number): Polygons {
  if (wood.length === 0) return [];
  const near = (by: number): Polygons => offsetPolygons(wood, by, TOLERANCE.offset);
  const close = intersectionOf(ground, near(OVERRUN * radius));
  const reached = intersectionOf(offsetPolygons(ground, radius, TOLERANCE.offset), wood);
  const left = differenceOf(reached, offsetPolygons(close, radius, TOLERANCE.offset));
  return offsetPolygons(left, -0.005, TOLERANCE.offset).length > 0 ? intersectionOf(ground, near(radius)) : close;
}

function wholeGrounds(level: Level, operation: ClearOperation, setUp: SetUp): Grounds {
  const radius = operation.cutter.diameter / 2;
  const wall = operation.allowance.wall;
  const area = flatten(level.area);
  const keep = level.keep ?? radius;
  const inset = (polygons: Polygons): Polygons => offsetPolygons(polygons, -(keep + GUARD), WALL_WITHIN);
  if (!isOpen(level.area, operation.openAir, setUp.round === undefined ? setUp.blank : setUp.target.blank)) {
    const finish = inset(area);
    const { rough, within } = roughIn(finish, wall);
    return { area, finish, rough, cut: rough, free: rough, beside: [], open: false, roughWithin: within };
  }
  const blank = boxRing(setUp.blank);
  const wood = intersectionOf(area, blank);
  const allowed = clearOfClamps(unionOf(area, flatten(operation.openAir)), setUp, level.z);
  const freeFinish = inset(allowed);
  const { rough: free, within } = roughIn(freeFinish, wall);
  const near = (overrun: number): Polygons => offsetPolygons(wood, overrun, TOLERANCE.offset);
  // Where a wall meets an open edge at a slant, a small overrun may leave a corner: then run right out.
  const rough = runningOver(free, wood, radius);
  const off = offsetPolygons([blank[0]!], radius + BESIDE, TOLERANCE.offset);
  return {
    area,
    finish: intersectionOf(freeFinish, near(radius + 1)),
    rough,
    cut: rough,
    free,
    beside: level.z >= setUp.blank.min.z ? differenceOf(free, off) : [],
    open: true,
    roughWithin: within,
  };
}

function flatten(region: Region): Polygons {
  return flattenRegion(region, WALL_WITHIN / 2);
}

/** True when the area reaches over the blank's edge, or air is said to lie beside it. */
function isOpen(area: Region, openAir: Region, blank: Box): boolean {
  if (openAir.loops.length > 0) return true;
  const box = boundsOfRegion(area);
  if (box === undefined) return false;
  const { min, max } = blank;
  return box.min.x < min.x || box.min.y < min.y || box.max.x > max.x || box.max.y > max.y;
}

/** An area less what clamps, screw heads and jaws take of it at this height. */
function clearOfClamps(area: Polygons, setUp: SetUp, z: number): Polygons {
  const blocks = setUp.keepOuts.filter((k) => k.box.max.z > z).map((k) => boxRing(grown(k.box, BESIDE)));
  return blocks.length === 0 ? area : differenceOf(area, unionOf(...blocks));
}

function grown({ min, max }: Box, by: number): Box {
  return { min: { x: min.x - by, y: min.y - by }, max: { x: max.x + by, y: max.y + by } };
}

function boxRing({ min, max }: Box): Polygons {
  return [
    [
      { x: min.x, y: min.y },
      { x: max.x, y: min.y },
      { x: max.x, y: max.y },
      { x: min.x, y: max.y },
    ],
  ];
}

/** Wood that is finished afterwards may be left unevenly: by a twentieth, for a quarter of the points. mm */
function roughTolerance(wall: number): number {
  return Math.max(TOLERANCE.offset, Math.min(0.01, wall / 20));
}

/**
 * The roughing ground within the finished one: further in by the allowance, but for those necks and dead ends that the
 * allowance alone would close. There the cutter has to go right up to the wall, or the finish pass would meet solid
 * wood. Convex corners lose a little to any inset; those crumbs are the finish pass's own work.
 */
function roughIn(finish: Polygons, wall: number): { readonly rough: Polygons; readonly within: number } {
  const exact = WALL_WITHIN;
  if (wall <= 0) return { rough: finish, within: exact };
  const within = roughTolerance(wall);
  const outline = finish.map((ring) => simplifyRing(ring, within / 2));
  const rough = offsetPolygons(outline, -wall, within);
  const missed = differenceOf(outline, offsetPolygons(rough, wall * 1.05 + 2 * within, within));
  if (missed.length === 0) return { rough, within };
  const necks = componentsOf(missed).filter((shape) => extentOf(shape) > 4 * wall);
  if (necks.length === 0) return { rough, within };
  const joined = offsetPolygons(unionOf(...necks), wall * 1.2 + 4 * within, TOLERANCE.offset);
  // In a neck the passes are the finished wall.
  return { rough: unionOf(rough, intersectionOf(joined, finish)), within: exact };
}
