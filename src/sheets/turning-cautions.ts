/**
 * The cautions that stand on every sheet of turned work, in plain words. Common practice of the trade, no source, but
 * for what a standard or a maker would say first: see the last one.
 */

/** Before and while anything turns on a lathe. */
export const TURNING_CAUTIONS: readonly string[] = [
  "Look for cracks, loose knots and glue lines that gape: wood with any of them can fly apart. Leave it off the lathe.",
  "Turn the work by hand first, one whole turn: it must clear the rest, the tool and the carriage.",
  "Set the rest close to the work, and stop the lathe before you move it.",
  "Stand out of the line of the work when you start it and until it runs true. Wear a face shield.",
  "Take the rest off for sanding and for finish. Use paper, never a cloth: a cloth is wound in, and the hand with it.",
  "No gloves, no loose sleeves, no hanging hair or cords.",
];

/** Before a round blank is split lengthwise. */
export const SPLITTING_CAUTIONS: readonly string[] = [
  "A round blank rolls into the blade. Split it only by band saw or hand saw, and only held in its cradle.",
  "Never split round wood on a saw bench or with a hand-held power saw.",
  "Keep fingers beside the blank and out of the line of the blade; push the last of the cut with a stick.",
];

/** Stands last on every sheet. */
export const LAST_WORD =
  "Your machine's manual, local rules and qualified people come before this sheet. Rehearse in scrap.";

/** All cautions for a piece of turned work, the splitting ones where it is split. */
export function turnedWorkCautions(split: boolean): readonly string[] {
  return [...TURNING_CAUTIONS, ...(split ? SPLITTING_CAUTIONS : []), LAST_WORD];
}
