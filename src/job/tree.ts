import type { Source } from "../finding.ts";
import { type SourceText, sourceAt } from "./source-text.ts";
import { canonicalKey } from "./words.ts";

/**
 * A job file as maps, lists and texts, each with its place. Filled by `readTree`; read by the schema (as plain data)
 * and by whatever has to point at a line. Every scalar is a text: what it means is for `units` to say.
 */
export type Tree = TextNode | EmptyNode | BrokenNode | ListNode | MapNode;

interface Span {
  /** Offsets in the file. */
  readonly from: number;
  readonly to: number;
}

export interface TextNode extends Span {
  readonly kind: "text";
  readonly text: string;
  /** Offset of the text's first character when the text stands in the file as it is; columns inside it are true. */
  readonly inner?: number;
  /** A comment right behind it, on the same line. */
  readonly comment?: string;
}

/** Nothing stands after the colon. */
export interface EmptyNode extends Span {
  readonly kind: "empty";
}

/** Something that a finding has already been made about: nothing more is said of it. */
export interface BrokenNode extends Span {
  readonly kind: "broken";
}

export interface ListNode extends Span {
  readonly kind: "list";
  readonly items: readonly Tree[];
}

export interface MapNode extends Span {
  readonly kind: "map";
  readonly entries: readonly Entry[];
}

export interface Entry {
  readonly key: string;
  readonly keyFrom: number;
  readonly value: Tree;
}

/** The same tree as plain data, for the schema. Broken nodes become `undefined`, empty ones `null`. */
export function toData(node: Tree): unknown {
  switch (node.kind) {
    case "text":
      return node.text;
    case "empty":
      return null;
    case "broken":
      return undefined;
    case "list":
      return node.items.map(toData);
    case "map":
      return Object.fromEntries(node.entries.map((e) => [e.key, toData(e.value)]));
  }
}

/** True where a finding has been made about something within: what seems to be missing may only be unreadable. */
export function holdsBroken(node: Tree): boolean {
  switch (node.kind) {
    case "broken":
      return true;
    case "list":
      return node.items.some(holdsBroken);
    case "map":
      return node.entries.some((e) => holdsBroken(e.value));
    case "text":
    case "empty":
      return false;
  }
}

/** The entry of a map under a key, as written or under the name that the schema knows it by. */
export function entryOf(node: Tree | undefined, key: string): Entry | undefined {
  if (node?.kind !== "map") return undefined;
  return node.entries.find((e) => e.key === key) ?? node.entries.find((e) => canonicalKey(e.key) === key);
}

/** A step into a tree: a key of a map or an index of a list. */
export type Path = readonly PropertyKey[];

/** What a path leads to. `missing` says that its last step leads nowhere; `node` is then the deepest that exists. */
export interface Found {
  readonly node: Tree;
  readonly entry?: Entry;
  readonly missing: boolean;
}

/** Walks a path as far as it goes. */
export function find(root: Tree, path: Path, rootEntry?: Entry): Found {
  let found: Found = { node: root, missing: false, ...(rootEntry && { entry: rootEntry }) };
  for (const step of path) {
    const node: Tree = found.node;
    if (node.kind === "map") {
      const entry = entryOf(node, String(step));
      if (!entry) return { ...found, missing: true };
      found = { node: entry.value, entry, missing: false };
    } else if (node.kind === "list") {
      const item = node.items[Number(step)];
      if (!item) return { ...found, missing: true };
      found = { node: item, missing: false };
    } else {
      return { ...found, missing: true };
    }
  }
  return found;
}

/** The place of a value, of part of a text, or of a key. */
export function placeOf(s: SourceText, node: Tree, at?: number, length?: number): Source {
  if (node.kind === "text" && at !== undefined && node.inner !== undefined) {
    return sourceAt(s, node.inner + at, length ?? 1);
  }
  return sourceAt(s, node.from, Math.max(1, node.to - node.from));
}

/** The place of a key, or of part of it. */
export function placeOfKey(s: SourceText, entry: Entry, at = 0, length = entry.key.length): Source {
  return sourceAt(s, entry.keyFrom + at, length);
}
