import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lossPerHalf } from "../../../src/parts/turned-piece.ts";
import { NEAR } from "../../../src/parts/walls/judge.ts";
import { wallMap } from "../../../src/parts/walls/wall-map.ts";
import { bySaw, lengths, meridianOf, roomOf, type Shape, type SlotRoom, shapes, solidFrom } from "./fixtures.ts";
import { judgeByForce } from "./referee.ts";

const rooms: fc.Arbitrary<SlotRoom> = fc.record({
  at: lengths(52, 68),
  length: lengths(40, 66),
  width: lengths(12, 28),
  depth: lengths(9, 26),
  off: fc.oneof(fc.constant(0), lengths(-3, 3)),
});

function compare(shape: Shape, room: SlotRoom, wall: number, deg: number, half?: 1 | -1): void {
  const sin = Math.sin((deg * Math.PI) / 180);
  const map = wallMap(
    solidFrom(meridianOf(shape)),
    roomOf(room),
    { leastWall: wall, lipAngleDeg: deg },
    {
      step: 0.4,
      want: "figures",
      ...(half === undefined ? {} : { split: bySaw }),
    },
  );
  const b = map.bodies[half === undefined ? 0 : half > 0 ? 1 : 2]!;
  const slow = judgeByForce(
    shape,
    room,
    { wall, sin, near: NEAR },
    half === undefined ? undefined : { side: half, loss: lossPerHalf(bySaw).most },
    b.thinnest?.at,
  );
  fc.pre(Math.abs(slow.clear) > 0.1);
  if (slow.clear < 0) {
    expect(map.holds).toBe(false);
    expect(map.bodies[0]!.breakOut).toBeDefined();
    return;
  }
  expect(map.bodies[0]!.breakOut).toBeUndefined();
  if (Number.isFinite(slow.thinnest)) {
    const { value, bound } = b.thinnest!;
    expect(Math.abs(slow.thinnest - value)).toBeLessThan(0.02);
    expect(slow.thinnest).toBeGreaterThan(value - bound - 0.02);
  }
  if (slow.sharpest < 1) {
    const fast = Math.sin(((b.slimmest?.value ?? 90) * Math.PI) / 180);
    expect(Math.abs(fast - slow.sharpest) * slow.sharpestAt).toBeLessThan(0.02);
  }
  // A lip keener than asked fails by its own angle, however thick the wood behind it.
  if (slow.margin > 0.03) expect(b.holds).toBe(b.lip === undefined || b.lip.value >= deg - 1e-6);
  if (slow.margin < -0.03) expect(b.holds).toBe(false);
}

describe("walls and lip against brute force with the same law", () => {
  it("agrees on blanks within 0.02 mm", () => {
    fc.assert(
      fc.property(shapes, rooms, lengths(2, 6), fc.integer({ min: 30, max: 52 }), (shape, room, wall, deg) =>
        compare(shape, room, wall, deg),
      ),
      { numRuns: 20 },
    );
  });

  it("agrees on halves within 0.02 mm", () => {
    fc.assert(
      fc.property(
        shapes,
        rooms,
        lengths(2, 6),
        fc.integer({ min: 30, max: 52 }),
        fc.constantFrom(1 as const, -1 as const),
        (shape, room, wall, deg, side) => compare(shape, room, wall, deg, side),
      ),
      { numRuns: 20 },
    );
  });
});
