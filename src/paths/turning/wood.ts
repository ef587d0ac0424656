import { contactOver, leftUnder } from "../../plan/turning-contact.ts";
import { clipped, type Envelope, linePiece, lower, piecesOf, upperEnvelope } from "../../plan/turning-envelope.ts";
import { extentOfMeridian, type Meridian } from "../../shapes/meridian.ts";
import type { TurningShape } from "../../shop/turning-profile.ts";

/** How far the wood's outline goes on beyond its ends, at the axis, mm: farther than any tool is wide. */
const BEYOND = 300;

/** The blank as mounted, as an outline over the axis. */
export function woodBefore(start: Meridian): Envelope {
  const { from, to } = extentOfMeridian(start);
  const ground = linePiece(from - BEYOND, 0, to + BEYOND, 0)!;
  return upperEnvelope([ground, ...piecesOf(start.segments)]);
}

/** Lowest radius of the tool's reference point that is clear of the wood. */
export function clearOf(wood: Envelope, shape: TurningShape): Envelope {
  return contactOver(wood, shape);
}

/** The wood once a tool has stood wherever it may and wood was in its way. @param stands where it may stand */
export function woodAfter(wood: Envelope, stands: Envelope, shape: TurningShape): Envelope {
  return within(wood, lower(wood, leftUnder(stands, shape)));
}

/** The wood once a tool has gone straight in at z down to a radius of its reference point. */
export function woodAfterPlunge(wood: Envelope, shape: TurningShape, z: number, radius: number): Envelope {
  const spot = linePiece(z - 1e-7, radius, z + 1e-7, radius)!;
  return within(wood, lower(wood, leftUnder([spot], shape)));
}

/** Beyond where the tool may stand its reach says nothing: the outline keeps its own ends. */
function within(wood: Envelope, cut: Envelope): Envelope {
  return clipped(cut, wood[0]!.from, wood[wood.length - 1]!.to);
}
