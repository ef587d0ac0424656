import { describe, expect, it } from "vitest";
import { type Finding, printFinding } from "../../src/finding.ts";
import { planFit } from "../../src/fit/plan-fit.ts";
import { readJob } from "../../src/job/read-job.ts";
import { readShop } from "../../src/shop/read-shop.ts";
import { unmarked } from "../job/marks.ts";

const BASE = `title: Two drawers
units: mm
case:
  wood: cherry
  side thickness: 15
  divider thickness: 14
  columns: 2
  measured with: calipers
  moisture today: 8 % by meter
  seasons: {dry: 20 C at 35 %, wet: 22 C at 65 %}
  openings:
    left one: {width: {mouth: 142.3, middle: 142.1, back: 142.4}, height: {left: 58.6, right: 58.5}, depth: 205}
    right one: {width: 142, height: 58.5, depth: 205.2}
drawers:
  fronts: {wood: cherry, thickness: 14}
  sides: {wood: ash, thickness: 10}
  bottoms: {wood: plywood, thickness: 4}
  runners: {wood: hard maple, tall: 11, thickness: 4, screw: 3 mm}
  front joint: half-blind
  back joint: through
  between runners:
    left one: {mouth: 134.4, back: 134.5}
    right one: {mouth: 134.2, back: 134.2}
`;

/** What stands in the job, what is written instead with ¦ before the place that must be pointed at, and what is found. */
type Wrong = readonly [name: string, from: string, to: string, code: string];

const READING: readonly Wrong[] = [
  ["a key of the case", "side thickness: 15", "¦side thicknes: 15\n  side thickness: 15", "key-unknown"],
  ["a case without openings", BASE.slice(BASE.indexOf("  openings:"), BASE.indexOf("drawers:")), "", "key-missing"],
  ["an opening without its depth", ", depth: 205.2}", "}", "key-missing"],
  [
    "openings that fill no row",
    "    right one: {width",
    "    middle one: {width: 142, height: 58.5, depth: 205.2}\n    right one: {width",
    "openings-uneven",
  ],
  ["no divider between columns", "  divider thickness: 14\n  columns: 2", "  columns: ¦2", "key-missing"],
  [
    "no width at the mouth",
    "{mouth: 142.3, middle: 142.1, back: 142.4}",
    "¦{middle: 142.1, back: 142.4}",
    "reading-missing",
  ],
  ["no reading at all", "height: {left: 58.6, right: 58.5}", "height: ¦{}", "reading-missing"],
  ["a place that is none", "middle: 142.1", "¦midle: 142.1", "key-unknown"],
  ["a slipped digit", "{mouth: 142.3,", "¦{mouth: 124.3,", "readings-spread"],
  ["a size below nothing", "middle: 142.1", "middle: ¦-142.1", "size-not-positive"],
  ["a list for a width", "width: 142,", "width: ¦[142; 143],", "kind-wrong"],
  ["air without a humidity", "dry: 20 C at 35 %", "dry: ¦20 C", "climate-unreadable"],
  ["air of a kiln", "wet: 22 C at 65 %", "wet: ¦90 C at 65 %", "climate-unreadable"],
  ["moisture without a meter or weeks", "8 % by meter", "¦dry enough", "climate-unreadable"],
  ["a joint that is none", "front joint: half-blind", "front joint: ¦dovetail nails", "word-unknown"],
  ["a back joint that is none", "back joint: through", "back joint: ¦mitre", "word-unknown"],
  ["a lap in a butt joint", "front joint: half-blind", "front joint: {kind: butt, lap: ¦4}", "drawers-joint"],
  ["tails in a rabbet", "front joint: half-blind", "front joint: {kind: rabbet, tails: ¦3}", "drawers-joint"],
  ["a housing's depth in a dovetail", "back joint: through", "back joint: {kind: through, depth: ¦3}", "drawers-joint"],
  [
    "a lip on an inset front",
    "fronts: {wood: cherry, thickness: 14}",
    "fronts: {wood: cherry, thickness: 14, lip: ¦{over: 5, thickness: 5}}",
    "drawers-lip",
  ],
  [
    "slips with grooves",
    "bottoms: {wood: plywood, thickness: 4}",
    "bottoms: {wood: plywood, thickness: 4, slip: ¦{width: 9, tall: 14}}",
    "drawers-slip",
  ],
  ["a pull that nobody turned", "  front joint:", "  pulls: ¦knob\n  front joint:", "drawers-pull-unknown"],
  [
    "an opening that is none",
    "    right one: {mouth: 134.2, back: 134.2}",
    "    write one: ¦{mouth: 134.2, back: 134.2}",
    "drawers-opening-unknown",
  ],
  ["a screw that is none", "screw: 3 mm", "screw: ¦M6 bolt", "screw-unknown"],
  ["drawers without fronts", "  fronts: {wood: cherry, thickness: 14}\n", "", "key-missing"],
];

