import type { Cavity } from "../parts/workpiece.ts";
import type { Chosen } from "./cutter-choice.ts";

/**
 * The order of work in a set-up: blind cuts, then what goes through, then openings, then the outlines that free a part;
 * heads that stand above a bore before it, cones after it. Within each the cutter at hand goes on first, then the
 * larger; cuts that leave the wood across the grain come last with their cutter.
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
      const group = here
        .filter((c) => c.cutter === next)
        .sort(
          (a, b) =>
            Number(exitsAcross(a.task.cavities[0])) - Number(exitsAcross(b.task.cavities[0])) ||
            a.task.index - b.task.index,
        );
      ordered.push(...group);
      here = here.filter((c) => c.cutter !== next);
    }
  }
  return ordered;
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
