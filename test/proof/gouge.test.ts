import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Slab, Target } from "../../src/parts/target.ts";
import { bodyOf, gougeOf } from "../../src/proof/gouge.ts";
import { heightAt, type Motion, motionOf } from "../../src/proof/motion.ts";
import { type Silhouette, silhouetteOf } from "../../src/proof/silhouette.ts";
import { layersOf } from "../../src/proof/solid.ts";
import { distanceToPoint } from "../../src/shapes/nearest.ts";
import { circle, rectangle, roundedRectangle, slot } from "../../src/shapes/outlines.ts";
import type { Point, Point3 } from "../../src/shapes/point.ts";
import { containsPoint, type Region } from "../../src/shapes/region.ts";
import { pointAt } from "../../src/shapes/segment.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import { radiusOfPiece } from "../../src/shop/profile.ts";
import { BLANK, bit, cavity, feed, shop, targetOf } from "./fixture.ts";

/** The slow obvious way: the depth with the tip at one place, by looking at many heights of every slab. */
function depthByHand(p: Point, z: number, body: Silhouette, target: Target): number {
  const radius = (h: number): number => body.reduce((most, piece) => Math.max(most, radiusOfPiece(piece, h)), 0);
  let most = 0;
  for (const slab of target.slabs) {
    const low = Math.max(0, slab.zLow - z);
    const high = slab.zHigh - z;
    if (high <= low) continue;
    const heights = Array.from({ length: 201 }, (_, k) => low + ((high - low) * k) / 200);
    for (const piece of body) for (const h of [piece.from, piece.to]) if (h > low && h < high) heights.push(h);
    const cuts = heights.map((h) => ({ h, r: radius(h) }));
    for (const lean of new Set(slab.walls.map((w) => w.slopeTan))) {
      const walls = slab.walls.filter((w) => w.slopeTan === lean);
      const q = walls.reduce((least, w) => Math.min(least, distanceToPoint(w.curve, p)), Number.POSITIVE_INFINITY);
      if (lean === 0) most = Math.max(most, uprightDepth(cuts, inSolid(slab, p) ? 0 : q, high));
      else {
        const zFrom = walls[0]!.zFrom;
        const sideways = Math.max(...cuts.map(({ h, r }) => r + (zFrom - z - h) * lean)) - q;
        most = Math.max(most, Math.min(sideways, high - low));
      }
    }
    if (inSolid(slab, p)) most = Math.max(most, uprightDepth(cuts, 0, high));
  }
  return most;
}

/** @param cuts radii of the assembly at many heights */
function uprightDepth(cuts: readonly { readonly h: number; readonly r: number }[], q: number, high: number): number {
  let wide = Number.NEGATIVE_INFINITY;
  let lowest = Number.POSITIVE_INFINITY;
  for (const { h, r } of cuts) {
    wide = Math.max(wide, r);
    if (r > q) lowest = Math.min(lowest, h);
  }
  return lowest === Number.POSITIVE_INFINITY ? 0 : Math.min(wide - q, high - lowest);
}

function inSolid(slab: Slab, p: Point): boolean {
  const inBlank = p.x > BLANK.min.x && p.x < BLANK.max.x && p.y > BLANK.min.y && p.y < BLANK.max.y;
  return inBlank && !slab.air.some((a) => containsPoint(a.section, p));
}

/** The deepest of many places along a motion, looked at more closely around the best of them. */
function deepestByHand(m: Motion, body: Silhouette, target: Target): number {
  const at = (t: number): number => depthByHand(pointAt(m.curve, t), heightAt(m, t), body, target);
  let low = 0;
  let high = 1;
  let best = 0;
  for (let round = 0; round < 4; round++) {
    const count = round === 0 ? 160 : 24;
    let top = low;
    for (let k = 0; k <= count; k++) {
      const t = low + ((high - low) * k) / count;
      const d = at(t);
      if (d > best) {
        best = d;
        top = t;
      }
    }
    const step = (high - low) / count;
    low = Math.max(0, top - step);
    high = Math.min(1, top + step);
  }
  return best;
}

/** Lengths drawn as whole micrometres. */
const mm = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.round(min * 1000), max: Math.round(max * 1000) }).map((n) => n / 1000);

