import type { Boxes } from "../boxes.ts";

/** The two boxes under the proof of a beam program. @param complete the program could be read to its end, @param turning a rotary axis turns the wood */
export function beamBoxes(passed: boolean, complete: boolean, turning = false): Boxes {
  if (!complete) {
    return {
      checked: ["the program's text against the rules of its language and of the beam: it breaks them"],
      notChecked: ["everything else: the program could not be followed", ...ALWAYS],
    };
  }
  return {
    checked: [
      "every line keeps the rules of the language, with S, M3, M4 and M5 read as the shop file says of this laser",
      "the beam is off in every rapid, wait, stop and lift, and where the carriage only runs up to speed",
      "every drawn line, area, dot and cut is burned, as often as the setting says; nothing is burned beside them",
      "each is burned at the power and speed of the shop's own setting, its lag counted",
      "the beam stays on the wood, in focus, and off the clamps",
      "head, nut and spindle clear clamps, bed and wood on every move, the bit being out",
      ...(turning ? [TURNED] : []),
      "the program stops for bit out and laser mode before the beam is on, and for beam disconnected at the end",
    ].map((line) => (passed ? line : `looked at, see the findings: ${line}`)),
    notChecked: turning ? [...ALWAYS, TURNED_NOT] : ALWAYS,
  };
}

const TURNED =
  "X and A laid back on the unrolled wood: places and speeds hold on its surface, Y stays on the axis, A turns no faster than it can, and the corners of square ends clear the head at every angle";
const TURNED_NOT =
  "which way A turns, where its zero is, and whether the wood slips in the chuck: turn it by hand to A 90 and look";

const ALWAYS: readonly string[] = [
  "how dark it becomes: the doses are for comparing only, with the rated power in place of what arrives",
  "your settings: whether this board burns like the one the test card was burned on",
  "your eyes, the extraction, and whether anyone stays with it",
  "finish, glue, film or resin on the wood, and what they give off",
  "where zero was set, and the head's place beside the spindle: burn a cross and prick it",
  "holes and cuts that lie beneath the mark already",
  "the machine: play, lost steps, and whether its controller keeps to its mode",
];
