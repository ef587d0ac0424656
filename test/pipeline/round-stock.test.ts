import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { describeWorkpieces } from "../../src/parts/describe.ts";
import type { Cavity } from "../../src/parts/workpiece.ts";
import { planJob } from "../../src/plan/plan-job.ts";
import { readOptions } from "../../src/proof/prove.ts";
import { readProgram } from "../../src/reader/read.ts";
import { roundedRectangle } from "../../src/shapes/outlines.ts";
import { DEFAULT_SHOP } from "../../src/shop/default-shop.ts";
import type { Shop } from "../../src/shop/shop.ts";
import { timeOf } from "../../src/simulate/time.ts";
import { readPulls } from "../parts/turning/sample.ts";
import { BLANK, type Blank, planRound, room, slot, workpieceOf } from "../plan/round-stock.ts";
import { allThrough, everyLevel, refusedBy, type Through, through } from "./round-through.ts";

const um = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);

/** A random blank, and a slot that keeps its floor well within it. */
const roundJob = fc
  .record({
    waist: um(9, 17),
    flange: um(14, 19),
    square: fc.constantFrom(0, 20),
    depth: um(4, 30),
    length: um(24, 70),
    width: um(8, 24),
    lean: fc.constantFrom(0, 0, Math.tan(Math.PI / 18)),
    half: fc.constantFrom(undefined, undefined, 1.2),
  })
  .map(({ waist, flange, square, depth, length, width, lean, half }) => {
    const blank: Blank = { ...BLANK, square, radii: [flange, waist, flange], ...(half === undefined ? {} : { half }) };
    const top = half === undefined ? 40 : 20 - half;
    // Depth beneath the crown of the waist, or beneath the flat of the half, so that a wall of 2 mm stays everywhere.
    const crown = half === undefined ? 20 - waist : 0;
    const r = waist - 2;
    const reach = half === undefined ? r + Math.min(r, depth) - 2 : Math.min(r - half - 2, depth);
    const to = crown + Math.max(1.5, Math.min(depth, reach));
    const down = Math.abs(top - to - 20);
    const most = 2 * Math.sqrt(Math.max(0, r * r - down * down));
    const across = Math.min(width, most);
    return { blank, section: slot({ x: 80, y: 20 }, Math.max(length, across + 4), across), to, lean, across };
  })
  .filter((j) => j.across >= 7.5);

describe("random round blanks and slots, from plan to proof", () => {
  it("no gouge, nothing left, no rapid in wood, the same bytes again", () => {
    fc.assert(
      fc.property(roundJob, ({ blank, section, to, lean }) => {
        const cavity = room(section, to, { slopeTan: lean, insideRadius: 3.5 });
        const workpiece = workpieceOf(blank, [cavity]);
        const planned = planRound(workpiece);
        const refusals = planned.findings.filter((f) => f.grade === "refuse");
        // A bit may be too short for a deep room; the wood itself must never be in question.
        fc.pre(!refusals.some((f) => f.code.startsWith("plan-bit") || f.code === "plan-no-bit-fits"));
        expect(refusals.map((f) => `${f.code} ${f.what} ${f.why}`)).toEqual([]);
        const made = through(planned.setUps[0]!);
        expect(refusedBy(made.proof)).toEqual([]);
        expect(made.proof.figures.gouge!.value).toBeLessThan(0.01);
        expect(made.proof.figures["wood left"]!.value).toBeLessThan(0.01);
        expect(made.proof.figures.contacts!.value).toBe(0);
        expect(through(planRound(workpiece).setUps[0]!).texts).toEqual(made.texts);
      }),
      { numRuns: 5 },
    );
  });
});

describe("following the wood", () => {
  it("takes less time than every level over the whole plan, and cuts the same", () => {
    const blank: Blank = { ...BLANK, radii: [19.5, 12, 19.5] };
    const planned = planRound(workpieceOf(blank, [room(slot({ x: 80, y: 20 }, 90, 14), 22, { cutter: "6 mm flat" })]));
    const one = planned.setUps[0]!;
    const follow = through(one);
    const everywhere = through({ ...one, operations: one.operations.map((o) => everyLevel(o, one.setUp.blank.max.z)) });
    expect(refusedBy(follow.proof)).toEqual([]);
    expect(refusedBy(everywhere.proof)).toEqual([]);
    const seconds = (t: Through): number =>
      t.texts.reduce((sum, { file, text }) => {
        const read = readProgram(text, file, t.setUp.machine.controller, readOptions(t.setUp));
        return sum + timeOf(read.events, t.setUp.machine).seconds;
      }, 0);
    expect(seconds(follow)).toBeLessThan(0.9 * seconds(everywhere));
  });
});

