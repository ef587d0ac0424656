import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FaceName } from "../../src/job/board.ts";
import type { Feature } from "../../src/job/job.ts";
import { isSolid } from "../../src/parts/solid.ts";
import type { Operation } from "../../src/plan/operation.ts";
import type { PlannedSetUp } from "../../src/plan/plan-job.ts";
import { areaOf } from "../../src/shapes/region.ts";
import { feature, from, groove } from "../parts/describing.ts";
import { plan } from "./planning.ts";

const um = (low: number, high: number) => fc.integer({ min: low * 1000, max: high * 1000 }).map((n) => n / 1000);
const side = fc.constantFrom<FaceName>("face", "back");
const border = fc.constantFrom<FaceName>("lower edge", "upper edge", "first end", "second end");

const anyFeature: fc.Arbitrary<Feature> = fc.oneof(
  fc
    .record({
      on: side,
      border,
      d: um(-5, 60),
      width: um(2, 16),
      depth: um(1, 13),
      first: um(0, 120),
      second: um(0, 120),
      stops: fc.nat(3),
      ends: fc.constantFrom("round" as const, "square" as const),
    })
    .map((r) =>
      groove("groove", 1, {
        on: r.on,
        from: from(r.d, r.border, "near edge"),
        width: r.width,
        depth: r.depth,
        ends: r.ends,
        ...(r.stops & 1 ? { first: r.first } : {}),
        ...(r.stops & 2 ? { second: r.second } : {}),
      }),
    ),
  fc
    .record({ on: side, border, width: um(1, 40), depth: um(1, 13), first: um(0, 120), stopped: fc.boolean() })
    .map((r) =>
      feature(
        "rabbet",
        2,
        {
          kind: "rabbet",
          along: r.border,
          width: r.width,
          depth: { kind: "to", depth: r.depth },
          stops: r.stopped ? { first: r.first } : {},
        },
        { on: r.on },
      ),
    ),
  fc
    .record({
      on: side,
      x: um(0, 200),
      y: um(0, 60),
      length: um(4, 60),
      width: um(4, 40),
      radius: um(0, 12),
      turned: um(-90, 90),
      depth: um(1, 12),
      lean: fc.constantFrom(0, 0, 12, 40),
    })
    .map((r) =>
      feature(
        "recess",
        3,
        {
          kind: "recess",
          shape: { kind: "rounded rectangle", length: r.length, width: r.width, radius: r.radius },
          at: [from(r.x, "first end"), from(r.y, "lower edge")],
          turnedDeg: r.turned,
          depth: { kind: "to", depth: r.depth },
          wallLeanDeg: r.lean,
        },
        { on: r.on },
      ),
    ),
  fc
    .record({ on: side, x: um(0, 200), y: um(0, 60), diameter: um(1.5, 20), depth: um(1, 12), through: fc.boolean() })
    .map((r) =>
      feature(
        "hole",
        4,
        {
          kind: "hole",
          diameter: r.diameter,
          depth: r.through ? { kind: "through" } : { kind: "to", depth: r.depth },
          centres: [[from(r.x, "first end"), from(r.y, "lower edge")]],
          head: { kind: "plain" },
        },
        { on: r.on },
      ),
    ),
);

const anyPart = fc
  .array(anyFeature, { minLength: 1, maxLength: 4 })
  .map((list) => list.map((f, i) => ({ ...f, name: `${f.name} ${i}` })));

function levelsOf(op: Operation): readonly number[] {
  switch (op.kind) {
    case "clear":
      return op.levels.map((l) => l.z);
    case "follow":
    case "contour":
    case "v-groove":
    case "trace":
      return op.levels;
    case "bore":
      return [op.floorZ];
    case "peck":
    case "sink":
      return [op.tipZ];
    case "ease":
      return op.passes.map((pass) => Math.min(...pass.points.map((p) => p.z)));
  }
}

