import type { Point3 } from "../../shapes/point.ts";
import { type BreakOut, type BreakOutOptions, breakOutOf } from "./break-out.ts";
import { sharpestLip } from "./lip.ts";
import { type Mouth, mouthOf } from "./mouth.ts";
import type { Outer } from "./outer.ts";
import { FAR_BEYOND, ON_SURFACE, type RecessSurface } from "./recess-surface.ts";
import { remainingOf } from "./remaining.ts";

export type { BreakOut } from "./break-out.ts";

/**
 * The law of wall and lip. At a place of the recess's surface let t be the straight distance to the nearest other surface
 * that is left, s the distance from the mouth's edge (the eased edge where it is eased): t ≥ min(w, s·sin β), with w the
 * least wall and β the least angle of the lip. So nearer to the edge than w / sin β the lip's angle governs, beyond it the
 * wall. Common practice, no source.
 */
export interface WallLaw {
  readonly leastWall: number;
  readonly lipAngleDeg: number;
}

/** Nearer to the edge than this the lip isn't judged, mm: it is sanded there anyway, and chords are no truer. */
export const NEAR = 0.5;
/** A wall short of the law by less than this passes, mm: the accuracy of the programs. */
export const SLACK = 0.01;
/** Thinnest places are told this closely, mm. */
const CLOSE = 0.005;
/** Patches are not halved below this reach, mm. */
const FINEST = 0.0025;
/** Patches that the end of the lip's reach passes are not halved below this reach for the thinnest wall alone, mm. */
const STRADDLING = 0.01;
/** More patches than this and the answer stays open; an open answer counts as a failure. */
const PATCHES = 400_000;

/** A number with its bound and its place in axis coordinates (x along the axis, y and z from it). */
export interface Found {
  readonly value: number;
  /** The true value is not less than `value` − `bound`. */
  readonly bound: number;
  readonly at: Point3;
}

/** One place of the map: where, how thick the wall is there, and by how much it exceeds what the law asks. */
export interface WallSample {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly wall: number;
  readonly spare: number;
}

/** What the law says of a blank, or of one half. */
export interface Judged {
  readonly samples: readonly WallSample[];
  /** Thinnest wall beyond the lip; absent when the whole recess lies within the lip's reach. */
  readonly thinnest?: Found;
  /** Sharpest angle of the lip, degrees, by its closed form along the edge; absent without an edge on the turned surface. */
  readonly lip?: Found;
  /** Within the lip's reach: the place farthest below the law, its wall and what is asked there, mm. */
  readonly short?: Found & { readonly asked: number };
  /** Within the lip's reach: the least asin(t / s), degrees, at most 90. */
  readonly slimmest?: Found & { readonly fromMouth: number };
  readonly breakOut?: BreakOut;
  /** Some of the recess lies in the wood. */
  readonly inWood: boolean;
  /** The law holds everywhere, by a bound, and nothing breaks out. */
  readonly holds: boolean;
}

/** How a recess is judged. */
export interface JudgeOptions extends BreakOutOptions {
  /** Samples are wanted for a map. */
  readonly map: boolean;
  /** Only whether it holds matters: stops at the first failure. */
  readonly quick: boolean;
  /** Without it the answer rests on samples alone: for trying many variants. */
  readonly bounded: boolean;
}

/** Places of a recess's lattice in a blank: where errors put them, and how deep in the wood they lie. mm. */
export interface Placed {
  readonly at: Float64Array;
  /** Depth beneath the outer surface, < 0 outside it. */
  readonly depths: Float64Array;
}

/** What is known from the recess as meant: depths there, and how much they may change by. */
export interface Known {
  readonly depths: Float64Array;
  readonly change: number;
  /** Deeper than this needs no figure. */
  readonly enough: number;
}