const section: fc.Arbitrary<Region> = fc.oneof(
  fc.tuple(mm(14, 40), mm(14, 30), mm(3, 6)).map(([l, w, r]) => roundedRectangle({ x: 50, y: 40 }, l, w, r, 0)),
  fc.tuple(mm(20, 50), mm(8, 20), mm(0, 90)).map(([l, w, a]) => slot({ x: 50, y: 40 }, l, w, a)),
  mm(8, 25).map((r) => circle({ x: 50, y: 40 }, r)),
  fc
    .tuple(mm(20, 40), mm(20, 30))
    .map(([l, w]) => rectangle({ x: 50 - l / 2, y: 40 - w / 2 }, { x: 50 + l / 2, y: 40 + w / 2 })),
);

const bits = [
  "6 mm flat",
  "3 mm flat",
  "6 mm round-nose",
  "6 mm radiused corner",
  "60 degree V",
  "5 mm drill",
  "12 mm flat",
];

const target = fc
  .tuple(section, mm(2, 9), fc.constantFrom(0, 0, 0, 0.2, 0.7), fc.boolean())
  .map(([s, depth, slopeTan, second]) =>
    targetOf([
      cavity({ section: s, zTo: -depth, slopeTan }),
      ...(second ? [cavity({ section: circle({ x: 15, y: 15 }, 7), zTo: -3.5, feature: "beside" })] : []),
    ]),
  );

const place = (z: fc.Arbitrary<number>): fc.Arbitrary<Point3> => fc.record({ x: mm(30, 70), y: mm(25, 55), z });

const motion = fc.oneof(
  // Level, ramp or plunge.
  fc.tuple(place(mm(-9, -0.5)), place(mm(-9, 0.5))).map(([a, b]) => feed(a, b)),
  fc.tuple(place(mm(-9, -0.5)), place(fc.constant(0))).map(([a, b]) => feed(a, { ...b, z: a.z })),
  fc.tuple(place(mm(-9, -0.5)), mm(0, 2)).map(([a, z]) => feed({ ...a, z }, a)),
  // Part of a circle, level or as a helix.
  fc
    .tuple(mm(3, 14), mm(0, 360), mm(20, 340), mm(-9, -0.5), mm(0, 2), fc.boolean())
    .map(([r, from, turn, z, rise, ccw]) => {
      const on = (deg: number): Point => ({
        x: 50 + r * Math.cos((deg * Math.PI) / 180),
        y: 40 + r * Math.sin((deg * Math.PI) / 180),
      });
      const end = on(ccw ? from + turn : from - turn);
      return feed({ ...on(from), z }, { ...end, z: z + rise }, { centre: { x: 50, y: 40 }, ccw });
    }),
);

describe("the exact gouge", () => {
  it("agrees with looking at thousands of places, and is never less", () => {
    fc.assert(
      fc.property(target, motion, fc.constantFrom(...bits), (t, move, name) => {
        const body = silhouetteOf(assemblyOf(bit(name), shop.machines[0]!));
        const layers = layersOf(t);
        for (const m of motionOf(move)) {
          const found = gougeOf(m, bodyOf(body), layers, 0);
          const seen = deepestByHand(m, body, t);
          expect(found.depth + found.bound).toBeGreaterThanOrEqual(seen - 1e-6);
          // Looking at heights and places leaves a little unseen: 1/200 of a slab on a cone or round.
          expect(found.depth - seen).toBeLessThan(0.08);
        }
      }),
      { numRuns: 150 },
    );
  }, 60_000);

  it("agrees within a micrometre for flat bits against upright walls", () => {
    const upright = section.map((s) => targetOf([cavity({ section: s, zTo: -5 })]));
    fc.assert(
      fc.property(upright, motion, fc.constantFrom("6 mm flat", "3 mm flat"), (t, move, name) => {
        const body = silhouetteOf(assemblyOf(bit(name), shop.machines[0]!));
        for (const m of motionOf(move)) {
          const found = gougeOf(m, bodyOf(body), layersOf(t), 0);
          const seen = deepestByHand(m, body, t);
          expect(found.depth + found.bound).toBeGreaterThanOrEqual(seen - 1e-6);
          expect(found.depth - seen).toBeLessThan(0.001);
        }
      }),
      { numRuns: 150 },
    );
  }, 60_000);
});
