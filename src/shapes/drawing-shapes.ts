import type { Affine } from "./affine.ts";
import { numbersIn } from "./affine.ts";
import { type DrawnPiece, MOST_PIECES, type PathFault, readPathData, type Subpath } from "./path-data.ts";
import type { Point } from "./point.ts";
import type { XmlElement } from "./xml.ts";

/** Elements that draw an outline. */
export const SHAPE_NAMES: readonly string[] = ["path", "rect", "circle", "ellipse", "polygon", "polyline", "line"];

/** The attributes by which they are drawn, when these are lengths. */
export const SIZES_OF: Readonly<Record<string, readonly string[]>> = {
  path: [],
  rect: ["x", "y", "width", "height", "rx", "ry"],
  circle: ["cx", "cy", "r"],
  ellipse: ["cx", "cy", "rx", "ry"],
  polygon: [],
  polyline: [],
  line: ["x1", "y1", "x2", "y2"],
};

/** Pixels to the inch, as the web fixes it. Source: W3C, CSS Values and Units 3, §6.2. */
export const PIXELS_PER_INCH = 96;

const MM: Readonly<Record<string, number>> = {
  "": 25.4 / PIXELS_PER_INCH,
  px: 25.4 / PIXELS_PER_INCH,
  mm: 1,
  cm: 10,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  q: 0.25,
};

/** A length in mm and in pixels, with the unit it was written in; undefined when it is none, or a share of something. */
export function lengthFrom(
  text: string,
): { readonly mm: number; readonly pixels: number; readonly unit: string } | undefined {
  // What is longer is no length, and would keep the pattern busy.
  const found =
    text.length > 100 ? null : /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z]*)\s*$/.exec(text);
  if (found === null) return undefined;
  const unit = found[2]!.toLowerCase();
  const factor = MM[unit];
  const value = Number(found[1]);
  if (factor === undefined || !(Math.abs(value) <= 1e9)) return undefined;
  const pixels = unit === "" || unit === "px" ? value : (value * factor * PIXELS_PER_INCH) / 25.4;
  return { mm: value * factor, pixels, unit };
}

/**
 * The outlines an element draws, in its own units. Faults are placed in the whole text.
 * @param most pieces or points; more is a fault
 */
export function outlinesOf(
  element: XmlElement,
  name: string,
  most = MOST_PIECES,
): { readonly subpaths: readonly Subpath[] } | { readonly fault: PathFault } {
  const bad = (attribute: string, what: string): { readonly fault: PathFault } => ({
    fault: { at: element.attributes.get(attribute)?.at ?? element.at, what, tooMuch: false },
  });
  const size = (attribute: string): number | undefined => {
    const written = element.attributes.get(attribute);
    return written === undefined ? 0 : lengthFrom(written.value)?.pixels;
  };
  const sizes = (attributes: readonly string[]): number[] | { readonly fault: PathFault } => {
    const found: number[] = [];
    for (const attribute of attributes) {
      const value = size(attribute);
      if (value === undefined) return bad(attribute, `${attribute} is not a length that can be read`);
      found.push(value);
    }
    return found;
  };
  if (name === "path") {
    const data = element.attributes.get("d");
    if (data === undefined) return { subpaths: [] };
    const read = readPathData(data.value, most);
    return "fault" in read
      ? { fault: { ...read.fault, at: data.at + read.fault.at } }
      : { subpaths: read.subpaths.map((s) => ({ ...s, at: data.at + s.at })) };
  }
  if (name === "polygon" || name === "polyline") {
    const written = element.attributes.get("points");
    const numbers = written === undefined ? [] : numbersIn(written.value, 2 * most);
    if (numbers === undefined) return bad("points", "points must be pairs of numbers");
    if (numbers.length > 2 * most) return { fault: { at: element.at, what: "too many points", tooMuch: true } };
    if (numbers.length % 2 === 1) return bad("points", "points must be pairs of numbers");
    if (!numbers.every((n) => Math.abs(n) <= 1e9)) return bad("points", "a number beyond all measure");
    return { subpaths: throughPoints(numbers, name === "polygon", element.at) };
  }
  if (name === "line") {
    const v = sizes(["x1", "y1", "x2", "y2"]);
    return "fault" in v ? v : { subpaths: throughPoints(v, false, element.at) };
  }
  if (name === "rect") {
    const v = sizes(["x", "y", "width", "height"]);
    return "fault" in v ? v : roundedRect(element, v, size, bad);
  }
  const round = name === "circle" ? sizes(["cx", "cy", "r", "r"]) : sizes(["cx", "cy", "rx", "ry"]);
  if ("fault" in round) return round;
  const [cx = 0, cy = 0, rx = 0, ry = 0] = round;
  if (!(rx > 0 && ry > 0)) return bad(name === "circle" ? "r" : "rx", `the ${name} has no size`);
  const frame: Affine = { a: rx, b: 0, c: 0, d: ry, e: cx, f: cy };
  const right = { x: cx + rx, y: cy };
  const half = (start: number, to: Point): DrawnPiece => ({ kind: "ellipse", frame, start, sweep: Math.PI, to });
  const pieces = [half(0, { x: cx - rx, y: cy }), half(Math.PI, right)];
  return { subpaths: [{ start: right, closed: true, at: element.at, pieces }] };
}

