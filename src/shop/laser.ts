import type { Provenance } from "./cutter.ts";

/**
 * A laser head on a router's carriage. Filled by reading the shop file; there are no built-in lasers or settings, since
 * only the shop can measure them. mm, nm, W, s.
 */
export interface Laser {
  /** Beam axis less spindle axis, as measured last: a corrected offset, where the registration cross was burned off. */
  readonly offset: { readonly x: number; readonly y: number };
  /** Wavelength: what the eyewear must stop. */
  readonly wavelength: number;
  /** What is printed on it; what arrives at the wood is less. */
  readonly ratedPower: number;
  /** How far the spot reaches along X and along Y, at focus, measured: a line burned along X is `spot.y` wide. */
  readonly spot: { readonly x: number; readonly y: number };
  /** Gap between the head's lower end and the wood at focus. */
  readonly focusGap: number;
  /** How far above or below focus still burns alike: half the depth of focus, measured. */
  readonly focusRange: number;
  /** Z follows the wood where a mark on the round drops beyond `focusRange`; absent: such marks are refused. */
  readonly zFollows?: true;
  /** S word at full power. */
  readonly fullScale: number;
  /**
   * What the controller does with the beam: `follows speed` scales power with the real speed and switches off while still
   * (a mode of its own); `constant` burns at the commanded power whatever the speed.
   */
  readonly mode: "follows speed" | "constant";
  /** Code that starts the beam in that mode, "M3" or "M4". */
  readonly start: "M3" | "M4";
  /**
   * Delay between a command and the beam, s: measured; 0 when not said. On burned areas and pictures, which are crossed at
   * even speed, programs switch the beam on and off `speed × lag` before the place on the wood.
   */
  readonly lag: number;
  /** Highest power, share of full, of a visible pilot; absent: none. */
  readonly pilot?: number;
  /** Its slot in the tool table: the head's length, so that Z 0 of the program is the focus. Machines with a table only. */
  readonly slot?: number;
  readonly from: Provenance;
}

/** What the shop found good on one wood for one effect. Power is a share of full, 0 to 1; speeds mm/min. */
export interface BurnSetting {
  /** The shop's own word: "dark line", "light area", "through". */
  readonly effect: string;
  readonly wood: string;
  readonly power: number;
  readonly speed: number;
  readonly passes: number;
  /** Between lines of an area, or of dots of a picture, mm; absent: half the spot across the lines, a whole one for dots. */
  readonly spacing?: number;
  /** Width that a cut-through takes, measured, mm. */
  readonly kerf?: number;
  /** How deep it chars, mm, measured. */
  readonly depth?: number;
  /** Measured tones: burned share of the dots against the darkness that came of it, both 0 to 1, rising. */
  readonly tones?: readonly { readonly dots: number; readonly dark: number }[];
  readonly from: Provenance;
}

/**
 * Width of a line burned in a direction, mm: the spot, an ellipse with its axes along X and Y, seen along the travel. Its
 * support in direction n is √((x·nx)² + (y·ny)²).
 * @param travelDeg direction of travel, degrees from X
 */
export function lineWidth({ spot }: Pick<Laser, "spot">, travelDeg: number): number {
  const rad = (travelDeg * Math.PI) / 180;
  return Math.hypot(spot.x * Math.sin(rad), spot.y * Math.cos(rad));
}

/** How far the spot reaches along the travel, mm: the line width of travel square to it. */
export function spotAlong(laser: Pick<Laser, "spot">, travelDeg: number): number {
  return lineWidth(laser, travelDeg + 90);
}
