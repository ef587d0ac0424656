import { distanceToBoundary, type Region } from "../shapes/region.ts";
import { pointAt } from "../shapes/segment.ts";
import type { TurnedPiece } from "./turned-piece.ts";

/** Halves that differ by no more than this are one and the same, mm. Common practice, no source. */
export const ALIKE = 0.05;

/** Places looked at on each piece of an outline. */
const LOOKS = 4;

/**
 * Whether one half is the other turned about the axis, whatever the profile: so where nothing is cut into them, or finger
 * room closed all round lies on the middle line of each half's flat. Otherwise the split makes mirror images, which are
 * alike only where the pull is alike end for end.
 */
export function alikeAboutAxis(piece: TurnedPiece): boolean {
  const room = piece.fingerRoom;
  if (room === undefined) return true;
  return room.cut === "back" && room.opensOver === undefined && onMiddleLine(room.section);
}

/** A plan that is its own mirror image across the axis, within `ALIKE`. */
function onMiddleLine(section: Region): boolean {
  return section.loops.every((loop) =>
    loop.every((s) =>
      Array.from({ length: LOOKS }, (_, i) => pointAt(s, i / LOOKS)).every(
        (p) => distanceToBoundary(section, { x: p.x, y: -p.y }) <= ALIKE,
      ),
    ),
  );
}
