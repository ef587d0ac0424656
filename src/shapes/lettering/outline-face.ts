import { Blob, Buffer, Direction, Face, Feature, Font, shape } from "harfbuzzjs";
import type { Outcome } from "../../finding.ts";
import type { Point } from "../point.ts";
import { damaged, type FontTables, readFontFile, writeFontFile } from "./font-file.ts";
import { outlineReader } from "./font-outlines.ts";
import { missingCharacters, quoted, refusal } from "./say.ts";
import {
  type Contour,
  type Extent,
  extentOf,
  extentOfInk,
  type SetGlyph,
  type SetLine,
  type Typeface,
} from "./typeface.ts";

/** An outline face, and what the shaper says of its size. */
export interface OutlineFace extends Typeface {
  readonly kind: "outlines";
  readonly unitsPerEm: number;
}

/** Capitals whose height may stand for all, in order. */
const CAPITALS = ["H", "E", "I"];
/** Two readings of one outline may differ by rounding alone, in units. */
const SAME_OUTLINE = 1.5;

/**
 * Opens a font from its bytes (TTF, OTF, WOFF). Text is shaped by HarfBuzz: kerning, ligatures and marks as the font
 * says; letters are drawn by the font library, by glyph number, and held against the shaper's own reading of their size.
 * Refuses what is no font, other kinds, and damaged files; never runs longer than their size warrants.
 * @param name what to call the font in findings
 */
export function openFont(bytes: Uint8Array, name: string): Outcome<OutlineFace> {
  const file = readFontFile(bytes, name);
  if (!file.ok) return file;
  try {
    return openTables(file.value, name);
  } catch {
    // The shaper runs in a sandbox of its own and traps on files that defeat it.
    return damaged(name, "its tables contradict each other");
  }
}

function openTables(file: FontTables, name: string): Outcome<OutlineFace> {
  const shaper = new Font(new Face(new Blob(writeFontFile(file.outlines, file.tables)), 0));
  const unitsPerEm = shaper.face.upem;
  const read = outlineReader(file);
  if (read === undefined || !(unitsPerEm >= 16)) return damaged(name, "its outlines cannot be read");
  const drawn = new Map<number, readonly Contour[] | undefined>();
  const draw = (glyph: number): readonly Contour[] | undefined => {
    if (!drawn.has(glyph)) drawn.set(glyph, drawGlyph(shaper, read, glyph));
    return drawn.get(glyph);
  };
  const capHeight = capHeightOf(shaper, draw);
  if (capHeight === undefined) {
    return {
      ok: false,
      findings: [
        refusal(
          "font-unusable-kind",
          `${name} has no capital letters to measure it by`,
          `none of ${CAPITALS.join(", ")} is drawn in it`,
          "take a font with Latin letters",
        ),
      ],
    };
  }
  const setLine = (text: string, ligatures: boolean): Outcome<SetLine> => {
    try {
      return setLineIn(shaper, draw, name, text.normalize("NFC"), ligatures);
    } catch {
      return damaged(name, `it cannot set ${quoted(text)}`);
    }
  };
  return { ok: true, findings: [], value: { kind: "outlines", name, unitsPerEm, capHeight, setLine } };
}

function setLineIn(
  shaper: Font,
  draw: (glyph: number) => readonly Contour[] | undefined,
  name: string,
  text: string,
  ligatures: boolean,
): Outcome<SetLine> {
  if (text === "") return { ok: true, value: { glyphs: [], advance: 0 }, findings: [] };
  if (mixesDirections(text)) {
    return {
      ok: false,
      findings: [
        refusal(
          "lettering-two-directions",
          `${quoted(text)} reads in two directions`,
          "letters read from right to left, beside letters or figures read from left to right",
          "make each its own mark",
        ),
      ],
    };
  }
  const buffer = new Buffer();
  buffer.addText(text);
  buffer.guessSegmentProperties();
  if (!RIGHT_TO_LEFT.test(text)) buffer.setDirection(Direction.LTR);
  shape(shaper, buffer, ligatures ? [] : [new Feature("liga", 0), new Feature("clig", 0)]);
  const shaped = buffer.getGlyphInfosAndPositions();
  const missing = shaped.filter((g) => g.codepoint === 0).map((g) => clusterText(text, shaped, g.cluster));
  if (missing.length > 0) return { ok: false, findings: [missingCharacters(name, missing)] };
  const clusters = [...new Set(shaped.map((g) => g.cluster))];
  const glyphs: SetGlyph[] = [];
  let pen = 0;
  for (const g of shaped) {
    const contours = draw(g.codepoint);
    if (contours === undefined) {
      return damaged(name, `its drawing of ${quoted(clusterText(text, shaped, g.cluster))} cannot be read`);
    }
    const { xAdvance = 0, xOffset = 0, yOffset = 0 } = g;
    const letter = clusters.indexOf(g.cluster);
    glyphs.push({ ink: { kind: "contours", contours }, pen, advance: xAdvance, dx: xOffset, dy: yOffset, letter });
    pen += xAdvance;
  }
  return { ok: true, value: { glyphs, advance: pen }, findings: [] };
}

