import type { Finding, Outcome } from "../finding.ts";
import { tidy } from "../finding.ts";
import { type Affine, applyAffine, determinantOf, within } from "./affine.ts";
import { openDrawing, unitAssumed } from "./drawing.ts";
import { type FilledShape, unitedArea } from "./drawing-area.ts";
import { chainFrom, closedChain, endGapOf, SAME_POINT } from "./drawing-loops.ts";
import { type DrawingFault, placesIn, type TextPlaces } from "./drawing-place.ts";
import type { DrawnShape, PageFrame, Unused } from "./drawing-seen.ts";
import { outlinesOf } from "./drawing-shapes.ts";
import { type Walked, walkDrawing } from "./drawing-walk.ts";
import type { Subpath } from "./path-data.ts";
import type { Box } from "./point.ts";
import type { Region } from "./region.ts";
import { boundsOf, line, type Segment } from "./segment.ts";

/** What is wanted of a drawing, and what the file is called in findings. */
export interface DrawingWish {
  readonly file: string;
  /** The element with this id, and all in it. */
  readonly id?: string;
  /** All elements of this class, and all in them. Neither given: the whole drawing. */
  readonly class?: string;
  /** True: what is filled with white lets bare wood be seen through all beneath it. Else white is a colour like others. */
  readonly whiteIsBare?: boolean;
  /** The size on the wood, mm; the other side follows. Not given: as large as the drawing says. */
  readonly size?: { readonly by: "width" | "height"; readonly mm: number };
  /** Farthest that lines and arcs stray from what is drawn, mm, above 0; 0.005 when not given. */
  readonly tolerance?: number;
}

/** A drawing as lines for a point and as area, mm, Y up, zero at the page's lower left corner. */
export interface ImportedDrawing {
  /** What is stroked, in the order of painting; a closed chain ends, bit for bit, where it began. */
  readonly chains: readonly (readonly Segment[])[];
  /** All that is filled, whatever lies over it; less what is white, where the wish says so. */
  readonly region: Region;
  /** What could not be used, or not all of it, in the order of the file. */
  readonly unused: readonly UnusedElement[];
  /** Around lines and area; lines count as having no width. */
  readonly box: Box;
}

/** Something that lines and area don't show as the screen does. */
export interface UnusedElement {
  readonly line: number;
  readonly column: number;
  readonly element: string;
  readonly why: string;
}

const TOLERANCE_UNSAID = 0.005;
/** Most pieces that may be drawn, and most lines and arcs they may become. */
const MOST_PIECES = 100_000;
const MOST_SEGMENTS = 100_000;
/** Of findings that say the same, this many places are told one by one. */
const MOST_ALIKE = 3;
/** Lines wider than this on the wood, mm, are worth a word: a point follows their middle. */
const BROAD = 1;
/** What reaches this little beyond its page, mm, does so by rounding. */
const ON_PAGE = 1e-6;

/**
 * Reads any SVG drawing: all shapes, transforms, repetitions (`use`), inner pages, styles as far as they say what is
 * hidden, what is line and what is area. Circles stay exact arcs as long as they stay circles; other curves become arcs
 * within the tolerance. Areas of all colours are united; colours mean nothing, but for white where the wish says so. What lines and areas cannot show is listed
 * and told as a finding with line and column. Refused are texts that are no SVG, that are beyond all measure, and drawings
 * (or parts asked for) that show neither line nor area.
 * Source: W3C, SVG 1.1 second edition; SVG 2 for styles and inner pages.
 */
