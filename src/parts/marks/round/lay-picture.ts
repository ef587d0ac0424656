import { mapPoint, turnBy } from "../../../shapes/plan-map.ts";
import type { Point } from "../../../shapes/point.ts";
import type { Ink } from "../mark.ts";
import type { Unrolled } from "./unroll.ts";

type Picture = Extract<Ink, { readonly kind: "picture" }>;

/** How a picture's plan relates to the wood: along and across the axis to a point of the drawing, and to the face. */
export interface PicturePlan {
  /** Corners of the picture seen from above, along and across the axis, mm. */
  readonly box: { readonly minX: number; readonly maxX: number; readonly minY: number; readonly maxY: number };
  /** The point of the drawing at a place seen from above; undefined off the wood. */
  readonly drawnAt: (x: number, y: number) => Point | undefined;
  /** From along and across to plan coordinates of the face, and whether that turns by half. */
  readonly onto: (x: number, y: number) => Point;
  readonly halfTurned: boolean;
}

/**
 * A picture seen from above the round that it is laid around: rows that lie far from the crown come out narrower. Each
 * new pixel takes the grey of the old one beneath its middle; what is beside the picture is white. The pixels keep
 * their size.
 */
export function layPicture(ink: Picture, plan: PicturePlan): Picture {
  const pitch = ink.width / ink.grey.width;
  const { minX, maxX, minY, maxY } = plan.box;
  const width = Math.max(1, Math.ceil((maxX - minX) / pitch - 1e-6));
  const height = Math.max(1, Math.ceil((maxY - minY) / pitch - 1e-6));
  const grey = new Float32Array(width * height).fill(1);
  const unturn = turnBy(-ink.turnedDeg);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      // Rows run down from the top; a face drawn the other way up reads them from the other end.
      const x = plan.halfTurned ? minX + (width - column - 0.5) * pitch : minX + (column + 0.5) * pitch;
      const y = plan.halfTurned ? minY + (row + 0.5) * pitch : minY + (height - row - 0.5) * pitch;
      const drawn = plan.drawnAt(x, y);
      if (drawn === undefined) continue;
      const own = mapPoint(unturn, { x: drawn.x - ink.corner.x, y: drawn.y - ink.corner.y });
      const i = Math.floor((own.x / ink.width) * ink.grey.width);
      const k = Math.floor((1 - own.y / ink.height) * ink.grey.height);
      if (i < 0 || k < 0 || i >= ink.grey.width || k >= ink.grey.height) continue;
      grey[row * width + column] = ink.grey.grey[k * ink.grey.width + i] ?? 1;
    }
  }
  const a = plan.onto(minX, minY);
  const b = plan.onto(minX + width * pitch, minY + height * pitch);
  return {
    kind: "picture",
    grey: { width, height, grey },
    corner: { x: Math.min(a.x, b.x), y: Math.min(a.y, b.y) },
    width: width * pitch,
    height: height * pitch,
    turnedDeg: 0,
  };
}

/** The point of a drawing beneath a place seen from above, where the wood is unrolled so. */
export function drawnBeneath(
  way: Unrolled,
  aside: number,
  radiusAt: (x: number) => number | undefined,
  x: number,
  y: number,
): Point | undefined {
  if (way.kind === "flat") return way.from(x, y);
  const radius = radiusAt(x);
  if (radius === undefined || Math.abs(y) >= radius) return undefined;
  return way.from(x, Math.asin(y / radius) - aside);
}
