import { tidy } from "../finding.ts";
import { type Affine, determinantOf, NO_TRANSFORM, transformFrom, within } from "./affine.ts";
import { MM_PER_PIXEL, type Page, viewBoxOf, viewMap } from "./drawing-page.ts";
import { type Colouring, FIRST_PAINT, isWhite, type Paint, paintWithin, shareOf } from "./drawing-paint.ts";
import type { DrawingFault } from "./drawing-place.ts";
import { lengthFrom, SHAPE_NAMES, SIZES_OF } from "./drawing-shapes.ts";
import { type Cascade, cascadeOver, classesOf, type Declaration, readStyles } from "./drawing-styles.ts";
import type { XmlAttribute, XmlElement } from "./xml.ts";

/** Which elements of a drawing are meant: that with the id, all of the class, and what stands in them. */
export interface Meant {
  readonly id?: string;
  readonly class?: string;
}

/** A shape as it is seen on the page. */
export interface DrawnShape {
  readonly element: XmlElement;
  readonly name: string;
  readonly meant: boolean;
  /** To mm on the page, Y up; or where a transform stands that cannot be read. */
  readonly toMm: Affine | { readonly badAt: number };
  readonly rule: "nonzero" | "even-odd";
  readonly filled: boolean;
  readonly stroked: boolean;
  /** mm; along a skewed line the middle of its widths. */
  readonly strokeWidth: number;
  /** A stroke without length is seen as a dot. */
  readonly dots: boolean;
  /** The inner or outer page that cuts it off on the screen. */
  readonly frame: PageFrame | undefined;
}

/** The part of a page that is seen: from zero to its size, in units that `toMm` brings to mm. */
export interface PageFrame {
  readonly at: number;
  readonly toMm: Affine;
  readonly width: number;
  readonly height: number;
}

/** Something in the drawing that lines and areas don't show as the screen does. */
export interface Unused extends DrawingFault {
  readonly element: string;
  readonly grade: "caution" | "note";
}

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

const AS_PATHS = "turn it into paths in the drawing program";
const LEFT_OUT: Readonly<Record<string, readonly [what: string, mend: string]>> = {
  text: ["lettering in a drawing is not read", `${AS_PATHS}, or write it as a mark of its own`],
  image: ["a picture within a drawing is not read", "burn the picture as a mark of its own"],
  foreignObject: ["what is not SVG within a drawing is not read", AS_PATHS],
  script: ["scripts in a drawing are not run", "save the drawing as it looks once they have run"],
};
const MOVING: readonly string[] = ["animate", "animateColor", "animateMotion", "animateTransform", "set"];

/** An element that is being looked at, with all that reaches it from outside. */
interface Here {
  readonly element: XmlElement;
  readonly name: string;
  readonly outer: Here | undefined;
  readonly said: ReadonlyMap<string, Declaration>;
  readonly paint: Paint;
  readonly toMm: DrawnShape["toMm"];
  readonly idMet: boolean;
  readonly classMet: boolean;
  readonly uses: number;
  /** Size of the page in its own units, for lengths in per cent. */
  readonly view: { readonly width: number; readonly height: number } | undefined;
  /** Millimetres in a unit by the pages' viewBoxes alone; `fitted` where there is one. */
  readonly unitMm: number;
  readonly fitted: boolean;
  readonly frame: PageFrame | undefined;
}

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

