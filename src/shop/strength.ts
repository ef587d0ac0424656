import type { Cutter } from "./cutter.ts";
import type { WoodClass } from "./wood.ts";

/** Specific cutting energy, N/mm² (= J/cm³), highest of the remembered range. From memory: may caution, never refuse. */
export const CUTTING_ENERGY: Readonly<Record<WoodClass, number>> = { softwood: 30, hardwood: 50, plywood: 50, mdf: 60 };

/** Where `CUTTING_ENERGY` comes from. */
export const CUTTING_ENERGY_SOURCE = "specific cutting energy from memory, order of magnitude";

/** Young's modulus, N/mm². Source: a secondary page that quotes a machinist's handbook. */
export const STIFFNESS: Readonly<Record<Cutter["material"], number>> = { carbide: 580_000, steel: 200_000 };

/** Largest bending that is put up with: 0.025 mm for each 25 mm of overhang, a published rule of thumb. */
export const BENDING_SHARE = 0.001;

/**
 * Power that a cut takes, W: P = kc · Q.
 * @param depth mm; @param width mm of wood met sideways; @param feed mm/min
 */
export function cuttingPower(wood: WoodClass, depth: number, width: number, feed: number): number {
  const mm3PerSecond = (depth * width * feed) / 60;
  return (CUTTING_ENERGY[wood] * mm3PerSecond) / 1000;
}

/** Speed of the cutting edge, m/s: π · D · n / 60000. */
export function surfaceSpeed(diameter: number, rpm: number): number {
  return (Math.PI * diameter * rpm) / 60_000;
}

/**
 * How far the tip is pushed aside, mm: a beam held at the nut with the force P / vc at its tip, as thick as the cutter along
 * the flutes and as the shank above. F·L³ / 3·E·I where both are alike. Flutes weaken a cutter several times over, so this
 * is the least it bends.
 * @param power W; @param rpm > 0
 */
export function tipBending(cutter: Cutter, power: number, rpm: number): number {
  const force = power / surfaceSpeed(cutter.diameter, rpm);
  const inertia = (d: number): number => (Math.PI * d ** 4) / 64;
  const flutes = Math.min(cutter.fluteLength, cutter.stickOut);
  const alongFlutes = flutes ** 3 / inertia(cutter.diameter);
  const alongShank = (cutter.stickOut ** 3 - flutes ** 3) / inertia(cutter.shankDiameter);
  return (force / (3 * STIFFNESS[cutter.material])) * (alongFlutes + alongShank);
}
