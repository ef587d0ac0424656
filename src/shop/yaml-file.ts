import {
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  visit,
  type YAMLError,
} from "yaml";
import * as z from "zod";
import type { Finding, Outcome, Source } from "../finding.ts";
import type { FindingCode } from "../finding-codes.ts";
import { nearestWord } from "./near.ts";

/** Which codes the findings about one kind of file carry, and what that file is called: "shop file". */
export interface YamlKind {
  readonly what: string;
  readonly notYaml: FindingCode;
  readonly unknownKey: FindingCode;
  readonly missing: FindingCode;
  readonly wrong: FindingCode;
  /** Reads a size in a file that breaks its schema elsewhere, so that all mistakes are told at once. */
  readonly size?: (
    raw: number | string,
    quantity: string,
    path: YamlPath,
    plain: unknown,
    at: Source,
  ) => readonly Finding[];
}

/** Keys and list positions from the file's top to a value. */
export type YamlPath = readonly (string | number)[];

/** A file that fits its schema, and the way from any of its values back to the line it stands on. */
export interface YamlFile<T> {
  readonly value: T;
  /** Where the value at a path stands; where it is absent, the nearest key above it. */
  readonly at: (path: YamlPath) => Source;
  /** The same for the key itself. */
  readonly keyAt: (path: YamlPath) => Source;
}

/** More text than this is no file that someone wrote by hand. */
const LONGEST_TEXT = 256 * 1024;
/** Aliases beyond this are an attempt to blow the file up. */
const MOST_ALIASES = 50;
/** After so many findings the rest helps nobody. */
const MOST_FINDINGS = 50;

/**
 * Reads YAML text through a schema. Gathers every independent mistake, each at its line and column, in plain words, with
 * the nearest known key for an unknown one. Refuses too large files, alias bombs, tags and several documents in one.
 */
export function readYaml<S extends z.ZodType>(
  text: string,
  file: string,
  schema: S,
  kind: YamlKind,
): Outcome<YamlFile<z.output<S>>> {
  if (text.length > LONGEST_TEXT) {
    const at: Source = { file, line: 1, column: 1, length: 1, text: "" };
    const mend = "give the file that you wrote by hand";
    return { ok: false, findings: [refusal(kind.notYaml, at, `the ${kind.what} is too long`, undefined, mend)] };
  }
  const lines = text.split(/\r\n|\n|\r/);
  const counter = new LineCounter();
  const doc = parseDocument(text, { lineCounter: counter, prettyErrors: false, uniqueKeys: true });
  const place = (from: number, to: number): Source => placeOf(file, lines, counter, from, to);

  const broken = [...doc.errors, ...doc.warnings];
  if (broken.length > 0) {
    return { ok: false, findings: broken.slice(0, MOST_FINDINGS).map((e) => yamlFinding(e, kind, place)) };
  }
  const odd = oddities(doc, kind, place);
  if (odd.length > 0) return { ok: false, findings: odd };
  let plain: unknown;
  try {
    plain = doc.toJS({ maxAliasCount: MOST_ALIASES });
  } catch (error) {
    // An alias without its anchor, or too many aliases, shows up only here.
    const why = error instanceof Error ? error.message : String(error);
    const mend = 'write each value out; put text that begins with * or & between quotes ("…")';
    const what = `the ${kind.what} uses * or & in a way that can't be followed`;
    return { ok: false, findings: [refusal(kind.notYaml, place(0, 1), what, why, mend)] };
  }
  const at = (path: YamlPath): Source => sourceOf(doc, path, place, "value");
  const keyAt = (path: YamlPath): Source => sourceOf(doc, path, place, "key");
  const result = schema.safeParse(plain ?? {});
  if (result.success) return { ok: true, value: { value: result.data, at, keyAt }, findings: [] };
  const shape = z.toJSONSchema(schema, { io: "input", unrepresentable: "any" }) as Shape;
  const findings = result.error.issues.flatMap((issue) => [
    ...issueFindings(issue, [], plain, shape, kind, { at, keyAt }),
  ]);
  for (const leaf of sizesIn(plain, shape, [])) {
    findings.push(...(kind.size?.(leaf.raw, leaf.quantity, leaf.path, plain, at(leaf.path)) ?? []));
  }
  findings.sort((a, b) => lineOf(a) - lineOf(b));
  return { ok: false, findings: findings.slice(0, MOST_FINDINGS) };
}

