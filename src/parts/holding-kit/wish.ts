import type { HoldingWish } from "../../job/wishes.ts";
import type { HoldingKit } from "./holding.ts";
import { OVER_SEAT } from "./seat.ts";

/**
 * A kit as the wish that plans its set-up: the end cradles where they stand, their seats at the kit's heights, so that
 * sheet and program speak of one and the same axis. Packing in the middle holds nothing and is left out.
 * @returns undefined for square ends, which the planner grips in jaws, and where the kit has fewer than two cradles
 */
export function holdingWishOf(kit: HoldingKit): HoldingWish | undefined {
  const ends = kit.supports.filter((s) => s.bears.where !== "middle");
  if (kit.how === "square ends" || ends.length < 2) return undefined;
  return {
    by: "cradles",
    cradles: ends.map((s) => ({
      name: `cradle at ${s.bears.where}`,
      at: s.bears.from,
      along: s.bears.to - s.bears.from,
      seat: s.seatHeight,
      caulHeight: OVER_SEAT,
    })),
  };
}
