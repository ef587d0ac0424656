import { componentsOf } from "../shapes/boolean.ts";
import { fitArcs } from "../shapes/fit-arcs.ts";
import { offsetPasses } from "../shapes/offset.ts";
import type { Polygons } from "../shapes/polygons.ts";
import { TOLERANCE } from "../tolerance.ts";
import { type Chain, reversedChain } from "./chain.ts";

/**
 * One connected piece of one pass: what the cutter's centre still has to clear, at `inset` mm from the outermost pass.
 * What lies further in are its children.
 */
export interface Pass {
  readonly inset: number;
  /** Outer ring and islands' rings. */
  readonly shape: Polygons;
  /** The rings as lines and arcs, region on the left of travel. */
  readonly loops: readonly Chain[];
  readonly children: readonly Pass[];
}

/** Coarsest that inner passes need to be, mm. Only the outermost touches anything that has to be exact. */
const COARSE = 0.02;

/**
 * Passes from the boundary of the ground inwards, as a tree by containment for each connected shape. The outermost is
 * as exact as asked; inner ones as coarse as the step allows, since a pass may stray by e where the step
 * is at most R − 4e: a point between two passes then still lies within R of the outer one.
 * Source for s ≤ R leaving nothing: a point at depth t lies t − d < s from the ring at depth d along its shortest way to
 * the wall.
 * @param step at most the radius
 * @param within how exactly the outermost passes are to follow the ground's boundary, mm
 */
export function passesIn(ground: Polygons, step: number, radius: number, within: number): Pass[] {
  if (!(step > 0 && step <= radius)) throw new RangeError(`a step of ${step} mm must be above 0 and at most ${radius}`);
  const coarse = Math.min(COARSE, Math.max(2 * TOLERANCE.arcFit, (radius - step) / 4));
  const pitch = Math.min(step, radius - 4 * coarse);
  return componentsOf(ground).map((shape) => {
    const inner = offsetPasses(shape, pitch, pitch, coarse);
    const build = (level: number, index: number): Pass[] => {
      const pass = inner[level];
      if (pass === undefined) return [];
      return pass.components.flatMap((component, k) =>
        level > 0 && pass.parents[k] !== index
          ? []
          : [
              {
                inset: pass.distance,
                shape: component,
                loops: loopsOf(component, coarse),
                children: build(level + 1, k),
              },
            ],
      );
    };
    return { inset: 0, shape, loops: loopsOf(shape, within), children: build(0, 0) };
  });
}

/** Rings as lines and arcs; what is too small to be one is kept as its bare points. */
export function loopsOf(shape: Polygons, tolerance: number): Chain[] {
  return shape.map((ring) => {
    const fitted = fitArcs(ring, tolerance, true);
    if (fitted.length > 1) return fitted;
    return ring.map((p, i) => ({ kind: "line", from: p, to: ring[(i + 1) % ring.length]! }));
  });
}

/** A pass's ring in its direction: climb keeps the ground on the left, and the wood that stands on the right. */
export function walkedFor(loop: Chain, climb: boolean): Chain {
  return climb ? loop : reversedChain(loop);
}