/** Puts a lattice into a blank. Places whose depth can't matter after so small a change keep a bound for it. */
export function placed(recess: RecessSurface, outer: Outer, known?: Known): Placed {
  const { at: meant, beyond } = recess.lattice;
  const count = beyond.length;
  const at = new Float64Array(3 * count);
  const depths = new Float64Array(count);
  const p = new Float64Array(3);
  for (let k = 0; k < count; k++) {
    if (beyond[k] === FAR_BEYOND) continue;
    recess.move.there(meant[3 * k]!, meant[3 * k + 1]!, meant[3 * k + 2]!, p);
    at[3 * k] = p[0]!;
    at[3 * k + 1] = p[1]!;
    at[3 * k + 2] = p[2]!;
    const before = known?.depths[k];
    if (known !== undefined && before !== undefined && before > known.enough + known.change)
      depths[k] = before - known.change;
    else if (known !== undefined && before !== undefined && before < -known.change) depths[k] = before + known.change;
    else depths[k] = outer.depth(p[0]!, p[1]!, p[2]!, Number.POSITIVE_INFINITY);
  }
  return { at, depths };
}

/** The same places in a half: no farther from anything than from its sawn face. */
export function placedInHalf({ at, depths }: Placed, outer: Outer): Placed {
  const { kept } = outer;
  if (kept === undefined) return { at, depths };
  return { at, depths: depths.map((d, k) => Math.min(d, kept.side * at[3 * k + 1]! - kept.loss)) };
}

