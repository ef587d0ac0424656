import fc from "fast-check";
import Fraction from "fraction.js";
import { describe, expect, it } from "vitest";
import { readQuantity, readValue } from "../../src/units/quantity.ts";
import type { QuantityKind } from "../../src/units/unit-table.ts";

function value(text: string, kind: QuantityKind = "length", unit: "mm" | "in" = "mm"): number {
  const r = readQuantity(text, kind, unit);
  if (!r.ok) throw new Error(`${text}: ${r.problem.code} ${r.problem.what}`);
  return r.value;
}

function problem(text: string, kind: QuantityKind = "length", unit: "mm" | "in" = "mm") {
  const r = readQuantity(text, kind, unit);
  if (r.ok) throw new Error(`${text} was read as ${r.value}`);
  return r.problem;
}

describe("sizes as they are said in a shop", () => {
  it.each([
    ["12", 12],
    ["19 mm", 19],
    ["19mm", 19],
    ["1.9 cm", 19],
    ["0.6 m", 600],
    [".5", 0.5],
    ["5.", 5],
    ["007", 7],
    ["3/4 in", 19.05],
    ["3/4in", 19.05],
    ['3/4"', 19.05],
    ['1 1/2"', 38.1],
    ['1-1/2"', 38.1],
    ["1-1/2 in", 38.1],
    ["1  1/2 inches", 38.1],
    ['0.75"', 19.05],
    ["6'", 1828.8],
    ["6' 3\"", 1905],
    ["6 ft 3 1/2 in", 1917.7],
    ["1''", 25.4],
    ["5 thou", 0.127],
    ["-3 mm", -3],
    ["- 3 mm", -3],
    ["+3", 3],
    ["3/4 mm", 0.75],
    // as phones and word processors write them
    ["3/4″", 19.05],
    ["3/4”", 19.05],
    ["6′ 3″", 1905],
    ["1½ in", 38.1],
    ["1 ½ in", 38.1],
    ["¾″", 19.05],
    ["1–1/2 in", 38.1],
    ["−3 mm", -3],
    ["19\u00a0mm", 19],
    ["3⁄4 in", 19.05],
  ])("%s", (text, mm) => {
    expect(value(text)).toBe(mm);
  });

  it.each([
    ["30 deg", "angle", 30],
    ["30°", "angle", 30],
    ["12.5", "angle", 12.5],
    ["1200 mm/min", "feed", 1200],
    ["47 in/min", "feed", 1193.8],
    ["20 mm/s", "feed", 1200],
    ["300 mm/s²", "acceleration", 300],
    ["18000 rpm", "speed", 18000],
    ["18000", "speed", 18000],
    ["700 W", "power", 700],
    ["0.7 kW", "power", 700],
    ["4 s", "time", 4],
    ["2 min", "time", 120],
    ["6", "number", 6],
    ["6 pieces", "number", 6],
  ] as const)("%s is a %s", (text, kind, n) => {
    expect(value(text, kind)).toBe(n);
  });

  it("reads bare numbers in the file's unit, feeds and accelerations too", () => {
    expect(value("12", "length", "in")).toBe(304.8);
    expect(value("3/4", "length", "in")).toBe(19.05);
    expect(value("1-1/2", "length", "in")).toBe(38.1);
    expect(value("47", "feed", "in")).toBe(1193.8);
    expect(value("10", "acceleration", "in")).toBe(254);
    expect(value("30", "angle", "in")).toBe(30);
  });

  it("asks what a bare fraction means in a millimetre file", () => {
    expect(problem("3/4")).toMatchObject({
      code: "bare-fraction",
      mend: "do you mean 3/4 in, or 0.75 mm?",
      at: 0,
      length: 3,
    });
    expect(problem("1 1/2")).toMatchObject({ code: "bare-fraction", mend: "do you mean 1 1/2 in, or 1.5 mm?" });
    expect(problem("½").code).toBe("bare-fraction");
  });

  it.each([
    ["", "quantity-missing", 0],
    ["   ", "quantity-missing", 0],
    ["wide", "quantity-unreadable", 0],
    ["142,3", "decimal-comma", 3],
    ["1,200", "decimal-comma", 1],
    ["12 milimetres", "unit-unknown", 3],
    ["12 deg", "unit-wrong-kind", 0],
    ["12 rpm", "unit-wrong-kind", 0],
    ["3 mm 4 in", "quantity-unreadable", 5],
    ["12 13", "quantity-unreadable", 3],
    ['3/4""', "quantity-unreadable", 4],
    ["3/0 in", "fraction-of-zero", 0],
    ["1 3/0 in", "fraction-of-zero", 0],
    ["1 5/4 in", "number-form", 2],
    ["1e3", "number-form", 0],
    ["0x1F", "number-form", 0],
    ["1_000", "number-form", 0],
    ["1.2.3", "number-form", 0],
    ["nan", "number-form", 0],
    [".inf", "number-form", 0],
    ["-Infinity", "number-form", 0],
    ["9".repeat(30), "number-too-large", 0],
    ["12 - 3", "formula-without-equals", 0],
    ["(12)", "formula-without-equals", 0],
    ["max(1, 2)", "formula-without-equals", 0],
    ["12 # wide", "quantity-unreadable", 3],
  ])("refuses %j", (text, code, at) => {
    const p = problem(text);
    expect(p.code).toBe(code);
    expect(p.at).toBe(at);
    expect(p.mend.length).toBeGreaterThan(5);
  });

  it("offers the unit that was meant", () => {
    expect(problem("12 milimetres").mend).toContain("millimetres");
    expect(problem("12 inchs").mend).toContain("inch");
  });

  it("takes no length for a number of pieces, and no pieces for a length", () => {
    expect(problem("6 mm", "number").code).toBe("unit-wrong-kind");
    expect(problem("6 pieces", "length").code).toBe("unit-wrong-kind");
  });

  it("tells the kinds apart where none is wanted beforehand", () => {
    const of = (text: string) => {
      const r = readValue(text, "mm");
      return r.ok ? [r.value.value, r.value.length, r.value.angle] : r.problem.code;
    };
    expect(of("12")).toEqual([12, 1, 0]);
    expect(of("12 deg")).toEqual([12, 0, 1]);
    expect(of("12 pieces")).toEqual([12, 0, 0]);
    expect(of("= 3*4")).toEqual([12, 1, 0]);
    expect(of("= 3 mm * 4 mm")).toEqual([12, 2, 0]);
    expect(of("12 rpm")).toBe("unit-wrong-kind");
    expect(of("3/4")).toBe("bare-fraction");
  });
});