const PLANNING: readonly Wrong[] = [
  ["a wood that the shop doesn't know", "wood: ash", "wood: ¦ashh", "plan-wood-unknown"],
  [
    "diagonals of another opening",
    "depth: 205.2}",
    "depth: 205.2, diagonals: {rising: ¦190, falling: 110}}",
    "fit-mouth-impossible",
  ],
  [
    "a lap as thick as the front",
    "front joint: half-blind",
    "front joint: {kind: half-blind, lap: ¦14}",
    "fit-joint-no-room",
  ],
  [
    "through joints in a lipped front",
    "fronts: {wood: cherry, thickness: 14}\n  sides: {wood: ash, thickness: 10}\n  bottoms: {wood: plywood, thickness: 4}\n  runners: {wood: hard maple, tall: 11, thickness: 4, screw: 3 mm}\n  front joint: half-blind",
    "fronts: {wood: cherry, thickness: 14, set: lipped}\n  sides: {wood: ash, thickness: 10}\n  bottoms: {wood: plywood, thickness: 4}\n  runners: {wood: hard maple, tall: 11, thickness: 4, screw: 3 mm}\n  front joint: ¦through",
    "fit-joint-no-room",
  ],
  [
    "an opening that is too low",
    "right one: {width: 142, height: 58.5,",
    "right one: {width: 142, height: ¦30,",
    "fit-no-room",
  ],
  [
    "runners that don't reach the sides",
    "right one: {mouth: 134.2, back: 134.2}\n",
    "right one: {mouth: 141.2, back: 141.2}\n    ",
    "fit-runner-misses",
  ],
  [
    "runners that go through the sides",
    "left one: {mouth: 134.4, back: 134.5}",
    "left one: {mouth: 119, back: 119}",
    "fit-groove-through",
  ],
  [
    "a housing through the side",
    "back joint: through",
    "back joint: {kind: housing, depth: ¦10.5}",
    "fit-joint-no-room",
  ],
  [
    "lips that meet on the divider",
    "thickness: 14}\n  sides",
    "thickness: 14, set: lipped, lip: {over: ¦8, thickness: 4}}\n  sides",
    "fit-lips-meet",
  ],
  ["screws that come out of the case", "screw: 3 mm}", "screw: 3 mm, screw length: ¦25}", "fit-screw-through"],
  [
    "a bottom's groove through the front",
    "bottoms: {wood: plywood, thickness: 4}",
    "bottoms: {wood: plywood, thickness: 4, groove depth: ¦15}",
    "fit-groove-depth",
  ],
  [
    "a bottom above the middle",
    "bottoms: {wood: plywood, thickness: 4}",
    "bottoms: {wood: plywood, thickness: 4, groove at: ¦40}",
    "fit-groove-depth",
  ],
  ["a runner above the side", "screw: 3 mm}", "screw: 3 mm, bearing wall at: ¦60}", "fit-groove-off-side"],
  [
    "a part with a drawer's name",
    "drawers:\n",
    "parts:\n  ¦left one front:\n    blank: {wood: ash, length: 90, width: 40, thickness: 9}\ndrawers:\n",
    "fit-name-taken",
  ],
];

