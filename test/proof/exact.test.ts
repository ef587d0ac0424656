import { describe, expect, it } from "vitest";
import type { Target, TargetCavity } from "../../src/parts/target.ts";
import { bodyOf, gougeOf } from "../../src/proof/gouge.ts";
import { type Stroke, woodLeft } from "../../src/proof/left.ts";
import { motionOf } from "../../src/proof/motion.ts";
import { silhouetteOf } from "../../src/proof/silhouette.ts";
import { layersOf } from "../../src/proof/solid.ts";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { rectangle, roundedRectangle } from "../../src/shapes/outlines.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import { bit, cavity, feed, rectangleRings, shop, targetOf } from "./fixture.ts";

const SIX = "6 mm flat";

function gouge(target: Target, moves: readonly ReadMove[], name = SIX): number {
  const body = bodyOf(silhouetteOf(assemblyOf(bit(name), shop.machines[0]!)));
  const layers = layersOf(target);
  return Math.max(...moves.flatMap(motionOf).map((m) => gougeOf(m, body, layers, 0).depth));
}

function left(target: Target, c: TargetCavity, moves: readonly ReadMove[], name = SIX) {
  const cutter = silhouetteOf(assemblyOf(bit(name), shop.machines[0]!), ["cutter"]);
  const strokes: Stroke[] = moves.flatMap(motionOf).map((motion) => ({ motion, cutter, top: bit(name).fluteLength }));
  return woodLeft(target, c, strokes, shop);
}

const min = { x: 20, y: 20 };
const max = { x: 70, y: 55 };

describe("a recess with upright walls", () => {
  const c = cavity({ section: roundedRectangle({ x: 45, y: 37.5 }, 50, 35, 3, 0), zTo: -5 });
  const target = targetOf([c]);
  const right = rectangleRings(min, max, 3, -5);

  it("passes when cut right", () => {
    expect(gouge(target, right)).toBe(0);
    const found = left(target, c, right);
    expect(found.sideways + found.bound).toBeLessThanOrEqual(0.004);
    expect(found.floorHigh).toBe(0);
  });

  it.each([-0.02, -0.005, 0.005, 0.02])("tells a wall that is %f mm off", (off) => {
    const moves = right.map((m, i) =>
      i === 1 ? feed({ ...m.from, x: m.from.x! + off } as never, { ...m.to, x: m.to.x! + off } as never) : m,
    );
    const deep = gouge(target, moves);
    const found = left(target, c, moves);
    expect(deep).toBeCloseTo(Math.max(0, off), 3);
    if (off < 0) expect(found.sideways).toBeCloseTo(-off, 2);
    expect(deep > 0.01 || found.sideways > 0.01).toBe(Math.abs(off) > 0.01);
  });

  it.each([-0.02, -0.005, 0.005, 0.02])("tells a floor that is %f mm off", (off) => {
    const moves = rectangleRings(min, max, 3, -5 + off);
    expect(gouge(target, moves)).toBeCloseTo(Math.max(0, -off), 3);
    const found = left(target, c, moves);
    expect(found.sideways > 0.01).toBe(off > 0.01);
    if (off > 0.01) expect(found.floorHigh).toBeCloseTo(off, 3);
  });

  it("tells a corner that was missed", () => {
    const moves = right.map((m, i) => (i === 0 ? feed({ ...m.from, x: m.from.x! + 1 } as never, m.to as never) : m));
    const cut = moves.map((m, i) => (i === 3 ? feed(m.from as never, { ...m.to, y: m.to.y! + 1 } as never) : m));
    expect(left(target, c, cut).sideways).toBeGreaterThan(0.1);
  });

  it("tells a bit that is too large for the corners", () => {
    expect(left(target, c, rectangleRings(min, max, 6, -5), "12 mm flat").sideways).toBeGreaterThan(0.5);
  });
});

describe("a recess with leaning walls", () => {
  const c = cavity({ section: rectangle(min, max), zTo: -5, slopeTan: 0.3, insideRadius: 3 });
  const target = targetOf([c]);
  const steps = Array.from({ length: 40 }, (_, k) => -0.125 * (k + 1));
  const pass = (z: number, off: number): ReadMove[] => {
    const d = -z * 0.3 + off;
    return rectangleRings({ x: min.x + d, y: min.y + d }, { x: max.x - d, y: max.y - d }, 3, z);
  };
  const ridge = 0.125 * Math.sin(Math.atan(0.3));

  it("passes when cut right, and tells how high the ridges are", () => {
    const moves = steps.flatMap((z) => pass(z, 0));
    expect(gouge(target, moves)).toBeLessThan(1e-6);
    const found = left(target, c, moves);
    expect(found.sideways + found.bound).toBeLessThanOrEqual(found.allowed);
    expect(found.ridge?.height).toBeCloseTo(ridge, 6);
  });

  it.each([-0.02, -0.005])("tells a leaning wall cut %f mm too far", (off) => {
    const moves = steps.flatMap((z) => pass(z, z === -2.5 ? off : 0));
    expect(gouge(target, moves)).toBeCloseTo(-off, 3);
  });

  it.each([0.005, 0.02])("tells a leaning wall cut %f mm too little at one level", (off) => {
    const moves = steps.flatMap((z) => pass(z, z === -2.5 ? off : 0));
    expect(left(target, c, moves).ridge?.height).toBeCloseTo(off > 0.01 ? 2 * ridge : ridge, 6);
  });

  it("tells a level that was skipped", () => {
    const moves = steps.filter((z) => z !== -2.5).flatMap((z) => pass(z, 0));
    expect(left(target, c, moves).ridge?.height).toBeCloseTo(2 * ridge, 6);
  });
});
