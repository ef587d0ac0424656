import { isUpright, type Lean, sameLean } from "../parts/lean.ts";
import type { Slab, Target } from "../parts/target.ts";
import type { Point } from "../shapes/point.ts";
import { containsPoint } from "../shapes/region.ts";
import type { Segment } from "../shapes/segment.ts";
import { indexSegments, nearestDistanceTo, type SegmentIndex } from "../shapes/segment-index.ts";

/**
 * The target made ready for questions of distance: each slab's walls in one index for each lean. Filled by `layersOf`,
 * read by `gouge`. mm, set-up coordinates.
 */
export interface Layer {
  readonly slab: Slab;
  readonly groups: readonly WallGroup[];
  readonly inside: (p: Point) => boolean;
}

/** Walls of one slab that come inwards alike. */
export interface WallGroup extends Lean {
  readonly index: SegmentIndex;
  /** Whether a place is within the mouth of a cavity whose walls these are. */
  readonly within: (p: Point) => boolean;
}

/** Makes a target's slabs ready, from the underside up. */
export function layersOf(target: Target): readonly Layer[] {
  const { min, max } = target.blank;
  const inBlank = (p: Point): boolean => p.x > min.x && p.x < max.x && p.y > min.y && p.y < max.y;
  return target.slabs.map((slab) => ({
    slab,
    groups: groupsOf(slab),
    // Leaning walls are counted as they stand at the top of their cavity: what they take lower down is in the distance.
    inside: (p) =>
      inBlank(p) && (slab.kept.some((k) => containsPoint(k, p)) || !slab.air.some((a) => containsPoint(a.section, p))),
  }));
}

/** Distance from a curve to the walls of a group as they stand at `zFrom`, mm; `cutoff` or more when none is nearer. */
export function distanceToWalls(group: WallGroup, curve: Segment, cutoff: number): number {
  return nearestDistanceTo(group.index, curve, cutoff);
}

function groupsOf(slab: Slab): readonly WallGroup[] {
  const groups: { readonly lean: Lean; readonly curves: Segment[] }[] = [];
  for (const w of slab.walls) {
    // Upright walls are the same at every height, wherever their cavity begins.
    const known = groups.find(({ lean }) => (isUpright(w) && isUpright(lean)) || sameLean(w, lean));
    if (known === undefined) groups.push({ lean: w, curves: [w.curve] });
    else known.curves.push(w.curve);
  }
  return groups.map(({ lean: { slopeTan, zFrom, hollow }, curves }) => ({
    slopeTan,
    zFrom,
    ...(hollow === undefined ? {} : { hollow }),
    index: indexSegments(curves),
    within: (p) =>
      slab.air.some((a) => sameLean(a, { slopeTan, zFrom, ...(hollow && { hollow }) }) && containsPoint(a.section, p)),
  }));
}
