import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitArcs, fitRegion } from "../../src/shapes/fit-arcs.ts";
import { flattenLoop, flattenRegion, flattenSegment } from "../../src/shapes/flatten.ts";
import { offsetPolygons, offsetRegion } from "../../src/shapes/offset.ts";
import { circle, rectangle, roundedRectangle, slot } from "../../src/shapes/outlines.ts";
import type { Point } from "../../src/shapes/point.ts";
import { areaOf } from "../../src/shapes/region.ts";
import { line, pointAt, radiusOf, reversed, type Segment, sweepRad } from "../../src/shapes/segment.ts";
import { indexSegments, nearestDistance } from "../../src/shapes/segment-index.ts";
import { L_SHAPE, points, segments, star, starRings } from "./generators.ts";

const o = { x: 0, y: 0 };
const kinds = (loop: readonly Segment[]): string => {
  const arcs = loop.filter((s) => s.kind === "arc").length;
  return `${loop.length - arcs} lines, ${arcs} arcs`;
};

/** Farthest that the pieces stray from the chords, and the chords from the pieces, by dense sampling. */
function strays(pieces: readonly Segment[], ring: readonly Point[], closed: boolean): readonly [number, number] {
  const chords = ring
    .slice(0, closed ? ring.length : -1)
    .map((p, i) => line(p, ring[(i + 1) % ring.length]!))
    .filter((s) => s.from.x !== s.to.x || s.from.y !== s.to.y);
  const most = (these: readonly Segment[], those: readonly Segment[], n: number): number => {
    const index = indexSegments(those);
    return Math.max(
      0,
      ...these.map((s) =>
        Math.max(...Array.from({ length: n + 1 }, (_, i) => nearestDistance(index, pointAt(s, i / n)))),
      ),
    );
  };
  return [most(pieces, chords, 64), most(chords, pieces, 6)];
}

describe("exact minima", () => {
  it("inward offset of the L-shape: 6 lines and 1 arc", () => {
    const [ring] = offsetPolygons([L_SHAPE], -1.5, 0.001);
    const fitted = fitArcs(ring!, 0.001, true);
    expect(kinds(fitted)).toBe("6 lines, 1 arcs");
    // Offset and fit may each move the boundary, 54.4 mm long, by 1 µm.
    expect(Math.abs(areaOf({ loops: [fitted] }) - 189.482854)).toBeLessThan(0.002 * 54.4);
  });

  it("a slot: 2 lines and 2 arcs, wherever its ring begins", () => {
    const ring = flattenRegion(slot(o, 50, 6, 17), 0.0005)[0]!;
    for (const k of [0, 1, 5, 20, ring.length - 3]) {
      expect(kinds(fitArcs([...ring.slice(k), ...ring.slice(0, k)], 0.001, true))).toBe("2 lines, 2 arcs");
    }
  });

  it("circles of all sizes: 2 arcs", () => {
    for (const r of [0.05, 0.5, 3, 47, 600]) {
      expect(kinds(fitArcs(flattenRegion(circle({ x: 3, y: 4 }, r), 0.0005)[0]!, 0.001, true))).toBe("0 lines, 2 arcs");
    }
  });

  it("a rounded rectangle: 4 and 4; a rectangle grown by a round cutter: 4 and 4; a plain one: 4", () => {
    expect(kinds(fitArcs(flattenRegion(roundedRectangle(o, 30, 20, 4, 12), 0.0005)[0]!, 0.001, true))).toBe(
      "4 lines, 4 arcs",
    );
    expect(kinds(fitArcs(offsetRegion(rectangle(o, { x: 30, y: 20 }), 3, 0.001)[0]!, 0.001, true))).toBe(
      "4 lines, 4 arcs",
    );
    expect(kinds(fitArcs(offsetRegion(rectangle(o, { x: 30, y: 20 }), -3, 0.001)[0]!, 0.001, true))).toBe(
      "4 lines, 0 arcs",
    );
  });

  it("offsets of outlines with arcs come back as arcs", () => {
    for (const delta of [-2, 3]) {
      const region = fitRegion(offsetRegion(roundedRectangle(o, 40, 24, 5, 30), delta, 0.001), 0.001);
      expect(kinds(region.loops[0]!)).toBe("4 lines, 4 arcs");
      for (const s of region.loops[0]!) if (s.kind === "arc") expect(radiusOf(s)).toBeCloseTo(5 + delta, 1);
    }
  });

  it("an ellipse takes a fifth of the chords, or fewer", () => {
    const n = 3140;
    const ring = Array.from({ length: n }, (_, i) => ({
      x: 10 * Math.cos((2 * Math.PI * i) / n),
      y: 5 * Math.sin((2 * Math.PI * i) / n),
    }));
    // 314 chords keep an ellipse 20 × 10 within 1 µm.
    expect(fitArcs(ring, 0.001, true).length).toBeLessThanOrEqual(314 / 5);
  });
});

