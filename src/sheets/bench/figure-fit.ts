import type { Box, Point } from "../../shapes/point.ts";
import { arc, boundsOf, line, type Segment } from "../../shapes/segment.ts";
import { roomFor } from "../template-drawing.ts";
import type { Figure, FigureMark } from "./block.ts";

/** A figure at the size it has on paper: mm, Y up, its lower left corner in the origin. */
export interface FittedFigure {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly FigureMark[];
  /** Millimetres on paper for each drawn, at most 1. */
  readonly scale: number;
}

/** Radius of a ring around a number, mm on paper. */
export const RING = 2.3;
/** Size of the number in it. */
export const RING_TEXT = 2.7;

/**
 * Scales a figure until it fits, letters included, which keep their size. Half a dozen rounds are enough: letters take the
 * same room at each.
 * @param width mm, of the page between its margins
 */
export function fitFigure(figure: Figure, width: number): FittedFigure {
  // Of lines and areas only the box is needed, and it grows with the scale.
  const drawn = around(figure.marks.flatMap(drawnBoxes));
  const letters = figure.marks.filter((m) => m.kind === "text" || m.kind === "ring");
  const boxAt = (k: number): Box =>
    around([...(drawn === undefined ? [] : [scaled(drawn, k)]), ...letters.map((m) => letterBox(m, k))]) ?? NOTHING;
  let scale = 1;
  let box = boxAt(scale);
  for (let round = 0; round < 12; round++) {
    const over = Math.max((box.max.x - box.min.x) / width, (box.max.y - box.min.y) / figure.most);
    if (over <= 1) break;
    scale = (scale / over) * 0.995;
    box = boxAt(scale);
  }
  const shift = { x: -box.min.x, y: -box.min.y };
  return {
    width: box.max.x - box.min.x,
    height: box.max.y - box.min.y,
    marks: figure.marks.map((m) => placed(m, scale, shift)),
    scale,
  };
}

const NOTHING: Box = { min: { x: 0, y: 0 }, max: { x: 0, y: 0 } };

function placed(mark: FigureMark, k: number, shift: Point): FigureMark {
  const at = (p: Point): Point => ({ x: p.x * k + shift.x, y: p.y * k + shift.y });
  switch (mark.kind) {
    case "run":
      return { ...mark, segments: mark.segments.map((s) => moved(s, at)) };
    case "area":
      return { ...mark, loops: mark.loops.map((loop) => loop.map((s) => moved(s, at))) };
    case "text":
    case "ring":
      return { ...mark, at: at(mark.at) };
  }
}

function moved(s: Segment, at: (p: Point) => Point): Segment {
  switch (s.kind) {
    case "line":
      return line(at(s.from), at(s.to));
    case "arc":
      return arc(at(s.from), at(s.to), at(s.centre), s.ccw);
  }
}

function around(boxes: readonly Box[]): Box | undefined {
  if (boxes.length === 0) return undefined;
  return boxes.reduce((a, b) => ({
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
  }));
}

/** Boxes of lines and areas, a line's own width left out: it doesn't grow, and half of it is added on paper. */
function drawnBoxes(mark: FigureMark): readonly Box[] {
  switch (mark.kind) {
    case "run":
      return mark.segments.map(boundsOf);
    case "area":
      return mark.loops.flat().map(boundsOf);
    case "text":
    case "ring":
      return [];
  }
}

/** Half the widest line that is drawn, mm. */
const LINE = 0.35;

function scaled(b: Box, k: number): Box {
  return grown({ min: { x: b.min.x * k, y: b.min.y * k }, max: { x: b.max.x * k, y: b.max.y * k } }, LINE);
}

function letterBox(mark: FigureMark & { readonly kind: "text" | "ring" }, k: number): Box {
  const at = { x: mark.at.x * k, y: mark.at.y * k };
  if (mark.kind === "ring") return grown({ min: at, max: at }, RING + 0.2);
  const long = roomFor(mark.text, mark.size);
  const start = mark.anchor === "start" ? 0 : mark.anchor === "middle" ? -long / 2 : -long;
  const turned = (mark.turnedDeg * Math.PI) / 180;
  const corners = [
    [start, -0.25 * mark.size],
    [start + long, -0.25 * mark.size],
    [start, 0.8 * mark.size],
    [start + long, 0.8 * mark.size],
  ].map(([along = 0, up = 0]) => ({
    x: at.x + along * Math.cos(turned) - up * Math.sin(turned),
    y: at.y + along * Math.sin(turned) + up * Math.cos(turned),
  }));
  const [xs, ys] = [corners.map((c) => c.x), corners.map((c) => c.y)];
  return { min: { x: Math.min(...xs), y: Math.min(...ys) }, max: { x: Math.max(...xs), y: Math.max(...ys) } };
}

function grown(b: Box, by: number): Box {
  return { min: { x: b.min.x - by, y: b.min.y - by }, max: { x: b.max.x + by, y: b.max.y + by } };
}
