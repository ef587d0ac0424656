import type { Finding } from "../finding.ts";
import { type LipPlace, type LipRun, outwards } from "../parts/lip/lip.ts";
import { HOLLOW_RIDGE } from "../plan/levels.ts";
import type { Point3 } from "../shapes/point.ts";
import type { Cutter } from "../shop/cutter.ts";
import { ACCURACY } from "../tolerance.ts";
import type { Stroke } from "./left.ts";
import { type LipCore, toChord } from "./lip-core.ts";
import { placeAt } from "./motion.ts";
import { mm, placeOfCavity } from "./say.ts";
import { widest } from "./silhouette.ts";

/** What is left on an eased lip. mm. */
export interface LipLeft {
  /** The highest that wood stands above the round asked for, square to it. */
  readonly ridge: number;
  readonly bound: number;
  readonly at: Point3 | undefined;
  /** Share of the lip's length that a bit of the set-up gets at. */
  readonly reached: number;
}

/** More than this is not measured closer, mm. */
const FAR = 0.5;
const FOUND = 5e-4;
/** Where a nose would touch anything else by more than this, nothing is asked for, mm. */
const TOUCHES = 0.002;
/** Nor this near to such a place along the lip, mm. */
const BESIDE = 0.6;

/**
 * Square to the core's edge a nose's middle takes a share of any circle about it: all directions n with
 * n·w ≥ (d² + w² − ρ²)/2d, w the middle's place in that plane, d the circle's radius. The ridge is the least d, less e, at
 * which the shares of all strokes leave no gap between the wall's normal and the surface's.
 */
export function lipLeft(core: LipCore, strokes: readonly Stroke[], cutters: readonly Cutter[]): LipLeft {
  const { ease } = core.lip;
  const noses = cutters.filter((c) => c.form.kind === "round-nose").map((c) => c.diameter / 2);
  const chords = chordsOf(strokes);
  let ridge = 0;
  let bound = 0;
  let at: Point3 | undefined;
  let [asked, all] = [0, 0];
  for (const run of core.lip.runs) {
    const free = run.places.map((p) => noses.some((nose) => isFree(core, p, nose)));
    all += run.places.length;
    for (const [i, p] of run.places.entries()) {
      if (!wellWithin(run, free, i)) continue;
      asked++;
      bound = Math.max(bound, bendAt(run, i, ease));
      const near = sharesOf(p, chords, ease + FAR);
      // Nothing lower than what was found already is of interest.
      if (covers(near, ease + ridge, p.turn)) continue;
      let [low, high] = [ridge, FAR];
      while (high - low > FOUND) {
        const m = (low + high) / 2;
        if (covers(near, ease + m, p.turn)) high = m;
        else low = m;
      }
      ridge = high;
      at = p.at;
    }
  }
  return { ridge, bound, at, reached: all === 0 ? 1 : asked / all };
}

function isFree(core: LipCore, p: LipPlace, nose: number): boolean {
  return [0, 0.5, 1].every((share) => {
    const n = outwards(p, share);
    const far = core.lip.ease + nose;
    const c = core.clearance({ x: p.at.x + far * n.x, y: p.at.y + far * n.y, z: p.at.z + far * n.z }, nose);
    return c !== undefined && c > -TOUCHES;
  });
}

/** Free, and so is the lip on both sides of it: passes end at places of their own. */
function wellWithin(run: LipRun, free: readonly boolean[], i: number): boolean {
  const n = run.places.length;
  for (const step of [1, -1]) {
    let way = 0;
    for (let k = i; ; ) {
      if (!free[k]!) return false;
      if (way > BESIDE) break;
      const next = run.closed ? (k + step + n) % n : k + step;
      if (next < 0 || next >= n) return false;
      way += apart(run.places[k]!.at, run.places[next]!.at);
      k = next;
    }
  }
  return true;
}

/** What the lip may bend away between two places, mm. */
function bendAt({ places, closed }: LipRun, i: number, ease: number): number {
  const n = places.length;
  if (!closed && (i === 0 || i === n - 1)) return 0;
  const [a, b, c] = [places[(i - 1 + n) % n]!, places[i]!, places[(i + 1) % n]!];
  const on = (p: LipPlace, share: number): Point3 => {
    const d = outwards(p, share);
    return { x: p.at.x + ease * d.x, y: p.at.y + ease * d.y, z: p.at.z + ease * d.z };
  };
  const bend = (share: number): number => {
    return toChord(on(b, share), on(a, share), on(c, share)) / 2;
  };
  return Math.max(bend(0), bend(1));
}

