import type { SetUp } from "../plan/setup.ts";
import type { Box } from "../shapes/point.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { boundsOf } from "../shapes/segment.ts";
import { topOver } from "../shapes/turned-section.ts";
import type { Assembly, AssemblyMember } from "../shop/cutter.ts";
import { type Body, bodyOf, type Gouge, gougeOf } from "./gouge.ts";
import type { Motion } from "./motion.ts";
import { silhouetteOf, widest } from "./silhouette.ts";
import { type Layer, layersOf } from "./solid.ts";

/** Measures how deep an assembly goes into the target on one motion; see `gougeOf`. */
export type Gouger = (m: Motion, assembly: Assembly, known: number, enough?: number) => Gouge;

const MEMBERS: readonly AssemblyMember[] = ["cutter", "shank", "nut", "spindle body"];

/**
 * Gouges of round stock. Its target is the box around it less the recesses, which is the safe side for what cuts; but
 * between flanges the box is mostly air, and a nut that hangs in it touches nothing. So while the tip stays within the
 * plan of a recess, each member of the assembly is held against the box only up to the highest wood that it could reach
 * from there, exactly; anywhere else against all of the box.
 */
export function roundGouger(setUp: SetUp): Gouger {
  const whole = layersOf(setUp.target);
  const boxes = setUp.target.cavities.flatMap((c) => boundsOfRegion(c.section) ?? []);
  const cut = new Map<string, readonly Layer[]>();
  const bodies = new Map<Assembly, readonly { readonly body: Body; readonly reach: number }[]>();
  const layersFor = (i: number, reach: number): readonly Layer[] => {
    const key = `${i} ${reach}`;
    const known = cut.get(key) ?? below(whole, setUp, boxes[i]!, reach);
    cut.set(key, known);
    return known;
  };
  return (m, assembly, known, enough) => {
    const parts = bodies.get(assembly) ?? partsOf(assembly);
    bodies.set(assembly, parts);
    const way = boundsOf(m.curve);
    const i = boxes.findIndex((b) => contains(b, way));
    let worst: Gouge | undefined;
    for (const { body, reach } of parts) {
      const floor = Math.max(known, worst?.depth ?? 0);
      const g = gougeOf(m, body, i < 0 ? whole : layersFor(i, reach), floor, enough);
      if (worst === undefined || g.depth > worst.depth) worst = { ...g, bound: Math.max(g.bound, worst?.bound ?? 0) };
    }
    return worst ?? gougeOf(m, bodyOf([]), [], known);
  };
}

function partsOf(assembly: Assembly): readonly { readonly body: Body; readonly reach: number }[] {
  return MEMBERS.flatMap((member) => {
    const silhouette = silhouetteOf(assembly, [member]);
    if (silhouette.length === 0) return [];
    return [{ body: bodyOf(silhouette), reach: widest(silhouette, 0, Number.POSITIVE_INFINITY) }];
  });
}

/** The layers up to the highest wood within reach of a tip in this rectangle. */
function below(layers: readonly Layer[], { round }: SetUp, box: Box, reach: number): readonly Layer[] {
  const top = round === undefined ? Number.POSITIVE_INFINITY : (topOver(round, box, reach) ?? Number.NEGATIVE_INFINITY);
  return layers
    .filter((l) => l.slab.zLow < top)
    .map((l) => (l.slab.zHigh <= top ? l : { ...l, slab: { ...l.slab, zHigh: top } }));
}

function contains(box: Box, inner: Box): boolean {
  return inner.min.x >= box.min.x && inner.min.y >= box.min.y && inner.max.x <= box.max.x && inner.max.y <= box.max.y;
}
