import type { Point3 } from "../../shapes/point.ts";
import { ABSENT, AIR, type Mouth, mouthOf, WOOD } from "./mouth.ts";
import type { Outer } from "./outer.ts";
import type { RecessSurface } from "./recess-surface.ts";
import { remainingDistance } from "./remaining.ts";

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
/** More patches than this and the answer stays open; an open answer counts as a failure. */
const PATCHES = 400_000;

/** A number with its bound and its place in axis coordinates (x along the axis, y and z from it). */
export interface Found {
  readonly value: number;
  /** The true value is not less than `value` − `bound`. */
  readonly bound: number;
  readonly at: Point3;
}

/** How a recess leaves the wood where it must not. */
export type BreakOut = {
  readonly how: "sideways" | "through the far side" | "through the end" | "through a shoulder";
  readonly at: Point3;
};

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
  /** Sharpest angle of the lip, degrees, at most 90; absent without a mouth. */
  readonly lip?: Found;
  readonly breakOut?: BreakOut;
  /** Some of the recess lies in the wood. */
  readonly inWood: boolean;
  /** The law holds everywhere, by a bound, and nothing breaks out. */
  readonly holds: boolean;
}

/** What may be open besides the mouth: a side over which a room in the flat back runs out, by the sign of y. */
export interface JudgeOptions {
  readonly opensTowards?: 1 | -1;
  /** Samples are wanted for a map. */
  readonly map: boolean;
  /** Only whether it holds matters: stops at the first failure. */
  readonly quick: boolean;
  /** Without it the answer rests on samples alone: for trying many variants. */
  readonly bounded: boolean;
  readonly cut: "crown" | "back";
}

