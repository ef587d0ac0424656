/** The two boxes under every proof: what it looked at, and what nobody but the person at the bench can. */
export interface Boxes {
  readonly checked: readonly string[];
  readonly notChecked: readonly string[];
}

/**
 * @param passed nothing refuses
 * @param complete the program could be read to its end
 */
export function boxes(passed: boolean, complete: boolean): Boxes {
  if (!complete) {
    return {
      checked: ["the program's text against the rules of its language: it breaks them"],
      notChecked: ["everything else: the program could not be followed", ...ALWAYS],
    };
  }
  return {
    checked: [
      "every line keeps the rules of the language, as this machine's controller reads it",
      "no move cuts into the part, measured at every point of its way, with bit, shank, nut and spindle",
      "every wall and floor within a bit's reach is cut to size",
      "no rapid goes through wood; nothing touches clamps, screws or bed",
      "no piece is cut loose; thin places between cuts from two faces are measured",
      "the spindle turns the right way, has started before the bit meets wood, and stands at every stop",
      "feeds, speeds and passes keep within machine and bit, and are held against published charts",
      "the bit halts over the marks before the spindle starts",
    ].map((line) => (passed ? line : `looked at, see the findings: ${line}`)),
    notChecked: ALWAYS,
  };
}

const ALWAYS: readonly string[] = [
  "your measuring: the program fits the sizes you gave",
  "clamping: whether tape, vacuum, clamps or screws really hold",
  "the bit: whether the right one is in the spindle, sharp, clean, and as long and wide as the shop file says",
  "where zero was set: only the marks show it",
  "the wood: knots, cracks, stresses, and its moving with the weather",
  "the machine: play, lost steps, and whether its controller keeps to its language",
];
