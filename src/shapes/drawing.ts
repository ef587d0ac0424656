import type { Finding, Outcome, Source } from "../finding.ts";
import { type Affine, transformFrom, within } from "./affine.ts";
import {
  CLOSED_WITHIN,
  chainFrom,
  firstCrossing,
  gapOf,
  type LoopFault,
  loopFrom,
  regionFrom,
} from "./drawing-loops.ts";
import { pageOf } from "./drawing-page.ts";
import { outlinesOf, SHAPE_NAMES } from "./drawing-shapes.ts";
import { MOST_PIECES, type Subpath } from "./path-data.ts";
import type { Loop, Region } from "./region.ts";
import type { Segment } from "./segment.ts";
import { readXml, type XmlElement } from "./xml.ts";

/** Which outlines of a drawing are meant, and what the file is called in findings. */
export interface DrawingChoice {
  readonly file: string;
  /** The element with this id; of a group, all outlines in it. */
  readonly id?: string;
  /** All elements of this class, or in groups of it. Neither given: the one closed outline in the file. */
  readonly class?: string;
}

/** Most lines and arcs that the outlines may become; a wide curve takes some dozens. */
const MOST_SEGMENTS = 100_000;

/** An outline as it stands in the drawing. */
interface Drawn {
  readonly element: XmlElement;
  readonly name: string;
  /** Ids and classes of itself and of the groups it stands in. */
  readonly ids: ReadonlySet<string>;
  readonly classes: ReadonlySet<string>;
  /** To mm on the page; or where a transform stands that cannot be read. */
  readonly toMm: Affine | { readonly badAt: number };
  readonly rule: "nonzero" | "even-odd";
}

type Fault = {
  readonly code: Finding["code"];
  readonly at: number;
  readonly what: string;
  readonly mend: string;
  readonly why?: string;
};

/**
 * Reads closed outlines out of an SVG drawing: mm, Y up, zero at the page's lower left corner, so that the drawing
 * reads on the face as it does on the screen. Paths, rectangles, circles, ellipses, polygons and closed polylines,
 * through any nest of groups and transforms. Circles stay exact arcs as long as they stay circles; other curves become
 * arcs within 1 µm. Colours, strokes and styles mean nothing, but for the fill rule, which says what is a hole.
 *
 * A length without a unit is a pixel, 1/96 in (W3C, CSS Values and Units 3, §6.2), and a note says so.
 */
export function readDrawing(text: string, choice: DrawingChoice): Outcome<Region> {
  const refused = (fault: Fault): Outcome<Region> => ({ ok: false, findings: [findingFor(fault, text, choice.file)] });
  const opened = openDrawing(text);
  if ("code" in opened) return refused(opened);
  const { svg, page } = opened;
  const drawn = collect(svg, page.toMm);
  const chosen = choose(drawn, choice, text);
  if ("code" in chosen) return refused(chosen);
  const shapes: { readonly loops: readonly Loop[]; readonly rule: "nonzero" | "even-odd" }[] = [];
  let segments = 0;
  for (const shape of chosen) {
    const loops = loopsOf(shape);
    if ("code" in loops) return refused(loops);
    shapes.push({ loops, rule: shape.rule });
    segments += loops.reduce((sum, loop) => sum + loop.length, 0);
    if (segments > MOST_SEGMENTS) return refused(tooMuch(shape.element.at));
  }
  const loops = shapes.flatMap((s) => s.loops);
  const first = chosen[0]!.element.at;
  const crossing = firstCrossing(loops);
  if (crossing !== undefined) {
    return refused({
      code: "drawing-crosses-itself",
      at: first,
      what: "the outline crosses or touches itself",
      why: `at X ${crossing.x.toFixed(3)} Y ${crossing.y.toFixed(3)} mm from the page's lower left corner`,
      mend: "draw it so that no part of it crosses another",
    });
  }
  const region = regionFrom(shapes);
  if (region.loops.length === 0) {
    return refused({
      code: "drawing-nothing-usable",
      at: first,
      what: "the outline encloses no area",
      mend: "draw a closed outline",
    });
  }
  return { ok: true, value: region, findings: unitNotes(page, svg, text, choice.file) };
}

