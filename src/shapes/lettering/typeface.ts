import type { Outcome } from "../../finding.ts";
import type { DrawnPiece } from "../path-data.ts";
import type { Point } from "../point.ts";

/**
 * What faces hand to the layout: glyphs along a flat baseline, in the face's own units, X along the baseline, Y up,
 * baseline at 0. The layout scales by cap height and puts each letter at its place.
 */

/** A closed run of lines and cubic curves; the last point joins the first. */
export interface Contour {
  readonly start: Point;
  readonly pieces: readonly Extract<DrawnPiece, { readonly kind: "line" | "bezier" }>[];
}

/** What a glyph leaves on the wood: lines drawn with a point, or an area (filled where contours wind around it). */
export type Ink =
  | { readonly kind: "strokes"; readonly strokes: readonly (readonly Point[])[] }
  | { readonly kind: "contours"; readonly contours: readonly Contour[] };

/** A glyph on a line. */
export interface SetGlyph {
  /** About the glyph's own origin. */
  readonly ink: Ink;
  /** Where the pen stands before it, and how far it then moves on. */
  readonly pen: number;
  readonly advance: number;
  /** The glyph's origin from the pen; marks and the like are moved. */
  readonly dx: number;
  readonly dy: number;
  /** Which letter it belongs to, counted from 0 in reading order of the line: marks share that of their base. */
  readonly letter: number;
}

/** One line of text as a face sets it. */
export interface SetLine {
  readonly glyphs: readonly SetGlyph[];
  /** Sum of the advances. */
  readonly advance: number;
}

/** A face ready to set text. */
export interface Typeface {
  readonly kind: "strokes" | "outlines";
  readonly name: string;
  /** Height of a capital H above the baseline, measured on its drawing. Above 0. */
  readonly capHeight: number;
  /**
   * Sets one line, without line breaks. Characters the face lacks are refused by name, all at once.
   * @param ligatures false where letters are set apart: joined letters could not follow
   */
  readonly setLine: (text: string, ligatures: boolean) => Outcome<SetLine>;
}

/** The smallest and largest X and Y; undefined for no points at all. */
export interface Extent {
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
}

/** Extent of points. */
export function extentOf(points: Iterable<Point>): Extent | undefined {
  let minX = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const { x, y } of points) {
    minX = Math.min(minX, x);
    maxX = Math.max(maxX, x);
    minY = Math.min(minY, y);
    maxY = Math.max(maxY, y);
  }
  return minX <= maxX ? { minX, maxX, minY, maxY } : undefined;
}

/** Extent of a glyph's ink about its origin; exact for curves. Undefined for a blank. */
export function extentOfInk(ink: Ink): Extent | undefined {
  switch (ink.kind) {
    case "strokes":
      return extentOf(ink.strokes.flat());
    case "contours":
      return extentOf(ink.contours.flatMap(turningPoints));
  }
}

/** The ends of a contour's pieces, and where its curves turn back in X or Y. */
function turningPoints(contour: Contour): Point[] {
  const found: Point[] = [contour.start];
  let from = contour.start;
  for (const piece of contour.pieces) {
    found.push(piece.to);
    if (piece.kind === "bezier") {
      const { near, far, to } = piece;
      for (const axis of ["x", "y"] as const) {
        for (const t of turns(from[axis], near[axis], far[axis], to[axis])) {
          found.push(onCubic(from, near, far, to, t));
        }
      }
    }
    from = piece.to;
  }
  return found;
}

/** Where a cubic in one coordinate has slope zero: at² + bt + c = 0, between its ends. */
function turns(p0: number, p1: number, p2: number, p3: number): number[] {
  const a = p3 - 3 * p2 + 3 * p1 - p0;
  const b = 2 * (p2 - 2 * p1 + p0);
  const c = p1 - p0;
  const root = Math.sqrt(b * b - 4 * a * c);
  if (Number.isNaN(root)) return [];
  // Of the two forms of each root, the one that doesn't subtract near-equal numbers.
  const q = -(b + (b < 0 ? -root : root)) / 2;
  return [q / a, c / q].filter((t) => t > 0 && t < 1);
}

/** The point of a cubic at t. */
export function onCubic(p0: Point, p1: Point, p2: Point, p3: Point, t: number): Point {
  const s = 1 - t;
  const [a, b, c, d] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
  return {
    x: a * p0.x + b * p1.x + c * p2.x + d * p3.x,
    y: a * p0.y + b * p1.y + c * p2.y + d * p3.y,
  };
}
