import { fitRegion } from "../shapes/fit-arcs.ts";
import { offsetRegion } from "../shapes/offset.ts";
import type { Region } from "../shapes/region.ts";
import { arc, line, type Segment, tangentAt } from "../shapes/segment.ts";
import { TOLERANCE } from "../tolerance.ts";
import { rollsAround } from "./reach.ts";

/** Height of the ridges that level passes leave on a sloped wall, mm, square to it. Stated on the sheet. */
export const CUSP = 0.05;

/** Height of the ridges that the passes of a V leave on the floor of a V-groove, mm. Stated on the sheet. */
export const V_FLOOR_RIDGE = 0.02;

/** Height of the ridges that the passes of a rounded nose leave in a hollow, mm, square to it. Stated on the sheet. */
export const HOLLOW_RIDGE = 0.02;

/**
 * Heights to cut at from the top down to the floor, evenly spaced.
 * @param deepest largest step, mm, > 0
 * @returns at least one height, the last the floor's bit for bit
 */
export function evenLevels(topZ: number, floorZ: number, deepest: number): readonly number[] {
  const depth = topZ - floorZ;
  const count = Math.max(1, Math.ceil(depth / deepest - 1e-9));
  return Array.from({ length: count }, (_, i) => (i === count - 1 ? floorZ : topZ - (depth * (i + 1)) / count));
}

/**
 * Step between finishing passes down a sloped wall, mm: a step Δz of a flat cutter leaves a ridge Δz·sin(lean) high.
 * Infinity for an upright wall.
 */
export function slopeStep(slopeTan: number, cusp: number): number {
  return slopeTan === 0 ? Number.POSITIVE_INFINITY : cusp / Math.sin(Math.atan(slopeTan));
}

/**
 * A section further down a sloped wall: all that lies at least `inset` mm inside it. Exact where the section bulges
 * everywhere with bends wider than the inset: lines shift and arcs keep their centres; otherwise within the kernel's
 * tolerance.
 */
export function insetBy(section: Region, inset: number): Region {
  if (!(inset > 0)) return section;
  if (rollsAround(section, inset + 0.001) && deeperThan(section, inset)) return parallelInside(section, inset);
  return fitRegion(offsetRegion(section, -inset, TOLERANCE.offset), TOLERANCE.arcFit);
}

/** True when a bulging section is still there at this depth: a slot narrows to nothing between its straight sides. */
function deeperThan(section: Region, inset: number): boolean {
  return offsetRegion(section, -(inset + 0.01), 0.01).length > 0;
}

function parallelInside(section: Region, inset: number): Region {
  return {
    loops: section.loops.map((loop) => {
      // Joints are smooth, so both neighbours have the same normal there; taken once, they meet bit for bit.
      const joints = loop.map((s) => {
        const along = tangentAt(s, 0);
        return { x: s.from.x - along.y * inset, y: s.from.y + along.x * inset };
      });
      return loop.map((s, i): Segment => {
        const from = joints[i]!;
        const to = joints[(i + 1) % joints.length]!;
        return s.kind === "line" ? line(from, to) : arc(from, to, s.centre, s.ccw);
      });
    }),
  };
}