function throughPoints(numbers: readonly number[], closed: boolean, at: number): Subpath[] {
  const points: Point[] = [];
  for (let i = 0; i < numbers.length; i += 2) points.push({ x: numbers[i]!, y: numbers[i + 1]! });
  const start = points[0];
  if (start === undefined || points.length < 2) return [];
  return [{ start, closed, at, pieces: points.slice(1).map((to): DrawnPiece => ({ kind: "line", to })) }];
}

/** Source for the radii: W3C, SVG 1.1 second edition, §9.2: one given serves for both, each at most half its side. */
function roundedRect(
  element: XmlElement,
  [x = 0, y = 0, width = 0, height = 0]: readonly number[],
  size: (attribute: string) => number | undefined,
  bad: (attribute: string, what: string) => { readonly fault: PathFault },
): { readonly subpaths: readonly Subpath[] } | { readonly fault: PathFault } {
  if (!(width > 0)) return bad("width", "the rectangle has no width");
  if (!(height > 0)) return bad("height", "the rectangle has no height");
  const given = (name: string): boolean => (element.attributes.get(name)?.value.trim() ?? "auto") !== "auto";
  const wishedX = given("rx") ? size("rx") : given("ry") ? size("ry") : 0;
  const wishedY = given("ry") ? size("ry") : given("rx") ? size("rx") : 0;
  if (wishedX === undefined || wishedX < 0) return bad("rx", "rx is not a radius that can be read");
  if (wishedY === undefined || wishedY < 0) return bad("ry", "ry is not a radius that can be read");
  const rx = Math.min(wishedX, width / 2);
  const ry = Math.min(wishedY, height / 2);
  const [right, far] = [x + width, y + height];
  if (rx === 0 || ry === 0) {
    return { subpaths: throughPoints([x, y, right, y, right, far, x, far], true, element.at) };
  }
  const corner = (cx: number, cy: number, quarter: number, to: Point): DrawnPiece => ({
    kind: "ellipse",
    frame: { a: rx, b: 0, c: 0, d: ry, e: cx, f: cy },
    start: (quarter * Math.PI) / 2,
    sweep: Math.PI / 2,
    to,
  });
  const side = (px: number, py: number): DrawnPiece => ({ kind: "line", to: { x: px, y: py } });
  const pieces = [
    side(right - rx, y),
    corner(right - rx, y + ry, 3, { x: right, y: y + ry }),
    side(right, far - ry),
    corner(right - rx, far - ry, 0, { x: right - rx, y: far }),
    side(x + rx, far),
    corner(x + rx, far - ry, 1, { x, y: far - ry }),
    side(x, y + ry),
    corner(x + rx, y + ry, 2, { x: x + rx, y }),
  ];
  return { subpaths: [{ start: { x: x + rx, y }, closed: true, at: element.at, pieces }] };
}