describe("inches against exact rationals (fraction.js)", () => {
  const nearest = (f: Fraction): number => Number(f.n) / Number(f.d);

  it("6,000 mixed fractions are the nearest double, whichever way they are written", () => {
    let wrong = 0;
    let tried = 0;
    for (let whole = 0; whole < 12; whole++) {
      for (const q of [2, 3, 4, 5, 8, 10, 12, 16, 32, 64]) {
        for (let n = 1; n < q; n++) {
          const exact = nearest(new Fraction(whole * q + n, q).mul(254, 10));
          const forms = whole === 0 ? [`${n}/${q} in`, `${n}/${q}"`] : [`${whole} ${n}/${q} in`, `${whole}-${n}/${q}"`];
          for (const form of forms) {
            tried++;
            if (value(form) !== exact) wrong++;
          }
        }
      }
    }
    expect(tried).toBeGreaterThan(3500);
    expect(wrong).toBe(0);
  });

  it("decimal inches, feet and centimetres are the nearest double", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 99_999_999 }), fc.integer({ min: 0, max: 6 }), (digits, places) => {
        const text = (digits / 10 ** places).toFixed(places);
        const exact = new Fraction(text);
        expect(value(`${text} in`)).toBe(nearest(exact.mul(254, 10)));
        expect(value(`${text} ft`)).toBe(nearest(exact.mul(3048, 10)));
        expect(value(`${text} cm`)).toBe(nearest(exact.mul(10)));
        expect(value(text)).toBe(Number(text));
      }),
      { numRuns: 2000 },
    );
  });
});

describe("any text", () => {
  it("is read or refused with a place inside it", () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string(), fc.string({ unit: "grapheme" }), shoppy()),
        fc.constantFrom("mm" as const, "in" as const),
        (text, unit) => {
          const r = readQuantity(text, "length", unit);
          if (r.ok) expect(Number.isFinite(r.value)).toBe(true);
          else {
            expect(r.problem.at).toBeGreaterThanOrEqual(0);
            expect(r.problem.at).toBeLessThanOrEqual(text.length);
            expect(r.problem.length).toBeGreaterThanOrEqual(1);
            expect(r.problem.mend).not.toBe("");
          }
        },
      ),
      { numRuns: 5000 },
    );
  });
});

/** Text made of the bits that sizes are made of. */
function shoppy(): fc.Arbitrary<string> {
  const bit = fc.constantFrom(
    "1",
    "3/4",
    " ",
    "-",
    "1/2",
    '"',
    "'",
    "in",
    "mm",
    "=",
    "(",
    ")",
    "+",
    "*",
    "/",
    "÷",
    "max",
    ",",
    "½",
    ".",
    "deg",
    "to",
    "round",
    "w",
  );
  return fc.array(bit, { maxLength: 14 }).map((bits) => bits.join(""));
}
