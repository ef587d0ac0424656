import { standsOver } from "../../plan/turning-contact.ts";
import { below, type Envelope, envelopeAt } from "../../plan/turning-envelope.ts";
import type { RoughTurning, TurningSetUp } from "../../plan/turning-setup.ts";
import { line, type Segment } from "../../shapes/segment.ts";
import { type TurningShape, turningShape } from "../../shop/turning-profile.ts";
import { descentsOver, neededStretches } from "./descents.ts";
import type { TurningMove } from "./move.ts";
import { trailFor } from "./trail.ts";
import { clearOf, type KnownWood, woodAfter } from "./wood.ts";

/** Less wood than this above a pass is not worth it, mm. */
const WORTH = 0.02;
/** Passes at one level whose gap is wider than this are cut apart, mm. */
const GAP = 4;
/** Run-in and run-out of a pass, mm. */
const LEAD = 0.5;

/** Moves, and the wood they leave. */
export interface Cut {
  readonly moves: readonly TurningMove[];
  readonly wood: KnownWood;
}

/**
 * Takes the wood down in even layers along the axis, from the tailstock towards the headstock, each as far as the tool
 * may go with the allowance on; then once along the profile at the allowance, down every slope, which takes the steps off.
 */
export function roughTurning(op: RoughTurning, setUp: TurningSetUp, wood: KnownWood, obstacles: Envelope): Cut {
  const shape = turningShape(op.tool);
  const stands = standsOver(obstacles, op.tool, op.allowance);
  const trail = trailFor(op, setUp, stands);
  let left = wood;
  for (const level of levelsOver(stands, wood, shape, op.bite)) {
    const radius = level + shape.noseRadius;
    const ways: (readonly Segment[])[] = [];
    for (const room of below(stands, radius)) {
      for (const run of runsIn(room, radius, left, shape).reverse()) {
        const way = [line({ x: run.to, y: radius }, { x: run.from, y: radius })];
        trail.cut(way, clearOf(left, shape, run.to), op.feed, "rough");
        ways.push(way);
      }
    }
    left = woodAfter(left, shape, ways);
  }
  const ways = descentsOver(stands).flatMap((way) => neededStretches(way, left, shape, WORTH));
  for (const way of ways) trail.cut(way, clearOf(left, shape, way[0]!.from.x), op.feed, "rough");
  return { moves: trail.moves, wood: woodAfter(left, shape, ways) };
}

/** Tip radii of the layers from the outside in, evenly spaced and no farther apart than a bite. */
function levelsOver(stands: Envelope, wood: KnownWood, shape: TurningShape, bite: number): readonly number[] {
  let top = Number.NEGATIVE_INFINITY;
  let bottom = Number.POSITIVE_INFINITY;
  for (const p of placesAlong(wood, shape)) {
    const clear = clearOf(wood, shape, p);
    const stand = envelopeAt(stands, p);
    if (clear - stand <= WORTH) continue;
    top = Math.max(top, clear - shape.noseRadius);
    bottom = Math.min(bottom, stand - shape.noseRadius);
  }
  if (!(top > bottom)) return [];
  const layers = Math.ceil((top - bottom) / bite - 1e-9);
  return Array.from({ length: layers }, (_, k) => top - ((k + 1) * (top - bottom)) / layers);
}

function* placesAlong(wood: KnownWood, shape: TurningShape): Generator<number> {
  const beyond = Math.ceil((shape.noseRadius + shape.flat) / wood.step);
  for (let i = -beyond; i < wood.radius.length + beyond; i++) yield wood.from + i * wood.step;
}

/** Stretches of a level room where there is wood to take, with run-in and run-out as far as the room goes. */
function runsIn(
  room: { readonly from: number; readonly to: number },
  radius: number,
  wood: KnownWood,
  shape: TurningShape,
): { readonly from: number; readonly to: number }[] {
  const runs: { from: number; to: number }[] = [];
  const visit = (z: number): void => {
    if (clearOf(wood, shape, z) - radius <= WORTH) return;
    const last = runs[runs.length - 1];
    if (last !== undefined && z - last.to <= GAP) last.to = z;
    else runs.push({ from: z, to: z });
  };
  const end = wood.from + wood.radius.length * wood.step + shape.noseRadius + shape.flat;
  const first = Math.max(room.from, wood.from - shape.noseRadius - shape.flat);
  const last = Math.min(room.to, end);
  if (last < first) return [];
  const n = Math.ceil((last - first) / (4 * wood.step));
  for (let k = 0; k <= n; k++) visit(n === 0 ? first : first + ((last - first) * k) / n);
  return runs.map((r) => ({ from: Math.max(room.from, r.from - LEAD), to: Math.min(room.to, r.to + LEAD) }));
}
