import { differenceOf } from "./boolean.ts";
import { flattenRegion } from "./flatten.ts";
import { offsetPolygons } from "./offset.ts";
import type { Region } from "./region.ts";
import { lengthOf, sweepRad, tangentAt } from "./segment.ts";

/**
 * Where a hollow's sides meet in a valley, because a level line of its outline has a corner there: nowhere; at right
 * angles only, from the corners of a rectangle; or elsewhere, and perhaps more sharply.
 */
export type Valleys = "none" | "right angles" | "sharp";

/** What the kernel's rounding may take or leave, mm. */
const HAIR = 0.004;

/** Turns nearer than this to a right angle are one, radians. */
const RIGHT_WITHIN = 1e-6;

/**
 * Tells what valleys a hollow about this outline has down to the level line `depth` inside it. There is none exactly where a
 * disc of that radius, rolled round inside the outline, touches all of it.
 * @param depth mm, > 0
 */
export function valleysOf(outline: Region, depth: number): Valleys {
  const whole = flattenRegion(outline, HAIR / 4);
  const inner = offsetPolygons(whole, -(depth - HAIR), HAIR / 4);
  if (inner.length > 0) {
    const rolled = offsetPolygons(inner, depth, HAIR / 4);
    if (differenceOf(whole, rolled).length === 0) return "none";
  }
  return isRectangle(outline) ? "right angles" : "sharp";
}

/** True for a rectangle, its corners rounded or not. */
function isRectangle({ loops }: Region): boolean {
  const loop = loops[0];
  if (loop === undefined || loops.length !== 1) return false;
  const sides = loop.filter((s) => s.kind === "line" && lengthOf(s) > 0);
  const rounds = loop.filter((s) => s.kind === "arc");
  if (sides.length !== 4 || rounds.length > 4) return false;
  if (!rounds.every((s) => s.kind === "arc" && Math.abs(sweepRad(s) - Math.PI / 2) < RIGHT_WITHIN)) return false;
  return sides.every((s, i) => {
    const a = tangentAt(s, 0);
    const b = tangentAt(sides[(i + 1) % 4]!, 0);
    return Math.abs(a.x * b.x + a.y * b.y) < RIGHT_WITHIN && a.x * b.y - a.y * b.x > 0;
  });
}
