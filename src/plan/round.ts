import { faceExtent, faceFrame } from "../parts/faces.ts";
import type { Cavity, Workpiece } from "../parts/workpiece.ts";
import { componentsOf, differenceOf, intersectionOf } from "../shapes/boolean.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { toSetup } from "../shapes/frame.ts";
import { offsetPolygons } from "../shapes/offset.ts";
import type { Box3 } from "../shapes/point.ts";
import { areaOfPolygons } from "../shapes/polygons.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { outlineBetween } from "../shapes/turned-section.ts";
import { movedSolid, type TurnedSolid } from "../shapes/turned-solid.ts";
import { TOLERANCE } from "../tolerance.ts";
import type { Level } from "./operation.ts";
import type { Task } from "./task.ts";

/** Tasks of a turned blank's side, with its wood as it lies beneath that side: how far bits must reach hangs on it. */
export function roundTasks(workpiece: Workpiece, tasks: readonly Task[], nutRadius: number): readonly Task[] {
  const { round } = workpiece;
  if (round === undefined) return tasks;
  return tasks.map((task) => ({ ...task, round: { ...beneath(workpiece, round, task.cavities[0]), nutRadius } }));
}

/** The solid and its first end in the coordinates of a cavity's face: the surface of the box at z = 0. */
function beneath(
  workpiece: Workpiece,
  round: TurnedSolid,
  c: Cavity,
): { readonly solid: TurnedSolid; readonly firstEnd: number } {
  const { u } = faceExtent(workpiece.size, c.face);
  const at = toSetup(faceFrame(workpiece.size, c.face), { x: 0, y: round.axis.y, z: round.axis.z });
  const flip = at.x > u / 2;
  const firstEnd = flip ? u : 0;
  return { solid: movedSolid(round, { x: firstEnd, flip, axis: { y: at.y, z: at.z } }), firstEnd };
}

/** Time to lift, run over to another place and go down again, s: an order of magnitude, from the time of finished programs. */
const TRIP = 2;

/** How fast a bit clears: sideways step, mm, and feed, mm/min. */
export interface Clearing {
  readonly step: number;
  readonly feed: number;
}

/**
 * Levels with the wood that each has to take: all that stands between it and the level above, also below the axis, where
 * the sides turn under. Where that is wood all over the section, nothing is said. Passes keep to the wood where that
 * spares more time (area not gone over ÷ (step × feed)) than the trips between its places take.
 */
export function followingWood(
  levels: readonly Level[],
  solid: TurnedSolid | undefined,
  { step, feed }: Clearing,
): readonly Level[] {
  if (solid === undefined) return levels;
  return levels.map((level, i) => {
    const above = levels[i - 1]?.z ?? Number.POSITIVE_INFINITY;
    const wood = outlineBetween(solid, level.z, above);
    const area = flattenRegion(level.area, TOLERANCE.flattening);
    const outline = flattenRegion(wood, TOLERANCE.flattening);
    const bare = differenceOf(area, outline);
    if (bare.length === 0) return level;
    const places = componentsOf(intersectionOf(area, outline)).length;
    // Passes run over the wood's edge by about a step.
    const spared = areaOfPolygons(differenceOf(area, offsetPolygons(outline, step, 0.01)));
    const sparing = (60 * spared) / (step * feed) > TRIP * places;
    return { ...level, wood, ...(sparing ? { sparing } : {}) };
  });
}

/** How far a widened box reaches beyond the cuts in it, mm. */
const BEYOND = 5;

/**
 * The box that a turned blank's target is cut out of. It is only an envelope, so where a recess runs out over the blank's
 * side on purpose the box is widened around it: every recess then has its outline all round, and is cut along it.
 */
export function roundBox(blank: Box3, cavities: readonly Cavity[]): Box3 {
  const boxes = cavities.flatMap((c) => (c.opensOver === undefined ? [] : (boundsOfRegion(c.section) ?? [])));
  return {
    min: {
      x: Math.min(blank.min.x, ...boxes.map((b) => b.min.x - BEYOND)),
      y: Math.min(blank.min.y, ...boxes.map((b) => b.min.y - BEYOND)),
      z: blank.min.z,
    },
    max: {
      x: Math.max(blank.max.x, ...boxes.map((b) => b.max.x + BEYOND)),
      y: Math.max(blank.max.y, ...boxes.map((b) => b.max.y + BEYOND)),
      z: blank.max.z,
    },
  };
}
