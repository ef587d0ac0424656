import { describe, expect, it } from "vitest";
import type { Feature } from "../../src/job/job.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import { feature, from, groove, spot } from "../parts/describing.ts";
import { bit, operations, plan, refusals, shopWith } from "./planning.ts";

const hole = (
  name: string,
  line: number,
  diameter: number,
  more: Partial<Extract<Feature, { kind: "hole" }>> & { cutter?: string } = {},
) =>
  feature(
    name,
    line,
    {
      kind: "hole",
      diameter,
      depth: { kind: "to", depth: 6 },
      centres: [spot(60, 30)],
      head: { kind: "plain" },
      ...more,
    },
    { lines: { bit: line + 1 }, ...(more.cutter === undefined ? {} : { cutter: more.cutter }) },
  );

const recess = (
  name: string,
  line: number,
  shape: Extract<Feature, { kind: "recess" }>["shape"],
  more: Partial<Extract<Feature, { kind: "recess" }>> = {},
) =>
  feature(name, line, {
    kind: "recess",
    shape,
    at: spot(100, 30),
    turnedDeg: 0,
    depth: { kind: "to", depth: 5 },
    wallLeanDeg: 0,
    ...more,
  });

describe("the cutter chosen", () => {
  it("follows a groove of its own width, and says so", () => {
    const [op] = operations([groove("g", 1, { width: 6.35 })]);
    expect(op).toMatchObject({
      kind: "follow",
      cutter: { name: "1/4 in flat" },
      cutterReason: "as wide as the 6.35 mm groove",
    });
  });

  it("clears a wider groove with the largest that fits", () => {
    const [op] = operations([groove("g", 1, { width: 6.5 })]);
    expect(op).toMatchObject({ kind: "clear", cutter: { name: "1/4 in flat" } });
    expect(op?.cutterReason).toBe("the largest that fits the 6.5 mm groove");
    expect(operations([groove("g", 1, { width: 9 })])[0]).toMatchObject({ cutter: { diameter: 8 } });
  });

  it("is computed with the measured diameter: a bit ground to 5.9 is no 6 mm bit", () => {
    const worn = shopWith([bit("6 mm flat", { diameter: 5.9, diameterMeasured: true })]);
    expect(operations([groove("g", 1, { width: 6 })], {}, worn)[0]).toMatchObject({ kind: "clear" });
    const fat = shopWith([bit("6 mm flat", { diameter: 6.05, diameterMeasured: true })]);
    expect(refusals(plan([groove("g", 7, { width: 6 })], {}, fat))).toEqual([["plan-bit-too-wide", 7]]);
  });

  it("is one already in use when that is at least three quarters of the largest", () => {
    const ops = operations([
      groove("a", 1, { width: 6 }),
      groove("b", 2, { width: 8.2, from: from(40, "lower edge") }),
    ]);
    expect(ops.map((o) => o.cutter.name)).toEqual(["6 mm flat", "6 mm flat"]);
    expect(ops[1]?.cutterReason).toContain("in use already; the largest would be 8 mm flat");
    // 12 mm fits here; 6 mm is only half of it.
    const wide = operations([
      groove("a", 1, { width: 6 }),
      groove("b", 2, { width: 13, from: from(40, "lower edge") }),
    ]);
    expect(wide.map((o) => o.cutter.diameter).sort()).toEqual([12, 6].sort());
  });

  it("reaches the inside radius asked for", () => {
    const square = (insideRadius: number) =>
      recess("r", 1, { kind: "rounded rectangle", length: 40, width: 30, radius: 0 }, { insideRadius });
    expect(operations([square(3)])[0]?.cutter.diameter).toBe(6);
    expect(operations([square(1.5)])[0]?.cutter.diameter).toBe(3);
    expect(operations([square(7)])[0]?.cutter.diameter).toBe(12);
    expect(refusals(plan([square(1)]))).toEqual([["plan-bit-too-wide", 1]]);
  });

  it("rounds no corner that is drawn round", () => {
    expect(
      operations([recess("r", 1, { kind: "rounded rectangle", length: 40, width: 30, radius: 2 })])[0]?.cutter.diameter,
    ).toBe(4);
  });

  it("gets through a neck: a narrower bit than the corners alone would ask for", () => {
    const p = (x: number, y: number) => ({ x, y });
    // Two rooms joined by a passage 5 mm wide.
    const corners = [
      p(0, 0),
      p(20, 0),
      p(20, 8),
      p(30, 8),
      p(30, 0),
      p(50, 0),
      p(50, 21),
      p(30, 21),
      p(30, 13),
      p(20, 13),
      p(20, 21),
      p(0, 21),
    ];
    const region = {
      loops: [corners.map((c, i) => ({ kind: "line" as const, from: c, to: corners[(i + 1) % corners.length]! }))],
    };
    const [op] = operations([recess("r", 1, { kind: "drawing", region, placed: "centred", file: "rooms.svg" })]);
    expect(op?.cutter.diameter).toBe(4);
  });

  it("drills where there is a drill, bores where there is none", () => {
    expect(operations([hole("h", 1, 5)])[0]).toMatchObject({ kind: "peck", cutter: { name: "5 mm drill" } });
    expect(operations([hole("h", 1, 7.8)])[0]).toMatchObject({ kind: "bore", cutter: { diameter: 6 } });
    expect(operations([hole("h", 1, 8)])[0]).toMatchObject({ kind: "peck", cutter: { name: "8 mm flat" } });
    const near = plan([hole("h", 1, 5.03)]);
    expect(near.findings.map((f) => f.code)).toEqual(["plan-drill-size"]);
    expect(near.setUps[0]?.setUp.cavities[0]?.shape).toMatchObject({ diameter: 5 });
  });

  it("puts the drill's point into the target, and only a drill's", () => {
    const ids = (diameter: number) =>
      plan([hole("h", 1, diameter)]).setUps[0]?.setUp.cavities.map((c) => [c.id, c.from, Number(c.to.toFixed(6))]);
    const point = 2.5 / Math.tan((59 * Math.PI) / 180);
    expect(ids(5)).toEqual([
      ["left side/h", 0, 6],
      ["left side/h/tip", 6, Number((6 + point).toFixed(6))],
    ]);
    expect(ids(7.8)).toEqual([["left side/h", 0, 6]]);
    const [op] = operations([hole("h", 1, 5)]);
    expect(op?.kind === "peck" && op.tipZ).toBeCloseTo(-6 - point, 9);
  });

  it("bores instead of drilling where the drill's point would come out of the far face", () => {
    expect(operations([hole("h", 1, 5, { depth: { kind: "to", depth: 10.5 } })])[0]?.kind).toBe("bore");
    expect(operations([hole("h", 1, 5, { depth: { kind: "through" } })])[0]?.kind).toBe("peck");
  });

  it("sinks heads with a cone of their angle after the hole, and refuses without one", () => {
    const screw = hole("s", 4, 4, {
      depth: { kind: "through" },
      head: { kind: "countersunk", headDiameter: 8, includedAngle: 90 },
    });
    const ops = operations([screw]);
    expect(ops.map((o) => [o.kind, o.cutter.name])).toEqual([
      ["peck", "4 mm drill"],
      ["sink", "90 degree countersink"],
    ]);
    // At the surface the cone is as wide as the head: the tip's flat of 1 mm sits 3.5 mm down at 45°.
    expect(ops[1]?.kind === "sink" && ops[1].tipZ).toBeCloseTo(-3.5, 9);
    const without = shopWith(DEFAULT_SHOP.cutters.filter((c) => c.form.kind !== "countersink" && c.form.kind !== "v"));
    expect(refusals(plan([screw], {}, without))).toEqual([["plan-no-countersink", 4]]);
    const odd = hole("s", 4, 4, {
      depth: { kind: "through" },
      head: { kind: "countersunk", headDiameter: 8, includedAngle: 100 },
    });
    expect(refusals(plan([odd]))).toEqual([["plan-no-countersink", 4]]);
  });

  it("sinks no tip below the hole's own floor", () => {
    const shallow = (depth: number) =>
      plan([
        hole("s", 4, 5, {
          depth: { kind: "to", depth },
          head: { kind: "countersunk", headDiameter: 10, includedAngle: 90 },
        }),
      ]);
    const refused = shallow(4);
    expect(refusals(refused)).toEqual([["plan-no-countersink", 4]]);
    expect(refused.findings[0]).toMatchObject({ limit: { value: 4 } });
    expect(refusals(shallow(5))).toEqual([]);
  });

  it("counterbores before it bores, and the bore begins on that floor", () => {
    const ops = operations([
      hole("c", 1, 4, { depth: { kind: "through" }, head: { kind: "counterbored", diameter: 10, depth: 3 } }),
    ]);
    expect(ops.map((o) => [o.kind, o.topZ])).toEqual([
      ["bore", 0],
      ["peck", -3],
    ]);
  });
});

