import fc from "fast-check";
import Fraction from "fraction.js";
import { describe, expect, it } from "vitest";
import { nameKey } from "../../src/units/marks.ts";
import { type NameTable, NO_NAMES } from "../../src/units/names.ts";
import { readQuantity } from "../../src/units/quantity.ts";
import type { QuantityKind } from "../../src/units/unit-table.ts";

function table(sizes: Readonly<Record<string, readonly [number, number, number?]>>): NameTable {
  const known = new Map(Object.entries(sizes).map(([n, v]) => [nameKey(n), v]));
  return {
    names: Object.keys(sizes),
    valueOf: (key) => {
      const v = known.get(key);
      return v && { ok: true, value: { value: v[0], length: v[1], angle: v[2] ?? 0 } };
    },
  };
}

const SIZES = table({
  opening: [142.1, 1],
  "opening width": [300, 1],
  gap: [2, 1],
  "case depth": [205, 1],
  w: [10, 1],
  t: [4, 1],
  drawers: [6, 0],
  lean: [12, 0, 1],
  "left-hand gap": [3, 1],
  "drawer's width": [7, 1],
  "front 2": [9, 1],
});

function value(text: string, kind: QuantityKind = "length", unit: "mm" | "in" = "mm"): number {
  const r = readQuantity(text, kind, unit, SIZES);
  if (!r.ok) throw new Error(`${text}: ${r.problem.code} at ${r.problem.at}: ${r.problem.what}`);
  return r.value;
}

function problem(text: string, kind: QuantityKind = "length", unit: "mm" | "in" = "mm") {
  const r = readQuantity(text, kind, unit, SIZES);
  if (r.ok) throw new Error(`${text} was read as ${r.value}`);
  return r.problem;
}

describe("formulas over measured sizes", () => {
  it.each([
    ["= opening - 2*gap", 138.1],
    ["= opening width - gap", 298],
    ["= Opening  Width - gap", 298],
    ["=opening width/2", 150],
    ["= case depth - 15", 190],
    ["= case depth - 15 mm", 190],
    ["= case depth - 1/2 in", 192.3],
    ['= case depth - 1 1/2"', 166.9],
    ["= (w + t) × 2 ÷ 4", 7],
    ["= (w + t) · 2", 28],
    ["= w − t", 6],
    ["= -t + w", 6],
    ["= - -t", 4],
    ["= w*t/w", 4],
    ["= 3/4 * w", 7.5],
    ["= w * 3/4", 7.5],
    ["= w/(3/4)", 10 / 0.75],
    ["= 2*3", 6],
    ["= min(w, t, 7)", 4],
    ["= max(w, t; 12)", 12],
    ["= round(opening to 0.5 mm)", 142],
    ["= round(opening, 0.5)", 142],
    ["= round up(opening to 0.5)", 142.5],
    ["= round down(opening to 0.5)", 142],
    ["= round(w * 0.33 to 0.1)", 3.3],
    ["= opening / drawers", 142.1 / 6],
    ["= left-hand gap + 1", 4],
    ["= drawer’s width", 7],
    ["= front 2 + 2", 11],
    ["= w + 6' 3\"", 1915],
    ["= w - gap-w", -2],
  ])("%s", (text, mm) => {
    expect(value(text)).toBe(mm);
  });

  it("takes a bare number beside a length in the file's unit", () => {
    expect(value("= w + 1", "length", "in")).toBe(35.4);
    expect(value("= w + 3/4", "length", "in")).toBe(29.05);
    expect(value("= max(w, 1)", "length", "in")).toBe(25.4);
    expect(value("= 3/4", "length", "in")).toBe(19.05);
    expect(value("= 1 / 3 * 3", "length", "in")).toBeCloseTo(25.4, 12);
  });

  it("reckons with angles and plain numbers", () => {
    expect(value("= lean * 2 + 1", "angle")).toBe(25);
    expect(value("= lean + 30 deg", "angle")).toBe(42);
    expect(value("= drawers * 2", "number")).toBe(12);
    expect(value("= w / t", "number")).toBe(2.5);
    expect(value("= drawers + 1", "number")).toBe(7);
  });

  it.each([
    ["= w + w/t", "formula-mixes", 4],
    ["= w + drawers", "formula-mixes", 4],
    ["= w + w*t", "formula-mixes", 4],
    ["= w + lean", "formula-mixes", 4],
    ["= max(w, drawers)", "formula-mixes", 2],
    ["= w*t", "formula-power", 0],
    ["= w*t*w", "formula-power", 0],
    ["= w/t", "formula-power", 0],
    ["= drawers", "formula-power", 0],
    ["= w - 3/4", "bare-fraction", 6],
    ["= w - 1 / 2", "bare-fraction", 6],
    ["= 3/4", "bare-fraction", 0],
    ["= w + 1-1/2 in", "mixed-number-dash", 6],
    ["= w - 10-3/4", "mixed-number-dash", 6],
    ["= w/3/4 in", "fraction-after-division", 4],
    ["= w / 1 1/2", "fraction-after-division", 6],
    ["= w ÷ ½", "fraction-after-division", 6],
    ["= widht", "formula-name-unknown", 2],
    ["= 2 gap", "formula-syntax", 4],
    ["= w t", "formula-syntax", 4],
    ["= (w", "formula-syntax", 2],
    ["= w)", "formula-syntax", 3],
    ["= w +", "formula-syntax", 5],
    ["=", "formula-syntax", 1],
    ["= ()", "formula-syntax", 3],
    ["= w $ t", "formula-syntax", 4],
    ["= min()", "formula-syntax", 6],
    ["= round(w)", "formula-syntax", 2],
    ["= round(w to 0)", "formula-syntax", 2],
    ["= round(w to -1)", "formula-syntax", 2],
    ["= 1,5 + w", "decimal-comma", 3],
    ["= w/(t - 4)", "formula-not-finite", 3],
    ["= w * 12 rpm", "unit-wrong-kind", 6],
    ["= 1e3 + w", "number-form", 2],
    [`= ${"1+".repeat(260)}w`, "formula-too-long", 1],
    [`= ${"(".repeat(45)}w${")".repeat(45)}`, "formula-too-deep", 43],
    [`= ${"-".repeat(60)}w`, "formula-too-deep", 43],
    [`= ${"1000000000 * ".repeat(30)}w`, "formula-not-finite", 2],
  ])("refuses %s", (text, code, at) => {
    const p = problem(text);
    expect([p.code, p.at]).toEqual([code, at]);
    expect(p.mend.length).toBeGreaterThan(5);
  });

  it("refuses a formula where none can be", () => {
    expect(problem("= 1200 mm/min", "feed").code).toBe("unit-wrong-kind");
  });

  it("runs no code, whatever it is called", () => {
    for (const word of ["constructor", "__proto__", "toString", "process", "globalThis", "valueOf", "eval"]) {
      expect(["formula-name-unknown", "formula-syntax"]).toContain(problem(`= ${word}`).code);
      expect(["formula-name-unknown", "formula-syntax"]).toContain(problem(`= ${word}(1)`).code);
    }
  });
});

