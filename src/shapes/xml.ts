/**
 * A strict reader for the part of XML that drawings use: elements and attributes. Text, comments, processing
 * instructions and CDATA are passed over. It knows no entities but the five of XML itself, so nothing can expand, and
 * it stops at stated limits. Source: W3C, Extensible Markup Language (XML) 1.0, fifth edition.
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
}

/** What is wrong with a text, and at which offset. `hostile`: beyond a limit, or of a kind that is never read. */
export interface XmlFault {
  readonly at: number;
  readonly what: string;
  readonly hostile: boolean;
}

/** Limits: far beyond any drawing of a recess, far below what could fill a computer. */
export const XML_LIMITS = { characters: 16_000_000, elements: 100_000, depth: 100, attributes: 64 } as const;

interface Open {
  readonly name: string;
  readonly at: number;
  readonly attributes: Map<string, XmlAttribute>;
  readonly children: XmlElement[];
}

/** Reads a text into its root element. Cost: O(characters); no recursion, so depth cannot exhaust the stack. */
export function readXml(text: string): { readonly root: XmlElement } | { readonly fault: XmlFault } {
  if (text.length > XML_LIMITS.characters) {
    return fault(0, `it is longer than ${XML_LIMITS.characters} characters`, true);
  }
  const stack: Open[] = [];
  let root: XmlElement | undefined;
  let elements = 0;
  let i = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  while (i < text.length) {
    const next = text.indexOf("<", i);
    const between = next < 0 ? text.length : next;
    if (stack.length === 0 && text.slice(i, between).trim() !== "") {
      return fault(i, "text outside the drawing's one outer element", false);
    }
    if (next < 0) break;
    i = next;
    const skipped = passOver(text, i, root !== undefined || stack.length > 0);
    if (typeof skipped === "object") return { fault: skipped };
    if (skipped > i) {
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
    const tag = readTag(text, i);
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
function passOver(text: string, i: number, begun: boolean): number | XmlFault {
  const until = (mark: string, what: string): number | XmlFault => {
    const end = text.indexOf(mark, i + 2);
    return end < 0 ? { at: i, what: `${what} that never ends`, hostile: false } : end + mark.length;
  };
  if (text.startsWith("<!--", i)) return until("-->", "a comment");
  if (text.startsWith("<?", i)) return until("?>", "an instruction");
  if (text.startsWith("<![CDATA[", i)) return until("]]>", "a text section");
  if (text.startsWith("<!", i)) {
    // A bare document type says nothing that we read; one with declarations could define entities.
    const bare =
      /<!DOCTYPE\s+[\w:.-]+(?:\s+(?:PUBLIC\s+(?:"[^"<>]*"|'[^'<>]*')|SYSTEM)(?:\s+(?:"[^"<>]*"|'[^'<>]*'))?)?\s*>/y;
    bare.lastIndex = i;
    if (!begun && bare.test(text)) return bare.lastIndex;
    return { at: i, what: "a document type with declarations of its own", hostile: true };
  }
  return i;
}

type Tag = { readonly open: Open; readonly empty: boolean; readonly end: number };

function readTag(text: string, at: number): Tag | { readonly fault: XmlFault } {
  const name = /[^\s<>/="'&!?]+/y;
  name.lastIndex = at + 1;
  const called = name.exec(text)?.[0];
  if (called === undefined) return fault(at, "a < that begins no element", false);
  const attributes = new Map<string, XmlAttribute>();
  const open: Open = { name: called, at, attributes, children: [] };
  const attribute = /\s+([^\s<>/="'&]+)\s*=\s*(?:"([^"<]*)"|'([^'<]*)')/y;
  let i = name.lastIndex;
  for (;;) {
    attribute.lastIndex = i;
    const found = attribute.exec(text);
    if (found === null) break;
    const raw = found[2] ?? found[3] ?? "";
    const value = decoded(raw);
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

/** Text with XML's own entities and character numbers put in; undefined when it holds any other entity. */
function decoded(raw: string): string | undefined {
  if (!raw.includes("&")) return raw;
  let known = true;
  const value = raw.replace(/&(?:(lt|gt|amp|quot|apos)|#(\d{1,7})|#x([\da-fA-F]{1,6}));|&/g, (_, word, dec, hex) => {
    if (word !== undefined) return { lt: "<", gt: ">", amp: "&", quot: '"', apos: "'" }[word as "lt"]!;
    const code = dec !== undefined ? Number(dec) : hex !== undefined ? Number.parseInt(hex, 16) : -1;
    if (code < 1 || code > 0x10ffff) {
      known = false;
      return "";
    }
    return String.fromCodePoint(code);
  });
  return known ? value : undefined;
}
