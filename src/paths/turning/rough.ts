import { highest, lowest, standsOver } from "../../plan/turning-contact.ts";
import {
  below,
  clipped,
  type Envelope,
  envelopeAt,
  exceeds,
  type Interval,
  negated,
  shared,
} from "../../plan/turning-envelope.ts";
import type { RoughTurning, TurningSetUp } from "../../plan/turning-setup.ts";
import { line } from "../../shapes/segment.ts";
import { turningShape } from "../../shop/turning-profile.ts";
import { stretchesOver, usefulRoom } from "./descents.ts";
import type { TurningMove } from "./move.ts";
import { trailFor } from "./trail.ts";
import { clearOf, woodAfter } from "./wood.ts";

/** Less wood than this above a pass is not worth it, mm. */
const WORTH = 0.02;
/** Passes at one level whose gap is wider than this are cut apart, mm. */
const GAP = 4;
/** Run-in and run-out of a pass, mm. */
const LEAD = 0.5;

/** Moves, and the wood they leave. */
export interface Cut {
  readonly moves: readonly TurningMove[];
  readonly wood: Envelope;
}

/**
 * Takes the wood down in even layers along the axis, from the tailstock towards the headstock, each as far as the tool
 * may go with the allowance on; then once along the profile at the allowance, down every slope, which takes the steps off.
 *
 * Layers are nested: where a layer goes, the one above has been. So the wood before all of them says where each has
 * something to take, and the layer above says how far in X may be rapid. Where no more than a bite stands over the profile,
 * the last pass takes it alone.
 */
export function roughTurning(op: RoughTurning, setUp: TurningSetUp, wood: Envelope, obstacles: Envelope): Cut {
  const shape = turningShape(op.tool);
  const stands = standsOver(obstacles, op.tool, op.allowance);
  const clear = clearOf(wood, shape);
  const thick = exceeds(clear, stands, op.bite);
  const trail = trailFor(op, setUp, stands);
  let above: { readonly radius: number; readonly runs: readonly Interval[] } = { radius: 0, runs: [] };
  for (const radius of layersOver(stands, clear, thick, op.bite)) {
    const wooden = shared(thick, below(negated(clear), -radius - WORTH));
    const runs = below(stands, radius).flatMap((room) => runsIn(room, shared([room], wooden)));
    for (const run of [...runs].reverse()) {
      const before = above.runs.some((r) => r.from <= run.to && r.to >= run.to)
        ? above.radius
        : Number.POSITIVE_INFINITY;
      const way = [line({ x: run.to, y: radius }, { x: run.from, y: radius })];
      // A room no wider than a hair is a plunge.
      if (run.to - run.from < 1e-6) way[0] = line({ x: run.to, y: radius + WORTH }, { x: run.to, y: radius });
      trail.cut(way, Math.min(before, envelopeAt(clear, run.to)), op.feed, "rough");
    }
    above = { radius, runs };
  }
  const needed = shared(exceeds(clear, stands, WORTH), [usefulRoom(setUp, shape)]);
  for (const way of stretchesOver(stands, needed)) {
    const { x, y } = way[0]!.from;
    // The lowest layer that passed over here has cleared what is above it.
    const step = Math.min(envelopeAt(clear, x), y + op.bite);
    trail.cut(way, step, op.feed, "rough");
  }
  return { moves: trail.moves, wood: woodAfter(wood, stands, shape) };
}

/** Radii of the reference point for the layers from the outside in, evenly spaced and no farther apart than a bite. */
function layersOver(stands: Envelope, clear: Envelope, needed: readonly Interval[], bite: number): readonly number[] {
  if (needed.length === 0) return [];
  const top = Math.max(...needed.map((i) => highest(clipped(clear, i.from, i.to))));
  const bottom = Math.min(...needed.map((i) => lowest(clipped(stands, i.from, i.to))));
  const layers = Math.ceil((top - bottom) / bite - 1e-9);
  return Array.from({ length: layers }, (_, k) => top - ((k + 1) * (top - bottom)) / layers);
}

/** Runs of a layer: where there is wood, joined over small gaps, with run-in and run-out as far as the room goes. */
function runsIn(room: Interval, wood: readonly Interval[]): readonly Interval[] {
  const runs: { from: number; to: number }[] = [];
  for (const w of wood) {
    const last = runs[runs.length - 1];
    if (last !== undefined && w.from - last.to <= GAP) last.to = w.to;
    else runs.push({ ...w });
  }
  return runs.map((r) => ({ from: Math.max(room.from, r.from - LEAD), to: Math.min(room.to, r.to + LEAD) }));
}
