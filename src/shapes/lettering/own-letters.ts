import type { Point } from "../point.ts";
import type { StrokeGlyph } from "./jhf.ts";
import { dot, type FaceForm, ring, withoutDot } from "./marks.ts";
import { extentOf } from "./typeface.ts";

/**
 * Letters and signs beyond ASCII that no accent makes, from a face's own glyphs and a few strokes, drawn for capitals
 * 21 units high, the x-height at 14. Own drawings.
 */

const CAPS = 21;
const path = (...xy: readonly (readonly [number, number])[]): Point[] => xy.map(([x, y]) => ({ x, y }));

/** All of them for a face that has the ASCII letters. */
export function ownLetters(ascii: ReadonlyMap<string, StrokeGlyph>, form: FaceForm): ReadonlyMap<string, StrokeGlyph> {
  const { slant } = form;
  const of = (c: string): StrokeGlyph => {
    const glyph = ascii.get(c);
    if (glyph === undefined) throw new RangeError(`the face lacks ${c}`);
    return glyph;
  };
  const lean = (advance: number, ...strokes: readonly Point[][]): StrokeGlyph => ({
    advance,
    strokes: strokes.map((s) => s.map((p) => ({ x: p.x + slant * p.y, y: p.y }))),
  });
  const plus = (glyph: StrokeGlyph, ...strokes: readonly Point[][]): StrokeGlyph => ({
    ...glyph,
    strokes: [...glyph.strokes, ...strokes],
  });
  const upright = slant === 0;
  const apostrophe = of("'");
  const comma = of(",");
  const opening = halfTurned(apostrophe);
  const eszett = lean(
    19,
    path([4, 0], [4, 16], [5, 19], [7, 21], [10, 21], [12, 20], [13, 18], [13, 16], [12, 14], [10, 12.5], [8, 12]),
    path([8, 12], [11, 11.5], [13, 10], [14, 7.5], [14, 4.5], [13, 2], [11, 0], [8.5, 0], [7, 1]),
  );
  const angle = (x: number, way: number): Point[] => path([x + 2 * way, 12], [x - 2 * way, 7], [x + 2 * way, 2]);
  return new Map<string, StrokeGlyph>([
    ["ı", withoutDot(of("i"), form)],
    ["ȷ", withoutDot(of("j"), form)],
    ["Ø", slashed(of("O"))],
    ["ø", slashed(of("o"))],
    ["Ł", barred(of("L"), 10, 4, 2, "left")],
    ["ł", barred(of("l"), 11, 3, 2, "left")],
    ["Đ", barred(of("D"), 10.5, 4, 0, "left")],
    ["Ð", barred(of("D"), 10.5, 4, 0, "left")],
    ["ð", eth(of("o"))],
    ["đ", barred(of("d"), 17.5, 3.5, 0, "right")],
    ["Ħ", crossed(of("H"), 16)],
    ["ħ", barred(of("h"), 17.5, 3.5, 0, "left")],
    ["Ŧ", barred(of("T"), 10.5, 4, 0, "left")],
    ["ŧ", barred(of("t"), 9, 3.5, 0, "left")],
    [
      "Þ",
      lean(20, path([4, 21], [4, 0]), path([4, 16], [12, 16], [15, 15], [16, 13], [16, 8], [15, 6], [12, 5], [4, 5])),
    ],
    [
      "þ",
      lean(
        19,
        path([4, 21], [4, -7]),
        path(
          [4, 11],
          [6, 13],
          [8, 14],
          [11, 14],
          [13, 13],
          [15, 11],
          [16, 8],
          [16, 6],
          [15, 3],
          [13, 1],
          [11, 0],
          [8, 0],
          [6, 1],
          [4, 3],
        ),
      ),
    ],
    [
      "Æ",
      upright
        ? lean(
            23,
            path([12, 21], [1, 0]),
            path([12, 21], [12, 0]),
            path([4.667, 7], [12, 7]),
            path([12, 21], [21, 21]),
            path([12, 11], [19, 11]),
            path([12, 0], [21, 0]),
          )
        : touching(of("A"), of("E")),
    ],
    ["æ", touching(of("a"), of("e"))],
    ["Œ", touching(of("O"), of("E"))],
    ["œ", touching(of("o"), of("e"))],
    ["ß", eszett],
    ["ẞ", eszett],
    ["\u00a0", of(" ")],
    ["\u202f", { advance: of(" ").advance / 2, strokes: [] }],
    ["\u2009", { advance: of(" ").advance / 2, strokes: [] }],
    ["–", lean(18, path([2, 9], [16, 9]))],
    ["—", lean(30, path([2, 9], [28, 9]))],
    ["‐", of("-")],
    ["\u2011", of("-")],
    ["−", of("-")],
    ["’", apostrophe],
    ["ʼ", apostrophe],
    ["‘", opening],
    ["”", twice(apostrophe)],
    ["“", twice(opening)],
    ["‚", comma],
    ["„", twice(comma)],
    ["‹", lean(9, angle(4.5, 1))],
    ["›", lean(9, angle(4.5, -1))],
    ["«", lean(14, angle(4.5, 1), angle(9.5, 1))],
    ["»", lean(14, angle(4.5, -1), angle(9.5, -1))],
    ["…", lean(20, dot(4, 1), dot(10, 1), dot(16, 1))],
    ["€", plus(of("C"), ...euroBars(of("C")))],
    ["°", lean(11, ring(5.5, 18, 3))],
    ["×", lean(18, path([4, 14], [14, 4]), path([4, 4], [14, 14]))],
    ["÷", lean(20, path([3, 9], [17, 9]), dot(10, 14), dot(10, 4))],
    ["±", plus(of("+"), path([of("+").advance / 2 - 8, -2], [of("+").advance / 2 + 8, -2]))],
    ["·", lean(8, dot(4, 9))],
    ["•", lean(10, ring(5, 9, 2))],
    ["¡", halfTurned(of("!"))],
    ["¿", halfTurned(of("?"))],
  ]);
}

