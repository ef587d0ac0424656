import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printFinding } from "../../src/finding.ts";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import { planBeam } from "../../src/plan/beam.ts";
import { reachOfBeam } from "../../src/plan/beam-reach.ts";
import type { BeamArea, BeamDots, BeamLines } from "../../src/plan/beam-setup.ts";
import { planJob } from "../../src/plan/plan-job.ts";
import { circle, rectangle } from "../../src/shapes/outlines.ts";
import { greyPicture } from "../../src/shapes/picture/grey-picture.ts";
import { areaOf, boundsOfRegion, type Region } from "../../src/shapes/region.ts";
import { line, reversed } from "../../src/shapes/segment.ts";
import { beamCarriage } from "../../src/shop/beam-carriage.ts";
import { lineWidth, spotAlong } from "../../src/shop/laser.ts";
import { feature, from, job, part } from "../parts/describing.ts";
import { BURNS, found, LASER, laserMachine, laserShop, mark, marked, planned } from "./beam-fixtures.ts";
import { solidOfBlank } from "./round-stock.ts";

const AREA = { by: "burned area", angleDeg: 0, ways: "two", contour: true } as const;
const LINE = { by: "burned line" } as const;
const THROUGH = { by: "burned through", keep: "inside" } as const;
const square = rectangle({ x: 20, y: 10 }, { x: 40, y: 30 });
const stroke = { kind: "lines", chains: [[line({ x: 10, y: 10 }, { x: 30, y: 20 })]] } as const;

/** A ring: a disc with a hole. */
function ring(x: number, y: number, outer: number, inner: number): Region {
  const hole = circle({ x, y }, inner).loops[0]!.map(reversed).reverse();
  return { loops: [...circle({ x, y }, outer).loops, hole] };
}

describe("what is burned with which setting", () => {
  it("comes from the shop's own settings for that wood and effect alone", () => {
    const { operations, setUp } = planned(marked([mark("name", stroke, LINE)]));
    expect(operations).toMatchObject([{ kind: "lines", power: 0.4, speed: 1500, passes: 1, z: 0 }]);
    expect(setUp.marks[0]!.setting).toBe(BURNS[0]);
  });

  it("is refused, naming the test card, where the shop has none", () => {
    const other = planBeam(marked([mark("name", stroke, { ...LINE, effect: "arae" })]), laserShop(), []);
    expect(other.findings.map((f) => f.code)).toEqual(["beam-no-setting"]);
    expect(printFinding(other.findings[0]!)).toMatch(
      /did you mean "area"\?[\s\S]*burn a test card on waste of the same hard maple/,
    );
    expect(found(marked([mark("name", stroke, LINE)], { wood: "walnut" }))).toEqual(["refuse beam-no-setting"]);
    const { burns, ...none } = laserShop();
    expect(burns).toBeDefined();
    expect(found(marked([mark("name", stroke, LINE)]), none)).toEqual(["refuse beam-no-setting"]);
  });

  it("is refused without a laser, on a named machine without one, and for an unknown wood", () => {
    const shop = laserShop();
    const { laser, ...bare } = laserMachine();
    expect(laser).toBeDefined();
    expect(found(marked([mark("a", stroke, LINE)]), { ...shop, machines: [bare] })).toEqual(["refuse beam-no-laser"]);
    const both = { ...shop, machines: [...shop.machines, { ...bare, name: "old router" }] };
    expect(found(marked([mark("a", stroke, LINE)], { wishes: { machine: "old router" } }), both)).toEqual([
      "refuse beam-no-laser",
    ]);
    expect(found(marked([mark("a", stroke, LINE)], { wood: "mapel" }))).toEqual(["refuse plan-wood-unknown"]);
  });

  it.each(["PVC sheet", "vinyl film", "polycarbonate", "ABS", "PTFE", "chrome-tanned leather", "unknown film"])(
    "is refused by name on %s",
    (name) => {
      const wood = { name, alsoCalled: [], class: "mdf", from: "shop file" } as const;
      const shop = { ...laserShop(), woods: [...laserShop().woods, wood] };
      expect(found(marked([mark("a", stroke, LINE)], { wood: name }), shop)).toEqual(["refuse beam-material-refused"]);
    },
  );

  it("warns of glue in panels, of a char that sanding takes, of dark corners, and of lines that show", () => {
    const burns = BURNS.map((b) => ({ ...b, wood: "plywood" }));
    expect(found(marked([mark("a", stroke, LINE)], { wood: "ply" }), { ...laserShop(), burns })).toEqual([
      "caution beam-unknown-finish",
    ]);
    const sanding = laserShop(laserMachine(), { habits: { ...laserShop().habits, sanding: 0.15 } });
    const patch = mark("a", { kind: "area", region: square }, AREA);
    expect(found(marked([patch]), sanding)).toEqual(["caution beam-sanded-away"]);
    expect(
      found(marked([patch]), laserShop(laserMachine(), { habits: { ...laserShop().habits, sanding: 0.149 } })),
    ).toEqual([]);
    expect(
      found(marked([mark("a", stroke, LINE)]), laserShop(laserMachine({ mode: "constant", start: "M3" }))),
    ).toEqual(["caution beam-corners-dark"]);
    // Across lines along Y the spot is 0.1 mm: the setting's 0.1 mm apart then swings by 60 % (Poisson's sum).
    expect(found(marked([mark("a", { kind: "area", region: square }, { ...AREA, angleDeg: 90 })]))).toEqual([
      "caution beam-lines-show",
    ]);
  });

  it("is refused faster than the machine moves in that direction", () => {
    const fast = {
      ...laserShop(),
      burns: [
        { ...BURNS[1]!, speed: 7000 },
        { ...BURNS[0]!, speed: 7000 },
      ],
    };
    const patch = (angleDeg: number) => marked([mark("a", { kind: "area", region: square }, { ...AREA, angleDeg })]);
    expect(found(patch(0), fast)).toEqual(["refuse beam-too-fast"]);
    // At 45 degrees both axes together reach √2 of what one does.
    expect(found(patch(45), fast)).not.toContain("refuse beam-too-fast");
    expect(found(marked([mark("a", stroke, LINE)]), fast)).toEqual(["refuse beam-too-fast"]);
  });
});

