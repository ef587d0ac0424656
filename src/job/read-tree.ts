import { isAlias, isMap, isScalar, isSeq, type Node, type Pair, parseDocument } from "yaml";
import type { Finding } from "../finding.ts";
import { beforeParsing } from "./before-parsing.ts";
import { jobFinding } from "./job-finding.ts";
import { type SourceText, sourceAt } from "./source-text.ts";
import type { Entry, Tree } from "./tree.ts";
import { plainKey } from "./words.ts";
import { inBenchWords } from "./yaml-words.ts";

/** What became of a text: a tree as far as one could be made, and all that is wrong with its writing. */
export interface ReadTree {
  readonly source: SourceText;
  /** Absent when the text is too large, too deep or not text at all. */
  readonly root?: Tree;
  readonly findings: readonly Finding[];
  /** True when the tree may be wrong from the first finding's line on. */
  readonly shaky: boolean;
}

/**
 * Reads YAML into a tree in which every scalar is a text. Anchors, aliases and tags are refused: a job file needs
 * none, and without them no file can grow when read.
 * Cost: linear in the text, which may have 64 KB; nesting is bounded before the parser recurses.
 */
export function readTree(source: SourceText): ReadTree {
  const first = beforeParsing(source);
  if (first.length > 0) return { source, findings: first, shaky: true };
  // `failsafe` leaves every scalar a text; prototypes and numbers are none of YAML's business here.
  const document = parseDocument(source.text, {
    schema: "failsafe",
    prettyErrors: false,
    uniqueKeys: false,
    logLevel: "error",
  });
  const written = inBenchWords(source, document.errors);
  const found: Finding[] = [];
  const contents: Node | null = document.contents;
  if (contents === null || (isScalar(contents) && contents.source === "")) {
    const empty = jobFinding("job-empty", sourceAt(source, 0, 1), "this job file is empty", {
      mend: 'begin with "title:", "units:" and "parts:"; the command "new" asks the questions and writes the file',
    });
    return { source, findings: written.length > 0 ? written : [empty], shaky: true };
  }
  const root = convert(contents, { source, found });
  return { source, root, findings: written.length > 0 ? written : found, shaky: written.length > 0 };
}

/** Names that JavaScript gives a meaning of its own; they would be lost or worse as keys. */
const RESERVED: ReadonlySet<string> = new Set([
  "__proto__",
  "constructor",
  "prototype",
  "hasownproperty",
  "isprototypeof",
  "propertyisenumerable",
  "tolocalestring",
  "tostring",
  "valueof",
  "__definegetter__",
  "__definesetter__",
  "__lookupgetter__",
  "__lookupsetter__",
]);

interface Context {
  readonly source: SourceText;
  readonly found: Finding[];
}

/** Keeps a finding; a file with hundreds of slips is told of the first, not of all. */
function tell(c: Context, finding: Finding): void {
  if (c.found.length < 200) c.found.push(finding);
}

function convert(node: unknown, c: Context): Tree {
  const n = node as Node;
  const [from, to] = n.range ? [n.range[0], n.range[1]] : [0, 1];
  const odd = ornament(n, from, c);
  if (odd) return odd;
  if (isMap(n)) return convertMap(n.items as Pair[], from, to, n.flow === true, c);
  if (isSeq(n)) {
    if (n.flow) {
      const comma = commaBetween(
        n.items.map((i) => (i as Node).range),
        c.source.text,
      );
      if (comma !== undefined) return decimalCommaInList(from, to, comma, c);
    }
    return { kind: "list", from, to, items: n.items.map((i) => convert(i, c)) };
  }
  if (isScalar(n)) return convertScalar(String(n.value ?? ""), n.comment ?? undefined, from, to, c);
  return { kind: "broken", from, to };
}