/** Judges a recess against an outer surface. Cost: O(area / step²), and more only where the law is nearly met. */
export function judge(recess: RecessSurface, outer: Outer, law: WallLaw, o: JudgeOptions, places: Placed): Judged {
  const { along, down } = recess;
  const { beyond, rows } = recess.lattice;
  const { at, depths } = places;
  const sin = Math.sin((law.lipAngleDeg * Math.PI) / 180);
  const w = law.leastWall;
  const beyondLip = w / sin;
  const p = new Float64Array(7);
  const firstOf = recess.judgedFrom;
  const counts = (k: number): boolean => depths[k]! > 0 && beyond[k] === ON_SURFACE && k % rows >= firstOf;
  let inWood = false;
  for (let k = 0; k < depths.length && !inWood; k++) inWood = depths[k]! > 0 && beyond[k] === ON_SURFACE;
  const breakOut = breakOutOf(recess, outer, at, depths, o);
  if (!inWood || (o.quick && breakOut)) return { samples: [], inWood, holds: false, ...(breakOut ? { breakOut } : {}) };
  const mouth = mouthOf(recess, depths, (x, u, v) => outer.depth(x, u, v, Number.POSITIVE_INFINITY));
  // A half's edge on the turned surface is part of the whole blank's, which is judged before it.
  const lip = o.quick && outer.kept !== undefined ? undefined : sharpestLip(mouth, recess, outer);
  const keen = lip !== undefined && lip.value < law.lipAngleDeg - 1e-6;
  if (o.quick && keen) return { samples: [], inWood, holds: false };
  const remaining = remainingOf(outer, recess);

  // When only the verdict matters, nothing thicker than asked is of interest.
  let thinnest = o.quick ? w - SLACK / 2 : Number.POSITIVE_INFINITY;
  let thinnestAt: Point3 | undefined;
  let slimmest = 1;
  let slimmestAt: (Point3 & { readonly s: number }) | undefined;
  let worst = 0;
  let short: Judged["short"];
  const fails = (): boolean => (thinnestAt !== undefined && thinnest < w - SLACK) || worst > SLACK;
  /** Takes a place of the surface into account. */
  const weigh = (x: number, u: number, v: number, t: number, known?: number): void => {
    if (t <= 0 || (t >= thinnest && t >= (o.quick ? w : slimmest * beyondLip))) return;
    const s = known ?? mouth.distance(x, u, v);
    if (s < NEAR || s === Number.POSITIVE_INFINITY) return;
    if (s >= beyondLip) {
      if (t >= thinnest) return;
      const left = remaining(x, u, v, t, Math.min(thinnest, s), s);
      if (left < thinnest) {
        thinnest = left;
        thinnestAt = { x, y: u, z: v };
      }
      return;
    }
    if (s * sin - t <= worst && (o.quick || t >= slimmest * s)) return;
    const left = remaining(x, u, v, t, s, s);
    if (s * sin - left > worst) {
      worst = s * sin - left;
      short = { value: left, bound: 0, at: { x, y: u, z: v }, asked: s * sin };
    }
    if (left < slimmest * s) {
      slimmest = left / s;
      slimmestAt = { x, y: u, z: v, s };
    }
  };
  const weighPlace = (g: number, c: number): void => {
    recess.place(g, c, p);
    if (p[3]! > 0 && recess.spare(p) < -1e-7) return;
    weigh(p[0]!, p[1]!, p[2]!, outer.depth(p[0]!, p[1]!, p[2]!, Number.POSITIVE_INFINITY));
  };
  for (let k = 0; k < depths.length; k++) {
    if (!counts(k)) continue;
    weigh(at[3 * k]!, at[3 * k + 1]!, at[3 * k + 2]!, depths[k]!);
    if (o.quick && fails()) return { samples: [], inWood, holds: false };
  }
  // A wall too thick to be the thinnest may still be the slimmest for its distance from the edge.
  const matters = (): number => Math.max(thinnest, slimmest * beyondLip);
  weighLimits(recess, places, mouth, beyondLip, o.quick ? w : undefined, matters, weighPlace);
  if (o.quick && fails()) return { samples: [], inWood, holds: false };

  let lowest = thinnest;
  let patches = 0;
  let open = false;
  /** Halves a patch as long as the law may fail on it, or as it may be thinner than the thinnest found. */
  const search = (g0: number, g1: number, c0: number, c1: number): void => {
    if (open || ++patches > PATCHES) {
      open = true;
      return;
    }
    const g = (g0 + g1) / 2;
    const c = (c0 + c1) / 2;
    recess.place(g, c, p);
    const r = recess.reach(g0, g1, c0, c1);
    const spare = p[3]! > 0 ? recess.spare(p) : 0;
    if (spare < -2 * r - 1e-9) return;
    const [x, u, v] = [p[0]!, p[1]!, p[2]!];
    const t = outer.depth(x, u, v, Number.POSITIVE_INFINITY);
    if (t <= -r) return;
    let low = t - r;
    const enough = Math.max(w, thinnest - CLOSE);
    if (low >= enough) return;
    const s = mouth.distance(x, u, v);
    // What is left is never farther than the mouth's edge.
    if (t > 0 && s > r) low = Math.max(low, remaining(x, u, v, t, enough + r, s) - r);
    const failing = fails();
    const stakes = (far: number): boolean => !failing && low < Math.min(w, far * sin) - SLACK - 1e-12;
    const improves = (far: number): boolean => far >= beyondLip && low < thinnest - CLOSE - 1e-12;
    if (!stakes(s + r) && !improves(s + r)) {
      if (s + r >= beyondLip) lowest = Math.min(lowest, low);
      return;
    }
    const box = recess.box(g0, g1, c0, c1);
    low = Math.max(low, outer.leastDepth(box));
    const far = Math.min(s + r, mouth.farthest(box));
    if (far < NEAR) return;
    // Where the lip's reach ends in a patch, what is nearer to the edge than that isn't asked as a wall.
    const straddles = s - r < beyondLip;
    if (!stakes(far) && !(improves(far) && !(straddles && r < STRADDLING))) {
      if (far >= beyondLip) lowest = Math.min(lowest, low);
      if (spare >= -1e-7) weigh(x, u, v, t, s);
      return;
    }
    if (spare >= -1e-7) weigh(x, u, v, t, s);
    if (r < FINEST) {
      if (far >= beyondLip) lowest = Math.min(lowest, low);
      if (stakes(far)) open = true;
      return;
    }
    // Along the outline little changes; down the wall both distances do.
    if (4 * recess.reach(g, g, c0, c1) >= recess.reach(g0, g1, c, c)) {
      search(g0, g1, c0, c);
      search(g0, g1, c, c1);
    } else {
      search(g0, g, c0, c1);
      search(g, g1, c0, c1);
    }
  };
  if (!breakOut && o.bounded) {
    for (let i = 0; i < along; i++) {
      for (let j = firstOf; j < down; j++) {
        search(i, i + 1, j, j + 1);
        if (o.quick && fails()) return { samples: [], inWood, holds: false };
      }
    }
  }
  const samples: WallSample[] = [];
  if (o.map) {
    for (let k = 0; k < depths.length; k++) {
      if (!counts(k)) continue;
      const [x, y, z, t] = [at[3 * k]!, at[3 * k + 1]!, at[3 * k + 2]!, depths[k]!];
      const s = t >= w ? beyondLip : mouth.distance(x, y, z);
      const need = s < NEAR ? 0 : Math.min(w, s * sin);
      const wall = t < need ? remaining(x, y, z, t, need, s) : t;
      samples.push({ x, y, z, wall, spare: wall - need });
    }
  }
  return {
    samples,
    inWood,
    ...(thinnestAt ? { thinnest: { value: thinnest, bound: Math.max(0, thinnest - lowest), at: thinnestAt } } : {}),
    ...(lip ? { lip } : {}),
    ...(short && worst > SLACK ? { short } : {}),
    ...(slimmestAt
      ? {
          slimmest: {
            value: (Math.asin(Math.min(1, slimmest)) * 180) / Math.PI,
            bound: (Math.asin(Math.min(1, SLACK / NEAR)) * 180) / Math.PI,
            at: { x: slimmestAt.x, y: slimmestAt.y, z: slimmestAt.z },
            fromMouth: slimmestAt.s,
          },
        }
      : {}),
    ...(breakOut ? { breakOut } : {}),
    holds: !open && !keen && !fails() && breakOut === undefined,
  };
}

