import { describe, expect, it } from "vitest";
import type { Feature, PartDescription } from "../../src/job/job.ts";
import type { PlannedSetUp } from "../../src/plan/plan-job.ts";
import { toSetup } from "../../src/shapes/frame.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { feature, from, groove, spot } from "../parts/describing.ts";
import { operations, plan, refusals } from "./planning.ts";

const onBack = groove("b", 20, { on: "back", from: from(40, "lower edge"), depth: 4 });
const outline = (line: number, radius = 3) =>
  feature("cut", line, {
    kind: "outline",
    side: "outside",
    shape: { kind: "blank", radius },
    turnedDeg: 0,
    hold: { kind: "none" },
  });

function two(more: Partial<PartDescription> = {}): readonly [PlannedSetUp, PlannedSetUp] {
  const { setUps, findings } = plan([groove("a", 10), onBack], more);
  if (setUps.length !== 2) throw new Error(findings.map((f) => f.what).join());
  return [setUps[0]!, setUps[1]!];
}

describe("set-ups", () => {
  it("work the face side first, the other side second, and whatever frees the part last", () => {
    expect(two().map((s) => s.setUp.name)).toEqual(["left side, inside up", "left side, outside up"]);
    expect(two({ faceSide: "back" }).map((s) => s.setUp.face)).toEqual(["back", "face"]);
    const { setUps } = plan([groove("a", 10), outline(30), onBack]);
    expect(setUps.map((s) => s.setUp.face)).toEqual(["back", "face"]);
    expect(setUps[1]?.operations.at(-1)?.kind).toBe("contour");
    expect(setUps[1]?.setUp.earlier.map((c) => c.feature)).toEqual(["b"]);
  });

  it("bring the corner that is wished to zero, the top or the waste board to Z 0, turned as wished", () => {
    for (const [zeroCorner, x, y] of [
      ["left front", 0, 0],
      ["right front", 1, 0],
      ["left back", 0, 1],
      ["right back", 1, 1],
    ] as const) {
      for (const turned of [0, 90, 180, 270]) {
        const { setUps } = plan([groove("a", 10)], {
          wishes: { zeroCorner, turned, zeroZ: "waste board", holding: { by: "tape" } },
        });
        const { blank, frame, bedZ } = setUps[0]!.setUp;
        const [w, h] = turned % 180 === 0 ? [200, 60] : [60, 200];
        expect([blank.min.x, blank.max.x]).toEqual([0 - x * w, w - x * w]);
        expect([blank.min.y, blank.max.y]).toEqual([0 - y * h, h - y * h]);
        expect([blank.min.z, blank.max.z, bedZ]).toEqual([0, 12, -12]);
        // The frame carries the wood's own corners onto the blank's.
        const seen = [0, 200].flatMap((px) => [0, 60].map((py) => toSetup(frame, { x: px, y: py, z: 12 })));
        expect(Math.min(...seen.map((p) => p.x))).toBeCloseTo(blank.min.x, 9);
        expect(Math.max(...seen.map((p) => p.y))).toBeCloseTo(blank.max.y, 9);
        expect(seen.every((p) => Math.abs(p.z - 12) < 1e-9)).toBe(true);
      }
    }
  });

  it("are turned over end for end with the edges kept, zero over the same corner of the wood", () => {
    const [first, second] = two();
    expect(second.setUp.turnOver).toEqual({ how: "end for end", edgeAtFence: "lower edge" });
    expect(second.setUp.zero.corner).toBe("right front");
    const corner = { x: 0, y: 0, z: 0 };
    expect(toSetup(first.setUp.frame, corner)).toMatchObject({ x: 0, y: 0 });
    const there = toSetup(second.setUp.frame, corner);
    expect([there.x + 0, there.y + 0]).toEqual([0, 0]);
  });

  it("side for side keeps the ends; a wished zero corner that changes place says what now hangs on the nominal size", () => {
    const { setUps, findings } = plan([groove("a", 10), onBack], {
      wishes: { turnOver: "side for side", zeroCorner: "left front", holding: { by: "tape" } },
    });
    const there = toSetup(setUps[1]!.setUp.frame, { x: 0, y: 60, z: 0 });
    expect([there.x + 0, there.y + 0]).toEqual([0, 0]);
    expect(setUps[1]?.setUp.turnOver?.edgeAtFence).toBe("upper edge");
    const told = findings.find((f) => f.code === "plan-turned-over");
    expect(told?.grade).toBe("caution");
    expect(told?.why).toContain("width (60 mm)");
  });

  it("keep safe height above wood, clamps and a low laser head, and the waste board beneath", () => {
    const clamp = { name: "toe clamp", at: { x: 180, y: 30 }, size: { x: 20, y: 20 }, height: 18 };
    const { setUps } = plan([groove("a", 10)], {
      wishes: { holding: { by: "clamps", clamps: [clamp] }, wasteBoard: 18 },
    });
    const s = setUps[0]!.setUp;
    expect(s.safeZ).toBe(18 + DEFAULT_SHOP.habits.clearance);
    expect(s.bedZ).toBe(-30);
    expect(s.intoWasteBoard).toBe(0);
    expect(s.keepOuts[0]?.box).toEqual({ min: { x: 180, y: 30, z: -30 }, max: { x: 200, y: 50, z: 18 } });
    expect(s.holding).toEqual({
      kind: "spots",
      by: "clamps",
      spots: [{ min: { x: 180, y: 30 }, max: { x: 200, y: 50 } }],
    });
    const low: Shop = {
      ...DEFAULT_SHOP,
      machines: DEFAULT_SHOP.machines.map((m) => ({ ...m, laserHead: { x: 60, y: 0, radius: 20, underside: -40 } })),
    };
    const withHead = plan([groove("a", 10)], {}, low).setUps[0]!.setUp;
    expect(withHead.safeZ).toBe(40 - 28 + DEFAULT_SHOP.habits.clearance);
  });

  it("carry clamps over with the wood when its back is up", () => {
    const clamp = { name: "toe clamp", at: { x: 0, y: 48 }, size: { x: 12, y: 12 }, height: 10 };
    const { setUps } = plan([onBack], { wishes: { holding: { by: "clamps", clamps: [clamp] } } });
    const box = setUps[0]?.setUp.keepOuts[0]?.box;
    expect([box?.min.x, box?.max.x, box?.min.y, box?.max.y]).toEqual([188, 200, 48, 60]);
  });

  it("go below the blank only for what goes through", () => {
    const through = feature("h", 1, {
      kind: "hole",
      diameter: 4,
      depth: { kind: "through" },
      centres: [spot(60, 30)],
      head: { kind: "plain" },
    });
    const point = 2 / Math.tan((59 * Math.PI) / 180) + 0.2;
    expect(plan([through]).setUps[0]?.setUp.intoWasteBoard).toBeCloseTo(point, 9);
    expect(refusals(plan([through], { wishes: { wasteBoard: 2, holding: { by: "tape" } } }))).toEqual([
      ["plan-no-waste-board", 1],
    ]);
  });
});

