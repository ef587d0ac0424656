import type { TurnedPiece } from "../parts/turned-piece.ts";
import type { Point } from "../shapes/point.ts";
import { type Arc, pointAt, type Segment, shareTowards } from "../shapes/segment.ts";

/** A place along a turned blank where the turner sets out or measures. mm. */
export interface Station {
  /** From the first end of the blank as mounted. */
  readonly at: number;
  /** Diameters there: one, or two at a shoulder, in the order from the first end. */
  readonly diameters: readonly number[];
  /** What is there: "cove to fillet", "thinnest of the grip". */
  readonly what: string;
  /** True where one element ends or begins, false within one. */
  readonly transition: boolean;
}

/** Places closer than this are one, mm. */
const SAME = 1e-6;

/**
 * Every place that a story stick shows: where elements meet, where turned wood meets square, and where an element is
 * thickest or thinnest within itself. In order from the first end; exact.
 */
export function stationsOf(piece: TurnedPiece): readonly Station[] {
  const found = new Map<number, { at: number; names: string[]; transition: boolean }>();
  const add = (at: number, name: string, transition: boolean): void => {
    const key = Math.round(at / SAME);
    const there = found.get(key);
    if (there === undefined) found.set(key, { at, names: [name], transition });
    else {
      if (!there.names.includes(name)) there.names.push(name);
      if (transition) found.set(key, { ...there, transition });
    }
  };
  for (const s of piece.squares) {
    if (s.from > SAME) add(s.from, "square begins", true);
    if (s.to < piece.blank.length - SAME) add(s.to, "square ends", true);
  }
  for (const e of piece.elements) {
    add(e.from, e.name, true);
    add(e.to, e.name, true);
    for (const p of turningPoints(piece.meridian.segments, e.from, e.to)) {
      add(p.x, `${p.thick ? "thickest" : "thinnest"} of ${e.name}`, false);
    }
  }
  return [...found.values()]
    .sort((a, b) => a.at - b.at)
    .map((f) => ({
      at: f.at,
      diameters: diametersAt(piece.meridian.segments, f.at),
      what: f.names.join(" / "),
      transition: f.transition,
    }));
}

/** Diameters at a place: before and after a shoulder; none where nothing is turned. */
function diametersAt(segments: readonly Segment[], x: number): readonly number[] {
  const radii: number[] = [];
  for (const s of segments) {
    const upright = Math.abs(s.to.x - s.from.x) <= SAME;
    if (upright) continue;
    if (Math.abs(s.to.x - x) <= SAME) radii.push(s.to.y);
    else if (Math.abs(s.from.x - x) <= SAME) radii.push(s.from.y);
    else if (s.from.x < x && x < s.to.x) radii.push(yAt(s, x));
  }
  const two = radii.map((r) => 2 * r);
  return two.length > 1 && Math.abs(two[0]! - two[1]!) <= SAME ? two.slice(0, 1) : two;
}

function yAt(s: Segment, x: number): number {
  if (s.kind === "line") return s.from.y + ((x - s.from.x) / (s.to.x - s.from.x)) * (s.to.y - s.from.y);
  const r = Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
  const h = Math.sqrt(Math.max(0, r * r - (x - s.centre.x) ** 2));
  // Walked with x rising, a clockwise arc is the upper one.
  return s.centre.y + (s.ccw ? -h : h);
}

interface TurningPoint extends Point {
  readonly thick: boolean;
}

/** Where a stretch is thickest or thinnest within itself: the crowns of arcs, and corners between two slopes. */
function turningPoints(segments: readonly Segment[], from: number, to: number): readonly TurningPoint[] {
  const inside = (x: number): boolean => x > from + SAME && x < to - SAME;
  const found: TurningPoint[] = [];
  for (const [i, s] of segments.entries()) {
    if (s.kind === "arc") {
      for (const thick of [true, false]) {
        const p = crownOf(s, thick ? 1 : -1);
        if (p !== undefined && inside(p.x)) found.push({ ...p, thick });
      }
    }
    const next = segments[i + 1];
    if (next === undefined || !inside(s.to.x)) continue;
    const before = pointAt(s, 0.999).y - s.to.y;
    const after = pointAt(next, 0.001).y - next.from.y;
    if (before * after > 0) found.push({ x: s.to.x, y: s.to.y, thick: before < 0 });
  }
  return found;
}

/** The highest or lowest point of an arc's circle, where the arc passes it. */
function crownOf(a: Arc, sign: 1 | -1): Point | undefined {
  const share = shareTowards(a, 0, sign);
  if (share === undefined || share <= 0 || share >= 1) return undefined;
  return { x: a.centre.x, y: a.centre.y + sign * Math.hypot(a.from.x - a.centre.x, a.from.y - a.centre.y) };
}

/** A size as calipers and rules are set to it. */
export interface Setting {
  /** "23.00 mm". */
  readonly mm: string;
  /** Nearest 1/64 in, in lowest terms: "29/32 in". */
  readonly inch: string;
  /** The fraction less the size, mm: above 0 where the fraction is larger. */
  readonly off: number;
  /** Both in one: "31.75 mm = 1 1/4 in", "23.00 mm, 29/32 in (+0.02 mm)". */
  readonly both: string;
}

/** A size in mm and to the nearest 1/64 in, the rounding shown. @param value mm, ≥ 0 */
export function settingOf(value: number): Setting {
  const sixtyFourths = Math.round((value * 64) / 25.4);
  const off = (sixtyFourths * 25.4) / 64 - value;
  const mm = `${value.toFixed(2)} mm`;
  const inch = `${fraction(sixtyFourths)} in`;
  const exact = Math.abs(off) < 1e-6;
  const shown = `${off < 0 ? "-" : "+"}${Math.abs(off).toFixed(2)}`;
  return { mm, inch, off: exact ? 0 : off, both: exact ? `${mm} = ${inch}` : `${mm}, ${inch} (${shown} mm)` };
}

function fraction(sixtyFourths: number): string {
  const whole = Math.floor(sixtyFourths / 64);
  let [n, q] = [sixtyFourths % 64, 64];
  if (n === 0) return String(whole);
  while (n % 2 === 0) [n, q] = [n / 2, q / 2];
  return whole === 0 ? `${n}/${q}` : `${whole} ${n}/${q}`;
}
