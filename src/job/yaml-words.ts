import type { YAMLParseError } from "yaml";
import type { Finding } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";
import { jobFinding, type Says } from "./job-finding.ts";
import { lineIndex, lineText, type SourceText, sourceAt } from "./source-text.ts";

/**
 * Says the parser's complaints in bench words. One for each line, since one slip makes several; where tabs indent
 * lines, each such line is named, and nothing else, since all that follows comes from them.
 */
export function inBenchWords(source: SourceText, errors: readonly YAMLParseError[]): readonly Finding[] {
  if (errors.length === 0) return [];
  const tabs = errors.some((e) => e.code === "TAB_AS_INDENT") ? tabbedLines(source) : [];
  if (tabs.length > 0) return tabs;
  const found: Finding[] = [];
  const told = new Set<number>();
  for (const error of errors) {
    const own = lineIndex(source, error.pos[0]) + 1;
    if (told.has(own)) continue;
    const finding = reword(source, error);
    const line = finding.place.source?.line ?? 0;
    if (told.has(line)) continue;
    told.add(line);
    told.add(own);
    found.push(finding);
    if (found.length >= 20) break;
  }
  return found;
}

/** The first stretch of a line: no line of a job is longer, and patterns need not look further. */
function lineHead(source: SourceText, index: number): string {
  return lineText(source, index).slice(0, 1000);
}

function tabbedLines(source: SourceText): readonly Finding[] {
  const found: Finding[] = [];
  for (let i = 0; i < source.starts.length && found.length < 20; i++) {
    const lead = /^ *\t[\t ]*(?=\S)/.exec(lineHead(source, i))?.[0];
    if (lead === undefined) continue;
    const at = source.starts[i]! + lead.indexOf("\t");
    found.push(
      jobFinding(
        "tab-indents-line",
        sourceAt(source, at, lead.length - lead.indexOf("\t")),
        "a tab stands at the head of this line",
        {
          mend: "use spaces instead, two for each step inwards; most editors can turn tabs into spaces",
        },
      ),
    );
  }
  return found;
}

function reword(source: SourceText, error: YAMLParseError): Finding {
  const at = error.pos[0];
  const end = Math.max(at + 1, error.pos[1]);
  const index = lineIndex(source, at);
  const line = lineHead(source, index);
  const say = (code: FindingCode, what: string, says: Says, from = at, length = end - from) =>
    jobFinding(code, sourceAt(source, from, length), what, says);
  const glued = gluedColon(source, index) ?? gluedColon(source, index - 1);
  const sign = leadingSign(source, index);
  switch (error.code) {
    case "TAB_AS_INDENT":
      return say("tab-indents-line", "a tab stands where only spaces may", { mend: "use spaces instead of the tab" });
    case "MULTILINE_IMPLICIT_KEY":
    case "BLOCK_AS_IMPLICIT_KEY":
    case "MISSING_CHAR":
    case "UNEXPECTED_TOKEN":
      if (/closing .*quote/.test(error.message)) return openQuote(source, at);
      if (/Sequence item without/.test(error.message)) {
        return say("lines-not-aligned", "this line is not indented like the list above it", {
          mend: "begin it with a dash under the other dashes, or indent it like the lines of the item it belongs to",
        });
      }
      if (sign) return sign;
      if (/node end/.test(error.message) && /["']/.test(source.text[at - 1] ?? "")) return afterQuote(source, at, end);
      if (glued) return glued;
      return colonTrouble(source, error, line, say);
    case "BAD_INDENT":
      if (/end with a ([\]}])/.test(error.message)) return openBracket(source, at);
      if (glued) return glued;
      return say("lines-not-aligned", "this line is not indented like its neighbours", {
        mend: "put lines that belong together under each other, two spaces further in than what they belong to",
      });
    case "BAD_SCALAR_START":
      return (
        sign ??
        say("value-begins-with-sign", "a value cannot begin with this sign", { mend: "put the value in quotes" })
      );
    case "BAD_DQ_ESCAPE":
      return say("backslash-in-quotes", "a backslash has a meaning of its own inside double quotes", {
        mend: "use single quotes, or a forward slash in file names",
      });
    case "MULTIPLE_DOCS":
      return say("second-document", "a second file begins here, after a line of three dashes", {
        mend: "take the line of dashes out; one job is one file",
      });
    case "RESOURCE_EXHAUSTION":
      return say("nested-too-deep", "this is nested deeper than any job needs", {
        mend: "check for brackets that are not closed",
      });
    case "ALIAS_PROPS":
    case "BAD_ALIAS":
    case "MULTIPLE_ANCHORS":
    case "MULTIPLE_TAGS":
    case "TAG_RESOLVE_FAILED":
    case "BAD_PROP_ORDER":
      return (
        sign ??
        say("value-begins-with-sign", "a value cannot begin with * or & or !", {
          mend: "begin a formula with =, and put other text in quotes",
        })
      );
    case "BAD_COLLECTION_TYPE":
    case "BAD_DIRECTIVE":
    case "DUPLICATE_KEY":
    case "IMPOSSIBLE":
    case "KEY_OVER_1024_CHARS":
    case "NON_STRING_KEY":
      return say("line-not-understood", "this line cannot be read", {
        mend: 'write a name, a colon, a space and a value, for example "depth: 8"',
      });
  }
  return say("line-not-understood", "this line cannot be read", {
    mend: 'write a name, a colon, a space and a value, for example "depth: 8"',
  });
}

type Say = (code: FindingCode, what: string, says: Says, from?: number, length?: number) => Finding;

