import type { FormGrid } from "../job/form-grid.ts";
import { line } from "../shapes/segment.ts";
import { formPages } from "./form.ts";
import { PAGE } from "./form-parts.ts";
import { escapeXml } from "./svg.ts";
import { type DrawingMark, stroke, words } from "./template-drawing.ts";
import { drawingSvg } from "./template-svg.ts";

/** Length of the line that a print is checked by, mm. */
const CHECK = 100;

/** The measuring sheet as one page for a browser, each sheet of it printed on paper of its own. */
export function formHtml(grid: FormGrid): string {
  const pages = formPages(grid).map((page) => {
    const svg = drawingSvg({ ...page, marks: [...page.marks, ...foot(page.title)] });
    return `<section>\n${svg.replace(/^<\?xml[^>]*>\n/, "").trimEnd()}\n</section>`;
  });
  return [
    "<!doctype html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    `<title>${escapeXml(`${grid.title}: measuring sheet`)}</title>`,
    "<style>",
    "@page { margin: 8mm; }",
    "body { margin: 0; background: #fff; }",
    "section { break-after: page; break-inside: avoid; }",
    "section:last-child { break-after: auto; }",
    "svg { display: block; margin: 0 auto; }",
    "</style>",
    "</head>",
    "<body>",
    ...pages,
    "</body>",
    "</html>",
    "",
  ].join("\n");
}

/** The page's name and its check line. */
function foot(title: string): readonly DrawingMark[] {
  const y = -PAGE.height - 4;
  return [
    stroke([line({ x: 0, y }, { x: CHECK, y })], 0.2),
    stroke(
      [line({ x: 0, y: y - 1.5 }, { x: 0, y: y + 1.5 }), line({ x: CHECK, y: y - 1.5 }, { x: CHECK, y: y + 1.5 })],
      0.2,
    ),
    words({ x: CHECK + 3, y: y - 1 }, "100 mm: measure it; print at 100 %", 2.6),
    words({ x: 0, y: y - 6 }, title, 3, { bold: true }),
  ];
}
