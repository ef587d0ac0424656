import type { AxisBox } from "./outer.ts";
import { FAR_BEYOND, type RecessSurface } from "./recess-surface.ts";

/** The edge where a recess's judged surface leaves the wood, as short chords. mm. */
export interface Mouth {
  readonly pieces: number;
  /** Places of the edge with where they lie on the sheet: g, c, x, u, v, five numbers each. */
  readonly places: Float64Array;
  /** Distance to the nearest chord; Infinity where there is none. */
  distance(x: number, u: number, v: number): number;
  /** No point of the box lies farther from the edge than this: from the chord that was nearest when last asked. */
  farthest(box: AxisBox): number;
}

/** An edge between two places of the lattice is closed in upon until it is this near in the surface's depth, mm. */
const CLOSE = 1e-6;
const STEPS = 40;
/** A chord's middle lies no deeper in the wood or farther out of it than this, mm, unless it has been halved often. */
const CHORD = 0.004;
const DEEPEST = 6;

/** A place on the edge: g (running on past a loop's end), c, and its coordinates. */
interface Crossing {
  readonly g: number;
  readonly c: number;
  readonly p: readonly [number, number, number];
  readonly spare: number;
}

/**
 * Traces the mouth through the squares of the lattice. Where level lines end at the outline's middle line it is carried on
 * to just that line, so that it has no gaps.
 * @param depths of each place of the lattice: > 0 in the wood, < 0 outside
 * @param depthAt at any place
 */
export function mouthOf(
  surface: RecessSurface,
  depths: Float64Array,
  depthAt: (x: number, u: number, v: number) => number,
): Mouth {
  const { columns, loops, rows, beyond } = surface.lattice;
  const first = surface.judgedFrom;
  const ends: number[] = [];
  const places: number[] = [];
  const out = new Float64Array(7);
  for (let l = 0; l + 1 < loops.length; l++) {
    const begin = loops[l]!;
    const end = loops[l + 1]!;
    const gBegin = columns[begin]!;
    const gLong = Math.floor(columns[end - 1]!) + 1 - gBegin;
    const put = (g: number, c: number): number => {
      surface.place(g >= gBegin + gLong ? g - gLong : g, c, out);
      return depthAt(out[0]!, out[1]!, out[2]!);
    };
    const crossing = (g: number, c: number): Crossing => {
      put(g, c);
      const spare = out[3]! > 0 ? surface.spare(out) : 0;
      return { g, c, p: [out[0]!, out[1]!, out[2]!], spare };
    };
    /** Between two places of unlike depth, by false position with halving. */
    const between = (from: number, to: number, a0: number, b0: number, f: (m: number) => number): number => {
      let [p, q, a, b] = [from, to, a0, b0];
      for (let k = 0; k < STEPS; k++) {
        const m = k % 3 === 2 ? (p + q) / 2 : p + ((q - p) * a) / (a - b);
        const d = f(m);
        if (Math.abs(d) < CLOSE || Math.abs(q - p) < 1e-7) return m;
        if (d > 0 === a > 0) {
          p = m;
          a = d;
        } else {
          q = m;
          b = d;
        }
      }
      return (p + q) / 2;
    };
    /** Notes the edge between two of its places, with places between where a chord would cut a bend or a corner. */
    const follow = (a: Crossing, b: Crossing, deep: number): void => {
      const [g, c] = [(a.g + b.g) / 2, (a.c + b.c) / 2];
      const off = deep < DEEPEST ? put(g, c) : 0;
      if (Math.abs(off) > CHORD) {
        // Square to the chord, within its cell, to where the edge is.
        const [dg, dc] = [b.c - a.c, a.g - b.g];
        const at = (t: number): number => put(g + t * dg, c + t * dc);
        const [g0, c0] = [Math.floor(g), Math.floor(c)];
        for (const turn of [1, -1]) {
          const room = Math.min(
            1,
            ...[
              [turn * dg, g, g0],
              [turn * dc, c, c0],
            ].map(([d, q, q0]) => (d! > 0 ? (q0! + 1 - 1e-9 - q!) / d! : d! < 0 ? (q0! - q!) / d! : 1)),
          );
          const end = at(turn * room);
          if (end > 0 === off > 0) continue;
          const t = between(0, turn * room, off, end, at);
          const m = crossing(g + t * dg, c + t * dc);
          follow(a, m, deep + 1);
          follow(m, b, deep + 1);
          return;
        }
      }
      clipped(a, b);
    };
    /** Notes a chord, or as much of it as lies on this side of the outline's middle line. */
    const clipped = (from: Crossing, to: Crossing): void => {
      let [a, b] = [from, to];
      const [offA, offB] = [a.spare < -1e-7, b.spare < -1e-7];
      if (offA && offB) return;
      if (offA !== offB) {
        const [on, off] = offA ? [b, a] : [a, b];
        const at = (t: number): Crossing => crossing(on.g + t * (off.g - on.g), on.c + t * (off.c - on.c));
        let [p, q] = [0, 1];
        for (let n = 0; n < 16; n++) {
          const m = (p + q) / 2;
          if (at(m).spare < 0) q = m;
          else p = m;
        }
        [a, b] = [on, at(p)];
      }
      ends.push(...a.p, ...b.p);
      for (const e of [a, b]) places.push(e.g >= gBegin + gLong ? e.g - gLong : e.g, e.c, ...e.p);
    };
    const down = new Map<number, Crossing>();
    const across = new Map<number, Crossing>();
    const squares = new Set<number>();
    for (let i = begin; i < end; i++) {
      const right = i + 1 < end ? i + 1 : begin;
      const g = columns[i]!;
      const gRight = i + 1 < end ? columns[right]! : gBegin + gLong;
      const left = i > begin ? i - 1 : end - 1;
      for (let j = first; j < rows; j++) {
        const k = i * rows + j;
        if (beyond[k] === FAR_BEYOND) break;
        const here = depths[k]!;
        const below = k + 1;
        if (j === first && first > 0 && here > 0) {
          // The eased edge ends in the wood: that is the lip.
          down.set(k, crossing(g, first));
          squares.add(k).add(left * rows + j);
        } else if (j + 1 < rows && beyond[below] !== FAR_BEYOND && here > 0 !== depths[below]! > 0) {
          down.set(
            k,
            crossing(
              g,
              between(j, j + 1, here, depths[below]!, (m) => put(g, m)),
            ),
          );
          squares.add(k).add(left * rows + j);
        }
        const beside = right * rows + j;
        if (beyond[beside] === FAR_BEYOND || here > 0 === depths[beside]! > 0) continue;
        across.set(
          k,
          crossing(
            between(g, gRight, here, depths[beside]!, (m) => put(m, j)),
            j,
          ),
        );
        squares.add(k);
        if (j > first) squares.add(k - 1);
      }
    }
    for (const k of squares) {
      const j = k % rows;
      const i = (k - j) / rows;
      const right = i + 1 < end ? i + 1 : begin;
      const r = down.get(right * rows + j);
      const hits = [
        across.get(k),
        r === undefined || right > begin || i === begin ? r : { ...r, g: r.g + gLong },
        across.get(k + 1),
        down.get(k),
      ].filter((h) => h !== undefined);
      for (let h = 0; h + 1 < hits.length; h += 2) {
        follow(hits[h]!, hits[h + 1]!, 0);
      }
    }
  }
  return indexed(ends, Float64Array.from(places));
}

