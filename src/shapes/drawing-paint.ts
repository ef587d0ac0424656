import type { Declaration } from "./drawing-styles.ts";

/** What an element's outlines are, by all styles that reach it. Colours mean nothing but: is there any. */
export interface Paint {
  /** False under `visibility: hidden`; a child may be seen again. */
  readonly visible: boolean;
  readonly fill: Colouring;
  readonly stroke: Colouring;
  readonly rule: "nonzero" | "even-odd";
  /** As written; undefined for the 1 unit that holds when nothing is said. */
  readonly strokeWidth: Declaration | undefined;
  readonly dashes: Declaration | undefined;
  readonly ends: "butt" | "round" | "square";
  /** Marks at a line's points: arrow heads and the like. */
  readonly markers: Declaration | undefined;
}

/** How a line or an area is coloured. */
export interface Colouring {
  readonly kind: "none" | "colour" | "reference";
  /** False when its own opacity is 0. */
  readonly opaque: boolean;
  /** Where it was said; undefined for what holds when nothing is said. */
  readonly said: Declaration | undefined;
  /** Of a reference: the id, and whether something stands in where it leads nowhere. */
  readonly id?: string;
  readonly standIn?: boolean;
}

/** What holds when nothing is said. Source: W3C, SVG 2, §13: areas are filled, lines are not drawn. */
export const FIRST_PAINT: Paint = {
  visible: true,
  fill: { kind: "colour", opaque: true, said: undefined },
  stroke: { kind: "none", opaque: true, said: undefined },
  rule: "nonzero",
  strokeWidth: undefined,
  dashes: undefined,
  ends: "butt",
  markers: undefined,
};

/** The paint within an element, from that around it and what is declared on it. */
export function paintWithin(outer: Paint, said: ReadonlyMap<string, Declaration>): Paint {
  if (!PROPERTIES.some((name) => said.has(name))) return outer;
  const word = (name: string): string | undefined => said.get(name)?.value.trim().toLowerCase();
  const visibility = word("visibility");
  const rule = word("fill-rule");
  const ends = word("stroke-linecap");
  return {
    visible:
      visibility === "visible" || visibility === "initial"
        ? true
        : visibility === "hidden" || visibility === "collapse"
          ? false
          : outer.visible,
    fill: colouringWithin(outer.fill, FIRST_PAINT.fill, said.get("fill"), word("fill-opacity")),
    stroke: colouringWithin(outer.stroke, FIRST_PAINT.stroke, said.get("stroke"), word("stroke-opacity")),
    rule: rule === "evenodd" ? "even-odd" : rule === "nonzero" || rule === "initial" ? "nonzero" : outer.rule,
    strokeWidth: inherited(outer.strokeWidth, said.get("stroke-width")),
    dashes: inherited(outer.dashes, said.get("stroke-dasharray")),
    ends: ends === "butt" || ends === "round" || ends === "square" ? ends : ends === "initial" ? "butt" : outer.ends,
    markers: ["marker", "marker-start", "marker-mid", "marker-end"].reduce(
      (markers, name) => inherited(markers, said.get(name)),
      outer.markers,
    ),
  };
}

const PROPERTIES: readonly string[] = [
  "visibility",
  "fill",
  "fill-opacity",
  "fill-rule",
  "stroke",
  "stroke-opacity",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linecap",
  "marker",
  "marker-start",
  "marker-mid",
  "marker-end",
];

const AS_OUTSIDE: readonly string[] = ["inherit", "unset", "revert"];

/** Undefined also for `none`. */
function inherited(outer: Declaration | undefined, own: Declaration | undefined): Declaration | undefined {
  if (own === undefined) return outer;
  const word = own.value.trim().toLowerCase();
  if (AS_OUTSIDE.includes(word)) return outer;
  return word === "none" || word === "initial" ? undefined : own;
}

function colouringWithin(
  outer: Colouring,
  first: Colouring,
  own: Declaration | undefined,
  opacity: string | undefined,
): Colouring {
  const share = opacity === undefined ? undefined : shareOf(opacity);
  const opaque = share === undefined ? outer.opaque : share > 0;
  if (own === undefined || AS_OUTSIDE.includes(own.value.trim().toLowerCase())) return { ...outer, opaque };
  const value = own.value.trim();
  const word = value.toLowerCase();
  if (word === "initial") return { ...first, opaque };
  // Nothing longer is ever an address of a drawing's own parts.
  const reference = value.length > 500 ? null : /^url\(\s*["']?\s*#([^"')]*?)\s*["']?\s*\)\s*(.*)$/is.exec(value);
  if (reference !== null) {
    const standIn = reference[2]!.trim().toLowerCase();
    return {
      kind: "reference",
      opaque,
      said: own,
      id: reference[1]!,
      standIn: standIn !== "" && !isNothing(standIn),
    };
  }
  return { kind: isNothing(word) ? "none" : "colour", opaque, said: own };
}

/** `none`, or a colour that is seen through. */
function isNothing(word: string): boolean {
  if (word === "none" || word === "transparent") return true;
  if (/^#(?:[\da-f]{3}0|[\da-f]{6}00)$/.test(word)) return true;
  const alpha =
    /^(?:rgba?|hsla?)\((?:[^,/()]*,){3}([^,/()]*)\)$/.exec(word) ??
    /^(?:rgba?|hsla?)\([^/()]*\/([^/()]*)\)$/.exec(word);
  return alpha !== null && shareOf(alpha[1]!) === 0;
}

/** A share as a number or per cent; undefined when it is neither. */
export function shareOf(text: string): number | undefined {
  const found = text.length > 100 ? null : /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(%?)\s*$/i.exec(text);
  return found === null ? undefined : Number(found[1]) / (found[2] === "%" ? 100 : 1);
}

/** True for the colours of paper: white, and what can hardly be told from it. */
export function isWhite(value: string): boolean {
  const word = value.trim().toLowerCase();
  if (["white", "snow", "ivory", "ghostwhite", "floralwhite", "mintcream", "whitesmoke"].includes(word)) return true;
  const hex = /^#([\da-f]{3,4}|[\da-f]{6}|[\da-f]{8})$/.exec(word)?.[1];
  if (hex !== undefined) {
    const wide = hex.length > 4 ? hex : [...hex].map((c) => c + c).join("");
    return [0, 2, 4].every((i) => Number.parseInt(wide.slice(i, i + 2), 16) >= 245);
  }
  const rgb = /^rgba?\(([^()]*)\)$/.exec(word)?.[1];
  if (rgb === undefined) return false;
  const parts = rgb.split(/[\s,/]+/).filter((p) => p !== "");
  return (
    parts.length >= 3 &&
    parts.slice(0, 3).every((p) => (p.endsWith("%") ? Number(p.slice(0, -1)) >= 96 : Number(p) >= 245))
  );
}