/**
 * Weighs what lies between places of the lattice: where the lip's reach begins and ends on each column. With `enough`
 * only the place where the reach ends, there alone where less than that is left, and only about: for a verdict.
 */
function weighLimits(
  recess: RecessSurface,
  { at, depths }: Placed,
  mouth: Mouth,
  beyondLip: number,
  enough: number | undefined,
  thinnest: () => number,
  weighPlace: (g: number, c: number) => void,
): void {
  const { columns, rows, beyond } = recess.lattice;
  const p = new Float64Array(7);
  const far = new Float64Array(depths.length).fill(Number.NaN);
  const fromMouth = (k: number): number => {
    if (Number.isNaN(far[k]!)) far[k] = mouth.distance(at[3 * k]!, at[3 * k + 1]!, at[3 * k + 2]!);
    return far[k]!;
  };
  const edge = (g: number, k: number, j: number, limit: number): void => {
    const [s0, s1] = [fromMouth(k), fromMouth(k + 1)];
    const rising = s0 < limit;
    if (rising === s1 < limit) return;
    if (enough !== undefined) {
      weighPlace(g, j + (limit - s0) / (s1 - s0));
      return;
    }
    let [a, b] = [j, j + 1];
    for (let n = 0; n < 12; n++) {
      const m = (a + b) / 2;
      recess.place(g, m, p);
      if (mouth.distance(p[0]!, p[1]!, p[2]!) < limit === rising) a = m;
      else b = m;
    }
    // Both sides of it: beyond, the wall counts, before it the angle.
    weighPlace(g, a);
    weighPlace(g, b);
  };
  for (let i = 0; i < columns.length; i++) {
    const g = columns[i]!;
    for (let j = recess.judgedFrom; j + 1 < rows; j++) {
      const k = i * rows + j;
      if (beyond[k] === FAR_BEYOND || beyond[k + 1] === FAR_BEYOND) break;
      const a = depths[k]!;
      const b = depths[k + 1]!;
      if (a <= 0 && b <= 0) continue;
      const step = 2 * recess.reach(g, g, j, j + 1);
      const t = Math.min(a > 0 ? a : Number.POSITIVE_INFINITY, b > 0 ? b : Number.POSITIVE_INFINITY);
      if (t < (enough ?? thinnest()) + step) edge(g, k, j, beyondLip);
      // Just inside the mouth, where a lip is sharpest.
      if (enough === undefined && (a > 0 !== b > 0 || t < NEAR + step)) edge(g, k, j, NEAR);
    }
  }
}