describe("order of work", () => {
  it("is blind before through, holes and openings before the outline, cones after their hole", () => {
    const features: readonly Feature[] = [
      outline(1),
      feature("window", 2, {
        kind: "outline",
        side: "inside",
        shape: { kind: "circle", diameter: 40 },
        at: spot(150, 30),
        turnedDeg: 0,
        hold: { kind: "tabs", count: 2, width: 5, height: 2 },
      }),
      feature("screw", 3, {
        kind: "hole",
        diameter: 4,
        depth: { kind: "through" },
        centres: [spot(60, 40)],
        head: { kind: "countersunk", headDiameter: 8, includedAngle: 90 },
      }),
      groove("g", 4),
    ];
    expect(operations(features).map((o) => o.title)).toEqual([
      'groove "g"',
      'hole "screw"',
      'countersink "screw"',
      'opening "window"',
      'outline "cut"',
    ]);
  });

  it("changes bits no more often than it must", () => {
    const features: readonly Feature[] = [
      groove("a", 1, { width: 6, from: from(8, "lower edge") }),
      groove("b", 2, { width: 3, from: from(18, "lower edge") }),
      groove("c", 3, { width: 6, from: from(28, "lower edge") }),
      groove("d", 4, { width: 3, from: from(38, "lower edge") }),
    ];
    expect(operations(features).map((o) => o.cutter.diameter)).toEqual([6, 6, 3, 3]);
  });

  it("leaves the wood across the grain last with its bit, and asks for a backing strip", () => {
    const { setUps, findings } = plan([groove("across", 1, { from: from(50, "first end") }), groove("along", 2)]);
    expect(setUps[0]?.operations.map((o) => o.title)).toEqual(['groove "along"', 'groove "across"']);
    expect(findings.map((f) => [f.code, f.place.source?.line])).toEqual([["plan-exit-across-grain", 1]]);
  });
});

