import { describe, expect, it } from "vitest";
import { fingerRoomCautions, type Hand, sizeFingerRoom } from "../../src/parts/finger-room.ts";

const HANDS: readonly Hand[] = ["small", "medium", "large"];

describe("finger room from a count of fingers and a hand", () => {
  it("takes a quarter of the hand's breadth a finger (ANSUR II: 78, 88, 96 mm) and 2 mm of play a side", () => {
    expect(sizeFingerRoom({ fingers: 3, hand: "medium" })).toMatchObject({ width: 70, roomBehind: 19, hook: 13 });
    expect(sizeFingerRoom({ fingers: 2, hand: "small" })).toMatchObject({ width: 43, roomBehind: 16, hook: 12.5 });
    // 4 × 24 + 4, and 13 × 210 / 193 = 14.15, rounded up to the half.
    expect(sizeFingerRoom({ fingers: 4, hand: "large" })).toMatchObject({ width: 100, roomBehind: 21, hook: 14.5 });
  });

  it("grows with each finger and with the hand, never rounding down", () => {
    for (const hand of HANDS) {
      for (let n = 2; n <= 4; n++) {
        expect(sizeFingerRoom({ fingers: n, hand }).width).toBeGreaterThan(
          sizeFingerRoom({ fingers: n - 1, hand }).width,
        );
      }
    }
    for (let n = 1; n <= 4; n++) {
      const [small, medium, large] = HANDS.map((hand) => sizeFingerRoom({ fingers: n, hand }));
      for (const key of ["width", "roomBehind", "hook"] as const) {
        expect(small![key]).toBeLessThan(medium![key]);
        expect(medium![key]).toBeLessThan(large![key]);
      }
    }
  });

  it("names the source or mark of every number it rests on", () => {
    for (const hand of HANDS) {
      for (const reason of sizeFingerRoom({ fingers: 2, hand }).reasons) {
        expect(reason).toMatch(/ANSUR II|from memory|common practice, no source/);
      }
    }
  });

  it("gives sizes that it would not itself caution about", () => {
    for (const hand of HANDS) {
      for (let fingers = 1; fingers <= 4; fingers++) {
        expect(fingerRoomCautions(sizeFingerRoom({ fingers, hand }), {})).toEqual([]);
      }
    }
  });

  it("is a bug of ours for no finger, five, or half of one", () => {
    for (const fingers of [0, 5, 1.5, Number.NaN]) {
      expect(() => sizeFingerRoom({ fingers, hand: "small" })).toThrow(RangeError);
    }
  });
});

describe("cautions about finger room", () => {
  const codes = (width: number, roomBehind: number, hook: number): readonly string[] =>
    fingerRoomCautions({ width, roomBehind, hook }, {}).map((f) => f.code);

  it("cautions under 16 mm behind and under 10 mm of hook, and not at the limits", () => {
    expect(codes(60, 16, 10)).toEqual([]);
    expect(codes(60, 15.9, 10)).toEqual(["finger-room-shallow"]);
    expect(codes(60, 16, 9.9)).toEqual(["finger-hook-short"]);
  });

  it("cautions about gaps that trap a child's finger: 5 to 12 mm, deeper than 10 (CEN/TR 13387)", () => {
    expect(codes(60, 11.9, 10.1)).toContain("finger-trap");
    expect(codes(60, 12, 10.1)).not.toContain("finger-trap");
    expect(codes(60, 8, 10)).not.toContain("finger-trap");
    expect(codes(60, 5, 14)).not.toContain("finger-trap");
    expect(codes(8, 20, 14)).toEqual(["finger-trap"]);
  });

  it("never refuses, however small the room", () => {
    expect(fingerRoomCautions({ width: 6, roomBehind: 6, hook: 0.1 }, {}).every((f) => f.grade === "caution")).toBe(
      true,
    );
    expect(fingerRoomCautions({ width: 6, roomBehind: 6, hook: 30 }, {}).every((f) => f.grade === "caution")).toBe(
      true,
    );
  });
});
