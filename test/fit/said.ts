import type { Said } from "../../src/fit/said.ts";

/** Something that a job says, for tests that don't look at places. */
export function said(part: string): Said {
  return { part, source: { file: "case.yaml", line: 7, column: 3, length: 6, text: `  ${part}:` } };
}
