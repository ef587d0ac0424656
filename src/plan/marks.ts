import { boxGap, distanceToPoint } from "../shapes/nearest.ts";
import type { Box, Box3, Point } from "../shapes/point.ts";
import { boundsOfRegion, containsPoint, type Region, regionSegments } from "../shapes/region.ts";
import type { KeepOut, WitnessMark } from "./setup.ts";

/** Uncut wood wanted around a mark, mm, from roomy to least: the gauge block must stand on it. */
const MARGINS = [6, 4, 2.5, 1.5, 0.8] as const;
/** Where marks are wished, as shares of the blank from the zero corner: not in line, and no mirror image of each other. */
const WISHED: readonly Point[] = [
  { x: 0.12, y: 0.2 },
  { x: 0.9, y: 0.32 },
  { x: 0.37, y: 0.85 },
];
/** Marks must tell a turned or mirrored blank apart by at least this, mm. */
const APART = 4;
/** Places that are tried along each side. */
const TRIED = 28;

/**
 * Two or three spots on uncut wood at the top of the blank, at whole millimetres from the zero corner where the blank is
 * large enough. Half a turn or a mirror image of the blank brings no mark onto a mark. Fewer where there is no room.
 * @param cut areas that have no wood at the top
 * @param nutRadius how far the nut reaches beside the tip: it must not meet a clamp
 */
export function witnessMarks(
  blank: Box3,
  cut: readonly Region[],
  keepOuts: readonly KeepOut[],
  nutRadius: number,
  nameOf: (fromLeft: number, fromFront: number) => string,
): readonly WitnessMark[] {
  let best: readonly Point[] = [];
  for (const margin of MARGINS) {
    const spots = pick(candidates(blank, margin), isFree(cut, keepOuts, margin, nutRadius), blank);
    if (spots.length > best.length) best = spots;
    if (best.length === WISHED.length) break;
  }
  return best.map((p, i) => ({
    name: `${"ABC"[i]}: ${nameOf(p.x - blank.min.x, p.y - blank.min.y)}`,
    at: { x: p.x, y: p.y, z: blank.max.z },
  }));
}

function candidates(blank: Box3, margin: number): readonly Point[] {
  const ys = places(blank.min.y, blank.max.y, margin);
  return places(blank.min.x, blank.max.x, margin).flatMap((x) => ys.map((y) => ({ x, y })));
}

/** Tells whether a spot has uncut wood around it and no clamp where the nut comes down. */
function isFree(
  cut: readonly Region[],
  keepOuts: readonly KeepOut[],
  margin: number,
  nutRadius: number,
): (p: Point) => boolean {
  const areas = cut.map((region) => ({ region, box: boundsOfRegion(region) }));
  return (p) =>
    areas.every(({ region, box }) => box === undefined || clear(region, box, p, margin)) &&
    keepOuts.every((k) => boxGap(k.box, { min: p, max: p }) >= margin + nutRadius);
}

function clear(region: Region, box: Box, p: Point, margin: number): boolean {
  if (boxGap(box, { min: p, max: p }) >= margin) return true;
  return !containsPoint(region, p) && regionSegments(region).every((s) => distanceToPoint(s, p) >= margin);
}

/** Candidates along a side, whole millimetres from zero where they lie at least that far apart. */
function places(min: number, max: number, margin: number): readonly number[] {
  const room = Math.min(margin, (max - min) / 4);
  const low = min + room;
  const high = max - room;
  const step = (high - low) / TRIED;
  const grain = step >= 0.5 ? Math.ceil(step) : 0.1;
  const found: number[] = [];
  for (let k = Math.ceil(low / grain - 1e-9); k * grain <= high + 1e-9; k++)
    found.push(Math.round(k * grain * 10) / 10);
  return found.length > 2 * TRIED ? found.filter((_, i) => i % Math.ceil(found.length / TRIED) === 0) : found;
}

/** For each wish the nearest free spot that keeps the whole set tellable from its turned and mirrored images. */
function pick(all: readonly Point[], free: (p: Point) => boolean, blank: Box3): readonly Point[] {
  const width = blank.max.x - blank.min.x;
  const depth = blank.max.y - blank.min.y;
  // Seen from the zero corner, so that a blank zeroed at another corner gets the same spots of it.
  const fromRight = Math.abs(blank.max.x) < Math.abs(blank.min.x);
  const fromBack = Math.abs(blank.max.y) < Math.abs(blank.min.y);
  const chosen: Point[] = [];
  for (const wish of WISHED) {
    const at = {
      x: fromRight ? blank.max.x - wish.x * width : blank.min.x + wish.x * width,
      y: fromBack ? blank.max.y - wish.y * depth : blank.min.y + wish.y * depth,
    };
    const spot = nearestFirst(all, at).find((p) => tellable([...chosen, p], blank) && free(p));
    if (spot) chosen.push(spot);
  }
  return chosen;
}

function nearestFirst(points: readonly Point[], at: Point): readonly Point[] {
  const far = (p: Point): number => Math.hypot(p.x - at.x, p.y - at.y);
  return points
    .map((p) => ({ p, d: far(p) }))
    .sort((a, b) => a.d - b.d || a.p.x - b.p.x || a.p.y - b.p.y)
    .map(({ p }) => p);
}

/**
 * True when neither half a turn nor either mirror image of the blank brings any mark near another or itself, and three
 * marks don't stand in line. On a strip too narrow to tell its two long sides apart only the length counts.
 */
function tellable(marks: readonly Point[], blank: Box3): boolean {
  const cx = (blank.min.x + blank.max.x) / 2;
  const cy = (blank.min.y + blank.max.y) / 2;
  const narrowX = blank.max.x - blank.min.x < 6 * APART;
  const narrowY = blank.max.y - blank.min.y < 6 * APART;
  const images: ((p: Point) => Point)[] = [(p) => ({ x: 2 * cx - p.x, y: 2 * cy - p.y })];
  if (!narrowX) images.push((p) => ({ x: 2 * cx - p.x, y: p.y }));
  if (!narrowY) images.push((p) => ({ x: p.x, y: 2 * cy - p.y }));
  const far = (a: Point, b: Point): boolean => Math.hypot(a.x - b.x, a.y - b.y) >= APART;
  if (marks.some((p, i) => marks.some((q, k) => k < i && !far(p, q)))) return false;
  if (!images.every((image) => marks.every((p) => marks.every((q) => far(image(p), q))))) return false;
  const [a, b, c] = marks;
  if (!a || !b || !c || narrowX || narrowY) return true;
  const area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  return Math.abs(area) >= APART * Math.hypot(b.x - a.x, b.y - a.y);
}
