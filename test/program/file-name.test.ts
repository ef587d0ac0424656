import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fileName, plainWord } from "../../src/program/file-name.ts";

describe("a program's file name", () => {
  it("begins with its place in the order of work", () => {
    expect(fileName(3, ["Left side, inside up", "bit 6 mm"], ".nc")).toBe("03-left-side-inside-up-bit-6-mm.nc");
    expect(fileName(12, ["Füllung / (oben)"], ".nc")).toBe("12-fullung-oben.nc");
    expect(fileName(1, ["東", "../../etc"], ".nc")).toBe("01-etc.nc");
  });

  it("is one that every system takes, whatever the names", () => {
    fc.assert(
      fc.property(
        fc.array(fc.string({ unit: "binary", maxLength: 80 }), { maxLength: 3 }),
        fc.integer({ min: 1, max: 999 }),
        (words, n) => {
          const name = fileName(n, words, ".nc");
          expect(name).toMatch(/^[0-9]{2,3}(-[a-z0-9]+)*-?\.nc$/);
          expect(name.length).toBeLessThan(140);
        },
      ),
    );
  });

  it("is no name that a system keeps for a device", () => {
    for (const w of ["con", "NUL", "com1", "LPT9"]) expect(plainWord(w, 40)).toBe(`${w.toLowerCase()}-`);
  });
});
