import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/finding.ts";
import type { BoardDescription, Feature, PartDescription } from "../../src/job/job.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { at, feature, from, groove, job, part, spot } from "./describing.ts";

function found(features: readonly Feature[], more: Partial<PartDescription> = {}): readonly Finding[] {
  return describeWorkpieces(job([part(features, more)])).findings;
}

/** Exactly one finding of this code, at this line, with a reason and a mend. */
function expectOne(
  findings: readonly Finding[],
  code: Finding["code"],
  line: number,
  grade: Finding["grade"] = "refuse",
) {
  expect(findings.map((f) => [f.code, f.grade, f.place.source?.line])).toEqual([[code, grade, line]]);
  expect(findings[0]?.why ?? "").not.toBe("");
  expect(findings[0]?.mend ?? "").not.toBe("");
}

const recess = (
  name: string,
  line: number,
  x: number,
  y: number,
  more: Partial<Extract<Feature, { kind: "recess" }>> = {},
) =>
  feature(
    name,
    line,
    {
      kind: "recess",
      shape: { kind: "circle", diameter: 20 },
      at: spot(x, y),
      turnedDeg: 0,
      depth: { kind: "to", depth: 5 },
      wallLeanDeg: 0,
      ...more,
    },
    { lines: { depth: line + 1, "centre at": line + 2, wall: line + 3 } },
  );

const hole = (name: string, line: number, x: number, y: number, diameter = 4, depth = 6, on: Feature["on"] = "face") =>
  feature(
    name,
    line,
    { kind: "hole", diameter, depth: { kind: "to", depth }, centres: [spot(x, y)], head: { kind: "plain" } },
    { on, lines: { depth: line + 1 } },
  );

