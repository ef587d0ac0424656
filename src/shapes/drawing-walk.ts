import { type Affine, determinantOf, NO_TRANSFORM, within } from "./affine.ts";
import { innerPage, lengthAt, moved } from "./drawing-inner.ts";
import { isThere, LEFT_OUT, nameWhatIsLost } from "./drawing-lost.ts";
import { MM_PER_PIXEL, type Page } from "./drawing-page.ts";
import { FIRST_PAINT, isWhite, paintWithin, shareOf } from "./drawing-paint.ts";
import type { DrawingFault } from "./drawing-place.ts";
import {
  type DrawnShape,
  type Here,
  type Inner,
  isMeant,
  type Listing,
  listing,
  type Meant,
  short,
  type Unused,
  type Walk,
} from "./drawing-seen.ts";
import { lengthFrom, SHAPE_NAMES, SIZES_OF } from "./drawing-shapes.ts";
import { cascadeOver, classesOf, readStyles } from "./drawing-styles.ts";
import type { XmlAttribute, XmlElement } from "./xml.ts";

/** What a drawing holds, in the order of painting. */
export interface Walked {
  readonly shapes: readonly DrawnShape[];
  readonly unused: readonly Unused[];
  /** Meant elements that are hidden, by the offset at which they stand. */
  readonly hidden: readonly number[];
}

/** Most elements met on the way, each repetition counted. */
const MOST_MET = 100_000;
/** Repetitions within repetitions. */
const DEEPEST_USE = 20;

const SVG_SPACE = "http://www.w3.org/2000/svg";

const GROUPS: readonly string[] = ["g", "a", "svg", "switch", "use", "symbol"];

/** Elements that show nothing where they stand. */
const SILENT: readonly string[] = [
  "clipPath",
  "color-profile",
  "cursor",
  "defs",
  "desc",
  "filter",
  "font",
  "font-face",
  "linearGradient",
  "marker",
  "mask",
  "metadata",
  "pattern",
  "radialGradient",
  "solidcolor",
  "style",
  "symbol",
  "title",
  "view",
];

/** The drawing's prefixless names: its own elements; undefined for those of other kinds of file within it. */
export function namesIn(svg: XmlElement): (element: XmlElement) => string | undefined {
  const colon = svg.name.indexOf(":");
  const own = colon < 0 ? "svg" : svg.name.slice(0, colon);
  const space = svg.attributes.get(`xmlns:${own}`)?.value;
  return ({ name, attributes }) => {
    const at = name.indexOf(":");
    if (at < 0) {
      const said = attributes.get("xmlns")?.value;
      return said === undefined || said === SVG_SPACE ? name : undefined;
    }
    const prefix = name.slice(0, at);
    return prefix === "svg" || (prefix === own && space === SVG_SPACE) ? name.slice(at + 1) : undefined;
  };
}

/**
 * Goes through a drawing as a screen would paint it: groups, repetitions, inner pages, styles; every shape that is not
 * hidden, whether meant or not. What the shapes don't tell of the picture is named, as far as it concerns what is meant.
 */
export function walkDrawing(svg: XmlElement, page: Page, meant: Meant): Walked | DrawingFault {
  const nameOf = namesIn(svg);
  const { parents, byId, sheets } = lookedThrough(svg, nameOf);
  const sheet = readStyles(sheets);
  if (sheet.tooMuchAt !== undefined) return hostile(sheet.tooMuchAt, "more style rules than any drawing needs");
  const cascade = cascadeOver(sheet, parents, (e) => nameOf(e) ?? "");
  const list = listing();
  for (const { at, what } of sheet.unread) {
    list.add({ at, element: "style", what, mend: "write the style on the shapes themselves" });
  }
  const shapes: DrawnShape[] = [];
  const hidden: number[] = [];
  const walk: Walk = { nameOf, byId, cascade, meant, hidden };
  const first = entered(walk, undefined, svg, {
    toMm: page.toMm,
    view: page.units,
    unitMm: Math.hypot(page.toMm.a, page.toMm.b),
    fitted: svg.attributes.has("viewBox"),
    frame: page.size === undefined ? undefined : { at: svg.at, toMm: upright(page.size.height), ...page.size },
  });
  const waiting: Here[] = first === undefined ? [] : [first];
  let met = 0;
  for (let here = waiting.pop(); here !== undefined; here = waiting.pop()) {
    if (++met > MOST_MET) return hostile(here.element.at, "it repeats itself too often");
    if (!cascade.withinReason()) return hostile(here.element.at, "its style rules ask for too much");
    if (SHAPE_NAMES.includes(here.name)) {
      const shape = shapeFrom(walk, here, list);
      if (shape !== undefined) shapes.push(shape);
      continue;
    }
    const inner = here.name === "use" ? repeated(walk, here, list) : childrenOf(walk, here, list);
    if ("code" in inner) return inner;
    for (const child of inner.reverse()) waiting.push(child);
  }
  return { shapes, unused: list.all(), hidden };
}

