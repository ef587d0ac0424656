import type { Size } from "../job/board.ts";
import { flattenRegion } from "../shapes/flatten.ts";
import { compose, inverse, toPart } from "../shapes/frame.ts";
import { mapRegion, planOf } from "../shapes/plan-map.ts";
import type { Point3 } from "../shapes/point.ts";
import { boundsOfRegion } from "../shapes/region.ts";
import { faceExtent, faceFrame, normalOf, oppositeOf } from "./faces.ts";
import { isUpright } from "./lean.ts";
import { distanceOfRegions } from "./section-distance.ts";
import type { Cavity } from "./workpiece.ts";

/** Wood left between two cuts, or between a cut and the outside. */
export interface Web {
  readonly a: Cavity;
  readonly b?: Cavity;
  /** Where the other side of the web is: what is cut from the opposite face, from a face square to it, or beside it. */
  readonly between:
    | "opposite faces"
    | "faces square to each other"
    | "cuts of one face"
    | "floor and far face"
    | "cut and border";
  /** Least thickness, mm; 0 where they meet. */
  readonly thickness: number;
  /** The true thickness may be greater than `thickness` by this, never less: 0 where it is exact. */
  readonly bound: number;
}

/** Width of the slices in which cuts from square faces are compared, mm. */
const SLICE = 0.25;
/** Chord error of the sections in these slices, mm; taken off the distance. */
const CHORD = 0.01;

/**
 * Every web thinner than `under` mm in a piece of wood. Straight-walled cuts of opposite faces and of one face are exact;
 * sloped ones count as wide all the way down as at their top, and cuts of square faces are compared in slices, so those
 * webs are never thicker than told by mistake. Outlines are left out: what they leave is the part itself; grooves and
 * rabbets of one face may cross.
 */
export function websOf(size: Size, cavities: readonly Cavity[], under: number): readonly Web[] {
  const cuts = cavities.filter((c) => c.shape.kind !== "outline" || c.shape.side === "inside");
  const webs: Web[] = [];
  const add = (web: Web | undefined): void => {
    if (web && web.thickness < under) webs.push(web);
  };
  for (const [i, a] of cuts.entries()) {
    add(floorWeb(size, a));
    add(borderWeb(size, a));
    for (const b of cuts.slice(i + 1)) {
      if (a.feature === b.feature && a.part === b.part && a.shape.kind === "hole" && sameCentre(a, b)) continue;
      add(webBetween(size, a, b, under));
    }
  }
  return webs;
}

function sameCentre(a: Cavity, b: Cavity): boolean {
  return (
    a.shape.kind === "hole" &&
    b.shape.kind === "hole" &&
    a.shape.centre.x === b.shape.centre.x &&
    a.shape.centre.y === b.shape.centre.y
  );
}

/** True for cuts that may cross each other on one face. */
export function mayCross(a: Cavity, b: Cavity): boolean {
  const runs = (c: Cavity): boolean => c.shape.kind === "groove" || c.shape.kind === "rabbet";
  return runs(a) && runs(b);
}

function floorWeb(size: Size, a: Cavity): Web | undefined {
  // A skin left under an outline is meant to be thin.
  if (a.through || a.shape.kind === "outline") return undefined;
  return {
    a,
    between: "floor and far face",
    thickness: Math.max(0, faceExtent(size, a.face).deep - a.to),
    bound: 0,
  };
}

function borderWeb(size: Size, a: Cavity): Web | undefined {
  const box = boundsOfRegion(a.section);
  if (box === undefined || a.shape.kind === "groove" || a.shape.kind === "rabbet") return undefined;
  const { u, v } = faceExtent(size, a.face);
  return {
    a,
    between: "cut and border",
    thickness: Math.max(0, Math.min(box.min.x, box.min.y, u - box.max.x, v - box.max.y)),
    bound: 0,
  };
}

/** The web between two cuts if it may be thinner than `under`. */
export function webBetween(size: Size, a: Cavity, b: Cavity, under: number): Web | undefined {
  const straight = isUpright(a) && isUpright(b);
  if (a.face === b.face) {
    if (mayCross(a, b) || a.shape.kind === "outline" || b.shape.kind === "outline") return undefined;
    const deep = gapOf(a.from, a.to, b.from, b.to);
    const flat = distanceOfRegions(a.section, b.section, under);
    return {
      a,
      b,
      between: "cuts of one face",
      thickness: Math.hypot(flat, deep),
      bound: straight ? 0 : Number.POSITIVE_INFINITY,
    };
  }
  if (b.face === oppositeOf(a.face)) {
    const deep = faceExtent(size, a.face).deep;
    const over = planOf(compose(inverse(faceFrame(size, b.face)), faceFrame(size, a.face)));
    const rise = gapOf(a.from, a.to, deep - b.to, deep - b.from);
    if (rise >= under) return undefined;
    const flat = distanceOfRegions(a.section, mapRegion(over, b.section), under);
    return {
      a,
      b,
      between: "opposite faces",
      thickness: Math.hypot(flat, rise),
      bound: straight ? 0 : Number.POSITIVE_INFINITY,
    };
  }
  const thickness = squareGap(size, a, b, under);
  return thickness === undefined
    ? undefined
    : {
        a,
        b,
        between: "faces square to each other",
        thickness,
        bound: straight ? 2 * SLICE + CHORD : Number.POSITIVE_INFINITY,
      };
}

