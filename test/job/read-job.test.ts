import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Feature, Job } from "../../src/job/job.ts";
import { allowedSpread } from "../../src/job/measured.ts";
import { readJob } from "../../src/job/read-job.ts";

function read(text: string, files: Readonly<Record<string, string>> = {}): Job {
  const r = readJob(text, "case.yaml", (p) => files[p]);
  if (!r.ok)
    throw new Error(r.findings.map((f) => `${f.place.source?.line}: ${f.code}: ${f.what}; ${f.mend}`).join("\n"));
  return r.value;
}

const BLANK = "    blank: {wood: ash, length: 190, width: 57, thickness: 9}\n";
const HEAD = `title: x\nunits: mm\nparts:\n  side:\n${BLANK}`;

function feature(text: string, files: Readonly<Record<string, string>> = {}): Feature {
  const lines = text.trim().split("\n");
  const item = lines.map((l, i) => (i === 0 ? `      - ${l}` : `        ${l}`)).join("\n");
  return read(
    `${HEAD}    faces: {face: inside, back: outside, first end: front end, second end: back end}\n    features:\n${item}\n`,
    files,
  ).parts[0]!.features[0]!;
}

describe("the sample of a first part", () => {
  const job = read(readFileSync(new URL("../../samples/first-part.yaml", import.meta.url), "utf8"));

  it("is read whole", () => {
    expect(job).toMatchObject({ title: "A first part, one drawer side", unit: "mm" });
    expect(job.measured.map((m) => [m.name, m.value, m.with])).toEqual([
      ["case depth", 205, "unsaid"],
      ["opening height", 58.4, "calipers"],
      ["runner height", 9.5, "unsaid"],
      ["bottom thickness", 4, "unsaid"],
    ]);
    const side = job.parts[0]!;
    expect(side).toMatchObject({
      name: "right side",
      wood: "ash",
      size: { length: 190, width: 57, thickness: 9 },
      grain: "along length",
      copies: 1,
    });
    expect(side.labels).toMatchObject({
      face: "outside",
      back: "inside",
      "first end": "front end",
      "lower edge": "lower edge",
    });
    expect(side.wishes).toEqual({
      holding: { by: "tape" },
      zeroCorner: "left front",
      zeroZ: "top",
      turnOver: "side for side",
      wasteBoard: 12,
    });
  });

  it("has a runner groove that hangs on its top wall", () => {
    expect(job.parts[0]!.features[0]).toMatchObject({
      kind: "groove",
      on: "face",
      width: 9.9,
      depth: { kind: "to", depth: 3.5 },
      bearingWall: "upper edge",
      run: { kind: "along", from: { distance: 33, border: "lower edge", reach: "far edge" }, stops: { first: 12 } },
    });
  });

  it("keeps the place of every value", () => {
    const groove = job.parts[0]!.features[0]!;
    expect(groove.sources.width).toMatchObject({
      text: expect.stringContaining("width: = runner height + 0.4"),
      column: 16,
    });
    expect(groove.sources["bearing wall at"]!.column).toBe(26);
    expect(groove.source.text).toContain("- groove: runner");
    expect(job.parts[0]!.source.text).toBe("  right side:");
  });
});