function hostile(at: number, why: string): DrawingFault {
  const what = `this drawing is not read: ${why}`;
  return { code: "drawing-hostile", at, what, mend: "simplify the drawing, or save it as plain SVG" };
}

function upright(height: number): Affine {
  return { a: 1, b: 0, c: 0, d: -1, e: 0, f: height };
}

function lookedThrough(svg: XmlElement, nameOf: (element: XmlElement) => string | undefined) {
  const parents = new Map<XmlElement, XmlElement>();
  const byId = new Map<string, XmlElement>();
  const sheets: XmlAttribute[] = [];
  const waiting = [svg];
  for (let e = waiting.pop(); e !== undefined; e = waiting.pop()) {
    const id = e.attributes.get("id")?.value;
    if (id !== undefined && !byId.has(id)) byId.set(id, e);
    if (nameOf(e) === "style") sheets.push(...e.text);
    for (let i = e.children.length - 1; i >= 0; i--) {
      parents.set(e.children[i]!, e);
      waiting.push(e.children[i]!);
    }
  }
  return { parents, byId, sheets };
}

/** Steps into an element; undefined when it and all in it is hidden. */
function entered(walk: Walk, outer: Here | undefined, element: XmlElement, inner: Inner = {}): Here | undefined {
  const name = walk.nameOf(element) ?? "";
  const said = walk.cascade.of(element);
  const { id, class: named } = walk.meant;
  const idMet = (outer?.idMet ?? id === undefined) || element.attributes.get("id")?.value === id;
  const classMet =
    (outer?.classMet ?? named === undefined) || (named !== undefined && classesOf(element).includes(named));
  const opacity = said.get("opacity");
  const gone =
    said.get("display")?.value.trim().toLowerCase() === "none" ||
    (opacity !== undefined && (shareOf(opacity.value) ?? 1) <= 0);
  if (gone) {
    if (idMet && classMet) walk.hidden.push(element.at);
    return undefined;
  }
  return {
    element,
    name,
    outer,
    said,
    paint: paintWithin(outer?.paint ?? FIRST_PAINT, said),
    toMm: inner.toMm ?? (outer === undefined ? NO_TRANSFORM : moved(outer.toMm, element, said)),
    idMet,
    classMet,
    uses: outer === undefined ? 0 : outer.uses + (outer.name === "use" ? 1 : 0),
    view: "view" in inner ? inner.view : outer?.view,
    unitMm: inner.unitMm ?? outer?.unitMm ?? MM_PER_PIXEL,
    fitted: inner.fitted ?? outer?.fitted ?? false,
    frame: "frame" in inner ? inner.frame : outer?.frame,
  };
}

function childrenOf(walk: Walk, here: Here, list: Listing): Here[] {
  const inside: Here[] = [];
  for (const child of here.element.children) {
    const name = walk.nameOf(child);
    if (name === undefined || SILENT.includes(name)) continue;
    if (name === "svg") {
      const page = innerPage(walk, here, child, child, list);
      const next = page === undefined ? undefined : entered(walk, here, child, page);
      if (next !== undefined) inside.push(next);
    } else if (SHAPE_NAMES.includes(name) || GROUPS.includes(name)) {
      // Of a switch the first child is seen that asks for nothing special.
      const asks = ["requiredExtensions", "requiredFeatures", "systemLanguage"].some((a) => child.attributes.has(a));
      if (here.name === "switch" && asks) continue;
      const next = entered(walk, here, child);
      if (next !== undefined) inside.push(next);
    } else if (here.name !== "switch") leftOut(walk, here, child, name, list);
    if (here.name === "switch" && inside.length > 0) break;
  }
  return inside;
}

