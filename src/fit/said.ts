import type { Finding, Limit, Source } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";

/** Which part is being fitted and where the job says so: what its features and findings point at. */
export interface Said {
  readonly part: string;
  readonly source: Source;
  /** Places in the file of single values, by key ("depth", "screw length"). */
  readonly sources?: Readonly<Record<string, Source>>;
}

/** A limit that rests on practice only: it may caution, never refuse. */
export const PRACTICE = "common practice, no source";

/** A length for a sentence, to the hundredth. */
export function mmText(value: number): string {
  return `${Number(value.toFixed(2)) + 0} mm`;
}

/** A finding about something that is being fitted; it points at the first of the keys that the file has a place for. */
export function fitFinding(
  said: Said,
  grade: Finding["grade"],
  code: FindingCode,
  text: { readonly what: string; readonly why: string; readonly mend: string; readonly keys?: readonly string[] },
  numbers?: { readonly found: number; readonly limit: number; readonly from: string },
): Finding {
  const key = text.keys?.find((k) => said.sources?.[k] !== undefined);
  const limit: Limit | undefined = numbers && { value: numbers.limit, unit: "mm", from: numbers.from };
  return {
    grade,
    code,
    place: { part: said.part, source: (key !== undefined && said.sources?.[key]) || said.source },
    what: text.what,
    why: text.why,
    mend: text.mend,
    ...(numbers === undefined ? {} : { measured: { value: numbers.found, bound: 0, unit: "mm" } }),
    ...(limit === undefined ? {} : { limit }),
  };
}
