import type { Source } from "../finding.ts";
import type { FaceName } from "./board.ts";

/** What every feature carries. */
export interface FeatureBase {
  readonly name: string;
  readonly on: FaceName;
  readonly source: Source;
  /** Places in the file of single values, by key ("width", "centre at"), so that a finding can point at the number. */
  readonly sources: Readonly<Record<string, Source>>;
  /** Name of the bit to use; the planner chooses when absent. */
  readonly cutter?: string;
}

/** A distance from one border of the face to the named reach of the feature. */
export interface From {
  readonly distance: number;
  /** The neighbouring face that the distance is measured from. */
  readonly border: FaceName;
  readonly reach: "near edge" | "far edge" | "centre";
}

/**
 * Two distances that fix a place on a face, along its two directions: first the one along x where the face has it,
 * else along y (borders first end/second end, lower edge/upper edge, back/face lie along x, y, z). A `centre`
 * distance may be negative (the centre lies beyond the border); `near edge` and `far edge` are ≥ 0.
 * `far edge` is measured to the edge of the feature that lies farther from the border named.
 */
export type At = readonly [From, From];

/** Depth below the face, or all the way. */
export type Depth = { readonly kind: "to"; readonly depth: number } | { readonly kind: "through" };