function lineOf(f: Finding): number {
  return f.place.source?.line ?? 0;
}

/** As much of JSON Schema as is needed to know what may stand where. */
interface Shape {
  readonly description?: string;
  readonly quantity?: string;
  readonly properties?: Readonly<Record<string, Shape>>;
  readonly additionalProperties?: Shape | boolean;
  readonly items?: Shape;
  readonly anyOf?: readonly Shape[];
  readonly oneOf?: readonly Shape[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
}

function* issueFindings(
  issue: z.core.$ZodIssue,
  above: YamlPath,
  plain: unknown,
  shape: Shape,
  kind: YamlKind,
  places: Pick<YamlFile<unknown>, "at" | "keyAt">,
): Generator<Finding> {
  const { at, keyAt } = places;
  const path = [...above, ...issue.path.map((k) => (typeof k === "number" ? k : String(k)))];
  const key = path.length === 0 ? undefined : String(path[path.length - 1]);
  // An item of a list is described by its list.
  const described = describe(shape, path) ?? describe(shape, path.slice(0, -1));
  if (issue.code === "invalid_union" && issue.errors.length > 0 && isRecord(valueAt(plain, path))) {
    // Several shapes were possible and a set of keys was given: the one with the fewest complaints was meant.
    const best = [...issue.errors].sort((a, b) => a.length - b.length)[0]!;
    for (const inner of best) yield* issueFindings(inner, path, plain, shape, kind, places);
    return;
  }
  if (issue.code === "unrecognized_keys") {
    for (const unknown of issue.keys) {
      const known = knownKeys(shape, path);
      const near = nearestWord(unknown, known);
      const mend = near === undefined ? `known here: ${known.join(", ")}` : `did you mean "${near}"?`;
      yield refusal(kind.unknownKey, keyAt([...path, unknown]), `"${unknown}" means nothing here`, undefined, mend);
    }
    return;
  }
  if (issue.code === "invalid_key") {
    const mend = "a name has at most 60 letters, on one line";
    yield refusal(kind.wrong, keyAt(path), `"${String(key).slice(0, 40)}" is no name`, undefined, mend);
    return;
  }
  if (valueAt(plain, path) === undefined && key !== undefined) {
    const owner = path.length > 1 ? ` for "${path[path.length - 2]}"` : "";
    yield refusal(
      kind.missing,
      at(path),
      `"${key}" is missing${owner}`,
      undefined,
      described && `${key}: ${described}`,
    );
    return;
  }
  const choices = choicesAt(shape, path);
  const written = valueAt(plain, path);
  // In a word of two or three letters one slip is half the word: all choices are named instead.
  const near = typeof written === "string" && written.length > 3 ? nearestWord(written, choices) : undefined;
  const mend =
    near !== undefined
      ? `did you mean "${near}"?`
      : choices.length > 0
        ? `one of: ${choices.join(", ")}`
        : (described ?? `look at the schema of the ${kind.what}`);
  const what =
    key === undefined ? `the ${kind.what} must be a list of names and values` : `${called(path)} is not understood`;
  yield refusal(kind.wrong, at(path), what, issue.code === "custom" ? issue.message : undefined, mend);
}

/** Every value that stands where the schema wants a size, and could be one. */
function* sizesIn(
  value: unknown,
  shape: Shape,
  path: YamlPath,
): Generator<{ readonly raw: number | string; readonly quantity: string; readonly path: YamlPath }> {
  const here = shapesAt(shape, path);
  const quantity = here.find((s) => s.quantity !== undefined)?.quantity;
  if (quantity !== undefined) {
    if (typeof value === "number" || typeof value === "string") yield { raw: value, quantity, path };
    return;
  }
  // Only what the schema knows is walked, so depth and number are those of the schema's own keys.
  if (isRecord(value) && here.length > 0) {
    for (const [key, inner] of Object.entries(value)) yield* sizesIn(inner, shape, [...path, key]);
  }
}

/** What the value at a path is called: its key, or its place in a list. */
function called(path: YamlPath): string {
  const last = path[path.length - 1]!;
  return typeof last === "number" ? `number ${last + 1} of "${path[path.length - 2]}"` : `"${last}"`;
}

function describe(shape: Shape, path: YamlPath): string | undefined {
  return shapesAt(shape, path)
    .map((s) => s.description)
    .find((d) => d !== undefined);
}

function knownKeys(shape: Shape, path: YamlPath): readonly string[] {
  return [...new Set(shapesAt(shape, path).flatMap((s) => Object.keys(s.properties ?? {})))];
}

function choicesAt(shape: Shape, path: YamlPath): readonly string[] {
  const found = shapesAt(shape, path);
  if (found.some((s) => s.properties || s.items)) return [];
  return found.flatMap((s) => (s.enum ?? (s.const === undefined ? [] : [s.const])).map(String));
}

/** Every shape that may stand at a path, unions opened. */
function shapesAt(shape: Shape, path: YamlPath): readonly Shape[] {
  let here: readonly Shape[] = opened(shape);
  for (const step of path) {
    here = here.flatMap((s) => {
      const next =
        typeof step === "number"
          ? s.items
          : s.properties && Object.hasOwn(s.properties, step)
            ? s.properties[step]
            : typeof s.additionalProperties === "object"
              ? s.additionalProperties
              : undefined;
      return next ? opened(next) : [];
    });
  }
  return here;
}

function opened(shape: Shape): readonly Shape[] {
  return [shape, ...[...(shape.anyOf ?? []), ...(shape.oneOf ?? [])].flatMap(opened)];
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function valueAt(plain: unknown, path: YamlPath): unknown {
  let here: unknown = plain;
  for (const step of path) {
    if (typeof here !== "object" || here === null || !Object.hasOwn(here, step)) return undefined;
    here = (here as Record<string | number, unknown>)[step];
  }
  return here;
}

/** Where the last node along a path that exists stands: its value, or its key where the value is no scalar. */
function sourceOf(
  doc: Document.Parsed,
  path: YamlPath,
  place: (from: number, to: number) => Source,
  wanted: "value" | "key",
): Source {
  let node: Node | null = doc.contents;
  let range: readonly [number, number] = [0, 1];
  for (const [n, step] of path.entries()) {
    const last = n === path.length - 1;
    if (isMap(node)) {
      const pair = node.items.find((p) => String(isScalar(p.key) ? p.key.value : p.key) === String(step));
      if (!pair) break;
      const key = pair.key as Node;
      if (key.range) range = [key.range[0], key.range[1]];
      const value = pair.value as Node | null;
      if (last && wanted === "value" && isScalar(value) && value.range && value.range[1] > value.range[0]) {
        range = [value.range[0], value.range[1]];
      }
      node = value;
    } else if (isSeq(node)) {
      const item = node.items[Number(step)] as Node | undefined;
      if (!item) break;
      if (item.range) range = [item.range[0], item.range[1]];
      node = item;
    } else break;
  }
  return place(range[0], range[1]);
}

function placeOf(file: string, lines: readonly string[], counter: LineCounter, from: number, to: number): Source {
  const pos = counter.linePos(from);
  const line = Math.max(1, pos.line);
  const column = Math.max(1, pos.col);
  const text = lines[line - 1] ?? "";
  const length = Math.max(1, Math.min(to - from, text.length - column + 1));
  return { file, line, column, length, text };
}

/** What the YAML standard allows and nobody means: tags, keys that are no words, anchors on a whole tree. */
function oddities(
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
function yamlFinding(error: YAMLError, kind: YamlKind, place: (from: number, to: number) => Source): Finding {
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

function refusal(
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
