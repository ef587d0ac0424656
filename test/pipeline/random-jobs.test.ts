import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makeAll } from "../../src/pipeline.ts";
import { oneBoard, textsOf } from "./texts.ts";

/**
 * Random parts, described as a person would, through the whole pipeline. Whatever is described is either refused as
 * input, with a place, or made and proved: no gouge, nothing left within reach, no rapid in wood, no loose piece. A
 * program that its own proof refuses is a mistake of ours.
 */

const um = (least: number, most: number) => fc.integer({ min: least * 1000, max: most * 1000 }).map((n) => n / 1000);

const place = fc.record({ x: um(20, 130), y: um(20, 80) });

const recess = fc
  .record({
    shape: fc.constantFrom("slot", "circle", "oval", "rounded rectangle"),
    length: um(14, 60),
    width: um(8, 40),
    at: place,
    depth: um(1, 11),
    lean: fc.constantFrom(0, 0, 0, 6, 15),
    turned: fc.constantFrom(0, 0, 90, 30),
  })
  .map((r) => {
    const size =
      r.shape === "circle"
        ? [`  diameter: ${r.width}`]
        : [
            `  length: ${Math.max(r.length, r.width + 1)}`,
            `  width: ${r.width}`,
            ...(r.shape === "rounded rectangle" ? ["  corner radius: 3.5"] : []),
          ];
    return [
      "- recess: room",
      `  shape: ${r.shape}`,
      ...size,
      `  centre at: ${r.at.x} from first end, ${r.at.y} from lower edge`,
      `  depth: ${r.depth}`,
      ...(r.turned === 0 ? [] : [`  turned: ${r.turned} deg`]),
      ...(r.lean === 0 ? [] : [`  wall: sloped ${r.lean} deg`]),
    ];
  });

const groove = fc
  .record({
    from: fc.constantFrom("lower edge", "upper edge", "first end", "second end"),
    at: um(5, 60),
    width: um(3, 16),
    depth: um(1, 7),
    stop: fc.option(um(4, 30), { nil: undefined }),
    ends: fc.constantFrom("round", "square"),
  })
  .map((g) => {
    const across = g.from === "lower edge" || g.from === "upper edge" ? "first end" : "lower edge";
    return [
      "- groove: slit",
      `  from: ${g.from}`,
      `  near edge at: ${g.at}`,
      `  width: ${g.width}`,
      `  depth: ${g.depth}`,
      ...(g.stop === undefined ? [] : [`  stops: ${g.stop} from ${across}`, `  ends: ${g.ends}`]),
    ];
  });

const rabbet = fc
  .record({
    along: fc.constantFrom("lower edge", "upper edge", "first end", "second end"),
    width: um(4, 14),
    depth: um(1, 9),
  })
  .map((r) => ["- rabbet: lap", `  along: ${r.along}`, `  width: ${r.width}`, `  depth: ${r.depth}`]);

const hole = fc
  .record({
    at: place,
    diameter: fc.oneof(um(3.6, 16), fc.constantFrom(3.5, 5)),
    depth: um(2, 12),
    through: fc.boolean(),
  })
  .map((h) => [
    "- hole: bore",
    `  diameter: ${h.diameter}`,
    `  depth: ${h.through ? "through" : h.depth}`,
    `  centre at: ${h.at.x} from first end, ${h.at.y} from lower edge`,
  ]);

const outline = fc
  .record({ radius: um(0, 12), tabs: fc.integer({ min: 3, max: 5 }), skin: fc.boolean() })
  .map((o) => [
    "- outline: shape",
    "  side: outside",
    `  corners: ${o.radius < 1 ? "sharp" : `rounded ${o.radius}`}`,
    `  hold by: ${o.skin ? "skin 0.6" : `${o.tabs} tabs, 8 wide, 1.5 high`}`,
  ]);

/** Names must differ: each feature after the first gets a number. */
function numbered(features: readonly (readonly string[])[]): string[] {
  return features.flatMap(([head = "", ...rest], i) => [`${head} ${i + 1}`, ...rest]);
}

function boardOf(features: readonly (readonly string[])[], withOutline: readonly string[] | undefined): string {
  if (withOutline === undefined) return oneBoard(numbered(features), { length: 150, width: 100, thickness: 14 });
  const part = oneBoard(numbered([...features, withOutline]), { length: 150, width: 100, thickness: 14 });
  return `${part}boards:\n  sheet:\n    blank: {wood: ash, length: 190, width: 140, thickness: 14}\n    held by: tape\n    places:\n      - {part: board, at: "20 from first end, 20 from lower edge"}\n`;
}

/** A whole job, as text. */
const job = fc
  .record({
    features: fc.array(fc.oneof(recess, groove, rabbet, hole), { minLength: 1, maxLength: 3 }),
    outline: fc.option(outline, { nil: undefined, freq: 4 }),
  })
  .map((j) => boardOf(j.features, j.outline));

describe("random parts", () => {
  it("are refused as input, or made and proved", () => {
    let made = 0;
    fc.assert(
      fc.property(job, (text) => {
        const result = makeAll(textsOf(text));
        const refusals = result.findings.filter((f) => f.grade === "refuse");
        if (result.verdict === "input") {
          for (const f of refusals) expect(f.place.source ?? f.place.part, f.what).toBeDefined();
          return;
        }
        made++;
        expect(refusals.map((f) => `${f.code}: ${f.what}`)).toEqual([]);
      }),
      { numRuns: Number(process.env["RANDOM_JOBS"] ?? 60), endOnFailure: false },
    );
    expect(made).toBeGreaterThan(5);
  }, 300_000);
});