/** A random formula with its exact value, its power of length, and whether it is made of bare numbers alone. */
interface Made {
  readonly text: string;
  readonly exact: Fraction;
  readonly power: number;
  /** How tightly the outermost sign binds: 1 sum, 2 product, 3 atom. */
  readonly binds: 1 | 2 | 3;
}

const LENGTHS: Readonly<Record<string, number>> = { w: 10, t: 4, gap: 2, "case depth": 205, "opening width": 300 };

function made(): fc.Arbitrary<Made> {
  const { formula } = fc.letrec<{ formula: Made }>((tie) => ({
    formula: fc.oneof(
      { maxDepth: 5, withCrossShrink: true },
      fc
        .constantFrom(...Object.entries(LENGTHS))
        .map(([text, mm]): Made => ({ text, exact: new Fraction(mm), power: 1, binds: 3 })),
      fc
        .integer({ min: 1, max: 40 })
        .map((n): Made => ({ text: `${n} mm`, exact: new Fraction(n), power: 1, binds: 3 })),
      fc
        .tuple(fc.integer({ min: 1, max: 7 }), fc.constantFrom(8, 16))
        .map(
          ([n, q]): Made => ({ text: `(${n}/${q} in)`, exact: new Fraction(n, q).mul(254, 10), power: 1, binds: 3 }),
        ),
      fc
        .integer({ min: 1, max: 9 })
        .map((n): Made => ({ text: `${n} pieces`, exact: new Fraction(n), power: 0, binds: 3 })),
      fc
        .tuple(tie("formula"), fc.constantFrom("+", "-", "*", "/", "÷", "×"), tie("formula"))
        .map(([a, sign, b]) => joined(a, sign, b)),
      tie("formula").map(
        (a): Made => ({ text: `-${bracketed(a, 3)}`, exact: a.exact.neg(), power: a.power, binds: 2 }),
      ),
      fc.tuple(tie("formula"), tie("formula"), fc.constantFrom("min", "max")).map(([a, b, f]) => extreme(a, b, f)),
    ),
  }));
  return formula;
}

