import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ArcPath, pathOf } from "../../src/simulate/path.ts";
import { bandRows, boxRows, type RowVisitor, stripRows } from "../../src/simulate/rows.ts";
import { rowNear, rowWithin } from "../../src/simulate/stretches.ts";
import type { Grid } from "../../src/simulate/wood.ts";
import { at, mm, move } from "./help.ts";

const GRID: Grid = { origin: { x: -1, y: -1 }, cell: 0.37, nx: 60, ny: 50 };

/** Cells that were visited must be those whose centres lie within r, rounding apart. */
function visitsExactly(rows: (visit: RowVisitor) => void, distance: (x: number, y: number) => number, r: number): void {
  const seen = new Uint8Array(GRID.nx * GRID.ny);
  rows((j, first, last) => {
    expect(first).toBeLessThanOrEqual(last);
    seen.fill(1, j * GRID.nx + first, j * GRID.nx + last + 1);
  });
  let wrong = 0;
  for (let j = 0; j < GRID.ny; j++) {
    for (let i = 0; i < GRID.nx; i++) {
      const d = distance(GRID.origin.x + (i + 0.5) * GRID.cell, GRID.origin.y + (j + 0.5) * GRID.cell);
      if (Math.abs(d - r) > 1e-7 && (seen[j * GRID.nx + i] === 1) !== d < r) wrong++;
    }
  }
  expect(wrong).toBe(0);
}

const place = fc.tuple(mm(-3, 22), mm(-3, 19)).map(([x, y]) => ({ x, y }));

function toLine(a: { x: number; y: number }, b: { x: number; y: number }, x: number, y: number): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.max(0, Math.min(1, ((x - a.x) * dx + (y - a.y) * dy) / l2));
  return Math.hypot(x - a.x - t * dx, y - a.y - t * dy);
}

describe("rows of cells within reach", () => {
  it("of a straight line, also one without length or along an axis", () => {
    const pair = fc.oneof(
      fc.tuple(place, place),
      place.map((p) => [p, p] as const),
      fc.tuple(place, mm(-3, 22)).map(([p, x]) => [p, { x, y: p.y }] as const),
    );
    fc.assert(
      fc.property(pair, mm(0.05, 6), ([a, b], r) => {
        visitsExactly(
          (visit) => stripRows(GRID, a, b, r, undefined, visit),
          (x, y) => toLine(a, b, x, y),
          r,
        );
      }),
      { numRuns: 200 },
    );
  });

  it("of a line, less a disc that was swept before", () => {
    fc.assert(
      fc.property(place, place, mm(0.5, 5), (a, b, r) => {
        visitsExactly(
          (visit) => stripRows(GRID, a, b, r, { ...a, radius: r }, visit),
          (x, y) =>
            Math.hypot(x - a.x, y - a.y) <= r
              ? r + Math.max(1e-6, r - Math.hypot(x - a.x, y - a.y))
              : toLine(a, b, x, y),
          r,
        );
      }),
      { numRuns: 150 },
    );
  });

  it("of an arc, longer or shorter than half a turn, wider than its own radius or not", () => {
    fc.assert(
      fc.property(
        place,
        mm(0.2, 9),
        mm(0, 6.283),
        mm(0.02, 6.283),
        fc.boolean(),
        mm(0.05, 5),
        (c, R, s, turn, ccw, r) => {
          const on = (angle: number) => at(c.x + R * Math.cos(angle), c.y + R * Math.sin(angle), 0);
          const arc = pathOf(move(on(s), on(s + (ccw ? turn : -turn)), { arc: { centre: c, ccw } })) as ArcPath;
          visitsExactly(
            (visit) => bandRows(GRID, arc, r, undefined, visit),
            (x, y) => {
              const angle = Math.atan2(y - c.y, x - c.x) - s;
              const ahead = (((ccw ? angle : -angle) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
              if (ahead <= turn) return Math.abs(Math.hypot(x - c.x, y - c.y) - R);
              return Math.min(...[arc.from, arc.to].map((p) => Math.hypot(x - p.x, y - p.y)));
            },
            r,
          );
        },
      ),
      { numRuns: 250 },
    );
  });

  it("of a box", () => {
    fc.assert(
      fc.property(place, mm(0, 9), mm(0, 9), mm(0.05, 4), (p, w, h, r) => {
        const max = { x: p.x + w, y: p.y + h };
        const gap = (v: number, low: number, high: number) => Math.max(0, low - v, v - high);
        visitsExactly(
          (visit) => boxRows(GRID, p, max, r, visit),
          (x, y) => Math.hypot(gap(x, p.x, max.x), gap(y, p.y, max.y)),
          r,
        );
      }),
      { numRuns: 100 },
    );
  });
});

describe("stretches of a row inside polygons", () => {
  const ring = [
    { x: 0, y: 0 },
    { x: 12, y: 1 },
    { x: 10, y: 9 },
    { x: 6, y: 4 },
    { x: 1, y: 8 },
  ];
  const hole = [
    { x: 3, y: 2 },
    { x: 3, y: 4 },
    { x: 5, y: 2.5 },
  ];
  const polygons = [ring, hole];
  const edge = (x: number, y: number) =>
    Math.min(...polygons.flatMap((p) => p.map((a, i) => toLine(a, p[(i + 1) % p.length]!, x, y))));
  const inside = (x: number, y: number) => {
    let odd = false;
    for (const p of polygons) {
      for (const [i, a] of p.entries()) {
        const b = p[(i + 1) % p.length]!;
        if (a.y > y !== b.y > y && x < a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
      }
    }
    return odd;
  };
  const holds = (stretches: readonly (readonly [number, number])[], x: number) =>
    stretches.some(([lo, hi]) => x >= lo && x <= hi);

  it("drawn in or out by a distance", () => {
    fc.assert(
      fc.property(mm(-2, 14), mm(-2, 11), mm(-1.5, 1.5), (x, y, inset) => {
        const signed = edge(x, y) * (inside(x, y) ? 1 : -1);
        if (Math.abs(signed - inset) < 1e-6) return;
        expect(holds(rowWithin(polygons, y, inset), x)).toBe(signed > inset);
      }),
      { numRuns: 1000 },
    );
  });

  it("seen from rows that may be off: inside for all of them, or for any", () => {
    fc.assert(
      fc.property(mm(-2, 14), mm(-2, 11), mm(0.05, 0.8), fc.boolean(), (x, y, by, all) => {
        const rows = Array.from({ length: 81 }, (_, k) => y + by * (k / 40 - 1));
        // A corner that only just reaches a row between two looks is left out.
        if (
          polygons.flat().some((p) => Math.abs(p.x - x) < by / 10) ||
          edge(x, y + by) < 0.02 ||
          edge(x, y - by) < 0.02
        )
          return;
        const found = holds(rowNear(polygons, y, by, 0, all), x);
        const sampled = all ? rows.every((r) => inside(x, r)) : rows.some((r) => inside(x, r));
        expect(found).toBe(sampled);
      }),
      { numRuns: 1000 },
    );
  });
});
