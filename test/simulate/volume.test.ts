import Module, { type Manifold } from "manifold-3d";
import { beforeAll, describe, expect, it } from "vitest";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import type { Cutter, CutterForm } from "../../src/shop/cutter.ts";
import { WoodCutter } from "../../src/simulate/cut.ts";
import { removedBetween } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { volumeOf } from "../../src/simulate/wood.ts";
import { at, board, cutterOf, MACHINE, move, polyline } from "./help.ts";

const BLANK = board(60, 40, 20);

/** Removed volume: its two bounds, and their middle. */
function removed(moves: readonly ReadMove[], cutter: Cutter, cell = 0.1) {
  const before = startWood(BLANK, cell);
  const cut = new WoodCutter(before);
  const assembly = assemblyOf(cutter, MACHINE);
  const records = moves.map((m) => cut.cut(m, assembly));
  const { least, most } = removedBetween(before, cut.wood);
  const sum = (of: (r: (typeof records)[number]) => number) => records.reduce((t, r) => t + of(r), 0);
  return {
    least,
    most,
    middle: (least + most) / 2,
    fromMost: sum((r) => r.fromMost),
    fromLeast: sum((r) => r.fromLeast),
    cut,
    before,
  };
}

function agrees(moves: readonly ReadMove[], cutter: Cutter, exact: number): void {
  const r = removed(moves, cutter);
  expect(r.least).toBeLessThanOrEqual(exact);
  expect(r.most).toBeGreaterThanOrEqual(exact);
  expect(Math.abs(r.middle / exact - 1)).toBeLessThan(0.005);
  // Move by move the amounts add up to the change of the columns, whatever was swept twice.
  const { grid, most, least } = r.before;
  expect(r.fromMost).toBeCloseTo(volumeOf(grid, most) - volumeOf(grid, r.cut.wood.most), 2);
  expect(r.fromLeast).toBeCloseTo(volumeOf(grid, least) - volumeOf(grid, r.cut.wood.least), 2);
}

const flat6 = cutterOf({ kind: "flat" }, 6);
const ball6 = cutterOf({ kind: "round-nose" }, 6);
const R = 3;

describe("volumes against closed forms", () => {
  it("a slot with round ends: (2R·L + πR²)·depth", () => {
    agrees([move(at(10, 20, -4), at(45, 27, -4))], flat6, (2 * R * Math.hypot(35, 7) + Math.PI * R * R) * 4);
  });

  it("a circular recess cleared by rings", () => {
    const centre = { x: 30, y: 20 };
    const rings = [2, 4.5, 7, 9].map((r) =>
      move(at(30 + r, 20, -5), at(30 + r, 20, -5), { arc: { centre, ccw: true } }),
    );
    agrees(rings, flat6, Math.PI * 12 ** 2 * 5);
  });

  it("a helix no wider than the cutter, then a level turn: π(r + R)²·depth", () => {
    const centre = { x: 30, y: 20 };
    const turn = (z0: number, z1: number) => move(at(32, 20, z0), at(32, 20, z1), { arc: { centre, ccw: true } });
    agrees([turn(0, -2), turn(-2, -4), turn(-4, -6), turn(-6, -6)], flat6, Math.PI * 25 * 6);
  });

  it("a groove with a round nose, deeper than its radius: ends are half a ball and half a rod", () => {
    const L = 30;
    const depth = 5;
    const section = (Math.PI * R * R) / 2 + 2 * R * (depth - R);
    const ends = (2 / 3) * Math.PI * R ** 3 + Math.PI * R * R * (depth - R);
    agrees([move(at(12, 20, -depth), at(12 + L, 20, -depth))], ball6, section * L + ends);
  });

  it("a shallow groove with a round nose: segments of a circle, caps of a ball", () => {
    const L = 30;
    const h = 1;
    const section = R * R * Math.acos((R - h) / R) - (R - h) * Math.sqrt(2 * R * h - h * h);
    const cap = (Math.PI * h * h * (3 * R - h)) / 3;
    agrees([move(at(12, 20, -h), at(12 + L, 20, -h))], ball6, section * L + cap);
  });

  it("a ramp with a flat cutter: slope·(R·L² + πR²·L)", () => {
    const L = 30;
    const slope = 5 / L;
    agrees([move(at(12, 20, 0), at(12 + L, 20, -5))], flat6, slope * (R * L * L + Math.PI * R * R * L));
  });

  it("a plunge with a V, and a drill: cones", () => {
    const v90 = cutterOf({ kind: "v", includedAngle: 90, tipFlat: 0 }, 12);
    agrees([move(at(30, 20, 1), at(30, 20, -5))], v90, (Math.PI * 5 ** 3) / 3);
    const drill = cutterOf({ kind: "drill", pointAngle: 118 }, 8);
    const point = 4 / Math.tan((59 * Math.PI) / 180);
    agrees([move(at(30, 20, 2), at(30, 20, -10))], drill, Math.PI * 16 * (10 - (2 / 3) * point));
  });
});

