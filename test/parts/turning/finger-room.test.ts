import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ElementShape, FingerRoomDescription, SplitDescription } from "../../../src/job/turned.ts";
import { halvesOf } from "../../../src/parts/split.ts";
import { type FingerRoom, lossPerHalf, mouthHeight, type TurnedPiece } from "../../../src/parts/turned-piece.ts";
import { describePiece } from "../../../src/parts/turning/describe-turned.ts";
import { turnedWorkpieces } from "../../../src/parts/turning/workpieces.ts";
import { halvesOf as glueHalves } from "../../../src/parts/walls/halves.ts";
import type { Cavity } from "../../../src/parts/workpiece.ts";
import { hollowTrouble, insetAt } from "../../../src/shapes/hollow.ts";
import { radiiAt } from "../../../src/shapes/meridian.ts";
import { mapRegion, shiftBy } from "../../../src/shapes/plan-map.ts";
import { boundsOfRegion, containsPoint, distanceToBoundary } from "../../../src/shapes/region.ts";
import { topAt } from "../../../src/shapes/turned-solid.ts";
import { at, mm, room, shares, turnedPart } from "./describing.ts";

const SAW: SplitDescription = {
  name: "halves",
  by: "saw",
  kerf: 1.2,
  wander: 0.5,
  truing: 0.5,
  source: at(50),
  sources: {},
};

const BARREL: readonly ElementShape[] = [
  { kind: "cylinder", length: mm(20), diameter: 48 },
  { kind: "cove", length: mm(80), diameter: 44, from: 48, to: 48 },
  { kind: "taper", length: shares(1), from: 48, to: 40 },
];

function described(
  shapes: readonly ElementShape[],
  wish: FingerRoomDescription,
  split: SplitDescription | undefined = SAW,
) {
  return describePiece(turnedPart(shapes, {}, { fingerRoom: wish, ...(split && { split }) }));
}

function pieceOf(...args: Parameters<typeof described>): TurnedPiece & { readonly fingerRoom: FingerRoom } {
  const { piece, findings } = described(...args);
  if (piece?.fingerRoom === undefined)
    throw new Error(findings.map((f) => `${f.code}: ${f.what}; ${f.why}`).join("\n"));
  return { ...piece, fingerRoom: piece.fingerRoom };
}

/** What is given, measured on the finished wood at many places along the fingers: least room behind, hook and width. */
function given(piece: TurnedPiece & { readonly fingerRoom: FingerRoom }, wish: FingerRoomDescription) {
  const { fingerRoom: r } = piece;
  const plan = r.plan!;
  const loss = piece.split === undefined ? 0 : lossPerHalf(piece.split).most;
  const straight = plan.length / 2 - plan.corner;
  let [behind, hook] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const top = wish.cut === "crown" ? mouthHeight(piece.meridian, r) : -loss;
  const floor = top - r.depth;
  for (let i = 0; i <= 400; i++) {
    const x = plan.x - straight + (straight * 2 * i) / 400;
    const radius = radiiAt(piece.meridian, x)!.least;
    if (wish.cut === "crown") {
      // Down the slope of the wall to where it meets the round: the lip.
      let [low, high] = [floor, radius];
      for (let k = 0; k < 80; k++) {
        const z = (low + high) / 2;
        const y = plan.breadth / 2 - insetOf(r, z - top);
        if (y >= 0 && y < radius && z <= Math.sqrt(radius * radius - y * y)) low = z;
        else high = z;
      }
      behind = Math.min(behind, plan.breadth / 2 - insetOf(r, low - top) - loss);
      hook = Math.min(hook, low - floor);
    } else {
      behind = Math.min(behind, r.depth);
      const lip = Math.sqrt(radius * radius - floor * floor);
      // The wall opposite the opening, where it comes to the floor before its rounding.
      const wall = Math.abs(plan.y) - plan.breadth / 2 + r.depth * Math.tan((wish.wallLeanDeg * Math.PI) / 180);
      hook = Math.min(hook, lip - wall);
    }
  }
  return { behind, hook };
}

