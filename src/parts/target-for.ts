import { solidBoundary } from "../shapes/boundary.ts";
import { compose, type Frame, inverse } from "../shapes/frame.ts";
import { rectangle } from "../shapes/outlines.ts";
import { planOf } from "../shapes/plan-map.ts";
import type { Box, Box3, Point } from "../shapes/point.ts";
import { boundsOfRegion, type Region, regionSegments } from "../shapes/region.ts";
import { boundsOf, type Segment } from "../shapes/segment.ts";
import { mapCavity } from "./board.ts";
import { faceFrame } from "./faces.ts";
import { atMouth, isUpright, type Lean } from "./lean.ts";
import { solidAtTop } from "./solid.ts";
import type { Air, Slab, Target, TargetCavity, Wall } from "./target.ts";
import type { Cavity, Workpiece } from "./workpiece.ts";

/** Heights nearer than this are one height, mm. */
const SAME_HEIGHT = 1e-9;

/**
 * What the wood must look like after the given cavities are cut, in set-up coordinates: the blank less the cavities, split
 * into slabs at every height where something begins or ends. Walls are exact: curves cut where they meet and kept where
 * there is wood on exactly one side. The walls of a sloped cavity are found at its top; nothing else may cross them.
 * @param cavities all of one face, the one that is up
 * @param frame workpiece → set-up coordinates
 */
export function targetFor(workpiece: Workpiece, cavities: readonly Cavity[], frame: Frame, blank: Box3): Target {
  const placed = cavities.map((c) => placedCavity(workpiece, atMouth(c), frame, blank.max.z));
  const heights = [blank.min.z, blank.max.z];
  for (const c of placed) {
    heights.push(c.zFrom, c.zTo);
    for (const k of c.keeps) heights.push(k.zTop);
  }
  const steps = [...heights]
    .filter((z) => z >= blank.min.z - SAME_HEIGHT && z <= blank.max.z + SAME_HEIGHT)
    .sort((a, b) => a - b)
    .filter((z, i, all) => i === 0 || z - all[i - 1]! > SAME_HEIGHT);
  const slabs = steps.slice(1).map((zHigh, i) => slabOf(placed, steps[i]!, zHigh, blank));
  return { blank, slabs, cavities: placed };
}

/** A cavity in set-up coordinates. */
function placedCavity(workpiece: Workpiece, cavity: Cavity, frame: Frame, top: number): TargetCavity {
  const chain = compose(inverse(faceFrame(workpiece.size, cavity.face)), frame);
  const there = mapCavity(cavity, planOf(chain));
  const { shape } = there;
  return {
    cavity,
    section: there.section,
    zFrom: top - cavity.from,
    zTo: top - cavity.to,
    keeps: there.keeps.map((k) => ({ area: k.area, zTop: top - k.from })),
    ...(shape.kind === "outline" ? { profile: shape.profile } : {}),
    ...(shape.kind === "groove" ? { axis: [shape.start, shape.end] as const } : {}),
    ...(shape.kind === "hole" ? { axis: [shape.centre, shape.centre] as const } : {}),
  };
}

function slabOf(cavities: readonly TargetCavity[], zLow: number, zHigh: number, blank: Box3): Slab {
  const open = cavities.filter((c) => c.zFrom >= zHigh - SAME_HEIGHT && c.zTo <= zLow + SAME_HEIGHT);
  const air: Air[] = open.map((c) => ({
    section: c.section,
    box: boxOf(c.section),
    slopeTan: c.cavity.slopeTan,
    zFrom: c.zFrom,
    ...(c.cavity.hollow === undefined ? {} : { hollow: c.cavity.hollow }),
  }));
  const kept = open.flatMap((c) => c.keeps.filter((k) => k.zTop >= zHigh - SAME_HEIGHT).map((k) => k.area));
  const plan: Box = { min: { x: blank.min.x, y: blank.min.y }, max: { x: blank.max.x, y: blank.max.y } };
  const slab = { zLow, zHigh, blank: plan, air, kept };
  const solid = (p: Point): boolean => solidAtTop(slab, p);
  const straight: Segment[] = [
    ...regionSegments(rectangle(plan.min, plan.max)),
    ...air.filter(isUpright).flatMap((a) => regionSegments(a.section)),
    ...kept.flatMap(regionSegments),
  ];
  const walls: Wall[] = solidBoundary(straight, solid).map((curve) => wallOf(curve, { slopeTan: 0, zFrom: zHigh }));
  // Nothing crosses a sloped wall, so each is a boundary by itself and keeps its own slope.
  for (const a of air) {
    if (isUpright(a)) continue;
    for (const curve of solidBoundary(regionSegments(a.section), solid)) walls.push(wallOf(curve, a));
  }
  return { ...slab, walls };
}

function wallOf(curve: Segment, { slopeTan, zFrom, hollow }: Lean): Wall {
  return { curve, box: boundsOf(curve), slopeTan, zFrom, ...(hollow === undefined ? {} : { hollow }) };
}

function boxOf(region: Region): Box {
  return boundsOfRegion(region) ?? { min: { x: 0, y: 0 }, max: { x: 0, y: 0 } };
}
