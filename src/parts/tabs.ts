import { polygon } from "../shapes/outlines.ts";
import type { Point } from "../shapes/point.ts";
import type { Loop } from "../shapes/region.ts";
import { lengthOf, pointAt, radiusOf, type Segment, tangentAt } from "../shapes/segment.ts";
import type { Keep, Tab } from "./workpiece.ts";

/** Least straight run between a tab and the next corner, mm: the bit must be level again before it turns. */
const FROM_CORNER = 6;
/** Arcs at least this many tab widths in radius are straight enough to carry a tab. */
const STRAIGHT_ENOUGH = 2;

/**
 * Places tabs on an outline: on straight runs (or wide arcs), away from corners, spread around evenly. Undefined when the
 * outline has no room for as many.
 */
export function placeTabs(outline: Loop, count: number, width: number, height: number): readonly Tab[] | undefined {
  const margin = width / 2 + FROM_CORNER;
  const runs: { s: Segment; begins: number; low: number; high: number }[] = [];
  let length = 0;
  for (const s of outline) {
    const own = lengthOf(s);
    const carries = s.kind === "line" || radiusOf(s) >= STRAIGHT_ENOUGH * width;
    if (carries && own >= 2 * margin)
      runs.push({ s, begins: length, low: length + margin, high: length + own - margin });
    length += own;
  }
  if (runs.length === 0) return undefined;
  const apart = (a: number, b: number): number => {
    const d = Math.abs(a - b) % length;
    return Math.min(d, length - d);
  };
  // The first tab goes to the middle of the longest run; the rest are wished at even distances from it.
  const longest = runs.reduce((a, b) => (b.high - b.low > a.high - a.low + 1e-9 ? b : a));
  const start = (longest.low + longest.high) / 2;
  const chosen: number[] = [];
  for (let k = 0; k < count; k++) {
    const wished = (start + (k * length) / count) % length;
    const spots = runs
      .map((r) => nearestIn(wished, r.low, r.high, length))
      .filter((spot) => chosen.every((c) => apart(c, spot) >= 2 * width + FROM_CORNER));
    if (spots.length === 0) return undefined;
    chosen.push(spots.reduce((a, b) => (apart(b, wished) < apart(a, wished) - 1e-9 ? b : a)));
  }
  return chosen
    .sort((a, b) => a - b)
    .map((at) => {
      const run = runs.find((r) => at >= r.low - 1e-9 && at <= r.high + 1e-9)!;
      const t = (at - run.begins) / lengthOf(run.s);
      return { at: pointAt(run.s, t), along: tangentAt(run.s, t), width, height };
    });
}

/** The place in [low, high] nearest to a wished place on a ring of this length. */
function nearestIn(wished: number, low: number, high: number, length: number): number {
  const places = [wished - length, wished, wished + length];
  const within = places.find((w) => w >= low && w <= high);
  if (within !== undefined) return within;
  const gap = (at: number): number => Math.min(...places.map((w) => Math.abs(w - at)));
  return gap(low) <= gap(high) + 1e-9 ? low : high;
}

/**
 * The wood that a tab leaves standing within a cut of width `band` beside the outline.
 * @param depth of the cut below the face, mm
 */
export function keepOf(tab: Tab, side: "outside" | "inside", band: number, depth: number): Keep {
  // A little into the piece, so that the bridge joins it without a gap along a curved outline too.
  const join = Math.min(1, tab.width / 4) + (tab.width * tab.width) / (8 * STRAIGHT_ENOUGH * tab.width);
  const { at, along } = tab;
  // An outline runs counter-clockwise, with the piece (or the opening's slug) on its left.
  const out = side === "outside" ? { x: along.y, y: -along.x } : { x: -along.y, y: along.x };
  const corner = (a: number, o: number): Point => ({
    x: at.x + a * along.x + o * out.x,
    y: at.y + a * along.y + o * out.y,
  });
  const half = tab.width / 2;
  const ring =
    side === "outside"
      ? [corner(-half, band), corner(half, band), corner(half, -join), corner(-half, -join)]
      : [corner(-half, -join), corner(half, -join), corner(half, band), corner(-half, band)];
  return { area: polygon(ring), from: depth - tab.height };
}
