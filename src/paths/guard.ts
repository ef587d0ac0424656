import { TOLERANCE } from "../tolerance.ts";

/**
 * How exactly the ways along finished walls are offset, and again how exactly arcs are fitted to them, mm. Half of the
 * budget's shares, since the area may come from an offset of its own (sections of sloped walls do).
 */
export const WALL_WITHIN = Math.min(TOLERANCE.offset, TOLERANCE.arcFit) / 2;

/** Kept between the cutter and the finished wall, mm: offset and fit may each err towards the part, and no cut may enter it. */
export const GUARD = 2 * WALL_WITHIN;