export function importDrawing(text: string, wish: DrawingWish): Outcome<ImportedDrawing> {
  const tolerance = wish.tolerance ?? TOLERANCE_UNSAID;
  if (!(tolerance > 0 && Number.isFinite(tolerance))) throw new RangeError(`a tolerance of ${tolerance} mm`);
  if (wish.size !== undefined && !(wish.size.mm > 0)) throw new RangeError(`a size of ${wish.size.mm} mm`);
  const places = placesIn(text, wish.file);
  const refused = (fault: DrawingFault): Outcome<ImportedDrawing> => ({
    ok: false,
    findings: [places.finding(fault, "refuse")],
  });
  const opened = openDrawing(text);
  if ("code" in opened) return refused(opened);
  const { svg, page } = opened;
  const walked = walkDrawing(svg, page, wish);
  if ("code" in walked) return refused(walked);
  const outlined = outlinesIn(walked);
  if ("code" in outlined) return refused(outlined);
  const { outlines } = outlined;
  const lost = [...walked.unused, ...outlined.unused];
  if (text.slice(0, svg.at).includes("<?xml-stylesheet")) lost.push(otherSheet(text));
  if (outlines.length === 0) return refused(nothing(walked, wish, lost, places));
  const grown = wish.size === undefined ? 1 : growthFor(outlines, wish.size, tolerance);
  if (typeof grown === "object") return refused(grown);
  const made = drawn(outlines, scaledBy(grown), tolerance / 2);
  if ("code" in made) return refused(made);
  const area = unitedArea(made.filled, tolerance / 2);
  if (area === undefined) {
    return refused({
      code: "drawing-hostile",
      at: outlines[0]!.shape.element.at,
      what: "this drawing is not read: its areas cross each other too often",
      mend: "unite the areas in the drawing program, or draw lines instead of areas",
    });
  }
  lost.push(...made.unused, ...wideLines(outlines, grown));
  const sorted = lost.sort((a, b) => a.at - b.at);
  const findings = [
    ...(page.unitSaid || wish.size !== undefined ? [] : [places.finding(unitAssumed(svg), "note")]),
    ...told(sorted, places),
  ];
  const box = boxAround([...made.chains, ...area.loops]);
  if (box === undefined) return refused(nothing(walked, wish, lost, places));
  const unused = sorted.map((u) => ({ ...places.of(u.at), element: u.element, why: u.what }));
  return { ok: true, findings, value: { chains: made.chains, region: area, unused, box } };
}

/**
 * How much larger than drawn the wish makes a drawing. Curves are fitted at the size they will have on the wood, so what
 * is measured here, at a handy size, is thrown away.
 */
function growthFor(
  outlines: readonly Outlined[],
  { by, mm }: NonNullable<DrawingWish["size"]>,
  tolerance: number,
): number | DrawingFault {
  const points = outlines.flatMap(({ subpaths, toMm }) => subpaths.map((s) => applyAffine(toMm, s.start)));
  const ends = outlines.flatMap(({ subpaths, toMm }) =>
    subpaths.flatMap((s) => s.pieces.map((p) => applyAffine(toMm, p.to))),
  );
  const all = [...points, ...ends];
  const middle = all.reduce((sum, p) => ({ x: sum.x + p.x / all.length, y: sum.y + p.y / all.length }), { x: 0, y: 0 });
  const reach = all.reduce((most, p) => Math.max(most, Math.abs(p.x - middle.x), Math.abs(p.y - middle.y)), 0);
  const handy = reach > 0 ? 100 / reach : 1;
  const made = drawn(outlines, { ...scaledBy(handy), e: -handy * middle.x, f: -handy * middle.y }, tolerance);
  if ("code" in made) return made;
  const own =
    made.box === undefined ? 0 : by === "width" ? made.box.max.x - made.box.min.x : made.box.max.y - made.box.min.y;
  if (own > 1e-6) return (handy * mm) / own;
  const [short, long, other] = by === "width" ? ["width", "wide", "height"] : ["height", "high", "width"];
  return {
    code: "drawing-size",
    at: outlines[0]!.shape.element.at,
    what: `the drawing has no ${short}, so it cannot be made ${tidy(mm)} mm ${long}`,
    mend: `give its ${other} instead`,
  };
}

function scaledBy(factor: number): Affine {
  return { a: factor, b: 0, c: 0, d: factor, e: 0, f: 0 };
}

interface Outlined {
  readonly shape: DrawnShape;
  readonly toMm: Affine;
  readonly subpaths: readonly Subpath[];
}

/** The outlines of the shapes that are meant and seen. */
function outlinesIn(
  walked: Walked,
): { readonly outlines: readonly Outlined[]; readonly unused: readonly Unused[] } | DrawingFault {
  const outlines: Outlined[] = [];
  const unused = new Map<number, Unused>();
  let pieces = 0;
  for (const shape of walked.shapes) {
    if (!shape.meant || !(shape.filled || shape.stroked)) continue;
    const { element, name, toMm } = shape;
    if ("badAt" in toMm) {
      unused.set(toMm.badAt, {
        code: "drawing-not-used",
        grade: "caution",
        at: toMm.badAt,
        element: name,
        what: "this transform cannot be read: what it moves is left out",
        mend: "draw the shape in place, or write the transform as an attribute",
      });
      continue;
    }
    const read = outlinesOf(element, name, MOST_PIECES);
    if ("fault" in read) {
      const { at, what, tooMuch } = read.fault;
      if (tooMuch) {
        return { code: "drawing-hostile", at, what: `this drawing is not read: ${what}`, mend: "simplify the drawing" };
      }
      unused.set(at, {
        code: "drawing-not-used",
        grade: "caution",
        at,
        element: name,
        what: `this ${name} is left out: ${what}`,
        mend: "draw it again, or save the drawing as plain SVG",
      });
      continue;
    }
    pieces += read.subpaths.reduce((sum, s) => sum + s.pieces.length, 0);
    if (pieces > MOST_PIECES) return tooMuch(element.at, `more than ${MOST_PIECES} pieces`);
    if (read.subpaths.length > 0) outlines.push({ shape, toMm, subpaths: read.subpaths });
  }
  return { outlines, unused: [...unused.values()] };
}

