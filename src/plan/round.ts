import { faceExtent, faceFrame } from "../parts/faces.ts";
import type { Cavity, Workpiece } from "../parts/workpiece.ts";
import { differenceOf } from "../shapes/boolean.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { toSetup } from "../shapes/frame.ts";
import { outlineBetween } from "../shapes/turned-section.ts";
import { movedSolid, type TurnedSolid } from "../shapes/turned-solid.ts";
import { TOLERANCE } from "../tolerance.ts";
import type { Level } from "./operation.ts";
import type { Task } from "./task.ts";

/** Tasks of a turned blank's side, with its wood as it lies beneath that side: how far bits must reach hangs on it. */
export function roundTasks(workpiece: Workpiece, tasks: readonly Task[], nutRadius: number): readonly Task[] {
  const { round } = workpiece;
  if (round === undefined) return tasks;
  return tasks.map((task) => ({ ...task, round: { solid: beneath(workpiece, round, task.cavities[0]), nutRadius } }));
}

/** The solid in the coordinates of a cavity's face: the surface of the box at z = 0. */
function beneath(workpiece: Workpiece, round: TurnedSolid, c: Cavity): TurnedSolid {
  const { u } = faceExtent(workpiece.size, c.face);
  const at = toSetup(faceFrame(workpiece.size, c.face), { x: 0, y: round.axis.y, z: round.axis.z });
  const flip = at.x > u / 2;
  return movedSolid(round, { x: flip ? u : 0, flip, axis: { y: at.y, z: at.z } });
}

/**
 * Levels with the wood that each has to take: all that stands between it and the level above, also below the axis, where
 * the sides turn under. Where that is wood all over the section, nothing is said.
 */
export function followingWood(levels: readonly Level[], solid: TurnedSolid | undefined): readonly Level[] {
  if (solid === undefined) return levels;
  return levels.map((level, i) => {
    const above = levels[i - 1]?.z ?? Number.POSITIVE_INFINITY;
    const wood = outlineBetween(solid, level.z, above);
    const bare = differenceOf(
      flattenRegion(level.area, TOLERANCE.flattening),
      flattenRegion(wood, TOLERANCE.flattening),
    );
    return bare.length === 0 ? level : { ...level, wood };
  });
}