/** A drawing's outer element and its page, or why there is none. */
function openDrawing(text: string): { readonly svg: XmlElement; readonly page: Page } | Fault {
  const xml = readXml(text);
  if ("fault" in xml) {
    const { at, what, hostile } = xml.fault;
    return hostile
      ? { code: "drawing-hostile", at, what: `this drawing is not read: ${what}`, mend: "save it as plain SVG" }
      : {
          code: "drawing-not-svg",
          at,
          what: `this is not well-formed SVG: ${what}`,
          mend: "save the drawing again as plain SVG",
        };
  }
  const svg = xml.root;
  if (localName(svg) !== "svg") {
    return {
      code: "drawing-not-svg",
      at: svg.at,
      what: "this is not an SVG drawing",
      mend: "save the drawing as SVG",
      why: `its outer element is <${svg.name}>`,
    };
  }
  const page = pageOf(svg);
  if ("what" in page) {
    return {
      code: "drawing-size",
      at: page.at,
      what: page.what,
      mend: 'give the page a size in mm, such as width="120mm"',
    };
  }
  return { svg, page };
}

type Page = Exclude<ReturnType<typeof pageOf>, { readonly what: string }>;

/**
 * Reads one open path out of an SVG drawing, as `readDrawing` reads closed ones: lines and arcs in mm, Y up, zero at the
 * page's lower left corner, in the direction it was drawn. Neither id nor class given: the one open path in the file.
 */
export function readOpenPath(text: string, choice: DrawingChoice): Outcome<readonly Segment[]> {
  const refused = (fault: Fault): Outcome<readonly Segment[]> => ({
    ok: false,
    findings: [findingFor(fault, text, choice.file)],
  });
  const opened = openDrawing(text);
  if ("code" in opened) return refused(opened);
  const { svg, page } = opened;
  const drawn = collect(svg, page.toMm);
  const byName = choice.id !== undefined || choice.class !== undefined;
  const chosen = byName ? choose(drawn, choice, text) : drawn.filter(isOpen);
  if ("code" in chosen) return refused(chosen);
  const [shape, second] = chosen;
  if (shape === undefined) {
    return refused({
      code: "drawing-nothing-usable",
      at: 0,
      what: "the drawing has no open path",
      why: listed(drawn, text),
      mend: "draw the profile as one open path, from one end to the other",
    });
  }
  if (second !== undefined) {
    return refused({
      code: "drawing-several-outlines",
      at: second.element.at,
      what: `the drawing has ${chosen.length} paths that could be meant`,
      why: listed(chosen, text),
      mend: "name one by its id or class",
    });
  }
  const read = subpathsOf(shape);
  if ("code" in read) return refused(read);
  const [only, more] = read.subpaths;
  if (only === undefined || more !== undefined || !isOpen(shape)) {
    return refused({
      code: "drawing-not-open",
      at: shape.element.at,
      what: "a profile is one open path, and this is none",
      why: only === undefined ? "it is empty" : more === undefined ? "it is closed" : "it is drawn in several pieces",
      mend: "draw it in one piece from end to end, without closing it",
    });
  }
  const made = chainFrom(only, read.toMm);
  if ("fault" in made) return refused(loopFault(made.fault, only.at));
  if (made.chain.length > MOST_SEGMENTS) return refused(tooMuch(shape.element.at));
  return { ok: true, value: made.chain, findings: unitNotes(page, svg, text, choice.file) };
}

function isOpen(shape: Drawn): boolean {
  const read = subpathsOf(shape);
  return !("code" in read) && read.subpaths.some((s) => gapOf(s, read.toMm) > CLOSED_WITHIN);
}

/** Says so where the drawing gives no unit. */
function unitNotes(page: Page, svg: XmlElement, text: string, file: string): readonly Finding[] {
  if (page.unitSaid) return [];
  return [
    findingFor(
      {
        code: "drawing-unit-assumed",
        at: svg.at,
        what: "the drawing says no unit, so 1 unit was taken as 1/96 inch (0.2646 mm)",
        mend: 'give the page its size with a unit, such as width="120mm" height="80mm"',
      },
      text,
      file,
      "note",
    ),
  ];
}