describe("what the proof refuses of round stock", () => {
  /** Bits long enough for anything, so that only the wood is in question. */
  const long: Shop = {
    ...DEFAULT_SHOP,
    cutters: DEFAULT_SHOP.cutters.map((c) => ({ ...c, fluteLength: 45, stickOut: 60 })),
  };

  /** Planned for a thick blank, so that planning has nothing against it, then laid on a thin one. */
  function onThinner(cavity: Cavity, radius: number): readonly string[] {
    const one = planRound(workpieceOf({ ...BLANK, radii: [20, 20] }, [cavity]), long).setUps[0]!;
    const thin = planRound(
      workpieceOf({ ...BLANK, radii: [radius, radius] }, [room(slot({ x: 80, y: 20 }, 20, 8), 18)]),
      long,
    );
    const round = thin.setUps[0]!.setUp.round!;
    return refusedBy(through({ ...one, setUp: { ...one.setUp, round } }, long).proof).map((r) => r.split(":")[0]!);
  }

  it("a floor that goes through below, where the sides turn under", () => {
    expect(onThinner(room(slot({ x: 80, y: 20 }, 40, 18), 32), 14)).toContain("proof-broke-through");
    expect(onThinner(room(slot({ x: 80, y: 20 }, 40, 18), 32), 17)).toEqual([]);
  });

  it("a floor that runs out sideways", () => {
    expect(onThinner(room(slot({ x: 80, y: 20 }, 40, 20), 9), 14)).toContain("proof-broke-through");
    expect(onThinner(room(slot({ x: 80, y: 20 }, 40, 14), 9), 15)).toEqual([]);
  });

  it("a recess that opens over one side on purpose, and over the other as well", () => {
    const half: Blank = { ...BLANK, radii: [17, 17], half: 1.2 };
    // Over the back edge of the half it may run out; its far wall stands at y = 8 or, too far, at y = 2.
    const opening = (far: number): Cavity =>
      room(roundedRectangle({ x: 80, y: (far + 40) / 2 }, 40, 40 - far, 4, 0), 9, {
        opensOver: "upper edge",
        insideRadius: 4,
      });
    const found = (far: number): readonly string[] => {
      const planned = planRound(workpieceOf(half, [opening(far)]), long);
      return refusedBy(through(planned.setUps[0]!, long).proof).map((r) => r.split(":")[0]!);
    };
    expect(found(11)).toEqual([]);
    expect(found(4)).toContain("proof-broke-through");
  });

  it("wood beneath that is surely thinner than asked", () => {
    const cavity = room(slot({ x: 80, y: 20 }, 40, 12), 29, { leastWall: 6 });
    expect(onThinner(cavity, 15)).toContain("proof-web-thin");
    expect(onThinner({ ...cavity, leastWall: 2 }, 15)).toEqual([]);
  });

  it("a program that cuts the round outside the recess", () => {
    const one = planRound(workpieceOf(BLANK, [room(slot({ x: 80, y: 20 }, 40, 14), 14)])).setUps[0]!;
    const wide = planRound(workpieceOf(BLANK, [room(slot({ x: 80, y: 20 }, 40, 14.05), 14)])).setUps[0]!;
    const found = refusedBy(through({ setUp: one.setUp, operations: wide.operations }).proof);
    expect(found.some((f) => f.startsWith("proof-gouge"))).toBe(true);
  });

  it("a recess that stops short of its floor", () => {
    const one = planRound(workpieceOf(BLANK, [room(slot({ x: 80, y: 20 }, 40, 14), 14)])).setUps[0]!;
    const short = planRound(workpieceOf(BLANK, [room(slot({ x: 80, y: 20 }, 40, 14), 13.98)])).setUps[0]!;
    const found = refusedBy(through({ setUp: one.setUp, operations: short.operations }).proof);
    expect(found.some((f) => f.startsWith("proof-floor-high"))).toBe(true);
  });
});

describe("index positions", () => {
  it("a room in the crown and a hole a quarter turn on: each set-up sees what the other took", () => {
    const hole: Cavity = {
      ...room({ loops: [[...slot({ x: 40, y: 20 }, 8.001, 8).loops[0]!]] }, 12),
      id: "pull/hole",
      feature: "hole",
      face: "upper edge",
    };
    const all = allThrough(workpieceOf(BLANK, [room(slot({ x: 80, y: 20 }, 40, 14), 16), hole]));
    expect(all.map((t) => t.setUp.index)).toEqual([0, 90]);
    for (const t of all) expect(refusedBy(t.proof)).toEqual([]);
    // The first end stays at the left: the room seen from the side has left the middle of the blank, not its mirror.
    const second = all[1]!.setUp;
    expect(second.target.cavities[0]!.section.loops[0]![0]!.from.x).toBeGreaterThan(100);
  });
});

describe("two unlike pulls from a job's text", () => {
  it("one down its crown, one into the flat backs of its halves: all proved", () => {
    const job = readPulls();
    const parts = describeWorkpieces(job);
    if (!parts.ok) throw new Error(parts.findings.map((f) => f.what).join("; "));
    const planned = planJob(job, parts.value, DEFAULT_SHOP);
    if (!planned.ok) throw new Error(planned.findings.map((f) => f.what).join("; "));
    expect(planned.value.map((s) => s.setUp.name)).toEqual([
      "barrel pull, crown up",
      "waisted pull, first half, flat back up",
      "waisted pull, second half, flat back up",
    ]);
    for (const s of planned.value) {
      const made = through(s);
      expect(refusedBy(made.proof)).toEqual([]);
      expect(made.proof.figures.gouge!.value).toBeLessThan(0.01);
    }
    // Both halves run out over the crown line, each at its own side.
    const [, first, second] = planned.value;
    expect(first!.setUp.target.blank.max.y).toBeGreaterThan(first!.setUp.blank.max.y);
    expect(second!.setUp.target.blank.min.y).toBeLessThan(second!.setUp.blank.min.y);
  });
});
