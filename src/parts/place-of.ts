import type { Finding, Place, Source } from "../finding.ts";
import type { FaceName, Size } from "../job/board.ts";
import type { At, Feature, From, PartDescription } from "../job/job.ts";
import type { Point } from "../shapes/point.ts";
import { borderOf, fromBorder } from "./faces.ts";

/** How far a shape reaches from its own centre along u and v, mm. */
export interface Reach {
  readonly min: Point;
  readonly max: Point;
}

/** A shape that reaches `half` to all sides. */
export function evenReach(half: number): Reach {
  return { min: { x: -half, y: -half }, max: { x: half, y: half } };
}

/**
 * The coordinate, along its border's axis, of the centre of a shape that `from` places. mm.
 * Near edge: the shape's edge nearest the border lies at the distance; far edge: the farthest; centre: its centre.
 */
export function centreFrom(
  size: Size,
  face: FaceName,
  from: From,
  reach: Reach,
): { axis: "u" | "v"; at: number } | undefined {
  const border = borderOf(face, from.border);
  if (border === undefined) return undefined;
  const at = fromBorder(size, face, border, from.distance);
  const low = border.axis === "u" ? reach.min.x : reach.min.y;
  const high = border.axis === "u" ? reach.max.x : reach.max.y;
  const nearIsLow = border.end === "low";
  switch (from.reach) {
    case "centre":
      return { axis: border.axis, at };
    case "near edge":
      return { axis: border.axis, at: at - (nearIsLow ? low : high) };
    case "far edge":
      return { axis: border.axis, at: at - (nearIsLow ? high : low) };
  }
}

/** The centre of a shape from two distances, or a finding when they don't fix a place on this face. */
export function placeOn(part: PartDescription, feature: Feature, at: At, reach: Reach): Point | Finding {
  const a = centreFrom(part.size, feature.on, at[0], reach);
  const b = centreFrom(part.size, feature.on, at[1], reach);
  if (a === undefined || b === undefined || a.axis === b.axis) {
    return {
      grade: "refuse",
      code: "part-place-unclear",
      place: placeIn(part, feature, "centre at", "centres at", "near edge at", "far edge at", "start at", "end at"),
      what: `two distances from "${at[0].border}" and "${at[1].border}" don't fix a place on "${feature.on}"`,
      why: "a place needs one distance along the face and one across it, each from a border of that face",
      mend: `measure from two neighbouring borders of "${feature.on}"`,
    };
  }
  return a.axis === "u" ? { x: a.at, y: b.at } : { x: b.at, y: a.at };
}

/** True for a finding among values. */
export function isFinding(value: object): value is Finding {
  return "grade" in value && "code" in value;
}

/** Where a finding about a feature points: the first of the keys that the file gives a place for, else the feature. */
export function placeIn(part: { readonly name: string }, feature: Feature, ...keys: readonly string[]): Place {
  return { part: part.name, feature: feature.name, source: sourceOf(feature, ...keys) };
}

/** The place in the file of the first of the keys that has one, else of the feature. */
export function sourceOf(feature: Feature, ...keys: readonly string[]): Source {
  for (const key of keys) {
    const source = feature.sources[key];
    if (source !== undefined) return source;
  }
  return feature.source;
}