const shop = readShop(undefined, "built-in defaults");

function wrongs(text: string): { readonly found: readonly Finding[]; readonly read: boolean } {
  const job = readJob(text, "case.yaml", () => undefined);
  if (!job.ok || !shop.ok) return { found: job.findings, read: false };
  return { found: planFit(job.value, shop.value).findings, read: true };
}

function planted([name, from, to, code]: Wrong): { text: string; at: string | undefined; code: string } {
  if (BASE.split(from).length !== 2)
    throw new Error(`"${name}" plants its mistake in ${BASE.split(from).length - 1} places`);
  const { text, marks } = unmarked(BASE.replace(from, to));
  return { text, at: marks[0], code };
}

describe("a case of drawers with a mistake", () => {
  it("is fine without one", () => {
    expect(wrongs(BASE).found.filter((f) => f.grade === "refuse")).toEqual([]);
    expect(wrongs(BASE).read).toBe(true);
  });

  it.each([...READING.map((w) => [w[0], w, false] as const), ...PLANNING.map((w) => [w[0], w, true] as const)])(
    "tells of %s, once",
    (_, wrong, read) => {
      const { text, at, code } = planted(wrong);
      const told = wrongs(text);
      const refused = told.found.filter((f) => f.grade === "refuse");
      expect(refused.map((f) => f.code)).toEqual([code]);
      expect(told.read).toBe(read);
      const s = refused[0]!.place.source!;
      if (at !== undefined) expect(`${s.line}:${s.column}`).toBe(at);
      expect(refused[0]!.mend?.length ?? 0).toBeGreaterThan(4);
      expect(printFinding(refused[0]!)).not.toMatch(/undefined|NaN|\[object/);
    },
  );

  it("tells of an opening's name that fills the page, once", () => {
    const found = wrongs(BASE.replaceAll("right one", `${"very ".repeat(12)}right one`)).found;
    expect(found.map((f) => f.code)).toEqual(["text-unusable"]);
  });

  it("needs a case", () => {
    const text = BASE.replace(/case:[\s\S]*?(?=drawers:)/, "");
    expect(wrongs(text).found.map((f) => f.code)).toContain("key-missing");
  });
});

describe("a case of drawers that asks for a second look", () => {
  const cautions: readonly (readonly [string, string, string, string])[] = [
    ["narrower at the back", "back: 142.4}", "back: 141.9}", "fit-narrower-at-back"],
    ["a mouth in wind", "depth: 205.2}", "depth: 205.2, wind: 0.6}", "fit-mouth-winds"],
    [
      "a mouth out of square",
      "depth: 205.2}",
      "depth: 205.2, diagonals: {rising: 154.3, falling: 152.9}}",
      "fit-mouth-leans",
    ],
    [
      "diagonals that disagree",
      "depth: 205.2}",
      "depth: 205.2, diagonals: {rising: 155.2, falling: 155.2}}",
      "fit-readings-disagree",
    ],
    ["moisture that is guessed", "  moisture today: 8 % by meter\n", "", "fit-moisture-guessed"],
    [
      "a second measuring that is far off",
      "{mouth: 134.4, back: 134.5}",
      "{mouth: 132.4, back: 132.5}",
      "fit-between-far",
    ],
    ["no second measuring", "    right one: {mouth: 134.2, back: 134.2}\n", "", "fit-measure-first"],
  ];
  it.each(cautions)("%s", (_, from, to, code) => {
    const found = wrongs(BASE.replace(from, to)).found;
    expect(found.filter((f) => f.grade === "refuse").map(printFinding)).toEqual([]);
    expect(found.filter((f) => f.grade === "caution").map((f) => f.code)).toContain(code);
    expect(
      wrongs(BASE)
        .found.filter((f) => f.grade === "caution")
        .map((f) => f.code),
    ).not.toContain(code);
  });
});
