import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { xScaleOf, xSignOf } from "../../src/shop/lathe.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import { lowerEdgeAt, programmedPointOf, turningShape } from "../../src/shop/turning-profile.ts";

const GOOD = `units: mm
lathes:
  my lathe:
    travel: {x: 90, z: 400}
    X words: diameter
    tool post: front
    turns towards you with: M4
    swing: 10 in
    holding speed: 2200 rpm
    spindle: {dial: {low: 900, high: 2200 rpm}}
    headstock: {kind: jaws, diameter: 90, length: 60, grip: 25}
    tailstock: {kind: none}
    understands: {homes: no}
    post: lathe-diameter
turning tools:
  gouge:
    kind: round-nose
    width: 1/4 in
    reach: 35
    holder width: 20
    feed a turn: 0.15
  point:
    kind: detail
    width: 8
    nose radius: 0.3
    angle: 40 deg
    reach: 30
    holder width: 16
    point: corner first
    max bite: 0.5
  skew:
    kind: detail
    width: 8
    nose radius: 0.3
    flanks: {first: 5 deg, second: 50 deg}
    reach: 30
    holder width: 16
`;

function shopOf(text: string) {
  const read = readShop(text, "shop.yaml");
  if (!read.ok) throw new Error(read.findings.map(printFinding).join("\n"));
  return read.value;
}

/** What is refused when one line is changed or added. */
function codes(from: string, to: string): readonly string[] {
  expect(GOOD).toContain(from);
  const read = readShop(GOOD.replace(from, to), "shop.yaml");
  return read.ok ? [] : read.findings.map((f) => `${f.code}@${f.place.source?.line}`);
}

describe("lathes in the shop file", () => {
  it("are read with their units", () => {
    const [lathe] = shopOf(GOOD).lathes!;
    expect(lathe).toMatchObject({
      name: "my lathe",
      travel: { x: 90, z: 400 },
      xWords: "diameter",
      toolPost: "front",
      spindleWord: "M4",
      swing: 254,
      holdingMaxRpm: 2200,
      head: { kind: "jaws", diameter: 90, length: 60, grip: 25 },
      tail: { kind: "none" },
      post: "lathe-diameter",
      from: "shop file",
    });
    expect(lathe!.spindle).toEqual({
      kind: "dial",
      positions: [
        { mark: "low", rpm: 900 },
        { mark: "high", rpm: 2200 },
      ],
    });
    expect(lathe!.controller.homes).toBe(false);
  });

  it("may have a rest on the bed, whose reach lies beyond its opening", () => {
    const rest = "    rest: {from tailstock: 90, width: 1 in, opening: 70, reach: 60}\n    understands";
    expect(shopOf(GOOD).lathes![0]!.rest).toBeUndefined();
    expect(shopOf(GOOD.replace("    understands", rest)).lathes![0]!.rest).toEqual({
      fromTailstock: 90,
      width: 25.4,
      opening: 70,
      reach: 60,
    });
    expect(codes("    understands", rest.replace("reach: 60", "reach: 35"))).toEqual(
      ["shop-file-disagrees"].map((c) => expect.stringContaining(c)),
    );
  });

  it("say what stood in for what the file leaves out, apart from the router's list", () => {
    const shop = shopOf(GOOD);
    expect(shop.turningDefaultsUsed).toContain(
      'lathe "my lathe": acceleration, from "lathe, X as diameter, tool in front of the work"',
    );
    expect(shop.turningDefaultsUsed!.some((d) => d.includes('"point": bite'))).toBe(false);
    expect(shop.turningDefaultsUsed!.some((d) => d.includes('"gouge": bite'))).toBe(true);
    expect(shop.defaultsUsed.some((d) => /lathe|turning/.test(d))).toBe(false);
  });

  it("keep the built-in ones where the file has none, each marked", () => {
    const shop = shopOf("units: mm\n");
    expect(shop.lathes).toEqual(DEFAULT_SHOP.lathes);
    expect(shop.turningTools!.every((t) => t.from === "built-in default")).toBe(true);
    expect(shop.turningDefaultsUsed).toHaveLength(shop.lathes!.length + shop.turningTools!.length);
  });

  it("never have X words, tool post or spindle sense guessed", () => {
    expect(codes("    X words: diameter\n", "")).toEqual(
      ["shop-file-missing@2"].map(() => expect.stringContaining("shop-file-missing")),
    );
    expect(codes("    tool post: front\n", "")).toHaveLength(1);
    expect(codes("    turns towards you with: M4\n", "")).toHaveLength(1);
    expect(codes("    swing: 10 in\n", "")).toHaveLength(1);
  });

  const wrong: readonly (readonly [string, string, string, string])[] = [
    ["an unknown model", "travel: {x: 90, z: 400}", "like: lathe of the neighbour", "shop-file-wrong-value"],
    ["jaws without a grip", ", grip: 25", "", "shop-file-missing"],
    ["a drive centre with a grip", "kind: jaws", "kind: drive centre", "shop-file-disagrees"],
    ["a centre without its size", "{kind: none}", "{kind: live centre}", "shop-file-missing"],
    ["a dial without marks", "{dial: {low: 900, high: 2200 rpm}}", "{dial: {}}", "shop-file-wrong-value"],
    ["a speed range upside down", "{dial: {low: 900, high: 2200 rpm}}", "{from: 2000, to: 300}", "shop-file-disagrees"],
    ["no corner error without exact path", "{homes: no}", "{homes: no, exact path: no}", "shop-file-missing"],
    ["a Y axis", "{x: 90, z: 400}", "{x: 90, y: 4, z: 400}", "shop-file-unknown-key"],
    [
      "a nose wider than its tool",
      "    width: 1/4 in\n",
      "    width: 1/4 in\n    nose radius: 4\n",
      "shop-file-disagrees",
    ],
    [
      "a round nose narrower than parallel sides",
      "    width: 1/4 in\n",
      "    width: 1/4 in\n    nose radius: 2\n",
      "shop-file-disagrees",
    ],
    [
      "a detail tool without its nose",
      "    nose radius: 0.3\n    angle: 40 deg\n",
      "    angle: 40 deg\n",
      "shop-file-missing",
    ],
    ["a detail tool without an angle", "    angle: 40 deg\n", "", "shop-file-missing"],
    [
      "an angle said twice",
      "    flanks: {first: 5 deg, second: 50 deg}\n",
      "    flanks: {first: 5 deg, second: 50 deg}\n    angle: 40 deg\n",
      "shop-file-disagrees",
    ],
    ["a kind nobody knows", "kind: round-nose", "kind: roundnose", "shop-file-wrong-value"],
    [
      "a slot twice",
      "    kind: detail\n",
      "    kind: parting\n    slot: 3\n    width: 3\n    reach: 30\n    holder width: 16\n  other:\n    slot: 3\n    kind: detail\n",
      "shop-file-disagrees",
    ],
  ];
  for (const [what, from, to, code] of wrong) {
    it(`refuse ${what}`, () => {
      expect(codes(from, to).some((c) => c.startsWith(code))).toBe(true);
    });
  }
});

