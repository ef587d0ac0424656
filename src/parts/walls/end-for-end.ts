import { type Meridian, radiiAt } from "../../shapes/meridian.ts";
import { ALIKE } from "../halves-alike.ts";

const STEP = 0.05;

/**
 * How far a stretch of a profile differs from itself turned end for end, mm: the greatest difference of radius, a
 * shoulder's either radius counting, so that the same shoulder met a hair early is none. By stations 0.05 mm apart.
 */
export function profileDiffers(m: Meridian, stretch: { readonly from: number; readonly to: number }): number {
  const count = Math.max(2, Math.ceil((stretch.to - stretch.from) / STEP));
  let most = 0;
  for (let k = 0; k <= count; k++) {
    const x = stretch.from + ((stretch.to - stretch.from) * k) / count;
    const a = around(m, x);
    const b = around(m, stretch.from + stretch.to - x);
    if (a === undefined || b === undefined) continue;
    most = Math.max(most, a.least - b.most, b.least - a.most);
  }
  return most;
}

/** Radii within a hair of x. */
function around(m: Meridian, x: number): { readonly least: number; readonly most: number } | undefined {
  const here = [x - ALIKE / 2, x, x + ALIKE / 2].map((q) => radiiAt(m, q)).filter((r) => r !== undefined);
  if (here.length === 0) return undefined;
  return { least: Math.min(...here.map((r) => r.least)), most: Math.max(...here.map((r) => r.most)) };
}