function convertScalar(text: string, comment: string | undefined, from: number, to: number, c: Context): Tree {
  if (text === "" && to - from <= 0) return { kind: "empty", from, to };
  if (CONTROL.test(text)) {
    tell(
      c,
      jobFinding(
        "control-character",
        sourceAt(c.source, from, to - from),
        "this text holds a character that cannot be seen",
        {
          mend: "write the text without a backslash, or take the character out",
        },
      ),
    );
    return { kind: "broken", from, to };
  }
  const raw = c.source.text.slice(from, to);
  const note = comment === undefined ? {} : { comment };
  if (raw === text) {
    const curly = /^[“”‘’](.*)[“”‘’]$/u.exec(text);
    if (curly?.[1] !== undefined) return { kind: "text", from, to, text: curly[1], inner: from + 1, ...note };
    return { kind: "text", from, to, text, inner: from, ...note };
  }
  if (raw.slice(1, -1) === text) return { kind: "text", from, to, text, inner: from + 1, ...note };
  return { kind: "text", from, to, text, ...note };
}

const CONTROL = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]/;

function convertMap(pairs: readonly Pair[], from: number, to: number, flow: boolean, c: Context): Tree {
  const entries: Entry[] = [];
  const seen = new Map<string, number>();
  for (const [i, pair] of pairs.entries()) {
    const key = pair.key as Node | null;
    const keyRange = key?.range ?? [from, from, from];
    const keyText = isScalar(key) ? String(key.value ?? "") : undefined;
    if (key && ornament(key, keyRange[0], c)) continue;
    const keyPlace = sourceAt(c.source, keyRange[0], Math.max(1, keyRange[1] - keyRange[0]));
    if (keyText === undefined || keyText.trim() === "" || CONTROL.test(keyText)) {
      tell(
        c,
        jobFinding("name-unusable", keyPlace, "before a colon stands a plain name, and here there is none", {
          mend: 'write a name, a colon and a space, for example "depth: 8"',
        }),
      );
      continue;
    }
    if (RESERVED.has(keyText.trim().toLowerCase())) {
      tell(
        c,
        jobFinding("name-unusable", keyPlace, `"${keyText}" cannot be used as a name here`, {
          why: "the word has a meaning of its own inside the program",
          mend: "choose another name",
        }),
      );
      continue;
    }
    const value = pair.value as Node | null;
    const empty = value === null || (isScalar(value) && value.source === "");
    if (flow && empty) {
      const trouble = flowTrouble(pairs, i, keyText, keyRange, c);
      if (trouble === "broken") return { kind: "broken", from, to };
      if (trouble) {
        entries.push(trouble);
        continue;
      }
    }
    const same = seen.get(plainKey(keyText));
    if (same !== undefined) {
      tell(
        c,
        jobFinding("name-twice", keyPlace, `"${keyText}" stands twice in the same place`, {
          why: `the first is on line ${sourceAt(c.source, same, 1).line}`,
          mend: "take one of the two out, or give it another name",
        }),
      );
      continue;
    }
    seen.set(plainKey(keyText), keyRange[0]);
    entries.push({
      key: keyText,
      keyFrom: keyRange[0],
      value: empty ? convertEmpty(keyText, keyRange, c) : convert(value, c),
    });
  }
  return { kind: "map", from, to, entries };
}

/** Nothing after the colon, perhaps because a `#` has made a comment of it. */
function convertEmpty(key: string, keyRange: readonly number[], c: Context): Tree {
  const from = keyRange[0] ?? 0;
  const to = keyRange[1] ?? from + 1;
  const after = /^[ \t]*:[ \t]+#([^\n]*)/.exec(c.source.text.slice(to, to + 300));
  const said = after?.[1]?.trim();
  if (after && said !== undefined && said !== "" && !after[1]!.startsWith(" ")) {
    const hash = to + after[0].indexOf("#");
    const number = /^(\d+)$/.exec(said)?.[1];
    tell(
      c,
      jobFinding(
        "hash-begins-comment",
        sourceAt(c.source, hash, said.length + 1),
        `"${key}" is empty: a # begins a comment, and hides what follows it`,
        {
          mend:
            number === undefined
              ? `write the value before the #, or put it in quotes: ${key}: "#${said.slice(0, 30)}"`
              : `write ${key}: no ${number}`,
        },
      ),
    );
    return { kind: "broken", from, to };
  }
  return { kind: "empty", from, to };
}

