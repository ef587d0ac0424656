import type { Finding } from "../../finding.ts";
import type { TurnedPiece } from "../turned-piece.ts";
import type { ZeroSpot } from "./holding.ts";
import { mm } from "./numbers.ts";

/** Zero on the square at the first end, or at the second where the finger room takes the first. */
export function squareZero(
  piece: TurnedPiece,
  sides: readonly [number, number],
  rooms: readonly { readonly from: number; readonly to: number }[],
  findings: Finding[],
): ZeroSpot {
  const free = piece.squares.filter((s) => !rooms.some((r) => r.from < s.to - 1 && r.to > s.from + 1));
  const spot = free.find((s) => s.from <= 1e-6) ?? free.find((s) => s.to >= piece.blank.length - 1e-6);
  if (spot === undefined) {
    findings.push({
      grade: "refuse",
      code: "kit-zero-cut-away",
      place: { part: piece.name, source: piece.fingerRoom?.source ?? piece.source },
      what: "the finger room cuts into both square ends, so no zero stays",
      mend: "make the finger room shorter, or the square ends longer",
    });
  }
  const which = spot === undefined || spot.from <= 1e-6 ? "first" : "second";
  const side = which === "first" ? sides[0] : sides[1];
  const named = piece.zeroSpot === undefined ? "" : ` (you named: ${piece.zeroSpot})`;
  return {
    spot: `the square at the ${which} end${named}`,
    gives: `Z from its top, ${mm(side / 2)} mm above the axis; Y from both its sides, halved; the angle from its flats: 0, 90, 180, 270; X from its end`,
    until: "it stays until the split; saw the squares off after the last cut that needs them",
  };
}

export function roundZero(piece: TurnedPiece, holds: "blank" | "half"): ZeroSpot {
  const named = piece.zeroSpot === undefined ? "" : ` (you named: ${piece.zeroSpot})`;
  if (holds === "half") {
    return {
      spot: `the trued flat beyond the finger room, near the first end${named}`,
      gives:
        "Z from the flat; Y from both its edges over one cradle, halved; the angle from the flat, lying level; X from the end",
      until: "it stays: the finger room ends before it, and the flat is the glue face afterwards",
    };
  }
  return {
    spot: `the bed beside the cradle at the first end${named}`,
    gives:
      "Z from the bed, the axis lying at the stated height above it; Y from both flanks at one cradle, halved, never from touching the crown alone; the angle from the witness lines at both ends; X from the end plate",
    until: "bed, plates and lines outlast every cut",
  };
}
