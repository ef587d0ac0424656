import { deflateSync } from "node:zlib";
import opentype from "opentype.js";
import { type FontTables, readFontFile, writeFontFile } from "../../../src/shapes/lettering/font-file.ts";

/** A small sound font with cubic outlines: H, O with a hole, and A drawn without a closing line. */
export function cubicFont(): Uint8Array {
  const glyph = (name: string, unicode: number | undefined, draw: (p: opentype.Path) => void): opentype.Glyph => {
    const path = new opentype.Path();
    draw(path);
    return new opentype.Glyph({ name, unicode, advanceWidth: 700, path });
  };
  const square = (p: opentype.Path, a: number, b: number): void => {
    p.moveTo(a, a);
    p.curveTo(a, b / 2, a, b / 2, a, b);
    p.lineTo(b, b);
    p.lineTo(b, a);
    p.close();
  };
  const font = new opentype.Font({
    familyName: "Sound",
    styleName: "Plain",
    unitsPerEm: 1000,
    ascender: 800,
    descender: -200,
    glyphs: [
      glyph(".notdef", undefined, () => undefined),
      glyph("H", 72, (p) => square(p, 0, 700)),
      glyph("O", 79, (p) => {
        square(p, 0, 700);
        p.moveTo(200, 200);
        p.lineTo(500, 200);
        p.lineTo(500, 500);
        p.lineTo(200, 500);
        p.close();
      }),
    ],
  });
  return new Uint8Array(font.toArrayBuffer());
}

/** A font's tables, some replaced. */
export function withTables(bytes: Uint8Array, replace: Readonly<Record<string, Uint8Array>>): Uint8Array {
  const file = readFontFile(bytes, "font");
  if (!file.ok) throw new Error("not a sound font");
  return writeFontFile(file.value.outlines, new Map([...file.value.tables, ...Object.entries(replace)]));
}

/** One table of a font. */
export function tableOf(bytes: Uint8Array, tag: string): Uint8Array {
  const file = readFontFile(bytes, "font");
  if (!file.ok) throw new Error("not a sound font");
  return file.value.tables.get(tag)!.slice();
}

/** The same font packed as WOFF. `claim` makes each table's stated length another. */
export function packedAsWoff(bytes: Uint8Array, claim: (length: number) => number = (n) => n): Uint8Array {
  const file = readFontFile(bytes, "font");
  if (!file.ok) throw new Error("not a sound font");
  const { tables, outlines }: FontTables = file.value;
  const packed = [...tables].map(([tag, table]) => {
    const small = deflateSync(table);
    return { tag, length: table.length, data: small.length < table.length ? new Uint8Array(small) : table };
  });
  const start = 44 + 20 * packed.length;
  const out = new Uint8Array(packed.reduce((sum, t) => sum + ((t.data.length + 3) & ~3), start));
  const view = new DataView(out.buffer);
  view.setUint32(0, 0x774f4646);
  view.setUint32(4, outlines === "CFF" ? 0x4f54544f : 0x00010000);
  view.setUint32(8, out.length);
  view.setUint16(12, packed.length);
  let offset = start;
  packed.forEach((t, i) => {
    const at = 44 + 20 * i;
    for (let k = 0; k < 4; k++) out[at + k] = t.tag.charCodeAt(k);
    view.setUint32(at + 4, offset);
    view.setUint32(at + 8, t.data.length);
    view.setUint32(at + 12, claim(t.length));
    out.set(t.data, offset);
    offset += (t.data.length + 3) & ~3;
  });
  return out;
}

/**
 * Outlines made of outlines: each glyph draws the one before it `copies` times, `levels` deep. Glyph 0 draws itself.
 * @returns glyf and loca tables for `glyphs` glyphs, all of them the deepest one
 */
export function nestedOutlines(glyphs: number, levels: number, copies: number): Record<string, Uint8Array> {
  const triangle = [0, 1, 0, 0, 0, 0, 2, 0, 2, 0, 0, 2, 0, 0, 1, 1, 1, 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 2, 0, 0];
  const made: number[][] = [[...triangle, ...new Array<number>((4 - (triangle.length % 4)) % 4).fill(0)]];
  for (let level = 1; level < levels; level++) {
    const parts: number[] = [255, 255, 0, 0, 0, 0, 2, 0, 2, 0];
    for (let c = 0; c < copies; c++) {
      // Arguments are XY values, in bytes; more components follow all but the last.
      parts.push(0, 0x02 | (c < copies - 1 ? 0x20 : 0), 0, level - 1, 1, 0);
    }
    while (parts.length % 4 !== 0) parts.push(0);
    made.push(parts);
  }
  const glyf = new Uint8Array(made.flat());
  const loca = new Uint8Array(4 * (glyphs + 1));
  const view = new DataView(loca.buffer);
  const starts = made.map((_, i) => made.slice(0, i).reduce((sum, g) => sum + g.length, 0));
  for (let i = 0; i <= glyphs; i++) view.setUint32(4 * i, i < levels ? starts[i]! : glyf.length);
  return { glyf, loca };
}

/** A cubic outline table whose every glyph calls a routine that calls the next `calls` times, `levels` deep; the `last` draws. */
export function nestedRoutines(glyphs: number, levels: number, calls: number, last = [140, 140, 5]): Uint8Array {
  const index = (items: readonly (readonly number[])[]): number[] => {
    if (items.length === 0) return [0, 0];
    const offsets = [1];
    for (const item of items) offsets.push(offsets[offsets.length - 1]! + item.length);
    const four = (n: number): number[] => [n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255];
    return [items.length >> 8, items.length & 255, 4, ...offsets.flatMap(four), ...items.flat()];
  };
  const number = (n: number): number[] => [29, n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255];
  // Routines are counted from −107 where there are few; a number v is written as the byte v + 139.
  const call = (routine: number): number[] => [routine - 107 + 139, 29];
  const routines = Array.from({ length: levels }, (_, i) =>
    i === levels - 1 ? [...last, 11] : [...Array.from({ length: calls }, () => call(i + 1)).flat(), 11],
  );
  const header = [1, 0, 4, 4];
  const names = index([[65]]);
  const top = (charStrings: number): number[] =>
    index([[...number(charStrings), 17, ...number(0), ...number(charStrings), 18]]);
  const rest = [...index([]), ...index(routines)];
  const at = header.length + names.length + top(0).length + rest.length;
  const drawings = index(Array.from({ length: glyphs }, () => [139, 139, 21, ...call(0), 14]));
  return new Uint8Array([...header, ...names, ...top(at), ...rest, ...drawings]);
}
