import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { readShop } from "../../src/shop/read-shop.ts";

const GOOD = `units: mm
machines:
  my router:
    like: router, millimetre, with tool changer
    travel: {x: 600, y: 400, z: 100}
    laser head: {x: 60, y: -4, radius: 18, underside: 10}
    laser:
      offset: {x: 60.4, y: -3.8}
      cross off by: {x: 0.12, y: -0.05}
      wavelength: 10.6 um
      rated power: 40 W
      spot: {x: 0.12, y: 0.005 in}
      focus gap: 1/2 in
      focus range: 0.6
      Z follows: yes
      full power: 255
      power follows speed: no
      starts with: M3
      lag: 0.5 ms
      pilot: 1 %
      slot: 20
woods:
  pear: {class: hardwood, also called: [pearwood]}
burns:
  pearwood:
    line: {power: 35 %, speed: 25 mm/s}
    picture:
      power: 0.3
      speed: 3000
      spacing: 0.15
      tones: [{dots: 0, dark: 0}, {dots: 0.5, dark: 0.7}, {dots: 1, dark: 0.9}]
    through: {power: 100 %, speed: 5 mm/s, passes: 3, kerf: 0.2, depth: 4}
habits:
  sanding: 0.1
`;

function shopOf(text: string) {
  const read = readShop(text, "shop.yaml");
  if (!read.ok) throw new Error(read.findings.map(printFinding).join("\n"));
  return read.value;
}

/** What is refused when one line is changed. */
function codes(from: string, to: string): readonly string[] {
  expect(GOOD).toContain(from);
  const read = readShop(GOOD.replace(from, to), "shop.yaml");
  return read.ok ? [] : read.findings.map((f) => `${f.code}@${f.place.source?.line}`);
}

describe("a laser in the shop file", () => {
  it("is read in shop units, its offset mended by what the cross was off", () => {
    const [machine] = shopOf(GOOD).machines;
    expect(machine!.laser).toEqual({
      offset: { x: 60.52, y: -3.85 },
      wavelength: 10600,
      ratedPower: 40,
      spot: { x: 0.12, y: 0.127 },
      focusGap: 12.7,
      focusRange: 0.6,
      zFollows: true,
      fullScale: 255,
      mode: "constant",
      start: "M3",
      lag: 0.0005,
      pilot: 0.01,
      slot: 20,
      from: "shop file",
    });
    // The head goes where its beam is.
    expect(machine!.laserHead).toEqual({ x: 60.52, y: -3.85, radius: 18, underside: 10 });
  });

  it("stands where the head does where no offset is measured, without lag, pilot and following", () => {
    const lines = GOOD.split("\n").filter((l) => !/offset:|cross off|Z follows|lag:|pilot:/.test(l));
    const { laser } = shopOf(lines.join("\n")).machines[0]!;
    expect(laser).toMatchObject({ offset: { x: 60, y: -4 }, lag: 0 });
    expect(laser!.pilot).toBeUndefined();
    expect(laser!.zFollows).toBeUndefined();
  });

  it("has settings by wood, under the wood's own name, with shares of full power and mm/min", () => {
    const { burns, habits } = shopOf(GOOD);
    expect(burns).toEqual([
      { effect: "line", wood: "pear", power: 0.35, speed: 1500, passes: 1, from: "shop file" },
      {
        effect: "picture",
        wood: "pear",
        power: 0.3,
        speed: 3000,
        passes: 1,
        spacing: 0.15,
        tones: [
          { dots: 0, dark: 0 },
          { dots: 0.5, dark: 0.7 },
          { dots: 1, dark: 0.9 },
        ],
        from: "shop file",
      },
      { effect: "through", wood: "pear", power: 1, speed: 300, passes: 3, kerf: 0.2, depth: 4, from: "shop file" },
    ]);
    expect(habits.sanding).toBe(0.1);
  });

  it.each([
    [
      "a laser without a head",
      "    laser head: {x: 60, y: -4, radius: 18, underside: 10}\n",
      "",
      "shop-file-missing@6",
    ],
    [
      "an offset far from the head",
      "offset: {x: 60.4, y: -3.8}",
      "offset: {x: -60.4, y: -3.8}",
      "shop-file-disagrees@8",
    ],
    ["no slot beside a tool table", "      slot: 20\n", "", "shop-file-missing@7"],
    ["no spot", "      spot: {x: 0.12, y: 0.005 in}\n", "", "shop-file-missing@7"],
    ["a spot of nothing", "y: 0.005 in", "y: 0", "shop-file-wrong-value@12"],
    ["another start", "starts with: M3", "starts with: M5", "shop-file-wrong-value@18"],
    ["a wavelength without sense", "10.6 um", "10.6 parsec", "shop-file-wrong-value@10"],
    ["a pilot above all", "pilot: 1 %", "pilot: 101 %", "shop-file-wrong-value@20"],
    ["no power", "power: 35 %", "power: 0 %", "shop-file-wrong-value@26"],
    ["a cross off by a hand", "cross off by: {x: 0.12", "cross off by: {x: 90", "shop-file-wrong-value@9"],
    ["an unknown wood", "  pearwood:\n", "  pearwod:\n", "shop-file-wrong-value@25"],
    ["a grey scale that gets no darker", "dark: 0.9", "dark: 0.6", "shop-file-wrong-value@31"],
    ["a grey scale without bare wood", "{dots: 0, dark: 0}, ", "", "shop-file-wrong-value@31"],
    ["a grey scale without its darkest field", ", {dots: 1, dark: 0.9}", "", "shop-file-wrong-value@31"],
    ["half a pass", "passes: 3", "passes: 1.5", "shop-file-wrong-value@32"],
    ["a speed in the wrong unit", "25 mm/s", "25 mm", "unit-wrong-kind@26"],
    ["an unknown key", "kerf: 0.2", "curf: 0.2", "shop-file-unknown-key@32"],
    ["sanding by the inch", "sanding: 0.1", "sanding: 1 in", "shop-file-wrong-value@34"],
  ])("refuses %s", (_, from, to, want) => {
    const got = codes(from, to);
    expect(got.map((c) => c.replace(/^.*unit.*@/, "unit-wrong-kind@"))).toEqual([want]);
  });

  it("refuses two settings for one effect on one wood, under two of its names", () => {
    const twice = codes("habits:", "  pear:\n    Line: {power: 20 %, speed: 900}\nhabits:");
    expect(twice).toEqual(["shop-file-disagrees@34"]);
  });
});
