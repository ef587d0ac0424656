/**
 * A strict reader for the part of XML that drawings use: elements, attributes, and the text of style sheets. Other text,
 * comments and processing instructions are passed over. Beside the five entities of XML itself it knows those that a
 * document type gives as plain text, as drawing programs write for their namespaces: never nested, few and short, so
 * nothing can swell. It stops at stated limits. Source: W3C, Extensible Markup Language (XML) 1.0, fifth edition.
 */

/** An attribute's value, and where it begins in the text. */
export interface XmlAttribute {
  readonly value: string;
  readonly at: number;
}

/** An element, with the offset of its `<` in the text. */
export interface XmlElement {
  readonly name: string;
  readonly at: number;
  readonly attributes: ReadonlyMap<string, XmlAttribute>;
  readonly children: readonly XmlElement[];
  /** What a `style` element says, in the pieces that comments part it into; of other elements nothing. */
  readonly text: readonly XmlAttribute[];
}

/** What is wrong with a text, and at which offset. `hostile`: beyond a limit, or of a kind that is never read. */
export interface XmlFault {
  readonly at: number;
  readonly what: string;
  readonly hostile: boolean;
}

/** Limits: far beyond any drawing for a bench, far below what could fill a computer. */
export const XML_LIMITS = {
  characters: 16_000_000,
  elements: 100_000,
  depth: 100,
  attributes: 64,
  entities: 64,
  entityCharacters: 1000,
  /** Characters that all uses of a document's own entities may come to. */
  expanded: 1_000_000,
} as const;

const NO_TEXT: readonly XmlAttribute[] = [];

interface Open {
  readonly name: string;
  readonly at: number;
  readonly attributes: Map<string, XmlAttribute>;
  readonly children: XmlElement[];
  readonly text: readonly XmlAttribute[];
}

/** Entities that a document names itself, and how many characters may still come of them. */
interface Own {
  readonly names: Map<string, string>;
  left: number;
}

/** Reads a text into its root element. Cost: O(characters); no recursion, so depth cannot exhaust the stack. */
export function readXml(text: string): { readonly root: XmlElement } | { readonly fault: XmlFault } {
  if (text.length > XML_LIMITS.characters) {
    return fault(0, `it is longer than ${XML_LIMITS.characters} characters`, true);
  }
  const stack: Open[] = [];
  let root: XmlElement | undefined;
  let elements = 0;
  const own: Own = { names: new Map(), left: XML_LIMITS.expanded };
  /** Keeps text where it is asked for: undefined, or what is wrong with it. */
  const keep = (raw: string, at: number, literal: boolean): XmlFault | undefined => {
    const open = stack[stack.length - 1];
    if (open === undefined || open.text === NO_TEXT || raw === "") return undefined;
    const value = literal ? raw : decoded(raw, own);
    if (value === undefined) return { at, what: "an entity that XML itself does not know", hostile: true };
    (open.text as XmlAttribute[]).push({ value, at });
    return undefined;
  };
  let i = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  while (i < text.length) {
    const next = text.indexOf("<", i);
    const between = next < 0 ? text.length : next;
    if (stack.length === 0 && text.slice(i, between).trim() !== "") {
      return fault(i, "text outside the drawing's one outer element", false);
    }
    const unread = keep(text.slice(i, stack.length === 0 ? i : between), i, false);
    if (unread !== undefined) return { fault: unread };
    if (next < 0) break;
    i = next;
    const skipped = passOver(text, i, root !== undefined || stack.length > 0, own);
    if (typeof skipped === "object") return { fault: skipped };
    if (skipped > i) {
      if (text.startsWith("<![CDATA[", i)) keep(text.slice(i + 9, skipped - 3), i + 9, true);
      i = skipped;
      continue;
    }
    if (text[i + 1] === "/") {
      const close = text.indexOf(">", i);
      const open = stack.pop();
      if (close < 0 || open === undefined || text.slice(i + 2, close).trimEnd() !== open.name) {
        return fault(
          i,
          open === undefined ? "an end tag without a beginning" : `<${open.name}> is not closed here`,
          false,
        );
      }
      i = close + 1;
      if (stack.length > 0) stack[stack.length - 1]!.children.push(open);
      else root = open;
      continue;
    }
    if (root !== undefined) return fault(i, "a second outer element", false);
    if (++elements > XML_LIMITS.elements) return fault(i, `more than ${XML_LIMITS.elements} elements`, true);
    const tag = readTag(text, i, own);
    if ("fault" in tag) return tag;
    i = tag.end;
    if (!tag.empty) {
      if (stack.length >= XML_LIMITS.depth) return fault(tag.open.at, `nested deeper than ${XML_LIMITS.depth}`, true);
      stack.push(tag.open);
    } else if (stack.length > 0) stack[stack.length - 1]!.children.push(tag.open);
    else root = tag.open;
  }
  const unclosed = stack.pop();
  if (unclosed !== undefined) return fault(unclosed.at, `<${unclosed.name}> is never closed`, false);
  if (root === undefined) return fault(0, "there is no element in it", false);
  return { root };
}

function fault(at: number, what: string, hostile: boolean): { readonly fault: XmlFault } {
  return { fault: { at, what, hostile } };
}