/** The wall's own line, above the mouth as well; below its foot's rounding not asked. */
function insetOf(r: FingerRoom, y: number): number {
  return y <= 0 ? insetAt(r.hollow, y) : -y * Math.tan(((r.wallLeanDeg ?? 0) * Math.PI) / 180);
}

describe("finger room down the crown", () => {
  it("in a cylinder, by hand: a lip 14 mm from the drawer front, 9 mm over the floor", () => {
    const piece = pieceOf([{ kind: "cylinder", length: mm(150), diameter: 50 }], room());
    const r = piece.fingerRoom;
    const b = 14 + 0.6 + 0.5 + 0.5;
    const lip = Math.sqrt(25 * 25 - b * b);
    expect(r.plan).toMatchObject({ x: 75, y: 0, length: 50, breadth: 2 * b, corner: b });
    expect(r.depth).toBeCloseTo(25 - lip + 9, 9);
    expect(r.gives).toEqual({ width: 50, roomBehind: 14, hook: 9 });
    expect(r.hollow.segments).toHaveLength(1);
    const box = boundsOfRegion(r.section)!;
    expect([box.min.x, box.max.x, box.min.y, box.max.y].map((v) => Number(v.toFixed(9)))).toEqual([50, 100, -b, b]);
  });

  it("without a split is counted to the axis, and says so; with fingers and a hand takes their sizes", () => {
    const { findings } = described(BARREL, room(), undefined);
    const whole = describePiece(turnedPart(BARREL, {}, { fingerRoom: room() }));
    expect(findings).toEqual(described(BARREL, room()).findings);
    expect(whole.findings.map((f) => f.code)).toContain("finger-room-unsplit");
    expect(whole.piece!.fingerRoom!.plan!.breadth).toBe(28);
    const { width: _, roomBehind: __, hook: ___, ...bare } = room({ fingers: 2, hand: "small" });
    const two = pieceOf([{ kind: "cylinder", length: mm(150), diameter: 50 }], bare);
    expect(two.fingerRoom.gives).toEqual({ width: 43, roomBehind: 16, hook: 12.5 });
    expect(two.fingerRoom.reasons!.length).toBeGreaterThan(2);
    const one = pieceOf([{ kind: "cylinder", length: mm(150), diameter: 50 }], { ...bare, hook: 8 });
    expect(one.fingerRoom.gives.hook).toBe(8);
  });

  it("stands in each pull of a turning", () => {
    const part = turnedPart(
      [{ kind: "cylinder", length: mm(60), diameter: 50 }],
      { pulls: 2, endWaste: shares(1), parting: mm(6) },
      { fingerRoom: room({ width: 44 }), split: SAW },
    );
    const { piece } = describePiece(part);
    expect(piece!.fingerRoom!.alsoAt).toEqual([66]);
    const { workpieces } = turnedWorkpieces(piece!);
    expect(workpieces[0]!.cavities.map((c) => [c.id, boundsOfRegion(c.section)!.min.x])).toEqual([
      ["pull/finger room/1", 20],
      ["pull/finger room/2", 86],
    ]);
  });
});