describe("bits that only just fit", () => {
  const mortise = (length: number, width: number, cutter?: string) =>
    feature(
      "m",
      3,
      { kind: "mortise", length, width, depth: { kind: "to", depth: 6 }, at: spot(100, 30), turnedDeg: 90 },
      { lines: { bit: 4 }, ...(cutter === undefined ? {} : { cutter }) },
    );

  it("follow the middle of a mortise, a slot or a rectangle of their own width", () => {
    const [op] = operations([mortise(30, 6)]);
    expect(op).toMatchObject({ kind: "follow", openStart: false, openEnd: false });
    if (op?.kind !== "follow") throw new Error("a way was expected");
    // Centres a radius within the tips, up the face as it is turned.
    for (const [p, y] of [
      [op.start, -12],
      [op.end, 12],
    ] as const) {
      expect(p.x).toBeCloseTo(100, 9);
      expect(p.y).toBeCloseTo(30 + y, 9);
    }
    expect(operations([recess("s", 1, { kind: "slot", length: 40, width: 8 })])[0]?.kind).toBe("follow");
    expect(
      operations([recess("s", 1, { kind: "rounded rectangle", length: 6, width: 40, radius: 0 })])[0],
    ).toMatchObject({ kind: "follow", start: { x: 100, y: 13 } });
  });

  it("are no use where they have no way to go", () => {
    // A round recess of 6 mm: only something narrower has room to turn.
    expect(operations([recess("c", 1, { kind: "circle", diameter: 6 })])[0]?.cutter.diameter).toBe(4);
    expect(refusals(plan([mortise(6.5, 6, "6 mm flat")]))).toEqual([["plan-bit-too-wide", 4]]);
  });

  it("don't go straight down on a middle that doesn't cut", () => {
    // 12 mm with 1.5 mm of dead centre needs a helix of that radius inside what roughing reaches.
    expect(refusals(plan([mortise(30, 14, "12 mm flat")]))).toEqual([["plan-bit-dead-centre", 4]]);
    expect(refusals(plan([mortise(30, 16, "12 mm flat")]))).toEqual([]);
    expect(refusals(plan([hole("h", 3, 15.4, { cutter: "12 mm flat" })]))).toEqual([["plan-bit-dead-centre", 4]]);
    expect(refusals(plan([hole("h", 3, 16, { cutter: "12 mm flat" })]))).toEqual([]);
  });
});

