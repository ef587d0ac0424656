import type { Box, Point } from "../shapes/point.ts";
import { boundsOf, type Segment } from "../shapes/segment.ts";

/**
 * A true-scale drawing in black and white, mm, Y up: what templates are made as, before they become SVG or PDF. Made by
 * the template files; read by `template-svg.ts` and `pdf.ts`.
 */
export interface Drawing {
  readonly title: string;
  readonly marks: readonly DrawingMark[];
}

/** One thing drawn. */
export type DrawingMark =
  | {
      readonly kind: "run";
      readonly segments: readonly Segment[];
      /** Width of the line, mm. */
      readonly width: number;
      /** Lengths drawn and left out in turn, mm; absent: full. */
      readonly dash?: readonly number[];
    }
  | {
      readonly kind: "text";
      /** Start, middle or end of the baseline, as `anchor` says. */
      readonly at: Point;
      readonly text: string;
      /** Height of the letters' body, mm. */
      readonly size: number;
      /** Counter-clockwise, degrees. */
      readonly turnedDeg: number;
      readonly anchor: "start" | "middle" | "end";
      readonly bold: boolean;
    };

/** A line of text, level unless turned. */
export function words(
  at: Point,
  text: string,
  size: number,
  more: { readonly turnedDeg?: number; readonly anchor?: "start" | "middle" | "end"; readonly bold?: boolean } = {},
): DrawingMark {
  return {
    kind: "text",
    at,
    text,
    size,
    turnedDeg: more.turnedDeg ?? 0,
    anchor: more.anchor ?? "start",
    bold: more.bold ?? false,
  };
}

/** A run of segments. */
export function stroke(segments: readonly Segment[], width: number, dash?: readonly number[]): DrawingMark {
  return { kind: "run", segments, width, ...(dash === undefined ? {} : { dash }) };
}

/** Room for a line of text, mm: the widest common sans-serif takes 0.56 of its size a letter. */
export function roomFor(text: string, size: number): number {
  return text.length * size * 0.56;
}

/** The box around all that is drawn, line widths included; letters by `roomFor`. @throws RangeError for nothing */
export function boundsOfDrawing(drawing: Drawing): Box {
  let box: Box | undefined;
  for (const mark of drawing.marks) {
    for (const b of boxesOf(mark)) {
      box =
        box === undefined
          ? b
          : {
              min: { x: Math.min(box.min.x, b.min.x), y: Math.min(box.min.y, b.min.y) },
              max: { x: Math.max(box.max.x, b.max.x), y: Math.max(box.max.y, b.max.y) },
            };
    }
  }
  if (box === undefined) throw new RangeError("an empty drawing has no bounds");
  return box;
}

function boxesOf(mark: DrawingMark): readonly Box[] {
  switch (mark.kind) {
    case "run":
      return mark.segments.map((s) => {
        const b = boundsOf(s);
        const w = mark.width / 2;
        return { min: { x: b.min.x - w, y: b.min.y - w }, max: { x: b.max.x + w, y: b.max.y + w } };
      });
    case "text": {
      const long = roomFor(mark.text, mark.size);
      const start = mark.anchor === "start" ? 0 : mark.anchor === "middle" ? -long / 2 : -long;
      const [cos, sin] = [Math.cos((mark.turnedDeg * Math.PI) / 180), Math.sin((mark.turnedDeg * Math.PI) / 180)];
      const corners = [
        [start, -0.25],
        [start + long, -0.25],
        [start, 0.8],
        [start + long, 0.8],
      ].map(([along, up]) => ({
        x: mark.at.x + along! * cos - up! * mark.size * sin,
        y: mark.at.y + along! * sin + up! * mark.size * cos,
      }));
      const xs = corners.map((c) => c.x);
      const ys = corners.map((c) => c.y);
      return [{ min: { x: Math.min(...xs), y: Math.min(...ys) }, max: { x: Math.max(...xs), y: Math.max(...ys) } }];
    }
  }
}
