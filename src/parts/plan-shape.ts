import type { PlanShape } from "../job/job.ts";
import { circle, oval, roundedRectangle, slot } from "../shapes/outlines.ts";
import { afterwards, mapRegion, shiftBy, turnBy } from "../shapes/plan-map.ts";
import type { Point } from "../shapes/point.ts";
import { boundsOfRegion, type Region } from "../shapes/region.ts";
import type { Reach } from "./place-of.ts";

const ORIGIN: Point = { x: 0, y: 0 };

/** A plan shape about its own centre, turned counter-clockwise. A drawing "as drawn" keeps its own origin. mm. */
export function regionOfShape(shape: PlanShape, turnedDeg: number): Region {
  switch (shape.kind) {
    case "slot":
      return slot(ORIGIN, shape.length, shape.width, turnedDeg);
    case "circle":
      return circle(ORIGIN, shape.diameter / 2);
    case "oval":
      return oval(ORIGIN, shape.length, shape.width, turnedDeg);
    case "rounded rectangle":
      return roundedRectangle(ORIGIN, shape.length, shape.width, shape.radius, turnedDeg);
    case "drawing": {
      const box = boundsOfRegion(shape.region);
      if (box === undefined || shape.placed === "as drawn") return mapRegion(turnBy(turnedDeg), shape.region);
      const centred = shiftBy(-(box.min.x + box.max.x) / 2, -(box.min.y + box.max.y) / 2);
      return mapRegion(afterwards(centred, turnBy(turnedDeg)), shape.region);
    }
  }
}

/** How far a region reaches from its origin to all sides. */
export function reachOf(region: Region): Reach {
  return boundsOfRegion(region) ?? { min: ORIGIN, max: ORIGIN };
}

/** Why a shape's own numbers cannot be, or nothing: a slot wider than long, a corner radius that doesn't fit. */
export function shapeTrouble(
  shape: PlanShape,
): { readonly key: string; readonly what: string; readonly why: string } | undefined {
  switch (shape.kind) {
    case "slot":
      return shape.length < shape.width
        ? {
            key: "length",
            what: "the slot is shorter than it is wide",
            why: `length ${shape.length} mm over all, width ${shape.width} mm`,
          }
        : undefined;
    case "rounded rectangle": {
      const most = Math.min(shape.length, shape.width) / 2;
      return shape.radius > most
        ? {
            key: "corner radius",
            what: "the corner radius doesn't fit the rectangle",
            why: `radius ${shape.radius} mm, at most ${most} mm`,
          }
        : undefined;
    }
    case "drawing":
      return shape.region.loops.length === 0
        ? { key: "drawing", what: `nothing usable in ${shape.file}`, why: "no closed outline was found" }
        : undefined;
    case "circle":
    case "oval":
      return undefined;
  }
}