function gapOf(low1: number, high1: number, low2: number, high2: number): number {
  return Math.max(0, low2 - high1, low1 - high2);
}

interface Box3D {
  readonly min: readonly [number, number, number];
  readonly max: readonly [number, number, number];
}

/** Least distance between two cuts from square faces, never too large; undefined when surely `under` or more. */
function squareGap(size: Size, a: Cavity, b: Cavity, under: number): number | undefined {
  const na = axisOf(a);
  const nb = axisOf(b);
  const common = 3 - na - nb;
  const wholeA = slicesOf(size, a, common, Number.POSITIVE_INFINITY)[0];
  const wholeB = slicesOf(size, b, common, Number.POSITIVE_INFINITY)[0];
  if (!wholeA || !wholeB || gap3(wholeA, wholeB) >= under) return undefined;
  const slicesB = slicesOf(size, b, common, SLICE);
  let least = Number.POSITIVE_INFINITY;
  for (const s of slicesOf(size, a, common, SLICE)) {
    for (const t of slicesB) {
      if (t.min[common]! - s.max[common]! > least || s.min[common]! - t.max[common]! > least) continue;
      least = Math.min(least, gap3(s, t));
    }
  }
  return Math.max(0, least - CHORD);
}

/** The workpiece axis (0 x, 1 y, 2 z) that a cavity is sunk along. */
function axisOf(c: Cavity): number {
  return normalOf(c.face).findIndex((n) => n !== 0);
}

function gap3(a: Box3D, b: Box3D): number {
  const along = ([0, 1, 2] as const).map((k) => Math.max(0, a.min[k] - b.max[k], b.min[k] - a.max[k]));
  return Math.hypot(...along);
}

/** A cavity within the wood as boxes in workpiece coordinates, one for each slice of `width` along an axis. */
function slicesOf(size: Size, cavity: Cavity, axis: number, width: number): readonly Box3D[] {
  const frame = faceFrame(size, cavity.face);
  const normal = axisOf(cavity);
  const other = 3 - axis - normal;
  const whole: readonly [number, number, number] = [size.length, size.width, size.thickness];
  const at = (p: Point3): readonly [number, number, number] => {
    const q = toPart(frame, p);
    return [q.x, q.y, q.z];
  };
  const rings = flattenRegion(cavity.section, CHORD).map((ring) => ring.map((p) => at({ x: p.x, y: p.y, z: 0 })));
  const deep = [at({ x: 0, y: 0, z: -cavity.from })[normal]!, at({ x: 0, y: 0, z: -cavity.to })[normal]!];
  const values = rings.flat().map((p) => p[axis]!);
  const low = Math.max(0, Math.min(...values));
  const high = Math.min(whole[axis]!, Math.max(...values));
  if (!(high > low)) return [];
  const count = Number.isFinite(width) ? Math.max(1, Math.ceil((high - low) / width)) : 1;
  const step = (high - low) / count;
  const lows = new Array<number>(count).fill(Number.POSITIVE_INFINITY);
  const highs = new Array<number>(count).fill(Number.NEGATIVE_INFINITY);
  for (const ring of rings) {
    for (const [i, p] of ring.entries()) {
      const q = ring[(i + 1) % ring.length]!;
      const [c0, c1] = p[axis]! <= q[axis]! ? [p, q] : [q, p];
      const first = Math.max(0, Math.floor((c0[axis]! - low) / step - 1e-9));
      const last = Math.min(count - 1, Math.floor((c1[axis]! - low) / step + 1e-9));
      for (let k = first; k <= last; k++) {
        for (const edge of [low + k * step, low + (k + 1) * step]) {
          const run = c1[axis]! - c0[axis]!;
          const t = run === 0 ? 0 : Math.min(1, Math.max(0, (edge - c0[axis]!) / run));
          for (const o of run === 0 ? [c0[other]!, c1[other]!] : [c0[other]! + t * (c1[other]! - c0[other]!)]) {
            lows[k] = Math.min(lows[k]!, o);
            highs[k] = Math.max(highs[k]!, o);
          }
        }
      }
    }
  }
  const boxes: Box3D[] = [];
  for (let k = 0; k < count; k++) {
    const min: [number, number, number] = [0, 0, 0];
    const max: [number, number, number] = [0, 0, 0];
    min[axis] = low + k * step;
    max[axis] = low + (k + 1) * step;
    min[other] = Math.max(0, lows[k]!);
    max[other] = Math.min(whole[other]!, highs[k]!);
    min[normal] = Math.min(...deep);
    max[normal] = Math.max(...deep);
    if (max[other]! >= min[other]!) boxes.push({ min, max });
  }
  return boxes;
}