describe("a burned area", () => {
  it("has a run-up of v² / 2a with what both axes give together, and what a late beam needs", () => {
    const runUp = (angleDeg: number, lag: number): number => {
      const shop = laserShop(laserMachine({ lag }, { acceleration: { x: 400, y: 300, z: 200 } }));
      const plan = planned(marked([mark("a", { kind: "area", region: square }, { ...AREA, angleDeg })]), shop);
      return (plan.operations[0] as BeamArea).runUp;
    };
    expect(runUp(0, 0)).toBeCloseTo(2500 / 800, 9);
    expect(runUp(90, 0)).toBeCloseTo(2500 / 600, 9);
    expect(runUp(0, 0.001)).toBeCloseTo(2500 / 800 + 0.05, 9);
    // At 45 degrees the slower axis has a share of 1/√2.
    expect(runUp(45, 0)).toBeCloseTo(2500 / (2 * 300 * Math.SQRT2), 9);
  });

  it("counts the run-up in what the machine must reach, and is refused beyond the travel", () => {
    const region = rectangle({ x: 1, y: 5 }, { x: 99, y: 50 });
    const workpiece = marked([mark("a", { kind: "area", region }, AREA)]);
    const { operations } = planned(workpiece);
    const box = reachOfBeam(operations[0]!)!;
    const up = (operations[0] as BeamArea).runUp;
    expect(box.min.x).toBeCloseTo(1.09 - up, 2);
    expect(box.max.x).toBeCloseTo(98.91 + up, 2);
    const narrow = laserShop(laserMachine({}, { travel: { x: 101, y: 200, z: 80 } }));
    expect(found(workpiece, narrow)).toEqual(["refuse beam-larger-than-travel"]);
  });

  it("keeps the spot's middle just under half a spot inside, islands too, and leaves the setting's spacing as given", () => {
    const { operations } = planned(marked([mark("a", { kind: "area", region: ring(30, 30, 10, 4) }, AREA)]));
    const area = operations[0] as BeamArea;
    expect(area.spacing).toBe(0.1);
    expect(areaOf(area.region)).toBeCloseTo(Math.PI * (9.91 ** 2 - 4.09 ** 2), 1);
  });

  it("takes half the spot across the lines where the setting says nothing", () => {
    const { spacing, ...plain } = BURNS[1]!;
    expect(spacing).toBeDefined();
    const shop = { ...laserShop(), burns: [plain] };
    const of = (angleDeg: number) =>
      (
        planned(marked([mark("a", { kind: "area", region: square }, { ...AREA, angleDeg })]), shop)
          .operations[0] as BeamArea
      ).spacing;
    expect(of(0)).toBeCloseTo(0.1, 12);
    expect(of(90)).toBeCloseTo(0.05, 12);
    expect(of(45)).toBeCloseTo(Math.hypot(0.1, 0.2) / Math.SQRT2 / 2, 12);
  });

  it("burns detail finer than the spot as single lines along its middle, and says so", () => {
    const hair = rectangle({ x: 10, y: 40 }, { x: 40, y: 40.1 });
    const both = { loops: [...square.loops, ...hair.loops] };
    const workpiece = marked([mark("a", { kind: "area", region: both }, AREA)]);
    expect(found(workpiece)).toEqual(["caution beam-detail-too-fine"]);
    const { hairlines = [] } = planned(workpiece).operations[0] as BeamArea;
    const segments = hairlines.flat();
    for (const p of segments.flatMap((l) => [l.from, l.to])) expect(p.y).toBeCloseTo(40.05, 2);
    const length = segments.reduce((sum, l) => sum + Math.hypot(l.to.x - l.from.x, l.to.y - l.from.y), 0);
    // Up to where the corners' own branches begin.
    expect(length).toBeGreaterThan(29.8);
    expect(length).toBeLessThan(30);
    // At constant power its ends would burn black: there it stays bare.
    const steady = planned(workpiece, laserShop(laserMachine({ mode: "constant", start: "M3" })));
    expect((steady.operations[0] as BeamArea).hairlines).toBeUndefined();
  });

  it("finds nothing too fine in what the spot can fill", () => {
    for (const region of [square, ring(30, 30, 10, 4), circle({ x: 30, y: 30 }, 3)]) {
      expect(found(marked([mark("a", { kind: "area", region }, AREA)]))).toEqual([]);
    }
  });

  it("turns its lines with the wood", () => {
    const workpiece = marked([mark("a", { kind: "area", region: square }, { ...AREA, angleDeg: 10 })], {
      wishes: { turned: 90, holding: { by: "tape" } },
    });
    expect((planned(workpiece).operations[0] as BeamArea).angleDeg).toBeCloseTo(100, 9);
  });
});

