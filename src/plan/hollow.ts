import type { Cavity } from "../parts/workpiece.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { endsOfHollow, type Hollow, tightestBend } from "../shapes/hollow.ts";
import { largestInscribed } from "../shapes/inscribed.ts";
import { type Nose, noseWay, type Ridges, type Stand, standsFor, wayInset } from "../shapes/nose-way.ts";
import { valleysOf } from "../shapes/valleys.ts";
import type { Cutter } from "../shop/cutter.ts";
import { TOLERANCE } from "../tolerance.ts";
import { evenLevels, HOLLOW_RIDGE } from "./levels.ts";
import type { Level } from "./operation.ts";

/** Room that the axis has beside the last ring of a level, mm: less is no ring. */
const LEAST_ROOM = 0.05;

/** How exactly the middle of a flat floor is wanted, mm: rings keep farther from it than this. */
const MIDDLE_WITHIN = 0.02;

/** The outline's middle as far as a dish's valleys are asked for: at the very middle every outline has one. */
const NEARLY = 0.98;

/** A cavity that is a hollow. Its section is its mouth. */
export type HollowCavity = Cavity & { readonly hollow: Hollow };

export function isHollowCavity(c: Cavity): c is HollowCavity {
  return c.hollow !== undefined;
}

/** The rounded end of a cutter that finishes hollows; undefined for other forms. */
export function noseOf(cutter: Cutter): Nose | undefined {
  const { form } = cutter;
  switch (form.kind) {
    case "round-nose":
      return { nose: cutter.diameter / 2, core: 0 };
    case "radiused-corner":
      return { nose: form.cornerRadius, core: cutter.diameter / 2 - form.cornerRadius };
    case "flat":
    case "v":
    case "drill":
    case "countersink":
      return undefined;
  }
}

/** How far inside its mouth the farthest point of a hollow lies, mm: a dish ends there; otherwise within `MIDDLE_WITHIN`. */
export function middleOf(c: HollowCavity): number {
  if (isDished(c.hollow)) return endsOfHollow(c.hollow).floor.x;
  return largestInscribed(flattenRegion(c.section, TOLERANCE.flattening), MIDDLE_WITHIN).radius;
}

/** True for a floor that still falls where the chain ends: dished. */
export function isDished(h: Hollow): boolean {
  const last = h.segments[h.segments.length - 1];
  // A foot's round ends level too, but it bends most tightly of all.
  return (
    last?.kind === "arc" && last.ccw && h.segments.length > 1 && tightestBend({ segments: [last] }) > tightestBend(h)
  );
}

/** Where a nose stands to finish a hollow, the ridges as high as stated; undefined when it does not get in. */
export function finishingStands(c: HollowCavity, nose: Nose, middle: number): readonly Stand[] | undefined {
  return standsFor(c.hollow, nose, middle, ridgesFor(c, middle));
}

/**
 * The ridges to aim at, mm. From the corners of a rectangle the rings' corners run down a valley √2 as far apart as the
 * rings themselves, and ridges grow with the square of the distance. On a level floor with corners or narrow places some
 * spot lies beside one ring only, up to a whole step from it, where between two rings it would be half a step.
 */
function ridgesFor(c: HollowCavity, middle: number): Ridges {
  if (valleysOf(c.section, NEARLY * middle) === "none") return { wall: HOLLOW_RIDGE, floor: HOLLOW_RIDGE };
  const { floor } = endsOfHollow(c.hollow);
  const smooth = !isDished(c.hollow) && valleysOf(c.section, Math.min(floor.x, middle)) === "none";
  return { wall: smooth ? HOLLOW_RIDGE : HOLLOW_RIDGE / 2, floor: HOLLOW_RIDGE / 4 };
}

/**
 * The levels of a hollow: roughing, evenly spaced, with `allowance` left on wall and floor; and the finishing rings from
 * the mouth down, each at a height of its own. Every level's area is the mouth, with the distance to keep inside it.
 * @param topZ where roughing begins, at the mouth's height or below it
 * @param mouthZ height of the mouth's plane
 * @param deepest largest step of roughing, mm
 */
export function hollowLevels(
  c: HollowCavity,
  cutter: Cutter,
  topZ: number,
  mouthZ: number,
  deepest: number,
  allowance: number,
): { readonly levels: readonly Level[]; readonly finishLevels: readonly Level[] } {
  const nose = noseOf(cutter);
  const middle = middleOf(c);
  const stands = nose && finishingStands(c, nose, middle);
  const way = nose && noseWay(c.hollow, nose.nose, middle - nose.core);
  if (nose === undefined || stands === undefined || way === undefined) {
    throw new Error(`"${cutter.name}" cannot finish a hollow: it should not have been chosen`);
  }
  const lowest = Math.min(topZ, mouthZ + endsOfHollow(c.hollow).floor.y + allowance);
  const levels = evenLevels(topZ, lowest, deepest)
    // What is left on the surface is a nose's way moved up and inwards.
    .map((z) => ({ z, keep: wayInset(way, z - mouthZ - allowance + nose.nose) + nose.core + allowance }))
    .filter(({ keep }) => keep < middle - LEAST_ROOM)
    .map(({ z, keep }) => ({ z, area: c.section, keep }));
  const finishLevels = stands.map((s) => ({ z: mouthZ + s.z, area: c.section, keep: s.inset }));
  return { levels, finishLevels };
}

/** True when a nose gets down to the floor of a hollow with room to go round there. */
export function reachesFloor(c: HollowCavity, nose: Nose, middle: number): boolean {
  const way = noseWay(c.hollow, nose.nose, middle - nose.core);
  if (way === undefined) return false;
  const { floor } = endsOfHollow(c.hollow);
  return isDished(c.hollow) || wayInset(way, floor.y + nose.nose + 1e-9) + nose.core < middle - LEAST_ROOM;
}
