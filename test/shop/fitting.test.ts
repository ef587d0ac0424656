import { describe, expect, it } from "vitest";
import { coefficientOf } from "../../src/fit/movement.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";

function shopOf(text: string): Shop {
  const read = readShop(`units: mm\n${text}`, "shop.yaml");
  if (!read.ok) throw new Error(read.findings.map((f) => f.what).join());
  return read.value;
}

function told(text: string): readonly string[] {
  return readShop(`units: mm\n${text}`, "shop.yaml").findings.map(
    (f) => `${f.code} ${f.place.source?.line}: ${f.what}`,
  );
}

describe("how far the user's own measuring may be off", () => {
  it("is read by instrument, in any unit; what is left out stays as usual", () => {
    const { measuring } = shopOf("measuring: {calipers: 0.03, rule: 1/64 in, moisture meter: 0.5}");
    expect(measuring).toEqual({ calipers: 0.03, rule: 0.396875, "moisture meter": 0.5 });
    expect(shopOf("habits: {clearance: 5}").measuring).toBeUndefined();
  });

  it("is refused where it is no tolerance", () => {
    expect(told("measuring: {calipers: 30}")).toEqual(['shop-file-wrong-value 2: "calipers" is too large']);
    expect(told("measuring: {rule: -1}")).toEqual(['shop-file-wrong-value 2: "rule" is too small']);
    expect(told("measuring: {calliper: 0.1}")[0]).toMatch(/^shop-file-unknown-key 2/);
  });
});

describe("fit cards on record", () => {
  it("are read with the bit's own name", () => {
    const { fitCards } = shopOf('fit cards:\n  ash: {bit: "4 MM flat", runner: 9.5, chosen: 9.85}');
    expect(fitCards).toEqual([{ name: "ash", bit: "4 mm flat", runner: 9.5, chosen: 9.85 }]);
    expect(shopOf("habits: {clearance: 5}").fitCards).toBeUndefined();
  });

  it("are refused with a bit that is not there, or a groove that cannot have fitted", () => {
    expect(told("fit cards:\n  ash: {bit: 4 mm flatt, runner: 9.5, chosen: 9.85}")).toEqual([
      'shop-file-wrong-value 3: no bit is called "4 mm flatt"',
    ]);
    expect(told("fit cards:\n  ash: {bit: 4 mm flat, runner: 9.5, chosen: 98.5}")[0]).toMatch(/too large/);
    expect(told("fit cards:\n  ash: {bit: 4 mm flat, runner: 9.5, chosen: 19.85}")).toEqual([
      "shop-file-wrong-value 3: this groove cannot have fitted this runner",
    ]);
    expect(told("fit cards:\n  ash: {bit: 4 mm flat, runner: 9.5}")[0]).toMatch(/^shop-file-missing/);
  });
});

describe("a wood of the user's own", () => {
  it("moves as its numbers say, with neither another table's beside them nor a shrinkage that belongs to others", () => {
    const { woods } = shopOf("woods:\n  white oak: {tangential: 0.0033, source: measured here}");
    const c = coefficientOf(woods.find((w) => w.name === "white oak")!, "tangential")!;
    expect(c).toMatchObject({ used: { value: 0.0033, source: "measured here" }, elsewhere: [], unsure: false });
    expect(c.shrinkage.value / (3000 - 20 * c.shrinkage.value)).toBeCloseTo(0.0033, 12);
    // Across the rings the built-in numbers hold on, both of them.
    const radial = coefficientOf(woods.find((w) => w.name === "white oak")!, "radial")!;
    expect(radial).toMatchObject({ used: { value: 0.00194 }, elsewhere: [{ value: 0.0018 }] });
  });

  it("may have its own shrinkage, and a coefficient through a sheet", () => {
    const { woods } = shopOf(
      'woods:\n  maple: {class: hardwood, tangential: 0.003, "tangential shrinkage": 9}\n  ply: {class: plywood, "through sheet": 0.002}',
    );
    const maple = coefficientOf(woods.find((w) => w.name === "maple")!, "tangential")!;
    expect(maple.shrinkage).toEqual({ value: 9, source: "the shop file" });
    expect(coefficientOf(woods.find((w) => w.name === "ply")!, "through sheet")!.used.value).toBe(0.002);
  });
});