describe("places", () => {
  const slot = (where: string): Feature => feature(`recess: r\nshape: slot\nlength: 40\nwidth: 12\ndepth: 6\n${where}`);
  const wanted = [
    { distance: 120, border: "first end", reach: "centre" },
    { distance: 28.5, border: "lower edge", reach: "centre" },
  ];

  it.each([
    ["centre at: 120 from front end, 28.5 from lower edge"],
    ["centre at: 28.5 from lower edge, 120 from front end"],
    ["center at: 120 from the front end and 28.5 from the lower edge"],
    ["Centre At: 12 cm from first end, 28.5 mm from Lower Edge"],
    ["centre at: {from front end: 120, from lower edge: 28.5}"],
    ["centre at: {120 from: front end, 28.5 from: lower edge}"],
    ["centre at: [120 from front end, 28.5 from lower edge]"],
    ["centre at:\n  - 120 from front end\n  - from lower edge: 28.5"],
    ["centre at: = max(120, 3) from front end, = 57 mm / 2 from bottom edge"],
    ["centre at: 70 from back end, 28.5 from lower edge"],
  ])("%s", (where) => {
    const f = slot(where);
    if (f.kind !== "recess") throw new Error("a recess was described");
    const back = where.includes("back end")
      ? [{ distance: 70, border: "second end", reach: "centre" }, wanted[1]]
      : wanted;
    expect(f.at).toEqual(back);
  });

  it("may reach an edge in one direction and the centre in the other", () => {
    const f = slot("near edge at: 20 from front end\nfar edge at: 50 from upper edge");
    expect(f).toMatchObject({
      at: [
        { distance: 20, border: "first end", reach: "near edge" },
        { distance: 50, border: "upper edge", reach: "far edge" },
      ],
    });
  });

  it("on an edge are taken from its own four borders", () => {
    const f = feature(
      "mortise: m\non: lower edge\nlength: 20\nwidth: 5\ndepth: 12\ncentre at: 40 from front end, 4.5 from inside",
    );
    expect(f).toMatchObject({
      on: "lower edge",
      at: [
        { distance: 40, border: "first end" },
        { distance: 4.5, border: "face" },
      ],
    });
  });
});

