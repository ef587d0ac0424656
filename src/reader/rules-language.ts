import type { LanguageCode, Rule } from "./rule.ts";

/**
 * Rules of the language, with what is said when a text breaks one. Source: NISTIR 6556, "The NIST RS274NGC
 * Interpreter - Version 3" (2000), section named in each comment; where its text and its reference program differ, the
 * stricter. A broken rule refuses in every file: a controller may stop, or read something else than was meant.
 */
export const LANGUAGE_RULES: Readonly<Record<LanguageCode, Rule>> = {
  // §3.1
  "rs-e01-no-end": rule(
    "the program has no end",
    "a program ends with M2 or M30, or stands between two percent lines; this text may have been cut short",
    "end the program with M2, or fetch the whole file again",
  ),
  "rs-e02-percent-unmatched": rule(
    "a percent line has no partner",
    "percent lines come in pairs, one before the program and one after it; this text may have been cut short",
    "add the other percent line, or take this one out",
  ),
  "rs-e03-percent-line": rule(
    "a percent sign stands where it may not",
    "a percent line holds nothing else, and the opening one is the first line that is not blank",
    "put the percent sign on a line of its own at the very start and at the end",
  ),
  "rs-e04-empty": rule("the program is empty", "there is nothing in it to run", "write the program again"),
  "rs-e05-illegal-byte": rule(
    "a character stands here that no program may hold",
    "only plain letters, figures and signs are allowed; this one may not even show on a screen",
    "save the file as plain text (ASCII, without a byte-order mark)",
  ),
  // §3.3
  "rs-e06-line-too-long": rule(
    "the line is too long",
    "a controller may cut the line off and run what is left",
    "split the line in two",
  ),
  "rs-e07-not-at-line-start": rule(
    "a line number or a slash stands in the middle of a line",
    "both may stand only at the start: first the slash, then N",
    "move it to the start of the line",
  ),
  // §3.3.1
  "rs-e08-line-number": rule(
    "the line number is malformed",
    "N takes one to five figures, without sign or point",
    "number the line between 0 and 99999, or leave N out",
  ),
  // §3.3.2, table 3
  "rs-e09-unknown-letter": rule(
    "a letter or sign stands here that the language doesn't know",
    "a controller may stop, or skip what it doesn't know",
    "take it out; put remarks in parentheses",
  ),
  // §3.3.4
  "rs-e10-comment": rule(
    "the comment is malformed",
    "a comment opens and closes on one line, holds no second parenthesis and only plain characters",
    "close the comment on its line and take out what does not belong",
  ),
  // §3.3.2.1
  "rs-e11-number": rule(
    "a letter has no proper number after it",
    "a number is one sign at most, figures, and one point at most: no comma, no exponent",
    "write the number out, like 12.5",
  ),
  "rs-e12-not-whole": rule(
    "the number must be whole",
    "codes, slots and repeats are counted, not measured",
    "write a whole number",
  ),
  "rs-e13-negative": rule(
    "the number may not be negative",
    "codes, slots, seconds, feeds and speeds start at 0",
    "take out the minus sign",
  ),
  // §3.3.5
  "rs-e14-letter-repeated": rule(
    "a letter stands twice on the line",
    "only one of the two numbers can count",
    "keep one of them",
  ),
  // §3.4, table 4
  "rs-e15-same-g-group": rule(
    "two G codes on the line contradict each other",
    "they belong to one group, of which only one can be in force",
    "keep one of them",
  ),
  "rs-e16-same-m-group": rule(
    "two M codes on the line contradict each other",
    "they belong to one group, of which only one can be in force",
    "keep one of them, or put each on its own line",
  ),
  "rs-e17-too-many-m": rule("more than four M codes stand on the line", "four are allowed", "split the line in two"),
  // tables 5 and 7
  "rs-e18-unknown-g": rule(
    "the language has no such G code",
    "a controller may stop, or do something of its own",
    "use a code that the language has",
  ),
  "rs-e19-unknown-m": rule(
    "the language has no such M code",
    "a controller may stop, or do something of its own",
    "use a code that the language has",
  ),
  // §3.5, words that nothing on the line uses
  "rs-e20-stray-d": rule("D stands without G41 or G42", stray(), "take D out"),
  "rs-e21-stray-h": rule("H stands without G43", stray(), "take H out, or write G43 beside it"),
  "rs-e22-stray-centre": rule(
    "I, J or K stands without an arc",
    stray(),
    "take it out, or write G2 or G3 and the arc's end beside it",
  ),
  "rs-e23-stray-l": rule("L stands without a drilling cycle or G10", stray(), "take L out"),
  "rs-e24-stray-p": rule("P stands without a code that waits or sets", stray(), "take P out, or write G4 beside it"),
  "rs-e25-stray-q": rule("Q stands without G83", stray(), "take Q out"),
  "rs-e26-stray-r": rule("R stands without an arc or a drilling cycle", stray(), "take R out"),
  // §3.4, §3.5.1 to §3.5.3
  "rs-e27-no-axis-word": rule(
    "a motion code names no axis to move",
    "a code that moves needs at least one of X, Y, Z on its line",
    "say where to go, or take the code out",
  ),
  "rs-e28-no-motion-mode": rule(
    "an axis is named while no motion code is in force",
    "nothing says whether to go at feed or at full speed",
    "write G0, G1, G2 or G3 on the line",
  ),
  "rs-e29-two-claims": rule(
    "two codes on the line both claim its axis words",
    "X, Y and Z can serve only one of them",
    "put the two codes on lines of their own",
  ),
  // §3.5.19, §3.7.1
  "rs-e30-no-feed": rule(
    "a cutting move has no feed",
    "no F has been given, or F is 0, so the move would never end",
    "write F before or on this line",
  ),
  "rs-e31-no-inverse-time": rule(
    "a cutting move under G93 has no F of its own",
    "under G93 each cutting line says in F how many such moves make a minute",
    "write F on the line, or go back to G94",
  ),
  "rs-e32-no-such-axis": rule(
    "the machine has no such axis",
    "the program was made for another machine",
    "take the word out, or choose the machine that has this axis",
  ),
  // §3.5.3
  "rs-e33-arc-no-plane-word": rule(
    "the arc's end is not given in its own plane",
    "an arc needs at least one end coordinate of the plane it lies in, even a whole circle",
    "write the arc's end",
  ),
  "rs-e34-arc-no-centre": rule(
    "the arc has neither centre nor radius",
    "I, J, K are not kept from the line before",
    "write the centre with the arc",
  ),
  "rs-e35-arc-radius-and-centre": rule(
    "the arc has both a radius and a centre",
    "the two may contradict each other",
    "keep the centre and take R out",
  ),
  "rs-e36-arc-wrong-centre-word": rule(
    "the arc's centre is given in another plane",
    "G17 takes I and J, G18 takes I and K, G19 takes J and K",
    "state the right plane, or use its centre words",
  ),
  "rs-e37-arc-radius-mismatch": rule(
    "the arc's two ends are not equally far from its centre",
    "a controller stops, or cuts a curve of its own between the two",
    "compute the centre again, with one more decimal",
  ),
  "rs-e38-arc-zero-radius": rule(
    "the arc begins or ends in its own centre",
    "it has no radius",
    "write a straight move, or give the right centre",
  ),
  "rs-e39-arc-radius-too-small": rule(
    "the arc's radius doesn't reach from start to end",
    "a radius is at least half the distance between the two ends",
    "give the right radius, or write the centre instead",
  ),
  "rs-e40-arc-radius-no-chord": rule(
    "an arc given by radius ends where it starts",
    "a radius alone doesn't say where such a circle lies",
    "give the centre instead of the radius",
  ),
  // §3.5.4, §3.5.5, §3.5.12, §3.5.18
  "rs-e41-dwell": rule("G4 doesn't say how long to wait", "it takes P, seconds", "write P with the seconds"),
  "rs-e42-origin": rule("G10 is incomplete", "it takes L2 and P from 1 to 9", "write L2 and the system's number in P"),
  "rs-e43-machine-coordinates": rule(
    "G53 stands where machine coordinates cannot be used",
    "it needs G0 or G1, an axis word, G90, and no cutter compensation",
    "write G90 G53 G0 and the axis on one line",
  ),
  "rs-e44-offset-no-axis": rule(
    "G92 names no axis",
    "it says which coordinates the present point shall have",
    "name the axis",
  ),
  // §3.5.11, §3.6.3, §3.7.3, §3.5.10
  "rs-e45-length-offset": rule("G43 doesn't say whose length", "it takes H, the slot in the tool table", "write H"),
  "rs-e46-slot": rule(
    "the machine has no such slot",
    "the number is above the last slot",
    "use a slot the machine has",
  ),
  "rs-e47-compensation": rule(
    "cutter compensation is used where it may not be",
    "it works in G17 only, is not switched on twice, and many codes may not be used while it is on",
    "switch it off with G40 first",
  ),
  // §3.5.16, §3.5.20
  "rs-e48-cycle-level": rule(
    "the drilling cycle lacks a level",
    "the first line of a cycle needs R, where feed begins, and the depth",
    "write R and the depth",
  ),
  "rs-e49-cycle-upside-down": rule(
    "the drilling cycle begins below its depth",
    "R, where feed begins, must not lie below the bottom",
    "exchange the two, or check their signs",
  ),
  "rs-e50-cycle-dwell": rule("the drilling cycle doesn't say how long to wait", "it takes P, seconds", "write P"),
  "rs-e51-cycle-peck": rule(
    "the drilling cycle has no bite",
    "G83 takes Q, more than 0",
    "write Q, the depth of one bite",
  ),
  "rs-e52-cycle-offsets": rule("the back-boring cycle lacks I, J or K", "it takes all three", "write I, J and K"),
  "rs-e53-cycle-repeats": rule("the drilling cycle repeats no time at all", "L counts repeats from 1", "take L out"),
  "rs-e54-cycle-spindle": rule(
    "the spindle doesn't turn as the drilling cycle needs",
    "this cycle stops and starts the spindle itself, and must know which way it turns",
    "start the spindle before the cycle",
  ),
  "rs-e55-cycle-mode": rule(
    "a drilling cycle is used where it may not be",
    "it needs G94, a feed above 0, no cutter compensation and no rotary axis",
    "write G94 and F before it, and G40",
  ),
  // §3.2.1, §3.3.2.2 to §3.3.3
  "rs-e56-expression": rule(
    "a parameter or expression is malformed or has no value",
    "parameters run from 1 to 5399; brackets close; no division by zero, no root of a negative",
    "write plain numbers",
  ),
};

function stray(): string {
  return "no code on the line uses it; a code may be missing or mistyped";
}

function rule(what: string, why: string, mend: string): Rule {
  return { ours: "refuse", any: "refuse", what, why, mend, breaks: true };
}