describe("a cut through", () => {
  const loopsOf = (region: Region, keep: "inside" | "outside") => {
    const plan = planned(marked([mark("a", { kind: "area", region }, { ...THROUGH, keep })]));
    return plan.operations[0] as BeamLines;
  };

  it("runs half a kerf outside a piece that is kept, half a kerf inside an opening", () => {
    const out = loopsOf(square, "inside");
    expect(boundsOfRegion({ loops: out.chains })).toEqual({ min: { x: 19.9, y: 9.9 }, max: { x: 40.1, y: 30.1 } });
    const hole = loopsOf(square, "outside");
    const box = boundsOfRegion({ loops: hole.chains })!;
    expect(box.min.x).toBeCloseTo(20.1, 6);
    expect(box.max.y).toBeCloseTo(29.9, 6);
  });

  it("cuts what lies inside first, on the waste's side of each wall, and all of it after lines and areas", () => {
    const plan = planned(
      marked([
        mark("cut", { kind: "area", region: ring(30, 30, 10, 4) }, THROUGH),
        mark("name", stroke, LINE),
        mark("patch", { kind: "area", region: square }, AREA),
      ]),
    );
    expect(plan.operations.map((o) => o.markId)).toEqual(["patch", "name", "cut"]);
    expect(plan.setUp.marks.map((m) => m.mark.id)).toEqual(["patch", "name", "cut"]);
    const cut = plan.operations[2] as BeamLines;
    expect(cut).toMatchObject({ inOrder: true, passes: 2 });
    const width = (k: number): number => {
      const box = boundsOfRegion({ loops: [cut.chains[k]!] })!;
      return box.max.x - box.min.x;
    };
    expect(width(0)).toBeCloseTo(2 * 3.9, 2);
    expect(width(1)).toBeCloseTo(2 * 10.1, 2);
  });

  it("is refused without a kerf, and where an opening is narrower than it", () => {
    const region = rectangle({ x: 10, y: 10 }, { x: 40, y: 10.15 });
    const effect = "through, unmeasured";
    expect(found(marked([mark("a", { kind: "area", region: square }, { ...THROUGH, effect })]))).toEqual([
      "refuse beam-no-kerf",
    ]);
    expect(found(marked([mark("a", { kind: "area", region }, { ...THROUGH, keep: "outside" })]))).toEqual([
      "refuse beam-narrower-than-kerf",
    ]);
  });
});

