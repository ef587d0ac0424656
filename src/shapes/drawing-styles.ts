import type { XmlAttribute, XmlElement } from "./xml.ts";

/**
 * The part of style sheets that drawings use: rules chosen by type, class, id, their lists, descendants and children;
 * `!important`; comments. All else is named as unread. Sources: W3C, CSS 2.1 §5 and §6.4; SVG 2 §6.2 and §6.6.
 */

/** A property as it was set somewhere. */
export interface Declaration {
  readonly value: string;
  /** Its place in the drawing's text, as near as entities allow. */
  readonly at: number;
}

/** A part of a style sheet that is not read, and why. */
export interface UnreadStyle {
  readonly at: number;
  readonly what: string;
}

/** All rules of a drawing's style sheets, by what their last part asks for first. */
export interface StyleSheet {
  readonly rules: ReadonlyMap<string, readonly Rule[]>;
  readonly unread: readonly UnreadStyle[];
  /** Set when there are more rules than any drawing needs. */
  readonly tooMuchAt?: number;
}

interface Rule {
  /** From the outermost to the element itself. */
  readonly parts: readonly Part[];
  readonly weight: number;
  readonly declarations: readonly Named[];
}

interface Part {
  readonly type: string | undefined;
  readonly ids: readonly string[];
  readonly classes: readonly string[];
  /** True: its element is the parent of the next part's, not any ancestor. */
  readonly child: boolean;
}

interface Named extends Declaration {
  readonly name: string;
  readonly important: boolean;
}

/** Most rules and selectors in all style sheets of a drawing. */
const MOST_RULES = 5000;
/** Characters; longer selectors are of no use to anybody. */
const LONGEST_SELECTOR = 1000;
/** Most comparisons of selectors with elements. */
const MOST_STEPS = 5_000_000;

/** Reads style sheets, in the order in which they stand. */
export function readStyles(texts: readonly XmlAttribute[]): StyleSheet {
  const rules = new Map<string, Rule[]>();
  const unread: UnreadStyle[] = [];
  let count = 0;
  for (const { value, at } of texts) {
    // Comments become spaces, so that places stay what they are.
    const text = value.replace(/\/\*[\s\S]*?(?:\*\/|$)|<!--|-->/g, (c) => " ".repeat(c.length));
    for (const block of blocksOf(text)) {
      if (++count > MOST_RULES) return { rules, unread, tooMuchAt: at + block.at };
      if (block.kind === "unread") {
        unread.push({ at: at + block.at, what: block.what });
        continue;
      }
      const declarations = declarationsIn(block.body, at + block.bodyAt);
      let offset = 0;
      for (const written of block.selectors.split(",")) {
        const place = at + block.at + offset + (written.length - written.trimStart().length);
        offset += written.length + 1;
        const parts = partsOf(written);
        if (parts === undefined) {
          unread.push({ at: place, what: `the rule for "${short(written.trim())}" is of a kind that is not read` });
          continue;
        }
        if (++count > MOST_RULES) return { rules, unread, tooMuchAt: place };
        const key = keyOf(parts[parts.length - 1]!);
        const list = rules.get(key) ?? [];
        rules.set(key, list);
        // Of equal weight the later wins.
        list.push({ parts, weight: weightOf(parts) * MOST_RULES * 2 + count, declarations });
      }
    }
  }
  return { rules, unread };
}

function short(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}

type Block =
  | { readonly kind: "unread"; readonly at: number; readonly what: string }
  | {
      readonly kind: "rule";
      readonly at: number;
      readonly selectors: string;
      readonly body: string;
      readonly bodyAt: number;
    };

/** At-rules that change nothing of lines and areas. */
const HARMLESS = ["charset", "font-face", "namespace", "page"];