interface Chord {
  readonly a: Point3;
  readonly b: Point3;
  readonly nose: number;
}

/** Straight ways of the middles of noses. */
function chordsOf(strokes: readonly Stroke[]): readonly Chord[] {
  return strokes.flatMap(({ motion, cutter }) => {
    const nose = widest(cutter, 0, Number.POSITIVE_INFINITY);
    const round = cutter.some((p) => p.kind === "round" && p.core === 0 && Math.abs(p.radius - nose) < 1e-9);
    if (!round || motion.curve.kind !== "line") return [];
    const [a, b] = [placeAt(motion, 0), placeAt(motion, 1)];
    return [{ a: { ...a, z: a.z + nose }, b: { ...b, z: b.z + nose }, nose }];
  });
}

/** A nose's middle in the plane square to the core's edge. */
interface Share {
  readonly w: number;
  readonly angle: number;
  readonly nose: number;
}

/** @param reach of noses farther than this from the edge nothing is asked, mm */
function sharesOf(p: LipPlace, chords: readonly Chord[], reach: number): readonly Share[] {
  const side = outwards(p, 1);
  const cos = p.wall.x * side.x + p.wall.y * side.y + p.wall.z * side.z;
  const sin = Math.sin(p.turn);
  const up = {
    x: (side.x - cos * p.wall.x) / sin,
    y: (side.y - cos * p.wall.y) / sin,
    z: (side.z - cos * p.wall.z) / sin,
  };
  const along = {
    x: p.wall.y * up.z - p.wall.z * up.y,
    y: p.wall.z * up.x - p.wall.x * up.z,
    z: p.wall.x * up.y - p.wall.y * up.x,
  };
  const shares: Share[] = [];
  for (const { a, b, nose } of chords) {
    const fa = along.x * (a.x - p.at.x) + along.y * (a.y - p.at.y) + along.z * (a.z - p.at.z);
    const fb = along.x * (b.x - p.at.x) + along.y * (b.y - p.at.y) + along.z * (b.z - p.at.z);
    if (fa * fb > 0) continue;
    const t = fa === fb ? 0 : fa / (fa - fb);
    const [x, y, z] = [a.x + t * (b.x - a.x) - p.at.x, a.y + t * (b.y - a.y) - p.at.y, a.z + t * (b.z - a.z) - p.at.z];
    const [c, s] = [x * p.wall.x + y * p.wall.y + z * p.wall.z, x * up.x + y * up.y + z * up.z];
    const w = Math.hypot(c, s);
    if (w < reach + nose) shares.push({ w, angle: Math.atan2(s, c), nose });
  }
  return shares;
}

/** Whether the circle of radius d is taken from the wall's normal to the surface's. */
function covers(shares: readonly Share[], d: number, turn: number): boolean {
  const taken = shares
    .flatMap(({ w, angle, nose }) => {
      const least = (d * d + w * w - nose * nose) / (2 * d * w);
      if (least >= 1) return [];
      const half = Math.acos(Math.max(-1, least));
      return [{ from: angle - half, to: angle + half }];
    })
    .sort((a, b) => a.from - b.from);
  let reached = 0;
  for (const { from, to } of taken) {
    if (from > reached) return false;
    reached = Math.max(reached, to);
    if (reached >= turn) return true;
  }
  return false;
}

function apart(a: Point3, b: Point3): number {
  return Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

/**
 * What is wrong with an eased lip.
 * @param slack how far the controller may round off corners, mm
 */
export function lipFindings(core: LipCore, left: LipLeft, slack: number): readonly Finding[] {
  const limit = HOLLOW_RIDGE + ACCURACY + slack;
  if (left.ridge + left.bound <= limit) return [];
  const missing = left.ridge >= FAR - 2 * FOUND;
  return [
    {
      grade: "refuse",
      code: "proof-wood-left",
      place: { ...placeOfCavity(core.cavity), ...(left.at === undefined ? {} : { at: left.at }) },
      what: missing
        ? `the lip is not eased to a radius of ${mm(core.lip.ease)} here`
        : `wood stands ${mm(left.ridge)} above the eased lip`,
      why: "a pass is missing there, or keeps off the lip",
      mend: "make the program again",
      ...(missing ? {} : { measured: { value: left.ridge, bound: left.bound, unit: "mm" } }),
      limit: { value: limit, unit: "mm", from: "the ridges that the sheet states for hollows, and the accuracy" },
    },
  ];
}
