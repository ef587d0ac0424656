import type { Finding } from "../finding.ts";
import type { Depth, Feature, PartDescription } from "../job/job.ts";
import { faceExtent } from "./faces.ts";
import type { Mark } from "./marks/mark.ts";
import { placeIn, sourceOf } from "./place-of.ts";
import type { Cavity } from "./workpiece.ts";

/** Sizes that differ by less are the same, mm. */
export const SAME = 1e-6;

/**
 * Largest inside-corner radius that is accepted where a shape has sharp corners and the job says nothing, mm: a little
 * more than that of a 6 mm or a 1/4 in bit. Common practice, no source.
 */
export const DEFAULT_INSIDE_RADIUS = 3.2;

/** What a feature is being described for. */
export interface Ground {
  readonly part: PartDescription;
  /** Begins the ids of its cavities: the part's name, with the copy where a board holds several. */
  readonly idPrefix: string;
  /** `air`: beyond the part's borders there is nothing. `board`: there is more of the board it is cut from. */
  readonly around: "air" | "board";
}

/** What a feature gives. */
export interface Described {
  readonly cavities: readonly Cavity[];
  /** What is burned; absent: nothing. */
  readonly marks?: readonly Mark[];
  /** What differs from copy to copy, in their order; absent: nothing. */
  readonly each?: readonly OfOneCopy[];
  readonly findings: readonly Finding[];
}

/** What one copy has beside what all have. */
export interface OfOneCopy {
  readonly cavities: readonly Cavity[];
  readonly marks: readonly Mark[];
}

/** A feature that cannot be. */
export function refused(...findings: readonly Finding[]): Described {
  return { cavities: [], findings };
}

/** The parts of a cavity that all of a feature's cavities share. */
export function cavityBase(
  ground: Ground,
  feature: Feature,
  number?: number,
): Pick<Cavity, "id" | "part" | "feature" | "source" | "sources" | "face" | "keeps" | "clear"> & {
  readonly cutter?: string;
} {
  return {
    id: `${ground.idPrefix}/${feature.name}${number === undefined ? "" : `/${number}`}`,
    part: ground.part.name,
    feature: feature.name,
    source: feature.source,
    sources: feature.sources,
    face: feature.on,
    keeps: [],
    clear: "all",
    ...(feature.cutter === undefined ? {} : { cutter: feature.cutter }),
  };
}

/** A feature's depth in mm, or why it cannot be. A depth of the whole wood or more must be said as "through". */
export function depthOf(
  part: PartDescription,
  feature: Feature,
  depth: Depth,
  key = "depth",
): { readonly to: number; readonly through: boolean } | Finding {
  const { deep } = faceExtent(part.size, feature.on);
  if (depth.kind === "through") return { to: deep, through: true };
  if (depth.depth < deep - SAME) return { to: depth.depth, through: false };
  return {
    grade: "refuse",
    code: "part-too-deep",
    place: placeIn(part, feature, key, "depth"),
    what: `the ${feature.kind} is as deep as the wood or deeper`,
    why: `${mmText(depth.depth)} deep in wood that is ${mmText(deep)} thick beneath "${part.labels[feature.on]}"`,
    mend: 'make it shallower, or write "through" if it is meant to go through',
    measured: { value: depth.depth, bound: 0, unit: "mm" },
    limit: { value: deep, unit: "mm", from: "the wood beneath this face" },
  };
}

/** A blind depth; "through" is refused with the reason. */
export function blindDepthOf(part: PartDescription, feature: Feature, depth: Depth, why: string): number | Finding {
  if (depth.kind === "through") {
    return {
      grade: "refuse",
      code: "part-must-be-blind",
      place: placeIn(part, feature, "depth"),
      what: `this ${feature.kind} cannot go through`,
      why,
      mend: "give it a depth less than the thickness",
    };
  }
  const found = depthOf(part, feature, depth);
  return "to" in found ? found.to : found;
}

/** A number with its unit, for sentences. */
export function mmText(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}

/** A refusal about one value of a feature. */
export function refusal(
  ground: Ground,
  feature: Feature,
  code: Finding["code"],
  keys: readonly string[],
  text: { readonly what: string; readonly why: string; readonly mend: string },
): Finding {
  return {
    grade: "refuse",
    code,
    place: { part: ground.part.name, feature: feature.name, source: sourceOf(feature, ...keys) },
    ...text,
  };
}
