import type { Point } from "../point.ts";

/** A single-stroke glyph. Units of its face, Y up, baseline at 0, the pen standing at x = 0 before it. */
export interface StrokeGlyph {
  readonly advance: number;
  readonly strokes: readonly (readonly Point[])[];
}

/** Below the data's own zero, where its baseline lies: capitals span −12 (top) to 9 in the plain Latin faces. */
const BASELINE = 9;
/** Character that stands for zero. */
const ZERO = 82;
const FIRST_CHARACTER = 32;
const LAST_CHARACTER = 126;

/**
 * Reads JHF text, a line a glyph in ASCII order from the space. Columns 1–5 hold a number, 6–8 the count of pairs that
 * follow, the first pair the left and right bearings; " R" lifts the pen; Y grows down.
 * @throws RangeError when the text is not that: the data is our own
 * Source: the format of James Hurt, as described in the data's own notes.
 */
export function readJhf(text: string): ReadonlyMap<string, StrokeGlyph> {
  const glyphs = new Map<string, StrokeGlyph>();
  text.split("\n").forEach((row, i) => {
    const code = FIRST_CHARACTER + i;
    if (code > LAST_CHARACTER || row === "") return;
    glyphs.set(String.fromCharCode(code), readGlyph(row));
  });
  return glyphs;
}

function readGlyph(row: string): StrokeGlyph {
  const count = Number(row.slice(5, 8));
  const pairs = row.slice(8);
  if (!(count >= 1) || pairs.length !== 2 * count) throw new RangeError(`not a glyph: ${row.slice(0, 20)}`);
  const value = (at: number): number => pairs.charCodeAt(at) - ZERO;
  const left = value(0);
  const strokes: Point[][] = [];
  let stroke: Point[] = [];
  for (let at = 2; at < pairs.length; at += 2) {
    if (pairs.slice(at, at + 2) === " R") {
      if (stroke.length > 0) strokes.push(stroke);
      stroke = [];
    } else stroke.push({ x: value(at) - left, y: BASELINE - value(at + 1) });
  }
  if (stroke.length > 0) strokes.push(stroke);
  return { advance: value(1) - left, strokes };
}
