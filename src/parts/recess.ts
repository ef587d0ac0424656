import type { Feature, MortiseFeature, PlanShape, RecessFeature } from "../job/job.ts";
import { endsOfHollow } from "../shapes/hollow.ts";
import { offsetRegion } from "../shapes/offset.ts";
import { slot } from "../shapes/outlines.ts";
import { afterwards, mapPoint, mapRegion, shiftBy, turnBy } from "../shapes/plan-map.ts";
import type { Point } from "../shapes/point.ts";
import { boundsOfRegion, type Region } from "../shapes/region.ts";
import { TOLERANCE } from "../tolerance.ts";
import { crossesItself } from "./crossing.ts";
import { faceExtent } from "./faces.ts";
import {
  cavityBase,
  DEFAULT_INSIDE_RADIUS,
  type Described,
  depthOf,
  type Ground,
  mmText,
  refusal,
  refused,
  SAME,
} from "./ground.ts";
import { hasSharpInside, sharpestInside } from "./inside-corner.ts";
import { atMouth } from "./lean.ts";
import { isFinding, placeOn } from "./place-of.ts";
import { reachOf, regionOfShape, shapeTrouble } from "./plan-shape.ts";
import { hollowOf, isHollow } from "./recess-hollow.ts";
import type { Cavity, Middle } from "./workpiece.ts";

/** The one cavity of a recess. */
export function describeRecess(ground: Ground, feature: Feature & RecessFeature): Described {
  const shaped = placedShape(ground, feature, feature.shape, feature.turnedDeg);
  if (isFinding(shaped)) return refused(shaped);
  const about = placeOn(ground.part, feature, feature.at, reachOf(shaped));
  if (isFinding(about)) return refused(about);
  const section = mapRegion(shiftBy(about.x, about.y), shaped);
  const off = offTheFace(ground, feature, section);
  if (off) return refused(off);
  const depth = depthOf(ground.part, feature, feature.depth);
  if (isFinding(depth)) return refused(depth);
  if (isHollow(feature)) return describeHollow(ground, feature, section, depth);
  const slopeTan = feature.wallLeanDeg === 0 ? 0 : Math.tan((feature.wallLeanDeg * Math.PI) / 180);
  const inset = depth.to * slopeTan;
  if (inset > 0 && offsetRegion(section, -inset, TOLERANCE.offset).length === 0) {
    return refused(
      refusal(ground, feature, "part-slope-eats-floor", ["wall", "depth"], {
        what: "the sloped walls meet before they reach the floor",
        why: `${mmText(depth.to)} deep at ${feature.wallLeanDeg}° from upright, each wall comes in by ${mmText(inset)}`,
        mend: "make the recess wider or shallower, or its walls steeper",
      }),
    );
  }
  return {
    findings: [],
    cavities: [
      {
        ...cavityBase(ground, feature),
        section,
        from: 0,
        to: depth.to,
        through: depth.through,
        slopeTan,
        insideRadius: insideRadiusFor(section, feature.insideRadius),
        shape: {
          kind: "recess",
          ...(slopeTan === 0 ? middleOf(feature.shape, feature.turnedDeg, about.x, about.y) : {}),
        },
      },
    ],
  };
}

/** A recess with a dished floor, a rounding at its floor or an eased edge. Its section is the mouth at the face. */
function describeHollow(
  ground: Ground,
  feature: Feature & RecessFeature,
  outline: Region,
  depth: { readonly to: number; readonly through: boolean },
): Described {
  if (depth.through) {
    return refused(
      refusal(ground, feature, "part-must-be-blind", ["depth"], {
        what: "a recess that goes through has no floor to dish or round, and its edge is eased from both faces",
        why: "its depth is through",
        mend: "give it a depth, or leave the floor, its radius and the edge away",
      }),
    );
  }
  const hollow = hollowOf(ground, feature, outline, depth.to);
  if (isFinding(hollow)) return refused(hollow);
  const to = -endsOfHollow(hollow).floor.y;
  const deepest = depthOf(ground.part, feature, { kind: "to", depth: to }, "floor");
  if (isFinding(deepest)) return refused(deepest);
  const cavity: Cavity = atMouth({
    ...cavityBase(ground, feature),
    section: outline,
    from: 0,
    to,
    through: false,
    slopeTan: 0,
    hollow,
    insideRadius: insideRadiusFor(outline, feature.insideRadius),
    shape: { kind: "recess" },
  });
  const off = offTheFace(ground, feature, cavity.section);
  return off ? refused(off) : { findings: [], cavities: [cavity] };
}

