import type { Finding, Limit, Measured, Source } from "../../finding.ts";
import type { TurnedDescription } from "../../job/turned.ts";

/** Anything of a job with a name, its place, and the places of its single values. */
export interface Said {
  readonly name: string;
  readonly source: Source;
  readonly sources: Readonly<Record<string, Source>>;
}

/** What a finding says. */
export interface Sentences {
  readonly what: string;
  readonly why: string;
  readonly mend: string;
  readonly measured?: Measured;
  readonly limit?: Limit;
}

/** A finding about the first of some values of a thing that the job says at all; it refuses unless told otherwise. */
export function turnedFinding(
  part: Pick<TurnedDescription, "name">,
  code: Finding["code"],
  said: Said,
  keys: readonly string[],
  says: Sentences,
  grade: Finding["grade"] = "refuse",
): Finding {
  const key = keys.find((k) => said.sources[k] !== undefined);
  const source = (key === undefined ? undefined : said.sources[key]) ?? said.source;
  return { grade, code, place: { part: part.name, feature: said.name, source }, ...says };
}

/** A number with its unit, for sentences. */
export function mmText(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}