describe("a burned picture", () => {
  const grey = (value: number) => greyPicture(1, 1, [value]);
  const picture = (value: number, more: object = {}) =>
    mark(
      "a",
      {
        kind: "picture",
        grey: grey(value),
        corner: { x: 20, y: 10 },
        width: 12.8,
        height: 12.8,
        turnedDeg: 0,
        ...more,
      },
      {
        by: "burned picture",
        tones: "error spread",
      },
    );

  it("has dots at the setting's pitch, burned where the picture is dark", () => {
    const plan = planned(marked([picture(0.25)]));
    const { aim } = plan.operations[0] as BeamDots;
    expect(aim).toMatchObject({ columns: 64, rows: 64, pitch: 0.2, corner: { x: 20, y: 22.8 }, alongDeg: 0 });
    // A quarter bare: three quarters of the dots are burned, but for what spills over the border.
    const burned = aim.bits.reduce((n, b) => n + b, 0);
    expect(Math.abs(burned / 4096 - 0.75)).toBeLessThan(0.01);
    expect(plan.setUp.marks[0]!.aim).toBe(aim);
  });

  it("keeps its middle and its turn with the wood", () => {
    const workpiece = marked([picture(0.5, { width: 10.09, height: 4.95, turnedDeg: 90, corner: { x: 50, y: 10 } })], {
      wishes: { turned: 180, holding: { by: "tape" } },
    });
    const { aim } = planned(workpiece).operations[0] as BeamDots;
    expect([aim.columns, aim.rows]).toEqual([50, 25]);
    expect(aim.alongDeg).toBeCloseTo(270, 9);
    // Its middle on the face: (50 − 4.95 / 2, 10 + 10.09 / 2); turned half round on a 100 × 60 board.
    const rad = (aim.alongDeg * Math.PI) / 180;
    const [w, h] = [(aim.columns * aim.pitch) / 2, (aim.rows * aim.pitch) / 2];
    expect(aim.corner.x + w * Math.cos(rad) + h * Math.sin(rad)).toBeCloseTo(100 - (50 - 4.95 / 2), 9);
    expect(aim.corner.y + w * Math.sin(rad) - h * Math.cos(rad)).toBeCloseTo(60 - (10 + 10.09 / 2), 9);
  });

  it("asks for the dots that the measured tones want", () => {
    const tones = [
      { dots: 0, dark: 0 },
      { dots: 0.5, dark: 0.8 },
      { dots: 1, dark: 1 },
    ];
    const shop = { ...laserShop(), burns: [{ ...BURNS[2]!, tones }] };
    const { aim } = planned(marked([picture(0.2)]), shop).operations[0] as BeamDots;
    expect(Math.abs(aim.bits.reduce((n, b) => n + b, 0) / 4096 - 0.5)).toBeLessThan(0.01);
  });

  it("cautions where tones are not measured, and where dots overlap besides", () => {
    const { tones, ...plain } = BURNS[2]!;
    expect(tones).toBeDefined();
    expect(found(marked([picture(0.5)]), { ...laserShop(), burns: [plain] })).toEqual([
      "caution beam-tones-unmeasured",
    ]);
    expect(found(marked([picture(0.5)]), { ...laserShop(), burns: [{ ...plain, spacing: 0.1 }] })).toEqual([
      "caution beam-dots-overlap",
      "caution beam-tones-unmeasured",
    ]);
  });
});

