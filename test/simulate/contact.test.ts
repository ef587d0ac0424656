import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ReadMove } from "../../src/reader/read-move.ts";
import { assemblyOf } from "../../src/shop/assembly.ts";
import type { Assembly } from "../../src/shop/cutter.ts";
import type { Surroundings } from "../../src/simulate/contact.ts";
import { nearestToBox } from "../../src/simulate/keep-out.ts";
import { pathOf, pointOn } from "../../src/simulate/path.ts";
import { simulate } from "../../src/simulate/run.ts";
import { startWood } from "../../src/simulate/start.ts";
import { at, board, cutterOf, held, MACHINE, mm, move } from "./help.ts";

const BLANK = board(80, 60, 18);
const CELL = 0.25;
const OPEN: Surroundings = { keepOuts: [], lowestTip: -18.3 };
const flat6 = held({ kind: "flat" }, 6);

function run(moves: readonly ReadMove[], assembly: Assembly = flat6, around = OPEN) {
  return simulate({ wood: startWood(BLANK, CELL), events: moves, assemblyFor: () => assembly, around });
}

function kinds(moves: readonly ReadMove[], assembly?: Assembly, around?: Surroundings): string[] {
  return run(moves, assembly, around).contacts.map((c) => `${c.kind} ${c.member} ${c.line}`);
}

const rapid = (from: ReturnType<typeof at>, to: ReturnType<typeof at>, line: number) =>
  move(from, to, { rapid: true, feed: 0, line });

describe("rapids", () => {
  it("go up the very hole they came down, along the slot they cut, and over cleared ground, without a word", () => {
    const moves = [
      rapid(at(20, 20, 20), at(20, 20, 1), 1),
      move(at(20, 20, 1), at(20, 20, -4), { line: 2 }),
      move(at(20, 20, -4), at(50, 33, -4), { line: 3 }),
      rapid(at(50, 33, -4), at(50, 33, 20), 4),
      rapid(at(50, 33, 20), at(20, 20, 20), 5),
      rapid(at(20, 20, 20), at(20, 20, -3.9), 6),
      rapid(at(20, 20, -3.9), at(20, 20, 20), 7),
    ];
    expect(kinds(moves)).toEqual([]);
  });

  it("the same after arcs and helices, for every form", () => {
    const forms = [
      { kind: "flat" },
      { kind: "round-nose" },
      { kind: "radiused-corner", cornerRadius: 1 },
      { kind: "v", includedAngle: 60, tipFlat: 0.3 },
    ] as const;
    for (const form of forms) {
      const arc = { centre: { x: 40, y: 30 }, ccw: true };
      const moves = [
        rapid(at(42, 30, 20), at(42, 30, 1), 1),
        move(at(42, 30, 1), at(42, 30, 0), { line: 2 }),
        move(at(42, 30, 0), at(42, 30, -3), { line: 3, arc }),
        move(at(42, 30, -3), at(40, 32, -3), { line: 4, arc }),
        rapid(at(40, 32, -3), at(40, 32, 20), 5),
      ];
      expect(kinds(moves, held(form, 6))).toEqual([]);
    }
  });

  it("sideways through wood, and down into it, are seen, with line and depth", () => {
    const sideways = [rapid(at(-10, 20, -2), at(90, 20, -2), 7)];
    const seen = run(sideways).contacts;
    expect(seen).toHaveLength(1);
    expect(seen[0]).toMatchObject({ kind: "rapid", member: "cutter", line: 7 });
    expect(seen[0]!.depth).toBeCloseTo(2, 6);
    expect(kinds([rapid(at(20, 20, 20), at(20, 20, -0.5), 3)])).toEqual(["rapid cutter 3"]);
    // Down to the wood, just touching, is not in it.
    expect(kinds([rapid(at(20, 20, 20), at(20, 20, 0), 3)])).toEqual([]);
  });

  it("true overlap deeper than the bound is always seen, wherever it lies on the grid", () => {
    fc.assert(
      fc.property(mm(0, 3), mm(20, 40), mm(0.5, 3), (along, y, beside) => {
        const cutting = [move(at(-5, y, -5), at(85, y, -5), { line: 1 })];
        // A way back `beside` the slot: true wood reaches that far into the cutter.
        const back = rapid(at(85 + along, y + beside, -3), at(-5, y + beside, -3), 2);
        const found = run([...cutting, back]).contacts.filter((c) => c.line === 2);
        if (found.length === 0) expect(beside).toBeLessThanOrEqual(2 * CELL * Math.SQRT1_2 + 0.004);
        else expect(found[0]!.depth).toBeGreaterThan(2.9);
      }),
      { numRuns: 25 },
    );
  });

  it("a rapid of two axes must have all of its box free, since controllers go there in different ways", () => {
    const slanting = [move(at(10, 10, -5), at(40, 40, -5), { line: 1 })];
    const back = (line: number, rapidly: boolean) => move(at(40, 40, -4), at(10, 10, -4), { line, rapid: rapidly });
    expect(kinds([...slanting, back(2, true)])).toEqual(["rapid cutter 2"]);
    expect(kinds([...slanting, back(2, false)])).toEqual([]);
    const alongX = [move(at(10, 10, -5), at(40, 10, -5), { line: 1 })];
    expect(kinds([...alongX, rapid(at(40, 10, -4), at(10, 10, -4), 2)])).toEqual([]);
  });

  it("one that comes down from an unknown height is looked at all the way", () => {
    const unknown = (to: ReturnType<typeof at>): ReadMove => ({
      ...rapid(to, to, 4),
      from: { x: to.x, y: to.y, z: undefined },
    });
    expect(kinds([unknown(at(20, 20, -1))])).toEqual(["rapid cutter 4"]);
    expect(kinds([unknown(at(20, 20, 1))])).toEqual([]);
  });
});

