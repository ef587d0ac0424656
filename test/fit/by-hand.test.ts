import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bladeRamp, type HandCut, handCuts } from "../../src/fit/by-hand.ts";
import { leadEnd } from "../../src/fit/by-hand-run.ts";
import { onBothRules, onRule } from "../../src/fit/nearest-64th.ts";
import { strip } from "../../src/fit/strip.ts";
import { bordersOf, FACES } from "../../src/job/faces.ts";
import type { Feature, PartDescription } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { faceFrame } from "../../src/parts/faces.ts";
import { mirroredDescription } from "../../src/parts/mirror.ts";
import { boundsOfRegion } from "../../src/shapes/region.ts";
import { said } from "./said.ts";

const TOOLS = { bits: [3, 4, 6, 8, 12], kerf: 3, bladeDiameter: 250 };
const SIZE = { length: 180, width: 57, thickness: 9 };

type Rest<F> = F extends Feature ? Omit<F, "source" | "sources" | "name"> : never;

function part(...features: readonly Rest<Feature>[]): PartDescription {
  return strip(
    said("side"),
    "ash",
    SIZE,
    {},
    features.map((f, i) => ({ ...f, name: `cut ${i}`, source: said("side").source, sources: {} }) as Feature),
    1,
  );
}

function numbers(cut: HandCut | undefined): readonly (readonly [string, number])[] {
  return (cut?.settings ?? []).map((s) => [s.what, Number(s.value.mm.toFixed(4))] as const);
}

const groove = (stops: { first?: number; second?: number }, width = 9.9): Rest<Feature> => ({
  kind: "groove",
  on: "face",
  run: { kind: "along", from: { distance: 33, border: "lower edge", reach: "far edge" }, stops },
  width,
  depth: { kind: "to", depth: 3.5 },
  bearingWall: "upper edge",
  ends: "round",
});