function tooMuch(at: number, what: string): DrawingFault {
  return { code: "drawing-hostile", at, what: `this drawing is not read: ${what}`, mend: "simplify the drawing" };
}

interface Drawn {
  readonly chains: readonly (readonly Segment[])[];
  readonly filled: readonly FilledShape[];
  readonly unused: readonly Unused[];
  readonly box: Box | undefined;
}

/** Outlines as lines and arcs in mm, seen through one more map. */
function drawn(outlines: readonly Outlined[], last: Affine, tolerance: number): Drawn | DrawingFault {
  const chains: (readonly Segment[])[] = [];
  const filled: FilledShape[] = [];
  const unused: Unused[] = [];
  const off = new Set<number>();
  let segments = 0;
  for (const { shape, toMm: own, subpaths } of outlines) {
    const toMm = within(last, own);
    const loops: (readonly Segment[])[] = [];
    let reach: Box | undefined;
    for (const subpath of subpaths) {
      const made = chainFrom(subpath, toMm, tolerance);
      if ("fault" in made) {
        return {
          code: "drawing-too-large",
          at: subpath.at,
          what: "this drawing reaches beyond 10 m",
          mend: "check its unit, its transforms and its size",
        };
      }
      segments += made.chain.length;
      if (segments > MOST_SEGMENTS) return tooMuch(shape.element.at, `more than ${MOST_SEGMENTS} lines and arcs`);
      if (made.chain.length === 0) {
        if (shape.stroked && shape.dots) unused.push(dot(subpath.at, shape.name));
        continue;
      }
      const closed = closedChain(made.chain);
      reach = boxAround([made.chain, ...(reach === undefined ? [] : [[line(reach.min, reach.max)]])]);
      if (shape.stroked) chains.push(subpath.closed || endGapOf(made.chain) < SAME_POINT ? closed : made.chain);
      if (shape.filled && !isFlat(closed)) loops.push(closed);
    }
    if (loops.length > 0) filled.push({ loops, rule: shape.rule, bare: shape.bare });
    const { frame } = shape;
    if (frame !== undefined && reach !== undefined && !off.has(frame.at) && reachesBeyond(frame, last, reach)) {
      off.add(frame.at);
      unused.push(offPage(shape));
    }
  }
  return {
    chains,
    filled,
    unused,
    box: boxAround([...chains, ...filled.filter((f) => !f.bare).flatMap((f) => f.loops)]),
  };
}

/** There and back along one line. */
function isFlat(loop: readonly Segment[]): boolean {
  return loop.length < 2 || (loop.length === 2 && loop.every((s) => s.kind === "line"));
}

/** One of the shape's pages, through which more of it is seen than on the screen. */
function reachesBeyond(frame: PageFrame, last: Affine, reach: Box): boolean {
  const { a, b, c, d, e, f } = within(last, frame.toMm);
  const det = determinantOf({ a, b, c, d, e, f });
  const slack = ON_PAGE / Math.sqrt(Math.abs(det));
  const { min, max } = reach;
  return [min, max, { x: min.x, y: max.y }, { x: max.x, y: min.y }].some(({ x, y }) => {
    const across = (d * (x - e) - c * (y - f)) / det;
    const down = (a * (y - f) - b * (x - e)) / det;
    return across < -slack || down < -slack || across > frame.width + slack || down > frame.height + slack;
  });
}

function offPage({ element, name }: DrawnShape): Unused {
  return {
    code: "drawing-off-the-page",
    grade: "caution",
    at: element.at,
    element: name,
    what: "this reaches beyond the page: on the screen it is cut off there, here it is drawn whole",
    mend: "make the page larger, or take away what lies outside",
  };
}

function dot(at: number, element: string): Unused {
  const what = "a dot drawn as a line without length is left out";
  return { code: "drawing-not-used", grade: "caution", at, element, what, mend: "draw a small circle" };
}

function otherSheet(text: string): Unused {
  return {
    code: "drawing-not-used",
    grade: "caution",
    at: text.indexOf("<?xml-stylesheet"),
    element: "xml-stylesheet",
    what: "a style sheet in another file is not read",
    mend: "put the styles into the drawing",
  };
}

