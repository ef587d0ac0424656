import type { BeamCode, HouseCode, Rule } from "./rule.ts";

/**
 * Rules beyond the language: habits that keep a program safe on any controller, and what this machine's controller
 * understands. Most such lines are understood, so events go on. Habits are common practice; the grades are ours.
 */
export const HOUSE_RULES: Readonly<Record<Exclude<HouseCode, BeamCode>, Rule>> = {
  "rs-l01-not-stated": {
    ours: "refuse",
    any: "caution",
    what: "something is used before the program states it",
    why: "what the controller assumes depends on what ran before",
    mend: "state unit, plane, distance and feed mode at the start: G21 G17 G90 G94",
    breaks: false,
  },
  "rs-l01-unit-not-stated": {
    ours: "refuse",
    any: "refuse",
    what: "lengths are given before the program says whether they are millimetres or inches",
    why: "a wrong guess makes the part 25.4 times too large or too small",
    mend: "write G21 (millimetres) or G20 (inches) at the start",
    breaks: false,
  },
  "rs-l02-spindle-stopped": {
    ours: "refuse",
    any: "caution",
    what: "a cutting move is made with the spindle stopped",
    why: "the bit would be pushed through the wood without turning",
    mend: "start the spindle with S and M3 before the cut",
    breaks: false,
  },
  "rs-l03-rapid-low": {
    ours: "note",
    any: "caution",
    what: "a rapid goes down below the safe height",
    why: "at full speed the bit must not meet wood",
    mend: "end the rapid at the safe height, and go down at feed",
    breaks: false,
  },
  "rs-l04-second-unit": {
    ours: "refuse",
    any: "caution",
    what: "the unit changes within the program",
    why: "feeds and stored lengths keep their old numbers",
    mend: "use one unit throughout",
    breaks: false,
  },
  "rs-l05-arc-nearly-closed": {
    ours: "refuse",
    any: "caution",
    what: "an arc ends where it starts, or all but there",
    why: "after rounding, a tiny arc becomes a whole circle, or a whole circle nothing",
    mend: "leave a tiny arc out; write a whole circle as two halves",
    breaks: false,
  },
  "rs-l06-left-running": {
    ours: "refuse",
    any: "caution",
    what: "the program ends with something still switched on",
    why: "the end may stop it, but the last lines should have said so",
    mend: "write M5 and M9 before the end",
    breaks: false,
  },
  "rs-l07-outside": {
    ours: "refuse",
    any: "refuse",
    what: "a move leaves the room there is",
    why: "the machine, or what is beside the wood, is in the way",
    mend: "check zero, unit and signs, or move the work",
    breaks: false,
  },
  "rs-l08-position-unknown": {
    ours: "refuse",
    any: "caution",
    what: "the machine is moved although nothing says where it stands",
    why: "the way from an unknown place may lead through wood or clamps",
    mend: "lift Z alone first, then go to X and Y in absolute coordinates",
    breaks: false,
  },
  "rs-l09-bit-standing": {
    ours: "refuse",
    any: "caution",
    what: "the program stops while the bit is turning",
    why: "a bit that turns in one place burns the wood, and a stop invites hands near it",
    mend: "lift the bit and stop the spindle before the stop",
    breaks: false,
  },
  "rs-l09-bit-dwelling": {
    ours: "caution",
    any: "caution",
    what: "a turning bit waits in the wood",
    why: "it burns the wood and dulls the bit",
    mend: "shorten the wait, or lift first",
    breaks: false,
  },
  "rs-l10-length-unstated": {
    ours: "refuse",
    any: "caution",
    what: "Z is used before the bit's length is stated",
    why: "without it, heights mean the spindle's nose or another bit's tip",
    mend: "write G43 and H before the first height",
    breaks: false,
  },
  "rs-l11-left-over-offset": {
    ours: "refuse",
    any: "caution",
    what: "a shifted zero may be left over",
    why: "G92 shifts every zero, and the controller keeps it for the next program",
    mend: "undo it with G92.1, or set zero without G92",
    breaks: false,
  },
  "rs-l12-rapid-slanting": {
    ours: "refuse",
    any: "caution",
    what: "a rapid goes sideways below the safe height, or sideways and up or down at once",
    why: "rapids need not run straight, so the bit may pass through wood that the line would miss",
    mend: "move Z alone, then X and Y at the safe height",
    breaks: false,
  },
  "rs-lathe-plane": {
    ours: "refuse",
    any: "refuse",
    what: "an arc on a lathe does not lie in G18",
    why: "the tool moves in X and Z only, and G18 is their plane",
    mend: "write G18 before the first arc",
    breaks: true,
  },
  "rs-lathe-feed-mode": {
    ours: "refuse",
    any: "caution",
    what: "the feed of a turning program is not in millimetres or inches a minute",
    why: "how fast the tool goes then depends on the length of each move",
    mend: "write G94 and F",
    breaks: false,
  },
  "rs-lathe-cycle": dependent(
    "a drilling cycle stands in a turning program",
    "it drills along Y, which a lathe has not",
    "write the hole as plain moves",
  ),
  "rs-lathe-past-axis": {
    ours: "refuse",
    any: "refuse",
    what: "X goes past the axis to the other side of the wood",
    why: "beyond the axis the wood comes at the tool from behind, or the side or sign of X is mistaken",
    mend: "check whether this lathe's tool works at positive or negative X",
    breaks: false,
  },
  "rs-no-arcs": machine("the controller doesn't know arcs", "write the arc as straight moves"),
  "rs-no-tool-changer": machine("the machine has no tool changer", "make one program for each bit"),
  "rs-no-tool-table": machine("the controller has no tool table", "take the length offset out; set zero for each bit"),
  "rs-not-homed": machine(
    "the machine doesn't know where it is after switching on",
    "take machine coordinates out; ask for the bit to be clear with a stop",
  ),
  "rs-no-exact-path": machine(
    "the controller doesn't know exact-path mode",
    "take G61 out and allow for rounded corners",
  ),
  "rs-space-in-word": habit("a space stands inside a word", "some controllers read on after it, others don't"),
  "rs-line-long": habit("the line is longer than ours are", "a controller with a short memory cuts it off"),
  "rs-expression-used": habit("a parameter or expression is used", "only plain numbers can be checked by eye"),
  "rs-unsafe-word": {
    ours: "refuse",
    any: "caution",
    what: "a code is used that makes positions depend on what the controller remembers",
    why: "where the bit goes cannot be told from the program alone",
    mend: "take it out, and write positions in full",
    breaks: false,
  },
  "rs-block-delete": {
    ours: "refuse",
    any: "caution",
    what: "a line begins with a slash",
    why: "whether it runs depends on a switch on the machine",
    mend: "take the line or the slash out",
    breaks: false,
  },
  "rs-system-changed": {
    ours: "refuse",
    any: "caution",
    what: "the program goes from one zero to another",
    why: "how far apart the two are is known to the controller only",
    mend: "use one zero throughout",
    breaks: false,
  },
  "rs-compensation-used": dependent(
    "cutter compensation is switched on",
    "the path depends on a table in the controller, so it cannot be checked",
    "let the program hold the path of the bit's centre",
  ),
  "rs-probe-used": dependent(
    "the program probes",
    "where the probe stops is not known beforehand, so nothing after it can be checked",
    "probe by hand before the program",
  ),
  "rs-cycle-not-for-wood": dependent(
    "a tapping or back-boring cycle is used",
    "it is made for metal, and what it does depends on the controller",
    "write the hole as plain moves",
  ),
  "rs-parameter-unknown": dependent(
    "a parameter is used that the program has not set",
    "its value is whatever the controller remembers",
    "set the parameter first, or write plain numbers",
  ),
  "rs-change-without-tool": dependent(
    "a tool change doesn't say which tool",
    "no T has been given before M6",
    "write T and the slot before M6",
  ),
  "rs-too-many-moves": dependent(
    "one line asks for more moves than can be meant",
    "the bite or the count of repeats must be a mistake",
    "check Q and L",
  ),
  "rs-more-findings": {
    ours: "note",
    any: "note",
    what: "there are more findings than are listed",
    why: "the first of each kind are shown",
    mend: "mend these first and check again",
    breaks: false,
  },
};

function machine(what: string, mend: string): Rule {
  return { ours: "refuse", any: "refuse", what, why: "the shop file says so of this machine", mend, breaks: false };
}

function habit(what: string, why: string): Rule {
  return { ours: "refuse", any: "note", what, why, mend: "write it as our programs do", breaks: false };
}

function dependent(what: string, why: string, mend: string): Rule {
  return { ours: "refuse", any: "refuse", what, why, mend, breaks: true };
}