/** The one cavity of a mortise: a slot with round ends. */
export function describeMortise(ground: Ground, feature: Feature & MortiseFeature): Described {
  if (feature.length < feature.width - SAME) {
    return refused(
      refusal(ground, feature, "part-shape", ["length", "width"], {
        what: "the mortise is shorter than it is wide",
        why: `length ${mmText(feature.length)} over all, width ${mmText(feature.width)}`,
        mend: "exchange the two, or turn it by 90 degrees",
      }),
    );
  }
  const shape = slot({ x: 0, y: 0 }, Math.max(feature.length, feature.width), feature.width, feature.turnedDeg);
  const about = placeOn(ground.part, feature, feature.at, reachOf(shape));
  if (isFinding(about)) return refused(about);
  const section = mapRegion(shiftBy(about.x, about.y), shape);
  const off = offTheFace(ground, feature, section);
  if (off) return refused(off);
  const depth = depthOf(ground.part, feature, feature.depth);
  if (isFinding(depth)) return refused(depth);
  return {
    findings: [],
    cavities: [
      {
        ...cavityBase(ground, feature),
        section,
        from: 0,
        to: depth.to,
        through: depth.through,
        slopeTan: 0,
        insideRadius: feature.width / 2,
        shape: {
          kind: "mortise",
          ...middleOf({ ...feature, kind: "slot" }, feature.turnedDeg, about.x, about.y),
        },
      },
    ],
  };
}

/** The middle line of a slot or rectangle, along its longer side. */
function middleOf(shape: PlanShape, turnedDeg: number, x: number, y: number): { readonly middle?: Middle } {
  if (shape.kind !== "slot" && shape.kind !== "rounded rectangle") return {};
  const { length, width } = shape;
  const half = Math.max(length, width) / 2;
  const map = afterwards(turnBy(turnedDeg), shiftBy(x, y));
  const tip = (sign: 1 | -1): Point =>
    mapPoint(map, length >= width ? { x: sign * half, y: 0 } : { x: 0, y: sign * half });
  return { middle: { start: tip(-1), end: tip(1), width: Math.min(length, width) } };
}

/** A shape about its own centre, after the checks that hold for all shapes. */
export function placedShape(
  ground: Ground,
  feature: Feature,
  shape: PlanShape,
  turnedDeg: number,
): Region | ReturnType<typeof refusal> {
  const trouble = shapeTrouble(shape);
  if (trouble) {
    return refusal(ground, feature, "part-shape", [trouble.key, "shape"], {
      what: trouble.what,
      why: trouble.why,
      mend: "correct its sizes",
    });
  }
  const region = regionOfShape(shape, turnedDeg);
  if (shape.kind === "drawing") {
    const at = crossesItself(region);
    if (at) {
      return refusal(ground, feature, "part-drawing-crosses-itself", ["drawing", "shape"], {
        what: "the drawing's outline crosses itself",
        why: `near X ${mmText(at.x)}, Y ${mmText(at.y)} of the shape, in ${shape.file}: what is inside is not clear there`,
        mend: "redraw it so that its line nowhere crosses or touches itself",
      });
    }
  }
  return region;
}

/** A finding when a closed shape is not wholly within its face. */
export function offTheFace(ground: Ground, feature: Feature, section: Region): ReturnType<typeof refusal> | undefined {
  const box = boundsOfRegion(section);
  if (box === undefined) return undefined;
  const { u, v } = faceExtent(ground.part.size, feature.on);
  if (box.min.x > SAME && box.min.y > SAME && box.max.x < u - SAME && box.max.y < v - SAME) return undefined;
  const beyond = Math.max(-box.min.x, -box.min.y, box.max.x - u, box.max.y - v);
  return refusal(
    ground,
    feature,
    "part-off-the-board",
    ["centre at", "centres at", "near edge at", "far edge at", "length", "diameter"],
    {
      what: `the ${feature.kind} reaches to the border of the face or beyond it`,
      why: `by ${mmText(Math.max(0, beyond))}: it covers ${mmText(box.min.x)} to ${mmText(box.max.x)} by ${mmText(box.min.y)} to ${mmText(box.max.y)} on a face of ${mmText(u)} × ${mmText(v)}`,
      mend: "move it inwards or make it smaller; a step along a border is a rabbet",
    },
  );
}

/**
 * Largest inside-corner radius to accept. The user's own where given; otherwise the sharpest rounded corner of the shape
 * itself, so that what is drawn is what is cut, and where there are sharp corners at most 3.2 mm.
 */
export function insideRadiusFor(section: Region, given: number | undefined): number {
  if (given !== undefined) return given;
  const round = sharpestInside(section);
  return hasSharpInside(section) || !Number.isFinite(round) ? Math.min(round, DEFAULT_INSIDE_RADIUS) : round;
}
