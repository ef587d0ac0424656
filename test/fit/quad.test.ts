import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Quad } from "../../src/fit/fit-plan.ts";
import { boxAround, falling, insetQuad, quadOf, rising, uprightWithin } from "../../src/fit/quad.ts";
import type { Point } from "../../src/shapes/point.ts";

const um = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((v) => v / 1000);
const far = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y);

/** A mouth nearly square, its lower edge along x. */
const mouths = fc
  .record({ w: um(50, 800), h: um(40, 300), bx: um(-3, 3), cx: um(-3, 3), cy: um(-3, 3), dx: um(-3, 3), dy: um(-3, 3) })
  .map(
    ({ w, h, bx, cx, cy, dx, dy }): Quad => [
      { x: 0, y: 0 },
      { x: w + bx, y: 0 },
      { x: w + cx, y: h + cy },
      { x: dx, y: h + dy },
    ],
  );

describe("the shape of a mouth", () => {
  it("comes back from its four edges and the difference of its diagonals", () => {
    fc.assert(
      fc.property(mouths, (q) => {
        const edges = { bottom: far(q[0], q[1]), right: far(q[1], q[2]), top: far(q[2], q[3]), left: far(q[3], q[0]) };
        const made = quadOf(edges, far(q[0], q[2]) - far(q[3], q[1]))!;
        for (const [i, p] of q.entries()) expect(far(made[i]!, p)).toBeLessThan(1e-6);
        expect(rising(made)).toBeCloseTo(far(q[0], q[2]), 6);
        expect(falling(made)).toBeCloseTo(far(q[3], q[1]), 6);
      }),
      { numRuns: 50 },
    );
  });

  it("is a rhombus of the diagonals that a leaning square has", () => {
    // A rhombus of side a leaning by φ has diagonals 2a·cos((90° − φ) / 2) and 2a·sin((90° − φ) / 2).
    const a = 100;
    const lean = (5 * Math.PI) / 180;
    const half = (Math.PI / 2 - lean) / 2;
    const made = quadOf({ bottom: a, right: a, top: a, left: a }, 2 * a * (Math.cos(half) - Math.sin(half)))!;
    expect(made[3].x).toBeCloseTo(a * Math.sin(lean), 6);
    expect(made[3].y).toBeCloseTo(a * Math.cos(lean), 6);
  });

  it("is refused where no mouth has such diagonals", () => {
    expect(quadOf({ bottom: 100, right: 50, top: 100, left: 50 }, 60)).toBeUndefined();
    expect(quadOf({ bottom: 100, right: 50, top: 300, left: 50 }, 0)).toBeUndefined();
  });

  it("moved inwards keeps each edge at its distance", () => {
    fc.assert(
      fc.property(mouths, um(0, 2), um(0, 2), um(0, 2), um(0, 2), (q, bottom, right, top, left) => {
        const inner = insetQuad(q, { bottom, right, top, left });
        const by = [bottom, right, top, left];
        for (let i = 0; i < 4; i++) {
          const [a, b] = [q[i]!, q[(i + 1) % 4]!];
          const along = far(a, b);
          for (const p of [inner[i]!, inner[(i + 1) % 4]!]) {
            const distance = ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / along;
            expect(distance).toBeCloseTo(by[i]!, 6);
          }
        }
      }),
      { numRuns: 30 },
    );
  });

  it("holds the widest upright stretch between its sides, and a box around all of it", () => {
    const q: Quad = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 101, y: 50 },
      { x: 1, y: 50 },
    ];
    expect(uprightWithin(q, 0, 50)).toEqual({ left: 1, right: 100 });
    expect(uprightWithin(q, 0, 25)).toEqual({ left: 0.5, right: 100 });
    expect(boxAround(q)).toEqual({ min: { x: 0, y: 0 }, max: { x: 101, y: 50 } });
  });
});
