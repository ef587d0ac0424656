import { tidy } from "../finding.ts";
import { type Half, halvesOf, linesToKnife } from "./split.ts";
import { lossPerHalf, type Split, type TurnedPiece } from "./turned-piece.ts";

/** Speed that a paper joint stands, rpm. Common practice, no source. */
const PAPER_RPM = 1000;

/** What must be done before turning because of how the blank is split later; nothing for a sawn one. */
export function beforeTurningForSplit(piece: TurnedPiece): readonly string[] {
  if (piece.split?.by !== "paper joint") return [];
  return [
    "Glue the blank from two halves with paper between them, the joint along the crown line.",
    "Keep the lathe's centre points out of the joint: a point opens it like a wedge. Use a cup centre that bears on both halves, and hold both ends together with a screw through the waste or a ring.",
    `Turn it no faster than ${PAPER_RPM} rpm (common practice, no source).`,
  ];
}

/** How a blank is split, in plain words with its numbers, in order; nothing where it stays whole. */
export function splitSteps(piece: TurnedPiece): readonly string[] {
  const { split } = piece;
  if (split === undefined) return [];
  switch (split.by) {
    case "saw":
      return [
        ...marking(piece),
        `Saw along the line by band saw or hand saw alone, with the blank in its cradle so that it cannot roll. The kerf is ${tidy(split.kerf)} mm; the saw may wander ${tidy(split.wander)} mm.`,
        `True each sawn face flat: ${tidy(split.truing)} mm a half. ${losses(split)}`,
        ...whichHalf(piece),
      ];
    case "paper joint":
      return [
        ...marking(piece),
        "Take the screws or rings off the ends, set a chisel on the paper line in the end's waste, and open the joint with light taps from both ends. Nothing is sawn.",
        `Clean the paper and glue from each face: ${tidy(split.truing)} mm a half. ${losses(split)}`,
        ...whichHalf(piece),
      ];
  }
}

function losses(split: Split): string {
  const { least, most } = lossPerHalf(split);
  const wander = most - least < 1e-9 ? "" : `, and by up to ${most.toFixed(2)} mm where the saw wandered`;
  return `Each half is then thinner than half the blank by ${least.toFixed(2)} mm${wander}.`;
}

/** The lines to knife, with their numbers. */
function marking(piece: TurnedPiece): readonly string[] {
  const lines = linesToKnife(piece);
  const stretches = lines.flatMap((l) =>
    l.kind === "along" && l.angleDeg === 0 ? [`${tidy(round(l.from))} to ${tidy(round(l.to))} mm`] : [],
  );
  const beyond = stretches.length > 1 ? ", beyond the finger room at both ends" : "";
  return [
    `Knife the crown line${beyond}: ${stretches.join(" and ")} from the first end; and the same line at 180°, from end to end.`,
    "Knife a line across each end with a square from the crown mark to the mark at 180°, or stand the blank upright and burn it by laser.",
  ];
}

/** Which half goes where. */
function whichHalf(piece: TurnedPiece): readonly string[] {
  const { alike, differs, halves } = halvesOf(piece);
  const mark = `Before they come apart, mark them: crown up and first end at the left, ${halves.map((h) => `"${h.name}" is the one ${h.lay}`).join(", ")}.`;
  if (alike) return [mark, "The halves are alike: either goes in either place."];
  const pair = `The halves are a mirror pair: end for end the profile differs by ${tidy(round(differs))} mm.`;
  if (piece.fingerRoom === undefined) {
    return [mark, `${pair} Lay them side by side before you glue, so that like ends point the same way.`];
  }
  return [mark, `${pair} ${halves.map(placeWords).join(" ")}`];
}

function placeWords(h: Half): string {
  return `${h.name.charAt(0).toUpperCase()}${h.name.slice(1)} on its drawer front: mouth down, its first end is at your ${h.firstEnd.mouthDown}; mouth up, at your ${h.firstEnd.mouthUp}.`;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