describe("features", () => {
  it("a groove by its bearing wall, from either edge", () => {
    const groove = (from: string, wall: string) =>
      feature(`groove: runner\nfrom: ${from}\nbearing wall: ${wall}\nbearing wall at: 24\nwidth: 8\ndepth: 3`);
    expect(groove("lower edge", "upper edge")).toMatchObject({
      run: { from: { reach: "far edge", border: "lower edge" } },
      bearingWall: "upper edge",
    });
    expect(groove("lower edge", "lower edge")).toMatchObject({ run: { from: { reach: "near edge" } } });
    expect(groove("upper edge", "upper edge")).toMatchObject({
      run: { from: { reach: "near edge", border: "upper edge" } },
    });
  });

  it.each([
    ["stops: 12 from front end", { first: 12 }],
    ["stops: {12 from: front end}", { first: 12 }],
    ["stops: {from front end: 12}", { first: 12 }],
    ["stops: 12 from front end, 15 from back end", { first: 12, second: 15 }],
    ["stops: [15 from back end]", { second: 15 }],
    ["depth: 3", {}],
  ])("a groove that %s", (stops, wanted) => {
    const text = `groove: g\nfrom: lower edge\nnear edge at: 6\nwidth: 4\n${stops.startsWith("depth") ? "" : "depth: 3\n"}${stops}`;
    expect(feature(text)).toMatchObject({ run: { stops: wanted } });
    const f = feature(text);
    if (f.kind === "groove" && f.run.kind === "along") expect(f.run.stops).toEqual(wanted);
  });

  it("a groove across, whose ends are the edges", () => {
    expect(
      feature("housing: h\ncentre at: 80 from front end\nwidth: 9\ndepth: 4\nstops: 10 from upper edge"),
    ).toMatchObject({
      kind: "groove",
      run: { from: { border: "first end", reach: "centre" }, stops: { second: 10 } },
    });
  });

  it("a groove between two points", () => {
    expect(
      feature(
        "groove: g\nstart at: 20 from front end, 10 from lower edge\nend at: 80 from front end, 30 from lower edge\nwidth: 4\ndepth: through",
      ),
    ).toMatchObject({
      run: { kind: "between", start: [{ distance: 20 }, { distance: 10 }], end: [{ distance: 80 }, { distance: 30 }] },
      depth: { kind: "through" },
    });
  });

  it("rabbets and mortises in either spelling", () => {
    const rabbet = "along: upper edge\nwidth: 6\ndepth: 4";
    expect(feature(`rabbet: r\n${rabbet}`)).toMatchObject({ kind: "rabbet", along: "upper edge", width: 6, stops: {} });
    expect(feature(`rebate: r\n${rabbet}`)).toMatchObject({ kind: "rabbet", name: "r" });
    const mortise = "length: 30\nwidth: 6\ndepth: 9\ncentre at: 40 from front end, 20 from lower edge\nturned: 90";
    expect(feature(`mortice: m\n${mortise}`)).toMatchObject({ kind: "mortise", turnedDeg: 90, length: 30 });
  });

  it.each([
    ["shape: slot\nlength: 40\nwidth: 12", { kind: "slot", length: 40, width: 12 }],
    ["shape: circle\ndiameter: 35", { kind: "circle", diameter: 35 }],
    ["shape: oval\nlength: 40\nheight: 12", { kind: "oval", length: 40, width: 12 }],
    [
      "shape: rounded rectangle\nlength: 40\nwidth: 12\ncorner radius: 6",
      { kind: "rounded rectangle", length: 40, width: 12, radius: 6 },
    ],
  ])("a recess of %s", (shape, wanted) => {
    const f = feature(
      `recess: r\n${shape}\ndepth: 6\ncentre at: 60 from front end, 20 from lower edge\nwall: sloped 12 deg\ninside radius: 3\nbit: 6 mm`,
    );
    expect(f).toMatchObject({ shape: wanted, wallLeanDeg: 12, insideRadius: 3, cutter: "6 mm" });
  });

  it("a recess from a drawing, picked by id", () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20"><path id="leaf" d="M 5 5 H 35 V 15 H 5 Z"/><path id="other" d="M 1 1 H 2 V 2 H 1 Z"/></svg>';
    const f = feature("recess: r\nshape: drawing\ndrawing: art/./leaf.svg\nid: leaf\nplaced: as drawn\ndepth: 3", {
      "art/leaf.svg": svg,
    });
    if (f.kind !== "recess" || f.shape.kind !== "drawing") throw new Error("a drawing was described");
    expect(f.shape).toMatchObject({ placed: "as drawn", file: "art/leaf.svg" });
    expect(f.shape.region.loops).toHaveLength(1);
    expect(f.at).toMatchObject([
      { distance: 0, border: "first end" },
      { distance: 0, border: "lower edge" },
    ]);
  });

  it("a drawing with nothing to cut is refused, with its own line", () => {
    const text = `${HEAD}    features:\n      - {recess: r, shape: drawing, drawing: a.svg, placed: as drawn, depth: 3}\n`;
    const r = readJob(text, "case.yaml", () => '<svg xmlns="http://www.w3.org/2000/svg"/>');
    expect(r.ok).toBe(false);
    expect(r.findings[0]).toMatchObject({ grade: "refuse", place: { part: "side", feature: "r" } });
    expect(r.findings[0]!.mend).toBeTruthy();
  });

  it("holes alone, in rows, in grids, in lists", () => {
    const hole = (rest: string) => {
      const f = feature(`hole: h\ndiameter: 4\ndepth: through\n${rest}`);
      if (f.kind !== "hole") throw new Error("a hole was described");
      return f.centres.map(([a, b]) => [a.distance, b.distance]);
    };
    const first = "centre at: 20 from front end, 10 from lower edge";
    expect(hole(first)).toEqual([[20, 10]]);
    expect(hole(`${first}\nrow: 3 at 32 towards back end`)).toEqual([
      [20, 10],
      [52, 10],
      [84, 10],
    ]);
    expect(hole(`${first}\nrow: {count: 2, spacing: 5, towards: lower edge}`)).toEqual([
      [20, 10],
      [20, 5],
    ]);
    expect(hole(`${first}\ngrid: {columns: 2 at 30 towards back end, rows: 2 at 20 towards upper edge}`)).toEqual([
      [20, 10],
      [50, 10],
      [20, 30],
      [50, 30],
    ]);
    expect(
      hole("centres at:\n  - 20 from front end, 10 from lower edge\n  - {from front end: 50, from lower edge: 12}"),
    ).toEqual([
      [20, 10],
      [50, 12],
    ]);
  });

  it("screws by number and by millimetres", () => {
    const hole = (rest: string) =>
      feature(`hole: h\ndepth: through\ncentre at: 20 from front end, 10 from lower edge\n${rest}`);
    expect(hole("screw: no 6")).toMatchObject({ diameter: (9 / 64) * 25.4, head: { kind: "plain" } });
    expect(hole("screw: No. 6\ncountersunk for: 6 gauge")).toMatchObject({
      head: { kind: "countersunk", headDiameter: (0.279 * 254) / 10, includedAngle: 82 },
    });
    expect(hole("countersunk for: 4 mm")).toMatchObject({
      diameter: 4.5,
      head: { headDiameter: 8, includedAngle: 90 },
    });
    expect(hole("diameter: 5\ncountersunk: {head diameter: 9, angle: 90 deg}")).toMatchObject({
      diameter: 5,
      head: { headDiameter: 9 },
    });
    expect(hole("diameter: 5\ncounterbored: {diameter: 10, depth: 4}")).toMatchObject({
      head: { kind: "counterbored", diameter: 10, depth: 4 },
    });
  });

  it.each([
    ["3 tabs, 6 wide, 1.5 high", { kind: "tabs", count: 3, width: 6, height: 1.5 }],
    ["{tabs: 3, width: 6, height: 1.5}", { kind: "tabs", count: 3, width: 6, height: 1.5 }],
    ["{tabs: {count: 3, width: 1/4 in, height: 1.5 mm}}", { kind: "tabs", count: 3, width: 6.35, height: 1.5 }],
    ["skin 0.5", { kind: "skin", thickness: 0.5 }],
    ["{skin: 0.5}", { kind: "skin", thickness: 0.5 }],
    ["nothing", { kind: "none" }],
  ])("an outline held by %s", (hold, wanted) => {
    expect(feature(`outline: o\nside: outside\ncorners: rounded 6\nhold by: ${hold}`)).toMatchObject({
      shape: { kind: "blank", radius: 6 },
      hold: wanted,
    });
  });
});

