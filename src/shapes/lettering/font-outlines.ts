import opentype from "opentype.js";
import { isSoundCff } from "./cff-check.ts";
import { type FontTables, writeFontFile } from "./font-file.ts";
import type { Contour } from "./typeface.ts";

/** A glyph's contours by its number, font units, Y up; undefined where the font's drawing of it cannot be read. */
export type GlyphReader = (glyph: number) => readonly Contour[] | undefined;

/** Most points drawn for one glyph. The busiest in the fonts tried has some 2,000. */
const MOST_POINTS = 50_000;

/**
 * Reads outlines with the font library, which is given only the tables that outlines need: its own readers of the
 * others fail on good fonts, and loop for minutes on bad ones. Undefined when even these cannot be read.
 */
export function outlineReader(font: FontTables): GlyphReader | undefined {
  const drawing = new Map<string, Uint8Array>();
  for (const tag of ["head", "maxp", ...(font.outlines === "true" ? ["glyf", "loca"] : ["CFF "])]) {
    const table = font.tables.get(tag);
    if (table === undefined) return undefined;
    drawing.set(tag, table);
  }
  if (font.outlines === "CFF" && !isSoundCff(drawing.get("CFF ")!)) return undefined;
  const maxp = font.tables.get("maxp")!;
  if (maxp.length < 6) return undefined;
  const count = (maxp[4]! << 8) | maxp[5]!;
  for (const [tag, table] of standIns(count)) drawing.set(tag, table);
  try {
    const file = writeFontFile(font.outlines, drawing);
    const read = opentype.parse(file.buffer, { lowMemory: font.outlines === "CFF" });
    return (glyph) => {
      try {
        return glyph < count ? inSilence(() => contoursOf(read.glyphs.get(glyph).path.commands)) : undefined;
      } catch {
        // The library throws whatever comes on damaged outlines; the caller says which letter.
        return undefined;
      }
    };
  } catch {
    return undefined;
  }
}

/**
 * The library tells of drawing commands it doesn't know on the console alone, and goes on. What a program prints is not
 * a font's to say, and such a drawing is not one to cut: undefined then.
 */
function inSilence<T>(work: () => T): T | undefined {
  // biome-ignore lint/suspicious/noConsole: kept, not called
  const said = globalThis.console.log;
  let complained = false;
  globalThis.console.log = () => {
    complained = true;
  };
  try {
    const done = work();
    return complained ? undefined : done;
  } finally {
    globalThis.console.log = said;
  }
}

/** The least that the library asks for beside outlines: no characters, no names, no widths. */
function standIns(glyphs: number): ReadonlyMap<string, Uint8Array> {
  const hhea = new Uint8Array(36);
  hhea[1] = 1;
  hhea[35] = 1;
  return new Map([
    ["hhea", hhea],
    ["hmtx", new Uint8Array(4 + 2 * Math.max(0, glyphs - 1))],
    // Version 0, one subtable for Windows Unicode at 12: format 4 with its closing segment alone.
    [
      "cmap",
      new Uint8Array([
        0, 0, 0, 1, 0, 3, 0, 1, 0, 0, 0, 12, 0, 4, 0, 24, 0, 0, 0, 2, 0, 2, 0, 0, 0, 0, 255, 255, 0, 0, 255, 255, 0, 1,
        0, 0,
      ]),
    ],
    ["name", new Uint8Array([0, 0, 0, 0, 0, 6])],
    ["post", new Uint8Array([0, 3, 0, 0, ...new Array<number>(28).fill(0)])],
  ]);
}

/** Each move begins a contour, which is closed whether or not the library says so. */
function contoursOf(commands: readonly opentype.PathCommand[]): Contour[] | undefined {
  if (commands.length > MOST_POINTS) return undefined;
  const contours: { start: Contour["start"]; pieces: Contour["pieces"][number][] }[] = [];
  let here = { x: 0, y: 0 };
  for (const c of commands) {
    if (c.type === "Z") continue;
    const to = { x: c.x, y: c.y };
    if (!Number.isFinite(to.x) || !Number.isFinite(to.y)) return undefined;
    const pieces = contours[contours.length - 1]?.pieces;
    switch (c.type) {
      case "M":
        contours.push({ start: to, pieces: [] });
        break;
      case "L":
        pieces?.push({ kind: "line", to });
        break;
      case "C":
        pieces?.push({ kind: "bezier", near: { x: c.x1, y: c.y1 }, far: { x: c.x2, y: c.y2 }, to });
        break;
      case "Q":
        // The same curve as a cubic: control points two thirds of the way to the quadratic's own.
        pieces?.push({
          kind: "bezier",
          near: { x: here.x + (2 / 3) * (c.x1 - here.x), y: here.y + (2 / 3) * (c.y1 - here.y) },
          far: { x: to.x + (2 / 3) * (c.x1 - to.x), y: to.y + (2 / 3) * (c.y1 - to.y) },
          to,
        });
        break;
    }
    here = to;
  }
  return contours.filter((c) => c.pieces.length > 0);
}
