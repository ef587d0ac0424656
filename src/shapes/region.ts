import type { Segment } from "./segment.ts";

/** A closed chain of segments: each begins, bit for bit, where the one before ends, and the last meets the first. */
export type Loop = readonly Segment[];

/**
 * An area with exact arcs. Outer loops run counter-clockwise, holes clockwise; loops do not cross.
 * An empty list is the empty region.
 */
export interface Region {
  readonly loops: readonly Loop[];
}

/** The region that holds nothing. */
export const EMPTY_REGION: Region = { loops: [] };