describe("the spot and what goes with it", () => {
  it("is as wide across a direction as the ellipse it is", () => {
    expect(lineWidth(LASER, 0)).toBeCloseTo(0.2, 12);
    expect(lineWidth(LASER, 90)).toBeCloseTo(0.1, 12);
    expect(spotAlong(LASER, 0)).toBeCloseTo(0.1, 12);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 360_000 }), (milli) => {
        const deg = milli / 1000;
        // The widest the ellipse reaches square to the travel, found by looking.
        const n = { x: -Math.sin((deg * Math.PI) / 180), y: Math.cos((deg * Math.PI) / 180) };
        let most = 0;
        for (let k = 0; k < 720; k++) {
          const a = (k * Math.PI) / 360;
          most = Math.max(most, 2 * (0.05 * Math.cos(a) * n.x + 0.1 * Math.sin(a) * n.y));
        }
        expect(lineWidth(LASER, deg)).toBeCloseTo(most, 5);
      }),
      { numRuns: 30 },
    );
  });

  it("carries head, empty nut and body at their offsets and heights above the focus", () => {
    const pieces = beamCarriage(laserMachine());
    expect(pieces.map((p) => [p.member, p.profile.from, p.offset.x, p.offset.y])).toEqual([
      ["laser head", 20, 0, 0],
      ["nut", 12, -60, 5],
      ["spindle body", 32, -60, 5],
    ]);
  });

  it("must not meet a clamp, with head or nut, while burning or in a run-up", () => {
    const clamp = (x: number, height: number) => ({
      wishes: {
        holding: {
          by: "clamps" as const,
          clamps: [{ name: "cramp", at: { x, y: 20 }, size: { x: 5, y: 20 }, height }],
        },
      },
    });
    const patch = mark("a", { kind: "area", region: rectangle({ x: 40, y: 20 }, { x: 60, y: 40 }) }, AREA);
    expect(found(marked([patch], clamp(0, 30)))).toEqual(["refuse beam-carriage-in-the-way"]);
    // The nut, 60 mm to the left, comes down to 12 mm above the wood; the head to 20.
    expect(found(marked([patch], clamp(0, 18)))).toEqual(["refuse beam-carriage-in-the-way"]);
    expect(found(marked([patch], clamp(0, 10)))).toEqual([]);
    expect(found(marked([patch], clamp(80, 18)))).toEqual([]);
    expect(found(marked([patch], clamp(77, 30)))).toEqual(["refuse beam-carriage-in-the-way"]);
  });

  it("must not meet the wood: a nut that hangs lower than the focus is refused", () => {
    const low = laserMachine({ focusGap: 6 });
    expect(
      found(
        marked([mark("a", { kind: "lines", chains: [[line({ x: 80, y: 30 }, { x: 90, y: 30 })]] }, LINE)]),
        laserShop(low),
      ),
    ).toEqual(["refuse beam-carriage-in-the-way"]);
  });
});