describe("finger room into the flat back", () => {
  it("in a cylinder, by hand: its lip where the floor leaves the wood, its wall a hook farther in", () => {
    const wish = room({ cut: "back", roomBehind: 12, hook: 10, shape: { kind: "rounded rectangle", radius: 5 } });
    const piece = pieceOf([{ kind: "cylinder", length: mm(150), diameter: 50 }], wish);
    const { plan, depth, opensOver } = piece.fingerRoom;
    const loss = 1.6;
    const rim = Math.sqrt(25 * 25 - loss * loss);
    const lip = Math.sqrt(25 * 25 - (loss + 12) ** 2);
    expect(depth).toBe(12);
    expect(opensOver).toBe("crown side");
    expect(plan!.y).toBeCloseTo(rim, 9);
    expect(plan!.y - plan!.breadth / 2).toBeCloseTo(lip - 10, 9);
  });

  it("gives two workpieces that mirror each other across the split, or one twice where the blank is alike end for end", () => {
    const wish = room({ cut: "back", roomBehind: 10, hook: 8, shape: { kind: "rounded rectangle", radius: 5 } });
    const unlike = turnedWorkpieces(pieceOf(BARREL, wish));
    expect(unlike.workpieces.map((w) => w.name)).toEqual(["pull, first half", "pull, second half"]);
    expect(unlike.findings.map((f) => f.code)).toEqual(["turned-halves-differ"]);
    const [a, b] = unlike.workpieces.map((w) => boundsOfRegion(w.cavities[0]!.section)!);
    expect(a!.min.x).toBeCloseTo(b!.min.x, 9);
    expect(a!.min.y).toBeCloseTo(50 - b!.max.y, 9);
    expect(unlike.workpieces.map((w) => w.cavities[0]!.opensOver)).toEqual(["upper edge", "lower edge"]);
    expect(unlike.workpieces.map((w) => w.labels["upper edge"])).toEqual(["crown line", "180 degree line"]);
    for (const w of unlike.workpieces) {
      expect(w.size).toEqual({ length: 150, width: 50, thickness: 25 - 1.6 });
      expect(w.round).toMatchObject({ flatTop: 25 - 1.6, axis: { y: 25, z: 25 } });
    }
    const alike = turnedWorkpieces(pieceOf([{ kind: "cylinder", length: mm(150), diameter: 50 }], wish));
    expect(alike.workpieces).toHaveLength(1);
    expect(alike.workpieces[0]).toMatchObject({ name: "pull, half", copies: 2 });
    expect(alike.findings).toEqual([]);
  });

  it("may open over the far side, or be closed all round", () => {
    const wish = room({ cut: "back", roomBehind: 10, hook: 16, shape: { kind: "rounded rectangle", radius: 5 } });
    const far = pieceOf(BARREL, { ...wish, hook: 8, opensOver: "far side" });
    expect(far.fingerRoom.plan!.y).toBeLessThan(0);
    expect(turnedWorkpieces(far).workpieces[0]!.cavities[0]!.opensOver).toBe("lower edge");
    const closed = pieceOf(BARREL, { ...wish, opensOver: "nothing" });
    expect(closed.fingerRoom.plan).toMatchObject({ y: 0, breadth: 16 });
    expect(closed.fingerRoom.opensOver).toBeUndefined();
    expect(turnedWorkpieces(closed).workpieces[0]!.cavities[0]!.opensOver).toBeUndefined();
  });

  it("closed all round makes two alike of any profile: one workpiece, twice, and no mirror pair", () => {
    const wish = room({
      cut: "back",
      roomBehind: 10,
      hook: 16,
      opensOver: "nothing",
      shape: { kind: "rounded rectangle", radius: 5 },
    });
    const piece = pieceOf(BARREL, wish);
    const { workpieces, findings } = turnedWorkpieces(piece);
    expect(workpieces.map((w) => [w.name, w.copies])).toEqual([["pull, half", 2]]);
    expect(findings.map((f) => f.code)).not.toContain("turned-halves-differ");
    expect(halvesOf(piece).alike).toBe(true);
    expect(glueHalves(piece)!.mirrorPair).toBe(false);
    // The same room a millimetre off the middle line is the mirror image in the other half.
    const { section } = piece.fingerRoom;
    const off = { ...piece, fingerRoom: { ...piece.fingerRoom, section: mapRegion(shiftBy(0, 1), section) } };
    const unlike = turnedWorkpieces(off);
    expect(unlike.workpieces.map((w) => w.name)).toEqual(["pull, first half", "pull, second half"]);
    expect(unlike.findings.map((f) => f.code)).toContain("turned-halves-differ");
    expect(halvesOf(off).alike).toBe(false);
    expect(glueHalves(off)!.mirrorPair).toBe(true);
  });

  it("gives one answer in the workpieces and on the sheet, whatever the profile", () => {
    const wish = room({ cut: "back", roomBehind: 10, hook: 8, shape: { kind: "rounded rectangle", radius: 5 } });
    fc.assert(
      fc.property(
        fc.integer({ min: 49_600, max: 50_000 }),
        fc.constantFrom("crown side", "nothing"),
        (um, opensOver) => {
          // Within a hair of what counts as alike the three may round apart.
          fc.pre(Math.abs((50 - um / 1000) / 2 - 0.05) > 0.005);
          const shape: ElementShape = { kind: "taper", length: mm(150), from: 50, to: um / 1000 };
          const { piece } = described(
            [shape],
            opensOver === "nothing" ? { ...wish, hook: 16, opensOver } : { ...wish, opensOver },
          );
          const alike = halvesOf(piece!).alike;
          expect(turnedWorkpieces(piece!).workpieces).toHaveLength(alike ? 1 : 2);
          expect(alike).toBe(opensOver === "nothing" || 50 - um / 1000 <= 0.1);
        },
      ),
      { numRuns: 25 },
    );
  });
});

