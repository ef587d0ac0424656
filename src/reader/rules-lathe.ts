import type { HouseCode, Rule } from "./rule.ts";

/** House rules as they are said of a lathe, where the wood turns and the tool stands. Grades and effects are the same. */
export const LATHE_WORDS: Partial<Readonly<Record<HouseCode, Rule>>> = {
  "rs-l01-not-stated": {
    ours: "refuse",
    any: "caution",
    what: "something is used before the program states it",
    why: "what the controller assumes depends on what ran before",
    mend: "state unit, plane, distance and feed mode at the start: G21 G18 G90 G94",
    breaks: false,
  },
  "rs-l02-spindle-stopped": {
    ours: "refuse",
    any: "caution",
    what: "a cutting move is made while the wood stands still",
    why: "the tool would be pushed into wood that does not turn",
    mend: "start the spindle with S and its word before the cut",
    breaks: false,
  },
  "rs-l08-position-unknown": {
    ours: "refuse",
    any: "caution",
    what: "the tool is moved although nothing says where it stands",
    why: "the way from an unknown place may lead through wood, jaws or centre",
    mend: "take X out alone first, then go to Z, in absolute coordinates",
    breaks: false,
  },
  "rs-l09-bit-standing": {
    ours: "refuse",
    any: "caution",
    what: "the program stops while the wood is turning",
    why: "a stop invites hands near it",
    mend: "take the tool out and stop the spindle before the stop",
    breaks: false,
  },
  "rs-l09-bit-dwelling": {
    ours: "caution",
    any: "caution",
    what: "the tool waits in the turning wood",
    why: "it rubs, burns a ring and loses its edge",
    mend: "shorten the wait, or take the tool out first",
    breaks: false,
  },
  "rs-l12-rapid-slanting": {
    ours: "refuse",
    any: "caution",
    what: "a rapid goes along the axis inside the safe radius, or in X and Z at once",
    why: "rapids need not run straight, so the tool may pass through wood that the line would miss",
    mend: "take X out alone to the safe radius, then Z alone, then X in",
    breaks: false,
  },
};
