import { Lexer } from "yaml";
import type { Finding } from "../finding.ts";
import { jobFinding } from "./job-finding.ts";
import { type SourceText, sourceAt } from "./source-text.ts";

/** What a job file may hold at most. A cabinet of six drawers takes a tenth of it. */
export const JOB_LIMITS = {
  /** Characters. */
  length: 64 * 1024,
  /** Brackets within brackets. */
  brackets: 16,
  /** Dashes or question marks at the head of one line. */
  dashes: 4,
  /** Colons on one line, or between two commas. */
  colons: 3,
  /** Spaces at the head of a line. */
  indent: 80,
} as const;

/**
 * Looks for what the parser must not be given: too much text, characters that cannot be seen, and nesting so deep that
 * it would recurse out of its stack. Returns nothing when the text may be parsed.
 */
export function beforeParsing(source: SourceText): readonly Finding[] {
  const { text } = source;
  if (text.length > JOB_LIMITS.length) {
    return [
      jobFinding("job-too-large", sourceAt(source, 0, 1), "this file is too large to be a job file", {
        why: `it has ${text.length} characters, and a job file may have ${JOB_LIMITS.length}`,
        mend: "check that it is the right file; split a large job in two",
      }),
    ];
  }
  const unseen = unseenCharacters(source);
  if (unseen.length > 0) return unseen;
  const deep = tooDeep(text);
  if (deep === undefined) return [];
  return [
    jobFinding("nested-too-deep", sourceAt(source, deep, 1), "this is nested deeper than any job needs", {
      why: `at most ${JOB_LIMITS.brackets} brackets within each other, ${JOB_LIMITS.dashes} dashes at the head of a line, ${JOB_LIMITS.colons} colons on it, ${JOB_LIMITS.indent} spaces before a line`,
      mend: "check for brackets that are not closed, or for a file of another kind",
    }),
  ];
}

const UNSEEN =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufffe\uffff]|(?!^)\ufeff|\r(?!\n)|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

function unseenCharacters(source: SourceText): readonly Finding[] {
  const found: Finding[] = [];
  for (const m of source.text.matchAll(UNSEEN)) {
    const code = m[0].charCodeAt(0).toString(16).toUpperCase().padStart(4, "0");
    found.push(
      jobFinding("control-character", sourceAt(source, m.index, 1), "a character stands here that cannot be seen", {
        why: `its code is ${code}; it would hide or change what is printed`,
        mend: "delete it, or type the line again; save the file as plain text (UTF-8)",
      }),
    );
    if (found.length >= 5) break;
  }
  return found;
}

/** Offset at which the nesting becomes too deep, or nothing. Token by token, so that quotes and comments don't count. */
function tooDeep(text: string): number | undefined {
  let offset = 0;
  let brackets = 0;
  let dashes = 0;
  let colons = 0;
  let atStart = true;
  for (const token of new Lexer().lex(text)) {
    const first = token[0];
    if (token === "[" || token === "{") brackets++;
    else if (token === "]" || token === "}") brackets = Math.max(0, brackets - 1);
    else if (token === "-" || token === "?") dashes++;
    else if (token === ":") colons++;
    // The lexer's own sign for a bracket that a line further out has cut short.
    if (token === "\u0018") brackets = 0;
    const newLine = first === "\n" || first === "\r";
    if (newLine || token === "," || token === "[" || token === "{") colons = 0;
    if (newLine) {
      dashes = 0;
      atStart = true;
    } else {
      if (first === " " && atStart && token.length > JOB_LIMITS.indent) return offset;
      atStart = false;
    }
    if (brackets > JOB_LIMITS.brackets || dashes > JOB_LIMITS.dashes || colons > JOB_LIMITS.colons) return offset;
    // The lexer marks documents and scalars with single control characters that are not in the text.
    if (!(token.length === 1 && (first === "\u0002" || first === "\u0018" || first === "\u001f")))
      offset += token.length;
  }
  return undefined;
}