describe("finger room that cannot be", () => {
  const codes = (wish: FingerRoomDescription, split: SplitDescription | undefined = SAW): readonly string[] =>
    described(BARREL, wish, split)
      .findings.filter((f) => f.grade === "refuse")
      .map((f) => `${f.code} ${f.place.source?.line}: ${f.what}`);
  const sources = Object.fromEntries(
    ["width", "room behind", "hook", "floor", "wall", "inside radius", "corner radius", "centre at", "cut"].map(
      (k, i) => [k, at(41 + i)],
    ),
  );

  it("is refused at the number to blame", () => {
    const wish = (more: Partial<FingerRoomDescription>) => codes(room({ sources, ...more }));
    expect(wish({ roomBehind: 21 })).toEqual([expect.stringMatching(/^finger-room-shape 42: .*no lip is left/)]);
    expect(wish({ hook: 50 })).toEqual([expect.stringMatching(/^finger-room-shape 43: .*goes through/)]);
    expect(wish({ width: 20 })).toEqual([expect.stringMatching(/^finger-room-shape 41: .*shorter than it is broad/)]);
    expect(wish({ centreAt: 20 })).toEqual([expect.stringMatching(/^finger-room-off-the-wood 48: /)]);
    expect(wish({ width: 200 })).toEqual([expect.stringMatching(/^finger-room-off-the-wood 41: /)]);
    expect(wish({ dished: 40 })).toEqual([expect.stringMatching(/^finger-room-shape 44: /)]);
    expect(wish({ wallLeanDeg: 65 })).toEqual([expect.stringMatching(/^finger-room-shape 45: /)]);
    expect(wish({ insideRadius: 30 })).toEqual([expect.stringMatching(/^finger-room-shape 46: /)]);
    expect(wish({ shape: { kind: "rounded rectangle", radius: 30 } })).toEqual([
      expect.stringMatching(/^finger-room-shape 47: /),
    ]);
    expect(wish({ cut: "back", roomBehind: 30 })).toEqual([
      expect.stringMatching(/^finger-room-shape 42: .*through the half/),
    ]);
    expect(wish({ cut: "back", roomBehind: 10, hook: 44 })).toEqual([expect.stringMatching(/^finger-room-shape 43: /)]);
    expect(wish({ insideRadius: 10 })).toEqual([expect.stringMatching(/^finger-room-shape 46: .*no wall to pull on/)]);
    const { width: _, hook: __, ...bare } = room();
    expect(codes(bare)).toEqual([expect.stringMatching(/^finger-room-incomplete 40: .*width, hook/)]);
    const whole = describePiece(turnedPart(BARREL, {}, { fingerRoom: room({ sources, cut: "back" }) }));
    expect(whole.findings.map((f) => `${f.code} ${f.place.source?.line}`)).toContain("finger-room-shape 49");
  });
});

