import type { Finding, Outcome } from "../finding.ts";
import type { Affine } from "./affine.ts";
import {
  CLOSED_WITHIN,
  chainFrom,
  firstCrossing,
  gapOf,
  type LoopFault,
  loopFrom,
  regionFrom,
} from "./drawing-loops.ts";
import { type Page, pageOf } from "./drawing-page.ts";
import { type DrawingFault as Fault, placesIn } from "./drawing-place.ts";
import type { DrawnShape } from "./drawing-seen.ts";
import { outlinesOf } from "./drawing-shapes.ts";
import { namesIn, walkDrawing } from "./drawing-walk.ts";
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

/**
 * Reads closed outlines out of an SVG drawing: mm, Y up, zero at the page's lower left corner, so that the drawing
 * reads on the face as it does on the screen. Paths, rectangles, circles, ellipses, polygons and closed polylines,
 * through any nest of groups, repetitions and transforms. Circles stay exact arcs as long as they stay circles; other
 * curves become arcs within 1 µm. Styles say what is hidden, and by the fill rule what is a hole; else they mean nothing.
 *
 * A length without a unit is a pixel, 1/96 in (W3C, CSS Values and Units 3, §6.2), and a note says so.
 */
export function readDrawing(text: string, choice: DrawingChoice): Outcome<Region> {
  const refused = (fault: Fault): Outcome<Region> => ({
    ok: false,
    findings: [placesIn(text, choice.file).finding(fault, "refuse")],
  });
  const opened = openDrawing(text);
  if ("code" in opened) return refused(opened);
  const { svg, page } = opened;
  const walked = walkDrawing(svg, page, choice);
  if ("code" in walked) return refused(walked);
  const drawn = walked.shapes;
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
export function openDrawing(text: string): { readonly svg: XmlElement; readonly page: Page } | Fault {
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
  if (namesIn(svg)(svg) !== "svg") {
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

/**
 * Reads one open path out of an SVG drawing, as `readDrawing` reads closed ones: lines and arcs in mm, Y up, zero at the
 * page's lower left corner, in the direction it was drawn. Neither id nor class given: the one open path in the file.
 */
export function readOpenPath(text: string, choice: DrawingChoice): Outcome<readonly Segment[]> {
  const refused = (fault: Fault): Outcome<readonly Segment[]> => ({
    ok: false,
    findings: [placesIn(text, choice.file).finding(fault, "refuse")],
  });
  const opened = openDrawing(text);
  if ("code" in opened) return refused(opened);
  const { svg, page } = opened;
  const walked = walkDrawing(svg, page, choice);
  if ("code" in walked) return refused(walked);
  const drawn = walked.shapes;
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

function isOpen(shape: DrawnShape): boolean {
  const read = subpathsOf(shape);
  return !("code" in read) && read.subpaths.some((s) => gapOf(s, read.toMm) > CLOSED_WITHIN);
}

/** Says so where the drawing gives no unit. */
function unitNotes(page: Page, svg: XmlElement, text: string, file: string): readonly Finding[] {
  if (page.unitSaid) return [];
  return [placesIn(text, file).finding(unitAssumed(svg), "note")];
}

/** That a drawing gives no unit. */
export function unitAssumed(svg: XmlElement): Fault {
  return {
    code: "drawing-unit-assumed",
    at: svg.at,
    what: "the drawing says no unit, so 1 unit was taken as 1/96 inch (0.2646 mm)",
    mend: 'give the page its size with a unit, such as width="120mm" height="80mm"',
  };
}

/** The outlines meant, or why there is none. */
function choose(drawn: readonly DrawnShape[], choice: DrawingChoice, text: string): readonly DrawnShape[] | Fault {
  const { id, class: named } = choice;
  if (id !== undefined || named !== undefined) {
    const meant = drawn.filter((d) => d.meant);
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
  const closed: DrawnShape[] = [];
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

function listed(drawn: readonly DrawnShape[], text: string): string {
  if (drawn.length === 0) return "found no path, rectangle, circle, ellipse, polygon or polyline in it";
  const places = placesIn(text, "");
  const shown = drawn.slice(0, 8).map(({ element, name }) => {
    const id = element.attributes.get("id");
    const named = element.attributes.get("class");
    const { line, column } = places.of(element.at);
    return `${name}${id === undefined ? "" : ` id "${id.value}"`}${named === undefined ? "" : ` class "${named.value}"`} (line ${line}, column ${column})`;
  });
  return `found ${shown.join(", ")}${drawn.length > shown.length ? ` and ${drawn.length - shown.length} more` : ""}`;
}

function tooMuch(at: number): Fault {
  const what = `the drawing has more than ${MOST_PIECES} pieces`;
  return { code: "drawing-hostile", at, what, mend: "leave out all but the outline that is wanted, or simplify it" };
}

function subpathsOf(shape: DrawnShape): { readonly subpaths: readonly Subpath[]; readonly toMm: Affine } | Fault {
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

function loopsOf(shape: DrawnShape): readonly Loop[] | Fault {
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
