import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { filmOf } from "../../src/fit/finish.ts";
import { equilibriumMoisture } from "../../src/fit/moisture.ts";
import {
  coefficientInWords,
  coefficientOf,
  directionOf,
  growthOf,
  growthPerPercentNow,
  movementForm,
} from "../../src/fit/movement.ts";
import { defaultWoods } from "../../src/shop/default-woods.ts";
import type { WoodKind } from "../../src/shop/wood.ts";

const wood = (name: string): WoodKind => defaultWoods().find((w) => w.name === name)!;
/** A wood with one coefficient, for examples that give no species. */
const moving = (perPercent: number): WoodKind => ({
  name: "example",
  alsoCalled: [],
  class: "hardwood",
  tangentialPerPercent: { value: perPercent, source: "the example" },
  from: "shop file",
});
const inch = 25.4;
const solid = defaultWoods().filter((w) => w.class === "hardwood" || w.class === "softwood");
const moistures = fc.integer({ min: 600, max: 1400 }).map((m) => m / 100);
const anyMoisture = fc.integer({ min: 0, max: 3000 }).map((m) => m / 100);

describe("movement from 6 to 14 %", () => {
  it("is the Wood Handbook's example: white fir, 232 mm flat-sawn, 8 to 11 %: + 1.7 mm, 233.7 mm (FPL-GTR-190 ch. 13)", () => {
    const growth = growthOf(232, wood("white fir"), "tangential", 8, 11);
    expect(growth.change).toBeCloseTo(1.7052, 3);
    expect(232 + growth.change).toBeCloseTo(233.7, 1);
    expect(growth).toMatchObject({ form: "6 to 14 %" });
  });

  it("is the same example in inches: 9.15 in gains 0.067 in, 9.217 in", () => {
    const growth = growthOf(9.15 * inch, wood("white fir"), "tangential", 8, 11);
    expect(Math.abs(growth.change / inch - 0.067)).toBeLessThan(0.0005);
    expect(Math.abs((9.15 * inch + growth.change) / inch - 9.217)).toBeLessThan(0.0005);
  });

  it("moves the thickness of that flat-sawn board by the radial coefficient, 0.00112 (FPL-GTR-190 ch. 13)", () => {
    const across = directionOf("thickness", "along length", "flat-sawn", wood("white fir"));
    expect(across).toBe("radial");
    expect(growthOf(100, wood("white fir"), across, 8, 11).change).toBeCloseTo(100 * 0.00112 * 3, 9);
  });

  it("is a flooring trade page's example: 5 in, 0.00129, 6 to 9 %: 0.019 in", () => {
    expect(Math.abs(growthOf(5 * inch, moving(0.00129), "tangential", 6, 9).change / inch - 0.019)).toBeLessThan(
      0.0005,
    );
  });

  it("is a woodworking magazine's example (September 2021): 8 in, 0.0026, 6 % more: 0.1248 in", () => {
    expect(growthOf(8 * inch, moving(0.0026), "tangential", 7, 13).change / inch).toBeCloseTo(0.1248, 4);
  });

  it("is a cabinetmaker's example (2012): a 3/8 in maple side, 70 °F, 35 to 80 % humidity: 0.012 in", () => {
    // 16 % lies outside the coefficients' range, so the example's own form is worked beside ours.
    const celsius = ((70 - 32) * 5) / 9;
    const from = equilibriumMoisture({ celsius, humidity: 35 });
    const to = equilibriumMoisture({ celsius, humidity: 80 });
    const c = coefficientOf(wood("hard maple"), "tangential")!.used.value;
    expect(Math.abs((3 / 8) * c * (to - from) - 0.012)).toBeLessThan(0.0003);
    const ours = growthOf((3 / 8) * inch, wood("hard maple"), "tangential", from, to);
    expect(ours.form).toBe("outside 6 to 14 %");
    expect(Math.abs(ours.change / inch - 0.012)).toBeLessThan(0.0003);
  });
});

