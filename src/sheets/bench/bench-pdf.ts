import type { Point } from "../../shapes/point.ts";
import { arc, line, type Segment } from "../../shapes/segment.ts";
import { bytesOf, type Doc, draw, drawSegment, newDocument, type Onto, PDF_POINTS, plain } from "../pdf.ts";
import type { PaperName } from "../pdf-tiles.ts";
import { decimal } from "../svg.ts";
import { stroke, words } from "../template-drawing.ts";
import type { BenchPage, FigureMark } from "./block.ts";
import { RING, RING_TEXT } from "./figure-fit.ts";
import { type PaperPage, paginate } from "./paginate.ts";
import type { Measure, Placed } from "./pieces.ts";

/** The bench page as a PDF, black on white. The same page gives the same bytes. */
export function benchPdf(page: BenchPage, paper: PaperName): Uint8Array {
  const doc = newDocument(page.title);
  for (const sheet of paginate(page, paper, measureWith(doc))) drawPage(doc, sheet);
  return bytesOf(doc);
}

/** Widths of the letters that the page is printed in. */
export function paperMeasure(): Measure {
  return measureWith(newDocument(""));
}

/** Widths letter by letter, as `show` writes them: without kerning. */
function measureWith(doc: Doc): Measure {
  const known = [new Map<string, number>(), new Map<string, number>()] as const;
  return (text, size, bold) => {
    const widths = known[bold ? 1 : 0];
    let sum = 0;
    for (const letter of plain(text)) {
      let own = widths.get(letter);
      if (own === undefined) {
        own = doc.font(fontOf(bold)).fontSize(1).widthOfString(letter);
        widths.set(letter, own);
      }
      sum += own;
    }
    return sum * size;
  };
}

/** What of a PDF's font and page its types don't tell. */
interface WithFont {
  readonly _font: { readonly id: string; readonly ref: () => unknown };
  readonly page: { readonly fonts: Record<string, unknown> };
}

/**
 * Writes a line of text by the operators themselves (ISO 32000-1, 9.4): a page holds hundreds, and the library lays out each
 * anew. `plain` leaves only letters that its fonts have under the same numbers; written in hexadecimal none can end the text.
 */
function show(doc: Doc, text: string, x: number, y: number, size: number, bold: boolean): void {
  const { _font: font, page } = doc.font(fontOf(bold)) as unknown as WithFont;
  page.fonts[font.id] ??= font.ref();
  const said = Buffer.from(plain(text), "latin1").toString("hex");
  // The page's Y points down, so the letters are turned over once more.
  doc.addContent(`BT /${font.id} ${decimal(size)} Tf 1 0 0 -1 ${decimal(x)} ${decimal(y)} Tm [<${said}>] TJ ET`);
}

function fontOf(bold: boolean): string {
  return bold ? "Helvetica-Bold" : "Helvetica";
}

function drawPage(doc: Doc, page: PaperPage): void {
  doc.addPage({ size: [page.width * PDF_POINTS, page.height * PDF_POINTS], margin: 0 });
  doc.scale(PDF_POINTS);
  for (const mark of page.marks) drawMark(doc, mark);
}

const STILL: Onto = (p) => p;

function drawMark(doc: Doc, m: Placed): void {
  switch (m.kind) {
    case "text":
      show(doc, m.text, m.x, m.y, m.size, m.bold);
      return;
    case "line":
      if (m.width > 0) draw(doc, STILL, stroke([line({ x: m.x, y: m.y }, { x: m.toX, y: m.toY })], m.width));
      return;
    case "dot":
      doc.circle(m.x, m.y, 0.5).fill();
      return;
    case "box":
      doc.lineWidth(0.35).undash().rect(m.x, m.y, m.width, m.height).stroke();
      return;
    case "figure": {
      const { height, marks } = m.figure;
      const onto: Onto = (p) => ({ x: m.x + p.x, y: m.y + height - p.y });
      for (const mark of marks) drawFigureMark(doc, onto, mark);
    }
  }
}

function drawFigureMark(doc: Doc, onto: Onto, mark: FigureMark): void {
  switch (mark.kind) {
    case "run":
    case "text":
      draw(doc, onto, mark);
      return;
    case "area":
      for (const loop of mark.loops) trace(doc, onto, loop);
      doc.fillColor(grey(mark.grey)).fill("even-odd").fillColor("black");
      return;
    case "ring": {
      const c = onto(mark.at);
      for (const loop of [ringAt(mark.at)]) trace(doc, onto, loop);
      doc.fillColor("white").fill().fillColor("black");
      draw(doc, onto, stroke(ringAt(mark.at), 0.25));
      draw(doc, STILL, words({ x: c.x, y: c.y + RING_TEXT * 0.36 }, mark.text, RING_TEXT, { anchor: "middle" }));
    }
  }
}

function trace(doc: Doc, onto: Onto, loop: readonly Segment[]): void {
  const first = loop[0];
  if (first === undefined) return;
  const from = onto(first.from);
  doc.moveTo(from.x, from.y);
  for (const s of loop) drawSegment(doc, onto, s);
  doc.closePath();
}

/** A ring around a number. */
export function ringAt(at: Point): readonly Segment[] {
  const [east, west] = [
    { x: at.x + RING, y: at.y },
    { x: at.x - RING, y: at.y },
  ];
  return [arc(east, west, at, true), arc(west, east, at, true)];
}

function grey(share: number): [number, number, number] {
  const v = Math.round(share * 255);
  return [v, v, v];
}
