import type { BeamCode, HouseCode, Rule } from "./rule.ts";

/**
 * The beam's rules. A beam that is on where it must be off burns wood, bench and eyes, so none of them may be
 * overridden. Common practice, from memory, and our reasoning on the published language (see `beam.ts`).
 */
export const BEAM_ONLY: Readonly<Record<BeamCode, Rule>> = {
  "rs-beam-first": never(
    "the program's first word to the beam is not M5 S0",
    "whatever ran before may have left it on, or left a spindle's speed in S",
    "begin with M5 S0",
  ),
  "rs-beam-start-code": never(
    "the beam is started by another code than the shop file says",
    "the two codes mean different modes, in one of which it burns while the carriage stands",
    "use the code that the shop file gives for this laser",
  ),
  "rs-beam-power-unsaid": never(
    "the beam is started without saying how strong",
    "it would burn with whatever S was said last",
    "write S on the line that starts the beam",
  ),
  "rs-beam-scale": never(
    "S is above full power",
    "S may be left over from a spindle's speed, or written for another scale",
    "write S on the scale that the shop file gives for this laser",
  ),
  "rs-beam-undeclared": never(
    "the program burns before it has said what S means and what the controller does with it",
    "with another scale or mode the same numbers burn deeper, or burn where the carriage stands",
    "say both in a comment before the beam is first on",
  ),
  "rs-beam-rapid": never(
    "the beam is on during a rapid",
    "a rapid does not switch it off",
    "write S0 or M5 before the rapid",
  ),
  "rs-beam-still": never(
    "the beam is switched on while the carriage stands",
    "in this machine's mode it burns at once, and burns a hole until the next move begins",
    "write M and S on the line of the move that burns",
  ),
  "rs-beam-dwell": never(
    "the beam is on during a wait",
    "it burns in one place",
    "write M5 before the wait, or take the wait out",
  ),
  "rs-beam-standing": never(
    "the program stops while the beam is not switched off",
    "a stop invites hands and eyes near it",
    "write M5 S0 before the stop",
  ),
  "rs-beam-left-on": never(
    "the program ends without M5 S0",
    "the next program would begin with what this one left",
    "write M5 S0 before the end",
  ),
  "rs-beam-upright": never(
    "the beam is on while only Z moves",
    "it burns in one place, and deeper as focus passes through the wood",
    "write S0 or M5 before Z moves alone",
  ),
  "rs-beam-feed-mode": never(
    "the beam burns in inverse-time feed",
    "how strongly it burns then depends on the length of each move",
    "write G94 and F",
  ),
  "rs-beam-turn": never(
    "the program turns A, and nothing here is turned by it",
    "the set-up has no rotary axis, so where the beam falls is not known",
    "take A out, or plan the part with its rotary axis",
  ),
  "rs-beam-turn-feed": never(
    "A turns at a feed that is no speed on the wood",
    "with G94 the feed of a move that turns means different things on different controllers",
    "write G93, with F on each line whose A turns, and G94 after them",
  ),
  "rs-beam-tool": never(
    "a program for the beam speaks of a tool",
    "a bit would be fetched while the beam is to work",
    "take T and M6 out",
  ),
  "rs-beam-length": never(
    "Z is used with a bit's length, or before anything says whose length is meant",
    "focus would be wrong by that length, and the head might be driven down",
    "write G43 and H with the head's own slot, or G49 where it has none",
  ),
  "rs-beam-cycle": never(
    "a drilling cycle stands in a program for the beam",
    "it goes up and down in one place with the beam as it is",
    "write plain moves",
  ),
};

/** House rules as they are said of a beam. Grades and effects are the same. */
export const BEAM_WORDS: Partial<Readonly<Record<HouseCode, Rule>>> = {
  "rs-l03-rapid-low": {
    ours: "note",
    any: "caution",
    what: "a rapid goes down below the safe height",
    why: "at full speed the head must not meet wood or clamps",
    mend: "end the rapid at the safe height, and go down at feed",
    breaks: false,
  },
  "rs-l12-rapid-slanting": {
    ours: "refuse",
    any: "caution",
    what: "a rapid goes sideways below the safe height, or sideways and up or down at once",
    why: "rapids need not run straight, so the head may pass where the line would miss",
    mend: "move Z alone, then X and Y at the safe height; between lines go at feed with the beam off",
    breaks: false,
  },
};

function never(what: string, why: string, mend: string): Rule {
  return { ours: "refuse", any: "refuse", what, why, mend, breaks: false };
}
