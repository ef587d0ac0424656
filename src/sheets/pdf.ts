import { createRequire } from "node:module";
import type PDFKit from "pdfkit";
import type { Point } from "../shapes/point.ts";
import { line, pieceOf, pointAt, type Segment, sweepRad } from "../shapes/segment.ts";
import { PAPERS, type Paper, type PaperName, type Tile, tilesFor } from "./pdf-tiles.ts";
import { decimal } from "./svg.ts";
import { type Drawing, type DrawingMark, stroke, words } from "./template-drawing.ts";

/** Points of PDF in a millimetre. */
export const PDF_POINTS = 72 / 25.4;
/** Length of the line that a print is checked by, mm. */
const CHECK = 100;
const FRAME = 0.1;
/** Half a register cross, mm. */
const CROSS = 3;

/**
 * Drawings as a PDF at true scale, black on white, each tiled over as many pages as it needs. Every tile bears its name, a
 * 100 mm check line along and one up, and crosses that it shares with its neighbours. The pages are written uncompressed
 * and without a date, so that the same drawings give the same bytes wherever they are made.
 */
export function drawingsPdf(drawings: readonly Drawing[], paper: PaperName): Uint8Array {
  const sized = PAPERS[paper];
  const doc = newDocument(drawings[0]?.title ?? "");
  for (const drawing of drawings) {
    const tiles = tilesFor(drawing, sized);
    for (const tile of tiles.tiles) drawPage(doc, drawing, tile, tiles.paper, paper);
  }
  return bytesOf(doc);
}

/** An empty PDF, uncompressed and without a date. */
export function newDocument(title: string): Doc {
  // Fetched when the first page is printed: it takes longer to load than all the rest, and most commands print none.
  const PDFDocument: typeof PDFKit = createRequire(import.meta.url)("pdfkit");
  return new PDFDocument({
    autoFirstPage: false,
    compress: false,
    margin: 0,
    info: {
      Title: plain(title),
      Creator: "Tillwright",
      Producer: "Tillwright",
      CreationDate: new Date(0),
      ModDate: new Date(0),
    },
  });
}

/** Ends a PDF. */
export function bytesOf(doc: Doc): Uint8Array {
  doc.end();
  const pieces: Buffer[] = [];
  for (let piece = doc.read(); piece !== null; piece = doc.read()) pieces.push(piece as Buffer);
  return new Uint8Array(Buffer.concat(pieces));
}

/** A PDF while it is drawn. */
export type Doc = InstanceType<typeof PDFKit>;

/** Where a point of a drawing comes on the page, mm from its upper left corner. */
export type Onto = (p: Point) => Point;

function drawPage(doc: Doc, drawing: Drawing, tile: Tile, paper: Paper, name: PaperName): void {
  doc.addPage({ size: [paper.width * PDF_POINTS, paper.height * PDF_POINTS], margin: 0 });
  doc.scale(PDF_POINTS);
  const { window } = tile;
  const onto: Onto = (p) => ({ x: tile.left + p.x - window.min.x, y: tile.top + window.max.y - p.y });
  const width = window.max.x - window.min.x;
  const height = window.max.y - window.min.y;
  doc.save();
  doc.rect(tile.left, tile.top, width, height).clip();
  for (const mark of drawing.marks) draw(doc, onto, mark);
  for (const at of tile.crosses) for (const mark of cross(at)) draw(doc, onto, mark);
  doc.restore();
  doc.lineWidth(FRAME).undash().rect(tile.left, tile.top, width, height).stroke();
  const still: Onto = (p) => p;
  const foot = tile.top + height;
  for (const mark of frameMarks(drawing, tile, name, foot)) draw(doc, still, mark);
}

