import type { Point } from "../point.ts";
import type { StrokeGlyph } from "./jhf.ts";
import { type Extent, extentOf } from "./typeface.ts";

/**
 * Accents for single-stroke letters, drawn for capitals 21 units high. Those above stand with the middle of their foot
 * at (0, 0) on top of the letter, those below hang from there. From memory of how such marks look; no source.
 */
interface Mark {
  readonly at: "above" | "below" | "tail" | "overlay";
  readonly strokes: readonly (readonly Point[])[];
}

const path = (...xy: readonly (readonly [number, number])[]): Point[] => xy.map(([x, y]) => ({ x, y }));

/** A dot as the faces draw theirs: a small diamond. */
export function dot(x: number, y: number): Point[] {
  return path([x, y + 1], [x - 1, y], [x, y - 1], [x + 1, y], [x, y + 1]);
}

/** A ring of eight sides. */
export function ring(x: number, y: number, radius: number): Point[] {
  return Array.from({ length: 9 }, (_, i) => ({
    x: x + radius * Math.sin((i * Math.PI) / 4),
    y: y + radius * Math.cos((i * Math.PI) / 4),
  }));
}

const acute = (x: number): Point[] => path([x + 1.5, 5], [x - 1.5, 0]);

/** Combining marks by character (Unicode, block Combining Diacritical Marks). */
const MARKS: ReadonlyMap<string, Mark> = new Map<string, Mark>([
  ["\u0300", { at: "above", strokes: [path([-2.5, 5], [1.5, 0])] }],
  ["\u0301", { at: "above", strokes: [path([2.5, 5], [-1.5, 0])] }],
  ["\u0302", { at: "above", strokes: [path([-4, 0], [0, 4.5], [4, 0])] }],
  [
    "\u0303",
    {
      at: "above",
      strokes: [path([-5, 0.5], [-4, 2.2], [-2.5, 3], [-1, 2.6], [1, 1.4], [2.5, 1], [4, 1.8], [5, 3.5])],
    },
  ],
  ["\u0304", { at: "above", strokes: [path([-4, 1], [4, 1])] }],
  ["\u0306", { at: "above", strokes: [path([-4, 4], [-3, 1.6], [-1, 0.3], [1, 0.3], [3, 1.6], [4, 4])] }],
  ["\u0307", { at: "above", strokes: [dot(0, 1.5)] }],
  ["\u0308", { at: "above", strokes: [dot(-3.5, 1.5), dot(3.5, 1.5)] }],
  ["\u030a", { at: "above", strokes: [ring(0, 2.5, 2.5)] }],
  ["\u030b", { at: "above", strokes: [acute(-2.2), acute(2.2)] }],
  ["\u030c", { at: "above", strokes: [path([-4, 4.5], [0, 0], [4, 4.5])] }],
  ["\u0323", { at: "below", strokes: [dot(0, -3.5)] }],
  ["\u0326", { at: "below", strokes: [path([0.8, -2.5], [-0.8, -6])] }],
  ["\u0327", { at: "below", strokes: [path([0, 0], [0, -2], [2, -2.6], [2.8, -4], [2, -5.6], [0, -6.2], [-2, -5.8])] }],
  ["\u0328", { at: "tail", strokes: [path([0, 0], [-2, -2], [-2.5, -4], [-1.5, -5.8], [0.5, -6.2], [2, -5.6])] }],
]);

/** Room between a letter and a mark above it, units. */
const GAP = 2;
/** Between two marks above each other. */
const BETWEEN_MARKS = 1;
/** Share of a letter's height, at its top or foot, whose middle a mark stands over or hangs under. */
const NEAR_END = 0.35;

/** What composed letters take from their face: how far it leans, X for each unit of Y, and the height of a small x. */
export interface FaceForm {
  readonly slant: number;
  readonly xHeight: number;
}

/** True for a mark that `withMarks` can draw. */
export function isMark(character: string): boolean {
  return MARKS.has(character);
}

/**
 * A letter with marks, in the order of Unicode's canonical decomposition.
 */
export function withMarks(letter: string, glyph: StrokeGlyph, marks: readonly string[], form: FaceForm): StrokeGlyph {
  const { slant } = form;
  if (letter.length === 1 && "dtlL".includes(letter) && marks.length === 1 && marks[0] === "\u030c") {
    return withSideCaron(glyph, form);
  }
  let drawn =
    "ij".includes(letter) && marks.some((m) => MARKS.get(m)?.at === "above") ? withoutDot(glyph, form) : glyph;
  const base = extentOf(drawn.strokes.flat());
  if (base === undefined) return glyph;
  const topMiddle = middleNear(drawn, base, "top");
  let foot = base.maxY + GAP;
  for (const m of marks) {
    const mark = MARKS.get(m);
    if (mark === undefined) throw new RangeError(`no mark ${m}`);
    const at =
      mark.at === "above" ? { x: topMiddle + slant * (foot - base.maxY), y: foot } : anchorBelow(drawn, base, mark);
    const strokes = mark.strokes.map((s) => s.map((p) => ({ x: at.x + p.x + slant * p.y, y: at.y + p.y })));
    if (mark.at === "above") foot = extentOf(strokes.flat())!.maxY + BETWEEN_MARKS;
    drawn = { ...drawn, strokes: [...drawn.strokes, ...strokes] };
  }
  return drawn;
}

/** Below: under the middle of the foot. A tail: at the rightmost point of the foot. */
function anchorBelow(glyph: StrokeGlyph, base: Extent, mark: Mark): Point {
  if (mark.at !== "tail") return { x: middleNear(glyph, base, "foot"), y: Math.min(0, base.minY) };
  const feet = glyph.strokes.flat().filter((p) => p.y <= base.minY + 1);
  const last = feet.reduce<Point | undefined>((far, p) => (far === undefined || p.x > far.x ? p : far), undefined);
  return last ?? { x: base.maxX, y: base.minY };
}

function middleNear(glyph: StrokeGlyph, base: Extent, end: "top" | "foot"): number {
  const reach = NEAR_END * (base.maxY - base.minY);
  const near = extentOf(
    glyph.strokes.flat().filter((p) => (end === "top" ? p.y >= base.maxY - reach : p.y <= base.minY + reach)),
  );
  return near === undefined ? (base.minX + base.maxX) / 2 : (near.minX + near.maxX) / 2;
}

/** A letter's strokes but for those wholly above the x-height: ı from i. */
export function withoutDot(glyph: StrokeGlyph, form: FaceForm): StrokeGlyph {
  return { ...glyph, strokes: glyph.strokes.filter((s) => s.some((p) => p.y <= form.xHeight)) };
}

/** On tall letters the caron is written as an apostrophe beside the top: ď, ť, ľ, Ľ. */
function withSideCaron(glyph: StrokeGlyph, { slant, xHeight }: FaceForm): StrokeGlyph {
  const upper = extentOf(glyph.strokes.flat().filter((p) => p.y > xHeight)) ?? extentOf(glyph.strokes.flat());
  const x = (upper?.maxX ?? glyph.advance) + 3;
  const tick = path([x + 0.6, 21], [x - 0.6, 16]).map((p) => ({ x: p.x + slant * (p.y - 21), y: p.y }));
  return { advance: Math.max(glyph.advance, x + 3), strokes: [...glyph.strokes, tick] };
}
