import type { Finding } from "../../finding.ts";
import { heightAt } from "../../shapes/hollow.ts";
import { extentOfMeridian, radiiAt } from "../../shapes/meridian.ts";
import { boundsOfRegion, containsPoint, distanceToBoundary } from "../../shapes/region.ts";
import { ALIKE, alikeAboutAxis } from "../halves-alike.ts";
import { lossPerHalf, type TurnedPiece } from "../turned-piece.ts";
import { profileDiffers } from "./end-for-end.ts";
import { mouthPlaneOf } from "./wall-map.ts";
import { walledPiece } from "./walls-of.ts";

/** Least width of a glue face that is asked, mm. Common practice, no source. */
export const LEAST_GLUE_WIDTH = 8;
/** A glue line across the grain longer than this wants screws, mm. Common practice, no source. */
export const LONGEST_ACROSS_GRAIN = 60;

/** The trued flat of a half by which it is glued on: what the recess leaves of it. */
export interface GlueFace {
  /** mm², by slices of 0.1 mm, each by the middle of its own chord. */
  readonly area: number;
  /** Narrowest run of wood across it, mm, where there is a face at all, and where along the axis. */
  readonly leastWidth: number;
  readonly at: number;
  /** From where to where along the axis, mm. */
  readonly from: number;
  readonly to: number;
}

/** Both halves beside each other. */
export interface Halves {
  readonly upper: GlueFace;
  readonly lower: GlueFace;
  /** The greatest difference of the profile's radius, turned end for end, mm. */
  readonly unlike: number;
  /** Seen on their flats with the mouths the same way round, the halves are mirror images and not alike. */
  readonly mirrorPair: boolean;
  readonly findings: readonly Finding[];
}

const SLICE = 0.1;

/**
 * Glue faces of both halves after truing (with all that saw and plane may take), whether the halves are alike, and what
 * to mind. Chords of the flat come from the meridian: half width √(r² − loss²), less what the recess takes.
 * @param pull the stretch of the axis that becomes the pull; all that is turned when absent
 */
export function halvesOf(
  piece: TurnedPiece,
  pull?: { readonly from: number; readonly to: number },
): Halves | undefined {
  const split = piece.split;
  if (split === undefined) return undefined;
  const stretch = pull ?? piece.pulls?.[0] ?? extentOfMeridian(piece.meridian);
  const loss = lossPerHalf(split).most;
  const upper = glueFace(piece, stretch, loss, 1);
  const lower = glueFace(piece, stretch, loss, -1);
  const unlike = profileDiffers(piece.meridian, stretch);
  const room = piece.fingerRoom;
  const box = room === undefined ? undefined : boundsOfRegion(room.section);
  const off = box === undefined ? 0 : Math.abs((box.min.x + box.max.x) / 2 - (stretch.from + stretch.to) / 2);
  const mirrorPair = !alikeAboutAxis(piece) && (unlike > ALIKE || off > ALIKE);
  return {
    upper,
    lower,
    unlike,
    mirrorPair,
    findings: findingsOf(piece, upper, lower, mirrorPair, unlike, off),
  };
}

/** What the recess leaves of one half's flat. */
export function glueFace(
  piece: TurnedPiece,
  stretch: { readonly from: number; readonly to: number },
  loss: number,
  side: 1 | -1,
): GlueFace {
  const count = Math.max(1, Math.ceil((stretch.to - stretch.from) / SLICE));
  const wide = (stretch.to - stretch.from) / count;
  let area = 0;
  let least = Number.POSITIVE_INFINITY;
  let at = stretch.from;
  let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < count; k++) {
    const x = stretch.from + (k + 0.5) * wide;
    const r = radiiAt(piece.meridian, x)?.least ?? 0;
    if (r <= loss) continue;
    const half = Math.sqrt(r * r - loss * loss);
    const runs = runsLeft(piece, x, half, loss, side);
    const width = runs.reduce((sum, w) => sum + w, 0);
    area += width * wide;
    if (width > 0) {
      from = Math.min(from, x - wide / 2);
      to = Math.max(to, x + wide / 2);
    }
    const widest = Math.max(0, ...runs);
    if (widest < least) {
      least = widest;
      at = x;
    }
  }
  return { area, leastWidth: Number.isFinite(least) ? least : 0, at, from, to };
}