function bracketed(m: Made, least: number): string {
  return m.binds < least ? `(${m.text})` : m.text;
}

function joined(a: Made, sign: string, b: Made): Made {
  if (sign === "+" || sign === "-") {
    if (a.power !== b.power) return a;
    const exact = sign === "+" ? a.exact.add(b.exact) : a.exact.sub(b.exact);
    return { text: `${bracketed(a, 1)} ${sign} ${bracketed(b, 2)}`, exact, power: a.power, binds: 1 };
  }
  if (sign === "*" || sign === "×") {
    return {
      text: `${bracketed(a, 2)}${sign}${bracketed(b, 3)}`,
      exact: a.exact.mul(b.exact),
      power: a.power + b.power,
      binds: 2,
    };
  }
  if (b.exact.equals(0)) return a;
  return {
    text: `${bracketed(a, 2)} ${sign} ${bracketed(b, 3)}`,
    exact: a.exact.div(b.exact),
    power: a.power - b.power,
    binds: 2,
  };
}

function extreme(a: Made, b: Made, f: string): Made {
  if (a.power !== b.power) return a;
  const less = a.exact.compare(b.exact) < 0;
  return {
    text: `${f}(${a.text}, ${b.text})`,
    exact: (f === "min") === less ? a.exact : b.exact,
    power: a.power,
    binds: 3,
  };
}

describe("random formulas against exact rationals", () => {
  it("agree in value and in power of length", () => {
    let lengths = 0;
    fc.assert(
      fc.property(made(), (m) => {
        fc.pre(m.text.length < 400);
        const exact = m.exact.valueOf();
        fc.pre(Math.abs(exact) < 1e12);
        const as = (kind: QuantityKind) => readQuantity(`= ${m.text}`, kind, "mm", SIZES);
        const wanted = m.power === 1 ? as("length") : as("number");
        if (m.power !== 0 && m.power !== 1) {
          expect(!wanted.ok && wanted.problem.code).toBe("formula-power");
          return;
        }
        lengths++;
        if (!wanted.ok) {
          // A difference that is nothing in exact numbers can be dust in doubles, and the other way about: dividing by it.
          expect(wanted.problem.code).toBe("formula-not-finite");
          return;
        }
        const scale =
          Math.max(1e-3, Math.abs(exact), ...[...m.text.matchAll(/\d+/g)].map((d) => Number(d[0])), 300) ** 2;
        expect(Math.abs(wanted.value - exact)).toBeLessThanOrEqual(1e-9 * scale);
        const other = m.power === 1 ? as("number") : as("length");
        expect(!other.ok && other.problem.code).toBe("formula-power");
      }),
      { numRuns: 6000 },
    );
    expect(lengths).toBeGreaterThan(2000);
  });

  it("multiplying by plain numbers scales, whatever the brackets", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), fc.integer({ min: 1, max: 64 }), (n, q) => {
        const r = readQuantity(`= (${n} * w) / ${q}`, "length", "mm", SIZES);
        expect(r.ok && r.value).toBe((n * 10) / q);
      }),
    );
  });

  it("rounding lands on a multiple of the step, no further than half of it away", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 500_000 }),
        fc.constantFrom("0.1", "0.5", "0.25", "1", "2", "1/16 in"),
        (um, step) => {
          const x = um / 1000;
          const shown = step.includes("/") ? `(${step})` : step;
          const size = readQuantity(step, "length", "mm");
          const of = (f: string) => {
            const r = readQuantity(`= ${f}(${x} to ${shown})`, "length", "mm", NO_NAMES);
            if (!r.ok || !size.ok) throw new Error(r.ok ? "step" : r.problem.what);
            const steps = r.value / size.value;
            expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-9);
            return [r.value, size.value] as const;
          };
          const [near, s] = of("round");
          expect(Math.abs(near - x)).toBeLessThanOrEqual(s / 2 + 1e-9);
          const [up] = of("round up");
          expect(up - x).toBeGreaterThanOrEqual(-1e-5 * s);
          expect(up - x).toBeLessThan(s);
          const [down] = of("round down");
          expect(x - down).toBeGreaterThanOrEqual(-1e-5 * s);
          expect(x - down).toBeLessThan(s);
        },
      ),
      { numRuns: 500 },
    );
  });
});
