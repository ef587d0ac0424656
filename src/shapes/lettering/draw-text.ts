import type { Outcome } from "../../finding.ts";
import { unionOf } from "../boolean.ts";
import { fitRegion } from "../fit-arcs.ts";
import { fill, fromGrid, toGrid } from "../kernel.ts";
import { distance, type Point } from "../point.ts";
import { polygonsToRegion } from "../polygons.ts";
import type { Region } from "../region.ts";
import type { Polygons, Ring } from "../rings.ts";
import { layText, type PlacedGlyph, type TextInPlace, type TextLayout } from "./layout.ts";
import { type Contour, onCubic, type Typeface } from "./typeface.ts";

/** How closely an area follows the face's curves, and of what it is made. */
export interface OutlineWish {
  /** Largest distance between the curves and what is handed over, mm, above 0. */
  readonly tolerance: number;
  /** `lines`: chords alone. `arcs`: lines and arcs fitted to finer chords. */
  readonly made: "lines" | "arcs";
}

/** Text as geometry, mm: lines for a point, or an area. */
export type DrawnText = TextInPlace &
  (
    | { readonly kind: "strokes"; readonly strokes: readonly (readonly Point[])[]; readonly strokeLength: number }
    | { readonly kind: "area"; readonly region: Region }
  );

/**
 * Sets text in a face and draws it. Overlapping letters and contours of an outline face become one area; single strokes
 * stay as they are. Refusals are those of `layText`.
 */
export function drawText(face: Typeface, layout: TextLayout, outline: OutlineWish): Outcome<DrawnText> {
  if (!(outline.tolerance > 0)) throw new RangeError(`a tolerance must be above zero, not ${outline.tolerance}`);
  const laid = layText(face, layout);
  if (!laid.ok) return laid;
  const { value, findings } = laid;
  switch (face.kind) {
    case "strokes": {
      const strokes = value.glyphs.flatMap(placedStrokes);
      const strokeLength = strokes.reduce(
        (sum, s) => sum + s.reduce((length, p, i) => (i === 0 ? 0 : length + distance(s[i - 1]!, p)), 0),
        0,
      );
      return { ok: true, findings, value: { ...value, kind: "strokes", strokes, strokeLength } };
    }
    case "outlines": {
      // Chords and arcs share the tolerance, since arcs are found only where chords keep within theirs.
      const chordError = outline.made === "arcs" ? outline.tolerance / 2 : outline.tolerance;
      const polygons = unionOf(...value.glyphs.map((g) => glyphArea(g, chordError)));
      const region = outline.made === "arcs" ? fitRegion(polygons, outline.tolerance / 2) : polygonsToRegion(polygons);
      return { ok: true, findings, value: { ...value, kind: "area", region } };
    }
  }
}

function placing(g: PlacedGlyph): (p: Point) => Point {
  const cos = g.scale * Math.cos(g.turnRad);
  const sin = g.scale * Math.sin(g.turnRad);
  return (p) => ({ x: g.at.x + p.x * cos - p.y * sin, y: g.at.y + p.x * sin + p.y * cos });
}

function placedStrokes(g: PlacedGlyph): Point[][] {
  if (g.ink.kind !== "strokes") return [];
  const put = placing(g);
  return g.ink.strokes.map((s) => s.map(put));
}

/** A letter's area: wherever its contours wind around, whichever way round the font drew them. */
function glyphArea(g: PlacedGlyph, chordError: number): Polygons {
  if (g.ink.kind !== "contours") return [];
  const put = placing(g);
  const rings = g.ink.contours.map((c) => flattenContour(c, put, chordError));
  return fill(toGrid(rings), "nonzero").flatMap(fromGrid);
}

/**
 * A contour as chords no farther than `chordError` mm from its curves, which they cut short on the hollow side.
 * Source: Wang 1984: second differences L of a cubic ask for n = √(3L / 4e) equal steps of t for a chord error e.
 */
function flattenContour(contour: Contour, put: (p: Point) => Point, chordError: number): Ring {
  let from = put(contour.start);
  const ring: Point[] = [from];
  for (const piece of contour.pieces) {
    const to = put(piece.to);
    if (piece.kind === "bezier") {
      const near = put(piece.near);
      const far = put(piece.far);
      const bend = Math.max(
        Math.hypot(from.x - 2 * near.x + far.x, from.y - 2 * near.y + far.y),
        Math.hypot(near.x - 2 * far.x + to.x, near.y - 2 * far.y + to.y),
      );
      const steps = Math.ceil(Math.sqrt((3 * bend) / (4 * chordError)));
      for (let i = 1; i < steps; i++) ring.push(onCubic(from, near, far, to, i / steps));
    }
    ring.push(to);
    from = to;
  }
  return ring;
}