describe("measured sizes", () => {
  it("give formulas the smallest reading, or another that is asked for", () => {
    const job = read(`title: x
units: in
measured:
  opening: {with: calipers, mouth: 5 5/8, middle: 5 19/32, back: 5.61}
  panel: {use: largest, a: 6 mm, b: 6.2 mm}
  mean: {use: average, a: 6 mm, b: 6.2 mm}
  listed: [1, 1.01]
  half: = opening / 2
  pieces of it: 4 pieces
  lean: 12 deg
parts:
  a:
    blank: {wood: ash, length: = half, width: = panel * pieces of it, thickness: 1/4}
`);
    const of = (name: string) => job.measured.find((m) => m.name === name)!;
    expect(of("opening")).toMatchObject({ value: (179 * 254) / 320, power: 1, with: "calipers" });
    expect(of("panel").value).toBe(6.2);
    expect(of("mean").value).toBeCloseTo(6.1, 12);
    expect(of("listed").readings).toEqual([
      { place: "1", value: 25.4 },
      { place: "2", value: (101 * 254) / 1000 },
    ]);
    expect(of("pieces of it")).toMatchObject({ value: 4, power: 0 });
    expect(of("lean")).toMatchObject({ value: 12, power: 0 });
    expect(job.parts[0]!.size).toEqual({ length: (179 * 254) / 640, width: 24.8, thickness: 6.35 });
  });

  it("tell a mistake once, however many formulas use the size", () => {
    const r = readJob(
      "title: x\nunits: mm\nmeasured:\n  a: 3/4\n  b: = a + 1\nparts:\n  p:\n    blank: {wood: ash, length: = a, width: = b, thickness: = a + b}\n",
      "case.yaml",
      () => undefined,
    );
    expect(r.findings.map((f) => f.code)).toEqual(["bare-fraction"]);
  });

  it("may lie far apart when the job says why", () => {
    const text = `title: x\nunits: mm\nmeasured:\n  opening: {mouth: 142, back: 150}\nparts:\n  side:\n${BLANK}`;
    expect(readJob(text, "c", () => undefined).ok).toBe(false);
    const r = readJob(`${text}override: {readings-spread: an old case}\n`, "c", () => undefined);
    expect(r.ok).toBe(true);
    expect(r.findings).toMatchObject([
      { grade: "caution", code: "readings-spread", why: expect.stringContaining("an old case") },
    ]);
  });

  it("may spread by 3 mm or 2 %, whichever is less, but never under half a millimetre", () => {
    expect(allowedSpread(1000)).toBe(3);
    expect(allowedSpread(100)).toBe(2);
    expect(allowedSpread(9)).toBe(0.5);
    fc.assert(
      fc.property(fc.integer({ min: 1000, max: 1_000_000 }), fc.integer({ min: 0, max: 6000 }), (um, spreadUm) => {
        const [a, b] = [um / 1000, (um + spreadUm) / 1000];
        const r = readJob(
          `title: x\nunits: mm\nmeasured:\n  o: {a: ${a}, b: ${b}}\nparts:\n  side:\n${BLANK}`,
          "c",
          () => undefined,
        );
        const limit = Math.min(3, Math.max(0.5, a * 0.02));
        fc.pre(Math.abs(spreadUm / 1000 - limit) > 1e-6);
        expect(r.ok).toBe(spreadUm / 1000 < limit);
      }),
      { numRuns: 80 },
    );
  });
});