/** What holds for every plan, whatever the part. */
function keepsTheRules({ setUp, operations }: PlannedSetUp): void {
  expect(setUp.safeZ).toBeGreaterThanOrEqual(setUp.blank.max.z + setUp.habits.clearance);
  expect(setUp.cutters).toEqual([...new Set(operations.map((o) => o.cutter))]);
  expect(operations.flatMap((o) => o.cavityIds).sort()).toEqual(setUp.cavities.map((c) => c.id).sort());
  for (const op of operations) {
    const levels = levelsOf(op);
    const lowest = levels.at(-1)!;
    expect(op.topZ).toBeLessThanOrEqual(setUp.blank.max.z);
    for (const [i, z] of levels.entries()) expect(z).toBeLessThan(i === 0 ? op.topZ : levels[i - 1]!);
    expect(lowest).toBeGreaterThanOrEqual(setUp.blank.min.z - setUp.intoWasteBoard - 1e-9);
    expect(lowest).toBeGreaterThan(setUp.bedZ);
    expect(op.cutter.fluteLength).toBeGreaterThanOrEqual(op.topZ - lowest - 1e-9);
    expect(op.cutter.stickOut).toBeGreaterThan(setUp.blank.max.z - lowest);
    expect(op.speeds.feed).toBeGreaterThan(0);
    const cavity = setUp.cavities.find((c) => c.id === op.cavityIds[0])!;
    const share = op.kind === "follow" || op.kind === "clear" ? levels : [];
    const step = op.topZ - (share[0] ?? op.topZ);
    expect(step).toBeLessThanOrEqual(op.cutter.diameter / 2 + 1e-9);
    if (op.kind === "clear") {
      expect(op.step).toBeLessThanOrEqual(op.cutter.diameter / 2);
      expect(op.cutter.diameter / 2).toBeLessThanOrEqual(cavity.insideRadius + 0.012);
      expect(op.finishLevels.at(-1)!.z).toBe(lowest);
      for (const l of [...op.levels, ...op.finishLevels]) expect(areaOf(l.area)).toBeGreaterThan(0);
      // Lower down a sloped wall there is never more to clear.
      const areas = op.levels.map((l) => areaOf(l.area));
      for (const [i, a] of areas.entries()) if (i > 0) expect(a).toBeLessThanOrEqual(areas[i - 1]! + 0.01);
    }
    if (cavity.shape.kind === "groove") expect(op.cutter.diameter).toBeLessThanOrEqual(cavity.shape.width + 0.012);
    if (op.kind === "bore") expect(op.cutter.diameter).toBeLessThanOrEqual(0.8 * op.diameter + 1e-9);
  }
  const top = setUp.target.slabs.at(-1)!;
  for (const mark of setUp.marks) {
    expect(mark.at.z).toBe(setUp.blank.max.z);
    expect(isSolid(top, mark.at, mark.at.z)).toBe(true);
  }
}

describe("any part is planned by the rules or refused with a reason", () => {
  it("over hundreds of random parts, the same twice", () => {
    let planned = 0;
    fc.assert(
      fc.property(anyPart, (features) => {
        const result = plan(features);
        if (result.setUps.length === 0) {
          const refused = result.findings.filter((f) => f.grade === "refuse");
          expect(refused.length).toBeGreaterThan(0);
          for (const f of refused) {
            expect(f.what).not.toBe("");
            expect(f.mend ?? "").not.toBe("");
            expect(f.place.source).toBeDefined();
          }
        } else {
          planned++;
          for (const s of result.setUps) keepsTheRules(s);
        }
        expect(JSON.stringify(plan(features))).toBe(JSON.stringify(result));
      }),
      { numRuns: 400 },
    );
    // Enough of them can be made for the rules to be put to the test.
    expect(planned).toBeGreaterThan(40);
  });
});

describe("witness marks", () => {
  it("tell a blank that is turned or mirrored, and lie on uncut wood", () => {
    fc.assert(
      fc.property(um(40, 400), um(30, 200), (length, width) => {
        const { setUps } = plan([groove("g", 1, { from: from(8, "lower edge") })], {
          size: { length, width, thickness: 12 },
        });
        const { marks, blank } = setUps[0]!.setUp;
        expect(marks.length).toBeGreaterThanOrEqual(2);
        const images = [
          (x: number, y: number) => [blank.max.x + blank.min.x - x, blank.max.y + blank.min.y - y],
          (x: number, y: number) => [blank.max.x + blank.min.x - x, y],
          (x: number, y: number) => [x, blank.max.y + blank.min.y - y],
        ];
        for (const image of images) {
          for (const m of marks) {
            const [x, y] = image(m.at.x, m.at.y) as [number, number];
            expect(Math.min(...marks.map((n) => Math.hypot(n.at.x - x, n.at.y - y)))).toBeGreaterThan(3.9);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it("are two at least on the edge of a thin board", () => {
    const edge = groove("g", 1, { on: "lower edge", from: from(4, "back", "near edge"), width: 4, depth: 6 });
    const { setUps } = plan([edge]);
    expect(setUps[0]?.setUp.marks.length).toBeGreaterThanOrEqual(2);
  });

  it("are missed aloud where nothing stays uncut", () => {
    const r = (along: FaceName, name: string) =>
      feature(name, 1, { kind: "rabbet", along, width: 29.6, depth: { kind: "to", depth: 3 }, stops: {} });
    const { findings } = plan([r("lower edge", "a"), r("upper edge", "b")]);
    expect(findings.map((f) => f.code)).toContain("plan-few-marks");
  });
});
