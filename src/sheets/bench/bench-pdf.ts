import type { Point } from "../../shapes/point.ts";
import { arc, line, type Segment } from "../../shapes/segment.ts";
import { bytesOf, type Doc, draw, drawSegment, newDocument, type Onto, PDF_POINTS, plain } from "../pdf.ts";
import type { PaperName } from "../pdf-tiles.ts";
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

function measureWith(doc: Doc): Measure {
  // A word is measured many times over while its line is broken.
  const known = new Map<string, number>();
  return (text, size, bold) => {
    const key = `${bold ? "b" : "n"}${text}`;
    const own = known.get(key) ?? doc.font(fontOf(bold)).fontSize(1).widthOfString(plain(text));
    known.set(key, own);
    return own * size;
  };
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
      draw(doc, STILL, words({ x: m.x, y: m.y }, m.text, m.size, { bold: m.bold }));
      return;
    case "line":
      if (m.width > 0) draw(doc, STILL, stroke([line({ x: m.x, y: m.y }, { x: m.toX, y: m.toY })], m.width));
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
