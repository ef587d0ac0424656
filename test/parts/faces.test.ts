import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FaceName } from "../../src/job/board.ts";
import { borderOf, FACES, faceExtent, faceFrame, normalOf, oppositeOf, runsTowards } from "../../src/parts/faces.ts";
import { compose, inverse, toPart, toSetup } from "../../src/shapes/frame.ts";

const um = (most: number) => fc.integer({ min: 1, max: most * 1000 }).map((n) => n / 1000);
const size = fc.record({ length: um(500), width: um(200), thickness: um(40) });
const face = fc.constantFrom(...FACES);

describe("frames of faces", () => {
  it("lay the face at z = 0, its corners at 0 and its extent, and the wood beneath it", () => {
    fc.assert(
      fc.property(size, face, (s, f) => {
        const frame = faceFrame(s, f);
        const { u, v, deep } = faceExtent(s, f);
        const seen = [0, s.length].flatMap((x) =>
          [0, s.width].flatMap((y) => [0, s.thickness].map((z) => toSetup(frame, { x, y, z }))),
        );
        const range = (k: "x" | "y" | "z") => [Math.min(...seen.map((p) => p[k])), Math.max(...seen.map((p) => p[k]))];
        expect(range("x")[0]).toBeCloseTo(0, 9);
        expect(range("x")[1]).toBeCloseTo(u, 9);
        expect(range("y")[0]).toBeCloseTo(0, 9);
        expect(range("y")[1]).toBeCloseTo(v, 9);
        expect(range("z")[0]).toBeCloseTo(-deep, 9);
        expect(range("z")[1]).toBeCloseTo(0, 9);
      }),
    );
  });

  it("are proper: a handed triple stays handed", () => {
    for (const f of FACES) {
      const [a, b, c] = faceFrame({ length: 3, width: 2, thickness: 1 }, f).rotation;
      const det =
        a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
      expect(det).toBe(1);
    }
  });

  it("agree on a point of the wood, whichever face it is seen from", () => {
    fc.assert(
      fc.property(size, face, face, um(500), um(200), um(40), (s, f, g, x, y, z) => {
        const chain = compose(inverse(faceFrame(s, f)), faceFrame(s, g));
        const seen = toSetup(faceFrame(s, f), { x, y, z });
        const there = toSetup(chain, { x: seen.x, y: seen.y, z: seen.z });
        const back = toPart(faceFrame(s, g), there);
        expect(back.x).toBeCloseTo(x, 9);
        expect(back.y).toBeCloseTo(y, 9);
        expect(back.z).toBeCloseTo(z, 9);
      }),
    );
  });

  it("know their borders: a step towards a border raises or lowers that axis", () => {
    const s = { length: 100, width: 50, thickness: 10 };
    for (const f of FACES) {
      expect(borderOf(f, f)).toBeUndefined();
      expect(borderOf(f, oppositeOf(f))).toBeUndefined();
      for (const g of FACES) {
        const border = borderOf(f, g);
        if (!border) continue;
        const n = normalOf(g);
        const from = toSetup(faceFrame(s, f), { x: 50, y: 25, z: 5 });
        const to = toSetup(faceFrame(s, f), { x: 50 + n[0], y: 25 + n[1], z: 5 + n[2] });
        const moved = border.axis === "u" ? to.x - from.x : to.y - from.y;
        expect(moved).toBe(border.end === "low" ? -1 : 1);
      }
    }
  });

  it("run towards the ends of the axis that neither the face nor the border takes", () => {
    expect(runsTowards("face", "lower edge")).toEqual(["first end", "second end"]);
    expect(runsTowards("back", "second end")).toEqual(["lower edge", "upper edge"]);
    expect(runsTowards("first end", "upper edge")).toEqual(["back", "face"]);
    expect(runsTowards("lower edge", "face")).toEqual(["first end", "second end"]);
    expect(runsTowards("face", "back")).toBeUndefined();
  });

  it("see the back with the lower edge down and the second end left", () => {
    const s = { length: 100, width: 50, thickness: 10 };
    const seen = (f: FaceName, x: number, y: number, z: number) => {
      const p = toSetup(faceFrame(s, f), { x, y, z });
      return [p.x + 0, p.y + 0, p.z + 0];
    };
    expect(seen("back", 100, 0, 0)).toEqual([0, 0, 0]);
    expect(seen("first end", 0, 50, 0)).toEqual([0, 0, 0]);
    expect(seen("second end", 100, 0, 10)).toEqual([0, 10, 0]);
    expect(seen("upper edge", 100, 50, 10)).toEqual([0, 10, 0]);
  });
});