function leftOut(walk: Walk, here: Here, child: XmlElement, name: string, list: Listing): void {
  const state = entered(walk, here, child);
  if (state === undefined || !isMeant(state) || !state.paint.visible) return;
  const [what, mend] = LEFT_OUT[name] ?? [`<${short(name)}> is not read`, "draw it with paths"];
  list.add({ at: child.at, element: name, what, mend });
}

/** What a `use` repeats: its target, shifted; a symbol or an inner page fitted into the size that is asked for. */
function repeated(walk: Walk, here: Here, list: Listing): Here[] | DrawingFault {
  const { element } = here;
  const meant = isMeant(here);
  const href = element.attributes.get("href") ?? [...element.attributes].find(([name]) => name.endsWith(":href"))?.[1];
  const drop = (at: number, what: string, mend: string): Here[] => {
    if (meant) list.add({ at, element: "use", what, mend });
    return [];
  };
  if (href === undefined) return drop(element.at, "this repetition doesn't say what it repeats", "take it out");
  const address = href.value.trim();
  if (!address.startsWith("#")) {
    return drop(href.at, "what it repeats stands in another file", "copy that shape into this drawing");
  }
  const target = walk.byId.get(address.slice(1));
  if (target === undefined) return drop(href.at, `nothing here has the id "${short(address.slice(1))}"`, "take it out");
  for (let h: Here | undefined = here; h !== undefined; h = h.outer) {
    if (h.element === target) {
      return {
        code: "drawing-repeats-itself",
        at: href.at,
        what: "this repeats a thing that contains it, without end",
        mend: "let it repeat something else, or take it out",
      };
    }
  }
  if (here.uses >= DEEPEST_USE) {
    return hostile(element.at, `repetitions within repetitions, more than ${DEEPEST_USE} deep`);
  }
  const name = walk.nameOf(target);
  const x = lengthAt(here, element, "x", 0, list);
  const y = lengthAt(here, element, "y", 0, list);
  if (x === undefined || y === undefined) return [];
  const shift = { a: 1, b: 0, c: 0, d: 1, e: x, f: y };
  const shifted: Here = { ...here, toMm: "badAt" in here.toMm ? here.toMm : within(here.toMm, shift) };
  if (name === "svg" || (name === "symbol" && target.attributes.has("viewBox"))) {
    const inner = innerPage(walk, shifted, target, element, list);
    const next = inner === undefined ? undefined : entered(walk, shifted, target, inner);
    return next === undefined ? [] : [next];
  }
  if (name === undefined || !(SHAPE_NAMES.includes(name) || GROUPS.includes(name))) {
    if (name !== undefined && !SILENT.includes(name)) leftOut(walk, shifted, target, name, list);
    return [];
  }
  const next = entered(walk, shifted, target);
  return next === undefined ? [] : [next];
}

/** A shape with its styles; undefined when it is hidden. */
function shapeFrom(walk: Walk, here: Here, list: Listing): DrawnShape | undefined {
  const { element, name, paint, toMm, said } = here;
  const meant = isMeant(here);
  if (!paint.visible) {
    if (meant) walk.hidden.push(element.at);
    return undefined;
  }
  const inStyle = [...SIZES_OF[name]!, ...(name === "path" ? ["d"] : [])]
    .map((n) => ({ own: element.attributes.get(n), meant: said.get(n) }))
    .find((s) => s.meant !== s.own && s.meant?.value.trim() !== "auto")?.meant;
  if (inStyle !== undefined) {
    const what = "a size or outline given in a style is not read";
    if (meant) list.add({ at: inStyle.at, element: name, what, mend: "write it as an attribute of the shape" });
    return undefined;
  }
  const widthSaid = paint.strokeWidth === undefined ? undefined : lengthFrom(paint.strokeWidth.value);
  const grown = "badAt" in toMm ? 0 : Math.sqrt(Math.abs(determinantOf(toMm)));
  const strokeWidth = (paint.strokeWidth === undefined ? 1 : (widthSaid?.pixels ?? 1)) * grown;
  const filled = name !== "line" && isThere(walk, paint.fill, true);
  const shape: DrawnShape = {
    element,
    name,
    meant,
    toMm,
    rule: paint.rule,
    filled,
    bare: filled && walk.meant.whiteIsBare === true && isWhite(paint.fill.said?.value ?? ""),
    stroked: isThere(walk, paint.stroke, false) && widthSaid?.pixels !== 0,
    strokeWidth,
    dots: paint.ends !== "butt",
    frame: here.frame,
  };
  if (meant) nameWhatIsLost(walk, here, shape, list);
  return shape;
}
