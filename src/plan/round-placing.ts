import type { Finding } from "../finding.ts";
import type { FaceName } from "../job/board.ts";
import type { Workpiece } from "../parts/workpiece.ts";
import { compose, type Frame, toSetup, turnedAboutZ } from "../shapes/frame.ts";
import { extentOfSolid, movedSolid, type TurnedSolid } from "../shapes/turned-solid.ts";
import { type Placing, placed } from "./placing.ts";
import type { SetUp, Zero } from "./setup.ts";

/** How a turned blank lies with one side up. */
export interface RoundPlacing {
  readonly placing: Placing;
  /** The wood in set-up coordinates. */
  readonly solid: TurnedSolid;
  readonly index: NonNullable<SetUp["index"]>;
  readonly zero: Pick<Zero, "across" | "z">;
}

/** The faces along a turned blank as index positions: degrees from the crown over the upper edge. */
export function indexOf(face: FaceName): SetUp["index"] {
  switch (face) {
    case "face":
      return 0;
    case "upper edge":
      return 90;
    case "back":
      return 180;
    case "lower edge":
      return 270;
    case "first end":
    case "second end":
      return undefined;
  }
}

/** True where square waste stands at both ends, as wide as the box: it gives zero across, zero up and down, and angle. */
export function hasSquareEnds({ round, size }: Workpiece): boolean {
  if (round === undefined) return false;
  const { from, to } = extentOfSolid(round);
  const full = round.squares.filter((s) => Math.abs(s.side - size.width) < 1e-6);
  return full.some((s) => Math.abs(s.from - from) < 1e-6) && full.some((s) => Math.abs(s.to - to) < 1e-6);
}

/**
 * Lays a side of a turned blank up, its axis along X and its first end at the left (or at the right, turned by 180).
 * Square ends give zero at a corner, as on a board. Without them Y is zero on the axis, midway between both flanks, and Z
 * on the axis at its known height above the waste board; a half has its trued flat at the top.
 * @param axisHeight of the axis above the waste board, mm, where the blank lies in cradles
 */
export function roundPlacing(
  workpiece: Workpiece,
  round: TurnedSolid,
  face: FaceName,
  axisHeight: number | undefined,
): RoundPlacing | Finding {
  const { size, wishes } = workpiece;
  const place = { part: workpiece.name, source: workpiece.source };
  const index = indexOf(face);
  if (index === undefined) {
    return {
      grade: "refuse",
      code: "plan-round-end-up",
      place,
      what: `a turned blank lies along the machine: "${workpiece.labels[face]}" cannot be up`,
      why: "its axis must lie level, along X",
      mend: "cut its ends by hand, or on the lathe",
    };
  }
  if (round.flatTop !== undefined && face !== "face") {
    return {
      grade: "refuse",
      code: "plan-round-end-up",
      place,
      what: `a half is cut from its trued flat: "${workpiece.labels[face]}" cannot be up`,
      why: "only its flat lies level and is known exactly",
      mend: "cut this before the blank is split, or into the flat",
    };
  }
  if (wishes.turned !== undefined && wishes.turned % 180 !== 0) {
    return {
      grade: "refuse",
      code: "plan-round-across",
      place,
      what: `a turned blank cannot lie turned by ${wishes.turned} degrees`,
      why: "its axis lies along X, so that levels and cradles follow its profile",
      mend: "turn it by 0 or 180 degrees, and keep it within the machine's travel in X",
    };
  }
  const square = hasSquareEnds(workpiece);
  const half = round.flatTop !== undefined;
  if (wishes.zeroZ === "top" && !square && !half) {
    return {
      grade: "refuse",
      code: "plan-zero-on-crown",
      place,
      what: "Z cannot be zero on the crown of a blank whose ends are round",
      why: "a touch on the crown tells neither where the axis lies nor how the blank is turned about it",
      mend: "leave zero to the planner (on the axis), or set Z on the waste board, or leave the ends square",
    };
  }
  // The first end stays at the left whichever side is up: the blank is only rolled about its axis.
  const rolled = face === "back" || face === "upper edge" ? 180 : 0;
  const z: Zero["z"] = wishes.zeroZ ?? (square || half ? "top" : "axis");
  const plain = placed(
    size,
    face,
    rolled + (wishes.turned ?? 0),
    wishes.zeroCorner ?? "left front",
    z === "waste board" ? z : "top",
  );
  const at = (frame: Frame) => toSetup(frame, { x: 0, y: round.axis.y, z: round.axis.z });
  const axis = at(plain.frame);
  const shift = {
    x: 0,
    y: square ? 0 : -axis.y,
    z: z === "axis" ? -axis.z : z === "waste board" && axisHeight !== undefined ? axisHeight - axis.z : 0,
  };
  const frame = compose(plain.frame, turnedAboutZ(0, shift));
  const { min, max } = plain.blank;
  const placing: Placing = {
    ...plain,
    frame,
    z,
    blank: {
      min: { x: min.x, y: min.y + shift.y, z: min.z + shift.z },
      max: { x: max.x, y: max.y + shift.y, z: max.z + shift.z },
    },
  };
  const origin = at(frame);
  const along = toSetup(frame, { x: 1, y: round.axis.y, z: round.axis.z });
  const solid = movedSolid(round, {
    x: origin.x,
    flip: along.x < origin.x,
    axis: { y: origin.y, z: origin.z },
  });
  return { placing, solid, index, zero: { z, ...(square ? {} : { across: "axis" as const }) } };
}