/** Where a comment, instruction, CDATA or document type ends; `i` itself when an element stands there. */
function passOver(text: string, i: number, begun: boolean, own: Own): number | XmlFault {
  const until = (mark: string, what: string): number | XmlFault => {
    const end = text.indexOf(mark, i + 2);
    return end < 0 ? { at: i, what: `${what} that never ends`, hostile: false } : end + mark.length;
  };
  if (text.startsWith("<!--", i)) return until("-->", "a comment");
  if (text.startsWith("<?", i)) return until("?>", "an instruction");
  if (text.startsWith("<![CDATA[", i)) return until("]]>", "a text section");
  if (text.startsWith("<!", i)) {
    const end = begun ? undefined : documentType(text, i, own);
    return end ?? { at: i, what: "a document type with declarations of its own", hostile: true };
  }
  return i;
}

/** Where a document type ends that is bare or names nothing but plain texts; these are put into `own`. */
function documentType(text: string, at: number, own: Own): number | undefined {
  const head =
    /<!DOCTYPE\s+[\w:.-]+(?:\s+(?:PUBLIC\s+(?:"[^"<>]*"|'[^'<>]*')|SYSTEM)(?:\s+(?:"[^"<>]*"|'[^'<>]*'))?)?\s*([[>])/y;
  head.lastIndex = at;
  const opened = head.exec(text);
  if (opened === null) return undefined;
  if (opened[1] === ">") return head.lastIndex;
  const entity = /\s*<!ENTITY\s+([\w:.-]{1,100})\s+(?:"([^"<&%]*)"|'([^'<&%]*)')\s*>/y;
  const end = /\s*\]\s*>/y;
  let i = head.lastIndex;
  for (;;) {
    end.lastIndex = i;
    if (end.test(text)) return end.lastIndex;
    entity.lastIndex = i;
    const found = entity.exec(text);
    const value = found?.[2] ?? found?.[3] ?? "";
    if (found === null || own.names.size >= XML_LIMITS.entities || value.length > XML_LIMITS.entityCharacters) {
      return undefined;
    }
    // The first declaration binds: XML 1.0, §4.2.
    if (!own.names.has(found[1]!)) own.names.set(found[1]!, value);
    i = entity.lastIndex;
  }
}

type Tag = { readonly open: Open; readonly empty: boolean; readonly end: number };

function readTag(text: string, at: number, own: Own): Tag | { readonly fault: XmlFault } {
  const name = /[^\s<>/="'&!?]+/y;
  name.lastIndex = at + 1;
  const called = name.exec(text)?.[0];
  if (called === undefined) return fault(at, "a < that begins no element", false);
  const attributes = new Map<string, XmlAttribute>();
  const open: Open = {
    name: called,
    at,
    attributes,
    children: [],
    text: /^(?:[^:]+:)?style$/.test(called) ? [] : NO_TEXT,
  };
  const attribute = /\s+([^\s<>/="'&]+)\s*=\s*(?:"([^"<]*)"|'([^'<]*)')/y;
  let i = name.lastIndex;
  for (;;) {
    attribute.lastIndex = i;
    const found = attribute.exec(text);
    if (found === null) break;
    const raw = found[2] ?? found[3] ?? "";
    const value = decoded(raw, own);
    const valueAt = attribute.lastIndex - raw.length - 1;
    if (value === undefined) return fault(valueAt, "an entity that XML itself does not know", true);
    if (attributes.has(found[1]!)) return fault(valueAt, `${found[1]} is given twice`, false);
    if (attributes.size >= XML_LIMITS.attributes)
      return fault(at, `more than ${XML_LIMITS.attributes} attributes`, true);
    attributes.set(found[1]!, { value, at: valueAt });
    i = attribute.lastIndex;
  }
  const end = /\s*(\/?)>/y;
  end.lastIndex = i;
  const closing = end.exec(text);
  if (closing === null) return fault(i, `<${called}> is not written as XML here`, false);
  return { open, empty: closing[1] === "/", end: end.lastIndex };
}

/** Text with entities and character numbers put in; undefined when it holds one that is not known, or too much. */
function decoded(raw: string, own: Own): string | undefined {
  if (!raw.includes("&")) return raw;
  let known = true;
  const none = (): string => {
    known = false;
    return "";
  };
  const value = raw.replace(/&(?:#(\d{1,7})|#x([\da-fA-F]{1,6})|([\w:.-]{1,100}));|&/g, (_, dec, hex, name) => {
    if (name !== undefined) {
      const plain = PLAIN.get(name);
      if (plain !== undefined) return plain;
      const text = own.names.get(name);
      own.left -= text?.length ?? 0;
      return text === undefined || own.left < 0 ? none() : text;
    }
    const code = dec !== undefined ? Number(dec) : hex !== undefined ? Number.parseInt(hex, 16) : -1;
    return code < 1 || code > 0x10ffff ? none() : String.fromCodePoint(code);
  });
  return known ? value : undefined;
}

/** XML's own. Source: XML 1.0, §4.6. */
const PLAIN: ReadonlyMap<string, string> = new Map([
  ["lt", "<"],
  ["gt", ">"],
  ["amp", "&"],
  ["quot", '"'],
  ["apos", "'"],
]);
