import { insetAt } from "../../shapes/hollow.ts";
import { radiiOver } from "../../shapes/meridian.ts";
import { boundsOfRegion } from "../../shapes/region.ts";
import type { TurnedSolid } from "../../shapes/turned-solid.ts";
import type { FingerRoom } from "../turned-piece.ts";
import type { WallLaw } from "./judge.ts";
import { mouthPlaneOf } from "./wall-map.ts";

/** The rib of wood that stays between the like rooms of two neighbouring pulls, before they are sawn apart. mm. */
export interface Rib {
  /** Its thickness where the lip's reach ends: below, it only gets thicker. */
  readonly thickness: number;
  /** At the highest wood beside it; ≤ 0 where the rooms run into each other. */
  readonly atTop: number;
  /** Middle of the rib along the axis. */
  readonly x: number;
}

/**
 * The thinnest rib between like rooms a shift along the axis apart; undefined for a single room. Two sections alike at one
 * height, shifted along X, lie the shift less their length apart: both reach farthest along X at the same place across.
 * The law: as thick as the least wall w where the distance from the mouth's edge is w / sin β. Between there and the edge
 * the wall's slope is even, so with anything left at the top it is thicker than the law asks all the way.
 * @param shifts of all rooms along x, from the described one, which is among them
 */
export function thinnestRib(
  solid: TurnedSolid,
  room: Pick<FingerRoom, "section" | "hollow" | "depth" | "cut">,
  shifts: readonly number[],
  law: WallLaw,
): Rib | undefined {
  const box = boundsOfRegion(room.section);
  if (box === undefined) return undefined;
  const sorted = [...shifts].sort((a, b) => a - b);
  const plane = mouthPlaneOf(solid, room);
  const length = box.max.x - box.min.x;
  const [wall] = room.hollow.segments;
  const tan =
    wall?.kind === "line" && wall.to.y < wall.from.y ? (wall.to.x - wall.from.x) / (wall.from.y - wall.to.y) : 0;
  /** Length of a room at a height above the axis, its wall carried on above the plane where it begins. */
  const lengthAt = (v: number): number =>
    v >= plane
      ? length + 2 * tan * (v - plane)
      : length - 2 * Math.max(0, insetAt(room.hollow, Math.max(v - plane, -room.depth)));
  let thinnest: Rib | undefined;
  for (const [i, next] of sorted.slice(1).entries()) {
    const before = sorted[i]!;
    const [from, to] = [box.max.x + before, box.min.x + next];
    const flat = solid.flatTop === undefined ? Number.POSITIVE_INFINITY : solid.flatTop - solid.axis.z;
    const wood = radiiOver(solid.meridian, Math.min(from, to), Math.max(from, to))?.most ?? 0;
    const top = Math.min(flat, wood);
    const apart = next - before;
    const deep = top - law.leastWall / Math.sin((law.lipAngleDeg * Math.PI) / 180);
    const rib = { thickness: apart - lengthAt(deep), atTop: apart - lengthAt(top), x: (from + to) / 2 };
    if (thinnest === undefined || rib.thickness < thinnest.thickness) thinnest = rib;
  }
  return thinnest;
}
