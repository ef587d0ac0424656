import type { Boxes } from "../boxes.ts";

/** The two boxes under the proof of a turning program. @param complete the program could be read to its end */
export function turningBoxes(passed: boolean, complete: boolean): Boxes {
  if (!complete) {
    return {
      checked: ["the program's text against the rules of its language: it breaks them"],
      notChecked: ["everything else: the program could not be followed", ...ALWAYS],
    };
  }
  return {
    checked: [
      "every line keeps the rules of the language, with X read as the shop file says: as radius or as diameter",
      "no move cuts into the finished shape, nose, flanks and sides of the tool measured at every point of its way",
      "every place of the profile that a tool of the shop can reach is cut to size",
      "no rapid goes through wood; X comes out before Z moves; nothing touches jaws, centres, rest or holder",
      "the wood is nowhere cut through while it turns: a nub stays",
      "the wood turns the right way, is up to speed before the tool meets it, and stands still at every stop",
      "speeds, feeds and bites keep within lathe, holding and tools, and are held against what turners' pages quote",
    ].map((line) => (passed ? line : `looked at, see the findings: ${line}`)),
    notChecked: ALWAYS,
  };
}

const ALWAYS: readonly string[] = [
  "your measuring: the program fits the sizes you gave",
  "mounting: whether centres and jaws really hold, and whether the wood runs true",
  "the tools: whether the right one is in the post, sharp, on centre height, and set out as the shop file says",
  "where X and Z zero were set: cut proud, measure with calipers, then finish",
  "the wood: cracks, knots, glue lines, torn grain, and thin work that whips",
  "the lathe: play, lost steps, and whether its controller keeps to its language",
];
