import { distance } from "../../shapes/point.ts";
import { tangentAt } from "../../shapes/segment.ts";
import type { Burn } from "../../simulate/beam.ts";
import type { BurnIn } from "./case.ts";

/** Burns whose ends lie nearer than this follow each other without a gap, mm. */
const MEETS = 1e-6;
/** More than this, as a sine, is a turn. */
const TURNS = 1e-3;

/**
 * Among the burns of an area, in the order of the program, those that follow a border: runs without a gap that turn. Lines
 * across an area begin and end with the beam off.
 */
export function borderBurns(burns: readonly BurnIn[]): ReadonlySet<Burn> {
  const found = new Set<Burn>();
  let run: Burn[] = [];
  const close = (): void => {
    const turns = run.some((b, i) => {
      if (b.curve.kind === "arc") return true;
      const next = run[i + 1]?.curve;
      if (next === undefined) return false;
      const a = tangentAt(b.curve, 1);
      const c = tangentAt(next, 0);
      return Math.abs(a.x * c.y - a.y * c.x) > TURNS;
    });
    if (turns) for (const b of run) found.add(b);
    run = [];
  };
  for (const [i, { burn, from }] of burns.entries()) {
    const before = burns[i - 1];
    const follows = before?.from === from && distance(before.burn.curve.to, burn.curve.from) <= MEETS;
    if (!follows) close();
    run.push(burn);
  }
  close();
  return found;
}
