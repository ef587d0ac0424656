import type { Grade } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";

/** Codes of the reader's own findings. */
export type ReaderCode = Extract<FindingCode, `rs-${string}`>;

/** Codes of broken rules of the language. */
export type LanguageCode = Extract<ReaderCode, `rs-e${number}-${string}`>;

/** Codes of the house's habits and the machine's own limits. */
export type HouseCode = Exclude<ReaderCode, LanguageCode>;

/** Codes of the beam's rules. */
export type BeamCode = Extract<HouseCode, `rs-beam-${string}`>;

/** What is said when a rule is broken. */
export interface Rule {
  /** Grade in a program of ours, and in any other file. */
  readonly ours: Grade;
  readonly any: Grade;
  readonly what: string;
  readonly why: string;
  readonly mend: string;
  /** Nothing after it can be trusted: events end before the line. */
  readonly breaks: boolean;
}
