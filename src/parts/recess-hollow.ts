import type { Feature, PlanShape, RecessFeature } from "../job/job.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { buildHollow, endsOfHollow, type Hollow, type HollowTrouble } from "../shapes/hollow.ts";
import { largestInscribed } from "../shapes/inscribed.ts";
import type { Region } from "../shapes/region.ts";
import { valleysOf } from "../shapes/valleys.ts";
import { TOLERANCE } from "../tolerance.ts";
import { type Ground, mmText, refusal } from "./ground.ts";

/** Radius between wall and floor where the job says nothing, mm: what a 6 mm or 1/4 in round-nosed bit reaches. */
export const DEFAULT_FLOOR_RADIUS = 3.2;

/** How exactly a drawing's middle is wanted, mm: its floor is flat there, or its rounding ends before. */
const MIDDLE_WITHIN = 0.02;

/** True for a recess that is more than straight or evenly sloped walls around a flat floor. */
export function isHollow(feature: RecessFeature): boolean {
  return feature.dish !== undefined || feature.floorRadius !== undefined || feature.ease !== undefined;
}

/** How far inside a shape its middle lies, mm: the radius of the largest circle within it. Exact for all but drawings, which may be a hair
 * deeper. */
export function middleOfShape(shape: PlanShape, section: Region): number {
  switch (shape.kind) {
    case "slot":
    case "oval":
    case "rounded rectangle":
      return Math.min(shape.length, shape.width) / 2;
    case "circle":
      return shape.diameter / 2;
    case "drawing":
      return largestInscribed(flattenRegion(section, TOLERANCE.flattening), MIDDLE_WITHIN).radius;
  }
}

/** The hollow of a recess about its outline, or why it cannot be. */
export function hollowOf(
  ground: Ground,
  feature: Feature & RecessFeature,
  section: Region,
  depth: number,
): Hollow | ReturnType<typeof refusal> {
  const middle = middleOfShape(feature.shape, section);
  const dish = feature.dish ?? 0;
  const footRadius = feature.floorRadius ?? DEFAULT_FLOOR_RADIUS;
  const ease = feature.ease ?? 0;
  const built = buildHollow({ depth, leanDeg: feature.wallLeanDeg, footRadius, dish, ease, middle });
  if (typeof built === "string")
    return refusal(ground, feature, ...told(built, feature, { depth, middle, footRadius }));
  const { floor } = endsOfHollow(built);
  const valleys = valleysOf(section, dish > 0 ? middle * 0.98 : Math.min(floor.x, middle));
  if (valleys !== "sharp") return built;
  return refusal(ground, feature, "part-hollow-valleys", dish > 0 ? ["floor", "shape"] : ["radius at floor", "shape"], {
    what:
      dish > 0
        ? "a dished floor would have sharp valleys in this shape"
        : "the rounding at the floor would have sharp valleys in the corners of this shape",
    why:
      dish > 0
        ? "a shape that narrows towards its ends makes the dish a keel there, and no round-nosed bit gets into it"
        : `wall and rounding come in by ${mmText(floor.x)}, and the corners are tighter than that`,
    mend:
      dish > 0
        ? "use a slot, a circle or a rounded rectangle, or a flat floor"
        : "round the corners more, use a slot or a rectangle, or make the radius at the floor smaller",
  });
}

function told(
  trouble: HollowTrouble,
  feature: RecessFeature,
  size: { readonly depth: number; readonly middle: number; readonly footRadius: number },
): [Parameters<typeof refusal>[2], readonly string[], Parameters<typeof refusal>[4]] {
  const wide = `the middle lies ${mmText(size.middle)} inside the outline`;
  switch (trouble) {
    case "the walls meet before the floor":
      return [
        "part-slope-eats-floor",
        ["wall", "depth"],
        {
          what: "the sloped walls meet before they reach the floor",
          why: `${mmText(size.depth)} deep at ${feature.wallLeanDeg}° from upright; ${wide}`,
          mend: "make the recess wider or shallower, or its walls steeper",
        },
      ];
    case "the dish is steeper than the wall":
      return [
        "part-hollow-shape",
        ["floor"],
        {
          what: "the dish is too deep for so narrow a floor",
          why: `at the wall's foot it would fall more steeply than the wall does; ${wide}`,
          mend: "make the dish shallower, or the recess wider",
        },
      ];
    case "the radius at the floor does not fit":
      return [
        "part-hollow-shape",
        ["radius at floor", "floor"],
        {
          what: "the radius between wall and floor does not fit in",
          why: `radius ${mmText(size.footRadius)}, ${mmText(size.depth)} deep; ${wide}`,
          mend: 'say a smaller "radius at floor", or make the recess deeper or wider',
        },
      ];
    case "the eased edge and the radius at the floor meet":
      return [
        "part-hollow-shape",
        ["edge", "radius at floor"],
        {
          what: "no wall is left between the eased edge and the rounding at the floor",
          why: `edge ${mmText(feature.ease ?? 0)}, radius at floor ${mmText(size.footRadius)}, ${mmText(size.depth)} deep`,
          mend: "make the recess deeper, or one of the two smaller",
        },
      ];
  }
}