describe("movement outside 6 to 14 %", () => {
  it("says so, at 4 % and at 16 % (title of Table 13-5, Wood Handbook FPL-GTR-190)", () => {
    for (const m of [4, 16]) {
      expect(movementForm(8, m)).toBe("outside 6 to 14 %");
      expect(movementForm(m, 8)).toBe("outside 6 to 14 %");
      expect(growthOf(100, wood("hard maple"), "tangential", 8, m).form).toBe("outside 6 to 14 %");
    }
    expect(movementForm(6, 14)).toBe("6 to 14 %");
  });

  it("follows the handbook's eq. 13-3 (its form from memory): sugar maple, 100 mm, 8 to 16 %", () => {
    // 8 / (3000 / 9.9 − 30 + 8)
    expect(growthOf(100, wood("hard maple"), "tangential", 8, 16).change).toBeCloseTo(800 / (3000 / 9.9 - 22), 9);
  });

  it("is one straight line of shrinkage: by way of fibre saturation it comes to the same size", () => {
    fc.assert(
      fc.property(anyMoisture, fc.constantFrom(...solid), (m, w) => {
        // From oven-dry and from fibre saturation, so that the outside form holds all the way.
        const direct = growthOf(100, w, "tangential", 0, m).factor;
        const over = growthOf(100, w, "tangential", 0, 30).factor * growthOf(100, w, "tangential", 30, m).factor;
        expect(over).toBeCloseTo(direct, 10);
      }),
      { numRuns: 40 },
    );
  });

  it("from fibre saturation to oven-dry shrinks by the table's shrinkage, or more where its coefficient says more", () => {
    for (const w of solid) {
      const shrunk = -growthOf(100, w, "tangential", 30, 0).change;
      expect(shrunk, w.name).toBeGreaterThanOrEqual(w.tangentialShrinkage!.value - 1e-9);
      const others = w.tangentialElsewhere === undefined && !/group/.test(w.tangentialPerPercent!.source);
      if (others) expect(shrunk, w.name).toBeCloseTo(w.tangentialShrinkage!.value, 1);
    }
  });

  it("cannot be asked beyond fibre saturation", () => {
    expect(() => growthOf(100, wood("ash"), "tangential", 8, 31)).toThrow(RangeError);
    expect(() => growthOf(100, wood("ash"), "tangential", -1, 8)).toThrow(RangeError);
  });
});

describe("coefficients", () => {
  it.each([
    ["hard maple", 9.9, 0.00353, 4.8, 0.00165],
    ["beech", 11.9, 0.00431, 5.5, 0.0019],
  ] as const)(
    "of %s follow from Table 4-3's shrinkage and stand in Table 13-5 (Wood Handbook)",
    (name, st, ct, sr, cr) => {
      const w = wood(name);
      expect(st / (3000 - 20 * st)).toBeCloseTo(ct, 5);
      expect(sr / (3000 - 20 * sr)).toBeCloseTo(cr, 5);
      expect(coefficientOf(w, "tangential")!.used.value).toBe(ct);
      expect(coefficientOf(w, "radial")!.used.value).toBe(cr);
      expect(w.tangentialShrinkage!.value).toBe(st);
      expect(w.radialShrinkage!.value).toBe(sr);
    },
  );

  it("are the larger where the handbook's tables disagree, with both named", () => {
    for (const [name, radial, tangential] of [
      ["red oak", [0.00158, 0.00137], [0.00369, 0.00304]],
      ["white oak", [0.00194, 0.0018], [0.00376, 0.00365]],
      ["mahogany", [0.00172, 0.00102], [0.00238, 0.00141]],
      ["African mahogany", [0.00141, 0.00085], [0.00201, 0.00155]],
      ["teak", [0.00101, 0.00085], [0.00201, 0.00186]],
    ] as const) {
      for (const [direction, [more, less]] of [
        ["radial", radial],
        ["tangential", tangential],
      ] as const) {
        const c = coefficientOf(wood(name), direction)!;
        expect([c.used.value, ...c.elsewhere.map((e) => e.value)], `${name} ${direction}`).toEqual([more, less]);
        expect(coefficientInWords(c)).toContain(String(more));
        expect(coefficientInWords(c)).toContain(String(less));
        expect(c.shrinkage.value / (3000 - 20 * c.shrinkage.value)).toBeGreaterThanOrEqual(more - 1e-12);
      }
    }
  });

  it("know which of them are remembered", () => {
    expect(coefficientOf(wood("ash"), "tangential")!.unsure).toBe(false);
    expect(coefficientOf(wood("sapele"), "tangential")!.unsure).toBe(true);
    expect(coefficientOf(wood("African mahogany"), "radial")!.unsure).toBe(true);
  });

  it("of a wood without numbers are those of the built-in wood that moves most, and say so", () => {
    const unknown: WoodKind = { name: "bog oak", alsoCalled: [], class: "hardwood", from: "shop file" };
    const most = Math.max(...solid.map((w) => w.tangentialPerPercent!.value));
    const c = coefficientOf(unknown, "tangential")!;
    expect(c).toMatchObject({ assumed: true, unsure: true, used: { value: most } });
    expect(c.used.source).toMatch(/no number for bog oak/);
    const sheet: WoodKind = { ...unknown, class: "mdf" };
    expect(coefficientOf(sheet, "in sheet")!.assumed).toBe(true);
    expect(coefficientOf(sheet, "through sheet")!.assumed).toBe(true);
  });

  it("of plywood in its plane are 0.0002 per 1 % (Wood Handbook ch. 12)", () => {
    const ply = wood("plywood");
    expect(directionOf("length", "along length", "unsaid", ply)).toBe("in sheet");
    expect(directionOf("thickness", "none", "unsaid", ply)).toBe("through sheet");
    expect(growthOf(200, ply, "in sheet", 6, 12).change).toBeCloseTo(200 * 0.0002 * 6, 9);
  });
});