describe("volumes against an independent solid library, within 0.5 %", () => {
  let wasm: Awaited<ReturnType<typeof Module>>;
  beforeAll(async () => {
    wasm = await Module();
    wasm.setup();
  });

  /** The cutter as a solid, tip at the origin, 128 sides of the circle's mean radius. */
  function solid(cutter: Cutter): Manifold {
    const f: CutterForm = cutter.form;
    const r = cutter.diameter / 2;
    const points: [number, number][] = [[0, 0]];
    switch (f.kind) {
      case "flat":
        points.push([r, 0]);
        break;
      case "round-nose":
        for (let k = 1; k <= 24; k++)
          points.push([r * Math.sin((k * Math.PI) / 48), r - r * Math.cos((k * Math.PI) / 48)]);
        break;
      case "radiused-corner": {
        const c = f.cornerRadius;
        for (let k = 0; k <= 16; k++) {
          points.push([r - c + c * Math.sin((k * Math.PI) / 32), c - c * Math.cos((k * Math.PI) / 32)]);
        }
        break;
      }
      case "v":
      case "countersink":
        points.push([f.tipFlat / 2, 0], [r, (r - f.tipFlat / 2) / Math.tan((f.includedAngle * Math.PI) / 360)]);
        break;
      case "drill":
        points.push([r, r / Math.tan((f.pointAngle * Math.PI) / 360)]);
        break;
    }
    points.push([r, 30], [0, 30]);
    return wasm.Manifold.revolve([points], 128);
  }

  function sweptVolume(moves: readonly ReadMove[], cutter: Cutter): number {
    const tool = solid(cutter);
    const swept = moves.map((m) => {
      const ends = [m.from, m.to].map((p) => tool.translate([p.x!, p.y!, p.z!]));
      return wasm.Manifold.hull(ends);
    });
    const blank = wasm.Manifold.cube([60, 40, 20]).translate([0, 0, -20]);
    return blank.volume() - blank.subtract(wasm.Manifold.union(swept)).volume();
  }

  const walk = polyline([
    at(10, 10, 1),
    at(10, 10, -3),
    at(40, 14, -3),
    at(44, 30, -6),
    at(20, 28, -2),
    at(14, 18, -5),
    at(30, 20, -5),
    at(52, 20, -8),
  ]);

  const forms: readonly [string, CutterForm][] = [
    ["flat", { kind: "flat" }],
    ["round-nose", { kind: "round-nose" }],
    ["radiused corner", { kind: "radiused-corner", cornerRadius: 1 }],
    ["V", { kind: "v", includedAngle: 60, tipFlat: 0.4 }],
    ["drill", { kind: "drill", pointAngle: 118 }],
  ];
  for (const [name, form] of forms) {
    it(`plunges, level and sloping lines with a ${name} cutter`, () => {
      const cutter = cutterOf(form, 6);
      const exact = sweptVolume(walk, cutter);
      const r = removed(walk, cutter);
      expect(r.least).toBeLessThan(exact);
      expect(r.most).toBeGreaterThan(exact);
      expect(Math.abs(r.middle / exact - 1)).toBeLessThan(0.005);
    });
  }
});
