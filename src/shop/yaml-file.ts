import { type Document, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from "yaml";
import * as z from "zod";
import type { Finding, Outcome, Source } from "../finding.ts";
import { closest } from "../units/closest.ts";
import {
  choicesAt,
  describe,
  isRecord,
  knownKeys,
  type Shape,
  sizesIn,
  valueAt,
  type YamlPath,
} from "./schema-shape.ts";
import type { YamlKind } from "./yaml-kind.ts";
import { MOST_ALIASES, MOST_FINDINGS, oddities, refusal, yamlFinding } from "./yaml-trouble.ts";

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
      const near = closest(unknown, known);
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
  const near = typeof written === "string" && written.length > 3 ? closest(written, choices) : undefined;
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

/** What the value at a path is called: its key, or its place in a list. */
function called(path: YamlPath): string {
  const last = path[path.length - 1]!;
  return typeof last === "number" ? `number ${last + 1} of "${path[path.length - 2]}"` : `"${last}"`;
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
