import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makeAll } from "../../src/pipeline.ts";
import { defaultMachines } from "../../src/shop/default-machines.ts";
import { bare, motionOf, programsOf, projectText, textsOf } from "./texts.ts";

const controller = defaultMachines()[0]!.controller;

/** A job that says every size in both units. */
function job(unit: "mm" | "in", size: (mm: number) => string): string {
  return `
title: both
units: ${unit}
shop: shop.yaml
parts:
  board:
    blank: {wood: ash, length: ${size(152.4)}, width: ${size(88.9)}, thickness: ${size(19.05)}}
    held by: tape
    features:
      - recess: room
        shape: rounded rectangle
        length: ${size(63.5)}
        width: ${size(25.4)}
        corner radius: ${size(9.525)}
        centre at: ${size(76.2)} from first end, ${size(50.8)} from lower edge
        depth: ${size(6.35)}
      - groove: bottom
        from: lower edge
        near edge at: ${size(12.7)}
        width: ${size(6.35)}
        depth: ${size(4.7625)}
        stops: ${size(9.525)} from first end
`;
}

const inches = (mm: number): string => `${Number((mm / 25.4).toFixed(6))} in`;
const millimetres = (mm: number): string => `${mm} mm`;

describe("the same part, described in inches and in millimetres", () => {
  const mm = makeAll(textsOf(job("mm", millimetres)));
  const inch = makeAll(textsOf(job("in", inches)));
  const inchPost = makeAll(
    textsOf(job("in", inches), {
      shop: { text: projectText("samples/shop.yaml").replace("post: millimetre", "post: inch"), file: "shop.yaml" },
    }),
  );

  it("gives the same program", () => {
    expect(mm.verdict).toBe("fine");
    expect(inch.verdict).toBe("fine");
    expect(bare(programsOf(inch)[0]!.text)).toBe(bare(programsOf(mm)[0]!.text));
  });

  it("moves alike within 0.0003 mm in the inch dialect", () => {
    expect(inchPost.findings.filter((f) => f.grade === "refuse")).toEqual([]);
    expect(inchPost.verdict).toBe("fine");
    const a = motionOf(programsOf(mm)[0]!.text, controller);
    const b = motionOf(programsOf(inchPost)[0]!.text, controller);
    expect(b.length).toBe(a.length);
    for (const [i, m] of a.entries()) {
      for (const axis of ["x", "y", "z"] as const) {
        const [p, q] = [m.to[axis], b[i]!.to[axis]];
        expect(p === undefined).toBe(q === undefined);
        if (p !== undefined && q !== undefined) expect(Math.abs(p - q)).toBeLessThanOrEqual(0.0003);
      }
    }
  });
});

describe("names", () => {
  const named = (title: string, part: string, feature: string): string =>
    [
      `title: ${JSON.stringify(title)}`,
      "units: mm",
      "shop: shop.yaml",
      "parts:",
      `  ${JSON.stringify(part)}:`,
      "    blank: {wood: ash, length: 100, width: 60, thickness: 12}",
      "    held by: tape",
      "    features:",
      `      - groove: ${JSON.stringify(feature)}`,
      "        from: lower edge",
      "        near edge at: 20",
      "        width: 6.4",
      "        depth: 4",
      "",
    ].join("\n");
  const plain = makeAll(textsOf(named("a title", "a part", "a groove")));

  it("change no motion, whatever they are", () => {
    expect(plain.verdict).toBe("fine");
    const want = bare(programsOf(plain)[0]!.text);
    const wicked = fc.oneof(
      fc.constantFrom(") G0 Z-50 (", "%", "(MSG, x)", "M3 S24000", "G1 X1;", "\\n G0 Z-9", "a (b) c", "; M2", "#1=5"),
      fc.string({ unit: "grapheme", minLength: 1, maxLength: 40 }),
    );
    fc.assert(
      fc.property(wicked, wicked, wicked, (title, part, feature) => {
        const made = makeAll(textsOf(named(title, part, feature)));
        if (made.verdict === "input") return; // refused as a name: it reaches no program at all
        expect(made.verdict).toBe("fine");
        expect(bare(programsOf(made)[0]!.text)).toBe(want);
      }),
      { numRuns: 25 },
    );
  });
});
