import type { Sheet } from "./path-data.ts";
import { onSheet, runData } from "./path-data.ts";
import { decimal, element, escapeXml, text } from "./svg.ts";
import { boundsOfDrawing, type Drawing, type DrawingMark } from "./template-drawing.ts";

/** Room around a drawing on its page, mm. */
const MARGIN = 5;
const INK = "#000000";

/** A drawing as SVG, true to scale: one user unit is a millimetre. Same drawing, same bytes. */
export function drawingSvg(drawing: Drawing): string {
  const box = boundsOfDrawing(drawing);
  const width = Number(decimal(box.max.x - box.min.x + 2 * MARGIN));
  const height = Number(decimal(box.max.y - box.min.y + 2 * MARGIN));
  const sheet: Sheet = { left: MARGIN - box.min.x, baseline: MARGIN + box.max.y };
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        width: `${decimal(width)}mm`,
        height: `${decimal(height)}mm`,
        viewBox: `0 0 ${decimal(width)} ${decimal(height)}`,
        "font-family": "Helvetica, Arial, sans-serif",
        fill: INK,
      },
      element("title", {}, escapeXml(drawing.title)),
      element("rect", { x: 0, y: 0, width, height, fill: "#ffffff" }),
      ...drawing.marks.map((mark) => markSvg(sheet, mark)),
    ),
    "",
  ].join("\n");
}

function markSvg(sheet: Sheet, mark: DrawingMark): string {
  switch (mark.kind) {
    case "run":
      return element("path", {
        d: runData(sheet, mark.segments),
        fill: "none",
        stroke: INK,
        "stroke-width": mark.width,
        "stroke-dasharray": mark.dash?.map(decimal).join(" "),
      });
    case "text": {
      const at = onSheet(sheet, mark.at);
      return text(at.x, at.y, mark.text, {
        "font-size": mark.size,
        "text-anchor": mark.anchor === "start" ? undefined : mark.anchor,
        "font-weight": mark.bold ? "bold" : undefined,
        transform:
          mark.turnedDeg === 0 ? undefined : `rotate(${decimal(-mark.turnedDeg)} ${decimal(at.x)} ${decimal(at.y)})`,
      });
    }
  }
}
