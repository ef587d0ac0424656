import { type Finding, type Place, tidy } from "../finding.ts";
import type { Operation } from "../plan/operation.ts";
import type { SetUp } from "../plan/setup.ts";
import type { Point } from "../shapes/point.ts";

/** The cutter is wider than what it should clear. */
export function fitsNowhere(operation: Operation, setUp: SetUp, at: Point): Finding {
  return {
    grade: "refuse",
    code: "cutter-fits-nowhere",
    place: placeOf(operation, setUp, at),
    what: `the ${tidy(operation.cutter.diameter)} mm bit fits nowhere in here`,
    why: `${operation.title} is narrower than the bit "${operation.cutter.name}"`,
    mend: "use a thinner bit, or make it wider",
  };
}

/** There is room for the cutter, but no way for it to get down into the wood. */
export function noWayIn(operation: Operation, setUp: SetUp, at: Point): Finding {
  const { name, deadCentre } = operation.cutter;
  return {
    grade: "refuse",
    code: "no-way-in",
    place: placeOf(operation, setUp, at),
    what: "the bit cannot get down into the wood here",
    why: `there is no room to ramp, and the bit "${name}" doesn't cut at its middle (radius ${tidy(deadCentre)} mm)`,
    mend: "use a thinner bit or one that plunges, drill the spot first, or make it wider",
  };
}

function placeOf(operation: Operation, setUp: SetUp, at: Point): Place {
  const cavity = setUp.cavities.find((c) => operation.cavityIds.includes(c.id));
  const where = { at: { x: at.x, y: at.y, z: operation.topZ } };
  if (cavity === undefined) return { feature: operation.title, ...where };
  return { part: cavity.part, feature: cavity.feature, source: cavity.source, ...where };
}
