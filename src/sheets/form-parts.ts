import type { Point } from "../shapes/point.ts";
import { line } from "../shapes/segment.ts";
import { type DrawingMark, roomFor, stroke, words } from "./template-drawing.ts";

/**
 * A page of the measuring sheet, mm: what both A4 and US Letter have within their frames. Drawn from its upper left corner, Y
 * up, so that all of it lies at y ≤ 0.
 */
export const PAGE = { width: 175, height: 230 } as const;

/** A rectangle by its upper left corner. */
export interface Room {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const FINE = 0.18;
const FIRM = 0.35;

/** The outline of a rectangle. */
export function frame(r: Room, width = FIRM, dash?: readonly number[]): DrawingMark {
  const [right, foot] = [r.x + r.width, r.y - r.height];
  return stroke(
    [
      line({ x: r.x, y: r.y }, { x: right, y: r.y }),
      line({ x: right, y: r.y }, { x: right, y: foot }),
      line({ x: right, y: foot }, { x: r.x, y: foot }),
      line({ x: r.x, y: foot }, { x: r.x, y: r.y }),
    ],
    width,
    dash,
  );
}

/** A box to write in, its unit small in the corner. */
export function box(r: Room, unit: string, given = ""): readonly DrawingMark[] {
  return [
    frame({ x: r.x + 0.4, y: r.y - 0.4, width: r.width - 0.8, height: r.height - 0.8 }, FINE),
    ...(unit === "" ? [] : [words({ x: r.x + r.width - 1.4, y: r.y - r.height + 1.6 }, unit, 2, { anchor: "end" })]),
    ...(given === "" ? [] : [words({ x: r.x + 3, y: r.y - r.height / 2 - 1.4 }, given, 4)]),
  ];
}

/** A name as the file has it, how it is read, and its box. */
export function rowOf(
  r: Room,
  key: string,
  how: string,
  label: number,
  unit: string,
  given: string,
): readonly DrawingMark[] {
  return [
    words({ x: r.x, y: r.y - 4 }, `${key}:`, 2.9, { bold: true }),
    ...(how === "" ? [] : paragraph({ x: r.x, y: r.y - 7.2 }, how, 2.2, label + 4).marks.slice(0, 1)),
    ...box({ ...r, x: r.x + label, width: r.width - label }, unit, given),
  ];
}

/** Text in lines no wider than `width`; `below` is where the next may begin. */
export function paragraph(
  at: Point,
  text: string,
  size: number,
  width: number,
): { readonly marks: readonly DrawingMark[]; readonly below: number } {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    const longer = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && roomFor(longer, size) > width) lines.push(word);
    else lines[Math.max(0, lines.length - 1)] = longer;
  }
  const step = size * 1.3;
  return {
    marks: lines.map((l, i) => words({ x: at.x, y: at.y - i * step }, l, size)),
    below: at.y - lines.length * step,
  };
}

/** A line with ticks at both ends, a measure's name beside its middle. */
export function measure(
  from: Point,
  to: Point,
  name: string,
  beside: Point,
  dash?: readonly number[],
): readonly DrawingMark[] {
  const long = Math.hypot(to.x - from.x, to.y - from.y);
  const [ux, uy] = [(to.x - from.x) / long, (to.y - from.y) / long];
  const tick = (p: Point) => line({ x: p.x - uy * 1.2, y: p.y + ux * 1.2 }, { x: p.x + uy * 1.2, y: p.y - ux * 1.2 });
  const middle = { x: (from.x + to.x) / 2 + beside.x, y: (from.y + to.y) / 2 + beside.y };
  return [
    stroke([line(from, to)], FINE, dash),
    stroke([tick(from), tick(to)], FINE),
    words(middle, name, 2.4, { anchor: "middle" }),
  ];
}
