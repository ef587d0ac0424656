import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printLength } from "../../src/units/print.ts";
import { readQuantity } from "../../src/units/quantity.ts";

describe("printing a length", () => {
  it("writes what a rule shows", () => {
    expect(printLength(38.1, "in")).toBe("1 1/2 in");
    expect(printLength(19.05, "in")).toBe("3/4 in");
    expect(printLength(25.4, "in")).toBe("1 in");
    expect(printLength(0, "in")).toBe("0 in");
    expect(printLength(-38.1, "in")).toBe("-1 1/2 in");
    expect(printLength((254 * 7) / 640, "in")).toBe("7/64 in");
    expect(printLength(2.54, "in")).toBe("0.1 in");
    expect(printLength(12.5, "mm")).toBe("12.5 mm");
    expect(printLength(1e-7, "mm")).toBe("0.0000001 mm");
  });

  it("refuses what is no length", () => {
    expect(() => printLength(Number.NaN, "mm")).toThrow(RangeError);
    expect(() => printLength(1e13, "mm")).toThrow(RangeError);
  });

  it("is undone by reading, bit for bit, in either unit and either file", () => {
    const micrometres = fc.integer({ min: -20_000_000, max: 20_000_000 }).map((u) => u / 1000);
    const sixtyFourths = fc.integer({ min: -20_000, max: 20_000 }).map((n) => (n * 254) / 640);
    const anything = fc.double({ min: -1e7, max: 1e7, noNaN: true }).filter((mm) => mm === 0 || Math.abs(mm) > 1e-80);
    fc.assert(
      fc.property(
        fc.oneof(micrometres, sixtyFourths, anything),
        fc.constantFrom("mm" as const, "in" as const),
        fc.constantFrom("mm" as const, "in" as const),
        (mm, unit, file) => {
          const r = readQuantity(printLength(mm, unit), "length", file);
          expect(r.ok && r.value === mm).toBe(true);
        },
      ),
      { numRuns: 4000 },
    );
  });
});