/** Judges a recess against an outer surface. Cost: O(area / step²), and more only where the law is nearly met. */
export function judge(recess: RecessSurface, outer: Outer, law: WallLaw, o: JudgeOptions): Judged {
  const { along, down } = recess;
  const sin = Math.sin((law.lipAngleDeg * Math.PI) / 180);
  const w = law.leastWall;
  const beyondLip = w / sin;
  const state = new Uint8Array(along * down);
  const deep = new Float64Array(along * down);
  const at = new Float64Array(7 * along * down);
  const p = new Float64Array(7);
  let inWood = false;
  for (let i = 0; i < along; i++) {
    for (let j = 0; j < down; j++) {
      const k = i * down + j;
      recess.place(i + 0.5, j + 0.5, p);
      at.set(p, 7 * k);
      if (p[3]! > 0 && recess.spare(p) < -1e-7) {
        state[k] = ABSENT;
        continue;
      }
      const t = outer.depth(p[0]!, p[1]!, p[2]!, Number.POSITIVE_INFINITY);
      deep[k] = t;
      state[k] = t > 0 && j >= recess.judgedFrom ? WOOD : AIR;
      if (t > 0) inWood = true;
    }
  }
  const breakOut = breakOutOf(recess, outer, state, at, deep, o);
  if (!inWood || (o.quick && breakOut)) return { samples: [], inWood, holds: false, ...(breakOut ? { breakOut } : {}) };
  const mouth = mouthOf(recess, state, (g, c) => {
    if (c < recess.judgedFrom) return false;
    recess.place(g, c, p);
    return outer.depth(p[0]!, p[1]!, p[2]!, Number.POSITIVE_INFINITY) > 0;
  });

  let thinnest = Number.POSITIVE_INFINITY;
  let thinnestAt: Point3 | undefined;
  let sharpest = 1;
  let lipAt: Point3 | undefined;
  const fails = (): boolean => thinnest < w - SLACK || (lipAt !== undefined && sharpest < sin && lipShort > SLACK);
  let lipShort = 0;
  /** Takes a place of the surface into account. */
  const weigh = (x: number, u: number, v: number, t: number, known?: number): void => {
    if (t <= 0 || (t >= thinnest && t >= sharpest * beyondLip)) return;
    const s = known ?? mouth.distance(x, u, v);
    if (s < NEAR || s === Number.POSITIVE_INFINITY) return;
    if (s >= beyondLip) {
      if (t >= thinnest) return;
      const left = remainingDistance(outer, recess, x, u, v, t, Math.min(thinnest, s));
      if (left < thinnest) {
        thinnest = left;
        thinnestAt = { x, y: u, z: v };
      }
      return;
    }
    if (t >= sharpest * s && s * sin - t <= lipShort) return;
    const left = remainingDistance(outer, recess, x, u, v, t, Math.min(1, Math.max(sharpest, sin)) * s);
    lipShort = Math.max(lipShort, s * sin - left);
    if (left < sharpest * s) {
      sharpest = left / s;
      lipAt = { x, y: u, z: v };
    }
  };
  const weighPlace = (g: number, c: number): void => {
    recess.place(g, c, p);
    if (p[3]! > 0 && recess.spare(p) < -1e-7) return;
    weigh(p[0]!, p[1]!, p[2]!, outer.depth(p[0]!, p[1]!, p[2]!, Number.POSITIVE_INFINITY));
  };
  for (let k = 0; k < state.length; k++) {
    if (state[k] === WOOD) weigh(at[7 * k]!, at[7 * k + 1]!, at[7 * k + 2]!, deep[k]!);
  }
  if (o.quick && fails()) return { samples: [], inWood, holds: false };
  weighEdges(recess, state, deep, mouth, beyondLip, () => thinnest, weighPlace);

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
    const box = recess.box(g0, g1, c0, c1);
    low = Math.max(low, outer.leastDepth(box));
    if (low >= enough) return;
    const s = mouth.distance(x, u, v);
    const far = Math.min(s + r, mouth.farthest(box));
    if (far < NEAR) return;
    const failing = fails();
    const need = Math.min(w, far * sin) - SLACK;
    const stakes = (): boolean => !failing && low < need - 1e-12;
    const improves = (): boolean => s - r >= beyondLip && low < thinnest - CLOSE - 1e-12;
    if (stakes() || improves()) {
      // What lies above the recess is gone and makes no wall thin.
      const asked = Math.max(stakes() ? need : 0, improves() ? thinnest - CLOSE : 0) + r;
      // What is left is never farther than the mouth's edge: a patch too large for that is halved without asking.
      if (t > 0 && asked < s) low = Math.max(low, remainingDistance(outer, recess, x, u, v, t, asked) - r);
    }
    if (!stakes() && !improves()) {
      if (far >= beyondLip) lowest = Math.min(lowest, low);
      return;
    }
    if (spare >= -1e-7) weigh(x, u, v, t, s);
    if (r < FINEST) {
      if (far >= beyondLip) lowest = Math.min(lowest, low);
      if (stakes()) open = true;
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
      for (let j = recess.judgedFrom; j < down; j++) {
        const t = deep[i * down + j]!;
        if (state[i * down + j] === WOOD && t - recess.reach(i, i + 1, j, j + 1) >= Math.max(w, thinnest - CLOSE))
          continue;
        search(i, i + 1, j, j + 1);
        if (o.quick && fails()) return { samples: [], inWood, holds: false };
      }
    }
  }
  const samples: WallSample[] = [];
  if (o.map) {
    for (let k = 0; k < state.length; k++) {
      if (state[k] !== WOOD) continue;
      const [x, y, z, t] = [at[7 * k]!, at[7 * k + 1]!, at[7 * k + 2]!, deep[k]!];
      const s = t >= w ? beyondLip : mouth.distance(x, y, z);
      const need = s < NEAR ? 0 : Math.min(w, s * sin);
      const wall = t < need ? remainingDistance(outer, recess, x, y, z, t, need) : t;
      samples.push({ x, y, z, wall, spare: wall - need });
    }
  }
  return {
    samples,
    inWood,
    ...(thinnestAt ? { thinnest: { value: thinnest, bound: Math.max(0, thinnest - lowest), at: thinnestAt } } : {}),
    ...(lipAt
      ? {
          lip: {
            value: (Math.asin(Math.min(1, sharpest)) * 180) / Math.PI,
            bound: (Math.asin(Math.min(1, SLACK / NEAR)) * 180) / Math.PI,
            at: lipAt,
          },
        }
      : {}),
    ...(breakOut ? { breakOut } : {}),
    holds: !open && !fails() && breakOut === undefined,
  };
}

