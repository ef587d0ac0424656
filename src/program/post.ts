/**
 * How one controller's dialect of RS-274 is written: data only, no instructions of its own. Filled by `readPost`; read by
 * `writePrograms`. Codes mean what NISTIR 6556 says they mean.
 */
export interface Post {
  readonly name: string;
  readonly about: string;
  /** G21 or G20; the opening line says the same. */
  readonly unit: "mm" | "inch";
  /** Decimals of coordinates: at least 4 in mm, 5 in inches, so that the ends of rounded arcs still agree. */
  readonly decimals: number;
  /** Numbers of the lines at which operations begin. */
  readonly labels: { readonly first: number; readonly step: number };
  /** Words for the operator at a stop: as a message `(MSG, …)`, or as a plain comment. */
  readonly messages: "MSG" | "comment";
  /** Enclose the program between two lines of a percent sign. */
  readonly percentLines: boolean;
  /** One code of each modal group, stated at the start and again at every operation. */
  readonly opening: readonly string[];
  /** How the first lift is made: to a machine height (needs homing), or after a stop that asks for a clear bit. */
  readonly lift: { readonly kind: "machine height"; readonly z: number } | { readonly kind: "ask" };
  readonly lengthOffset: "G43" | "none";
  /** Lines of a tool change by the machine; none: one cutter a file. `T` stands for T and the slot. */
  readonly toolChange: readonly ("T" | "M6" | "T M6")[];
  /** Centre-format arcs, or chords no further from the arc than `error`, mm. */
  readonly arcs: { readonly kind: "centre" } | { readonly kind: "chords"; readonly error: number };
  readonly spindleStart: "M3";
  /**
   * How a beam is spoken to: the words that may start it, and decimals of its S words. Absent: this dialect writes none. That
   * S on a motion line changes the power without a stop is common practice, from memory; the language has no beams.
   */
  readonly beam?: { readonly starts: readonly ("M3" | "M4")[]; readonly powerDecimals: number };
  /** Present exactly on a lathe's post: what its X words are. */
  readonly xWords?: "radius" | "diameter";
  /** Closing codes, one a line, after the last lift. */
  readonly ending: readonly string[];
  /** Ending of file names, with its point. */
  readonly fileEnding: string;
}