describe("settings for making it by hand", () => {
  it("a stopped groove wider than the bit: passes outwards from the fence, and a block for the end that goes first", () => {
    const [router] = handCuts(part(groove({ first: 12 })), TOOLS);
    expect(router!.way).toBe("router table");
    // Walls 23.1 and 33 above the lower edge; an 8 mm bit, so the second pass stands 25 from the fence.
    expect(numbers(router)).toEqual([
      ["bit", 8],
      ["bit height", 3.5],
      ["fence", 23.1],
      ["fence", 25],
      ["stop", 12],
    ]);
    expect(router!.settings.at(-1)!.words).toBe(
      'end: block on the left for "front end", from the left side of the bit: 12 mm (15/32 in)',
    );
    expect(router!.notes).toContain('"front end" goes first');
  });

  it("its mirror image begins at the block instead, and is no work for the saw", () => {
    const [, saw] = handCuts(part(groove({ first: 12 })), TOOLS);
    expect(saw!.way).toBe("table saw");
    expect(numbers(saw)).toEqual([
      ["blade height", 3.5],
      ["fence", 23.1],
      ["fence", 25.4],
      ["fence", 27.7],
      ["fence", 30],
      ["stop", 12],
    ]);
    const twin = handCuts(mirroredDescription(part(groove({ first: 12 })), "right side"), TOOLS);
    expect(twin.map((c) => c.way)).toEqual(["router table"]);
    expect(twin[0]!.settings.at(-1)!.words).toMatch(/^start: block on the right for "front end"/);
  });

  it("a groove as wide as a bit is one pass; narrower than every bit and the blade, it is nothing for these machines", () => {
    expect(numbers(handCuts(part(groove({}, 6)), TOOLS)[0])).toEqual([
      ["bit", 6],
      ["bit height", 3.5],
      ["fence", 27],
    ]);
    expect(handCuts(part(groove({}, 2.5)), TOOLS)).toEqual([]);
  });

  it("passes cover the groove from wall to wall and never leave it", () => {
    fc.assert(
      fc.property(fc.integer({ min: 3000, max: 25000 }), fc.constantFrom(0, 1), (um, which) => {
        const width = um / 1000;
        for (const cut of handCuts(part({ ...groove({}, width) }), TOOLS).slice(which, which + 1)) {
          const wide = cut.way === "router table" ? cut.settings[0]!.value.mm : TOOLS.kerf;
          const fences = cut.settings.filter((s) => s.what === "fence").map((s) => s.value.mm);
          expect(fences[0]).toBeCloseTo(33 - width, 9);
          for (const [i, f] of fences.entries()) {
            expect(f + wide).toBeLessThanOrEqual(33 + 0.03);
            if (i > 0) expect(f - fences[i - 1]!).toBeLessThanOrEqual(wide + 1e-9);
          }
          expect(fences.at(-1)! + wide).toBeGreaterThan(33 - 0.031);
        }
      }),
      { numRuns: 40 },
    );
  });

  it("the saw's ramp is half the chord at the table: √(h(d − h))", () => {
    expect(bladeRamp(250, 3.5)).toBeCloseTo(Math.sqrt(125 ** 2 - 121.5 ** 2), 9);
  });

  it("a rabbet: one exposure of a wide bit, or two saw cuts that leave its corner square", () => {
    const cuts = handCuts(
      part({ kind: "rabbet", on: "back", along: "first end", width: 9, depth: { kind: "to", depth: 6 }, stops: {} }),
      TOOLS,
    );
    expect(numbers(cuts[0])).toEqual([
      ["bit", 12],
      ["bit height", 6],
      ["bit out of fence", 9],
    ]);
    expect(numbers(cuts[1])).toEqual([
      ["blade height", 6],
      ["fence", 6],
      ["blade height", 9],
      ["fence", 3],
    ]);
    expect(cuts[0]!.notes.join()).toContain("across the grain");
  });

  it("holes that share a fence are drilled along it", () => {
    const at = (x: number, y: number) =>
      [
        { distance: x, border: "first end", reach: "centre" },
        { distance: y, border: "lower edge", reach: "centre" },
      ] as const;
    const [drill] = handCuts(
      part({
        kind: "hole",
        on: "face",
        diameter: 3.5,
        depth: { kind: "through" },
        centres: [at(16, 4.75), at(81, 4.75), at(20, 30)],
        head: { kind: "countersunk", headDiameter: 6.6, includedAngle: 90 },
      }),
      TOOLS,
    );
    expect(numbers(drill)).toEqual([
      ["drill", 3.5],
      ["fence to middle", 4.75],
      ["along", 16],
      ["along", 81],
      ["fence to middle", 30],
      ["along", 20],
      ["countersink", 6.6],
    ]);
  });

  it("stops and walls are those of the cavity that the router would cut, whichever face, border and end", () => {
    const draw = fc.record({
      on: fc.constantFrom("face" as const, "back" as const),
      border: fc.constantFrom(
        "lower edge" as const,
        "upper edge" as const,
        "first end" as const,
        "second end" as const,
      ),
      reach: fc.constantFrom("near edge" as const, "centre" as const, "far edge" as const),
      first: fc.option(fc.integer({ min: 5, max: 20 }), { nil: undefined }),
      second: fc.option(fc.integer({ min: 5, max: 20 }), { nil: undefined }),
    });
    fc.assert(
      fc.property(draw, ({ on, border, reach, first, second }) => {
        const described = part({
          kind: "groove",
          on,
          run: {
            kind: "along",
            from: { distance: 20, border, reach },
            stops: { ...(first === undefined ? {} : { first }), ...(second === undefined ? {} : { second }) },
          },
          width: 6,
          depth: { kind: "to", depth: 3 },
          ends: "round",
        });
        const made = describeWorkpieces({
          file: "",
          title: "",
          unit: "mm",
          measured: [],
          parts: [described],
          boards: [],
          overrides: [],
        });
        if (!made.ok) throw new Error("a groove was expected");
        const box = boundsOfRegion(made.value[0]!.cavities[0]!.section)!;
        const router = handCuts(described, TOOLS).find((c) => c.way === "router table")!;
        // In plan coordinates of the face each border is one of the box's sides; the back is seen from behind.
        const along = [box.min.x, SIZE.length - box.max.x] as const;
        const [fromFirst, fromSecond] = on === "back" ? [along[1], along[0]] : along;
        const from: Readonly<Record<string, number>> = {
          "lower edge": box.min.y,
          "upper edge": SIZE.width - box.max.y,
          "front end": fromFirst,
          "back end": fromSecond,
        };
        const fence = router.settings.find((s) => s.what === "fence")!;
        expect(fence.value.mm).toBeCloseTo(from[described.labels[border]]!, 9);
        const stops = router.settings.filter((s) => s.what === "stop");
        expect(stops.length).toBe((first === undefined ? 0 : 1) + (second === undefined ? 0 : 1));
        for (const stop of stops) {
          expect(stop.value.mm).toBeCloseTo(from[/for "([^"]+)"/.exec(stop.words)![1]!]!, 9);
        }
      }),
      { numRuns: 40 },
    );
  });

  it("the end that goes first lies left when one looks at the face with the border beneath, by the frames of the faces", () => {
    for (const on of FACES) {
      for (const border of bordersOf(on)) {
        const w = faceFrame({ length: 1, width: 1, thickness: 1 }, border).rotation[2];
        const lead = faceFrame({ length: 1, width: 1, thickness: 1 }, leadEnd(on, border)).rotation[2];
        const face = faceFrame({ length: 1, width: 1, thickness: 1 }, on).rotation[2];
        // Left, up and towards the eye: with up = −border, left × up = −face's way out, for a right-handed eye.
        const up = [-w[0], -w[1], -w[2]] as const;
        const cross = [
          lead[1] * up[2] - lead[2] * up[1],
          lead[2] * up[0] - lead[0] * up[2],
          lead[0] * up[1] - lead[1] * up[0],
        ];
        cross.forEach((c, i) => {
          expect(c + face[i]!).toBeCloseTo(0, 12);
        });
      }
    }
    expect(leadEnd("face", "lower edge")).toBe("first end");
    expect(leadEnd("back", "lower edge")).toBe("second end");
  });

  it("a mortise is drilled out and pared, or is a groove between two blocks", () => {
    const [drill, router] = handCuts(
      part({
        kind: "mortise",
        on: "face",
        length: 34,
        width: 6,
        depth: { kind: "to", depth: 5 },
        at: [
          { distance: 72, border: "first end", reach: "centre" },
          { distance: 30, border: "lower edge", reach: "centre" },
        ],
        turnedDeg: 0,
      }),
      TOOLS,
    );
    // 34 long and 6 wide: round ends about 58 and 86 from the front end.
    expect(numbers(drill)).toEqual([
      ["drill", 6],
      ["drill depth", 5],
      ["fence to middle", 30],
      ["along", 58],
      ["along", 86],
    ]);
    expect(numbers(router)).toEqual([
      ["bit", 6],
      ["bit height", 5],
      ["fence", 27],
      ["stop", 180 - 72 - 17],
      ["stop", 72 - 17],
    ]);
  });

  it("of a narrow part says that fingers come near the bit", () => {
    const narrow = { ...part(groove({}, 6)), size: { ...SIZE, width: 39 } };
    expect(handCuts(narrow, TOOLS).every((c) => c.notes.join().includes("the part is narrow"))).toBe(true);
    expect(handCuts(part(groove({}, 6)), TOOLS).some((c) => c.notes.join().includes("narrow"))).toBe(false);
  });

  it("a groove between two points along the part has stops; a slanting one has no fence", () => {
    const between = (y: number): Rest<Feature> => ({
      kind: "groove",
      on: "face",
      run: {
        kind: "between",
        start: [
          { distance: 20, border: "first end", reach: "centre" },
          { distance: 10, border: "lower edge", reach: "centre" },
        ],
        end: [
          { distance: 30, border: "second end", reach: "centre" },
          { distance: y, border: "lower edge", reach: "centre" },
        ],
      },
      width: 6,
      depth: { kind: "to", depth: 3 },
      ends: "round",
    });
    expect(numbers(handCuts(part(between(10)), TOOLS)[0])).toEqual([
      ["bit", 6],
      ["bit height", 3],
      ["fence", 7],
      ["stop", 30],
      ["stop", 20],
    ]);
    expect(handCuts(part(between(14)), TOOLS)).toEqual([]);
  });
});

describe("lengths on both rules", () => {
  it("the nearest 64th, reduced, is at most half a 64th off", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3_000_000 }), (um) => {
        const { mm, inch, off } = onRule(um / 1000);
        expect(Math.abs(off)).toBeLessThanOrEqual(25.4 / 128 + 1e-9);
        const read = inch
          .replace(/ in$/, "")
          .split(" ")
          .reduce(
            (sum, w) => sum + (w.includes("/") ? Number(w.split("/")[0]) / Number(w.split("/")[1]) : Number(w)),
            0,
          );
        expect(read * 25.4).toBeCloseTo(mm + off, 9);
      }),
      { numRuns: 50 },
    );
  });

  it("reads as a rule does", () => {
    expect(onBothRules(5.95)).toBe("5.95 mm (15/64 in)");
    expect(onBothRules(38.1)).toBe("38.1 mm (1 1/2 in)");
    expect(onRule(0).inch).toBe("0 in");
    expect(onRule(25.4).inch).toBe("1 in");
    expect(() => onRule(-1)).toThrow(RangeError);
  });
});
