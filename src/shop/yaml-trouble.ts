import { type Document, isAlias, isScalar, type Node, visit, type YAMLError } from "yaml";
import type { Finding, Source } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";
import type { YamlKind } from "./yaml-kind.ts";

/** Aliases beyond this are an attempt to blow the file up. */
export const MOST_ALIASES = 50;
/** After so many findings the rest helps nobody. */
export const MOST_FINDINGS = 50;

/** What the YAML standard allows and nobody means: tags, keys that are no words, anchors on a whole tree. */
export function oddities(
  doc: Document.Parsed,
  kind: YamlKind,
  place: (from: number, to: number) => Source,
): readonly Finding[] {
  const findings: Finding[] = [];
  let aliases = 0;
  visit(doc, {
    Pair(_, pair) {
      const key = pair.key as Node;
      if (!isScalar(key) || key.value === null || key.value === "__proto__") {
        const at = key?.range ? place(key.range[0], key.range[1]) : place(0, 1);
        findings.push(refusal(kind.notYaml, at, "this is no name for a value", undefined, "write: name: value"));
        return visit.SKIP;
      }
      return undefined;
    },
    Node(_, node) {
      if (isAlias(node)) aliases += 1;
      const at = (): Source => (node.range ? place(node.range[0], node.range[1]) : place(0, 1));
      const tag = "tag" in node ? node.tag : undefined;
      if (typeof tag === "string" && !/^tag:yaml\.org,2002:(map|seq|str|int|float|bool|null)$/.test(tag)) {
        findings.push(
          refusal(kind.notYaml, at(), "a word that begins with ! is not understood", undefined, "leave it out"),
        );
      }
    },
  });
  if (aliases > MOST_ALIASES) {
    const mend = "write each value out where it is used";
    findings.push(
      refusal(kind.notYaml, place(0, 1), `the ${kind.what} repeats itself by * too often`, undefined, mend),
    );
  }
  return findings.slice(0, MOST_FINDINGS);
}

/** The parser's complaint in the words of someone who has never heard of YAML. */
export function yamlFinding(error: YAMLError, kind: YamlKind, place: (from: number, to: number) => Source): Finding {
  const at = place(error.pos[0], error.pos[1]);
  const of = (what: string, mend: string): Finding => refusal(kind.notYaml, at, what, undefined, mend);
  switch (error.code) {
    case "TAB_AS_INDENT":
      return of("a tab begins this line", "begin lines with spaces, never with tabs");
    case "DUPLICATE_KEY":
      return of("this name is used twice at the same place", "keep one of the two, or rename one");
    case "BAD_INDENT":
    case "BAD_COLLECTION_TYPE":
      return of("this line does not line up with those above it", "give lines that belong together the same spaces");
    case "MISSING_CHAR":
      return of("a sign is missing here", 'look for a missing colon, bracket or closing quote ("): name: value');
    case "MULTIPLE_DOCS":
      return of(`the ${kind.what} holds more than one document`, "leave out the lines that are only ---");
    case "MULTILINE_IMPLICIT_KEY":
    case "KEY_OVER_1024_CHARS":
      return of("a name without its value", "put a colon and a space after the name: name: value");
    case "TAG_RESOLVE_FAILED":
      return of("a word that begins with ! is not understood", "leave it out");
    case "RESOURCE_EXHAUSTION":
      return of(`the ${kind.what} is nested too deeply`, "give the file that you wrote by hand");
    case "ALIAS_PROPS":
    case "BAD_ALIAS":
    case "BAD_DIRECTIVE":
    case "BAD_DQ_ESCAPE":
    case "BAD_PROP_ORDER":
    case "BAD_SCALAR_START":
    case "BLOCK_AS_IMPLICIT_KEY":
    case "BLOCK_IN_FLOW":
    case "IMPOSSIBLE":
    case "MULTIPLE_ANCHORS":
    case "MULTIPLE_TAGS":
    case "NON_STRING_KEY":
    case "UNEXPECTED_TOKEN":
      return refusal(
        kind.notYaml,
        at,
        "this line can't be read",
        error.message,
        'put text with special signs between quotes: "1/4 in bit"',
      );
  }
}

/** A finding that refuses, at a place in the file. */
export function refusal(
  code: FindingCode,
  source: Source,
  what: string,
  why: string | undefined,
  mend: string | undefined,
): Finding {
  return {
    grade: "refuse",
    code,
    place: { source },
    what,
    ...(why === undefined ? {} : { why }),
    ...(mend === undefined ? {} : { mend }),
  };
}