function* blocksOf(text: string): Generator<Block> {
  let i = 0;
  for (;;) {
    while (i < text.length && /[\s;}]/.test(text[i]!)) i++;
    if (i >= text.length) return;
    const stop = outside(text, i, text[i] === "@" ? "{;" : "{");
    if (text[i] === "@") {
      const named = /^@([\w-]*)/.exec(text.slice(i, i + 40))![1]!.toLowerCase();
      if (!HARMLESS.includes(named)) yield { kind: "unread", at: i, what: `@${named} in a style sheet is not read` };
      i = stop < text.length && text[stop] === "{" ? closing(text, stop) + 1 : stop + 1;
      continue;
    }
    if (stop >= text.length) {
      yield { kind: "unread", at: i, what: "this part of a style sheet is no rule" };
      return;
    }
    const end = closing(text, stop);
    yield { kind: "rule", at: i, selectors: text.slice(i, stop), body: text.slice(stop + 1, end), bodyAt: stop + 1 };
    i = end + 1;
  }
}

/** Where one of the marks stands next, outside quotes and round brackets; the text's length where none does. */
function outside(text: string, from: number, marks: string): number {
  let depth = 0;
  let quote = "";
  for (let i = from; i < text.length; i++) {
    const c = text[i]!;
    if (quote !== "") {
      if (c === "\\") i++;
      else if (c === quote) quote = "";
    } else if (c === '"' || c === "'") quote = c;
    else if (c === "(") depth++;
    else if (c === ")") depth = Math.max(0, depth - 1);
    else if (depth === 0 && marks.includes(c)) return i;
  }
  return text.length;
}

/** Where the block ends that opens at `open`. */
function closing(text: string, open: number): number {
  let depth = 0;
  for (let i = open; i < text.length; i = outside(text, i + 1, "{}")) {
    depth += text[i] === "{" ? 1 : -1;
    if (depth === 0) return i;
  }
  return text.length;
}

/** The declarations in a rule's body or a `style` attribute. Names are in lower case; values keep theirs. */
function declarationsIn(body: string, at: number): Named[] {
  const found: Named[] = [];
  for (let i = 0; i < body.length; ) {
    while (i < body.length && /[\s;]/.test(body[i]!)) i++;
    const end = outside(body, i, ";");
    const colon = body.slice(i, end).indexOf(":");
    if (colon > 0) {
      const value = body.slice(i + colon + 1, end).trim();
      const mark = value.lastIndexOf("!");
      const important =
        mark >= 0 &&
        value
          .slice(mark + 1)
          .trim()
          .toLowerCase() === "important";
      const said = important ? value.slice(0, mark).trimEnd() : value;
      const name = body
        .slice(i, i + colon)
        .trim()
        .toLowerCase();
      if (said !== "") found.push({ name, value: said, important, at: at + i });
    }
    i = end + 1;
  }
  return found;
}

