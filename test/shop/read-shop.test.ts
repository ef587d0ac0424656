import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Finding, printFinding } from "../../src/finding.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import { shopSchema } from "../../src/shop/shop-file.ts";

const GOOD = `units: mm
machines:
  my router:
    travel: {x: 600, y: 400 mm, z: 3 in}
    top feed: {x: 3000, y: 3000, z: 50 mm/s}
    post: plain
    spindle: {dial: {1: 10000, 2: 14000 rpm}}
    spindle power: 0.8 kW
    spin up: 2 s
    understands: {homes: no, arcs: true}
cutters:
  6 up:
    kind: flat
    diameter: 6
    measured diameter: 5.96
    flute length: 20
    stick out: 26
    shank: 6
    chip loads: {ash: 0.1}
  V60:
    kind: V
    angle: 60 deg
    diameter: 1/2 in
    flute length: 12
    stick out: 30
    shank: 6
    max speed: 18000
woods:
  ash: {class: hardwood}
  bog oak: {class: hardwood, specific gravity: 0.8, source: weighed it}
habits: {clearance: 8, least hold: 20}
`;

/** The good file with one piece put in another's place. */
function broken(from: string, to: string): readonly Finding[] {
  expect(GOOD).toContain(from);
  const read = readShop(GOOD.replace(from, to), "shop.yaml");
  expect(read.ok, `${from} → ${to} was accepted`).toBe(false);
  return read.findings;
}

describe("a shop file", () => {
  it("that is absent or empty gives the marked defaults", () => {
    for (const text of [undefined, "", "\n  \n"]) {
      const read = readShop(text, "shop.yaml");
      expect(read.ok && read.value).toBe(DEFAULT_SHOP);
    }
    expect(DEFAULT_SHOP.defaultsUsed.length).toBeGreaterThan(40);
  });

  it("is read with its units, over the defaults", () => {
    const read = readShop(GOOD, "shop.yaml");
    if (!read.ok) throw new Error(read.findings.map(printFinding).join("\n"));
    const shop = read.value;
    expect(shop.machines).toHaveLength(1);
    expect(shop.machines[0]).toMatchObject({
      name: "my router",
      travel: { x: 600, y: 400, z: expect.closeTo(76.2, 9) },
      topFeed: { z: 3000 },
      spindlePowerWatts: 800,
      spindle: {
        kind: "dial",
        positions: [
          { mark: "1", rpm: 10000 },
          { mark: "2", rpm: 14000 },
        ],
      },
      from: "shop file",
    });
    const [flat, v] = shop.cutters;
    expect(flat).toMatchObject({ diameter: 5.96, nominalDiameter: 6, diameterMeasured: true, from: "shop file" });
    expect(v).toMatchObject({ diameter: 12.7, form: { kind: "v", includedAngle: 60 }, maxRpm: 18000, slot: 2 });
    expect(shop.woods.filter((w) => w.from === "shop file").map((w) => w.name)).toEqual(["ash", "bog oak"]);
    expect(shop.woods.find((w) => w.name === "walnut")?.from).toBe("built-in default");
    expect(shop.woods.find((w) => w.name === "bog oak")?.specificGravity).toEqual({ value: 0.8, source: "weighed it" });
    expect(shop.habits).toMatchObject({ clearance: 8, leastHold: 20, gaugeBlock: 10 });
  });

  it("lists exactly what is not the user's own", () => {
    const read = readShop(GOOD, "shop.yaml");
    const used = read.ok ? read.value.defaultsUsed : [];
    expect(used).toContain('machine "my router": acceleration, from "router, plain, speed by dial"');
    expect(used.some((d) => d.includes("travel") || d.includes("top feed") || d.includes("understands homes"))).toBe(
      false,
    );
    expect(used).toContain('cutter "V60": diameter as on the label, not measured');
    expect(used.some((d) => d.startsWith('cutter "6 up": diameter'))).toBe(false);
    expect(used).toContain('habit "gauge block": common practice, no source');
    expect(used.some((d) => d.includes('habit "clearance"'))).toBe(false);
  });

  it("in inches takes bare numbers and bare fractions as inches", () => {
    const inches = `units: in
cutters:
  quarter: {kind: flat, diameter: 1/4, flute length: 7/8, stick out: 1 1/4, shank: 1/4}
`;
    const read = readShop(inches, "shop.yaml");
    expect(read.ok && read.value.cutters[0]).toMatchObject({ diameter: 6.35, fluteLength: 22.225, stickOut: 31.75 });
  });

  it("cautions where a measured diameter is far from the label", () => {
    const read = readShop(GOOD.replace("5.96", "5.5"), "shop.yaml");
    expect(read.ok).toBe(true);
    expect(read.findings.map((f) => [f.grade, f.code, f.place.source?.line])).toEqual([
      ["caution", "measured-far-from-label", 15],
    ]);
  });
});

