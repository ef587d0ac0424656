import type { Point } from "../point.ts";
import type { Polygons } from "../rings.ts";
import type { Bitmap, GreyPicture } from "./grey-picture.ts";

/** Nearest that an outline comes to a pixel's middle, in pixels: rings then never touch at a point. */
const NEAREST = 1 / 1024;

/**
 * Outline of the ink, by marching squares: between an ink pixel's middle and a paper pixel's the outline passes where the
 * grey, straight between the two, is `level`. Where four pixels meet with ink in two opposite corners, the surface
 * u v-linear between them says whether the ink holds together. Beyond the picture is paper.
 * @param ink which pixels are ink (1); where it disagrees with the grey (specks taken away), ink counts
 * @returns rings in pixels, X to the right and Y up from the picture's lower left corner; outer rings counter-clockwise,
 *   holes clockwise, none touching another
 * Source: Lorensen & Cline 1987 in the plane; the doubtful case after Nielson & Hamann 1991 (both from memory).
 */
export function outlineOf(picture: GreyPicture, ink: Bitmap, level: number): Polygons {
  const { width, height } = picture;
  const w = width + 2;
  // Depth in ink: above zero in it, below outside. Row 0 is below the picture, as Y points up.
  const depth = new Float64Array(w * (height + 2)).fill(-level);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const d = level - picture.grey[y * width + x]!;
      const isInk = ink.bits[y * width + x] === 1;
      // A pixel turned over is as deep on the other side, and never just on the line.
      depth[(height - y) * w + x + 1] = isInk ? Math.max(Math.abs(d), 1e-9) : -Math.max(Math.abs(d), 1e-9);
    }
  }
  // Each crossed edge between two middles has a number: twice its lower or left end, plus one for an upright edge.
  const next = new Map<number, number>();
  for (let y = 0; y <= height; y++) {
    for (let x = 0; x <= width; x++) {
      const at = y * w + x;
      const a = depth[at]!;
      const b = depth[at + 1]!;
      const c = depth[at + w + 1]!;
      const d = depth[at + w]!;
      const corners = (a > 0 ? 1 : 0) | (b > 0 ? 2 : 0) | (c > 0 ? 4 : 0) | (d > 0 ? 8 : 0);
      if (corners === 0 || corners === 15) continue;
      const south = 2 * at;
      const west = 2 * at + 1;
      const east = 2 * (at + 1) + 1;
      const north = 2 * (at + w);
      // Ink on the left of every step.
      switch (corners) {
        case 1:
          next.set(south, west);
          break;
        case 2:
          next.set(east, south);
          break;
        case 3:
          next.set(east, west);
          break;
        case 4:
          next.set(north, east);
          break;
        case 6:
          next.set(north, south);
          break;
        case 7:
          next.set(north, west);
          break;
        case 8:
          next.set(west, north);
          break;
        case 9:
          next.set(south, north);
          break;
        case 11:
          next.set(east, north);
          break;
        case 12:
          next.set(west, east);
          break;
        case 13:
          next.set(south, east);
          break;
        case 14:
          next.set(west, south);
          break;
        case 5:
          if (a * c > b * d) {
            next.set(south, east);
            next.set(north, west);
          } else {
            next.set(south, west);
            next.set(north, east);
          }
          break;
        case 10:
          if (b * d > a * c) {
            next.set(east, north);
            next.set(west, south);
          } else {
            next.set(east, south);
            next.set(west, north);
          }
          break;
      }
    }
  }
  const place = (edge: number): Point => {
    const at = edge >> 1;
    const upright = (edge & 1) === 1;
    const from = depth[at]!;
    const to = depth[upright ? at + w : at + 1]!;
    const t = Math.min(1 - NEAREST, Math.max(NEAREST, from / (from - to)));
    const x = (at % w) - 0.5;
    const y = Math.floor(at / w) - 0.5;
    return upright ? { x, y: y + t } : { x: x + t, y };
  };
  const rings: Point[][] = [];
  const done = new Set<number>();
  for (const start of next.keys()) {
    if (done.has(start)) continue;
    const ring: Point[] = [];
    for (let edge = start; !done.has(edge); edge = next.get(edge)!) {
      done.add(edge);
      ring.push(place(edge));
    }
    rings.push(ring);
  }
  return rings;
}