describe("the stated tolerance, both ways", () => {
  const judge = (ring: readonly Point[], tolerance: number, closed: boolean): readonly Segment[] => {
    const pieces = fitArcs(ring, tolerance, closed);
    const [out, back] = strays(pieces, ring, closed);
    expect(out).toBeLessThanOrEqual(tolerance * 1.000001 + 1e-9);
    expect(back).toBeLessThanOrEqual(tolerance * 1.000001 + 1e-9);
    return pieces;
  };

  it("holds on offsets of random stars, closed bit for bit", () => {
    fc.assert(
      fc.property(starRings, fc.constantFrom(-1, 2, 5), fc.constantFrom(0.001, 0.01), (star, delta, tolerance) => {
        for (const ring of offsetPolygons([star], delta, tolerance)) {
          const pieces = judge(ring, tolerance, true);
          for (const [i, s] of pieces.entries()) expect(pieces[(i + 1) % pieces.length]!.from).toEqual(s.to);
          for (const s of pieces) {
            expect(ring).toContain(s.from);
            if (s.kind === "arc") expect(Math.abs(sweepRad(s))).toBeLessThan(1.26 * Math.PI);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it("holds on open chains of segments, whose ends it keeps", () => {
    fc.assert(
      fc.property(segments, points, (s, p) => {
        const chain = [...flattenSegment(s, 0.0005), p];
        const pieces = judge(chain, 0.001, false);
        expect(pieces[0]!.from).toEqual(chain[0]);
        expect(pieces[pieces.length - 1]!.to).toEqual(p);
      }),
      { numRuns: 100 },
    );
  });

  it("holds on noise, where nothing fits for long", () => {
    fc.assert(
      fc.property(
        fc.array(points, { minLength: 2, maxLength: 40 }),
        fc.constantFrom(0.001, 1, 20),
        (chain, tolerance) => {
          judge(chain, tolerance, false);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("finds one arc in what was one arc, walked either way", () => {
    fc.assert(
      fc.property(segments, (s) => {
        if (s.kind === "line" || Math.abs(sweepRad(s)) > 1.2 * Math.PI || radiusOf(s) < 0.01) return;
        for (const t of [s, reversed(s)]) {
          const pieces = fitArcs(flattenSegment(t, 0.0005), 0.001, false);
          expect(pieces.length).toBe(1);
          const [piece] = pieces;
          if (piece!.kind === "arc" && t.kind === "arc") expect(piece!.ccw).toBe(t.ccw);
        }
      }),
    );
  });

  it("on the star keeps within 1 µm with a seventh of the moves", () => {
    const ring = star(10_000);
    const pieces = judge(ring, 0.001, true);
    expect(pieces.length).toBeLessThan(300);
  });
});

describe("small things", () => {
  it("nothing in, nothing out; two points make a line", () => {
    expect(fitArcs([], 0.001, false)).toEqual([]);
    expect(fitArcs([o], 0.001, false)).toEqual([]);
    expect(fitArcs([o, { x: 1, y: 0 }], 0.001, false)).toEqual([line(o, { x: 1, y: 0 })]);
    expect(fitArcs([o, { x: 1, y: 0 }], 0.001, true)).toEqual([]);
    expect(fitArcs([o, o, { x: 1, y: 0 }, { x: 1, y: 0 }], 0.001, false)).toEqual([line(o, { x: 1, y: 0 })]);
    expect(() => fitArcs([o], 0, false)).toThrow(RangeError);
  });

  it("a path that doubles back keeps its length", () => {
    const back = [o, { x: 10, y: 0 }, { x: 2, y: 0 }, { x: 7, y: 0 }];
    expect(fitArcs(back, 0.001, false)).toHaveLength(3);
  });

  it("a ring given with its first point repeated is the same ring", () => {
    const ring = flattenLoop(circle(o, 5).loops[0]!, 0.0005);
    expect(fitArcs([...ring, ring[0]!], 0.001, true)).toEqual(fitArcs(ring, 0.001, true));
  });
});