describe("a wrong shop file", () => {
  /** What is wrong, what is put in its place, the code, the line, and a word the message must hold. */
  const cases: readonly (readonly [string, string, string, string, number, string])[] = [
    ["unknown key", "stick out: 26", "stick_out: 26", "shop-file-unknown-key", 17, 'did you mean "stick out"?'],
    ["unknown section", "habits:", "habit:", "shop-file-unknown-key", 31, 'did you mean "habits"?'],
    ["missing value", "    stick out: 26\n", "", "shop-file-missing", 12, '"stick out" is missing for "6 up"'],
    ["missing units", "units: mm\n", "", "shop-file-missing", 1, '"units" is missing'],
    ["wrong unit word", "units: mm", "units: cm", "shop-file-wrong-value", 1, "one of: mm, in"],
    ["unknown kind", "kind: flat", "kind: flatt", "shop-file-wrong-value", 13, 'did you mean "flat"?'],
    ["decimal comma", "5.96", "5,96", "decimal-comma", 15, "5.96"],
    ["letters in a number", "x: 600", "x: 6oo", "unit-unknown", 4, "not a unit"],
    ["unit of another kind", "z: 3 in", "z: 3 rpm", "unit-wrong-kind", 4, "a length is wanted"],
    ["bare fraction in mm", "flute length: 20", "flute length: 3/4", "bare-fraction", 16, "3/4 in"],
    ["zero size", "diameter: 6\n", "diameter: 0\n", "shop-file-wrong-value", 14, "too small"],
    ["negative size", "shank: 6\n    chip", "shank: -6\n    chip", "shop-file-wrong-value", 18, "too small"],
    ["size of a house", "x: 600", "x: 600000", "shop-file-wrong-value", 4, "too large"],
    ["not a number", "diameter: 6\n", "diameter: .nan\n", "shop-file-wrong-value", 14, "diameter"],
    ["infinite", "diameter: 6\n", "diameter: .inf\n", "shop-file-wrong-value", 14, "diameter"],
    ["list for a size", "diameter: 6\n", "diameter: [6]\n", "shop-file-wrong-value", 14, "a length"],
    ["empty value", "diameter: 6\n", "diameter:\n", "shop-file-wrong-value", 14, "a length"],
    ["flutes beyond the stick out", "flute length: 20", "flute length: 30", "shop-file-disagrees", 16, "longer than"],
    ["V taller than its flutes", "flute length: 12", "flute length: 9", "shop-file-disagrees", 24, "10.83 mm"],
    ["V without angle", "    angle: 60 deg\n", "", "shop-file-missing", 20, '"angle" is missing'],
    ["angle on a flat bit", "kind: flat", "kind: flat\n    angle: 60 deg", "shop-file-disagrees", 14, 'no "angle"'],
    [
      "flat of the V too wide",
      "angle: 60 deg",
      "angle: 60 deg\n    tip flat: 13",
      "shop-file-disagrees",
      23,
      "as wide as",
    ],
    [
      "dead centre too wide",
      "shank: 6\n    chip",
      "shank: 6\n    dead centre: 4\n    chip",
      "shop-file-disagrees",
      19,
      "wider than",
    ],
    ["unknown wood in chip loads", "{ash: 0.1}", "{ahs: 0.1}", "shop-file-wrong-value", 19, 'did you mean "ash"?'],
    ["wood without class", "bog oak: {class: hardwood, ", "bog oak: {", "shop-file-missing", 30, '"class" is missing'],
    ["empty dial", "{1: 10000, 2: 14000 rpm}", "{}", "shop-file-wrong-value", 7, "no marks"],
    [
      "spindle upside down",
      "{dial: {1: 10000, 2: 14000 rpm}}",
      "{from: 24000, to: 8000}",
      "shop-file-disagrees",
      7,
      "lower speed first",
    ],
    ["half a spindle", "{dial: {1: 10000, 2: 14000 rpm}}", "{from: 24000}", "shop-file-missing", 7, '"to" is missing'],
    ["machine without post", "    post: plain\n", "", "shop-file-missing", 3, '"post" is missing'],
    [
      "like nothing known",
      "post: plain",
      "like: router, plain, speed by dail",
      "shop-file-wrong-value",
      6,
      "speed by dial",
    ],
    ["changer without table", "homes: no,", "homes: no, tool changer: yes,", "shop-file-disagrees", 10, "tool table"],
    [
      "no exact path, no corner error",
      "homes: no,",
      "homes: no, exact path: no,",
      "shop-file-missing",
      10,
      "corner error",
    ],
    ["neither yes nor no", "homes: no", "homes: perhaps", "shop-file-wrong-value", 10, "one of: yes, no"],
    ["tab", "  6 up:", "\t6 up:", "shop-file-not-yaml", 12, "tab"],
    ["name twice", "  V60:", "  6 up:", "shop-file-not-yaml", 20, "twice"],
    ["names that differ in capitals", "  V60:", "  6 UP:", "shop-file-disagrees", 20, "capitals"],
    ["no space after the colon", "diameter: 6\n", "diameter:6\n", "shop-file-not-yaml", 14, "a colon and a space"],
    ["tag", "kind: flat", "kind: !!js/function flat", "shop-file-not-yaml", 13, "!"],
    ["alias of nothing", "kind: flat", "kind: *flat", "shop-file-not-yaml", 1, "*"],
    [
      "a list where names belong",
      GOOD.slice(GOOD.indexOf("cutters:"), GOOD.indexOf("woods:")),
      "cutters: [6 up]\n",
      "shop-file-wrong-value",
      11,
      "cutters",
    ],
    [
      "nothing listed",
      GOOD.slice(GOOD.indexOf("cutters:"), GOOD.indexOf("woods:")),
      "cutters: {}\n",
      "shop-file-wrong-value",
      11,
      "lists nothing",
    ],
    [
      "acceleration as a feed",
      "spin up: 2 s",
      "acceleration: {x: 300 mm/min, y: 1, z: 1}",
      "unit-wrong-kind",
      9,
      "acceleration",
    ],
    ["formula in a feed", "x: 3000", "x: = 3 * 1000", "unit-wrong-kind", 5, "formula"],
    ["line break in a name", "  V60:", '  "V\\n60":', "shop-file-wrong-value", 20, "is no name"],
  ];
  for (const [what, from, to, code, line, words] of cases) {
    it(`${what} is told at its line, with what to do`, () => {
      const findings = broken(from, to);
      const found = findings.find((f) => f.code === code);
      expect(found, findings.map(printFinding).join("\n")).toBeDefined();
      expect(found!.place.source?.line, printFinding(found!)).toBe(line);
      expect(printFinding(found!)).toContain(words);
      expect(found!.mend, printFinding(found!)).toBeTruthy();
      expect(findings.every((f) => f.place.source?.file === "shop.yaml")).toBe(true);
    });
  }

  it("tells the second of two cutters in one slot", () => {
    const text = GOOD.replace("kind: flat", "kind: flat\n    slot: 2").replace("kind: V", "kind: V\n    slot: 2");
    const read = readShop(text, "shop.yaml");
    expect(read.findings.map((f) => [f.code, f.place.source?.line])).toEqual([["shop-file-disagrees", 23]]);
  });

  it("asks for slots where a machine keeps lengths by slot", () => {
    const text = GOOD.replace("homes: no,", "homes: no, tool table: yes,");
    expect(readShop(text, "shop.yaml").findings.map((f) => f.place.source?.line)).toEqual([12, 20]);
  });

  it("tells independent mistakes of every sort at once, from the top down", () => {
    const text = GOOD.replace("x: 600", "x: 6oo")
      .replace("spin up", "spin_up")
      .replace("kind: flat", "kind: flatt")
      .replace("5.96", "5,96")
      .replace("    stick out: 30\n", "");
    const read = readShop(text, "shop.yaml");
    const lines = read.findings.map((f) => f.place.source!.line);
    expect(read.findings.map((f) => f.code)).toEqual([
      "unit-unknown",
      "shop-file-unknown-key",
      "shop-file-wrong-value",
      "decimal-comma",
      "shop-file-missing",
    ]);
    expect(lines).toEqual([4, 9, 13, 15, 20]);
  });
});

