import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FingerRoom } from "../../../src/parts/turned-piece.ts";
import type { Judged } from "../../../src/parts/walls/judge.ts";
import { wallMap } from "../../../src/parts/walls/wall-map.ts";
import { roundedRectangle } from "../../../src/shapes/outlines.ts";
import { bySaw, hollowOf, lengths, meridianOf, roomOf, type SlotRoom, solidFrom } from "./fixtures.ts";

const DEG = 180 / Math.PI;
const barrel = (r: number) => solidFrom(meridianOf({ length: 120, end: r, middle: r, long: 60 }));
const law = { leastWall: 2, lipAngleDeg: 20 };

function judged(
  r: number,
  room: FingerRoom,
  step: number,
  more: { readonly flat?: number; readonly halves?: boolean } = {},
): readonly Judged[] {
  const solid = barrel(r);
  return wallMap(more.flat === undefined ? solid : { ...solid, flatTop: solid.axis.z - more.flat }, room, law, {
    step,
    want: "figures",
    ...(more.halves ? { split: bySaw } : {}),
  }).bodies;
}

const straight = (width: number, depth: number): SlotRoom => ({ at: 60, length: 60, width, depth });

describe("the lip's angle against its closed form", () => {
  it("of an upright wall through a cylinder: 90° − asin(half width / radius), whatever the step", () => {
    fc.assert(
      fc.property(lengths(18, 26), lengths(8, 26), fc.constantFrom(0.2, 0.5, 0.8), (r, width, step) => {
        const [b] = judged(r, roomOf(straight(width, 12)), step);
        expect(b!.lip!.value).toBeCloseTo(90 - Math.asin(width / 2 / r) * DEG, 3);
      }),
      { numRuns: 15 },
    );
  });

  it("of a wall that leans: its lean more", () => {
    fc.assert(
      fc.property(lengths(10, 24), lengths(1, 20), (width, lean) => {
        const hollow = hollowOf({ depth: 9, middle: width / 2, leanDeg: lean });
        const [b] = judged(20, roomOf(straight(width, 9), { hollow }), 0.5);
        // The wall stands upright above the plane it is measured from, and leans beneath it: where it meets the round.
        const { y, z } = b!.lip!.at;
        expect(Math.hypot(y, z)).toBeCloseTo(20, 4);
        expect(b!.lip!.value).toBeCloseTo(90 - Math.asin(Math.abs(y) / 20) * DEG + lean, 3);
        expect(Math.abs(y)).toBeCloseTo(width / 2 - (20 - z) * Math.tan(lean / DEG), 3);
      }),
      { numRuns: 15 },
    );
  });

  it("of a floor that runs out over the side of a half: acos(depth beneath the axis / radius)", () => {
    fc.assert(
      fc.property(lengths(22, 27), lengths(6, 12), fc.constantFrom(0.2, 0.5, 0.8), (r, depth, step) => {
        const loss = 1.6;
        const rim = Math.sqrt(r * r - loss * loss);
        const room = roomOf(straight(30, depth), {
          cut: "back",
          opensOver: "crown side",
          section: roundedRectangle({ x: 60, y: rim }, 50, 24, 5, 0),
          hollow: hollowOf({ depth, middle: 12 }),
        });
        const [b] = judged(r, room, step, { flat: loss });
        expect(b!.lip!.value).toBeCloseTo(Math.acos((loss + depth) / r) * DEG, 3);
      }),
      { numRuns: 15 },
    );
  });

  it("of a cylinder of 50 mm, 12 mm behind and a hook of 10: about 57°, at any step", () => {
    const [loss, depth] = [1.6, 12];
    const rim = Math.sqrt(25 ** 2 - loss ** 2);
    const wall = Math.sqrt(25 ** 2 - (loss + depth) ** 2) - 10;
    for (const step of [0.2, 0.5]) {
      const room = roomOf(straight(30, depth), {
        cut: "back",
        opensOver: "crown side",
        section: roundedRectangle({ x: 60, y: rim }, 50, 2 * (rim - wall), 5, 0),
        hollow: hollowOf({ depth, middle: rim - wall }),
      });
      expect(judged(25, room, step, { flat: loss })[0]!.lip!.value).toBeCloseTo(57.05, 1);
    }
  });

  it("isn't told of the edge along a sawn face", () => {
    const bodies = judged(20, roomOf(straight(22, 14)), 0.4, { halves: true });
    expect(bodies.map((b) => b.lip!.value.toFixed(2))).toEqual(
      Array(3).fill((90 - Math.asin(11 / 20) * DEG).toFixed(2)),
    );
    for (const b of bodies) expect(Math.abs(b.lip!.at.y)).toBeCloseTo(11, 4);
    const closed = roomOf({ at: 60, length: 50, width: 12, depth: 8 }, { cut: "back" });
    expect(judged(20, closed, 0.4, { flat: 1.6 })[0]!.lip).toBeUndefined();
  });
});