/** Weighs what lies between the middles of cells: corners of the chain and the outline, and where the lip's reach ends. */
function weighEdges(
  recess: RecessSurface,
  state: Uint8Array,
  deep: Float64Array,
  mouth: Mouth,
  beyondLip: number,
  thinnest: () => number,
  weighPlace: (g: number, c: number) => void,
): void {
  const { along, down } = recess;
  const p = new Float64Array(7);
  const edge = (g: number, j: number, limit: number): void => {
    const from = (c: number): number => {
      recess.place(g, c, p);
      return mouth.distance(p[0]!, p[1]!, p[2]!);
    };
    let [a, b] = [j + 0.5, j + 1.5];
    const rising = from(a) < limit;
    if (rising === from(b) < limit) return;
    for (let k = 0; k < 12; k++) {
      const m = (a + b) / 2;
      if (from(m) < limit === rising) a = m;
      else b = m;
    }
    // Both sides of it: beyond, the wall counts, before it the angle.
    weighPlace(g, a);
    weighPlace(g, b);
  };
  for (let i = 0; i < along; i++) {
    for (let j = recess.judgedFrom; j + 1 < down; j++) {
      const k = i * down + j;
      const wood = state[k] === WOOD;
      if (!wood && state[k + 1] !== WOOD) continue;
      if (recess.chainCorners[j + 1]) weighPlace(i + 0.5, j + 1);
      const step = 2 * recess.reach(i, i + 1, j, j + 1);
      const t = Math.min(wood ? deep[k]! : Infinity, state[k + 1] === WOOD ? deep[k + 1]! : Infinity);
      if (wood && state[k + 1] === WOOD && t < thinnest() + step) edge(i + 0.5, j, beyondLip);
      // Just inside the mouth, where a lip is sharpest.
      if (state[k] !== state[k + 1] || t < NEAR + step) edge(i + 0.5, j, NEAR);
    }
    if (recess.outlineCorners[i]) for (let j = recess.judgedFrom; j < down; j++) weighPlace(i, j + 0.5);
  }
}

/** Where a recess leaves the wood otherwise than by its mouth. */
function breakOutOf(
  recess: RecessSurface,
  outer: Outer,
  state: Uint8Array,
  at: Float64Array,
  deep: Float64Array,
  o: JudgeOptions,
): BreakOut | undefined {
  const { along, down } = recess;
  const place = (k: number): Point3 => ({ x: at[7 * k]!, y: at[7 * k + 1]!, z: at[7 * k + 2]! });
  const kept = outer.kept;
  const beyondSplit = (k: number): boolean => kept !== undefined && kept.side * at[7 * k + 1]! <= kept.loss;
  const p = new Float64Array(7);
  let found: BreakOut | undefined;
  let worst = 0;
  const note = (how: BreakOut["how"], k: number, by: number): void => {
    if (found === undefined || by > worst) {
      worst = by;
      found = { how, at: place(k) };
    }
  };
  const end = (k: number): boolean => at[7 * k]! <= outer.from || at[7 * k]! >= outer.to;
  const opensAt = (u: number): boolean => o.opensTowards !== undefined && u * o.opensTowards > 0;
  for (let i = 0; i < along; i++) {
    let seen = false;
    let entered = -1;
    for (let j = recess.judgedFrom; j < down; j++) {
      const k = i * down + j;
      if (state[k] === ABSENT) {
        if (at[7 * k + 3]! > 0) break;
        continue;
      }
      // The split face cuts away the rest: that is its own edge, and no break.
      if (beyondSplit(k)) continue;
      seen = true;
      if (end(k) && at[7 * k + 2]! < outer.section.most) {
        note("through the end", k, -deep[k]!);
        continue;
      }
      if (state[k] === WOOD) {
        if (entered < 0) entered = j;
        continue;
      }
      if (entered < 0 || opensAt(at[7 * k + 1]!)) continue;
      const [u, v] = [Math.abs(at[7 * k + 1]!), at[7 * k + 2]!];
      const onShoulder = Math.hypot(u, v) < outer.section.most && v > 0;
      note(onShoulder ? "through a shoulder" : u >= -v ? "sideways" : "through the far side", k, -deep[k]!);
    }
    // Whether there is a wall all round is told by the whole blank.
    if (!seen || kept !== undefined) continue;
    const first = i * down + Math.max(entered, recess.judgedFrom);
    if (o.cut === "back") {
      recess.placeOutline(i + 0.5, p);
      if (opensAt(p[5]!) || outer.depth(p[0]!, p[1]!, p[2]!, Number.POSITIVE_INFINITY) > 0) continue;
    } else if (entered >= 0 && at[7 * first + 6]! >= recess.lowest + 0.01) continue;
    // Nothing but floor meets the wood here: no wall, no lip.
    const n = recess.inwards(i + 0.5);
    note(Math.abs(n.x) > Math.abs(n.y) ? "through a shoulder" : "sideways", first, 0.001);
  }
  return found;
}
