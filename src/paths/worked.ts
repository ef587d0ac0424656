import type { Point } from "../shapes/point.ts";
import { type Chain, chainLength, samplesAlong, stretch } from "./chain.ts";

/**
 * Where the cutter's centre has been at the level in hand: points along its way, sorted into squares. Asked only how
 * much of the cutter a new pass will bury, so a few percent do.
 */
export interface Worked {
  readonly cell: number;
  readonly points: Map<string, Point[]>;
}

/** Nothing worked yet. @param reach the largest distance that will be asked about, mm */
export function nothingWorked(reach: number): Worked {
  return { cell: reach, points: new Map() };
}

/** Notes that the cutter has gone along a chain. */
export function note(worked: Worked, chain: Chain): void {
  for (const p of samplesAlong(chain, worked.cell / 3)) {
    const key = `${Math.floor(p.x / worked.cell)},${Math.floor(p.y / worked.cell)}`;
    const there = worked.points.get(key);
    if (there === undefined) worked.points.set(key, [p]);
    else there.push(p);
  }
}

/** True when the cutter has been within reach of a place: less than half of it will be buried there. */
function isNear(worked: Worked, p: Point): boolean {
  const i = Math.floor(p.x / worked.cell);
  const j = Math.floor(p.y / worked.cell);
  const square = worked.cell * worked.cell;
  for (let a = i - 1; a <= i + 1; a++) {
    for (let b = j - 1; b <= j + 1; b++) {
      for (const q of worked.points.get(`${a},${b}`) ?? []) {
        const dx = q.x - p.x;
        const dy = q.y - p.y;
        if (dx * dx + dy * dy <= square) return true;
      }
    }
  }
  return false;
}

/** A stretch of a chain, and whether the cutter is buried over its full width there. */
export interface Load {
  readonly chain: Chain;
  readonly buried: boolean;
}

/**
 * A chain cut where it goes from worked ground into full wood and back. Short free stretches between buried ones
 * count as buried, so that the feed doesn't hunt.
 */
export function loadsAlong(worked: Worked, chain: Chain): Load[] {
  const total = chainLength(chain);
  const points = samplesAlong(chain, worked.cell / 3);
  const marks: { at: number; buried: boolean }[] = [];
  const spacing = spacingsOf(chain, worked.cell / 3);
  let at = 0;
  for (const [i, p] of points.entries()) {
    marks.push({ at, buried: !isNear(worked, p) });
    at += spacing[i] ?? 0;
  }
  const runs: { from: number; to: number; buried: boolean }[] = [];
  for (const [i, m] of marks.entries()) {
    const to = marks[i + 1]?.at ?? total;
    // A stretch is buried when either end is: slowed a little early, never late.
    const buried = m.buried || (marks[i + 1]?.buried ?? m.buried);
    const last = runs[runs.length - 1];
    if (last !== undefined && last.buried === buried) last.to = to;
    else if (to > m.at) runs.push({ from: m.at, to, buried });
  }
  const calm = merged(runs, worked.cell);
  if (calm.length <= 1) return [{ chain, buried: calm[0]?.buried ?? true }];
  return calm.map((r) => ({ chain: stretch(chain, r.from, r.to), buried: r.buried })).filter((l) => l.chain.length > 0);
}

function spacingsOf(chain: Chain, spacing: number): number[] {
  return chain.flatMap((s) => {
    const length = chainLength([s]);
    const n = Math.max(1, Math.ceil(length / spacing));
    return new Array<number>(n).fill(length / n);
  });
}

function merged(
  runs: readonly { readonly from: number; readonly to: number; readonly buried: boolean }[],
  shortest: number,
): { readonly from: number; readonly to: number; readonly buried: boolean }[] {
  const calm: { from: number; to: number; buried: boolean }[] = [];
  for (const [i, r] of runs.entries()) {
    const short = !r.buried && r.to - r.from < shortest && i > 0 && i < runs.length - 1;
    const buried = r.buried || short;
    const last = calm[calm.length - 1];
    if (last !== undefined && last.buried === buried) last.to = r.to;
    else calm.push({ from: r.from, to: r.to, buried });
  }
  return calm;
}
