import { regionData, runData, type Sheet } from "../path-data.ts";
import { decimal, element, escapeXml, text } from "../svg.ts";
import type { BenchPage, Block, Cell, CheckItem, FigureMark } from "./block.ts";
import { fitFigure, RING, RING_TEXT } from "./figure-fit.ts";

/** Width that figures are fitted into, mm: what A4 and US Letter both have between the margins. */
const WIDTH = 176;

const STYLE = [
  "@page{margin:14mm 14mm 14mm 18mm}",
  "*{box-sizing:border-box}",
  "body{font:10pt/1.35 Helvetica,Arial,sans-serif;color:#000;background:#fff;max-width:184mm;margin:0 auto;padding:4mm}",
  "h1{font-size:18pt;margin:0 0 3mm;break-before:page}h1:first-of-type{break-before:auto}",
  "h2{font-size:13.5pt;margin:7mm 0 2mm;border-top:.3mm solid #000;padding-top:1.5mm}",
  "h3{font-size:11pt;margin:4mm 0 1mm}",
  "h1,h2,h3,caption{break-after:avoid}",
  "p{margin:1.5mm 0}ul{margin:1mm 0;padding-left:5mm}li{margin:.5mm 0}",
  "table{border-collapse:collapse;width:100%;table-layout:fixed;margin:2mm 0;font-size:8.5pt}",
  "caption{text-align:left;font-weight:bold;font-size:10pt}",
  "th,td{text-align:left;vertical-align:top;padding:.8mm 1mm;border-bottom:.12mm solid #000;overflow-wrap:anywhere}",
  "th{border-top:.4mm solid #000;border-bottom:.4mm solid #000}thead{display:table-header-group}",
  "td.write{height:6.4mm;vertical-align:bottom}td.write span{display:block;border-bottom:.25mm solid #000}",
  "figure{margin:2.5mm 0;text-align:center}figure svg{max-width:100%;height:auto}",
  "figcaption{font-size:8.5pt;text-align:left}",
  ".check{list-style:none;padding:0}.check li{position:relative;padding-left:6mm;margin:1.5mm 0}",
  ".check li::before{content:'';position:absolute;left:0;top:.6mm;width:3.4mm;height:3.4mm;border:.35mm solid #000}",
  ".check small{display:block;font-size:8.5pt}.hold{font-weight:bold}",
  ".blank{display:flex;align-items:flex-end;gap:2mm;margin:2mm 0}.blank span:first-child{flex:1}",
  ".blank i{width:36mm;border-bottom:.25mm solid #000}",
  ".caution{border:.6mm solid #000;padding:1.5mm 2.4mm;margin:3mm 0}.caution p{font-weight:bold;margin:0}",
  "tr,li,figure,.blank,p,.short,section{break-inside:avoid}",
  "footer{margin-top:6mm;border-top:.2mm solid #000;font-size:8pt;padding-top:1mm}",
].join("\n");

/**
 * The bench page as one HTML file that needs nothing else: no scripts, no other files, black on white, printable on A4 and US
 * Letter. Every text passes `escapeXml`, so no name can become markup. Same page, same bytes.
 */
export function benchHtml(page: BenchPage): string {
  return [
    "<!DOCTYPE html>",
    '<html lang="en-GB">',
    "<head>",
    '<meta charset="utf-8">',
    // Nothing is fetched and nothing runs, whatever slipped in.
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
    '<meta name="viewport" content="width=device-width">',
    `<title>${escapeXml(page.title)}</title>`,
    `<style>\n${STYLE}\n</style>`,
    "</head>",
    "<body>",
    ...page.blocks.map(blockHtml),
    element("footer", {}, escapeXml(page.foot)),
    "</body>",
    "</html>",
    "",
  ].join("\n");
}