interface Walk {
  readonly nameOf: (element: XmlElement) => string | undefined;
  readonly byId: ReadonlyMap<string, XmlElement>;
  readonly cascade: Cascade;
  readonly meant: Meant;
  readonly hidden: number[];
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

type Listed = Omit<Unused, "code" | "grade"> & Partial<Pick<Unused, "code" | "grade">>;

interface Listing {
  readonly add: (unused: Listed) => void;
  readonly all: () => readonly Unused[];
}

/** Each place once, however often the drawing repeats it. */
function listing(): Listing {
  const found = new Map<string, Unused>();
  return {
    add: (unused) => {
      const key = `${unused.at} ${unused.what}`;
      if (!found.has(key)) found.set(key, { code: "drawing-not-used", grade: "caution", ...unused });
    },
    all: () => [...found.values()].sort((a, b) => a.at - b.at),
  };
}

/** What a page within the page changes for what stands in it. */
type Inner = Partial<Pick<Here, "toMm" | "view" | "unitMm" | "fitted" | "frame">>;

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

/** A transform in a style, or about a point of its own, is not read: such an element stands nowhere. */
function moved(outer: Here["toMm"], element: XmlElement, said: Here["said"]): Here["toMm"] {
  if ("badAt" in outer) return outer;
  const written = element.attributes.get("transform");
  const meant = said.get("transform");
  if (meant !== undefined && meant !== written && meant.value.trim() !== "none") return { badAt: meant.at };
  if (written === undefined || meant !== written) return outer;
  const about = said.get("transform-origin");
  if (about !== undefined && !/^0(?:px)?(?:\s+0(?:px)?)?$/.test(about.value.trim())) return { badAt: about.at };
  const own = written.value.trim() === "none" ? undefined : transformFrom(written.value);
  return own === undefined ? { badAt: written.at } : within(outer, own);
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
  if (state === undefined || !(state.idMet && state.classMet) || !state.paint.visible) return;
  const [what, mend] = MOVING.includes(name)
    ? ["movement in a drawing is not shown", "save the drawing as it is to look"]
    : (LEFT_OUT[name] ?? [`<${name.slice(0, 40)}> is not read`, "draw it with paths"]);
  list.add({ at: child.at, element: name, what, mend });
}

/** What a `use` repeats: its target, shifted; a symbol or an inner page fitted into the size that is asked for. */
function repeated(walk: Walk, here: Here, list: Listing): Here[] | DrawingFault {
  const { element } = here;
  const isMeant = here.idMet && here.classMet;
  const href = element.attributes.get("href") ?? [...element.attributes].find(([name]) => name.endsWith(":href"))?.[1];
  const drop = (at: number, what: string, mend: string): Here[] => {
    if (isMeant) list.add({ at, element: "use", what, mend });
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

/**
 * A page within the page: an inner `svg`, or a symbol with a viewBox.
 * @param sized the element whose width and height count first: the page itself, or what repeats it
 */
function innerPage(walk: Walk, here: Here, page: XmlElement, sized: XmlElement, list: Listing): Inner | undefined {
  const own = (name: string): XmlElement => (sized.attributes.has(name) ? sized : page);
  const isSvg = walk.nameOf(page) === "svg";
  const x = isSvg ? lengthAt(here, page, "x", 0, list) : 0;
  const y = isSvg ? lengthAt(here, page, "y", 0, list) : 0;
  const width = lengthAt(here, own("width"), "width", here.view?.width, list);
  const height = lengthAt(here, own("height"), "height", here.view?.height, list);
  const box = viewBoxOf(page);
  const drop = (at: number, what: string): undefined => {
    if (here.idMet && here.classMet)
      list.add({ at, element: "svg", what: `a page within the page: ${what}`, mend: "draw its shapes in place" });
    return undefined;
  };
  if (box !== undefined && "what" in box) return drop(box.at, box.what);
  if (x === undefined || y === undefined || width === undefined || height === undefined) {
    return drop(page.at, "its size is not known");
  }
  if (!(width > 0 && height > 0)) return drop(page.at, "it has no size");
  const outer = moved(here.toMm, page, walk.cascade.of(page));
  if ("badAt" in outer) return { toMm: outer };
  const toMm = within(outer, { a: 1, b: 0, c: 0, d: 1, e: x, f: y });
  const overflow = page.attributes.get("overflow")?.value;
  const frame = overflow === "visible" || overflow === "auto" ? here.frame : { at: page.at, toMm, width, height };
  if (box === undefined) return { toMm, view: { width, height }, frame };
  const view = viewMap(page, box, width, height);
  if ("what" in view) return drop(view.at, view.what);
  const { unitMm } = here;
  return {
    toMm: within(toMm, view),
    view: { width: box.width, height: box.height },
    unitMm: unitMm * Math.hypot(view.a, view.b),
    fitted: true,
    frame,
  };
}

/** A length of an element in its own units; undefined, and listed, where it cannot be told. */
function lengthAt(
  here: Here,
  element: XmlElement,
  name: string,
  missing: number | undefined,
  list: Listing,
): number | undefined {
  const written = element.attributes.get(name);
  if (written === undefined || written.value.trim() === "auto") return missing;
  const share = /^\s*(\d+\.?\d*|\.\d+)%\s*$/.exec(written.value);
  const whole = name === "x" || name === "width" ? here.view?.width : here.view?.height;
  if (share !== null && whole !== undefined) return (Number(share[1]) / 100) * whole;
  const length = lengthFrom(written.value);
  if (length === undefined) {
    if (here.idMet && here.classMet) list.add(badLength(written.at, here.name, name));
    return undefined;
  }
  return length.pixels;
}

function badLength(at: number, element: string, name: string): Listed {
  return { at, element, what: `${name} is not a length that can be read here`, mend: "write it as a number" };
}

/** A shape with its styles; undefined when it is hidden. */
function shapeFrom(walk: Walk, here: Here, list: Listing): DrawnShape | undefined {
  const { element, name, paint, toMm, said } = here;
  const meant = here.idMet && here.classMet;
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
  const shape: DrawnShape = {
    element,
    name,
    meant,
    toMm,
    rule: paint.rule,
    filled: name !== "line" && isThere(walk, paint.fill, true),
    stroked: isThere(walk, paint.stroke, false) && widthSaid?.pixels !== 0,
    strokeWidth,
    dots: paint.ends !== "butt",
    frame: here.frame,
  };
  if (meant) nameWhatIsLost(walk, here, shape, list);
  return shape;
}

/** Whether an area or a line is coloured at all. */
function isThere(walk: Walk, colouring: Colouring, area: boolean): boolean {
  if (!colouring.opaque || colouring.kind === "none") return false;
  if (colouring.kind === "colour") return true;
  const target = walk.byId.get(colouring.id ?? "");
  const kind = target === undefined ? undefined : walk.nameOf(target);
  if (kind === undefined) return colouring.standIn === true;
  // A pattern's line is still a line; what an area of it shows is another matter.
  return !area || GRADIENTS.includes(kind);
}

const GRADIENTS: readonly string[] = ["linearGradient", "radialGradient", "solidcolor"];

/** Properties that change what is seen of a shape or a whole group. */
const EFFECTS: Readonly<Record<string, string>> = {
  "clip-path": "a cut-out (clip path) is not applied: the shape is taken whole",
  mask: "a mask is not applied: the shape is taken whole",
  filter: "a filter is not applied: the bare shape is taken",
};

function nameWhatIsLost(walk: Walk, here: Here, shape: DrawnShape, list: Listing): void {
  const { element, paint, name } = here;
  const add = (at: number, what: string, mend: string, more: Partial<Unused> = {}): void =>
    list.add({ at, element: name, what, mend, ...more });
  if (shape.filled || shape.stroked) {
    for (let h: Here | undefined = here; h !== undefined; h = h.outer) {
      for (const [property, what] of Object.entries(EFFECTS)) {
        const effect = h.said.get(property);
        if (effect !== undefined && !NO_EFFECT.includes(effect.value.trim().toLowerCase())) {
          list.add({ at: effect.at, element: h.name, what, mend: "cut the shape itself in the drawing program" });
        }
      }
    }
  }
  const scaled = here.fitted && Math.abs(here.unitMm / MM_PER_PIXEL - 1) > 1e-3;
  const physical = scaled ? SIZES_OF[name]!.find((n) => isPhysical(element.attributes.get(n)?.value ?? "")) : undefined;
  if (physical !== undefined) {
    const { value, at } = element.attributes.get(physical)!;
    add(
      at,
      "a length with a unit is scaled along with the page's viewBox",
      "write lengths inside the page without units",
      {
        code: "drawing-unit-scaled",
        why: `${physical}="${value.trim()}" becomes ${tidy((lengthFrom(value)?.pixels ?? 0) * here.unitMm)} mm`,
      },
    );
  }
  for (const child of element.children) {
    const inner = walk.nameOf(child);
    if (inner !== undefined && MOVING.includes(inner)) leftOut(walk, here, child, inner, list);
  }
  if (paint.fill.opaque && paint.fill.kind === "reference" && name !== "line") {
    const { said: where, id } = paint.fill;
    const target = walk.byId.get(id ?? "");
    const kind = target === undefined ? undefined : walk.nameOf(target);
    const at = where?.at ?? element.at;
    if (kind === undefined) {
      const what = `the filling "#${short(id ?? "")}" is not in the drawing`;
      add(at, paint.fill.standIn ? `${what}; the area is taken whole` : what, "give it a plain colour");
    } else if (GRADIENTS.includes(kind)) {
      if (kind !== "solidcolor") {
        add(at, "shades are not kept: the whole shape is area", "burn shades as a picture", {
          grade: "note",
          code: "drawing-shades-lost",
        });
      }
    } else add(at, "a pattern as filling is not read: nothing is filled", `${AS_PATHS}, or give it a plain colour`);
  }
  for (const value of [paint.fill, paint.stroke]) {
    if (value.said !== undefined && /\bvar\(/.test(value.said.value)) {
      add(value.said.at, "a style that stands elsewhere (var) is not looked up", "write the colour itself");
    }
  }
  const light = [...(shape.filled ? [paint.fill] : []), ...(shape.stroked ? [paint.stroke] : [])];
  for (const { said: where } of light) {
    if (where !== undefined && isWhite(where.value)) {
      add(
        where.at,
        "colours mean nothing: what is white is drawn like all else",
        "take it out, or give it the colour none",
        {
          code: "drawing-white",
        },
      );
    }
  }
  if (!shape.stroked) return;
  if (paint.dashes !== undefined && paint.dashes.value.trim() !== "0") {
    add(paint.dashes.at, "dashes are not kept: the line is drawn whole", "draw the dashes one by one");
  }
  if (paint.markers !== undefined && ["line", "path", "polyline", "polygon"].includes(name)) {
    add(paint.markers.at, "marks at a line's points, such as arrow heads, are not read", AS_PATHS);
  }
}

const NO_EFFECT: readonly string[] = ["none", "initial", "inherit", "unset"];

function isPhysical(value: string): boolean {
  return /(?:mm|cm|in|pt|pc|q)\s*$/i.test(value);
}

function short(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