describe("a hostile shop file", () => {
  const refusedQuickly = (text: string): readonly Finding[] => {
    const read = readShop(text, "shop.yaml");
    expect(read.ok).toBe(false);
    for (const f of read.findings)
      expect(
        printFinding(f)
          .split("\n")
          .every((l) => l.length < 2000),
      ).toBe(true);
    return read.findings;
  };

  it("cannot blow up by aliases", () => {
    const levels = Array.from(
      { length: 20 },
      (_, k) =>
        `a${k}: &a${k} [${Array(9)
          .fill(k === 0 ? "x" : `*a${k - 1}`)
          .join(", ")}]`,
    );
    refusedQuickly(`units: mm\n${levels.join("\n")}\n`);
  });

  it("cannot nest without end", () => {
    refusedQuickly(`units: mm\nmachines: ${"{a: ".repeat(20_000)}1${"}".repeat(20_000)}`);
    refusedQuickly(`units: ${"[".repeat(100_000)}`);
  });

  it("cannot be endless, or full of mistakes without end", () => {
    refusedQuickly(`units: mm\n# ${"x".repeat(300_000)}`);
    const many = Array.from({ length: 5000 }, (_, k) => `k${k}: 1`).join("\n");
    expect(refusedQuickly(many).length).toBeLessThanOrEqual(50);
  });

  it("cannot reach what all objects have", () => {
    for (const key of ["__proto__", "constructor", "toString", "hasOwnProperty"]) {
      refusedQuickly(`units: mm\n${key}: {polluted: yes}\n`);
      refusedQuickly(GOOD.replace("  6 up:", `  ${key}:`).replace("kind: flat", "kind: nothing"));
    }
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    const named = readShop(GOOD.replace("  6 up:", "  constructor:"), "shop.yaml");
    expect(named.ok && named.value.cutters[0]!.name).toBe("constructor");
  });

  it("of whatever text, gives a shop or findings that lie inside the text, never an exception", () => {
    const pieces = GOOD.split(/(?<=[\n:{}, ])/);
    const mangled = fc
      .array(
        fc.oneof(
          fc.constantFrom(...pieces),
          fc.string({ unit: "grapheme", maxLength: 6 }),
          fc.constantFrom("\t", "- ", "&a ", "*a", "? ", "| ", "{", "[", '"'),
        ),
        {
          maxLength: 60,
        },
      )
      .map((p) => p.join(""));
    fc.assert(
      fc.property(mangled, (text) => {
        const read = readShop(text, "shop.yaml");
        if (!read.ok) expect(read.findings.length).toBeGreaterThan(0);
        const lines = text.split(/\r\n|\n|\r/);
        for (const f of read.findings) {
          const s = f.place.source!;
          expect(s.line).toBeLessThanOrEqual(lines.length);
          expect(s.text).toBe(lines[s.line - 1]);
          expect(s.column).toBeLessThanOrEqual(s.text.length + 1);
          printFinding(f);
        }
      }),
      { numRuns: 500 },
    );
  });
});

describe("the schema of the shop file", () => {
  it("describes every key", () => {
    const undescribed: string[] = [];
    const walk = (shape: Record<string, unknown>, path: string): void => {
      const properties = (shape.properties ?? {}) as Record<string, Record<string, unknown>>;
      for (const [key, inner] of Object.entries(properties)) {
        if (typeof inner.description !== "string") undescribed.push(`${path}.${key}`);
        walk(inner, `${path}.${key}`);
      }
      if (typeof shape.additionalProperties === "object")
        walk(shape.additionalProperties as Record<string, unknown>, `${path}.*`);
      for (const option of (shape.anyOf ?? []) as Record<string, unknown>[]) walk(option, path);
    };
    walk(shopSchema() as Record<string, unknown>, "");
    expect(undescribed).toEqual([]);
  });
});