function blockHtml(block: Block): string {
  switch (block.kind) {
    case "heading":
      return element(`h${block.level}`, {}, escapeXml(block.text));
    case "paragraph":
      return element("p", {}, block.bold ? element("strong", {}, escapeXml(block.text)) : escapeXml(block.text));
    case "list":
      return element("ul", {}, ...block.items.map((item) => element("li", {}, escapeXml(item))));
    case "checklist":
      return element("ul", { class: "check" }, ...block.items.map(checkHtml));
    case "table":
      return element(
        "table",
        block.rows.length <= 12 ? { class: "short" } : {},
        ...(block.caption === undefined ? [] : [element("caption", {}, escapeXml(block.caption))]),
        element(
          "colgroup",
          {},
          ...block.columns.map(
            (c) =>
              `<col style="width:${decimal((100 * c.share) / block.columns.reduce((sum, d) => sum + d.share, 0))}%">`,
          ),
        ),
        element("thead", {}, element("tr", {}, ...block.columns.map((c) => element("th", {}, escapeXml(c.head))))),
        element("tbody", {}, ...block.rows.map((row) => element("tr", {}, ...row.map(cellHtml)))),
      );
    case "figure": {
      const fitted = fitFigure(block.figure, WIDTH);
      const sheet: Sheet = { left: 0, baseline: fitted.height };
      const svg = element(
        "svg",
        {
          xmlns: "http://www.w3.org/2000/svg",
          width: `${decimal(fitted.width)}mm`,
          height: `${decimal(fitted.height)}mm`,
          viewBox: `0 0 ${decimal(fitted.width)} ${decimal(fitted.height)}`,
          "font-family": "Helvetica, Arial, sans-serif",
        },
        ...fitted.marks.map((m) => markSvg(sheet, m)),
      );
      return element("figure", {}, svg, element("figcaption", {}, escapeXml(block.caption)));
    }
    case "blanks":
      return block.items
        .map(({ label, unit }) =>
          element(
            "div",
            { class: "blank" },
            element("span", {}, escapeXml(label)),
            "<i></i>",
            element("span", {}, escapeXml(unit)),
          ),
        )
        .join("\n");
    case "together":
      return element("section", {}, ...block.blocks.map(blockHtml));
    case "caution":
      return element(
        "div",
        { class: block.items.length <= 10 ? "caution short" : "caution" },
        element("p", {}, escapeXml(block.title)),
        element("ul", {}, ...block.items.map((item) => element("li", {}, escapeXml(item)))),
      );
  }
}

function checkHtml(item: CheckItem): string {
  const hold = item.hold === undefined ? [] : [element("span", { class: "hold" }, escapeXml(item.hold)), "<br>"];
  const said = escapeXml(item.text);
  return element(
    "li",
    {},
    ...hold,
    item.hold === undefined ? said : element("strong", {}, said),
    ...item.notes.map((n) => element("small", {}, escapeXml(n))),
  );
}

function cellHtml(cell: Cell): string {
  return cell === null ? '<td class="write"><span></span></td>' : element("td", {}, escapeXml(cell));
}

function markSvg(sheet: Sheet, mark: FigureMark): string {
  switch (mark.kind) {
    case "run":
      return element("path", {
        d: runsData(sheet, mark.segments),
        fill: "none",
        stroke: "#000",
        "stroke-width": mark.width,
        "stroke-dasharray": mark.dash?.map(decimal).join(" "),
      });
    case "area": {
      const v = Math.round(mark.grey * 255);
      return element("path", {
        d: regionData(sheet, { loops: mark.loops }),
        fill: `rgb(${v},${v},${v})`,
        "fill-rule": "evenodd",
      });
    }
    case "text": {
      const at = { x: sheet.left + mark.at.x, y: sheet.baseline - mark.at.y };
      return text(at.x, at.y, mark.text, {
        "font-size": mark.size,
        "text-anchor": mark.anchor === "start" ? undefined : mark.anchor,
        "font-weight": mark.bold ? "bold" : undefined,
        transform:
          mark.turnedDeg === 0 ? undefined : `rotate(${decimal(-mark.turnedDeg)} ${decimal(at.x)} ${decimal(at.y)})`,
      });
    }
    case "ring": {
      const at = { x: sheet.left + mark.at.x, y: sheet.baseline - mark.at.y };
      return (
        element("circle", { cx: at.x, cy: at.y, r: RING, fill: "#fff", stroke: "#000", "stroke-width": 0.25 }) +
        text(at.x, at.y + RING_TEXT * 0.36, mark.text, { "font-size": RING_TEXT, "text-anchor": "middle" })
      );
    }
  }
}

/** A run that may lift the pen: a new start wherever a segment doesn't begin where the last one ended. */
function runsData(sheet: Sheet, segments: Parameters<typeof runData>[1]): string {
  const parts: (typeof segments)[number][][] = [];
  for (const s of segments) {
    const last = parts.at(-1)?.at(-1);
    if (last !== undefined && last.to.x === s.from.x && last.to.y === s.from.y) parts.at(-1)?.push(s);
    else parts.push([s]);
  }
  return parts.map((run) => runData(sheet, run)).join("");
}
