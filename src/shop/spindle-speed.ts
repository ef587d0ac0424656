/** [up to this diameter in mm, highest speed in rpm] */
const MAX_RPM: readonly (readonly [number, number])[] = [
  [25.4, 22000],
  [50.8, 18000],
  [63.5, 12000],
  [88.9, 8000],
];

/** Where `maxRpmFor` comes from. */
export const MAX_RPM_SOURCE = "charts of router speed by cutter diameter, the lowest of three";

/**
 * Highest spindle speed for a cutter's diameter, rpm. Three published charts of router speed by diameter disagree; the
 * lowest is taken. The number printed on the cutter governs where the user gives it. Beyond the charts (over 88.9 mm)
 * the rim speed of their last row is kept.
 * @param diameter mm, > 0
 */
export function maxRpmFor(diameter: number): number {
  for (const [upTo, rpm] of MAX_RPM) if (diameter <= upTo) return rpm;
  const [largest, slowest] = MAX_RPM[MAX_RPM.length - 1]!;
  return (slowest * largest) / diameter;
}