function colonTrouble(source: SourceText, error: YAMLParseError, line: string, say: Say): Finding {
  const at = error.pos[0];
  const start = source.starts[lineIndex(source, at)]!;
  const spans = lineIndex(source, Math.max(at, error.pos[1] - 1)) !== lineIndex(source, at);
  const next = lineHead(source, lineIndex(source, at) + 1);
  if (error.code === "MISSING_CHAR" && /map values/.test(error.message)) {
    return say("colon-missing", "this line has no colon", {
      mend: `write a name, a colon, a space and a value: "${source.text.slice(at, Math.min(error.pos[1], at + 30)).trim()}: ..."`,
    });
  }
  const deeper = /^( *)\S/.exec(next)?.[1]?.length ?? 0;
  const own = /^( *)\S/.exec(line)?.[1]?.length ?? 0;
  if (spans || (error.code === "BLOCK_AS_IMPLICIT_KEY" && deeper > own && !/: .*: /.test(line))) {
    const from = source.starts[lineIndex(source, at) + 1] ?? at;
    return say(
      "lines-not-aligned",
      "this line is indented further than the line above, which already has its value",
      { mend: "put it straight under the line above, or take the value above away" },
      from + deeper,
      Math.max(1, next.length - deeper),
    );
  }
  const dash = /^\s*[^-\s].*?: +(?=- )/.exec(line);
  if (dash) {
    return say(
      "list-on-key-line",
      "a dash begins a list, and a list begins on a line of its own",
      { mend: "put the dash on the next line, two spaces further in; begin a formula with =" },
      start + dash[0].length,
      1,
    );
  }
  const colons = [...line.matchAll(/:(?= |$)/g)].map((m) => m.index);
  if (colons.length > 1 && !/^[^"'{[]*["'{[]/.test(line.slice(0, colons[1]))) {
    return say(
      "second-colon",
      "a second colon stands on this line",
      { mend: "put each name on a line of its own; put a text that holds a colon in quotes" },
      start + colons[1]!,
      1,
    );
  }
  if (/Unexpected|Flow map|flow/i.test(error.message) && /[[\]{}]/.test(line)) {
    return say("brackets-do-not-match", "the brackets or commas of this line do not fit together", {
      mend: "between brackets, separate entries by a comma and a space, and close each bracket with its like",
    });
  }
  return say("line-not-understood", "this line cannot be read", {
    mend: 'write a name, a colon, a space and a value, for example "depth: 8"; put lines that belong together under each other',
  });
}

/** `length:142`: the colon of a line that lacks its space. */
function gluedColon(source: SourceText, index: number): Finding | undefined {
  if (index < 0) return undefined;
  const line = lineHead(source, index);
  const found = /^(\s*(?:- +)?)(\p{L}[^:#"'{}[\],]*):([^\s:][^:]*)$/u.exec(line);
  if (!found) return undefined;
  const colon = source.starts[index]! + (found[1] ?? "").length + (found[2] ?? "").length;
  return jobFinding("colon-without-space", sourceAt(source, colon, 1), "a space is missing after the colon", {
    mend: `write "${found[2]}: ${(found[3] ?? "").trim().slice(0, 40)}"`,
  });
}

/** A value on this line that begins with a sign which YAML keeps for itself. */
function leadingSign(source: SourceText, index: number): Finding | undefined {
  const line = lineHead(source, index);
  const found = /(?:^\s*(?:- +)?|: +|[[{,] *)([*&!%@`|>])(\S*)/.exec(line);
  const sign = found?.[1];
  if (!found || sign === undefined) return undefined;
  const at = found.index + found[0].length - sign.length - (found[2] ?? "").length;
  const mend =
    sign === "*"
      ? "begin a formula with an equals sign: = 2*gap; put other text in quotes"
      : sign === ">" || sign === "|"
        ? `write the value alone; "at least" is said in words or in a comment after a #`
        : "put the value in quotes";
  return jobFinding(
    "value-begins-with-sign",
    sourceAt(source, source.starts[index]! + at, line.length - at),
    `a value cannot begin with ${sign}`,
    { mend },
  );
}

function afterQuote(source: SourceText, at: number, end: number): Finding {
  const quote = source.text[at - 1] ?? '"';
  const line = lineHead(source, lineIndex(source, at));
  const inches = /(\d[\d ./-]*)""/.exec(line)?.[1];
  return jobFinding("text-after-quote", sourceAt(source, at, end - at), "something stands behind the closing quote", {
    mend:
      inches !== undefined
        ? `leave the outer quotes away: ${inches}"; or write ${inches} in`
        : quote === "'"
          ? "put the whole text in double quotes when it holds an apostrophe"
          : "put the whole value in quotes, or none of it; a size needs none",
  });
}

function openQuote(source: SourceText, at: number): Finding {
  const before = source.text.slice(0, at);
  const quote = Math.max(before.lastIndexOf(": '"), before.lastIndexOf(': "')) + 2;
  const from = quote >= 2 ? quote : Math.max(0, at - 1);
  return jobFinding("quote-not-closed", sourceAt(source, from, 1), "a quote opens here and is not closed", {
    mend: 'close it with the same mark; inches may be written without quotes: 3/4" or 3/4 in',
  });
}

function openBracket(source: SourceText, at: number): Finding {
  const open: number[] = [];
  const text = source.text;
  const limit = Math.min(at, text.length);
  for (let i = 0; i < limit; i++) {
    const c = text[i]!;
    if (c === "[" || c === "{") open.push(i);
    else if ((c === "]" || c === "}") && open.length > 0) open.pop();
  }
  const from = open.at(-1) ?? at;
  const close = text[from] === "{" ? "}" : "]";
  return jobFinding("brackets-do-not-match", sourceAt(source, from, 1), "a bracket opens here and is not closed", {
    mend: `close it with ${close} on the same line, or indent the lines it goes on over`,
  });
}