describe("the way the wood runs", () => {
  const ash = wood("ash");
  it("along the grain nothing moves", () => {
    expect(directionOf("length", "along length", "flat-sawn", ash)).toBe("along");
    expect(directionOf("width", "along width", "quartersawn", ash)).toBe("along");
    expect(growthOf(300, ash, "along", 6, 13)).toMatchObject({ change: 0, factor: 1 });
    expect(growthPerPercentNow(ash, "along", 6, 13)).toBe(0);
  });

  it("a flat-sawn board widens tangentially and thickens radially; quartersawn the other way about", () => {
    expect(directionOf("width", "along length", "flat-sawn", ash)).toBe("tangential");
    expect(directionOf("thickness", "along length", "flat-sawn", ash)).toBe("radial");
    expect(directionOf("width", "along length", "quartersawn", ash)).toBe("radial");
    expect(directionOf("thickness", "along length", "quartersawn", ash)).toBe("tangential");
    expect(directionOf("length", "along width", "flat-sawn", ash)).toBe("tangential");
  });

  it("counts the larger both ways where nobody said how it was sawn", () => {
    for (const w of solid) {
      const both = directionOf("width", "along length", "unsaid", w);
      expect(both).toBe("across");
      expect(directionOf("thickness", "none", "unsaid", w)).toBe("across");
      expect(coefficientOf(w, both)!.used.value).toBe(
        Math.max(w.radialPerPercent!.value, w.tangentialPerPercent!.value),
      );
    }
  });
});

describe("growth", () => {
  const directions = fc.constantFrom("radial", "tangential", "across") as fc.Arbitrary<
    "radial" | "tangential" | "across"
  >;
  const woods = fc.constantFrom(...solid);
  const sizes = fc.integer({ min: 1000, max: 400_000 }).map((um) => um / 1000);

  it("is nothing where nothing changes, goes with size, and rises with the second moisture", () => {
    fc.assert(
      fc.property(sizes, woods, directions, anyMoisture, anyMoisture, (size, w, d, from, to) => {
        expect(growthOf(size, w, d, from, from).change).toBeCloseTo(0, 12);
        const g = growthOf(size, w, d, from, to);
        expect(growthOf(2 * size, w, d, from, to).change).toBeCloseTo(2 * g.change, 9);
        expect(g.factor * size).toBeCloseTo(size + g.change, 9);
        expect(Math.sign(g.change)).toBe(Math.sign(to - from));
      }),
      { numRuns: 60 },
    );
  });

  it("changes with today's moisture as its derivative says", () => {
    fc.assert(
      fc.property(woods, directions, moistures, moistures, (w, d, from, to) => {
        const step = 1e-6;
        // Away from the ends of the range, where the form changes.
        if (from < 6.01 || from > 13.99) return;
        const slope =
          (growthOf(1, w, d, from + step, to).change - growthOf(1, w, d, from - step, to).change) / (2 * step);
        expect(growthPerPercentNow(w, d, from, to)).toBeCloseTo(slope, 7);
        const out =
          (growthOf(1, w, d, from + step, 20).change - growthOf(1, w, d, from - step, 20).change) / (2 * step);
        expect(growthPerPercentNow(w, d, from, 20)).toBeCloseTo(out, 7);
      }),
      { numRuns: 60 },
    );
  });
});

describe("finish on a face", () => {
  it("is wet film × solids: 3 mil wet of 30 % leave 0.9 mil (a woodworking journal, 2013)", () => {
    const mil = 0.0254;
    expect(filmOf({ kind: "coats", coats: 1, wet: 3 * mil, solids: 0.3 }).thickness).toBeCloseTo(0.9 * mil, 12);
  });

  it("is 1.5 mil after a first coat scuffed by 0.3 and a second (the same)", () => {
    const mil = 0.0254;
    const two = filmOf({ kind: "coats", coats: 2, wet: 3 * mil, solids: 0.3, rubbedOff: 0.3 * mil });
    expect(two.thickness).toBeCloseTo(1.5 * mil, 12);
  });

  it("is what the user found, nothing on bare wood, and remembered otherwise", () => {
    expect(filmOf({ kind: "film", film: 0.04 }).thickness).toBe(0.04);
    expect(filmOf({ kind: "none" }).thickness).toBe(0);
    for (const kind of ["oil or wax", "varnish"] as const) expect(filmOf({ kind }).source).toMatch(/from memory/);
  });
});
