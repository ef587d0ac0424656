import type { FeatureBase } from "../job/feature-base.ts";
import type { At, Feature } from "../job/job.ts";
import type { MarkContent, MarkMade } from "../job/mark.ts";
import { drawText } from "../shapes/lettering/draw-text.ts";
import { USUAL_LINE_SPACING } from "../shapes/lettering/layout.ts";
import { strokeFace } from "../shapes/lettering/stroke-face.ts";
import type { Point } from "../shapes/point.ts";
import { line, type Segment } from "../shapes/segment.ts";

/** Height of the figures, mm: read at arm's length, and lower than the grooves lie apart. */
const FIGURES = 6;
/** How deep a cut line goes, mm. */
const CUT = 0.4;

/** A size drawn in single strokes about its own middle, and how wide it is. mm */
export interface DrawnSize {
  readonly content: MarkContent;
  readonly width: number;
}

/** Draws a size for a card: figures and a point, in lines that any bit or beam follows. */
export function drawSize(text: string): DrawnSize {
  const size = { by: "cap height", mm: FIGURES } as const;
  const face = strokeFace("upright");
  const drawn = drawText(
    face,
    {
      text,
      size,
      align: "centre",
      letterSpacing: 0,
      lineSpacing: USUAL_LINE_SPACING,
      standing: "middle",
      place: { kind: "line", at: { x: 0, y: 0 }, turnedDeg: 0 },
    },
    { tolerance: 0.01, made: "lines" },
  );
  if (!drawn.ok || drawn.value.kind !== "strokes") throw new Error(`the size ${text} cannot be drawn`);
  const { strokes } = drawn.value;
  const xs = strokes.flatMap((s) => s.map((p) => p.x));
  return {
    content: {
      kind: "lines",
      chains: strokes.map(chainOf).filter((c) => c.length > 0),
      from: { kind: "text", text, face: face.name, size },
    },
    width: Math.max(...xs) - Math.min(...xs),
  };
}

/** The drawn size as a mark of the card. */
export function sizeMark(base: FeatureBase, drawn: DrawnSize, at: At, by: "burned" | "cut"): Feature {
  const made: MarkMade = by === "burned" ? { by: "burned line" } : { by: "cut line", depth: CUT };
  return { ...base, kind: "mark", content: drawn.content, made, at, turnedDeg: 0 };
}

function chainOf(points: readonly Point[]): readonly Segment[] {
  return points.flatMap((p, i) => {
    const before = points[i - 1];
    return before === undefined || (before.x === p.x && before.y === p.y) ? [] : [line(before, p)];
  });
}