describe("wrong wishes", () => {
  it("larger than travel, unknown machine, unknown wood, an odd turn", () => {
    const long = { size: { length: 950, width: 60, thickness: 12 } };
    expect(refusals(plan([groove("g", 5)], long))).toEqual([["plan-larger-than-travel", 2]]);
    expect(refusals(plan([groove("g", 5)], { wishes: { machine: "lathe" } }))).toEqual([["plan-machine-unknown", 2]]);
    expect(refusals(plan([groove("g", 5)], { wood: "asj" }))).toEqual([["plan-wood-unknown", 2]]);
    expect(refusals(plan([groove("g", 5)], { wishes: { turned: 45 } }))).toEqual([["plan-turn-not-quarter", 2]]);
    // 650 mm wide is too much for Y, but lies along X when turned.
    const wide = plan([groove("g", 5)], { size: { length: 500, width: 650, thickness: 12 }, grain: "none" });
    expect(wide.setUps[0]?.setUp.blank.max.x).toBe(650);
    expect(
      refusals(plan([groove("g", 5)], { size: { length: 500, width: 650, thickness: 12 }, wishes: { turned: 0 } })),
    ).toEqual([["plan-larger-than-travel", 2]]);
  });

  it("a board too tall to stand on its end", () => {
    const m = feature(
      "m",
      5,
      {
        kind: "mortise",
        length: 20,
        width: 4,
        depth: { kind: "to", depth: 10 },
        at: [from(30, "lower edge"), from(6, "back")],
        turnedDeg: 0,
      },
      { on: "first end" },
    );
    expect(refusals(plan([m]))).toEqual([["plan-larger-than-travel", 2]]);
    expect(plan([m], { size: { length: 90, width: 60, thickness: 12 } }).setUps.length).toBe(1);
  });

  it("a clamp on a cut, or so near that the nut would meet it", () => {
    const held = (x: number, y: number, height: number) =>
      refusals(
        plan([groove("g", 7)], {
          wishes: {
            holding: { by: "clamps", clamps: [{ name: "toe", at: { x, y }, size: { x: 20, y: 20 }, height }] },
          },
        }),
      );
    expect(held(50, 0, 15)).toEqual([["plan-clamp-in-the-way", 7]]);
    // Beside the groove: the nut (12.5 mm) comes down to 24 mm above the top while the tip is 4 mm deep.
    expect(held(50, 18, 15)).toEqual([]);
    expect(held(50, 18, 30)).toEqual([["plan-clamp-in-the-way", 7]]);
    expect(held(50, 32, 30)).toEqual([]);
  });

  it("thin webs: a caution by the built-in least web, a refusal by the user's own", () => {
    const features = [
      groove("a", 10, { depth: 5 }),
      groove("b", 20, { on: "back", depth: 5, from: from(10, "lower edge", "near edge") }),
    ];
    const built = plan(features).findings.filter((f) => f.code === "plan-web-thin");
    expect(built.map((f) => [f.grade, f.measured?.value, f.limit?.value])).toEqual([["caution", 2, 3]]);
    const own: Shop = {
      ...DEFAULT_SHOP,
      defaultsUsed: DEFAULT_SHOP.defaultsUsed.filter((d) => !d.includes("least web")),
    };
    expect(refusals(plan(features, {}, own))).toEqual([["plan-web-thin", 10]]);
  });

  it("holding that is not said is assumed aloud", () => {
    expect(plan([groove("g", 5)], { wishes: {} }).findings.map((f) => f.code)).toEqual(["plan-holding-assumed"]);
  });
});