describe("boards, holding, pairs", () => {
  it("places parts and mirror images on a board", () => {
    const job = read(`${HEAD}    mirrored as: other side
boards:
  ash board:
    blank: {wood: ash, length: 450, width: 140, thickness: 9}
    places:
      - {part: side, at: [10 from first end, 12 from lower edge]}
      - part: Other Side
        at: 440 from second end, 60 from upper edge
        turned: 90
`);
    expect(job.boards[0]!.places).toMatchObject([
      { part: "side", at: { x: 10, y: 12 }, turned: 0 },
      { part: "other side", at: { x: 10, y: 80 }, turned: 90 },
    ]);
    expect(job.parts[0]).toMatchObject({ mirroredAs: "other side" });
  });

  it("places clamps and screws", () => {
    const clamps = read(`${HEAD}    held by: clamps
    clamps:
      left: {centre at: "10 from first end, 0 from lower edge", covers: 40 by 25, height: 30}
      right: {near edge at: "5 from second end, 5 from upper edge", covers: 40 × 25, height: 30}
    turned: -90
`).parts[0]!.wishes;
    expect(clamps).toEqual({
      turned: 270,
      holding: {
        by: "clamps",
        clamps: [
          { name: "left", at: { x: -10, y: -12.5 }, size: { x: 40, y: 25 }, height: 30 },
          { name: "right", at: { x: 145, y: 27 }, size: { x: 40, y: 25 }, height: 30 },
        ],
      },
    });
    const screws = read(`${HEAD}    screws:
      at:
        - 5 from first end, 5 from lower edge
        - 5 from second end, 5 from upper edge
      screw: no 6
      head height: 3
`).parts[0]!.wishes.holding;
    expect(screws).toMatchObject({
      by: "screws",
      at: [
        { x: 5, y: 5 },
        { x: 185, y: 52 },
      ],
      headHeight: 3,
    });
  });

  it("lets a pair be, when both are measured from one edge", () => {
    const part = (name: string, edge: string) =>
      `  ${name}:\n${BLANK}    features:\n      - {groove: bottom, from: ${edge}, centre at: 8, width: 4, depth: 4}\n`;
    expect(
      readJob(
        `title: x\nunits: mm\nparts:\n${part("left side", "lower edge")}${part("right side", "lower edge")}`,
        "c",
        () => undefined,
      ).ok,
    ).toBe(true);
    expect(
      readJob(
        `title: x\nunits: mm\nparts:\n${part("left side", "lower edge")}${part("lower rail", "upper edge")}`,
        "c",
        () => undefined,
      ).ok,
    ).toBe(true);
    expect(
      readJob(
        `title: x\nunits: mm\nparts:\n${part("left side", "lower edge")}${part("right side", "upper edge")}`,
        "c",
        () => undefined,
      ).ok,
    ).toBe(false);
  });
});

