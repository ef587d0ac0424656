/**
 * The one tolerance budget, mm. Each stage that turns a curve into something else spends its own share; the shares add
 * up to less than the accuracy the programs promise, and a test keeps it so.
 */
export const TOLERANCE = {
  /** Largest chord error when an arc becomes a polyline for offsetting. */
  flattening: 0.001,
  /** Largest chord error of the round joins that the offset kernel makes. */
  offset: 0.001,
  /** Input vertices closer than this to a straight run are dropped before offsetting (Douglas–Peucker). */
  simplify: 0.001,
  /** Integer grid of the offset kernel: half a unit at 1e4 units/mm, with its worst seen vertex error. */
  grid: 0.0002,
  /** Largest distance between a polyline and the lines and arcs fitted to it. */
  arcFit: 0.001,
  /** Rounding of written coordinates: half of the last of four decimals in mm, or of five in inches (0.000127). */
  rounding: 0.00013,
} as const;

/** Stated accuracy of a program, mm: cut no deeper into the part, and leave no more on it, than this. */
export const ACCURACY = 0.01;
