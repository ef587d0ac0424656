import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Mark } from "../../src/parts/marks/mark.ts";
import { rectangle } from "../../src/shapes/outlines.ts";
import type { Box } from "../../src/shapes/point.ts";
import { boundsOf, line } from "../../src/shapes/segment.ts";
import { markLabels } from "../../src/sheets/beam-labels.ts";
import { mark } from "../plan/beam-fixtures.ts";
import { setUpFor } from "../proof/beam/programs.ts";

const LINE: Mark["made"] = { by: "burned line" };
const AREA: Mark["made"] = { by: "burned area", angleDeg: 0, ways: "two", contour: true };
const stroke = (x0: number, y0: number, x1: number, y1: number) => line({ x: x0, y: y0 }, { x: x1, y: y1 });

function overlaps(a: Box, b: Box): boolean {
  return a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y;
}

describe("labels of marks", () => {
  it("one for a grid with a cell filled, though it is burned as two", () => {
    const grid = [0, 1, 2, 3].map((i) => [stroke(30, 20 + 6 * i, 60, 20 + 6 * i)]);
    const cell: Mark = {
      ...mark(
        "place",
        { kind: "lines and area", chains: grid, region: rectangle({ x: 30, y: 32 }, { x: 45, y: 38 }) },
        AREA,
      ),
    };
    const setUp = setUpFor([cell]);
    expect(setUp.marks.length).toBe(2);
    const labels = markLabels(setUp);
    expect(labels).toHaveLength(1);
    // Below the whole grid, not on its cells.
    expect(labels[0]!.box.max.y).toBeLessThan(20);
  });

  it("pieces of one line along the board share theirs", () => {
    const pieces = [0, 1, 2].map((i) =>
      mark("saw line", { kind: "lines", chains: [[stroke(10 + 25 * i, 30, 30 + 25 * i, 30)]] }, LINE),
    );
    expect(markLabels(setUpFor(pieces)).map((l) => l.words)).toEqual(["saw line, line"]);
  });

  it("cover no line and no other label where there is room", () => {
    const spot = fc.tuple(fc.integer({ min: 15, max: 70 }), fc.integer({ min: 12, max: 48 }));
    fc.assert(
      fc.property(fc.uniqueArray(spot, { minLength: 1, maxLength: 3 }), (spots) => {
        const marks = spots.map(([x, y], i) =>
          mark(`m${i}`, { kind: "lines", chains: [[stroke(x, y, x + 8, y + 2)]] }, LINE),
        );
        const labels = markLabels(setUpFor(marks));
        expect(labels).toHaveLength(marks.length);
        for (const [i, { box }] of labels.entries()) {
          for (const [x, y] of spots) expect(overlaps(box, boundsOf(stroke(x, y, x + 8, y + 2)))).toBe(false);
          for (const other of labels.slice(i + 1)) expect(overlaps(box, other.box)).toBe(false);
        }
      }),
      { numRuns: 30 },
    );
  });
});
