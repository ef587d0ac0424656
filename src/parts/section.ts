import { differenceOf, intersectionOf, unionOf } from "../shapes/boolean.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { offsetRegion } from "../shapes/offset.ts";
import { rectangle } from "../shapes/outlines.ts";
import { areaOfPolygons, type Polygons } from "../shapes/polygons.ts";
import { TOLERANCE } from "../tolerance.ts";
import type { Air, Slab, Target } from "./target.ts";

/** Slices of a sloped slab for its volume: Simpson's rule is exact while walls keep their number. */
const SLICES = 8;

/** The wood of a target at a height, as polygons within 1 µm; empty above and below it. At a slab's border, the upper one. */
export function sectionAt(target: Target, z: number): Polygons {
  const slab = target.slabs.find((s) => z >= s.zLow && z < s.zHigh) ?? target.slabs.find((s) => z === s.zHigh);
  return slab ? sectionOf(slab, z) : [];
}

function sectionOf(slab: Slab, z: number): Polygons {
  const blank = flattenRegion(rectangle(slab.blank.min, slab.blank.max), TOLERANCE.flattening);
  if (slab.air.length === 0) return blank;
  const air = unionOf(...slab.air.map((a) => airAt(a, z)));
  const wood = differenceOf(blank, air);
  if (slab.kept.length === 0) return wood;
  const kept = unionOf(...slab.kept.map((k) => flattenRegion(k, TOLERANCE.flattening)));
  return unionOf(wood, intersectionOf(blank, kept));
}

/** A cavity's share of a slab at a height: its outline, inset by its wall's lean. */
export function airAt(a: Air, z: number): Polygons {
  const lean = Math.max(0, (a.zFrom - z) * a.slopeTan);
  return lean === 0 ? flattenRegion(a.section, TOLERANCE.flattening) : offsetRegion(a.section, -lean, TOLERANCE.offset);
}

/** Volume of the wood that a target leaves, mm³. Within the sections' micrometre of the exact value. */
export function volumeOfTarget(target: Target): number {
  let sum = 0;
  for (const slab of target.slabs) {
    const height = slab.zHigh - slab.zLow;
    const area = (z: number): number => areaOfPolygons(sectionOf(slab, z));
    if (slab.air.every((a) => a.slopeTan === 0)) {
      sum += height * area(slab.zLow);
      continue;
    }
    const step = height / SLICES;
    for (let k = 0; k <= SLICES; k++) {
      const weight = k === 0 || k === SLICES ? 1 : k % 2 === 1 ? 4 : 2;
      sum += ((weight * step) / 3) * area(slab.zLow + k * step);
    }
  }
  return sum;
}