describe("parts that do not cut", () => {
  it("a shank deeper than the flutes rubs; one that follows in its own cut does not", () => {
    const short = held({ kind: "flat" }, 6, { fluteLength: 8, stickOut: 30 });
    const straightDown = [move(at(20, 20, 1), at(20, 20, -12), { line: 1 })];
    expect(kinds(straightDown, short)).toEqual([]);
    const slot = [move(at(-10, 20, -12), at(60, 20, -12), { line: 2 })];
    const rub = run(slot, short).contacts;
    expect(rub.map((c) => [c.kind, c.member])).toEqual([["rub", "shank"]]);
    expect(rub[0]!.depth).toBeCloseTo(4, 5);
    const levels = [-6, -12].map((z, i) => move(at(-10, 20, z), at(90, 20, z), { line: i + 1 }));
    expect(kinds(levels, short)).toEqual([]);
  });

  it("a shank thicker than the cutter rubs on the walls of a deep slot", () => {
    const thick = held({ kind: "flat" }, 6, { fluteLength: 8, shankDiameter: 8 });
    const levels = [-6, -12].map((z, i) => move(at(-10, 20, z), at(90, 20, z), { line: i + 1 }));
    expect(kinds(levels, thick)).toEqual(["rub shank 2"]);
  });

  it("a shank that rises on a slope meets wood above the flutes before they come there", () => {
    const short = held({ kind: "flat" }, 6, { fluteLength: 5, stickOut: 30 });
    const up = [move(at(-10, 20, -9), at(60, 20, -4), { line: 3 })];
    expect(kinds(up, short)).toContain("rub shank 3");
  });

  it("the nut and the laser head come down on the wood", () => {
    const stub = held({ kind: "flat" }, 6, { fluteLength: 10, stickOut: 11 });
    expect(kinds([move(at(40, 30, 5), at(40, 30, -12), { line: 1 })], stub)).toContain("rub nut 1");
    const laser = { ...MACHINE, laserHead: { x: 30, y: 0, radius: 20, underside: -5 } };
    const beside = assemblyOf(cutterOf({ kind: "flat" }, 6, { fluteLength: 10, stickOut: 12 }), laser);
    const off = [move(at(-12, 30, -8), at(-12, 35, -8), { line: 2 })];
    expect(kinds(off, beside)).toEqual(["rub laser head 2"]);
  });

  it("a cutter that stands still is pushed into wood", () => {
    const still = move(at(20, 20, 1), at(20, 20, -2), { line: 5, spindle: { turning: "off", rpm: 0 } });
    expect(kinds([still])).toEqual(["still cutter 5"]);
    const above = move(at(20, 20, 5), at(20, 20, 1), { line: 5, spindle: { turning: "off", rpm: 0 } });
    expect(kinds([above])).toEqual([]);
  });
});

