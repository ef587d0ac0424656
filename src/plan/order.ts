import type { Cavity } from "../parts/workpiece.ts";
import type { Point } from "../shapes/point.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { tourOf, USUAL_TRIES } from "../shapes/tour.ts";
import type { Chosen } from "./cutter-choice.ts";

/**
 * The order of work in a set-up: blind cuts, then what goes through, then openings, then the outlines that free a part;
 * heads that stand above a bore before it, cones after it. Within each the cutter at hand goes on first, then the
 * larger; cuts that leave the wood across the grain come last with their cutter. What is left free goes on a short round,
 * from middle to middle.
 */
export function inOrder(chosen: readonly Chosen[], exitsAcross: (c: Cavity) => boolean): readonly Chosen[] {
  const left = [...chosen];
  const ordered: Chosen[] = [];
  const ranks = [...new Set(left.map(rankOf))].sort((a, b) => a - b);
  for (const rank of ranks) {
    let here = left.filter((c) => rankOf(c) === rank);
    while (here.length > 0) {
      const last = ordered[ordered.length - 1]?.cutter;
      const next = here.some((c) => c.cutter === last) ? last! : largest(here);
      const group = here.filter((c) => c.cutter === next).sort((a, b) => a.task.index - b.task.index);
      const across = (c: Chosen): boolean => exitsAcross(c.task.cavities[0]);
      ordered.push(
        ...shortRound(
          group.filter((c) => !across(c)),
          ordered.at(-1),
        ),
      );
      ordered.push(...shortRound(group.filter(across), ordered.at(-1)));
      here = here.filter((c) => c.cutter !== next);
    }
  }
  return ordered;
}

function shortRound(group: readonly Chosen[], after: Chosen | undefined): readonly Chosen[] {
  if (group.length < 2) return group;
  const stops = group.map((c) => ({ from: middleOf(c), to: middleOf(c) }));
  const wish = { ...(after === undefined ? {} : { start: middleOf(after) }), tries: USUAL_TRIES };
  return tourOf(stops, wish).turns.map(({ index }) => group[index]!);
}

/** Middle of the box around all that a task cuts, in the coordinates of its face. */
function middleOf({ task }: Chosen): Point {
  const boxes = task.cavities.map((c) => boundsOfRegion(c.section)).filter((b) => b !== undefined);
  const { min, max } = boxes.reduce((a, b) => ({
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
  }));
  return { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 };
}

function largest(chosen: readonly Chosen[]): Chosen["cutter"] {
  return chosen.reduce((a, b) =>
    b.cutter.diameter > a.cutter.diameter || (b.cutter.diameter === a.cutter.diameter && b.task.index < a.task.index)
      ? b
      : a,
  ).cutter;
}

function rankOf(c: Chosen): number {
  const [cavity] = c.task.cavities;
  const { shape } = cavity;
  if (shape.kind === "outline") return shape.side === "inside" ? 5 : 6;
  if (c.task.kind === "countersink") return 4;
  if (cavity.through) return 3;
  // A bore that begins on the floor of its counterbore waits for it.
  return cavity.from > 0 ? 2 : 1;
}