/** A selector's parts; undefined for kinds that are not read. */
function partsOf(written: string): Part[] | undefined {
  const text = written.trim();
  if (text.length > LONGEST_SELECTOR) return undefined;
  const piece = /\s*(>?)\s*((?:[A-Za-z_][\w-]*|\*)?(?:[.#]-?[A-Za-z_\u0080-\uffff][\w\u0080-\uffff-]*)*)/y;
  const parts: Part[] = [];
  for (let i = 0; i < text.length; i = piece.lastIndex) {
    piece.lastIndex = i;
    const found = piece.exec(text);
    if (found === null || found[2] === "") return undefined;
    // Two simple parts must be parted by a space or by >.
    if (i > 0 && found[1] === "" && !/\s/.test(text[i]!)) return undefined;
    const child = found[1] === ">";
    if (child && parts.length === 0) return undefined;
    if (child) parts.push({ ...parts.pop()!, child: true });
    const [type = ""] = /^[^.#]*/.exec(found[2]!)!;
    const marks = found[2]!.slice(type.length).match(/[.#][^.#]+/g) ?? [];
    parts.push({
      type: type === "" || type === "*" ? undefined : type,
      ids: marks.filter((m) => m.startsWith("#")).map((m) => m.slice(1)),
      classes: marks.filter((m) => m.startsWith(".")).map((m) => m.slice(1)),
      child: false,
    });
  }
  return parts.length > 0 && parts.length <= 20 ? parts : undefined;
}

/** Ids before classes before types. Source: CSS 2.1, §6.4.3. */
function weightOf(parts: readonly Part[]): number {
  return parts.reduce(
    (sum, p) => sum + 10_000 * p.ids.length + 100 * p.classes.length + (p.type === undefined ? 0 : 1),
    0,
  );
}

function keyOf(part: Part): string {
  const [id] = part.ids;
  const [named] = part.classes;
  return id !== undefined ? `#${id}` : named !== undefined ? `.${named}` : (part.type ?? "*");
}

/** Says what holds for an element by all that is written on it and for it. */
export interface Cascade {
  readonly of: (element: XmlElement) => ReadonlyMap<string, Declaration>;
  /** False once more was compared than any drawing asks for; what is said after that is not to be used. */
  readonly withinReason: () => boolean;
}

/**
 * The cascade over a drawing: attributes, below rules by weight and order, below the element's own style; `!important`
 * above all. Selectors look at the elements where they are written, also for what `use` repeats elsewhere.
 * @param nameOf an element's name without its prefix
 */
export function cascadeOver(
  sheet: StyleSheet,
  parentOf: ReadonlyMap<XmlElement, XmlElement>,
  nameOf: (element: XmlElement) => string,
): Cascade {
  const known = new Map<XmlElement, ReadonlyMap<string, Declaration>>();
  let steps = 0;
  const fits = (part: Part, element: XmlElement): boolean => {
    steps++;
    return (
      (part.type === undefined || part.type === nameOf(element)) &&
      part.ids.every((id) => element.attributes.get("id")?.value === id) &&
      (part.classes.length === 0 || part.classes.every((c) => classesOf(element).includes(c)))
    );
  };
  const matches = (parts: readonly Part[], last: number, element: XmlElement): boolean => {
    if (steps > MOST_STEPS || !fits(parts[last]!, element)) return false;
    if (last === 0) return true;
    const above = parts[last - 1]!;
    for (let e = parentOf.get(element); e !== undefined; e = above.child ? undefined : parentOf.get(e)) {
      if (matches(parts, last - 1, e)) return true;
    }
    return false;
  };
  const computed = (element: XmlElement): ReadonlyMap<string, Declaration> => {
    const found = new Map<string, Declaration>();
    for (const [name, attribute] of element.attributes) found.set(name, attribute);
    const id = element.attributes.get("id")?.value;
    const keys = [
      "*",
      nameOf(element),
      ...classesOf(element).map((c) => `.${c}`),
      ...(id === undefined ? [] : [`#${id}`]),
    ];
    const rules = keys
      .flatMap((key) => sheet.rules.get(key) ?? [])
      .filter((rule) => matches(rule.parts, rule.parts.length - 1, element))
      .sort((a, b) => a.weight - b.weight);
    const own = element.attributes.get("style");
    const layers = rules.map((r) => r.declarations);
    if (own !== undefined) layers.push(declarationsIn(own.value, own.at));
    for (const important of [false, true]) {
      for (const layer of layers) {
        for (const d of layer) if (d.important === important) found.set(d.name, d);
      }
    }
    return found;
  };
  return {
    of: (element) => {
      const before = known.get(element);
      if (before !== undefined) return before;
      const found = computed(element);
      known.set(element, found);
      return found;
    },
    withinReason: () => steps <= MOST_STEPS,
  };
}

/** The classes written on an element. */
export function classesOf(element: XmlElement): string[] {
  const written = element.attributes.get("class")?.value;
  return written === undefined ? [] : [...new Set(written.split(/\s+/))].filter((c) => c !== "");
}
