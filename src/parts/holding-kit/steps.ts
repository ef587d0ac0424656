import { tidy } from "../../finding.ts";
import { lossPerHalf, type TurnedPiece } from "../turned-piece.ts";
import type { BareKit, Support } from "./holding.ts";
import { mm, rounded } from "./numbers.ts";

/** How well a line is set to another by eye, mm. Common practice, no source. */
const BY_EYE = 0.2;

/** The holding kit in words, in the order in which it is set up. */
export function stepsOf(piece: TurnedPiece, kit: BareKit): readonly string[] {
  const at = (s: Support): string =>
    `"${s.name}" stands at ${tidy(rounded(s.bears.from, 2))} to ${tidy(rounded(s.bears.to, 2))} mm from the first end, its seat ${mm(s.seatHeight)} mm above the bed`;
  const stand = kit.supports.map((s) => `${at(s)}.`);
  const zero = `Zero: ${kit.zero.spot}. It gives ${kit.zero.gives}. ${capital(kit.zero.until)}.`;
  if (kit.how === "square ends") {
    const lift = kit.axisHeight - piece.squares[0]!.side / 2;
    return [
      kit.holds === "blank"
        ? "Leave the square waste at both ends until the split. Hold it there, in square jaws, crown up: the flats index 0, 90, 180 and 270."
        : "Leave the half squares at both ends until the finger room is cut. Hold them down there, the trued flat up and level.",
      lift > 1e-6
        ? `Lay both squares on packing ${mm(lift)} mm high: the axis is then ${mm(kit.axisHeight)} mm above the bed.`
        : `Both squares lie on the bed: the axis is ${mm(kit.axisHeight)} mm above it.`,
      ...stand,
      "Packing just touches: it stops the wood from giving way under the cutter and must not lift it.",
      zero,
    ];
  }
  if (kit.holds === "half") {
    const loss = piece.split === undefined ? { least: 0, most: 0 } : lossPerHalf(piece.split);
    const wander = loss.most - loss.least;
    const less = wander < 1e-9 ? "" : `, up to ${mm(wander)} mm less where the saw wandered`;
    return [
      "Lay the half in its cradles, round side down, the trued flat up.",
      ...stand,
      `Level the flat both ways: it lies ${mm(kit.axisHeight - loss.least)} mm above the bed${less}. Clamp it from above beyond the finger room, with a pad on the flat.`,
      zero,
    ];
  }
  const ends = kit.supports.filter((s) => s.bears.where !== "middle");
  const slim = Math.min(...ends.map((s) => s.bears.radius));
  const angle = (Math.atan(BY_EYE / slim) * 180) / Math.PI;
  return [
    "Knife a witness line across each end, from the crown mark to the mark at 180°, or plane a flat there.",
    `Screw a plate to each end through its hole into the middle of the end: the hole is ${mm(kit.axisHeight)} mm above the bed. Mark an upright line through the hole on both plates.`,
    ...stand,
    `Turn the blank until the witness line meets the upright line at both ends, then tighten: ${tidy(BY_EYE)} mm beside the line is ${angle.toFixed(1)}°.`,
    "Press it into the cradles with a caul over each, clamped beyond the finger room. The packing in the middle just touches.",
    zero,
  ];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
