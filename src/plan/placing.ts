import type { FaceName, Size } from "../job/board.ts";
import type { SetUpWishes } from "../job/wishes.ts";
import { mapCavity } from "../parts/board.ts";
import { FACES, faceExtent, faceFrame, normalOf } from "../parts/faces.ts";
import type { Cavity } from "../parts/workpiece.ts";
import { compose, type Frame, inverse, toPart, toSetup, turnedAboutZ } from "../shapes/frame.ts";
import { planOf } from "../shapes/plan-map.ts";
import type { Box3 } from "../shapes/point.ts";
import type { Zero } from "./setup.ts";

/** How one face lies up on the machine. */
export interface Placing {
  readonly face: FaceName;
  /** Counter-clockwise on the bed, 0, 90, 180 or 270. */
  readonly turned: number;
  readonly frame: Frame;
  readonly blank: Box3;
  readonly corner: Zero["corner"];
  readonly z: Zero["z"];
}

/**
 * Lays a face up: turned on the bed, zero at a corner of the blank and at its top or on the waste board.
 * @param turned degrees, a multiple of 90
 */
export function placed(size: Size, face: FaceName, turned: number, corner: Zero["corner"], z: Zero["z"]): Placing {
  const { u, v, deep } = faceExtent(size, face);
  const quarter = ((turned % 360) + 360) % 360;
  const sideways = quarter === 90 || quarter === 270;
  const [x, y] = sideways ? [v, u] : [u, v];
  // Where the face's own lower left corner lands when the turned face's is brought to zero.
  const home = { 0: [0, 0], 90: [v, 0], 180: [u, v], 270: [0, u] }[quarter as 0 | 90 | 180 | 270] as [number, number];
  const zeroX = corner === "left front" || corner === "left back" ? 0 : x;
  const zeroY = corner === "left front" || corner === "right front" ? 0 : y;
  const top = z === "top" ? 0 : deep;
  const frame = compose(
    faceFrame(size, face),
    turnedAboutZ(quarter, { x: home[0] - zeroX, y: home[1] - zeroY, z: top }),
  );
  return {
    face,
    turned: quarter,
    frame,
    blank: {
      min: { x: 0 - zeroX, y: 0 - zeroY, z: top - deep },
      max: { x: x - zeroX, y: y - zeroY, z: top },
    },
    corner,
    z,
  };
}

/** A cavity of the face that is up, in set-up coordinates. */
export function inSetUp(size: Size, cavity: Cavity, frame: Frame): Cavity {
  return mapCavity(cavity, planOf(compose(inverse(faceFrame(size, cavity.face)), frame)));
}

/** The face of the wood that looks to a side of the machine. */
export function faceTowards(frame: Frame, side: "left" | "right" | "front" | "back"): FaceName {
  const want = { left: [-1, 0], right: [1, 0], front: [0, -1], back: [0, 1] }[side] as [number, number];
  const found = FACES.find((face) => {
    const n = normalOf(face);
    const from = toSetup(frame, { x: 0, y: 0, z: 0 });
    const to = toSetup(frame, { x: n[0], y: n[1], z: n[2] });
    return Math.round(to.x - from.x) === want[0] && Math.round(to.y - from.y) === want[1];
  });
  if (found === undefined) throw new Error("a set-up is turned by quarters, so each side has a face");
  return found;
}

/** Grain's direction in a set-up, degrees from X, or undefined where it stands upright or there is none. */
export function grainDegIn(frame: Frame, grain: "along length" | "along width" | "none"): number | undefined {
  if (grain === "none") return undefined;
  const along = grain === "along length" ? { x: 1, y: 0, z: 0 } : { x: 0, y: 1, z: 0 };
  const from = toSetup(frame, { x: 0, y: 0, z: 0 });
  const to = toSetup(frame, along);
  const dx = Math.round(to.x - from.x);
  const dy = Math.round(to.y - from.y);
  if (dx === 0 && dy === 0) return undefined;
  return dx !== 0 ? 0 : 90;
}

/** The corner of a new placing that lies over the same spot of the wood as another placing's zero. */
export function sameCorner(size: Size, before: Placing, face: FaceName, turned: number, z: Zero["z"]): Zero["corner"] {
  const corners: readonly Zero["corner"][] = ["left front", "right front", "left back", "right back"];
  const spot = toPart(before.frame, { x: 0, y: 0, z: 0 });
  const found = corners.find((corner) => {
    const there = toSetup(placed(size, face, turned, corner, z).frame, { x: spot.x, y: spot.y, z: 0 });
    return Math.abs(there.x) < 1e-6 && Math.abs(there.y) < 1e-6;
  });
  return found ?? "left front";
}

/**
 * How the second of face and back lies after the first, from how the wood is turned over: end for end keeps both edges on
 * their sides of the machine, side for side both ends.
 */
export function turnedAfter(before: Placing, how: NonNullable<SetUpWishes["turnOver"]>): number {
  return how === "end for end" ? before.turned : (before.turned + 180) % 360;
}
