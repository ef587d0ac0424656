/**
 * The codes that a post may state, by modal group, from NISTIR 6556 Table 4. All else is refused: a post describes how
 * programs are spelled, and can bring in no motion, no offset and no stop of its own.
 */

/** One group of the opening line. */
export interface OpeningGroup {
  readonly what: string;
  readonly codes: readonly string[];
}

/** Groups of the opening line that must be stated, each by exactly one of its codes. */
export const OPENING_GROUPS: readonly OpeningGroup[] = [
  { what: "plane", codes: ["G17"] },
  { what: "unit", codes: ["G20", "G21"] },
  { what: "cutter compensation off", codes: ["G40"] },
  { what: "work coordinates", codes: ["G54", "G55", "G56", "G57", "G58", "G59"] },
  { what: "path mode", codes: ["G61", "G61.1", "G64"] },
  { what: "cycles off", codes: ["G80"] },
  { what: "distance mode", codes: ["G90"] },
  { what: "feed mode", codes: ["G94"] },
];

/** The plane that a lathe's post states instead of G17. */
export const LATHE_PLANE = "G18";

/** Length offset off: belongs in the opening line exactly when the machine has no tool table. */
export const NO_LENGTH_OFFSET = "G49";

/** Codes of the closing lines: spindle off, coolant off, and the program's end, which is last. */
export const ENDING_CODES = { spindleOff: "M5", coolantOff: "M9", ends: ["M2", "M30"] } as const;