/** Chords sorted along the axis, searched outwards from a place. */
function indexed(ends: readonly number[], places: Float64Array): Mouth {
  const count = ends.length / 6;
  const order = Array.from({ length: count }, (_, i) => i).sort(
    (a, b) => ends[6 * a]! + ends[6 * a + 3]! - ends[6 * b]! - ends[6 * b + 3]!,
  );
  const data = new Float64Array(7 * count);
  const middle = new Float64Array(count);
  let half = 0;
  for (const [k, i] of order.entries()) {
    for (let q = 0; q < 3; q++) {
      data[7 * k + q] = ends[6 * i + q]!;
      data[7 * k + 3 + q] = ends[6 * i + 3 + q]! - ends[6 * i + q]!;
    }
    const long = data[7 * k + 3]! ** 2 + data[7 * k + 4]! ** 2 + data[7 * k + 5]! ** 2;
    data[7 * k + 6] = long > 0 ? 1 / long : 0;
    middle[k] = (ends[6 * i]! + ends[6 * i + 3]!) / 2;
    half = Math.max(half, Math.abs(ends[6 * i]! - ends[6 * i + 3]!) / 2);
  }
  const square = (k: number, x: number, u: number, v: number): number => {
    const o = 7 * k;
    const px = x - data[o]!;
    const pu = u - data[o + 1]!;
    const pv = v - data[o + 2]!;
    const dx = data[o + 3]!;
    const du = data[o + 4]!;
    const dv = data[o + 5]!;
    const t = (px * dx + pu * du + pv * dv) * data[o + 6]!;
    const s = Math.min(1, Math.max(0, t));
    const ex = px - s * dx;
    const eu = pu - s * du;
    const ev = pv - s * dv;
    return ex * ex + eu * eu + ev * ev;
  };
  let nearest = -1;
  return {
    pieces: count,
    places,
    farthest: (b) => {
      if (nearest < 0) return Number.POSITIVE_INFINITY;
      // Distance from a chord is convex, so it is greatest at a corner.
      let most = 0;
      for (let k = 0; k < 8; k++) {
        const d = square(nearest, k & 1 ? b.x0 : b.x1, k & 2 ? b.u0 : b.u1, k & 4 ? b.v0 : b.v1);
        if (d > most) most = d;
      }
      return Math.sqrt(most);
    },
    distance: (x, u, v) => {
      if (count === 0) return Number.POSITIVE_INFINITY;
      // The chord that was nearest before is near now: it bounds the search.
      if (nearest < 0) nearest = 0;
      let least = square(nearest, x, u, v);
      let reach = Math.sqrt(least) + half;
      let low = 0;
      let high = count;
      while (low < high) {
        const m = (low + high) >> 1;
        if (middle[m]! < x) low = m + 1;
        else high = m;
      }
      for (let k = low; k < count && middle[k]! - x <= reach; k++) {
        const d = square(k, x, u, v);
        if (d < least) {
          least = d;
          nearest = k;
          reach = Math.sqrt(d) + half;
        }
      }
      for (let k = low - 1; k >= 0 && x - middle[k]! <= reach; k--) {
        const d = square(k, x, u, v);
        if (d < least) {
          least = d;
          nearest = k;
          reach = Math.sqrt(d) + half;
        }
      }
      return Math.sqrt(least);
    },
  };
}
