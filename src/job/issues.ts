import type * as z from "zod";
import type { Finding } from "../finding.ts";
import { closest } from "../units/closest.ts";
import { FEATURE_KINDS } from "./feature-schema.ts";
import { jobFinding } from "./job-finding.ts";
import type { LeafProblem } from "./leaves.ts";
import type { SourceText } from "./source-text.ts";
import { type Entry, find, placeOf, placeOfKey, type Tree } from "./tree.ts";
import { canonicalKey, plainKey, spellingsOf } from "./words.ts";

/** Which part of the tree a schema was put to, and whose it is. */
export interface Whose {
  readonly source: SourceText;
  readonly node: Tree;
  readonly entry?: Entry | undefined;
  readonly part?: string | undefined;
  readonly feature?: string | undefined;
}

/** Turns what a schema complains of into findings with places. Nothing is said of what a finding was made about already. */
export function findingsOf(issues: readonly z.core.$ZodIssue[], whose: Whose): readonly Finding[] {
  return issues.flatMap((issue) => findingsOfIssue(issue, whose));
}

function findingsOfIssue(issue: z.core.$ZodIssue, whose: Whose): readonly Finding[] {
  const found = find(whose.node, issue.path, whose.entry);
  const key = String(issue.path.at(-1) ?? whose.entry?.key ?? "the job file");
  if (found.node.kind === "broken" && !found.missing) return [];
  if (issue.code === "custom") {
    const problem = (issue.params as { problem?: LeafProblem } | undefined)?.problem;
    if (problem === undefined) return [];
    if (found.missing || found.node.kind === "empty") return [missing(key, found, whose, problem.mend)];
    return problemFinding(problem, found.node, found.entry, whose);
  }
  if (issue.code === "unrecognized_keys") {
    const known = issue.message.split("\n");
    return issue.keys.flatMap((k) => unknownKey(k, find(whose.node, [...issue.path, k], whose.entry), known, whose));
  }
  if (found.missing || found.node.kind === "empty") return [missing(key, found, whose, issue.message)];
  return [wrongKind(issue, key, found.node, whose)];
}

/** A problem within a value, at its column. */
export function problemFinding(
  problem: LeafProblem,
  node: Tree,
  entry: Entry | undefined,
  whose: Whose,
): readonly Finding[] {
  if (problem.code === "formula-name-broken") return [];
  const place =
    problem.onKey && entry
      ? placeOfKey(whose.source, entry, problem.at, problem.length)
      : placeOf(whose.source, node, problem.at, problem.length);
  const why = problem.why === undefined ? {} : { why: problem.why };
  return [jobFinding(problem.code, place, problem.what, { ...why, mend: problem.mend, ...owner(whose) })];
}

function owner(whose: Whose): { part?: string | undefined; feature?: string | undefined } {
  return { part: whose.part, feature: whose.feature };
}

function missing(key: string, found: ReturnType<typeof find>, whose: Whose, mend: string): Finding {
  const { source } = whose;
  if (!found.missing) {
    const place = found.entry ? placeOfKey(source, found.entry) : placeOf(source, found.node);
    return jobFinding("value-missing", place, `"${key}" stands there without a value`, { mend, ...owner(whose) });
  }
  const place = found.entry ? placeOfKey(source, found.entry) : placeOf(source, found.node, 0, 1);
  if (key === "units") {
    return jobFinding("units-missing", place, "the file does not say what its numbers are in", {
      why: "is a 6 in it 6 mm or 6 in?",
      mend: 'write "units: mm" or "units: in" below the title',
      ...owner(whose),
    });
  }
  return jobFinding("key-missing", place, `"${key}" is missing here`, { mend, ...owner(whose) });
}

function unknownKey(
  key: string,
  found: ReturnType<typeof find>,
  known: readonly string[],
  whose: Whose,
): readonly Finding[] {
  const place = found.entry ? placeOfKey(whose.source, found.entry) : placeOf(whose.source, found.node);
  if (found.node.kind === "broken" && !found.missing) return [];
  const own = canonicalKey(key);
  if (known.includes(own)) {
    return [
      jobFinding("name-twice", place, `"${key}" says the same as "${own}", which is there already`, {
        mend: "take one of the two out",
        ...owner(whose),
      }),
    ];
  }
  if (whose.feature !== undefined && FEATURE_KINDS.some((k) => k === own) && known.some((k) => k === "bit")) {
    const mend = "begin each feature with a dash of its own";
    return [
      jobFinding("key-unknown", place, `"${key}" begins a second feature within this one`, { mend, ...owner(whose) }),
    ];
  }
  const like = closest(plainKey(key), known.flatMap(spellingsOf));
  const list = known.map((k) => `"${k}"`).join(", ");
  return [
    jobFinding("key-unknown", place, `"${key.slice(0, 60)}" is not known here`, {
      mend: like === undefined ? `known here are ${list}` : `do you mean "${like}"?`,
      ...owner(whose),
    }),
  ];
}

function wrongKind(issue: z.core.$ZodIssue, key: string, node: Tree, whose: Whose): Finding {
  const stands = kindInWords(node);
  const wanted = issue.code === "invalid_type" ? expectedInWords(issue.expected) : "something else";
  const place = placeOf(whose.source, node);
  if (node.kind === "text") {
    const glued = /^(\p{L}[^:]*):(\S.*)$/u.exec(node.text);
    if (glued?.[1] !== undefined && wanted === "a group of lines") {
      return jobFinding(
        "colon-without-space",
        placeOf(whose.source, node, glued[1].length, 1),
        "a space is missing after the colon",
        {
          mend: `write "${glued[1]}: ${(glued[2] ?? "").slice(0, 40)}"`,
          ...owner(whose),
        },
      );
    }
  }
  return jobFinding("kind-wrong", place, `"${key}" wants ${wanted}, and here stands ${stands}`, {
    mend: issue.message,
    ...owner(whose),
  });
}

function kindInWords(node: Tree): string {
  switch (node.kind) {
    case "text":
      return "a single value";
    case "list":
      return "a list";
    case "map":
      return "a group of lines";
    case "empty":
    case "broken":
      return "nothing";
  }
}

function expectedInWords(expected: string): string {
  switch (expected) {
    case "string":
      return "a single value";
    case "array":
      return "a list";
    case "object":
    case "record":
      return "a group of lines";
    default:
      return "something else";
  }
}