describe("solids and limits", () => {
  const clamp = { name: "left clamp", box: { min: at(0, 20, 0), max: at(10, 40, 15) } };

  it("a clamp is hit by the cutter at feed, and by the nut passing over it", () => {
    const around = { ...OPEN, keepOuts: [clamp] };
    const hit = run([move(at(40, 30, -1), at(12.5, 30, -1), { line: 9 })], flat6, around).contacts;
    expect(hit.map((c) => [c.kind, c.keepOut])).toEqual([["keep-out", "left clamp"]]);
    expect(kinds([move(at(40, 30, -1), at(13.1, 30, -1), { line: 9 })], flat6, around)).toEqual([]);
    const stub = held({ kind: "flat" }, 6, { stickOut: 16, fluteLength: 10 });
    expect(kinds([move(at(40, 30, -2), at(21, 30, -2), { line: 9 })], stub, around)).toContain("keep-out nut 9");
    const over = rapid(at(40, 30, 14), at(-20, 30, 14), 3);
    expect(kinds([over], flat6, around)).toEqual(["keep-out cutter 3"]);
    expect(kinds([rapid(at(40, 30, 15.1), at(-20, 30, 15.1), 3)], flat6, around)).toEqual([]);
  });

  it("the distance found is the least over the path, by plain search", () => {
    const end = fc.tuple(mm(-20, 40), mm(0, 60), mm(-5, 25)).map(([x, y, z]) => at(x, y, z));
    const part = { member: "cutter", radius: 3, height: 0, top: 25, offset: { x: 0, y: 0 } } as const;
    fc.assert(
      fc.property(end, end, fc.boolean(), (a, b, ccw) => {
        const centre = { x: a.x + 5, y: a.y + 3 };
        const r = Math.hypot(5, 3);
        const to = at(centre.x + r * Math.cos(b.x), centre.y + r * Math.sin(b.x), b.z);
        const path = pathOf(ccw ? move(a, to, { arc: { centre, ccw } }) : move(a, b))!;
        const n = nearestToBox(path, part, clamp.box, 0);
        let least = Number.POSITIVE_INFINITY;
        for (let k = 0; k <= 2000; k++) {
          const p = pointOn(path, k / 2000);
          const dx = Math.max(0 - p.x, p.x - 10);
          const dy = Math.max(20 - p.y, p.y - 40);
          const flat = dx > 0 && dy > 0 ? Math.hypot(dx, dy) : Math.max(dx, dy);
          least = Math.min(least, Math.max(flat - 3, -(p.z + 25), p.z - 15));
        }
        // Contact is never missed, and never made up.
        if (least < 0) expect(n.distance).toBeLessThan(0);
        if (n.distance < 0) expect(n.distance).toBeGreaterThanOrEqual(least - 0.05);
        if (least > 0.05) expect(n.distance).toBeGreaterThan(0);
      }),
      { numRuns: 200 },
    );
  });

  it("the tip below the waste board's limit, also along an arc that dips", () => {
    expect(kinds([move(at(-10, 20, -18.2), at(90, 20, -18.2), { line: 1 })])).toEqual([]);
    expect(kinds([move(at(-10, 20, -18.5), at(90, 20, -18.5), { line: 1 })])).toEqual(["waste board cutter 1"]);
    const dip = move(at(20, 20, -16), at(26, 20, -16), {
      line: 2,
      arc: { centre: { x: 23, y: -16 }, ccw: true, plane: "XZ" },
    });
    expect(run([dip]).contacts.map((c) => [c.kind, Math.round(c.depth * 1000) / 1000])).toEqual([["waste board", 0.7]]);
  });

  it("a cut from an unknown place, and one before any cutter is named", () => {
    const from = { x: undefined, y: undefined, z: 1 };
    expect(kinds([{ ...move(at(1, 1, 1), at(20, 20, -1), { line: 6 }), from }])).toEqual(["unplaced cutter 6"]);
    const none = simulate({
      wood: startWood(BLANK, CELL),
      events: [move(at(1, 1, 1), at(20, 20, -1), { line: 8 })],
      assemblyFor: () => undefined,
      around: OPEN,
    });
    expect(none.contacts.map((c) => c.kind)).toEqual(["no cutter"]);
  });
});