describe("a set-up under the beam", () => {
  const drilled = job([
    part(
      [
        feature("pocket", 9, {
          kind: "hole",
          diameter: 8,
          depth: { kind: "to", depth: 5 },
          centres: [[from(30, "first end"), from(30, "lower edge")]],
          head: { kind: "plain" },
        }),
      ],
      { wishes: { holding: { by: "tape" }, zeroCorner: "right back", wasteBoard: 9 } },
    ),
  ]);

  it("lies as it lay for the bit: the same frame, clamps and zero, the beam's way of finding it added", () => {
    const parts = describeWorkpieces(drilled);
    expect(parts.ok).toBe(true);
    const shop = { ...laserShop(), burns: [{ ...BURNS[0]!, wood: "ash" }] };
    const workpiece = parts.ok ? { ...parts.value[0]!, marks: [mark("a", stroke, LINE)] } : marked([]);
    const bit = planJob(drilled, [workpiece], shop);
    expect(bit.ok && bit.value.length).toBe(1);
    if (!bit.ok) return;
    const beam = planBeam(workpiece, shop, bit.value);
    const [one] = beam.ok ? beam.value : [];
    const { setUp } = bit.value[0]!;
    expect(one!.setUp.frame).toEqual(setUp.frame);
    expect(one!.setUp).toMatchObject({ blank: setUp.blank, holding: setUp.holding, bedZ: setUp.bedZ });
    expect(one!.setUp.zero).toMatchObject({ corner: "right back", z: "top" });
    expect(one!.setUp.zero.how).toContain(setUp.zero.how);
    expect(one!.setUp.zero.how).toContain("drive X by -60 mm and Y by 5 mm");
    const small = { ...shop, machines: [laserMachine({}, { travel: { x: 240, y: 300, z: 80 } })] };
    const again = planJob(drilled, [workpiece], small);
    const shifted = planBeam(workpiece, small, again.ok ? again.value : []);
    expect(shifted.findings.map((f) => f.code)).toContain("beam-shift-blank");
  });

  it("turns the wood over for the other face as the router would, and says how", () => {
    const both = marked([mark("a", stroke, LINE), mark("b", stroke, LINE, "back")]);
    const result = planBeam(both, laserShop(), []);
    expect(result.ok && result.value.map((p) => p.setUp.face)).toEqual(["face", "back"]);
    expect(result.ok && result.value[1]!.setUp.turnOver).toMatchObject({ how: "end for end" });
    expect(result.findings.map((f) => f.code)).toContain("plan-turned-over");
  });

  it("lifts head and nut clear of the highest clamp by the shop's clearance", () => {
    const tall = {
      wishes: {
        holding: {
          by: "clamps" as const,
          clamps: [{ name: "cramp", at: { x: 90, y: 0 }, size: { x: 10, y: 10 }, height: 30 }],
        },
      },
    };
    const far = mark("a", { kind: "lines", chains: [[line({ x: 50, y: 40 }, { x: 55, y: 40 })]] }, LINE);
    expect(planned(marked([far], tall)).setUp.safeZ).toBe(30 + laserShop().habits.clearance);
  });

  it("holds no set-up for what is not marked", () => {
    expect(planBeam(marked([]), laserShop(), [])).toEqual({ ok: true, value: [], findings: [] });
  });
});

describe("on the round", () => {
  const round = solidOfBlank({ length: 160, across: 40, square: 20, radii: [15, 15] });
  const pull = (y: number, more: object = {}) =>
    marked([mark("a", { kind: "lines", chains: [[line({ x: 60, y: 20 - y }, { x: 60, y: 20 + y })]] }, LINE)], {
      size: { length: 160, width: 40, thickness: 40 },
      round,
      wishes: { holding: { by: "jaws", jaws: [] } },
      ...more,
    });

  it("lets Z follow only where the power follows the speed", () => {
    const steady = laserMachine({ zFollows: true, mode: "constant", start: "M3" });
    expect(found(pull(6), laserShop(steady))).toContain("refuse beam-out-of-focus");
  });

  it("keeps the focus half-way down the drop, so that the drop may be the whole depth of focus", () => {
    const { operations, setUp } = planned(pull(3.8));
    // R 15: y 3.84 gives a drop of 0.5 mm (reference value of the published formulas: 3.840573).
    const drop = 15 - Math.sqrt(15 ** 2 - 3.8 ** 2);
    const { top, bottom } = setUp.marks[0]!.surface;
    expect(top - bottom).toBeCloseTo(drop, 3);
    expect(operations[0]!.z).toBeCloseTo((top + bottom) / 2, 9);
    expect(operations[0]!.follows).toBeUndefined();
    expect(setUp).toMatchObject({ index: 0 });
  });

  it("refuses what drops farther, with the widest that works, unless Z may follow", () => {
    const wide = planBeam(pull(6), laserShop(), []);
    expect(wide.findings.map((f) => f.code)).toContain("beam-out-of-focus");
    // Twice the range is 1 mm: half-width 5.385165 mm on R 15, 15·asin(5.385165 / 15)·2 = 11.02 mm around.
    expect(wide.findings.map(printFinding).join("\n")).toContain("11 mm wide around the wood");
    const { operations } = planned(pull(6), laserShop(laserMachine({ zFollows: true })));
    expect(operations[0]).toMatchObject({ follows: true });
  });

  it("refuses an end up", () => {
    const end = mark("a", stroke, LINE, "first end");
    const tall = laserShop(laserMachine({}, { travel: { x: 400, y: 300, z: 300 } }));
    expect(found({ ...pull(1), marks: [end] }, tall)).toEqual(["refuse plan-round-end-up"]);
  });
});
