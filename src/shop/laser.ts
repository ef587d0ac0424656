import type { Provenance } from "./cutter.ts";

/**
 * A laser head on a router's carriage. Filled by reading the shop file; there are no built-in lasers or settings, since
 * only the shop can measure them. mm, nm, W, s.
 */
export interface Laser {
  /** Beam axis less spindle axis, and the height of the head's underside above the nut's lower face. */
  readonly offset: { readonly x: number; readonly y: number };
  /** Wavelength: what the eyewear must stop. */
  readonly wavelength: number;
  /** What is printed on it; what arrives at the wood is less. */
  readonly ratedPower: number;
  /** Measured width of a burned line along X and along Y, at focus. */
  readonly spot: { readonly x: number; readonly y: number };
  /** Gap between the head's lower end and the wood at focus. */
  readonly focusGap: number;
  /** How far above or below focus still burns alike: half the depth of focus, measured. */
  readonly focusRange: number;
  /** S word at full power. */
  readonly fullScale: number;
  /**
   * What the controller does with the beam: `follows speed` scales power with the real speed and switches off while still
   * (a mode of its own); `constant` burns at the commanded power whatever the speed.
   */
  readonly mode: "follows speed" | "constant";
  /** Code that starts the beam in that mode, "M3" or "M4"; and what puts the controller into and out of laser mode. */
  readonly start: "M3" | "M4";
  /** Delay between a command and the beam, s: measured; 0 when not said. */
  readonly lag: number;
  /** Highest power, share of full, of a visible pilot; absent: none. */
  readonly pilot?: number;
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
  /** Between lines of an area, mm; absent: half the spot across them. */
  readonly spacing?: number;
  /** Width that a cut-through takes, measured, mm. */
  readonly kerf?: number;
  /** How deep it chars, mm, measured. */
  readonly depth?: number;
  /** Measured tones: burned share of the dots against the darkness that came of it, both 0 to 1, rising. */
  readonly tones?: readonly { readonly dots: number; readonly dark: number }[];
  readonly from: Provenance;
}
