import type { Feature, PlanShape, RecessFeature } from "../../src/job/job.ts";
import { feature, from } from "./describing.ts";

/** The wood that hollows are tried in. */
export const THICK = { length: 120, width: 60, thickness: 22 };

/** A recess with a shape of its own, in the middle of `THICK`. */
export function hollowFeature(
  shape: PlanShape,
  depth: number,
  more: Partial<RecessFeature> = {},
  cutter?: string,
): Feature {
  const at = [from(60, "first end"), from(30, "lower edge")] as const;
  return feature(
    "hollow",
    5,
    { kind: "recess", shape, at, turnedDeg: 0, depth: { kind: "to", depth }, wallLeanDeg: 0, ...more },
    {
      ...(cutter === undefined ? {} : { cutter }),
      lines: { depth: 6, floor: 7, "radius at floor": 8, edge: 9, wall: 10, shape: 11 },
    },
  );
}

export const SLOT: PlanShape = { kind: "slot", length: 60, width: 25 };