/** Slips that, inside braces, leave a key without a value: a comma in a number or in a formula, a colon without a space. */
function flowTrouble(
  pairs: readonly Pair[],
  i: number,
  key: string,
  range: readonly number[],
  c: Context,
): Entry | "broken" | undefined {
  const text = c.source.text;
  const at = range[0] ?? 0;
  if (/^\d/.test(key) && text[at - 1] === "," && /\d/.test(text[at - 2] ?? "")) {
    const whole = /\d+$/.exec(text.slice(0, at - 1))?.[0] ?? "";
    tell(
      c,
      jobFinding("decimal-comma", sourceAt(c.source, at - 1, 1), "a comma inside braces begins the next entry", {
        mend: `write decimals with a point: ${whole}.${/^\d+/.exec(key)?.[0] ?? ""}`,
      }),
    );
    return "broken";
  }
  const before = i > 0 ? (pairs[i - 1]?.value as Node | null) : null;
  const opened = isScalar(before) ? String(before.value) : "";
  const open = opened.split("(").length - opened.split(")").length;
  if (open > 0 && /^=|\(/.test(opened)) {
    tell(
      c,
      jobFinding(
        "comma-in-braces",
        sourceAt(c.source, before?.range?.[0] ?? at, opened.length),
        "a comma inside braces ends the formula",
        {
          mend: `write ; for the comma, or put the whole formula in quotes: "${opened}, ${key}"`,
        },
      ),
    );
    return "broken";
  }
  const glued = /^([\p{L}][^:]*):(\S.*)$/u.exec(key);
  if (glued?.[1] !== undefined && glued[2] !== undefined) {
    const colon = at + glued[1].length;
    tell(c, colonSpace(c.source, colon, glued[1], glued[2]));
    const value: Tree = { kind: "text", from: colon + 1, to: at + key.length, text: glued[2], inner: colon + 1 };
    return { key: glued[1], keyFrom: at, value };
  }
  return undefined;
}

/** The finding for a colon that lacks its space. */
export function colonSpace(source: SourceText, colon: number, key: string, value: string): Finding {
  return jobFinding("colon-without-space", sourceAt(source, colon, 1), "a space is missing after the colon", {
    mend: `write "${key}: ${value.slice(0, 40)}"`,
  });
}

function decimalCommaInList(from: number, to: number, comma: number, c: Context): Tree {
  const text = c.source.text;
  const a = /\d+$/.exec(text.slice(0, comma))?.[0] ?? "";
  const b = /^\d+/.exec(text.slice(comma + 1))?.[0] ?? "";
  tell(
    c,
    jobFinding(
      "decimal-comma",
      sourceAt(c.source, comma, 1),
      "a comma without a space stands between two numbers of a list",
      {
        mend: `do you mean ${a}.${b} (write a point), or ${a} and ${b} (write a space after the comma)?`,
      },
    ),
  );
  return { kind: "broken", from, to };
}

/** Offset of the first comma that stands straight between two digits, between items. */
function commaBetween(ranges: readonly (readonly number[] | null | undefined)[], text: string): number | undefined {
  for (const range of ranges.slice(0, -1)) {
    const end = range?.[1] ?? -1;
    if (end > 0 && text[end] === "," && /\d/.test(text[end - 1] ?? "") && /\d/.test(text[end + 1] ?? "")) return end;
  }
  return undefined;
}

/** Anchors, aliases and tags: YAML's own devices, which a job file does without. */
function ornament(n: Node, from: number, c: Context): Tree | undefined {
  const [first, to] = n.range ? [n.range[0], n.range[1]] : [from, from + 1];
  if (isAlias(n)) {
    tell(
      c,
      jobFinding("value-begins-with-sign", sourceAt(c.source, first, to - first), "a value cannot begin with *", {
        mend: "begin a formula with an equals sign: = 2*gap; put other text in quotes",
      }),
    );
    return { kind: "broken", from: first, to };
  }
  const anchored = "anchor" in n && n.anchor !== undefined;
  if (anchored || (n.tag !== undefined && !String(n.tag).startsWith("tag:yaml.org"))) {
    const sign = anchored ? "&" : "!";
    const back = c.source.text.lastIndexOf(sign, first);
    const at = back >= 0 && first - back < 200 ? back : first;
    tell(
      c,
      jobFinding(
        "value-begins-with-sign",
        sourceAt(c.source, at, Math.max(1, first - at)),
        `a value cannot begin with ${sign}`,
        {
          mend: 'put text that begins with it in quotes; parts that are alike are made with "copies" or "mirrored as"',
        },
      ),
    );
    return { kind: "broken", from: first, to };
  }
  return undefined;
}