/** One word on lines so broad that following their middle is not what the screen shows. */
function wideLines(outlines: readonly Outlined[], grown: number): Unused[] {
  const widthOf = ({ shape }: Outlined): number => (shape.stroked ? shape.strokeWidth * grown : 0);
  const widest = outlines.reduce((a, b) => (widthOf(b) > widthOf(a) ? b : a));
  if (widthOf(widest) <= BROAD) return [];
  return [
    {
      code: "drawing-line-width",
      grade: "note",
      at: widest.shape.element.at,
      element: widest.shape.name,
      what: "lines are followed along their middle: their width is not kept",
      why: `the widest is ${tidy(widthOf(widest))} mm on the wood`,
      mend: "where the width matters, turn the line into an area in the drawing program",
    },
  ];
}

function boxAround(chains: readonly (readonly Segment[])[]): Box | undefined {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const chain of chains) {
    for (const s of chain) {
      const { min, max } = boundsOf(s);
      x0 = Math.min(x0, min.x);
      y0 = Math.min(y0, min.y);
      x1 = Math.max(x1, max.x);
      y1 = Math.max(y1, max.y);
    }
  }
  return x0 > x1 ? undefined : { min: { x: x0, y: y0 }, max: { x: x1, y: y1 } };
}

/** Findings for what is lost: the same thing once, with the places of a few and the number of the rest. */
function told(lost: readonly Unused[], places: TextPlaces): Finding[] {
  const alike = new Map<string, Unused[]>();
  for (const u of lost) {
    const key = `${u.code} ${u.what}`;
    const group = alike.get(key) ?? [];
    alike.set(key, group);
    group.push(u);
  }
  return [...alike.values()].flatMap((group) => {
    const shown = group.slice(0, MOST_ALIKE);
    const rest = group.length - shown.length;
    return shown.map((u, i) => {
      const more = i === shown.length - 1 && rest > 0 ? `and in ${rest} more places` : "";
      const why = [u.why ?? "", more].filter((w) => w !== "").join("; ");
      return places.finding({ ...u, ...(why === "" ? {} : { why }) }, u.grade);
    });
  });
}

/** Why nothing came of what was asked for. */
function nothing(walked: Walked, wish: DrawingWish, lost: readonly Unused[], places: TextPlaces): DrawingFault {
  const asked = [
    ...(wish.id === undefined ? [] : [`id "${wish.id}"`]),
    ...(wish.class === undefined ? [] : [`class "${wish.class}"`]),
  ].join(" and ");
  const at = (offset: number): string => {
    const { line: l, column } = places.of(offset);
    return `line ${l}, column ${column}`;
  };
  const met = walked.shapes.filter((s) => s.meant);
  const reasons = [
    ...lost.slice(0, 5).map((u) => `${u.element} (${at(u.at)}): ${u.what}`),
    ...walked.hidden.slice(0, 3).map((h) => `hidden by its style (${at(h)})`),
    ...met
      .filter((s) => !(s.filled || s.stroked))
      .slice(0, 3)
      .map((s) => `${s.name} (${at(s.element.at)}): neither line nor area, by its style`),
  ];
  if (asked !== "" && met.length === 0 && reasons.length === 0) {
    return {
      code: "drawing-no-such-outline",
      at: 0,
      what: `nothing that is drawn has ${asked}`,
      why: namesIn(walked, places),
      mend: "name one of those by its id or class",
    };
  }
  return {
    code: "drawing-nothing-usable",
    at: met[0]?.element.at ?? 0,
    what:
      asked === "" ? "the drawing shows neither lines nor areas" : `what has ${asked} shows neither lines nor areas`,
    why: reasons.length > 0 ? reasons.join("; ") : "it holds no shape",
    mend: "draw it with paths that have a stroke or a filling",
  };
}

function namesIn({ shapes }: Walked, places: TextPlaces): string {
  const named = shapes.filter((s) => s.element.attributes.has("id") || s.element.attributes.has("class"));
  const shown = named.slice(0, 8).map(({ element, name }) => {
    const id = element.attributes.get("id")?.value.slice(0, 60);
    const own = element.attributes.get("class")?.value.slice(0, 60);
    const { line: l } = places.of(element.at);
    return `${name}${id === undefined ? "" : ` id "${id}"`}${own === undefined ? "" : ` class "${own}"`} (line ${l})`;
  });
  if (shown.length === 0) return "no shape in it has an id or a class";
  return `found ${shown.join(", ")}${named.length > shown.length ? ` and ${named.length - shown.length} more` : ""}`;
}