/** A tile's name, its check lines and how to print, below and beside its window. Page coordinates, mm, Y down. */
function frameMarks(drawing: Drawing, tile: Tile, paper: PaperName, foot: number): readonly DrawingMark[] {
  const { left, top } = tile;
  const y = foot + 5;
  const right = left + tile.window.max.x - tile.window.min.x + 4;
  const ticks = (from: Point, to: Point, across: Point): readonly Segment[] => [
    line(from, to),
    ...[from, to].map((p) => line({ x: p.x - across.x, y: p.y - across.y }, { x: p.x + across.x, y: p.y + across.y })),
  ];
  const place =
    tile.count === 1 ? "one sheet" : `sheet ${tile.number} of ${tile.count}: row ${tile.row}, column ${tile.column}`;
  return [
    stroke(ticks({ x: left, y }, { x: left + CHECK, y }, { x: 0, y: 1.5 }), 0.2),
    stroke(ticks({ x: right, y: top }, { x: right, y: top + CHECK }, { x: 1.5, y: 0 }), 0.2),
    words({ x: left + CHECK + 2, y: y + 1 }, "both lines 100 mm: measure them", 2.6),
    words({ x: left, y: y + 6 }, `${drawing.title}: ${place}`, 3.2, { bold: true }),
    words(
      { x: left, y: y + 10 },
      `${PAPERS[paper].said}; print at 100 %, not fitted to the page${tile.count === 1 ? "" : "; glue the sheets cross on cross"}`,
      2.4,
    ),
  ];
}

function cross(at: Point): readonly DrawingMark[] {
  return [
    stroke([line({ x: at.x - CROSS, y: at.y }, { x: at.x + CROSS, y: at.y })], FRAME),
    stroke([line({ x: at.x, y: at.y - CROSS }, { x: at.x, y: at.y + CROSS })], FRAME),
  ];
}

/** Draws a line or a text. */
export function draw(doc: Doc, onto: Onto, mark: DrawingMark): void {
  switch (mark.kind) {
    case "run": {
      doc.lineWidth(mark.width);
      if (mark.dash === undefined) doc.undash();
      else doc.addContent(`[${mark.dash.map(decimal).join(" ")}] 0 d`);
      let pen: Point | undefined;
      for (const s of mark.segments) {
        const from = onto(s.from);
        if (pen === undefined || pen.x !== from.x || pen.y !== from.y) doc.moveTo(from.x, from.y);
        drawSegment(doc, onto, s);
        pen = onto(s.to);
      }
      doc.stroke();
      return;
    }
    case "text":
      drawText(doc, onto, mark);
  }
}

/** Continues a path along a segment. `onto` keeps angles. */
export function drawSegment(doc: Doc, onto: Onto, s: Segment): void {
  switch (s.kind) {
    case "line": {
      const to = onto(s.to);
      doc.lineTo(to.x, to.y);
      return;
    }
    case "arc": {
      // By eighths of a circle a cubic strays less than 1e-5 of the radius from the arc.
      const n = Math.ceil(Math.abs(sweepRad(s)) / (Math.PI / 4));
      for (let i = 0; i < n; i++) {
        const piece = pieceOf(s, i / n, (i + 1) / n);
        if (piece.kind !== "arc") continue;
        const k = (4 / 3) * Math.tan(sweepRad(piece) / 4);
        const [a, b, c] = [piece.from, piece.to, piece.centre];
        const p = onto({ x: a.x - k * (a.y - c.y), y: a.y + k * (a.x - c.x) });
        const q = onto({ x: b.x + k * (b.y - c.y), y: b.y - k * (b.x - c.x) });
        const end = onto(i === n - 1 ? s.to : pointAt(s, (i + 1) / n));
        doc.bezierCurveTo(p.x, p.y, q.x, q.y, end.x, end.y);
      }
    }
  }
}

function drawText(doc: Doc, onto: Onto, mark: DrawingMark & { readonly kind: "text" }): void {
  const at = onto(mark.at);
  const said = plain(mark.text);
  doc.font(mark.bold ? "Helvetica-Bold" : "Helvetica").fontSize(mark.size);
  const share = { start: 0, middle: 0.5, end: 1 }[mark.anchor];
  const x = at.x - (share === 0 ? 0 : share * doc.widthOfString(said));
  doc.save();
  if (mark.turnedDeg !== 0) doc.rotate(-mark.turnedDeg, { origin: [at.x, at.y] });
  doc.text(said, x, at.y, { lineBreak: false, baseline: "alphabetic" });
  doc.restore();
}

/**
 * Text in the letters that the built-in fonts of PDF have (those of ISO 8859-1); others become a question mark, and the
 * inch mark, which they lack, becomes "in".
 */
export function plain(text: string): string {
  return text
    .replace(/\s*\u2033/g, " in")
    .replace(/[\u201c-\u201e]/g, '"')
    .replace(/[\u2018\u2019]/g, "'")
    .replace(/[\u2010-\u2015\u2212]/g, "-")
    .replace(/[^\u0020-\u007e\u00a0-\u00ff]/gu, "?");
}
