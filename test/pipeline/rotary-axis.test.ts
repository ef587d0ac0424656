import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { makeAll } from "../../src/pipeline.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import { textsOf } from "./texts.ts";

const SHOP = `units: mm
machines:
  my router:
    like: router, millimetre, with tool changer
    travel: {x: 600, y: 400, z: 160}
    laser head: {x: 60, y: -4, radius: 18, underside: -40}
    laser:
      wavelength: 450 nm
      rated power: 10 W
      spot: {x: 0.12, y: 0.16}
      focus gap: 24
      focus range: 0.6
      full power: 1000
      power follows speed: no
      starts with: M3
      lag: 1 ms
      slot: 20
    rotary axis:
      lies: along X
      height: 90
      swing: 120
      chuck: {diameter: 40, over: 12}
      centre: {diameter: 12, over: 0}
      top speed: 7200 deg
      acceleration: 720 deg
      crown goes to: back
      A 0: crown up
    understands: {axes: [X, Y, Z, A]}
    post: millimetre
burns:
  ash:
    line: {power: 35 %, speed: 1500}
    area: {power: 35 %, speed: 1200, spacing: 0.15}
`;

const JOB = `title: Pull
units: mm
parts:
  pull:
    blank: {wood: ash, length: 160, square: 36}
    turned by: hand
    square ends: 20
    index: rotary axis
    features:
      - turning: profile
        elements:
          - cylinder: {length: 100, diameter: 30}
          - taper: {length: 20, from: 30, to: 24}
      - mark: name
        text: Till No. 7 ash
        letters: upright
        cap height: 7
        centre at: 80 from first end
        around: 90 deg
        turned: 90 deg
        made by: burned line
      - mark: place
        text: IV
        letters: book
        cap height: 5
        centre at: 50 from first end
        around: 270 deg
        made by: burned area
        angle: 90 deg
`;

function made(job: string, shop = SHOP) {
  const all = makeAll(textsOf(job, { shop: { text: shop, file: "shop.yaml" } }));
  return { all, refused: all.findings.filter((f) => f.grade === "refuse").map((f) => f.code) };
}

/** The last number that a mark of A's lines bring up, without comments. */
function angles(text: string): readonly number[] {
  return [...text.replace(/\([^)]*\)/g, "").matchAll(/A(-?[\d.]+)/g)].map((m) => Number(m[1]));
}

describe("a turned part with the index on a rotary axis", () => {
  const { all } = made(JOB);

  it("gets one program with its walk and an unrolled sheet, wider than works from above, lines around at even speed", () => {
    expect([all.verdict, all.findings.filter((f) => f.grade === "refuse").map(printFinding)]).toEqual(["fine", []]);
    const program = all.files.find((f) => f.kind === "program")!;
    expect(program.text).toContain("index: rotary axis");
    expect(program.text).toContain("A growing takes the crown to");
    expect(all.files.filter((f) => f.kind === "dry run")).toHaveLength(1);
    // The name is about 69 mm long on a radius of 15: 262 degrees, its middle at 90; the crown goes to the back, so A is negative.
    const a = angles(program.text);
    expect(Math.min(...a)).toBeLessThan(-215);
    expect(Math.max(...a)).toBeGreaterThan(90);
    const sheet = all.files.find((f) => f.name.endsWith("laser.svg"))!;
    expect(sheet.text).toContain("crown, 0°: A 0");
    expect(sheet.text).toContain("90°: A -90");
    expect(sheet.text).toContain("unrolled, true to size");
  });

  it("is refused with the mend where it cannot be", () => {
    expect(made(JOB.replace("index: rotary axis\n", "index: square ends\n")).refused).toContain("mark-too-wide");
    expect(made(JOB.replace("80 from first end", "125 from first end")).refused).toEqual(["mark-not-on-cylinder"]);
    expect(made(JOB.replace("50 from first end", "10 from first end")).refused).toEqual(["mark-not-on-cylinder"]);
    expect(made(JOB.replace("cap height: 7", "cap height: 11")).refused).toEqual(["mark-too-wide"]);
    expect(made(JOB, SHOP.replace(/ {4}rotary axis:\n( {6}.*\n)+/, "")).refused).toEqual(["beam-no-rotary"]);
  });

  it("has a rotary axis only where the controller has A", () => {
    const plain = readShop(SHOP.replace("    understands: {axes: [X, Y, Z, A]}\n", ""), "shop.yaml");
    expect(plain.findings.filter((f) => f.grade === "refuse").map((f) => f.code)).toEqual(["shop-file-disagrees"]);
    const read = readShop(SHOP, "shop.yaml");
    expect(read.ok && read.value.machines[0]!.rotary).toEqual({
      height: 90,
      swing: 120,
      chuck: { diameter: 40, over: 12 },
      centre: { diameter: 12, over: 0 },
      topSpeed: 7200,
      acceleration: 720,
      crownGoes: "back",
    });
  });
});