/** Widths of the runs of wood left across the flat at x; its coordinate runs with height for a blank, with y for a half. */
function runsLeft(piece: TurnedPiece, x: number, half: number, loss: number, side: 1 | -1): readonly number[] {
  const w = walledPiece(piece);
  if (w === undefined) return [2 * half];
  for (const shift of [0, ...(w.room.alsoAt ?? [])]) {
    const box = boundsOfRegion(w.room.section);
    if (box === undefined || x < box.min.x + shift - 2 || x > box.max.x + shift + 2) continue;
    const inside = (y: number): number => {
      const p = { x: x - shift, y };
      const d = distanceToBoundary(w.room.section, p);
      return containsPoint(w.room.section, p) ? d : -d;
    };
    if (w.room.cut === "crown") {
      // The recess takes all above its floor at the trued face.
      const mouth = mouthPlaneOf(w.solid, w.room);
      const d = inside(side * loss);
      const first = w.room.hollow.segments[0]!.from.x;
      if (d <= first) return [2 * half];
      const floor = mouth + heightAt(w.room.hollow, d);
      return floor >= half ? [2 * half] : [Math.max(0, floor + half)];
    }
    return flatRuns(half, (y) => inside(y) <= w.room.hollow.segments[0]!.from.x);
  }
  return [2 * half];
}

/** Runs of −half…half where `wood` holds, their ends found by halving. */
function flatRuns(half: number, wood: (y: number) => boolean): readonly number[] {
  const n = Math.max(2, Math.ceil((2 * half) / 0.25));
  const at = (k: number): number => -half + (2 * half * k) / n;
  const edge = (a: number, b: number): number => {
    let [p, q] = [a, b];
    const first = wood(a);
    for (let k = 0; k < 24; k++) {
      const m = (p + q) / 2;
      if (wood(m) === first) p = m;
      else q = m;
    }
    return (p + q) / 2;
  };
  const runs: number[] = [];
  let start = wood(at(0)) ? at(0) : undefined;
  for (let k = 1; k <= n; k++) {
    const [a, b] = [wood(at(k - 1)), wood(at(k))];
    if (a === b) continue;
    const e = edge(at(k - 1), at(k));
    if (b) start = e;
    else if (start !== undefined) {
      runs.push(e - start);
      start = undefined;
    }
  }
  if (start !== undefined) runs.push(half - start);
  return runs;
}

function findingsOf(
  piece: TurnedPiece,
  upper: GlueFace,
  lower: GlueFace,
  mirrorPair: boolean,
  unlike: number,
  off: number,
): readonly Finding[] {
  const place = { part: piece.name, ...(piece.split ? { source: piece.split.source } : {}) };
  const findings: Finding[] = [];
  const narrow = upper.leastWidth <= lower.leastWidth ? upper : lower;
  if (narrow.leastWidth < LEAST_GLUE_WIDTH) {
    findings.push({
      grade: "caution",
      code: "wall-glue-narrow",
      place,
      what: "the glue face of the half is narrow",
      why: `${text(narrow.leastWidth)} at ${text(narrow.at)} along the axis, of ${Math.round(narrow.area)} mm² in all`,
      mend: "make the finger room shallower or shorter, the pull thicker there, or screw it on as well",
      measured: { value: narrow.leastWidth, bound: 0, unit: "mm" },
      limit: { value: LEAST_GLUE_WIDTH, unit: "mm", from: "common practice, no source" },
    });
  }
  const long = narrow.to - narrow.from;
  if (long > LONGEST_ACROSS_GRAIN) {
    findings.push({
      grade: "caution",
      code: "wall-glue-across-grain",
      place,
      what: "the glue line is long: glued across the front's grain it works loose",
      why: `${text(long)} along the pull, whose grain runs its length; wood moves across the grain, hardly along it`,
      mend: "where pull and front cross their grain, use screws instead, one of them through a slot",
      measured: { value: long, bound: 0, unit: "mm" },
      limit: { value: LONGEST_ACROSS_GRAIN, unit: "mm", from: "common practice, no source" },
    });
  }
  if (mirrorPair) {
    const why =
      unlike > ALIKE
        ? `turned end for end the profile differs by ${text(unlike)}`
        : `the finger room lies ${text(off)} off the middle of the pull`;
    findings.push({
      grade: "note",
      code: "wall-mirror-pair",
      place,
      what: "the two halves are a mirror pair, not two alike",
      why,
      mend: "mark left and right on them before the split; with the mouths the same way up, the first end points left on one and right on the other",
    });
  }
  const gap = Math.abs(upper.area - lower.area);
  if (gap > 0.02 * Math.max(upper.area, lower.area)) {
    findings.push({
      grade: "note",
      code: "wall-halves-differ",
      place,
      what: "the two halves do not get the same of the finger room",
      why: `glue faces of ${Math.round(upper.area)} and ${Math.round(lower.area)} mm²`,
      mend: "lay the finger room along the split line, or accept two unlike pulls",
    });
  }
  return findings;
}

function text(mm: number): string {
  return `${Math.round(mm * 100) / 100} mm`;
}
