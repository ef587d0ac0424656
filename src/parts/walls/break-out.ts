import type { Point3 } from "../../shapes/point.ts";
import type { Outer } from "./outer.ts";
import { ON_SURFACE, type RecessSurface } from "./recess-surface.ts";

/** How a recess leaves the wood where it must not. Places in axis coordinates. */
export type BreakOut = {
  readonly how: "sideways" | "through the far side" | "through the end" | "through a shoulder";
  readonly at: Point3;
};

/** The side over which a room in the flat back may run out, by the sign of y, and from where the room is cut. */
export interface BreakOutOptions {
  readonly opensTowards?: 1 | -1;
  readonly cut: "crown" | "back";
}

/**
 * Where a recess leaves the wood otherwise than by its mouth; the farthest out.
 * @param at, depths of the lattice's places, errors applied
 */
export function breakOutOf(
  recess: RecessSurface,
  outer: Outer,
  at: Float64Array,
  depths: Float64Array,
  o: BreakOutOptions,
): BreakOut | undefined {
  const { columns, rows, beyond } = recess.lattice;
  const kept = outer.kept;
  const p = new Float64Array(7);
  let found: BreakOut | undefined;
  let worst = 0;
  const note = (how: BreakOut["how"], k: number, by: number): void => {
    if (found !== undefined && by <= worst) return;
    worst = by;
    found = { how, at: { x: at[3 * k]!, y: at[3 * k + 1]!, z: at[3 * k + 2]! } };
  };
  const opensAt = (u: number): boolean => o.opensTowards !== undefined && u * o.opensTowards > 0;
  for (const [i, g] of columns.entries()) {
    let seen = false;
    let entered = -1;
    for (let j = recess.judgedFrom; j < rows; j++) {
      const k = i * rows + j;
      // Beyond the middle line once, beyond it all the way down.
      if (beyond[k] !== ON_SURFACE) break;
      const [x, u, v] = [at[3 * k]!, at[3 * k + 1]!, at[3 * k + 2]!];
      // The split face cuts away the rest: that is its own edge, and no break.
      if (kept !== undefined && kept.side * u <= kept.loss) continue;
      seen = true;
      if ((x <= outer.from || x >= outer.to) && v < outer.section.most) {
        note("through the end", k, -depths[k]!);
        continue;
      }
      if (depths[k]! > 0) {
        if (entered < 0) entered = j;
        continue;
      }
      if (entered < 0 || opensAt(u)) continue;
      const side = Math.abs(u);
      const onShoulder = Math.hypot(side, v) < outer.section.most && v > 0;
      note(onShoulder ? "through a shoulder" : side >= -v ? "sideways" : "through the far side", k, -depths[k]!);
    }
    // Whether there is a wall all round is told by the whole blank.
    if (!seen || kept !== undefined) continue;
    const first = i * rows + Math.max(entered, recess.judgedFrom);
    if (o.cut === "back") {
      recess.placeOutline(g, p);
      if (opensAt(p[5]!) || outer.depth(p[0]!, p[1]!, p[2]!, Number.POSITIVE_INFINITY) > 0) continue;
    } else if (entered >= 0 && entersAt(recess, outer, g, entered) >= recess.lowest + 0.01) continue;
    // Nothing but floor meets the wood here: no wall, no lip.
    const n = recess.inwards(g);
    note(Math.abs(n.x) > Math.abs(n.y) ? "through a shoulder" : "sideways", first, 0.001);
  }
  return found;
}

/** Height as meant at which column g first meets the wood, between row `entered` and the row before. */
function entersAt(recess: RecessSurface, outer: Outer, g: number, entered: number): number {
  const p = new Float64Array(7);
  recess.place(g, entered, p);
  if (p[6]! >= recess.lowest + 0.01 || entered <= recess.judgedFrom) return p[6]!;
  let [air, wood] = [entered - 1, entered];
  for (let k = 0; k < 14; k++) {
    const c = (air + wood) / 2;
    recess.place(g, c, p);
    if (outer.depth(p[0]!, p[1]!, p[2]!, Number.POSITIVE_INFINITY) > 0) wood = c;
    else air = c;
  }
  recess.place(g, wood, p);
  return p[6]!;
}