/** Scripts written from right to left that fonts are made for. */
const RIGHT_TO_LEFT =
  /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}\p{Script=Adlam}]/u;

/** Figures run from left to right in every script. */
function mixesDirections(text: string): boolean {
  if (!RIGHT_TO_LEFT.test(text)) return false;
  return [...text].some((c) => /\p{N}/u.test(c) || (/\p{L}/u.test(c) && !RIGHT_TO_LEFT.test(c)));
}

/** The characters that one glyph stands for. */
function clusterText(text: string, shaped: readonly { readonly cluster: number }[], cluster: number): string {
  const next = shaped.reduce((least, g) => (g.cluster > cluster ? Math.min(least, g.cluster) : least), text.length);
  return text.slice(cluster, next);
}

function capHeightOf(shaper: Font, draw: (glyph: number) => readonly Contour[] | undefined): number | undefined {
  for (const capital of CAPITALS) {
    const glyph = shaper.nominalGlyph(capital.codePointAt(0)!);
    const contours = glyph === undefined || glyph === 0 ? undefined : draw(glyph);
    const box = contours === undefined ? undefined : extentOfInk({ kind: "contours", contours });
    if (box !== undefined && box.maxY > 0) return box.maxY;
  }
  return undefined;
}

/**
 * The shaper reads outlines within limits of its own, so it goes first: what it gives up on would keep the font
 * library busy for ever. Where side bearings ask for it, it also moves the outline, which the library does not.
 */
function drawGlyph(
  shaper: Font,
  read: (glyph: number) => readonly Contour[] | undefined,
  glyph: number,
): readonly Contour[] | undefined {
  const reference = controlBoxOf(shaper, glyph);
  const claimed = shaper.glyphExtents(glyph);
  if (reference === undefined) {
    return claimed === undefined || (claimed.width === 0 && claimed.height === 0) ? [] : undefined;
  }
  // A drawing that it gave up on comes as far as it got; only its size is then missing.
  if (claimed === undefined) return undefined;
  const contours = read(glyph);
  const own = contours === undefined ? undefined : extentOf(contours.flatMap(controlPoints));
  if (contours === undefined || own === undefined) return undefined;
  const shift = reference.minX - own.minX;
  const off = Math.max(
    Math.abs(own.maxX + shift - reference.maxX),
    Math.abs(own.minY - reference.minY),
    Math.abs(own.maxY - reference.maxY),
  );
  if (!(off <= SAME_OUTLINE)) return undefined;
  return Math.abs(shift) < 1e-9 ? contours : contours.map((c) => shifted(c, shift));
}

function controlBoxOf(shaper: Font, glyph: number): Extent | undefined {
  const points: Point[] = [];
  let from: Point = { x: 0, y: 0 };
  for (const { values: v } of shaper.glyphToJson(glyph)) {
    if (v.length === 0) continue;
    const to = { x: v[v.length - 2]!, y: v[v.length - 1]! };
    if (v.length === 4) points.push(twoThirds(from, v), twoThirds(to, v));
    if (v.length === 6) points.push({ x: v[0]!, y: v[1]! }, { x: v[2]!, y: v[3]! });
    points.push(to);
    from = to;
  }
  return extentOf(points);
}

function twoThirds(end: Point, v: readonly number[]): Point {
  return { x: end.x + (2 / 3) * (v[0]! - end.x), y: end.y + (2 / 3) * (v[1]! - end.y) };
}

function controlPoints(c: Contour): Point[] {
  return [c.start, ...c.pieces.flatMap((p) => (p.kind === "bezier" ? [p.near, p.far, p.to] : [p.to]))];
}

function shifted(c: Contour, dx: number): Contour {
  const move = (p: Point): Point => ({ x: p.x + dx, y: p.y });
  return {
    start: move(c.start),
    pieces: c.pieces.map((p) =>
      p.kind === "bezier" ? { ...p, near: move(p.near), far: move(p.far), to: move(p.to) } : { ...p, to: move(p.to) },
    ),
  };
}
