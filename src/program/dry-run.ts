import type { Move } from "../paths/move.ts";
import type { WriteInput } from "./program-text.ts";

/** How far a dry run is lifted, mm: from the lowest tip height to the clearance above the highest wood or clamp. */
export function dryRunLift(input: WriteInput): number {
  const { setUp, toolpaths } = input;
  let lowest = setUp.safeZ;
  for (const path of toolpaths) for (const m of path.moves) lowest = Math.min(lowest, heightOf(m) ?? lowest);
  let highest = setUp.blank.max.z;
  for (const k of setUp.keepOuts) highest = Math.max(highest, k.box.max.z);
  // Whole millimetres, so that heights in the dry run are easily compared with the real ones.
  return Math.ceil(highest + setUp.habits.clearance - lowest);
}

function heightOf(m: Move): number | undefined {
  switch (m.kind) {
    case "rapid z":
      return m.z;
    case "line":
    case "arc":
      return m.to.z;
    case "rapid xy":
    case "dwell":
      return undefined;
  }
}

/** The same moves and safe height, all `lift` mm higher. */
export function lifted(input: WriteInput, lift: number): WriteInput {
  const toolpaths = input.toolpaths.map((path) => ({
    operation: path.operation,
    moves: path.moves.map((m) => liftedMove(m, lift)),
  }));
  return { ...input, toolpaths, setUp: { ...input.setUp, safeZ: input.setUp.safeZ + lift } };
}

function liftedMove(m: Move, lift: number): Move {
  switch (m.kind) {
    case "rapid z":
      return { ...m, z: m.z + lift };
    case "line":
    case "arc":
      return { ...m, to: { ...m.to, z: m.to.z + lift } };
    case "rapid xy":
    case "dwell":
      return m;
  }
}