describe("random finger rooms", () => {
  const µm = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((n) => n / 1000);
  const profile = fc
    .record({ d: µm(30, 50), e: µm(30, 50), waist: µm(0.5, 6), length: µm(40, 90) })
    .map(({ d, e, waist, length }): readonly ElementShape[] => [
      { kind: "cylinder", length: mm(12), diameter: d },
      { kind: "cove", length: mm(length), diameter: Math.min(d, e) - waist, from: d, to: e },
      { kind: "cylinder", length: mm(10), diameter: e },
      { kind: "taper", length: shares(1), from: e, to: d },
    ]);
  const wish = fc
    .record({
      cut: fc.constantFrom("crown" as const, "back" as const),
      width: µm(30, 80),
      roomBehind: µm(4, 18),
      hook: µm(3, 14),
      radius: µm(2, 6),
      slot: fc.boolean(),
      wallLeanDeg: fc.constantFrom(0, 5, 12.5),
      dished: fc.constantFrom(0, 1.2),
      insideRadius: fc.constantFrom(0, 2, 3.175),
      centreAt: µm(40, 110),
      opensOver: fc.constantFrom("crown side" as const, "far side" as const),
    })
    .map(({ slot, radius, ...rest }) =>
      room({ ...rest, shape: slot ? { kind: "slot" } : { kind: "rounded rectangle", radius } }),
    );

  it("give what was asked everywhere along the fingers, and just that where it is least", () => {
    let judged = 0;
    fc.assert(
      fc.property(profile, wish, (shapes, w) => {
        const { piece, findings } = described(shapes, w);
        for (const f of findings) expect(`${f.what} ${f.why ?? ""} ${f.mend}`).not.toMatch(/undefined|NaN|Infinity/);
        if (piece?.fingerRoom === undefined) {
          expect(findings.some((f) => f.grade === "refuse")).toBe(true);
          return;
        }
        judged++;
        const p = { ...piece, fingerRoom: piece.fingerRoom };
        expect(hollowTrouble(p.fingerRoom.hollow)).toBeUndefined();
        const found = given(p, w);
        const { roomBehind, hook } = p.fingerRoom.gives;
        expect(found.hook).toBeGreaterThan(hook - 1e-6);
        // A sloped wall meets higher wood farther out: there is more room there, never less.
        expect(found.behind).toBeGreaterThan(roomBehind - 1e-6);
        if (w.cut === "crown") expect(found.hook).toBeLessThan(hook + 0.02);
      }),
      { numRuns: 100 },
    );
    expect(judged).toBeGreaterThan(15);
  });

  it("become cavities that are the same hollow, begun at the top of the box", () => {
    let judged = 0;
    fc.assert(
      fc.property(profile, wish, (shapes, w) => {
        const { piece } = described(shapes, w);
        if (piece?.fingerRoom === undefined) return;
        judged++;
        const r = piece.fingerRoom;
        const [workpiece] = turnedWorkpieces(piece).workpieces;
        const cavity = workpiece!.cavities[0]!;
        const { size } = workpiece!;
        // Heights above the axis: the top of the box, and the plane the room is measured from.
        const top = w.cut === "crown" ? size.width / 2 : 0;
        const mouth = w.cut === "crown" ? mouthHeight(piece.meridian, r) : 0;
        expect(cavity.to).toBeCloseTo(r.depth + top - mouth, 9);
        const box = boundsOfRegion(r.section)!;
        for (let i = 0; i < 60; i++) {
          const x = box.min.x + ((box.max.x - box.min.x) * ((i * 7) % 60)) / 60;
          const y = box.min.y + ((box.max.y - box.min.y) * ((i * 11) % 60)) / 60;
          const z = mouth - r.depth + (r.depth * ((i * 13) % 60)) / 60;
          if (!containsPoint(r.section, { x, y })) continue;
          const inside = distanceToBoundary(r.section, { x, y }) - insetAt(r.hollow, z - mouth);
          if (Math.abs(inside) < 1e-6) continue;
          expect(airIn(cavity, { x, y: y + size.width / 2 }, top - z)).toBe(inside > 0);
        }
        // The wood it is cut from is the turned piece's own.
        const x = (box.min.x + box.max.x) / 2;
        const stands = topAt(workpiece!.round!, x, size.width / 2)!;
        expect(stands).toBeCloseTo(
          w.cut === "crown" ? size.width / 2 + radiiAt(piece.meridian, x)!.most : size.thickness,
          9,
        );
      }),
      { numRuns: 80 },
    );
    expect(judged).toBeGreaterThan(15);
  });
});

/** Whether a cavity is air at a depth below the box's top. */
function airIn(c: Cavity, p: { readonly x: number; readonly y: number }, depth: number): boolean {
  if (depth > c.to || !containsPoint(c.section, p)) return false;
  const inset = c.hollow === undefined ? depth * c.slopeTan : insetAt(c.hollow, -depth);
  return distanceToBoundary(c.section, p) >= inset;
}