describe("turning tools", () => {
  const [gouge, point, skew] = shopOf(GOOD).turningTools!;

  it("get the nose of a full round, halves of a whole angle, and a stated point", () => {
    expect(gouge).toMatchObject({
      noseRadius: 3.175,
      slot: 1,
      feedPerTurn: 0.15,
      maxBite: 6.35 / 4,
      holderHalfWidth: 10,
    });
    expect(point).toMatchObject({ flanks: { first: 20, second: 20 }, point: "corner first", maxBite: 0.5, slot: 2 });
    expect(skew!.flanks).toEqual({ first: 5, second: 50 });
  });

  it("without a slot of their own take the numbers that are free", () => {
    const shop = shopOf(GOOD.replace("    kind: round-nose\n", "    kind: round-nose\n    slot: 2\n"));
    expect(shop.turningTools!.map((t) => t.slot)).toEqual([2, 1, 3]);
  });

  it("are programmed at the point that zero is set with", () => {
    expect(programmedPointOf(gouge!)).toEqual({ x: 0, y: -3.175 });
    expect(programmedPointOf(point!)).toEqual({ x: -0.3, y: -0.3 });
  });

  it("have the lower edge of a nose with its tangents", () => {
    const shape = turningShape(point!);
    expect(lowerEdgeAt(shape, 0)).toBe(-0.3);
    const touch = 0.3 * Math.cos(Math.PI / 9);
    // Where the flank leaves the round, both agree; beyond, it rises by cot 20° for each mm.
    expect(lowerEdgeAt(shape, touch)).toBeCloseTo(-0.3 * Math.sin(Math.PI / 9), 12);
    expect(lowerEdgeAt(shape, 2) - lowerEdgeAt(shape, 1)).toBeCloseTo(1 / Math.tan(Math.PI / 9), 9);
    expect(lowerEdgeAt(turningShape(gouge!), 3.2)).toBe(Number.POSITIVE_INFINITY);
    // A skew rises differently on its two sides.
    expect(lowerEdgeAt(turningShape(skew!), -1)).toBeGreaterThan(lowerEdgeAt(turningShape(skew!), 1) + 5);
  });
});

describe("X words", () => {
  it("count twice for diameters, and the other way for a tool in front of the work", () => {
    const [rear, front] = DEFAULT_SHOP.lathes!;
    expect([xSignOf(rear!), xScaleOf(rear!)]).toEqual([1, 1]);
    expect([xSignOf(front!), xScaleOf(front!)]).toEqual([-1, -2]);
  });
});