describe("how a file is written", () => {
  it("does not matter: line ends, a byte order mark, capitals, underscores, curly quotes, American words", () => {
    const plain = read(`${HEAD}    face edge: lower edge\n`).parts[0]!;
    const strip = (p: typeof plain) =>
      JSON.parse(JSON.stringify(p, (k, v) => (k === "source" || k === "sources" ? undefined : v)));
    for (const text of [
      `\ufeff${HEAD}    face edge: lower edge\n`,
      `${HEAD}    face edge: lower edge\n`.replaceAll("\n", "\r\n"),
      `${HEAD}    Reference_Edge: Lower Edge\n`.replace("units: mm", "Units: Millimeters").replace("parts:", "PARTS:"),
      HEAD.replace("width:", "height:").replace("ash", "“ash”"),
    ]) {
      expect(strip(read(text).parts[0]!)).toEqual(strip(plain));
    }
  });

  it("asks only for files inside the job's folder", () => {
    const asked: string[] = [];
    for (const name of [
      "../a",
      "/a",
      "a/../../b",
      "C:\\a",
      "~/a",
      "http://a/b",
      "a\\b",
      "..",
      ".",
      "",
      "a/../..",
      "a\u0000b",
      "art/../shop.yaml",
      "./x//y.yaml",
    ]) {
      readJob(`${HEAD}shop: ${JSON.stringify(name)}\n`, "c", (p) => {
        asked.push(p);
        return "";
      });
    }
    expect(asked).toEqual(["shop.yaml", "x/y.yaml"]);
  });

  it("inches and millimetres describe the same job", () => {
    const sixteenths = fc.integer({ min: 1, max: 3000 });
    fc.assert(
      fc.property(sixteenths, sixteenths, fc.integer({ min: 1, max: 100 }), (l, w, t) => {
        const inches = (n: number) => `${Math.floor(n / 16)}${n % 16 ? ` ${n % 16}/16` : ""}`.replace(/^0 /, "");
        const mm = (n: number) => `${(n * 254) / 160}`;
        const file = (unit: string, as: (n: number) => string) =>
          read(
            `title: x\nunits: ${unit}\nparts:\n  a:\n    blank: {wood: ash, length: ${as(l)}, width: ${as(w)}, thickness: ${as(t)}}\n`,
          ).parts[0]!.size;
        expect(file("in", inches)).toEqual(file("mm", mm));
      }),
      { numRuns: 60 },
    );
  });

  it("no name means anything but itself", () => {
    const name = fc
      .string({ unit: "grapheme", minLength: 1, maxLength: 30 })
      .filter(
        (s) =>
          /^[^\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]+$/.test(s) &&
          s.trim() !== "",
      );
    fc.assert(
      fc.property(name, (n) => {
        const r = readJob(`title: ${JSON.stringify(n)}\nunits: mm\nparts:\n  side:\n${BLANK}`, "c", () => undefined);
        if (r.ok) expect(r.value.title).toBe(n.trim());
        else expect(r.findings.every((f) => f.place.source?.line === 1)).toBe(true);
      }),
      { numRuns: 100 },
    );
  });
});
