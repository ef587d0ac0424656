import { chainOf, type Envelope } from "../../plan/turning-envelope.ts";
import { lengthOf, pieceOf, radiusOf, reversed, type Segment, shareTowards } from "../../shapes/segment.ts";
import type { TurningShape } from "../../shop/turning-profile.ts";
import { clearOf, type KnownWood, samplesOf } from "./wood.ts";

/** Needed stretches nearer to each other than this become one, mm. */
const JOIN = 2;
/** How far a stretch reaches beyond where it is needed, mm. */
const OVERLAP = 0.3;

/**
 * The way of a tool over a profile as a turner cuts it: from each crest down the slope to either side, never uphill.
 * Level stretches go with the slope before them. Each descent is a chain of segments in the order of cutting.
 */
export function descentsOver(stands: Envelope): readonly (readonly Segment[])[] {
  const runs: { falls: boolean; way: Segment[] }[] = [];
  for (const s of chainOf(stands).flatMap(monotone)) {
    const last = runs[runs.length - 1];
    const rises = s.to.y > s.from.y + 1e-9;
    const falls = s.to.y < s.from.y - 1e-9;
    const fits = last !== undefined && (last.falls ? !rises : rises);
    if (fits) last.way.push(s);
    else runs.push({ falls: falls || !rises, way: [s] });
  }
  return runs.map(({ falls, way }) => (falls ? way : way.map(reversed).reverse()));
}

/** An arc cut at its highest or lowest point, so that each piece only rises or only falls. */
function monotone(s: Segment): readonly Segment[] {
  if (s.kind === "line") return [s];
  const t = shareTowards(s, 0, s.ccw ? -1 : 1);
  if (t === undefined || t * lengthOf(s) < 1e-9 || (1 - t) * lengthOf(s) < 1e-9) return [s];
  const pole = { x: s.centre.x, y: s.centre.y + (s.ccw ? -1 : 1) * radiusOf(s) };
  const first = pieceOf(s, 0, t);
  const second = pieceOf(s, t, 1);
  return [
    { ...first, to: pole },
    { ...second, from: pole },
  ];
}

/**
 * Those stretches of a descent on which the tool would take more than `least` mm of wood, a little longer at both ends.
 */
export function neededStretches(
  way: readonly Segment[],
  wood: KnownWood,
  shape: TurningShape,
  least: number,
): readonly (readonly Segment[])[] {
  const ends: { from: number; to: number }[] = [];
  let along = 0;
  for (const s of way) {
    const length = lengthOf(s);
    const points = samplesOf(s, wood.step);
    for (const [k, p] of points.entries()) {
      if (clearOf(wood, shape, p.x) - p.y <= least) continue;
      const at = along + (length * k) / (points.length - 1);
      const last = ends[ends.length - 1];
      // Where only the lower end of an upright run meets wood, the wood lies anywhere above it.
      const from = s.kind === "line" && s.from.x === s.to.x && k === 1 ? along : at;
      if (last !== undefined && from - last.to <= JOIN) last.to = at;
      else ends.push({ from, to: at });
    }
    along += length;
  }
  return ends
    .map(({ from, to }) => between(way, Math.max(0, from - OVERLAP), Math.min(along, to + OVERLAP)))
    .filter((part) => part.length > 0);
}

/** A chain between two lengths along it. */
function between(way: readonly Segment[], from: number, to: number): readonly Segment[] {
  const out: Segment[] = [];
  let along = 0;
  for (const s of way) {
    const length = lengthOf(s);
    const a = Math.max(0, from - along);
    const b = Math.min(length, to - along);
    if (b - a > 1e-6) out.push(pieceOf(s, a <= 1e-6 ? 0 : a / length, b >= length - 1e-6 ? 1 : b / length));
    along += length;
  }
  return out;
}
