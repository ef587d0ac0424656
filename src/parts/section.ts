import { differenceOf, intersectionOf, unionOf } from "../shapes/boolean.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { offsetRegion } from "../shapes/offset.ts";
import { rectangle } from "../shapes/outlines.ts";
import { areaOfPolygons, type Polygons } from "../shapes/polygons.ts";
import { pointAt } from "../shapes/segment.ts";
import { TOLERANCE } from "../tolerance.ts";
import { insetOf, isUpright } from "./lean.ts";
import type { Air, Slab, Target } from "./target.ts";

/** Slices of a sloped slab for its volume: Simpson's rule is exact while walls keep their number. */
const SLICES = 8;

/** Heights taken along each piece of a hollow's chain: even along an arc, so that its level end is not stepped over. */
const ALONG = 16;

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
  const lean = insetOf(a, z);
  return lean === 0 ? flattenRegion(a.section, TOLERANCE.flattening) : offsetRegion(a.section, -lean, TOLERANCE.offset);
}

/** Volume of the wood that a target leaves, mm³. Within the sections' micrometre of the exact value. */
export function volumeOfTarget(target: Target): number {
  let sum = 0;
  for (const slab of target.slabs) {
    const height = slab.zHigh - slab.zLow;
    const area = (z: number): number => areaOfPolygons(sectionOf(slab, z));
    if (slab.air.every(isUpright)) {
      sum += height * area(slab.zLow);
      continue;
    }
    const heights = heightsAlong(slab);
    if (heights.length > 0) {
      for (const [i, low] of heights.entries()) {
        const high = heights[i + 1] ?? low;
        sum += ((high - low) / 2) * (area(low) + area(high));
      }
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

/** Heights within a slab that follow the chains of its hollows, from the lowest up; none where there are no hollows. */
function heightsAlong(slab: Slab): readonly number[] {
  const found = slab.air.flatMap((a) =>
    (a.hollow?.segments ?? []).flatMap((s) =>
      Array.from({ length: ALONG + 1 }, (_, k) => a.zFrom + pointAt(s, k / ALONG).y),
    ),
  );
  if (found.length === 0) return [];
  const within = found.filter((z) => z > slab.zLow && z < slab.zHigh);
  return [slab.zLow, ...new Set(within), slab.zHigh].sort((a, b) => a - b);
}
