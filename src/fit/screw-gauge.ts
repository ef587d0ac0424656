import type { Screw } from "../job/screws.ts";

/** Whether the wood that a screw bites in is hard or soft. */
export type Hardness = "hard" | "soft";

/** A hole for a screw to bite in, mm. */
export interface Pilot {
  readonly diameter: number;
  readonly source: string;
}

const CHART = "a pilot chart for wood screws, plate 6B";

/** Number, and pilot in hard and in soft wood, inches: as charted. */
const CHARTED: readonly (readonly [string, number, number])[] = [
  ["no 6", 0.086, 1 / 16],
  ["no 8", 7 / 64, 5 / 64],
  ["no 9", 7 / 64, 5 / 64],
  ["no 10", 1 / 8, 3 / 32],
];

/** What the chart's pilots are of the screws' bodies, on the average of its rows. */
const SHARE = { hard: 0.64, soft: 0.465 };

/** The pilot hole for a screw: charted, or in proportion to its body where the chart has no row. */
export function pilotFor(screw: Screw, wood: Hardness): Pilot {
  const row = CHARTED.find(([name]) => name === screw.name);
  if (row !== undefined) return { diameter: (wood === "hard" ? row[1] : row[2]) * 25.4, source: CHART };
  const diameter = Math.round(screw.bodyDiameter * SHARE[wood] * 10) / 10;
  return { diameter, source: `proportion to the rows of ${CHART}` };
}

/**
 * The number of a screw from the width of its head: 32nds of an inch less 3, rounded.
 * Source: E. Joyce, Technique of Furniture Making.
 * @param head mm
 */
export function gaugeOfHead(head: number): number {
  return Math.round((head / 25.4) * 32 - 3);
}