/** Turned about the middle of its advance and of the capitals' height. */
function halfTurned(glyph: StrokeGlyph): StrokeGlyph {
  const box = extentOf(glyph.strokes.flat());
  // Opening quotes keep the height of closing ones.
  const sum = box === undefined ? CAPS : box.minY + box.maxY;
  return {
    advance: glyph.advance,
    strokes: glyph.strokes.map((s) => s.map((p) => ({ x: glyph.advance - p.x, y: sum - p.y }))),
  };
}

/** The same sign twice, close together. */
function twice(glyph: StrokeGlyph): StrokeGlyph {
  const step = 5;
  return {
    advance: glyph.advance + step,
    strokes: [...glyph.strokes, ...glyph.strokes.map((s) => s.map((p) => ({ x: p.x + step, y: p.y })))],
  };
}

/** Two letters with the second's left side on the first's right side. */
function touching(first: StrokeGlyph, second: StrokeGlyph): StrokeGlyph {
  const a = extentOf(first.strokes.flat());
  const b = extentOf(second.strokes.flat());
  const shift = a === undefined || b === undefined ? first.advance : a.maxX - b.minX;
  return {
    advance: shift + second.advance,
    strokes: [...first.strokes, ...second.strokes.map((s) => s.map((p) => ({ x: p.x + shift, y: p.y })))],
  };
}

/** With a stroke from below left to above right, a little beyond the letter. */
function slashed(glyph: StrokeGlyph): StrokeGlyph {
  const box = extentOf(glyph.strokes.flat());
  if (box === undefined) return glyph;
  const slash = path([box.minX, box.minY - 1.5], [box.maxX, box.maxY + 1.5]);
  return { ...glyph, strokes: [...glyph.strokes, slash] };
}

/** With a bar across its stem at height `y`, `half` to either side, rising `rise` to either side of the middle. */
function barred(glyph: StrokeGlyph, y: number, half: number, rise: number, stem: "left" | "right"): StrokeGlyph {
  const met = passesAt(glyph, y);
  const x = met.length === 0 ? glyph.advance / 2 : stem === "left" ? Math.min(...met) : Math.max(...met);
  return { ...glyph, strokes: [...glyph.strokes, path([x - half, y - rise], [x + half, y + rise])] };
}

/** With a bar right across at height `y`. */
function crossed(glyph: StrokeGlyph, y: number): StrokeGlyph {
  const met = passesAt(glyph, y);
  return { ...glyph, strokes: [...glyph.strokes, path([Math.min(...met) - 3, y], [Math.max(...met) + 3, y])] };
}

/** Where the strokes pass height `y`. */
function passesAt(glyph: StrokeGlyph, y: number): number[] {
  return glyph.strokes.flatMap((s) =>
    s.flatMap((b, i) => {
      const a = s[i - 1];
      if (a === undefined || (a.y < y && b.y < y) || (a.y > y && b.y > y) || a.y === b.y) return [];
      return [a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)];
    }),
  );
}

/** An o whose right side runs on upwards and over to the left, with a bar across. */
function eth(o: StrokeGlyph): StrokeGlyph {
  const box = extentOf(o.strokes.flat());
  if (box === undefined) return o;
  const { minX, maxX, minY, maxY } = box;
  const middle = { x: maxX, y: (minY + maxY) / 2 };
  const over = { x: (minX + maxX) / 2, y: maxY + 6 };
  const stem = [middle, { x: maxX - 0.6, y: maxY }, { x: maxX - 2.5, y: maxY + 3.5 }, over];
  const bar = path([over.x - 2, maxY + 2.5], [maxX + 2, maxY + 6]);
  return { ...o, strokes: [...o.strokes, stem, bar] };
}

function euroBars(c: StrokeGlyph): Point[][] {
  return [12.5, 8.5].map((y) => {
    const left = Math.min(...passesAt(c, y));
    return path([left - 3, y], [left + 9, y]);
  });
}