describe("what cannot be is refused at its own line", () => {
  it("deeper than the stock, or just as deep", () => {
    expectOne(found([recess("r", 10, 60, 30, { depth: { kind: "to", depth: 12 } })]), "part-too-deep", 11);
    expectOne(found([hole("h", 10, 60, 30, 4, 15)]), "part-too-deep", 11);
    expectOne(found([groove("g", 10, { depth: 13, lines: { depth: 14 } })]), "part-too-deep", 14);
  });

  it("off the board", () => {
    expectOne(found([recess("r", 10, 195, 30)]), "part-off-the-board", 12);
    expectOne(found([recess("r", 10, 10, 30)]), "part-off-the-board", 12);
    expectOne(found([hole("h", 10, 60, 61)]), "part-off-the-board", 10);
    expectOne(found([groove("g", 10, { from: from(0, "lower edge", "near edge") })]), "part-off-the-board", 10);
    expectOne(found([groove("g", 10, { first: 230, lines: { stops: 15 } })]), "part-off-the-board", 15);
    const rabbet = feature(
      "r",
      10,
      { kind: "rabbet", along: "lower edge", width: 60, depth: { kind: "to", depth: 4 }, stops: {} },
      { lines: { width: 11 } },
    );
    expectOne(found([rabbet]), "part-off-the-board", 11);
  });

  it("a recess, mortise or hole over anything else; runs may cross", () => {
    expectOne(found([recess("a", 10, 60, 30), recess("b", 20, 75, 30)]), "part-overlap", 20);
    expectOne(found([recess("a", 10, 60, 30), hole("h", 20, 60, 30)]), "part-overlap", 20);
    expectOne(found([groove("g", 10), hole("h", 20, 60, 12)]), "part-overlap", 20);
    // Side by side with wood between them, and a groove across a groove.
    expect(found([recess("a", 10, 60, 30), recess("b", 20, 81, 30)])).toEqual([]);
    expect(found([groove("g", 10), groove("x", 20, { from: from(40, "first end", "near edge") })])).toEqual([]);
  });

  it("two cuts that meet inside the wood, from opposite faces and from faces square to each other", () => {
    expectOne(
      found(
        [hole("a", 10, 60, 30, 6, 7), hole("b", 20, 140, 30, 6, 7, "back")].map((f, i) =>
          i === 0 ? f : ({ ...f, centres: [[from(60, "first end"), from(30, "lower edge")]] } as Feature),
        ),
      ),
      "part-cuts-meet",
      20,
    );
    const edgeHole = feature(
      "e",
      20,
      {
        kind: "hole",
        diameter: 4,
        depth: { kind: "to", depth: 25 },
        centres: [[from(60, "first end"), from(6, "back")]],
        head: { kind: "plain" },
      },
      { on: "lower edge" },
    );
    expectOne(found([recess("r", 10, 60, 30, { depth: { kind: "to", depth: 5 } }), edgeHole]), "part-cuts-meet", 20);
    // 30 mm away along the edge nothing meets.
    expect(found([recess("r", 10, 100, 30), edgeHole])).toEqual([]);
  });

  it("runs from square faces that cross are told, not refused", () => {
    const edge = groove("e", 20, { on: "lower edge", from: from(4, "back", "near edge"), width: 4, depth: 5 });
    const across = groove("a", 10, { from: from(50, "first end", "near edge"), depth: 6 });
    expectOne(found([across, edge]), "part-runs-cross", 20, "caution");
  });

  it("a drawing that crosses itself, and one with nothing in it", () => {
    const drawn = (points: readonly (readonly [number, number])[]) => ({
      kind: "drawing" as const,
      region: {
        loops: [
          points.map(([x, y], i) => {
            const [nx, ny] = points[(i + 1) % points.length]!;
            return { kind: "line" as const, from: { x, y }, to: { x: nx, y: ny } };
          }),
        ],
      },
      placed: "centred" as const,
      file: "leaf.svg",
    });
    const bow = recess("r", 10, 60, 30, {
      shape: drawn([
        [0, 0],
        [20, 20],
        [20, 0],
        [0, 20],
      ]),
    });
    expectOne(found([bow]), "part-drawing-crosses-itself", 10);
    const touches = recess("r", 10, 60, 30, {
      shape: drawn([
        [0, 0],
        [20, 0],
        [20, 20],
        [10, 0],
        [0, 20],
      ]),
    });
    expectOne(found([touches]), "part-drawing-crosses-itself", 10);
    expect(
      found([
        recess("r", 10, 60, 30, {
          shape: drawn([
            [0, 0],
            [20, 0],
            [20, 20],
            [0, 20],
          ]),
        }),
      ]),
    ).toEqual([]);
    const nothing = recess("r", 10, 60, 30, { shape: { ...drawn([]), region: { loops: [] } } });
    expectOne(found([nothing]), "part-shape", 10);
  });

  it("sloped walls that meet above the floor", () => {
    expectOne(
      found([recess("r", 10, 60, 30, { depth: { kind: "to", depth: 6 }, wallLeanDeg: 60 })]),
      "part-slope-eats-floor",
      13,
    );
    expect(found([recess("r", 10, 60, 30, { depth: { kind: "to", depth: 5 }, wallLeanDeg: 60 })])).toEqual([]);
  });

  it("a groove through the wood that is open at both ends, and a rabbet through it", () => {
    const g = groove("g", 10, { lines: { depth: 12 } });
    expectOne(found([{ ...g, depth: { kind: "through" } } as Feature]), "part-must-be-blind", 12);
    const stopped = groove("g", 10, { first: 20, second: 20 });
    expect(found([{ ...stopped, depth: { kind: "through" } } as Feature])).toEqual([]);
    expectOne(
      found([
        feature("r", 10, { kind: "rabbet", along: "lower edge", width: 5, depth: { kind: "through" }, stops: {} }),
      ]),
      "part-must-be-blind",
      10,
    );
  });

  it("a groove deeper than half the wood is a caution with the numbers", () => {
    const findings = found([groove("g", 10, { depth: 7, lines: { depth: 13 } })]);
    expectOne(findings, "part-groove-deep", 13, "caution");
    expect(findings[0]?.measured?.value).toBe(7);
    expect(findings[0]?.limit?.value).toBe(6);
    expect(found([groove("g", 10, { depth: 6 })])).toEqual([]);
  });

  it("stops that pass each other, a groove shorter than wide, a place measured twice the same way", () => {
    expectOne(found([groove("g", 10, { first: 120, second: 100, lines: { stops: 11 } })]), "part-groove-short", 11);
    expectOne(found([groove("g", 10, { first: 100, second: 97, lines: { stops: 11 } })]), "part-groove-short", 11);
    expectOne(
      found([recess("r", 10, 60, 30, { at: [from(20, "first end"), from(30, "second end")] })]),
      "part-place-unclear",
      12,
    );
    expectOne(found([groove("g", 10, { from: from(5, "back") })]), "part-place-unclear", 10);
  });

  it("a screw's head no wider than its hole, or sunk too deep", () => {
    const screw = (headDiameter: number, depth: number) =>
      feature("s", 10, {
        kind: "hole",
        diameter: 4,
        depth: { kind: "to", depth },
        centres: [spot(60, 30)],
        head: { kind: "countersunk", headDiameter, includedAngle: 90 },
      });
    expectOne(found([screw(4, 6)]), "part-shape", 10);
    expectOne(found([screw(16, 6)]), "part-too-deep", 10);
    expect(found([screw(8, 6)])).toEqual([]);
  });

  it("tabs without room, and an outline across a recess of its own part", () => {
    const outline = (line: number, count: number, width: number) =>
      feature("cut", line, {
        kind: "outline",
        side: "outside",
        shape: { kind: "circle", diameter: 40 },
        turnedDeg: 0,
        hold: { kind: "tabs", count, width, height: 2 },
      });
    expectOne(found([outline(10, 9, 12)]), "part-no-room-for-tabs", 10);
    expect(found([outline(10, 3, 6)])).toEqual([]);
    expectOne(found([outline(10, 3, 6), recess("r", 20, 118, 30)]), "part-overlap", 20);
  });

  it("gathers all independent findings at once", () => {
    const findings = found([recess("r", 10, 195, 30), hole("h", 20, 60, 30, 4, 15), groove("g", 30, { first: 230 })]);
    expect(findings.map((f) => f.code)).toEqual(["part-off-the-board", "part-too-deep", "part-off-the-board"]);
  });
});

