import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tenonAdvice } from "../../src/parts/holding-kit/tenons.ts";
import { halvesOf, linesToKnife } from "../../src/parts/split.ts";
import { beforeTurningForSplit, splitSteps } from "../../src/parts/split-steps.ts";
import { slot } from "../../src/shapes/outlines.ts";
import { PAPERED, profile, room, tenonPull, waistPull } from "./turned-sample.ts";

type Vector = readonly [number, number, number];

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a: Vector): Vector => [-a[0], -a[1], -a[2]];

describe("lines knifed before the split", () => {
  it("run along the crown beyond the eased mouth at both ends, along 180° from end to end, and across both ends", () => {
    expect(linesToKnife(waistPull())).toEqual([
      { kind: "along", angleDeg: 0, from: 0, to: 36 },
      { kind: "along", angleDeg: 0, from: 84, to: 120 },
      { kind: "along", angleDeg: 180, from: 0, to: 120 },
      { kind: "across end", end: "first end", length: 45 },
      { kind: "across end", end: "second end", length: 45 },
    ]);
  });

  it("run the whole length where finger room is cut into the flat afterwards", () => {
    const lines = linesToKnife(tenonPull());
    expect(lines.slice(0, 2)).toEqual([
      { kind: "along", angleDeg: 0, from: 0, to: 90 },
      { kind: "along", angleDeg: 180, from: 0, to: 90 },
    ]);
    expect(lines.slice(2)).toEqual([
      { kind: "across end", end: "first end", length: 10 },
      { kind: "across end", end: "second end", length: 22 },
    ]);
  });

  it("stay out of every mouth where one turning holds several pulls", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 400_000 }), { maxLength: 4 }),
        fc.integer({ min: 0, max: 3000 }),
        (shifts, easeUm) => {
          const also = shifts.map((um) => um / 1000);
          const piece = waistPull({
            blank: { length: 480, across: 45, shape: "square" },
            fingerRoom: room(60, { alsoAt: also, ease: easeUm / 1000 }),
          });
          const along = linesToKnife(piece).flatMap((l) => (l.kind === "along" && l.angleDeg === 0 ? [l] : []));
          for (const l of along) {
            expect(l.to).toBeGreaterThan(l.from);
            for (const shift of [0, ...also]) {
              const clear = l.to <= 38 + shift - easeUm / 1000 || l.from >= 82 + shift + easeUm / 1000;
              expect(clear).toBe(true);
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("the halves", () => {
  it("are alike where pull and finger room are alike end for end", () => {
    const halves = halvesOf(waistPull());
    expect(halves.alike).toBe(true);
    expect(halves.differs).toBeLessThan(1e-6);
  });

  it("are a mirror pair where the finger room, or the profile, is not", () => {
    expect(halvesOf(waistPull({ fingerRoom: room(60.1) })).differs).toBeCloseTo(0.2, 9);
    expect(halvesOf(waistPull({ fingerRoom: room(60.1) })).alike).toBe(false);
    expect(halvesOf(waistPull({ fingerRoom: room(60.02) })).alike).toBe(true);
    const cone = (second: number) =>
      waistPull({ ...profile(20, 40, [{ kind: "taper", to: 100, diameter: second }]), fingerRoom: room(60) });
    expect(halvesOf(cone(39.92)).alike).toBe(true);
    expect(halvesOf(cone(39)).alike).toBe(false);
  });

  it("are alike where finger room closed all round is cut into each flat: one turns into the other about the axis", () => {
    expect(halvesOf(tenonPull()).alike).toBe(true);
    expect(halvesOf(tenonPull({ fingerRoom: room(52, { cut: "back", opensOver: "crown side" }) })).alike).toBe(false);
  });

  it("go where a turn in space takes them: the first end left or right as seen from the room", () => {
    // Crown +z, upper edge +y (90°), first end −x. Half 1 is what lies at +y, its flat looks to −y.
    const cases = [
      { half: 0, flat: [0, -1, 0] as Vector },
      { half: 1, flat: [0, 1, 0] as Vector },
    ] as const;
    for (const opensOver of [undefined, "far side"] as const) {
      const piece = waistPull({
        fingerRoom: room(61, opensOver === undefined ? {} : { cut: "back", opensOver }),
      });
      for (const { half, flat } of cases) {
        const mouth: Vector = opensOver === undefined ? [0, 0, 1] : [0, 0, -1];
        for (const facing of ["mouthUp", "mouthDown"] as const) {
          // Looking at the drawer front one looks the way the flat looks; up is where the mouth faces, or its opposite.
          const up = facing === "mouthUp" ? mouth : minus(mouth);
          const right = cross(flat, up);
          const firstEnd = dot([-1, 0, 0], right) > 0 ? "right" : "left";
          expect(halvesOf(piece).halves[half].firstEnd[facing]).toBe(firstEnd);
        }
      }
    }
  });
});

describe("the split in words", () => {
  it("says nothing for a blank that stays whole", () => {
    const { split: _, ...whole } = waistPull();
    expect(splitSteps(whole)).toEqual([]);
  });

  it("by saw: lines, band or hand saw in the cradle, losses from kerf, wander and truing", () => {
    const said = splitSteps(waistPull()).join(" ");
    expect(said).toContain("0 to 36 mm and 84 to 120 mm");
    expect(said).toContain("band saw or hand saw alone, with the blank in its cradle");
    // 1 / 2 + 0.5, and 0.3 of wander.
    expect(said).toContain("by 1.00 mm, and by up to 1.30 mm where the saw wandered");
    expect(said).toContain("with a square from the crown mark");
    expect(said).toContain("stand the blank upright");
  });

  it("by paper joint: nothing sawn, 0.2 mm of cleaning, the point out of the joint, ends held, 1000 rpm", () => {
    const papered = waistPull({ split: PAPERED });
    const said = splitSteps(papered).join(" ");
    expect(said).not.toMatch(/kerf|band saw/);
    expect(said).toContain("thinner than half the blank by 0.20 mm.");
    expect(beforeTurningForSplit(papered).join(" ")).toMatch(
      /points out of the joint.*hold both ends together.*1000 rpm/,
    );
    expect(beforeTurningForSplit(waistPull())).toEqual([]);
  });

  it("says which half goes where, and which way its mouth faces, when they differ", () => {
    expect(splitSteps(waistPull()).join(" ")).toContain("either goes in either place");
    const said = splitSteps(waistPull({ fingerRoom: room(62, { section: slot({ x: 62, y: 0 }, 40, 20, 0) }) })).join(
      " ",
    );
    expect(said).toContain("mirror pair: end for end the profile differs by 4 mm");
    expect(said).toContain(
      "Half 1 on its drawer front: mouth down, its first end is at your left; mouth up, at your right.",
    );
    expect(said).toContain(
      "Half 2 on its drawer front: mouth down, its first end is at your right; mouth up, at your left.",
    );
  });
});

describe("tenons", () => {
  it("are turned to a gauge hole, stay 1 to 2 mm short, and are said to become half-round by their true thickness", () => {
    const [tenon] = tenonAdvice(tenonPull());
    expect(tenon).toMatchObject({ diameter: 10, fate: "becomes half-round", holeDepth: { least: 13, most: 14 } });
    const said = tenon!.steps.join(" ");
    expect(said).toContain("0.1 mm thinner than the hole measures");
    expect(said).toContain("13 to 14 mm deep");
    expect(said).toContain("Chamfer");
    // 5 − 1.3 and 5 − 1.0.
    expect(said).toContain("3.70 to 4.00 mm thick");
  });

  it("stay round without a split, and are waste where waste is", () => {
    const { split: _, ...whole } = tenonPull();
    expect(tenonAdvice(whole)[0]!.fate).toBe("stays round");
    expect(tenonAdvice(tenonPull({ waste: [{ from: 0, to: 12 }] }))[0]!.fate).toBe("is waste");
    expect(tenonAdvice(waistPull())).toEqual([]);
  });
});