describe("a bit that the job names", () => {
  it("is used as given", () => {
    const [op] = operations([groove("g", 1, { width: 9, cutter: "4 mm flat" })]);
    expect(op).toMatchObject({ cutter: { name: "4 mm flat" }, cutterReason: "named in the job" });
  });

  const named = (cutter: string, width = 6, depth = 4, shop = DEFAULT_SHOP) =>
    refusals(
      plan(
        [groove("g", 10, { cutter, width, depth, lines: { bit: 11 } })],
        { size: { length: 200, width: 60, thickness: 40 } },
        shop,
      ),
    );

  it("is refused with the reason: unknown, too wide, wrong form, flutes or stick-out too short", () => {
    expect(named("6mm flat")).toEqual([["plan-bit-unknown", 11]]);
    expect(named("8 mm flat")).toEqual([["plan-bit-too-wide", 11]]);
    expect(named("6 mm round-nose")).toEqual([["plan-bit-wrong-form", 11]]);
    expect(named("3 mm flat", 6, 14)).toEqual([["plan-bit-flute-short", 11]]);
    const low = shopWith([bit("6 mm flat", { fluteLength: 22, stickOut: 14 })]);
    expect(named("6 mm flat", 6, 13.5, low)).toEqual([["plan-bit-stick-out-short", 11]]);
    expect(named("6 mm flat", 6, 13, low)).toEqual([]);
  });

  it("suggests the near one when it is unknown", () => {
    const { findings } = plan([groove("g", 10, { cutter: "6mm flat" })]);
    expect(findings[0]?.mend).toBe('did you mean "6 mm flat"?');
  });

  it("is refused for a hole: drill of another size, no plunging middle, no room for a helix", () => {
    expect(refusals(plan([hole("h", 3, 6, { cutter: "5 mm drill" })]))).toEqual([["plan-bit-wrong-form", 4]]);
    expect(refusals(plan([hole("h", 3, 6, { cutter: "6 mm compression" })]))).toEqual([["plan-bit-dead-centre", 4]]);
    expect(refusals(plan([hole("h", 3, 7, { cutter: "6 mm flat" })]))).toEqual([["plan-bit-too-wide", 4]]);
    expect(refusals(plan([hole("h", 3, 4, { cutter: "6 mm flat" })]))).toEqual([["plan-bit-too-wide", 4]]);
  });
});

describe("when no bit will do", () => {
  it("says why, by the bits that come nearest", () => {
    const narrow = plan([groove("g", 10, { width: 2.5 })]);
    expect(refusals(narrow)).toEqual([["plan-bit-too-wide", 10]]);
    expect(narrow.findings[0]?.why).toContain("3 mm flat");
    const deep = plan([groove("g", 10, { width: 3, depth: 14 })], { size: { length: 200, width: 60, thickness: 40 } });
    expect(refusals(deep)).toEqual([["plan-no-bit-fits", 10]]);
    expect(refusals(plan([groove("g", 10)], {}, shopWith([])))).toEqual([["plan-no-bit-fits", 10]]);
  });
});