describe("boards", () => {
  const blank = (name: string, features: readonly Feature[] = []) =>
    part(
      [
        ...features,
        feature("cut", 40, {
          kind: "outline",
          side: "outside",
          shape: { kind: "blank", radius: 0 },
          turnedDeg: 0,
          hold: { kind: "tabs", count: 3, width: 6, height: 2 },
        }),
      ],
      { name, size: { length: 80, width: 40, thickness: 12 } },
    );
  const board = (places: readonly (readonly [string, number, number, number?])[]): BoardDescription => ({
    name: "plank",
    wood: "ash",
    size: { length: 300, width: 120, thickness: 12 },
    grain: "along length",
    places: places.map(([p, x, y, turned], i) => ({ part: p, at: { x, y }, turned: turned ?? 0, source: at(100 + i) })),
    wishes: {},
    source: at(90),
  });

  it("carries every cavity to its place, exactly", () => {
    const p = blank("tray", [recess("r", 10, 20, 15)]);
    const result = describeWorkpieces(
      job(
        [{ ...p, copies: 2 }],
        [
          board([
            ["tray", 10, 10],
            ["tray", 200, 10, 90],
          ]),
        ],
      ),
    );
    expect(result.findings).toEqual([]);
    if (!result.ok) throw new Error("a board was expected");
    const [w] = result.value;
    expect(result.value.length).toBe(1);
    expect(w!.pieces.map((q) => q.copy)).toEqual([1, 2]);
    const centres = w!.cavities
      .filter((c) => c.feature === "r")
      .map((c) => {
        const [s] = c.section.loops[0]!;
        return s!.kind === "arc" ? [s!.centre.x, s!.centre.y] : [];
      });
    // A quarter turn about the lower first corner: (20, 15) → (−15, 20).
    expect(centres).toEqual([
      [30, 25],
      [185, 30],
    ]);
    expect(new Set(w!.cavities.map((c) => c.id)).size).toBe(w!.cavities.length);
  });

  it("refuses parts off the board, over each other, unfreed, of another thickness, and unknown", () => {
    const codes = (parts: readonly PartDescription[], b: BoardDescription) =>
      describeWorkpieces(job(parts, [b]))
        .findings.filter((f) => f.grade === "refuse")
        .map((f) => [f.code, f.place.source?.line]);
    const two = { ...blank("tray"), copies: 2 };
    expect(codes([blank("tray")], board([["tray", 230, 10]]))).toEqual([["part-off-the-board", 100]]);
    expect(
      codes(
        [two],
        board([
          ["tray", 10, 10],
          ["tray", 60, 10],
        ]),
      ),
    ).toEqual([["part-parts-overlap", 101]]);
    expect(
      codes([part([], { name: "tray", size: { length: 80, width: 40, thickness: 12 } })], board([["tray", 10, 10]])),
    ).toEqual([["part-not-freed", 100]]);
    expect(
      codes([{ ...blank("tray"), size: { length: 80, width: 40, thickness: 10 } }], board([["tray", 10, 10]])),
    ).toEqual([["part-thickness-differs", 100]]);
    expect(codes([blank("tray")], board([["trap", 10, 10]]))).toContainEqual(["part-unknown", 100]);
    const edge = blank("tray", [groove("g", 10, { on: "lower edge", from: from(6, "back"), width: 4 })]);
    expect(codes([edge], board([["tray", 10, 10]]))).toEqual([["part-edge-on-board", 10]]);
  });

  it("refuses a groove that runs out into the next part", () => {
    const p = { ...blank("tray", [groove("g", 10)]), copies: 2 };
    const near = describeWorkpieces(
      job(
        [p],
        [
          board([
            ["tray", 10, 10],
            ["tray", 92, 10],
          ]),
        ],
      ),
    );
    expect(near.findings.map((f) => f.code)).toContain("part-into-neighbour");
    const far = describeWorkpieces(
      job(
        [p],
        [
          board([
            ["tray", 10, 10],
            ["tray", 100, 10],
          ]),
        ],
      ),
    );
    expect(far.findings).toEqual([]);
  });

  it("counts copies", () => {
    const found = describeWorkpieces(job([{ ...blank("tray"), copies: 3 }], [board([["tray", 10, 10]])])).findings;
    expect(found.map((f) => f.code)).toEqual(["part-copies-differ"]);
  });
});