/** Elements whose content is not drawn where it stands. */
const NOT_DRAWN: readonly string[] = [
  "defs",
  "symbol",
  "clipPath",
  "mask",
  "marker",
  "pattern",
  "metadata",
  "style",
  "script",
];

function localName(element: XmlElement): string {
  return element.name.startsWith("svg:") ? element.name.slice(4) : element.name;
}

function collect(svg: XmlElement, toMm: Affine): Drawn[] {
  const found: Drawn[] = [];
  const waiting: Drawn[] = [
    { element: svg, name: "svg", ids: new Set(), classes: new Set(), toMm, rule: ruleOf(svg) ?? "nonzero" },
  ];
  // The reader limits the depth, so inheriting sets costs at most that much an element.
  for (let here = waiting.pop(); here !== undefined; here = waiting.pop()) {
    if (SHAPE_NAMES.includes(here.name)) {
      found.push(here);
      continue;
    }
    for (const child of [...here.element.children].reverse()) {
      const name = localName(child);
      if (!(SHAPE_NAMES.includes(name) || name === "g" || name === "a")) continue;
      if (NOT_DRAWN.includes(name) || child.attributes.get("display")?.value.trim() === "none") continue;
      const id = child.attributes.get("id")?.value;
      const classes = (child.attributes.get("class")?.value ?? "").split(/\s+/).filter((c) => c !== "");
      waiting.push({
        element: child,
        name,
        ids: id === undefined ? here.ids : new Set([...here.ids, id]),
        classes: classes.length === 0 ? here.classes : new Set([...here.classes, ...classes]),
        toMm: transformed(here.toMm, child),
        rule: ruleOf(child) ?? here.rule,
      });
    }
  }
  return found;
}

function transformed(outer: Drawn["toMm"], element: XmlElement): Drawn["toMm"] {
  const written = element.attributes.get("transform");
  if (written === undefined || "badAt" in outer) return outer;
  const own = transformFrom(written.value);
  return own === undefined ? { badAt: written.at } : within(outer, own);
}

function ruleOf(element: XmlElement): "nonzero" | "even-odd" | undefined {
  const styled = /(?:^|;)\s*fill-rule\s*:\s*([a-z]+)/.exec(element.attributes.get("style")?.value ?? "")?.[1];
  const written = styled ?? element.attributes.get("fill-rule")?.value.trim();
  return written === "evenodd" ? "even-odd" : written === "nonzero" ? "nonzero" : undefined;
}

/** The outlines meant, or why there is none. */
function choose(drawn: readonly Drawn[], choice: DrawingChoice, text: string): readonly Drawn[] | Fault {
  const { id, class: named } = choice;
  if (id !== undefined || named !== undefined) {
    const meant = drawn.filter(
      (d) => (id === undefined || d.ids.has(id)) && (named === undefined || d.classes.has(named)),
    );
    if (meant.length > 0) return meant;
    const wanted = [id === undefined ? "" : `id "${id}"`, named === undefined ? "" : `class "${named}"`];
    return {
      code: "drawing-no-such-outline",
      at: 0,
      what: `the drawing has no outline with ${wanted.filter((w) => w !== "").join(" and ")}`,
      why: listed(drawn, text),
      mend: "name one of those by its id or class",
    };
  }
  const closed: Drawn[] = [];
  let pieces = 0;
  for (const shape of drawn) {
    // One that cannot be read counts: the user may mean it, and is then told what is wrong with it.
    const read = subpathsOf(shape);
    if ("code" in read) closed.push(shape);
    else if (read.subpaths.length > 0 && read.subpaths.every((s) => gapOf(s, read.toMm) <= CLOSED_WITHIN))
      closed.push(shape);
    pieces += "code" in read ? 0 : read.subpaths.reduce((sum, s) => sum + s.pieces.length, 0);
    if (pieces > MOST_PIECES) return tooMuch(shape.element.at);
  }
  if (closed.length === 1) return closed;
  return closed.length === 0
    ? {
        code: "drawing-nothing-usable",
        at: 0,
        what: "the drawing has no closed outline",
        why: listed(drawn, text),
        mend: "draw a closed path, rectangle, circle, ellipse or polygon",
      }
    : {
        code: "drawing-several-outlines",
        at: closed[1]!.element.at,
        what: `the drawing has ${closed.length} closed outlines, and the job doesn't say which is meant`,
        why: listed(closed, text),
        mend: "name one by its id or class",
      };
}

