import type { BeamAim } from "../../plan/beam-setup.ts";
import type { Box, Point } from "../../shapes/point.ts";
import type { Segment } from "../../shapes/segment.ts";

/** A picture of dots, as an aim has it. */
export type DotAim = Extract<BeamAim, { readonly kind: "dots" }>;

/** Directions of a picture: along its rows, and from row to row downwards, with the box around it. mm. */
export interface DotFrame {
  readonly along: Point;
  readonly down: Point;
  readonly box: Box;
}

/** The frame of a picture: rows run at `alongDeg` from its top left corner, and follow each other to the right of that. */
export function dotFrame(aim: DotAim): DotFrame {
  const rad = (aim.alongDeg * Math.PI) / 180;
  const along = { x: Math.cos(rad), y: Math.sin(rad) };
  const down = { x: along.y, y: -along.x };
  const corners = [0, aim.columns * aim.pitch].flatMap((u) =>
    [0, aim.rows * aim.pitch].map((v) => ({
      x: aim.corner.x + u * along.x + v * down.x,
      y: aim.corner.y + u * along.y + v * down.y,
    })),
  );
  const xs = corners.map((p) => p.x);
  const ys = corners.map((p) => p.y);
  return {
    along,
    down,
    box: { min: { x: Math.min(...xs), y: Math.min(...ys) }, max: { x: Math.max(...xs), y: Math.max(...ys) } },
  };
}

/** A burned stretch in a picture's own coordinates, mm. */
export interface InRow {
  readonly row: number;
  /** From left to right. */
  readonly from: number;
  readonly to: number;
  /** It was burned from right to left. */
  readonly back: boolean;
  /** Farthest from the row's middle line; infinite for what is no straight line. */
  readonly off: number;
  /** How far it reaches beyond the picture. */
  readonly over: number;
}

/** Where a burned stretch lies in a picture. */
export function dotRowOf(aim: DotAim, curve: Segment): InRow {
  const { along, down } = dotFrame(aim);
  const place = (p: Point): Point => {
    const dx = p.x - aim.corner.x;
    const dy = p.y - aim.corner.y;
    return { x: dx * along.x + dy * along.y, y: dx * down.x + dy * down.y };
  };
  const a = place(curve.from);
  const b = place(curve.to);
  const row = Math.max(0, Math.min(aim.rows - 1, Math.floor((a.y + b.y) / 2 / aim.pitch)));
  const middle = (row + 0.5) * aim.pitch;
  const from = Math.min(a.x, b.x);
  const to = Math.max(a.x, b.x);
  return {
    row,
    from,
    to,
    back: b.x < a.x,
    off: curve.kind === "line" ? Math.max(Math.abs(a.y - middle), Math.abs(b.y - middle)) : Number.POSITIVE_INFINITY,
    over: Math.max(0, -from, to - aim.columns * aim.pitch),
  };
}
