import type { Finding, Grade, Place, Source } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";

/** What a finding may say beside what is wrong. */
export interface Says {
  readonly why?: string;
  readonly mend: string;
  readonly part?: string | undefined;
  readonly feature?: string | undefined;
  readonly grade?: Grade;
}

/** A finding about a place in the job file; it refuses unless told otherwise. Every one says how to mend it. */
export function jobFinding(code: FindingCode, source: Source, what: string, says: Says): Finding {
  const place: Place = {
    source,
    ...(says.part !== undefined && { part: says.part }),
    ...(says.feature !== undefined && { feature: says.feature }),
  };
  const why = says.why === undefined ? {} : { why: says.why };
  return { grade: says.grade ?? "refuse", code, place, what, ...why, mend: says.mend };
}