function listed(drawn: readonly Drawn[], text: string): string {
  if (drawn.length === 0) return "found no path, rectangle, circle, ellipse, polygon or polyline in it";
  const shown = drawn.slice(0, 8).map(({ element, name }) => {
    const id = element.attributes.get("id");
    const named = element.attributes.get("class");
    const { line, column } = placeOf(element.at, text);
    return `${name}${id === undefined ? "" : ` id "${id.value}"`}${named === undefined ? "" : ` class "${named.value}"`} (line ${line}, column ${column})`;
  });
  return `found ${shown.join(", ")}${drawn.length > shown.length ? ` and ${drawn.length - shown.length} more` : ""}`;
}

function tooMuch(at: number): Fault {
  const what = `the drawing has more than ${MOST_PIECES} pieces`;
  return { code: "drawing-hostile", at, what, mend: "leave out all but the outline that is wanted, or simplify it" };
}

function subpathsOf(shape: Drawn): { readonly subpaths: readonly Subpath[]; readonly toMm: Affine } | Fault {
  if ("badAt" in shape.toMm) {
    return {
      code: "drawing-transform",
      at: shape.toMm.badAt,
      what: "this transform cannot be read",
      mend: "draw the shape in place, without it",
    };
  }
  const read = outlinesOf(shape.element, shape.name);
  if ("fault" in read) {
    const { at, what, tooMuch } = read.fault;
    return tooMuch
      ? { code: "drawing-hostile", at, what: `this outline is not read: ${what}`, mend: "simplify the drawing" }
      : {
          code: "drawing-outline-unreadable",
          at,
          what: `this outline cannot be read: ${what}`,
          mend: "save the drawing again as plain SVG",
        };
  }
  return { subpaths: read.subpaths, toMm: shape.toMm };
}

function loopsOf(shape: Drawn): readonly Loop[] | Fault {
  const read = subpathsOf(shape);
  if ("code" in read) return read;
  const loops: Loop[] = [];
  for (const subpath of read.subpaths) {
    const made = loopFrom(subpath, read.toMm);
    if ("fault" in made) return loopFault(made.fault, subpath.at);
    loops.push(made.loop);
  }
  return loops.length > 0 ? loops : loopFault({ kind: "no area" }, shape.element.at);
}

function loopFault(fault: LoopFault, at: number): Fault {
  switch (fault.kind) {
    case "open":
      return {
        code: "drawing-open",
        at,
        what: "this outline is not closed",
        why: `its ends lie ${fault.gap.toFixed(3)} mm apart`,
        mend: "close the path",
      };
    case "no area":
      return {
        code: "drawing-nothing-usable",
        at,
        what: "this outline encloses no area",
        mend: "draw a closed outline",
      };
    case "too large":
      return {
        code: "drawing-too-large",
        at,
        what: "this outline reaches beyond 10 m",
        mend: "check the drawing's unit and transforms",
      };
  }
}

function findingFor(fault: Fault, text: string, file: string, grade: Finding["grade"] = "refuse"): Finding {
  const { line, column, start } = placeOf(fault.at, text);
  const end = text.indexOf("\n", start);
  // Drawings may hold one line of megabytes: what is shown begins near the place.
  const shown = text.slice(start, Math.min(end < 0 ? text.length : end, start + column + 200)).replace(/\r$/, "");
  const source: Source = { file, line, column, length: 1, text: shown };
  return {
    grade,
    code: fault.code,
    place: { source },
    what: fault.what,
    mend: fault.mend,
    ...(fault.why === undefined ? {} : { why: fault.why }),
  };
}

/** Line and column, from 1, and where the line begins. */
function placeOf(at: number, text: string): { readonly line: number; readonly column: number; readonly start: number } {
  let line = 1;
  let start = 0;
  for (let i = text.indexOf("\n"); i >= 0 && i < at; i = text.indexOf("\n", i + 1)) {
    line++;
    start = i + 1;
  }
  return { line, column: at - start + 1, start };
}
