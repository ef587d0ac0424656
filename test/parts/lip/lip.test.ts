import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lipOf, lipPassAngle, lipWallOf, outwards } from "../../../src/parts/lip/lip.ts";
import type { Point3 } from "../../../src/shapes/point.ts";
import { BLANK, type Blank, slot, solidOfBlank } from "../../plan/round-stock.ts";

const um = (min: number, max: number) =>
  fc.integer({ min: Math.round(min * 1000), max: Math.round(max * 1000) }).map((n) => n / 1000);

/** A ball's directions, evenly spread. */
const DIRECTIONS = Array.from({ length: 3000 }, (_, i) => {
  const z = 1 - (2 * i + 1) / 3000;
  const a = Math.PI * (3 - Math.sqrt(5)) * i;
  const r = Math.sqrt(1 - z * z);
  return { x: r * Math.cos(a), y: r * Math.sin(a), z };
});

interface Case {
  readonly blank: Blank;
  readonly length: number;
  readonly width: number;
  readonly tan: number;
}

/** The wood by its plainest description: under the cone or cylinder, and not in the slot. */
function inWood({ blank, length, width, tan }: Case, p: Point3): boolean {
  const [a, b] = blank.radii as readonly [number, number];
  const r = a + ((b - a) * (p.x - blank.square)) / (blank.length - 2 * blank.square);
  if (Math.hypot(p.y - 20, p.z - 20) > r) return false;
  if (blank.half !== undefined && p.z > 20 - blank.half) return false;
  const off = Math.max(0, Math.abs(p.x - 80) - (length - width) / 2);
  const inset = width / 2 - Math.hypot(off, p.y - 20);
  return inset < (40 - p.z) * tan;
}

function lipFor(c: Case, ease: number, step: number) {
  const wall = lipWallOf({ slopeTan: c.tan }, slot({ x: 80, y: 20 }, c.length, c.width), 40, 4);
  return lipOf(solidOfBlank(c.blank), wall!, ease, step);
}

describe("the core's edge of an eased lip", () => {
  it("beside a straight wall in a cylinder: e beneath both, by Pythagoras", () => {
    const c: Case = { blank: BLANK, length: 60, width: 16, tan: 0 };
    const { runs } = lipFor(c, 1.5, 0.5);
    expect(runs).toHaveLength(1);
    expect(runs[0]!.closed).toBe(true);
    const beside = runs[0]!.places.filter((p) => Math.abs(p.at.x - 80) < 20);
    expect(beside.length).toBeGreaterThan(100);
    for (const p of beside) {
      expect(Math.abs(p.at.y - 20)).toBeCloseTo(9.5, 9);
      expect(p.at.z - 20).toBeCloseTo(Math.sqrt(15.5 ** 2 - 9.5 ** 2), 6);
      expect(p.wall.y * Math.sign(p.at.y - 20)).toBeCloseTo(-1, 9);
      expect(Math.hypot(p.skin.y * 15.5 - (p.at.y - 20), p.skin.z * 15.5 - (p.at.z - 20))).toBeLessThan(1e-4);
    }
  });

  it("a ball about it touches surface and wall and just fits in the wood: on cones, sloped walls, halves", () => {
    fc.assert(
      fc.property(
        fc.record({
          a: um(14, 18),
          b: um(14, 18),
          width: um(8, 16),
          lean: fc.constantFrom(0, 0.1),
          half: fc.boolean(),
        }),
        um(0.5, 2.5),
        ({ a, b, width, lean, half }, ease) => {
          const blank: Blank = { ...BLANK, radii: [a, b], ...(half ? { half: 1.2 } : {}) };
          // Above the flat a sloped wall would be wider than the half.
          const c: Case = { blank, length: 50, width: width + 40 * lean, tan: lean };
          const { runs } = lipFor(c, ease, 3);
          for (const { places } of runs) {
            for (const { at, wall, skin, turn } of places) {
              const fits = (p: Point3, r: number): boolean =>
                DIRECTIONS.every((d) => inWood(c, { x: p.x + r * d.x, y: p.y + r * d.y, z: p.z + r * d.z }));
              // Directions leave gaps of 0.04 rad, so a ball seems to fit until it is a thousandth larger.
              expect(fits(at, ease * 0.9999)).toBe(true);
              for (const n of [wall, skin]) {
                const out = { x: at.x + 0.01 * n.x, y: at.y + 0.01 * n.y, z: at.z + 0.01 * n.z };
                expect(fits(out, ease)).toBe(false);
                const beyond = ease + 0.001;
                expect(inWood(c, { x: at.x + beyond * n.x, y: at.y + beyond * n.y, z: at.z + beyond * n.z })).toBe(
                  false,
                );
              }
              expect(wall.x * skin.x + wall.y * skin.y + wall.z * skin.z).toBeCloseTo(Math.cos(turn), 9);
            }
          }
        },
      ),
      { numRuns: 12 },
    );
  });

  it("there is none where the slot leaves the wood", () => {
    const c: Case = { blank: { ...BLANK, radii: [12, 17] }, length: 116, width: 23, tan: 0 };
    const { runs } = lipFor(c, 1.5, 0.5);
    expect(runs.length).toBeGreaterThan(0);
    expect(runs.every((r) => !r.closed)).toBe(true);
  });
});

describe("passes about it", () => {
  it("stand so that two balls meet at just the ridge", () => {
    for (const [ease, nose, ridge] of [
      [1.5, 3, 0.02],
      [3, 1.5, 0.02],
      [0.5, 6, 0.01],
    ] as const) {
      const angle = lipPassAngle(ease, nose, ridge);
      // The point on the bisector, ridge above the tube, lies on both balls.
      const [x, y] = [(ease + nose) * Math.cos(angle / 2), (ease + nose) * Math.sin(angle / 2)];
      expect(Math.hypot(ease + ridge - x, y)).toBeCloseTo(nose, 9);
    }
  });

  it("directions run from the wall's to the surface's, even and of length one", () => {
    const place = {
      at: { x: 0, y: 0, z: 0 },
      wall: { x: 1, y: 0, z: 0 },
      skin: { x: -0.6, y: 0, z: 0.8 },
      turn: Math.acos(-0.6),
    };
    for (const share of [0, 0.25, 0.5, 1]) {
      const n = outwards(place, share);
      expect(n.x).toBeCloseTo(Math.cos(share * place.turn), 9);
      expect(n.z).toBeCloseTo(Math.sin(share * place.turn), 9);
    }
  });
});
